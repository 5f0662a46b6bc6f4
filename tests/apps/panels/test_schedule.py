"""The schedule's controls show the desk's rules and change them; its table shows what each tier, room and door has."""

import html

import pytest

from planner import Intent, plan
from planner.apps import tabs
from planner.apps.houses import opened
from planner.apps.panels import schedule
from planner.drawings.scene import unbroken
from planner.intent import edits
from planner.intent.trim_rules import Change, Scope, TrimRule
from planner.units import format_length
from tests.known import LIBRARY

CHAMBER, BEDROOM, DOOR = Scope(tiers=(2, 2)), Scope(rooms=("West Bedroom",)), Scope(openings=("Front door",))


@pytest.fixture
def at(planned, changes):
    """What is spoken of under each tab."""
    return {tab: schedule.choices(tab, planned.house, "Entry Hall", LIBRARY, changes) for tab in tabs.TABS}


def cells(table):
    """The text of a table without its marks."""
    return table.text


def test_each_tab_speaks_of_its_own(at, planned, changes):
    assert [tab for tab in tabs.TABS if at[tab].value] == list(schedule.TABS)
    names, scopes = schedule.spoken_of("Schedule", at["Schedule"].value, "Entry Hall", changes.desk, LIBRARY)
    assert names[:3] == ["crown", "picture rail", "wall panels"] and set(names) == set(LIBRARY.element_kinds)
    assert scopes == [Scope(tiers=(tier, tier)) for tier in (5, 4, 3, 2, 1)]
    _, (room,) = schedule.spoken_of("One room", at["One room"].value, "Entry Hall", changes.desk, LIBRARY)
    assert room == Scope(rooms=("Entry Hall",))
    names, (door,) = schedule.spoken_of("Walls", at["Walls"].value, "Entry Hall", changes.desk, LIBRARY)
    assert (
        door == Scope(openings=("Front door",)) and "casing" in names and not {"crown", "mantel", "stool"} & set(names)
    )
    assert schedule.spoken_in_detail("Schedule", at["Schedule"].value, "", changes.desk, LIBRARY) == (
        "casing",
        Scope(tiers=(5, 5)),
    )
    none = schedule.choices("Walls", planned.house, "no such room", LIBRARY, changes)
    assert none.value == {} and schedule.NO_OPENINGS in cells(schedule.above(planned, none, {}, []))
    assert schedule.DETAIL in cells(schedule.above(planned, at["Walls"], {}, []))
    assert schedule.spoken_in_detail("Walls", {"element": "casing"}, "Attic", changes.desk, LIBRARY) is None


def test_the_schedule_opens_on_the_best_tier_that_a_room_has(planned, changes):
    best = max(room.tier for room in planned.rooms)
    assert best < changes.desk.intent.tiers
    for highest, shown in ((best, best), (None, 5), (9, 5)):  # no plan yet; a plan of more tiers than there are now
        at = schedule.choices("Schedule", planned.house, "Entry Hall", LIBRARY, changes, highest)
        assert at.value["tier"] == str(shown)


def test_a_form_is_chosen_left_out_and_left_as_it_is(at, changes):
    built = schedule.forms("Schedule", at["Schedule"].value, "Entry Hall", LIBRARY, changes)
    control = built["chair rail", CHAMBER]
    assert control.value == "" and next(iter(control.options)) == schedule.AS_IT_IS
    control._update(["moulded rail"])
    assert changes.desk.intent.trim == (TrimRule("chair rail", CHAMBER, Change("moulded rail")),)
    assert schedule.mended(built, LIBRARY, changes) == {}
    control._update([schedule.LEFT_OUT])
    assert changes.desk.intent.trim == (TrimRule("chair rail", CHAMBER, Change("none")),)
    changes.undo()
    (again,) = schedule.mended(built, LIBRARY, changes).items()
    assert again[0] == ("chair rail", CHAMBER) and again[1].value == "moulded rail"
    control._update([schedule.AS_IT_IS])
    assert changes.desk.intent.trim == ()


def test_more_is_said_of_one_element(folder, at, changes):
    house = opened(folder)
    more = schedule.details("Walls", at["Walls"].value, "Entry Hall", house, changes)
    assert list(more) == ["size", "height", "projection", "profile", "back"]
    more["size"]._update("5 1/2")
    more["projection"]._update("1 in")
    assert edits.rule_of(changes.desk.intent, "casing", DOOR) == Change(size=5.5, projection=1.0)
    more["profile"]._update(["QB-CB475"])
    assert edits.rule_of(changes.desk.intent, "casing", DOOR) == Change(profile="QB-CB475")
    again = schedule.details("Walls", at["Walls"].value, "Entry Hall", house, changes)
    assert again["profile"].value == "QB-CB475" and again["size"].value == ""
    again["back"]._update(1)
    assert changes.desk.intent.trim == ()
    assert schedule.details("Walls", {"element": "casing"}, "Attic", house, changes) == {}


def test_what_cannot_be_said_changes_nothing(changes):
    for arguments, words in {
        ("wainscot", CHAMBER, "size", "3"): "fills what is between",
        ("crown", CHAMBER, "height", "3"): "no place of its own",
        ("casing", CHAMBER, "size", "wide"): "not a length",
    }.items():
        with pytest.raises(ValueError, match=words):
            edits.set_aspect(changes.desk.intent, *arguments)
    ruled = edits.set_form(Intent(), "casing", CHAMBER, "none")
    assert edits.set_aspect(ruled, "casing", CHAMBER, "size", "4").trim[0].change == Change(size=4.0)


def test_the_table_has_every_tier_and_marks_what_departs(planned, at, changes):
    changes.make("", edits.set_form, "chair rail", CHAMBER, "moulded rail")
    ruled = plan(planned.house, changes.desk.intent, planned.stock)
    built = schedule.forms("Schedule", at["Schedule"].value, "Entry Hall", LIBRARY, changes)
    shown = cells(schedule.table(ruled, "Schedule", "Entry Hall", at["Schedule"], built, dark=False))
    assert all(f"{tier} {name}" in shown for tier, name in enumerate(ruled.tier_names, 1))
    assert shown.count("◆ </b>") == 1 and shown.count("<svg") > 30
    package = next(p for p in ruled.packages if p.tier == 4)
    stood, alone = (p.element("wainscot").size for p in (ruled.standing[package], package))
    assert f"flat panels, {unbroken(format_length(stood, 'in'))}" in html.unescape(shown) and stood != alone
    assert 'title="chair rail in tier 2: moulded rail"' in shown
    (button,) = schedule.put_back(changes)
    told = cells(schedule.above(ruled, at["Schedule"], {}, [button]))
    assert "chair rail in tier 2: moulded rail" in told and "changes nothing" not in told
    button._update(1)
    assert changes.desk.intent.trim == ()
    assert "as the style has it" in cells(schedule.above(planned, at["Schedule"], {}, []))


def test_a_room_and_a_door_show_what_they_have(planned, at, changes):
    for tab, scope in (("One room", Scope(rooms=("Entry Hall",))), ("Walls", DOOR)):
        changes.make("", edits.set_form, "crossette", scope, "none")
        ruled = plan(planned.house, changes.desk.intent, planned.stock)
        built = schedule.forms(tab, at[tab].value, "Entry Hall", LIBRARY, changes)
        shown = cells(schedule.table(ruled, tab, "Entry Hall", at[tab], built, dark=True))
        assert "◆ </b>none" in shown and "Shall have" in shown
        changes.undo()


def test_a_room_has_a_period_of_its_own(at, changes):
    period = at["One room"].elements["style"]
    assert next(iter(period.options)) == schedule.AS_IT_IS
    period._update(["craftsman"])
    assert edits.style_of_room(changes.desk.intent, "Entry Hall") == "craftsman"
    period._update([schedule.AS_IT_IS])
    assert changes.desk.intent.wings == ()


def test_every_tab_that_looks_at_the_plan_shows_something(planned, changes, till):
    for tab in tabs.TABS:
        _, shown = tabs.shown(tab, planned, "Library", changes, till, False, 590)
        assert (shown is None) == (tab in ("Schedule", "House")), tab  # these two have cells of their own
    stuck = plan(planned.house, edits.pin(edits.pin(Intent(), "Entry Hall", 1), "Dining Room", 4))
    assert tabs.NO_PLAN in tabs.shown("Packages", stuck, "Library", changes, till, False, 590)[1].text
