"""How the trim of two rooms meets in a passage. Common practice; rows of library/openings_trim.toml."""

from dataclasses import replace

import pytest

from planner.checks.plan import check_plan
from planner.house.model import House, Opening, Room
from planner.library import standard
from planner.units import format_size
from planner.walls import layout
from planner.walls.meetings import meeting, meetings
from planner.walls.openings import Aperture, surround
from tests.walls.rooms import HALL, HOUSE, PARLOR
from tests.walls.trim import altered, trim, without

LIBRARY = standard()
DOOR = Aperture("Door", "door", 60.0, 96.0, 0.0, 84.0, "Hall")
CASED = DOOR._replace(name="Arch", kind="cased opening", x1=132.0)
HIGH, LOW = trim(5), trim(2)


def met(opening, near, far):
    return meeting(surround(opening, near, LIBRARY), surround(opening, far, LIBRARY), near, far, LIBRARY)


def words(opening, near, far):
    return " ".join(met(opening, near, far).words)


def test_each_face_of_a_door_carries_its_own_rooms_trim_on_one_head_line():
    found = met(DOOR, HIGH, LOW)
    assert found.head == pytest.approx(84.25)
    assert found.near_top == pytest.approx(surround(DOOR, HIGH, LIBRARY).top)
    assert found.far_top == pytest.approx(84.25 + LOW.element("casing").size)
    assert met(DOOR, LOW, HIGH).near_top == found.far_top
    assert "Both faces keep one head line, 7'-0 1/4\" above the floor." in found.words


def test_of_two_faces_the_higher_is_named_first():
    for near, far in ((HIGH, LOW), (LOW, HIGH)):
        said = words(DOOR, near, far)
        assert f"the trim of the {HIGH.label} face is" in said
        assert f"that of the {LOW.label} face {format_size(LOW.element('casing').size, 'in')};" in said
    assert "nobody sees" not in words(DOOR, HIGH, HIGH)
    alike = altered(HIGH, "casing", size=HIGH.element("casing").size + 1 / 16)
    assert "nobody sees" not in words(DOOR, HIGH, alike)
    assert "nobody sees" in words(DOOR, HIGH, altered(HIGH, "casing", size=HIGH.element("casing").size + 1 / 8))


def test_an_open_passage_has_the_head_of_the_opening_itself():
    found = met(DOOR._replace(kind="open"), HIGH, LOW)
    assert found.head == found.near_top == found.far_top == 84.0
    assert "nobody sees" not in " ".join(found.words)


def test_a_meeting_says_where_crown_chair_rail_and_base_stop():
    assert all(word in words(CASED, HIGH, trim(4)) for word in ("crown", "chair rail", "ase"))
    assert "turn the wall's end" in words(DOOR._replace(kind="open"), HIGH, HIGH)


def test_a_crown_runs_on_over_a_head_below_it_and_turns_where_the_gap_goes_up_to_it():
    under = HIGH.ceiling - HIGH.element("crown").size
    said = {y1: words(DOOR._replace(kind="open", y1=y1), HIGH, HIGH) for y1 in (under, under + 1 / 16)}
    assert "crown of each room runs on over the head" in said[under]
    assert "base, chair rail and crown turn" in said[under + 1 / 16].lower()
    bare = without(HIGH, "crown")
    one_sided = words(DOOR._replace(kind="open", y1=under + 1), HIGH, bare)
    assert "runs on over the head" not in one_sided
    assert "runs on over the head" in words(DOOR._replace(kind="open", y1=120.0), bare, bare)


def test_a_chair_rail_that_only_one_room_has_stops_at_its_casing():
    rails = f"The chair rail of the {HIGH.label} room stops at its casing; the {LOW.label} room has none."
    assert rails in met(DOOR, HIGH, LOW).words
    assert rails in met(DOOR, LOW, HIGH).words
    assert "has none" not in words(DOOR, HIGH, HIGH) + words(DOOR, LOW, LOW)


def test_ceilings_that_differ_are_told_where_they_are_seen_together():
    lower = trim(4, 108.0)
    assert "ceilings differ by 1'-0\"" in words(CASED, HIGH, lower)
    assert "ceilings differ" not in words(CASED, HIGH, trim(4)) + words(DOOR, HIGH, lower)


def test_rooms_that_flow_into_each_other_must_share_a_tier():
    gap = DOOR._replace(kind="open")
    assert "must share a tier" in words(gap, HIGH, trim(4))
    assert "must share a tier" not in words(gap, HIGH, HIGH) + words(CASED, HIGH, trim(4))


def test_every_passage_between_two_rooms_has_its_meeting():
    found = meetings(HOUSE, {"Parlor": HIGH, "Hall": LOW}, LIBRARY)
    assert set(found) == {"D", "Gap"}
    assert found["D"].near_top > found["D"].far_top
    assert any("must share a tier" in said for said in found["Gap"].words)
    assert meetings(HOUSE, {"Parlor": HIGH}, LIBRARY) == {}


def test_rooms_laid_out_before_are_not_laid_out_again(monkeypatch):
    """Meetings, checks and drawings all read the walls that are kept."""
    laid_out = []

    def counted(opening, package, library, rail_top=None):
        laid_out.append((opening.name, package.tier))
        return surround(opening, package, library, rail_top)

    layout._walls.cache_clear()
    monkeypatch.setattr(layout, "surround", counted)
    packages = {"Parlor": trim(3, 132.0), "Hall": trim(2, 132.0)}
    walls = {room: layout.lay_out(HOUSE, room, package, LIBRARY) for room, package in packages.items()}
    faces = sum(len(wall.surrounds) for layouts in walls.values() for wall in layouts)
    assert len(laid_out) == faces == 7
    assert meetings(HOUSE, packages, LIBRARY)
    assert check_plan(HOUSE, packages, (), walls, LIBRARY)
    assert all(layout.lay_out(HOUSE, room, packages[room], LIBRARY) is walls[room] for room in walls)
    assert len(laid_out) == faces


def test_near_and_far_are_as_the_opening_names_its_rooms_whichever_is_asked_first():
    packages = {"Parlor": HIGH, "Hall": LOW}
    turned = dict(reversed(packages.items()))
    assert meetings(HOUSE, packages, LIBRARY) == meetings(HOUSE, turned, LIBRARY)


def test_a_stair_has_its_meeting_though_its_far_end_is_on_no_wall():
    upper = replace(HALL, name="Landing", level="Upper")
    stair = Opening("Stair", "stair", "Parlor", "Landing", "N", 40.0, 42.0, 90.0)
    house = House("Two", ("Parlor",), (PARLOR, upper), (stair,))
    (found,) = meetings(house, {"Parlor": HIGH, "Landing": LOW}, LIBRARY).values()
    assert (found.near_top, found.far_top) == (90.0, 90.0)
    assert any("newel" in said for said in found.words)


def test_a_room_that_has_no_wall_for_an_opening_is_left_out():
    loose = Opening("D", "door", "Parlor", "Hall", "", None, 36.0, 84.0)
    house = House("Loose", ("Hall",), (Room("Hall", "Ground", "hall", 0.0, 0.0, 120.0), PARLOR), (loose,))
    assert meetings(house, {"Parlor": HIGH, "Hall": LOW}, LIBRARY) == {}
