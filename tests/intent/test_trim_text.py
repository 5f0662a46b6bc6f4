"""Trim rules in an alternative's file: every fault by its line, and written so that all that stands there stays."""

from dataclasses import replace
from shutil import copytree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import demo_house, read_house
from planner.files.problems import HouseFault
from planner.intent.folder import read_intent, write_intent
from planner.intent.model import Intent
from planner.intent.parsing import intent_bytes, parse_intent
from planner.intent.trim_rules import Change, Scope, TrimRule, where
from planner.intent.trim_text import Names, exact_length
from tests.known import LIBRARY
from tests.random_rules import rule_lists

HOUSE, _ = read_house(demo_house())
NAMES = Names(
    rooms=("Front Parlor", "Back Parlor", "Kitchen"),
    levels=("Ground", "Upper"),
    openings=("Front door", "Kitchen door"),
    profiles=("QB-CT475", "QB-CT525"),
)
HEAD = 'title = "Trim"\ntiers = 5\n\n[[trim]]\n'


def read(text: str, names: Names = NAMES, head: str = HEAD):
    """The rules of a file, and what is told of them."""
    problems = []
    intent = parse_intent((head + text).encode(), "a.toml", "a", names, problems, LIBRARY)
    return intent.trim, problems


def test_rules_as_they_are_written():
    text = """element = "chair rail"
tiers = [2, 5]
form = "moulded rail"

[[trim]]
element = "crossette"
levels = ["Upper"]
form = "none"

[[trim]]
element = "casing"
tiers = 3
profile = "QB-CT475"

[[trim]]
element = "picture rail"
rooms = "Kitchen"
uses = ["Parlor"]
size = 2
height = "7'-6\\""
projection = "3/4 in"
"""
    trim, problems = read(text)
    assert problems == []
    assert trim == (
        TrimRule("chair rail", Scope(tiers=(2, 5)), Change("moulded rail")),
        TrimRule("crossette", Scope(levels=("Upper",)), Change("none")),
        TrimRule("casing", Scope(tiers=(3, 3)), Change(profile="QB-CT475")),
        TrimRule(
            "picture rail",
            Scope(uses=("parlor",), rooms=("Kitchen",)),
            Change(size=2.0, height=90.0, projection=0.75),
        ),
    )


FAULTS = {
    "an unknown element": ('element = "chair rial"\nform = "none"', 5, "chair rial", "chair rail"),
    "no element": ('form = "none"', 4, "is missing", "base"),
    "an unknown form": ('element = "base"\nform = "bord"', 6, "bord", "board"),
    "the form of another element": ('element = "base"\nform = "two fasciae"', 6, "two fasciae", "board"),
    "an unknown level": ('element = "base"\nlevels = ["Uper"]\nform = "board"', 6, 'no level "Uper"', "Upper"),
    "an unknown use": ('element = "base"\nuses = ["parlr"]\nform = "board"', 6, '"parlr" is no use', "parlor"),
    "an unknown room": ('element = "base"\nrooms = ["Kichen"]\nform = "board"', 6, '"Kichen"', "Kitchen"),
    "an unknown opening": ('element = "casing"\nopenings = "Front dor"\nform = "none"', 6, '"Front dor"', "Front door"),
    "an unknown profile": ('element = "casing"\nprofile = "QB-CT476"', 6, 'no profile "QB-CT476"', "QB-CT475"),
    "an unknown key": ('element = "base"\nform = "board"\ndepth = 1', 7, '"depth" is not known', "or drop it"),
    "tiers below the first": ('element = "base"\ntiers = [0, 2]\nform = "board"', 6, "tiers 1 to 5", "[2, 5]"),
    "tiers above the last": ('element = "base"\ntiers = [2, 6]\nform = "board"', 6, "tiers 1 to 5", "[2, 5]"),
    "tiers upside down": ('element = "base"\ntiers = [4, 2]\nform = "board"', 6, "tiers 1 to 5", "[2, 5]"),
    "a list of three tiers": ('element = "base"\ntiers = [1, 2, 3]\nform = "board"', 6, "tiers 1 to 5", "[2, 5]"),
    "a tier that is true": ('element = "base"\ntiers = true\nform = "board"', 6, "tiers 1 to 5", "[2, 5]"),
    "a tier that is no number": ('element = "base"\ntiers = "two"\nform = "board"', 6, "tiers 1 to 5", "[2, 5]"),
    "none with a size": ('element = "base"\nform = "none"\nsize = 5', 6, "what is left out has no size", "form alone"),
    "openings for a base": ('element = "base"\nopenings = ["Front door"]\nform = "board"', 6, "no opening", "rooms"),
    "a height for a crown": ('element = "crown"\nheight = 90', 6, "no place of its own", "leave the height out"),
    "a height for a casing": ('element = "casing"\nheight = 90', 6, "no place of its own", "leave the height out"),
    "a size for a wainscot": ('element = "wainscot"\nsize = 40', 6, "fills what is between", "a height"),
    "a size for wall panels": ('element = "wall panels"\nsize = 40', 6, "fills what is between", "leave the size"),
    "nothing said": ('element = "base"\nrooms = ["Kitchen"]', 4, "says nothing", "form, size"),
    "a size of nothing": ('element = "base"\nsize = 0', 6, "no size", '1/16"'),
    "a length that is none": ('element = "base"\nsize = "tall"', 6, "tall", "5'"),
    "rooms that are no names": ('element = "base"\nrooms = [1]\nform = "board"', 6, "not a list of names", "Parlor"),
    "no rooms at all": ('element = "base"\nrooms = []\nform = "board"', 6, "not a list of names", "Parlor"),
    "a form that is no text": ('element = "base"\nform = 3', 6, "3 is not text", "quotes"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_told_by_its_line_with_what_would_do(name):
    text, line, message, remedy = FAULTS[name]
    trim, problems = read(text)
    assert trim == ()
    assert [(p.file, p.row) for p in problems] == [("a.toml", line)], problems
    assert message in problems[0].message and remedy in problems[0].remedy, problems


def test_the_rule_with_a_fault_is_named_by_its_number_and_the_others_are_read():
    trim, problems = read('element = "base"\nform = "board"\n\n[[trim]]\n\n# high\nelement = "crown"\nheight = 3\n')
    assert [rule.element for rule in trim] == ["base"]
    assert [(p.row, p.column) for p in problems] == [(12, "trim 2.height")]


def test_all_the_faults_of_a_rule_are_told_at_once():
    _, problems = read('element = "crwn"\nrooms = ["Attic"]\ntiers = 9\nsize = "x"\n')
    assert [p.row for p in problems] == [5, 7, 6, 8]


def test_trim_that_is_no_list_of_tables_is_a_fault():
    _, problems = read("", head='trim = "none"\n')
    assert len(problems) == 1 and "[[trim]]" in problems[0].remedy


@pytest.mark.parametrize(("unit", "inches"), [("in", 90.0), ("ft", 90.0), ("mm", 90 / 25.4), ("m", 90 / 25.4)])
def test_a_bare_number_is_in_inches_or_millimetres_as_the_house_is(unit, inches):
    (rule,), problems = read('element = "casing"\nsize = 90', NAMES._replace(unit=unit))
    assert problems == [] and rule.change.size == pytest.approx(inches)


def test_what_is_not_known_of_a_house_is_not_checked():
    (rule,), problems = read('element = "casing"\nrooms = ["Attic"]\nprofile = "X"\nopenings = ["D"]', Names())
    assert problems == [] and rule.scope == Scope(rooms=("Attic",), openings=("D",))


def test_a_folder_tells_what_its_files_do_not_have(tmp_path):
    copytree(demo_house(), tmp_path / "house")
    file = tmp_path / "house" / "alternatives" / "mine.toml"
    file.write_text('[[trim]]\nelement = "casing"\nrooms = ["Libary"]\nopenings = ["Front dor"]\nprofile = "QB-CT47"\n')
    with pytest.raises(HouseFault) as fault:
        read_intent(tmp_path / "house", "mine")
    found = [(p.row, p.remedy) for p in fault.value.problems]
    assert [row for row, _ in found] == [3, 4, 5]
    assert "Library" in found[0][1] and "Front door" in found[1][1] and "QB-CT475" in found[2][1]


KEPT = """# Invented, and kept.
title = "Trim" # of the house

[importance] # weights
use = 0.5 # half

# a rule of mine
[[trim]]
element = "crown" # at the ceiling
form = "none"

[rooms."Kitchen"] # where we cook
tier = 3
"""


@settings(max_examples=40)
@given(st.data())
def test_rules_are_read_back_as_they_were_and_comments_stay(data):
    trim = data.draw(rule_lists(HOUSE, 5, 5, ("QB-CT475",)))
    kept, unit = data.draw(st.booleans()), data.draw(st.sampled_from(["in", "mm"]))
    for before in (None, KEPT.encode()):
        was = parse_intent(before or b"", "a.toml", "a", Names(unit=unit), [], LIBRARY)
        now = replace(was, trim=(*(was.trim if kept else ()), *trim))
        written = intent_bytes(now, before, LIBRARY, unit)
        problems = []
        assert parse_intent(written, "a.toml", "a", Names(unit=unit), problems, LIBRARY) == now and problems == []
        assert intent_bytes(now, written, LIBRARY, unit) == written
        if before:
            comments = ["# Invented, and kept.", "# of the house", "# weights", "# half", "# where we cook"]
            comments += ["# at the ceiling"] if kept else []
            assert [c for c in comments if c.encode() not in written] == []


def test_a_rule_beside_one_that_was_there_leaves_that_ones_words_alone():
    was = parse_intent(KEPT.encode(), "a.toml", "a", Names(), [], LIBRARY)
    more = replace(was, trim=(TrimRule("base", Scope(), Change(size=1 / 3)), *was.trim))
    written = intent_bytes(more, KEPT.encode(), LIBRARY, "in").decode()
    assert 'element = "crown" # at the ceiling\nform = "none"\n' in written
    assert written.index('"base"') < written.index('"crown"')
    assert 'size = "0.3333333333333333 in"' in written
    assert parse_intent(written.encode(), "a.toml", "a", Names(), [], LIBRARY) == more


def test_an_alternative_without_rules_has_no_word_of_them(tmp_path):
    write_intent(Intent(name="plain"), tmp_path, "plain")
    assert "trim" not in (tmp_path / "alternatives" / "plain.toml").read_text()


@pytest.mark.parametrize(
    ("scope", "words"),
    [
        (Scope(), "everywhere"),
        (Scope(tiers=(2, 2)), "in tier 2"),
        (Scope(tiers=(2, 5)), "in tiers 2 to 5"),
        (Scope(levels=("Upper",), uses=("bedroom", "bath")), "on Upper, in every bedroom and bath"),
        (Scope(rooms=("A", "B", "C")), "in A, B and C"),
        (Scope((1, 2), rooms=("A",), openings=("D",)), "in tiers 1 to 2, in A, at D"),
    ],
)
def test_a_scope_in_words(scope, words):
    assert where(scope) == words


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (Change("none"), "none"),
        (Change("board", 5.5), 'board, 5 1/2"'),
        (Change(height=33.0, projection=2.0), '2\'-9" up, 2" deep'),
        (Change(profile="QB-CT475"), "QB-CT475"),
        (Change("two fasciae", 4.75, None, 1.375, "QB-CT475"), "two fasciae, QB-CT475"),
    ],
)
def test_a_change_in_words(change, words):
    assert change.words("in") == words


def test_a_change_in_a_metric_house_is_said_in_millimetres():
    assert Change("board", 5.5, 33.0, 2.0).words("cm") == "board, 140 mm, 838 mm up, 51 mm deep"


@settings(max_examples=60)
@given(st.floats(1 / 16, 1000, allow_nan=False), st.sampled_from(["in", "mm"]))
def test_a_length_is_written_so_that_it_is_read_as_the_same_number(inches, unit):
    (rule,), _ = read(f'element = "base"\nsize = "{exact_length(inches, unit)}"')
    assert rule.change.size == inches


def test_whole_millimetres_are_written_as_such():
    assert [exact_length(n / 25.4, "m") for n in range(1, 400)] == [f"{n} mm" for n in range(1, 400)]
