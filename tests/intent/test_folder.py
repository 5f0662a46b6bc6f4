"""Alternatives read and written."""

import os
import threading
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.files.problems import HouseFault
from planner.files.storage import Overtaken, seen
from planner.intent import edits
from planner.intent.drafts import open_alternative
from planner.intent.folder import list_intents, read_intent, write_intent, write_new_intent
from planner.intent.model import DEFAULT_WEIGHTS, FACTORS, Intent, Wish
from tests.house.conftest import PLAIN, state
from tests.known import GRADES

ROOMS = ("Lobby", 'Parlor, "Front"', "Kitchen", "Landing", "Bedroom")


def test_an_alternative_as_it_is_written(folder):
    assert read_intent(folder, "plain") == Intent(
        name="plain",
        title="Plain",
        author="Ada Finch",
        importance={**DEFAULT_WEIGHTS, "use": 0.5, "arrival": 0.25, "passage": 0.15, "presence": 0.10},
        limits={"door": 2, "cased opening": 1},
        rooms={"Bedroom": Wish(lowest=1, highest=2)},
        sets=(("Lobby", "Kitchen"),),
    )


def test_what_is_not_said_is_left_to_the_defaults(folder):
    (folder / "alternatives" / "bare.toml").write_text("[importance]\nuse = 3\n", "utf-8")
    assert read_intent(folder, "bare").importance == {**DEFAULT_WEIGHTS, "use": 3}
    assert list_intents(folder) == ("bare", "plain")


def test_drafts_are_no_alternatives(folder, tmp_path):
    (folder / "alternatives" / "plain.draft.toml").write_text(PLAIN, "utf-8")
    assert list_intents(folder) == ("plain",)
    assert read_intent(folder, "plain.draft").title == "Plain"
    assert list_intents(tmp_path) == ()


def test_writing_what_was_read_changes_no_byte(folder):
    before = state(folder)
    write_intent(read_intent(folder, "plain"), folder)
    assert state(folder) == before


def test_comments_survive_a_change(folder):
    was = read_intent(folder, "plain")
    now = replace(
        was,
        budget=42000,
        importance={**was.importance, "use": 0.6},
        limits={"door": 1},
        rooms={**was.rooms, 'Parlor, "Front"': Wish(tier=4)},
        sets=(),
    )
    write_intent(now, folder)
    text = (folder / "alternatives" / "plain.toml").read_text("utf-8")
    assert "# kept plain" in text and "# invented" in text and "# half of it" in text
    assert "cased opening" not in text and "sets" not in text
    assert read_intent(folder, "plain") == now


def test_saved_under_another_name_the_old_one_stays(folder):
    before = state(folder)
    write_intent(read_intent(folder, "plain"), folder, "plainer still")
    assert list_intents(folder) == ("plain", "plainer still")
    assert {name: state(folder)[name] for name in before} == before


WISHES = st.builds(Wish, *[st.none() | st.integers(1, 3)] * 3).filter(lambda w: (w.lowest or 1) <= (w.highest or 3))
TITLES = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S")), max_size=20)
WEIGHTS = st.integers(0, 9) | st.floats(0, 9)
INTENTS = st.builds(
    Intent,
    name=st.just("any"),
    title=TITLES,
    author=TITLES,
    style=st.none() | st.sampled_from(["georgian", "craftsman"]),
    order=st.none() | st.sampled_from(["doric", "ionic"]),
    canon=st.none() | st.sampled_from(["order", "interior 1809"]),
    grade=st.none() | st.sampled_from(GRADES),
    tiers=st.integers(3, 7),
    budget=st.none() | st.integers(0, 10**6) | st.floats(0, 10**6),
    importance=st.fixed_dictionaries(dict.fromkeys(FACTORS, WEIGHTS)).filter(lambda weights: any(weights.values())),
    limits=st.dictionaries(st.sampled_from(["door", "pocket door", "cased opening", "stair"]), st.integers(0, 6)),
    rooms=st.dictionaries(st.sampled_from(ROOMS), WISHES),
    sets=st.lists(st.lists(st.sampled_from(ROOMS), min_size=2, unique=True).map(tuple), max_size=3).map(tuple),
    offered=st.lists(st.sampled_from(["base", "chair rail", "crown"]), unique=True).map(tuple),
)


@settings(max_examples=80, deadline=None)
@given(INTENTS, INTENTS)
def test_any_intent_reads_back_over_any_other(tmp_path_factory, first, second):
    folder = tmp_path_factory.mktemp("any")
    for intent in (first, second):
        write_intent(intent, folder)
        assert read_intent(folder, "any") == intent


FAULTS = [
    ('[rooms."Bedrom"]\ntier = 2', 'rooms."?Bedrom"?: there is no room "Bedrom"; write "Bedroom"'),
    ("[rooms.Bedroom]\ntier = 9", "rooms.Bedroom.tier: 9 is no whole number from 1 to 5"),
    ("[rooms.Bedroom]\ntier = true", "rooms.Bedroom.tier: True is no whole number"),
    ("[rooms.Bedroom]\ntier = 2.5", "rooms.Bedroom.tier: 2.5 is no whole number"),
    ("[rooms.Bedroom]\nlowest = 4\nhighest = 2", "the lowest tier, 4, is above the highest, 2; write 2 or less"),
    ("[rooms.Bedroom]\nteir = 2", '"teir" is not known here; write "tier", or drop it'),
    ("rooms = 3", "rooms: 3 is not a table"),
    ("tiers = 3\n[rooms.Bedroom]\ntier = 4", "4 is no whole number from 1 to 3"),
    ("tiers = 9", "tiers: 9 is no whole number from 3 to 7"),
    ("[[sets]]\nrooms = ['Lobby', 'Kichen']", 'sets 1.rooms: there is no room "Kichen"; write "Kitchen"'),
    ("[[sets]]\nrooms = ['Lobby']", "two different rooms or more"),
    ("[[sets]]\nrooms = ['Lobby', 'Lobby']", "two different rooms or more"),
    ("[[sets]]\nrooms = [1, 2]", "not a list of names"),
    ("[[sets]]", "sets 1.rooms: is missing"),
    ("sets = 'Lobby'", 'sets: "Lobby" is not a list of tables'),
    (f"budget = {'9' * 400}", "is out of range; write a number, of 0 or more"),
    (f"budget = 0x{'f' * 4000}", "budget: a number of too many digits is out of range"),
    (f"tiers = 0x{'f' * 4000}", "tiers: a number of too many digits is no whole number"),
    (f"[[trim]]\nelement = 'casing'\ntiers = 0x{'f' * 4000}", "trim 1.tiers: a number of too many digits is no range"),
    (f"[[sets]]\nrooms = [0x{'f' * 4000}]", "sets 1.rooms: a number of too many digits is not a list of names"),
    (f"[[trim]]\nelement = 'casing'\nsize = 0x{'f' * 4000}", "trim 1.size: .* is not a length"),
    ("[importance]\nuse = -1", "importance.use: -1 is out of range; write a number, of 0 or more"),
    ("[importance]\nuse = nan", "importance.use: nan is out of range"),
    ("[importance]\nuse = 'much'", '"much" is not a number'),
    ("[importance]\nuse = 0\ndisplay = 0\narrival = 0\npassage = 0\npresence = 0", "importance: all weights are zero"),
    ("[importance]\nusage = 1", '"usage" is not known here'),
    ("[limits]\ndoorr = 1", '"doorr" is not known here; write "door"'),
    ("[limits]\nopen = 1", "limits.open: rooms that flow into each other share one tier; write 0, or leave it out"),
    ("[limits]\nwindow = 1", '"window" is not known here'),
    ("[limits]\ndoor = -1", "limits.door: -1 is no whole number from 0 to 6"),
    ("offered = ['chair rale']", 'offered: there is no element "chair rale"; write "chair rail"'),
    ("offered = 3", "offered: 3 is not a list of names"),
    ("budget = -5", "budget: -5 is out of range"),
    ("budget = inf", "budget: inf is out of range"),
    ("style = 'gorgian'", 'style: "gorgian" is not known; write one of "georgian"'),
    ("order = 'dorik'", 'order: "dorik" is not known; write "doric"'),
    ("grade = 'palace'", 'grade: "palace" is not known'),
    ("title = 3", "title: 3 is not text"),
    ('title = "a\\nb"', "line break"),
    ("titel = 'x'", '"titel" is not known here; write one of "title"'),
    ("title = ", r"bad.toml row 1: is not TOML"),
    ("a = " + "[" * 100_000, "is not TOML"),
    ("a = " + "9" * 10_000, "is not TOML"),
]


@pytest.mark.parametrize(("text", "says"), FAULTS, ids=[text[:40] for text, _ in FAULTS])
def test_a_faulty_alternative_is_told_by_file_and_key(folder, text, says):
    (folder / "alternatives" / "bad.toml").write_text(text, "utf-8")
    before = state(folder)
    with pytest.raises(HouseFault, match=says) as fault:
        read_intent(folder, "bad")
    assert all(p.file == "alternatives/bad.toml" and p.remedy for p in fault.value.problems)
    assert state(folder) == before


def test_every_fault_is_found_in_one_pass(folder):
    text = "style = 'x'\ntiers = 1\n[importance]\nuse = -1\n[rooms.Attic]\ntier = 8\n[[sets]]\nrooms = ['A', 'B']"
    (folder / "alternatives" / "bad.toml").write_text(text, "utf-8")
    with pytest.raises(HouseFault) as fault:
        read_intent(folder, "bad")
    told = [p.column for p in fault.value.problems]
    assert sorted(told) == sorted(
        ["style", "tiers", "importance.use", "rooms.Attic", "rooms.Attic.tier", "sets 1.rooms", "sets 1.rooms"]
    )


@pytest.mark.parametrize(
    "name", ["", " ", ".", "..", "../plain", "a/b", "a\\b", "a:b", "x" * 300, "a\0b", "a\nb", ".hid", "a "]
)
def test_a_name_that_no_file_may_have_is_refused(folder, name):
    before = state(folder.parent)
    with pytest.raises(HouseFault, match="cannot be the name of a file"):
        read_intent(folder, name)
    with pytest.raises(HouseFault, match="cannot be the name of a file"):
        write_intent(Intent(), folder, name)
    assert state(folder.parent) == before


def test_a_missing_alternative_is_told_with_the_nearest(folder):
    with pytest.raises(HouseFault, match=r'plane\.toml: is missing; there is "plain"'):
        read_intent(folder, "plane")


def test_alternatives_that_are_no_folder_are_told(folder, tmp_path):
    (tmp_path / "alternatives").write_text("x")
    with pytest.raises(HouseFault, match="alternatives: cannot be read"):
        list_intents(tmp_path)
    with pytest.raises(HouseFault, match="cannot be"):
        write_intent(Intent(name="x"), tmp_path)
    (tmp_path / "alternatives").unlink()
    assert list_intents(tmp_path) == ()
    (tmp_path / "alternatives").symlink_to("gone")
    with pytest.raises(HouseFault, match="alternatives: cannot be read"):
        list_intents(tmp_path)


@pytest.mark.parametrize(
    "faulty",
    [
        Intent(rooms={"Attic": Wish(tier=1)}),
        Intent(rooms={"Lobby": Wish(tier=9)}),
        Intent(importance=dict.fromkeys(FACTORS, 0.0)),
        Intent(style="baroque"),
        Intent(budget=float("nan")),
        Intent(title="a\nb"),
        Intent(title="\udcff"),
        Intent(sets=(("Lobby",),)),
    ],
)
def test_a_faulty_intent_never_overwrites(folder, faulty):
    before = state(folder)
    with pytest.raises(HouseFault):
        write_intent(faulty, folder, "plain")
    assert state(folder) == before


def test_a_file_that_a_person_broke_is_not_written_over(folder):
    (folder / "alternatives" / "plain.toml").write_text("title = unfinished", "utf-8")
    before = state(folder)
    with pytest.raises(HouseFault, match="is not TOML"):
        write_intent(Intent(), folder, "plain")
    assert state(folder) == before


def test_a_tier_may_be_written_by_its_name_and_stays_by_its_name(folder):
    """A name means the same on a ladder of any length that has it; a number does not."""
    file = folder / "alternatives" / "named.toml"
    text = 'tiers = 7\n[rooms.Lobby]\ntier = "family" # kept\n[rooms.Kitchen]\nlowest = 1\nhighest = "Best Chamber"\n'
    file.write_text(text, "utf-8")
    found = read_intent(folder, "named")
    assert found.rooms == {"Lobby": Wish(tier=4), "Kitchen": Wish(lowest=1, highest=3)}
    file.write_text(text.replace("tiers = 7", "tiers = 6").replace("Best Chamber", "Company"), "utf-8")
    assert read_intent(folder, "named").rooms == {"Lobby": Wish(tier=3), "Kitchen": Wish(lowest=1, highest=4)}
    file.write_text(text, "utf-8")
    write_intent(edits.set_tiers(found, 5), folder)
    written = file.read_text("utf-8")
    assert 'tier = "Family" # kept' in written and 'highest = "Chamber"' in written and "lowest = 1" in written
    assert read_intent(folder, "named") == edits.set_tiers(found, 5)


def test_a_tier_of_no_name_of_the_ladder_is_a_fault_with_the_names(folder):
    (folder / "alternatives" / "named.toml").write_text("[rooms.Lobby]\ntier = 'Company'\n", "utf-8")
    with pytest.raises(HouseFault) as told:
        read_intent(folder, "named")
    remedy = "write one of Service, Chamber, Family, Principal, State"
    assert f'"Company" is none of the 5 tiers; {remedy}' in str(told.value)


def test_many_who_save_as_new_at_once_each_get_a_file_of_their_own(folder):
    begin, made = threading.Barrier(60), []

    def save(number: int) -> None:
        begin.wait()
        made.append((number, write_new_intent(Intent(author=f"Person {number}"), folder, "Plainer").name))

    threads = [threading.Thread(target=save, args=(number,)) for number in range(60)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len({name for _, name in made}) == 60
    assert {read_intent(folder, name).author for _, name in made} == {f"Person {number}" for number in range(60)}


def test_an_alternative_that_somebody_changed_meanwhile_is_not_written_over(folder):
    file = "alternatives/plain.toml"
    seen_before = seen(folder, [file])
    write_intent(replace(read_intent(folder, "plain"), title="Theirs"), folder)
    before = state(folder)
    with pytest.raises(Overtaken, match=r"plain\.toml: has been changed by somebody else"):
        write_intent(Intent(name="plain", title="Mine"), folder, expected=seen_before)
    assert state(folder) == before
    write_intent(Intent(name="plain", title="Mine"), folder, also={"stock.csv": None}, expected=seen(folder, [file]))
    assert read_intent(folder, "plain").title == "Mine"


@pytest.mark.parametrize("make", [lambda p: p.touch(), lambda p: p.symlink_to(p.name), lambda p: p.symlink_to("gone")])
def test_something_else_in_the_place_of_the_alternatives_is_told(tmp_path, make):
    make(tmp_path / "alternatives")
    with pytest.raises(HouseFault, match=r"alternatives: cannot be read \(.*\); put a folder there"):
        list_intents(tmp_path)


def test_a_pipe_in_the_place_of_a_draft_is_passed_over(folder, in_time):
    os.mkfifo(folder / "alternatives" / "plain.draft.toml")
    assert open_alternative(folder, "plain").draft is None
