"""What the team's page shows of alternatives, and what becomes of votes and remarks."""

import os
import re
from contextlib import nullcontext
from dataclasses import replace
from math import inf

import numpy as np
import pytest

from planner import Record, Vote, demo_house, edits, plan, read_house, read_record, read_stock
from planner.apps import houses, screen
from planner.apps.team import beside, choosing, voting, weighing
from planner.deliverables.comparison import CRITERIA
from planner.intent.folder import read_intent, write_intent
from planner.intent.trim_rules import Scope
from planner.planning import preference
from planner.record.decisions import decide
from planner.record.entries import KEEP
from planner.record.keeping import open_session, say


@pytest.fixture(autouse=True)
def quiet(monkeypatch):
    """There is no page to say on that it takes long."""
    monkeypatch.setattr(choosing.screen, "working", lambda _: nullcontext())


@pytest.fixture(scope="module")
def standing():
    house, _ = read_house(demo_house())
    return [plan(house, read_intent(demo_house(), name)) for name in ("measured", "formal")]


class Said(list):
    """What a page heard."""

    def member(self, folder, standing, who=None, **typed):
        plans = {planned.intent.name: planned for planned in standing}
        found = voting.Member(folder, plans, self.append, lambda _: self.append("said"), self.append)
        found.typed.update(typed)
        found.typed.who = who
        return found


def test_a_vote_and_a_remark_are_kept_by_name_on_the_plan_as_it_is(folder, standing):
    heard = Said()
    member = heard.member(folder, standing, " Ada ", measured="  calmer ")
    member.vote("measured", "for")
    member.remark("measured")
    record = read_record(folder)
    assert [(v.who, v.alternative, v.vote) for v in record.votes] == [("Ada", "measured", "for")]
    assert [(r.who, r.remark) for r in record.remarks] == [("Ada", "calmer")]
    assert {entry.fingerprint for entry in record.entries} == {voting.fingerprint_of(standing[0])}
    assert "measured" not in member.typed and "said" in heard
    shown = voting.view(standing, record, voting.ballots(["measured", "formal"], member), beside.WIDE_CHART).text
    assert "Votes: 1 for · 0 against" in shown and "Ada: calmer" in shown and "earlier state" not in shown
    later = replace(standing[0], intent=replace(standing[0].intent, budget=1e6))
    assert "Ada: for (of an earlier state)" in voting.view([later], record, {}, beside.WIDE_CHART).text


def test_that_clients_have_said_nothing_is_not_said_of_the_team(folder, standing):
    Said().member(folder, standing, "Ada", measured="calmer").remark("measured")
    assert beside.UNSAID in beside.said(standing, read_record(folder), beside.WIDE_CHART)[1].text
    assert "client" in beside.UNSAID


def test_figures_are_read_to_two_decimals_and_taken_away_as_numbers(standing):
    found = beside.figures_frame(standing).iloc[0]
    fit, jumps = found["of which rooms"], found["Jumps"]
    assert (fit, found["Cost index"]) == (round(standing[0].objective.fit, 2), round(standing[0].cost))
    text = beside.figures(standing, beside.WIDE_CHART).text
    assert f">{fit:.2f}<" in text and f">{jumps}<" in text and ">0.40<" in text


def test_the_decision_that_holds_is_told_at_its_alternative(folder, standing):
    decide(folder, "Ada", "formal", "go ahead")
    decide(folder, "Bert", "formal", "on <i>second</i> thoughts")
    record, house = read_record(folder), standing[0].house
    decided = plan(house, read_intent(folder, "formal"), read_stock(folder, house.unit))
    later = replace(decided, intent=replace(decided.intent, budget=1e6))
    measured, formal, then = (
        voting.view([planned], record, {}, beside.WIDE_CHART).text for planned in (standing[0], decided, later)
    )
    assert "decided" not in measured and "Ada" not in formal and "earlier state" not in formal
    told = re.search(r"Bert has decided on it, \d\d [A-Z][a-z]+ \d{4}: (.*?)</li>", formal)
    assert told and told[1] == "on &lt;i&gt;second&lt;/i&gt; thoughts"
    assert f"{told[1]} (of an earlier state)</li>" in then


def test_nobody_votes_without_a_name(folder, standing):
    heard = Said()
    heard.member(folder, standing, measured="words").remark("measured")
    assert heard == [voting.NAMELESS] and read_record(folder).entries == ()


def test_a_vote_that_was_never_given_is_not_taken_back(folder, standing):
    heard = Said()
    member = heard.member(folder, standing, "Ada")
    member.vote("measured", "withdrawn")
    assert heard == [voting.VOTELESS] and read_record(folder).entries == ()
    member.vote("measured", "for")
    heard.member(folder, standing, "Bert").vote("measured", "withdrawn")
    assert len(read_record(folder).entries) == 1
    member.vote("measured", "withdrawn")
    assert [vote.vote for vote in read_record(folder).votes] == ["for", "withdrawn"]


def test_nothing_is_said_without_words(folder, standing):
    heard = Said()
    heard.member(folder, standing, "Ada", measured="  ").remark("measured")
    assert heard == [voting.WORDLESS] and read_record(folder).entries == ()


def test_what_cannot_be_kept_is_told_and_stays(folder, standing, monkeypatch):
    heard = Said()
    member = heard.member(folder, standing, "Ada", measured="calmer")

    def refuse(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", refuse)
    member.remark("measured")
    assert "No space left on device" in heard[0] and member.typed.text("measured") == "calmer"


def test_what_people_say_is_text(folder, standing):
    record = Record((Vote(who="<img src=x>", alternative="measured", vote="against"),))
    shown = voting.view(standing, record, {}, beside.WIDE_CHART).text
    assert "&lt;img src=x&gt;: against" in shown and "<img" not in shown


def test_plans_are_made_again_only_where_something_changed(folder):
    opened, kept = houses.opened(folder), {}

    def compared():
        return choosing.compared(opened, opened.house, ["measured", "formal"], choosing.saved(folder), kept)

    first, again = compared(), compared()
    assert all(one is other for one, other in zip(first.plans, again.plans, strict=True))
    write_intent(replace(read_intent(folder, "formal"), budget=1e6), folder)
    third = compared()
    assert third.plans[0] is first.plans[0] and third.plans[1].intent.budget == 1e6


def test_others_changes_reach_the_page_and_nothing_else_does(folder):
    opened, before = houses.opened(folder), choosing.saved(folder)

    def heard(record):
        said = []
        tell = {name: (lambda value, name=name: said.append(name)) for name in ("opened", "record", "saved", "names")}
        choosing.follow(opened, record, before, tell)
        return said

    (folder / "notes.txt").write_text("of nobody's business", "utf-8")
    assert heard(read_record(folder)) == []
    voting.keep(voting.open_session(folder, "Ada"), Vote(who="Ada", alternative="formal", vote="for"))
    assert heard(Record(())) == ["record"]
    write_intent(replace(read_intent(folder, "formal"), budget=1e6), folder)
    assert heard(read_record(folder)) == ["saved"]
    write_intent(replace(read_intent(folder, "formal"), name="new"), folder)
    assert heard(read_record(folder)) == ["saved", "names"]
    text = (folder / "house.toml").read_text("utf-8")
    (folder / "house.toml").write_text(text.replace('name = "', 'name = "New '), "utf-8")
    assert heard(read_record(folder)) == ["opened", "saved", "names"]


def test_an_alternative_that_is_new_can_be_chosen_and_what_was_chosen_stays():
    chosen = ["formal", "gone"]
    first = choosing.choice(["easy", "formal"], chosen)
    assert first.value == ["formal"]
    first._update(["formal", "easy"])
    again = choosing.choice(["easy", "formal", "new"], chosen)
    assert (again.value, [*again.options]) == (["formal", "easy"], ["easy", "formal", "new"])
    assert choosing.choice([str(n) for n in range(9)], []).value == [str(n) for n in range(choosing.MOST)]


def test_a_ballot_stays_while_what_is_voted_on_changes_and_the_vote_is_on_what_it_is_then(folder, standing):
    heard, plans = Said(), {planned.intent.name: planned for planned in standing}
    member = heard.member(folder, standing, "Ada")
    object.__setattr__(member, "plans", plans)
    (_, (_, for_it, *_)) = voting.ballots(["measured"], member)["measured"]
    plans["measured"] = replace(standing[0], intent=replace(standing[0].intent, budget=1e6))
    for_it._update(1)
    assert read_record(folder).votes[0].fingerprint == voting.fingerprint_of(plans["measured"])


@pytest.mark.parametrize("tab", [tab for tab in beside.TABS if tab not in ("What matters", "What is said")])
def test_each_tab_shows_the_alternatives(standing, tab):
    for every in (False, True):
        _, shown = beside.shown(tab, standing, every, dark=False, width=beside.WIDE_CHART)
        assert shown is not None
        if tab not in ("Plans", "Cost and fit", "Rooms"):
            assert "Formal" in shown.text and "Measured" in shown.text


def test_a_house_too_large_to_be_taken_off_on_a_page_says_where_its_cost_is(standing, monkeypatch):
    monkeypatch.setattr(beside, "MOST_COSTED", 3)
    _, shown = beside.shown("Cost", standing, True, dark=False, width=beside.WIDE_CHART)
    assert "planner plan" in shown.text and "<table" not in shown.text


def test_rows_that_are_alike_are_left_out_until_asked_for(standing):
    bare = edits.set_form(standing[0].intent, "chair rail", Scope(tiers=(1, 5)), "none")
    both = [standing[0], plan(standing[0].house, replace(bare, name="bare"))]
    few = beside.shown("Trim", both, False, False, screen.NARROW_CHART)[1].text
    many = beside.shown("Trim", both, True, False, screen.NARROW_CHART)[1].text
    assert many.count("<tr") > few.count("<tr") and "are left out" in few and "are left out" not in many
    same = beside.shown("Trim", [standing[0], standing[0]], False, False, screen.NARROW_CHART)[1].text
    assert "do not differ in this" in same


def weighed(standing, *weights):
    return weighing.view(standing, Record(()), weights, weighing.weights(), beside.WIDE_CHART).text


def test_the_winner_follows_what_matters(standing):
    place = [one.words for one in CRITERIA].index("Little cost [index]")
    cheapest = min(standing, key=lambda one: one.cost).intent.title
    dearest = max(standing, key=lambda one: one.cost).intent.title
    only_cost = [10 if k == place else 0 for k in range(len(CRITERIA))]
    assert f"{cheapest} comes first" in weighed(standing, *only_cost)
    contrast = [one.words for one in CRITERIA].index("Public rooms stand out from private ones [tiers]")
    only_contrast = [10 if k == contrast else 0 for k in range(len(CRITERIA))]
    assert f"{dearest} comes first" in weighed(standing, *only_contrast)
    both = [10 if k == contrast else 4 if k == place else 0 for k in range(len(CRITERIA))]
    text = weighed(standing, *both)
    assert f"{dearest} comes first. It stays so until the weight of “" in text and "at most" in text


def test_no_weight_at_all_is_a_tie(standing):
    assert "come first alike" in weighed(standing, *[0] * len(CRITERIA))


@pytest.mark.parametrize(
    ("chosen", "offered", "said"),
    [
        (0, 0, "There are no alternatives yet"),
        (1, 1, "There is one alternative yet"),
        (1, 3, "Choose two alternatives"),
    ],
)
def test_who_has_too_few_to_compare_is_told_where_they_come_from(standing, chosen, offered, said):
    told = choosing.notes(choosing.Compared(tuple(standing[:chosen]), ()), chosen, offered).text
    assert said in told and ("Save as new" in told) == (offered < 2)
    assert choosing.notes(choosing.Compared(tuple(standing), ()), 2, 2) is None


def numbers(html):
    """The figures that stand in cells or lines by themselves."""
    return sorted(re.findall(r">(\d[\d,]*)<", html))


@pytest.mark.parametrize(("tab", "row", "unit"), [("Trim", "Base", "ft"), ("Cost", "of which labour", "USD")])
def test_what_many_alternatives_have_is_folded_away_on_a_phone_and_all_there_with_its_unit(standing, tab, row, unit):
    wide, narrow = (
        beside.shown(tab, standing * 3, True, dark=False, width=width)[1].text
        for width in (beside.WIDE_CHART, screen.NARROW_CHART)
    )
    fold = narrow[narrow.index(f"<summary>{row}</summary>") :]
    assert fold[: fold.index("</details>")].count("<p>") == 6 and '"pl-fold"' not in wide
    assert numbers(narrow) == numbers(wide) != []
    assert f", in {unit}" in narrow


def test_few_alternatives_stand_beside_one_another_on_a_phone(standing):
    assert '"pl-fold"' not in beside.shown("Trim", standing, True, dark=False, width=screen.NARROW_CHART)[1].text
    few = voting.view(standing, Record(()), {}, screen.NARROW_CHART).text
    many = voting.view(standing * 3, Record(()), {}, screen.NARROW_CHART).text
    assert '"pl-fold"' not in few and many.count(": 0 for · 0 against</summary>") == 6


def test_what_is_said_of_many_alternatives_is_folded_by_room_with_a_line_for_each_answer(folder, standing):
    for who in ("Ada", "Ben"):
        session = open_session(folder, who)
        for name, planned in (("measured", standing[0]), ("formal", standing[1])):
            for room in planned.by_name:
                say(session, who, name, room, KEEP)
    shown = beside.said(standing * 3, read_record(folder), screen.NARROW_CHART)[1].text
    library = shown[shown.index("<summary>Library</summary>") :]
    library = library[: library.index("</details>")]
    assert library.count("<p>") == 12 and "Ada: keep it (open)" in library and "Ben: keep it (open)" in library


def test_no_weight_is_told_to_pass_the_most_that_it_can_be(standing):
    scores = np.array([[1.0] * len(CRITERIA), [0.0] * len(CRITERIA)])
    scores[:, 1] = 0, 1
    weight = [0.0] * len(CRITERIA)
    for own, told in ((5.02, "whatever any one weight is"), (4.98, "until the weight of “Few steps jump” passes 9.9.")):
        weight[:3] = own, 4, own  # neither alone is what it stays first by
        assert told in weighing.finding(["One", "Other"], [0], scores, weight)


def test_a_weight_that_is_moved_as_far_as_it_is_told_leaves_the_winner_first():
    scores = [[1.0, 0.0], [0.0, 1.0]]
    for at, weight, told in ((0, [3, 1.024], (1.1, inf)), (1, [2.96, 1], (0.0, 2.9)), (0, [3, 2], (2.0, inf))):
        found = weighing.ends(scores, weight, at, 0)
        assert found == told
        for end in found:
            moved = [min(end, weighing.MOST) if at == k else one for k, one in enumerate(weight)]
            assert 0 in preference.winners(preference.totals(scores, moved))
