"""What differs between two steps of a room is told from its trim, in words that a client knows."""

import re
from dataclasses import replace

import pytest

from planner import Intent, demo_house, plan, read_house, read_stock
from planner.house.model import OUTSIDE, House, Opening, Room
from planner.planning.differences import differences
from planner.record.one_step import one_step
from planner.units import format_size
from planner.walls.layout import lay_out
from tests.known import LIBRARY, package

ROOM = Room("Room", "Ground", "parlor", 192.0, 144.0, 120.0)
DOOR = Opening("D", "door", "Room", OUTSIDE, "S", None, 36.0, 80.0)
WINDOW = Opening("W", "window", "Room", OUTSIDE, "N", None, 36.0, 84.0, 40.0)
HEARTH = Opening("H", "fireplace", "Room", "", "E", None, 48.0, 42.0)
JARGON = (
    *("entablature", "architrave", "frieze", "taenia", "fascia", "crossette", "wainscot", "cornice", "dentil"),
    *("backband", "plinth", "mullion", "stool", "apron", "overdoor", "overmantel", "corona", "cyma", "tier", "package"),
    *LIBRARY.ladder.rungs,
)
"""Words of the trade, and of this planner, that a client need not know."""


def walls(trim, *openings, unit="in"):
    house = House("One", ("Room",), (ROOM,), openings, unit=unit)
    return lay_out(house, ROOM, replace(trim, unit=unit), LIBRARY)


def trim(tier: int, style: str = "georgian"):
    return package(style, "doric", tier, 120.0, top=5)


def with_size(base, element: str, size: float):
    return replace(base, elements=tuple(replace(e, size=size) if e.element == element else e for e in base.elements))


def without(base, *elements: str):
    return replace(base, elements=tuple(e for e in base.elements if e.element not in elements))


def test_equal_trim_differs_in_nothing():
    assert differences(walls(trim(3), DOOR), walls(trim(3), DOOR), LIBRARY) == ""


def test_a_size_is_told_with_what_it_is_instead_of():
    base = with_size(trim(2), "base", 5.5)
    said = differences(walls(base), walls(with_size(base, "base", 7.25)), LIBRARY)
    assert said == 'a baseboard of 7 1/4" instead of 5 1/2"; the rest is the same'


def test_a_metric_house_is_told_in_millimetres():
    base = with_size(trim(2), "base", 5.5)
    said = differences(walls(base, unit="mm"), walls(with_size(base, "base", 7.25), unit="mm"), LIBRARY)
    assert said == "a baseboard of 184 mm instead of 140 mm; the rest is the same"


def test_what_is_new_and_what_is_gone_are_told():
    base = trim(3)
    bare = without(base, "chair rail")
    rail = base.element("chair rail")
    assert differences(walls(base), walls(bare), LIBRARY) == "no rail at chair height; the rest is the same"
    said = differences(walls(bare), walls(base), LIBRARY)
    assert re.fullmatch(r'a rail at chair height of [\d /]+"; the rest is the same', said)
    assert rail is not None


def test_what_does_not_stand_in_the_room_is_not_told():
    """A room without a fireplace has no mantel, whatever its package says."""
    poor, rich = trim(2), with_size(trim(2), "mantel", 9.0)
    assert differences(walls(poor, DOOR), walls(rich, DOOR), LIBRARY) == ""
    assert "mantel" in differences(walls(poor, HEARTH), walls(rich, HEARTH), LIBRARY)


def test_a_size_that_is_no_height_or_width_is_not_told():
    base = trim(4)
    assert differences(walls(base, HEARTH), walls(with_size(base, "overmantel", 3.75), HEARTH), LIBRARY) == ""


def test_what_changes_most_of_the_wall_is_told_first_and_the_others_are_named():
    said = differences(walls(trim(3), DOOR, WINDOW, HEARTH), walls(trim(4), DOOR, WINDOW, HEARTH), LIBRARY)
    first, *others = said.split("; ")
    assert first.startswith("panelling on the lower wall in flat panels")
    assert any(part.startswith("also ") for part in others)
    for thing in ("ceiling moulding", "baseboard", "rail at chair height", "door trim", "mantel"):
        assert thing in said


def test_hidden_differences_are_not_called_the_same():
    """A shoe is too small to be told, but the rest is not said to be the same where it differs."""
    base = trim(2)
    said = differences(walls(base), walls(without(with_size(base, "base", 7.25), "shoe")), LIBRARY)
    assert "the rest is the same" not in said
    assert differences(walls(base), walls(without(base, "shoe")), LIBRARY) == "only small mouldings differ"


@pytest.mark.parametrize("style", LIBRARY.style_names)
def test_no_word_of_the_trade_is_in_what_is_told(style):
    for tier in range(1, 5):
        for one, other in ((tier, tier + 1), (tier + 1, tier)):
            there = (DOOR, WINDOW, HEARTH)
            said = differences(walls(trim(one, style), *there), walls(trim(other, style), *there), LIBRARY)
            assert said
            assert not [word for word in JARGON if word.lower() in said.lower()]


def test_every_figure_is_a_size_of_the_packages():
    house = read_house(demo_house())[0]
    planned = plan(house, Intent(), read_stock(demo_house(), house.unit))
    step = one_step(planned, "Library", "richer")
    said = differences(planned.walls["Library"], step.planned.walls["Library"], planned.library)
    sizes = {
        format_size(e.size, "in") for made in (planned, step.planned) for e in made.by_name["Library"].package.elements
    }
    figures = re.findall(r'[\d][\d /]*"', said)
    assert len(figures) >= 2
    assert set(figures) <= sizes
