"""What a house gets, on paper: every element of every room that has a place for it, and no other."""

import re
from collections import defaultdict
from dataclasses import replace

import pytest

from planner import Change, Intent, Scope, TrimRule, plan
from planner.deliverables import trim_tables
from planner.deliverables.sheets.frame import frame_of
from planner.deliverables.sheets.package_sheets import package_sheets
from planner.deliverables.sheets.sheet import Table
from planner.units import INCHES_IN, format_length, format_size
from planner.walls.openings import casing_of
from planner.walls.parts import Part
from planner.walls.piece import Piece
from tests.deliverables.papers_of import SIZE, demo, hostile
from tests.drawn import demo as drawn


def rows(table):
    return table.frame.to_dict("records")


@pytest.mark.parametrize("plan_of", [demo, hostile], ids=["demo", "hostile"])
def test_a_room_has_on_paper_what_hangs_on_its_walls(plan_of):
    made = plan_of()
    told = {(row["Room"], row["Element"]) for row in rows(trim_tables.by_room(made)) if not row["Opening"]}
    for room, pieces in made.pieces.items():
        for piece in pieces:
            for element in elements_of(made, room, piece):
                assert (room, element) in told, piece
    assert ("Entry Hall", "mantel") not in told
    if plan_of is demo:
        assert ("Dining Room", "mantel") in told and ("Dining Room", "sash") in told
        assert ("Entry Hall", "window casing") in told
        assert ("Coat Closet", "window casing") not in told and ("Coat Closet", "sash") not in told


@pytest.mark.parametrize("plan_of", [demo, hostile], ids=["demo", "hostile"])
def test_a_tier_has_on_paper_what_its_package_sheets_have(plan_of):
    """And no mantel where none of its rooms has a fireplace, which would be priced by whoever reads it."""
    made, told = plan_of(), defaultdict(list)
    for row in rows(trim_tables.by_tier(made)):
        told[row["Package"]].append((row["Element"].capitalize(), row["Form"]))
    drawn = defaultdict(list)
    for sheet in package_sheets(made, frame_of(SIZE)):
        label = re.sub(r"Package: |, \d+ of \d+$", "", sheet.title)
        drawn[label] += [row[1:3] for item in sheet.items if isinstance(item, Table) for row in item.rows]
    assert told == drawn
    without = [
        p.label for p in made.packages if p.element("mantel") and not any(e == "Mantel" for e, _ in told[p.label])
    ]
    assert without or plan_of is demo


def elements_of(made, room: str, piece: Piece):
    """The element of the package that a piece is of, none where the room's own package has none of it."""
    package = made.package_of[room]
    kinds = {o.name: o.kind for o in made.house.openings}
    kind = kinds.get(piece.place.opening, "")
    element = casing_of(kind, package) if piece.element == "casing" and kind else package.element(piece.element)
    return [element.element] if element is not None else []


def test_sizes_are_those_of_the_package_in_the_unit_of_the_house():
    made = demo()
    for row in rows(trim_tables.by_room(made)):
        element = made.standing[made.package_of[row["Room"]]].at(row["Opening"]).element(row["Element"])
        assert row["Size [in]"] == pytest.approx(element.size, abs=1 / 32) and row["Form"] == element.form
    for row in rows(trim_tables.by_room(hostile())):
        element = hostile().standing[hostile().package_of[row["Room"]]].element(row["Element"])
        assert row["Size [mm]"] == pytest.approx(element.size * 25.4, abs=0.5)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_size_by_tier_is_what_the_sections_of_the_package_say(unit):
    """Rounded once: 5 11/16 in are 144.46 mm, and 144 on every paper."""
    made = drawn("", unit)
    by_label = {package.label: made.standing[package] for package in made.packages}
    for row in rows(trim_tables.by_tier(made)):
        element = by_label[row["Package"]].element(row["Element"])
        assert format_size(row[f"Size [{unit}]"] * INCHES_IN[unit], unit) == format_size(element.size, unit), row


RAILS = {"chair rail": Part.CHAIR_RAIL, "plate rail": Part.PLATE_RAIL, "picture rail": Part.PICTURE_RAIL}


@pytest.mark.parametrize("style", ["georgian", "victorian"])
def test_rails_are_on_paper_where_they_stand_on_the_walls(style):
    """Chair rails go with the stools of the windows, picture rails with the heads of the openings."""
    made = plan(demo().house, Intent(style=style), demo().stock)
    told = [row for row in rows(trim_tables.by_room(made)) if row["Element"] in RAILS]
    for row in told:
        walls = made.walls[row["Room"]]
        stood = {(s.y0, s.y1) for wall in walls for s in wall.solids if s.part is RAILS[row["Element"]]}
        low, high = row["Above the floor [in]"], row["Top above the floor [in]"]
        assert any((low, high) == pytest.approx(heights, abs=1 / 32) for heights in stood), row
    assert {row["Element"] for row in told} >= {"chair rail"} | ({"picture rail"} if style == "victorian" else set())
    tops = {row["Room"]: row["Top above the floor [in]"] for row in told if row["Element"] == "chair rail"}
    for row in rows(trim_tables.by_tier(made)):
        if row["Element"] in ("chair rail", "wainscot"):
            high = row["Above the floor [in]"] + row["Size [in]"]
            assert all(tops[room] == pytest.approx(high, abs=1 / 16) for room in row["Rooms"].split(", ")), row


def test_a_package_sheet_has_the_rail_where_the_story_pole_has_it():
    made = demo()
    for sheet in package_sheets(made, frame_of(SIZE)):
        for _, element, _, size, top, *_ in (r for i in sheet.items if isinstance(i, Table) for r in i.rows):
            if element in ("Chair rail", "Wainscot"):
                label = re.sub(r"Package: |, \d+ of \d+$", "", sheet.title)
                (pole,) = (pole for package, pole in made.story_poles.items() if package.label == label)
                (mark,) = (mark for mark in pole.marks if mark.name == "top of chair rail")
                assert top == format_length(mark.height, "in"), (label, element)
                assert element == "Chair rail" or size == format_size(mark.height, "in")


def test_what_an_opening_has_otherwise_is_told_beside_its_room():
    door = "Powder room door"
    rule = TrimRule("casing", Scope(openings=(door,)), Change(size=3.5))
    made = plan(demo().house, Intent(trim=(rule,)), demo().stock)
    own = [row for row in rows(trim_tables.by_room(made)) if row["Opening"]]
    assert {row["Opening"] for row in own} == {door} and {row["Element"] for row in own} >= {"casing"}
    (row,) = (row for row in rows(trim_tables.openings(made)) if row["Opening"] == door)
    assert '3 1/2"' in row["Round it, in the room"] + row["Round it, beyond"]


def test_what_a_window_has_smaller_than_a_door_is_told_as_it_stands():
    """Ears by the width of the casing, a backband as its own casing's: as the elevations and the cut list have them."""
    made, beside = demo(), {"backband": Part.LEG, "crossette": Part.EAR}
    told = {row["Opening"]: row["Round it, in the room"] for row in rows(trim_tables.openings(made))}
    smaller = set()
    for opening in made.house.openings:
        if opening.kind != "window":
            continue
        own = made.package_of[opening.room]
        for wall in made.walls[opening.room]:
            for solid in (s for s in wall.solids if s.opening == opening.name and s.part is beside.get(s.element)):
                if (element := own.element(solid.element)) is not None:
                    size = format_size(solid.width, "in")
                    assert f"{element.element}: {element.form}, {size}" in told[opening.name].split("\n")
                    smaller |= {element.element} if size != format_size(element.size, "in") else set()
    assert smaller == {"backband", "crossette"}


def test_a_tier_has_no_apron_where_every_window_stands_on_a_wainscot():
    made = demo()
    with_apron = {row["Package"] for row in rows(trim_tables.by_tier(made)) if row["Element"] == "apron"}
    hung = {s.element for wall in made.walls["Drawing Room"] for s in wall.solids}
    assert "window casing" not in hung and "casing" in hung and "apron" not in hung  # windows, and none has an apron
    assert made.package_of["Drawing Room"].element("apron") is not None
    assert with_apron and made.package_of["Drawing Room"].label not in with_apron


def test_every_framed_opening_is_told_with_what_hangs_in_it():
    made = demo()
    told = {row["Opening"]: row for row in rows(trim_tables.openings(made))}
    framed = {o.name for o in made.house.openings if o.kind not in ("open", "stair")}
    assert set(told) == framed and len(trim_tables.openings(made).frame) == len(framed)
    doors = [o for o in made.house.openings if o.kind == "door" and o.other in made.house.by_name]
    for door in doors:
        assert told[door.name]["Round it, in the room"] and told[door.name]["Round it, beyond"]
    assert told["Front door"]["Hangs in it"] == "six panels" and not told["Front door"]["Round it, beyond"]
    window = told["Entry west window"]
    assert window["Hangs in it"] == "6/6" and "window casing: two fasciae" in window["Round it, in the room"]
    assert told["Entry cased opening"]["Hangs in it"] == ""


def test_what_the_house_says_of_a_leaf_goes_before_the_period():
    house = demo().house
    said = tuple(replace(o, leaf="two panels") if o.name == "Front door" else o for o in house.openings)
    made = plan(replace(house, openings=said), demo().intent, demo().stock)
    told = {row["Opening"]: row["Hangs in it"] for row in rows(trim_tables.openings(made))}
    assert told["Front door"] == "two panels" and told["Powder room door"] == "six panels"
