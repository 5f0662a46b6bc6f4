import pytest

from planner import demo_house, plan, read_house
from planner.deliverables.story_pole_table import story_poles
from planner.units import INCHES_IN, format_length
from planner.walls.parts import Part
from planner.walls.story_poles import story_pole
from tests.drawn import demo
from tests.laid_out_houses import laid_out_house


def marks(planned, package):
    return [(m.name, m.height, m.where) for m in planned.story_poles[package].marks]


def test_heights_are_those_of_the_walls():
    """By hand: a base of 7 1/2, a rail to 2'-6", heads at 7'-0", a crown of 15 under 10'-0"."""
    found = {(name, height) for name, height, _ in marks(demo(), demo().packages[0])}
    assert {
        ("top of base", 7.5),
        ("top of chair rail", 30.0),
        ("foot of chair rail", 30 - 3.125),
        ("head, doorways", 84.0),
        ("top of head casing, doorways", 84 + 5.5),
        ("foot of taenia", 120 - 15.0),
        ("ceiling", 120.0),
    } <= found


@pytest.mark.parametrize("seed", range(8))
def test_every_level_edge_of_what_is_marked_is_a_mark(seed):
    planned = plan(laid_out_house(10, seed, 1 + seed % 2))
    for package, pole in planned.story_poles.items():
        heights = [mark.height for mark in pole.marks]
        assert heights == sorted(heights)
        assert heights[-1] == package.ceiling
        assert all(0 < height <= package.ceiling for height in heights)
        for room in planned.rooms:
            if room.package != package:
                continue
            for wall in planned.walls[room.room.name]:
                if wall.stairs:
                    continue
                for s in wall.solids:
                    if s.part in (Part.BASE, Part.CHAIR_RAIL):
                        assert min(abs(s.y1 - height) for height in heights) < 1 / 32
                for a in wall.apertures:
                    assert not a.is_open or min(abs(a.y1 - height) for height in heights) < 1 / 32


def test_a_mark_of_several_heights_says_where_each_is_and_a_mark_of_one_does_not():
    for package in demo().packages:
        found = marks(demo(), package)
        for name, _, where in found:
            several = sum(other == name for other, _, _ in found) > 1
            assert bool(where) == several, name


def test_walls_under_two_ceilings_have_no_pole():
    walls = (*demo().walls["Library"], *demo().walls["Upper Hall"])
    with pytest.raises(ValueError, match="one ceiling"):
        story_pole(walls)


@pytest.mark.parametrize(("unit", "heading", "first"), [("in", "Height [in]", 7.5), ("mm", "Height [mm]", None)])
def test_the_table_has_every_mark_with_its_height_and_unit(unit, heading, first):
    planned = demo(unit=unit)
    frame = story_poles(planned).frame
    assert list(frame.columns) == ["Package", "Mark", heading, "Written", "Where"]
    assert len(frame) == sum(len(pole.marks) for pole in planned.story_poles.values())
    if first is not None:
        assert frame[heading][0] == first
        assert frame["Written"][0] == '7 1/2"'
    else:
        assert frame["Written"].str.endswith(" mm").all()
        assert frame[heading].max() == pytest.approx(3048, abs=1)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_height_is_a_number_that_a_tape_has_and_the_one_that_is_written(unit):
    """An ear of a sixth of the opening is no sixth of an inch, and half a millimetre is none."""
    frame = story_poles(demo(unit=unit)).frame
    heading = f"Height [{unit}]"
    for row in frame.to_dict("records"):
        assert format_length(row[heading] * INCHES_IN[unit], unit) == row["Written"]
        assert (row[heading] * (16 if unit == "in" else 1)).is_integer(), row


def test_a_house_without_stock_has_poles_too():
    planned = plan(read_house(demo_house())[0])
    assert len(planned.story_poles) == len(planned.packages)
