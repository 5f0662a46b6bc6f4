"""A decision locks what was decided, whole or not at all, and says later what has changed since."""

import os
from shutil import copytree, rmtree

import pytest
from msgspec.structs import replace

from planner import (
    HouseFault,
    demo_house,
    edits,
    list_intents,
    plan,
    read_house,
    read_intent,
    rename_room,
    write_intent,
)
from planner.record import decisions as deciding
from planner.record.decisions import changed_since, decide, decided_folder, decisions
from planner.record.entries import new_id
from planner.record.history import history, history_text
from planner.record.keeping import read_record
from planner.record.states import read_state
from tests.record.said import DECISION


@pytest.fixture
def house(tmp_path):
    return copytree(demo_house(), tmp_path / "house")


def edited(house, file, old, new):
    """Put one text in the place of another in a file."""
    text = (house / file).read_text("utf-8")
    assert text.count(old) == 1, text.count(old)
    (house / file).write_text(text.replace(old, new))


def files(folder):
    """What every file of a folder holds."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_what_is_decided_is_locked_and_can_be_planned_as_it_was(house):
    before = plan(read_house(house)[0], read_intent(house, "formal"))
    decision = decide(house, " Ada Bell ", "formal", "go ahead")
    copy = decided_folder(house, decision)
    locked = files(copy)
    write_intent(edits.pin(read_intent(house, "formal"), "Library", 2), house)
    edited(house, "rooms.csv", ",10 ft,0 192", ",9 ft,0 192")
    assert files(copy) == locked
    assert plan(read_house(copy)[0], read_intent(copy, "formal")) == before
    assert list_intents(copy) == ("formal",)
    assert set(locked) == {
        *("house.toml", "rooms.csv", "openings.csv", "fixtures.csv", "stairs.csv", "rates.csv", "stock.csv"),
        "alternatives/formal.toml",
    }
    (found,) = read_record(house).decisions
    assert found == decision and (found.who, found.remark, found.title) == ("Ada Bell", "go ahead", before.intent.title)


def test_nothing_has_changed_while_nothing_has_that_can_change_a_plan(house):
    decision = decide(house, "Ada", "formal")
    edited(house, "house.toml", 'name = "Thornapple House"', 'name = "Thornapple"  # shorter')
    edited(house, "rooms.csv", ",10 ft,0 192", ",120,0 192")
    write_intent(edits.pin(read_intent(house, "easy"), "Library", 2), house)
    assert changed_since(house, decision) == ()


PLAINLY = [
    ("rooms.csv", ",10 ft,0 192", ",9.5 ft,0 192", "the ceiling of Library was 10'-0\", is 9'-6\""),
    (
        "rooms.csv",
        "Garden Room,Ground,sunroom",
        "Garden Room,Ground,study",
        "the use of Garden Room was sunroom, is study",
    ),
    ("rates.csv", "carpenter,78,70", "carpenter,80.5,70", "the value of carpenter was 78, is 80.5"),
    ("house.toml", 'grade = "house"', 'grade = "cottage"', "grade was house, is cottage"),
]


@pytest.mark.parametrize(("file", "old", "new", "told"), PLAINLY)
def test_what_has_changed_is_told_in_plain_words(house, file, old, new, told):
    decision = decide(house, "Ada", "measured")
    edited(house, file, old, new)
    assert changed_since(house, decision) == (f"{file} has changed since: {told}",)


def test_changes_of_the_alternative_the_stock_and_the_styles_in_use_are_told(house):
    (styles := house / "styles").mkdir()
    (styles / "own.toml").write_text('based_on = "georgian"\nratio = 0.9\n')
    write_intent(edits.set_style(read_intent(house, "measured"), "own"), house)
    decision = decide(house, "Ada", "measured")
    write_intent(edits.pin(read_intent(house, "measured"), "Kitchen", 2), house)
    for name in ("own", "unused"):
        (styles / f"{name}.toml").write_text('based_on = "georgian"\nratio = 0.8\n')
    stock = (house / "stock.csv").read_text("utf-8").splitlines()
    (house / "stock.csv").write_text("\n".join([*stock[:5], *stock[6:]]))
    code = stock[5].split(",")[0]
    assert changed_since(house, decision) == (
        f"stock.csv has changed since: {code} is gone",
        "the alternative has changed since: Kitchen tier 2",
        "styles have changed since: own says something else",
    )
    (house / "stock.csv").unlink()
    told = changed_since(house, decision)
    assert len(told) == 23 and "differences more" in told[20]


def test_another_style_is_no_change_of_the_trade(house):
    decision = decide(house, "Ada", "measured")
    edited(house, "house.toml", 'style = "georgian"', 'style = "federal"')
    assert changed_since(house, decision) == ("house.toml has changed since: style was georgian, is federal",)


def test_rooms_that_come_go_and_are_named_anew_are_told(house):
    decision = decide(house, "Ada", "formal")
    rename_room(house, "Library", "Book Room")
    assert changed_since(house, decision) == ("rooms.csv has changed since: Library is called Book Room",)
    edited(house, "rooms.csv", ",10 ft,0 192", ",9.5 ft,0 192")
    rooms = (house / "rooms.csv").read_text("utf-8")
    (house / "rooms.csv").write_text(rooms + "Box Room,Upper,storage,6 ft,6 ft,8 ft,,\n")
    openings = (house / "openings.csv").read_text("utf-8")
    (house / "openings.csv").write_text(openings + "Box door,door,Box Room,Upper Hall,,,,,,,\n")
    told = changed_since(house, decision)
    assert told[:3] == (
        "rooms.csv has changed since: Library is called Book Room",
        "rooms.csv has changed since: Box Room is new",
        "rooms.csv has changed since: the ceiling of Book Room was 10'-0\", is 9'-6\"",
    )
    assert told[3:] == ("openings.csv has changed since: Box door is new",)


def test_a_later_decision_on_the_same_alternative_supersedes_and_both_stay(house):
    first, other = decide(house, "Ada", "formal"), decide(house, "Ada", "easy")
    second = decide(house, "Bert", "formal", "on second thoughts")
    record = read_record(house)
    assert record.decisions == (first, other, second)
    assert decisions(record) == (other, second)
    assert decided_folder(house, first).is_dir() and decided_folder(house, second).is_dir()


def test_the_house_as_it_stands_can_be_decided_on(house):
    decision = decide(house, "Ada", "")
    assert list_intents(decided_folder(house, decision)) == () and changed_since(house, decision) == ()
    edited(house, "house.toml", 'grade = "house"', 'grade = "cottage"')
    assert len(changed_since(house, decision)) == 1


def test_whoever_looked_at_something_else_does_not_decide(house):
    seen = read_state(house, "formal").fingerprints.whole
    assert decide(house, "Ada", "formal", seen=seen).fingerprint == seen
    before = files(house)
    edited(house, "rooms.csv", ",10 ft,0 192", ",9.5 ft,0 192")
    with pytest.raises(HouseFault, match="the house: is no longer what was looked at; look at it again"):
        decide(house, "Ada", "formal", seen=seen)
    assert set(files(house)) == set(before)


@pytest.mark.parametrize(
    ("alternative", "who", "told"),
    [("nothing", "Ada", "is missing"), ("../a", "Ada", "name of a file"), ("formal", "x" * 201, "201 characters")],
)
def test_what_cannot_be_decided_is_told_and_leaves_nothing(house, alternative, who, told):
    before = files(house)
    with pytest.raises(HouseFault, match=told):
        decide(house, who, alternative)
    with pytest.raises(HouseFault, match="no text"):
        decide(house, "Ada", "formal", "\ud800")
    assert files(house) == before


def test_a_faulty_house_is_not_decided_on_and_is_told_of_later(house):
    decision = decide(house, "Ada", "formal")
    edited(house, "rooms.csv", ",10 ft,0 192", ",ten,0 192")
    with pytest.raises(HouseFault, match="ceiling"):
        decide(house, "Ada", "formal")
    (told,) = changed_since(house, decision)
    assert told.startswith("it cannot be read as it is now: rooms.csv row 6, ceiling")


def test_a_copy_that_is_gone_or_was_edited_is_told_with_the_kinds_that_changed(house):
    decision = decide(house, "Ada", "formal")
    copy = decided_folder(house, decision)
    edited(copy, "rooms.csv", ",10 ft,0 192", ",8 ft,0 192")
    assert changed_since(house, decision) == (f"{decision.copy} is no longer what was decided",)
    edited(house, "rooms.csv", ",10 ft,0 192", ",9.5 ft,0 192")
    assert changed_since(house, decision) == (
        f"{decision.copy} is no longer what was decided",
        "the house has changed since",
    )
    rmtree(copy)
    gone, house_too = changed_since(house, decision)
    assert "what was decided cannot be read" in gone and house_too == "the house has changed since"


@pytest.mark.parametrize(
    ("harm", "told"),
    [
        (rmtree, "what was decided cannot be read: "),
        (lambda copy: (copy / "rooms.csv").unlink(), "what was decided cannot be read: rooms.csv"),
        (lambda copy: (copy / "house.toml").write_bytes(b"\xff"), "what was decided cannot be read: house.toml"),
    ],
)
def test_a_copy_that_cannot_be_read_is_told_though_the_house_is_as_it_was(house, harm, told):
    decision = decide(house, "Ada", "formal")
    harm(decided_folder(house, decision))
    (words,) = changed_since(house, decision)
    assert words.startswith(told)
    lines = history_text(history(house))
    assert words in " ".join(lines.split()) and "nothing has changed since" not in lines


def test_what_the_planner_knows_is_told_by_its_fingerprint_alone(house):
    decision = decide(house, "Ada", "formal")
    older = replace(decision, library="0" * 16)
    assert changed_since(house, older) == (deciding.TRADE,)


@pytest.mark.parametrize(
    "copy", ["", "..", "reviews/decided/..", "reviews/decided/", "/etc", "reviews/decided/a/../.."]
)
def test_a_decision_that_leads_elsewhere_is_not_followed(house, copy):
    hostile = replace(DECISION, copy=copy, id=new_id())
    with pytest.raises(HouseFault, match="names no copy of a decision"):
        decided_folder(house, hostile)
    assert "names no copy" in changed_since(house, hostile)[0]


def test_a_copy_by_a_name_that_no_file_has_is_told(house):
    told = changed_since(house, replace(DECISION, copy=f"reviews/decided/{'x' * 5000}"))
    assert told[0].startswith("what was decided cannot be read") and "the house has changed since" in told


@pytest.mark.parametrize("name", ["rename", "replace", "fsync", "mkdir"])
def test_each_call_that_is_refused_leaves_all_as_it_was(house, monkeypatch, name):
    """The system refuses the first, the second, … of its calls, until a decision needs no more of them."""
    before, really = files(house), getattr(os, name)
    for allowed in range(80):
        left = [allowed]

        def refused(*given, left=left, **named):
            if not left[0]:
                raise OSError(28, "No space left on device")
            left[0] -= 1
            return really(*given, **named)

        with monkeypatch.context() as patched:
            patched.setattr(os, name, refused)
            try:
                decision = decide(house, "Ada", "formal")
            except HouseFault:
                decision = None
        record = read_record(house)
        if decision is not None or (name == "fsync" and record.decisions):  # the last one comes after all is in place
            (found,) = record.decisions
            assert decision in (found, None) and changed_since(house, found) == ()
            return
        assert record.decisions == ()
        assert {k: v for k, v in files(house).items() if not k.startswith(".planner")} == before
    pytest.fail("a decision never came through")
