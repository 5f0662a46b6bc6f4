import re
from dataclasses import replace
from itertools import chain, pairwise
from time import process_time

import pytest
from shapely import Point, Polygon

from planner import plan, read_house
from planner.deliverables.papers import SIZES
from planner.deliverables.sheets.detail_sheets import detail_sheets
from planner.deliverables.sheets.drawing_set import drawing_set, sheets_of
from planner.deliverables.sheets.elevation_sheets import MOST, elevations
from planner.deliverables.sheets.frame import frame_of
from planner.deliverables.sheets.full_size import full_size_sheets
from planner.deliverables.sheets.package_sheets import cuts, package_sheets
from planner.deliverables.sheets.sheet import Caption, Drawn, Sheet, Table, Words
from planner.deliverables.sheets.walls import drawn_walls, plain_walls
from planner.stock.beginning import new_house
from planner.units import format_length
from tests.drawn import DAY, LONG, MARKS, demo, frame, hostile, set_of, sheets, solid, stamp, texts
from tests.laid_out_houses import laid_out_house
from tests.sheet_boxes import cut_off, overlapping

STRIP = re.compile(r"page (\d+) of (\d+)")


def blank(folder, unit):
    new_house(folder / "house", None, unit)
    return plan(read_house(folder / "house")[0])


def said(sheet: Sheet) -> list[str]:
    """Every line of text on a sheet."""
    found = []
    for item in sheet.items:
        if isinstance(item, Words):
            found += item.lines
        elif isinstance(item, Caption):
            found += [*item.title, *item.said]
        elif isinstance(item, Table):
            found += [cell for row in (item.head, *item.rows) for cell in row]
    return found


PLANS = {
    "demo": lambda _: demo(),
    "formal": lambda _: demo("formal"),
    "metric": lambda _: demo(unit="mm"),
    "hostile": lambda _: hostile(),
    "blank": lambda folder: blank(folder, "in"),
    "blank metric": lambda folder: blank(folder, "mm"),
} | {f"random {seed}": lambda _, seed=seed: plan(laid_out_house(14, seed, 1 + seed % 3)) for seed in range(6)}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", PLANS)
def test_nothing_overlaps_and_nothing_is_cut_off(name, size, tmp_path):
    planned = PLANS[name](tmp_path)
    for sheet in (*sheets_of(planned, stamp(planned), frame(size)), *full_size_sheets(planned, frame(size))):
        assert cut_off(sheet, frame(size)) == [], sheet.title
        assert overlapping(sheet) == [], sheet.title
        assert sheet.items


@pytest.mark.parametrize(("alternative", "size"), [("", "ANSI B"), ("formal", "A3")])
def test_the_index_agrees_with_the_sheets(alternative, size):
    planned = demo(alternative)
    read = texts(set_of(planned, size))
    of_set = sheets(planned, size)
    assert len(read) == len(of_set)
    index = "\n".join(text for text in read if "Index of sheets" in text)
    for page, (sheet, text) in enumerate(zip(of_set, read, strict=True), 1):
        assert STRIP.search(text).groups() == (str(page), str(len(of_set)))
        assert sheet.number in text.split()
        assert solid(sheet.title)[:40] in solid(text)
        assert re.search(rf"(?<!\S){sheet.number} .*?(?<!\d){page}(?!\S)", index), (
            f"{sheet.number} is not on page {page}"
        )
    assert len({sheet.number for sheet in of_set}) == len(of_set)


def test_every_sheet_carries_the_stamp():
    carried = stamp(demo())
    for text in texts(set_of(demo())):
        for words in (carried.house, carried.alternative, carried.day.isoformat(), carried.fingerprint):
            assert words in text


def test_every_wall_is_drawn_or_named():
    captions = {line for sheet in sheets(demo()) for line in said(sheet)}
    flat = " ".join(" ".join(said(sheet)) for sheet in sheets(demo()) if sheet.kind == "E")
    for room, layouts in demo().walls.items():
        drawn, plain = drawn_walls(layouts), plain_walls(layouts)
        assert len(drawn) + len(plain) == len(layouts)
        assert drawn
        for layout in drawn:
            assert f"{room}, wall {layout.wall}" in captions
        for layout in plain:
            assert not layout.apertures and not layout.obstacles and not layout.stairs
            assert re.search(rf"{re.escape(room)}: plain, and not drawn: [^.]*\b{layout.wall} \(", flat)


@pytest.mark.parametrize("paper", ["ANSI B", "A3"])
def test_a_house_in_millimetres_is_drawn_at_one_to_25_on_either_paper(paper):
    assert elevations(demo("", "mm"), frame_of(SIZES[paper])).scale.ratio == 25


POINTS = {"north": (0, 1), "east": (1, 0), "south": (0, -1), "west": (-1, 0)}


def test_a_wall_that_is_known_by_a_number_is_told_by_the_compass_too():
    """A little way out of the wall, to the side that is told, is out of the room, and as far in is within it."""
    told = {i.title[0]: " ".join(i.said) for sheet in sheets(demo()) for i in sheet.items if isinstance(i, Caption)}
    seen = set()
    for room in (r for r in demo().house.rooms if not r.is_rectangular):
        for wall in room.walls:
            said = told.get(f"{room.name}, wall {wall.name}")
            if said is None:
                continue  # plain, and not drawn
            side = re.search(r" on the ([a-z-]+)$", said)[1]
            dx, dy = (sum(POINTS[point][n] for point in side.split("-")) for n in (0, 1))
            x, y = (wall.left[0] + wall.right[0]) / 2, (wall.left[1] + wall.right[1]) / 2
            within = Polygon(room.outline)
            assert within.contains(Point(x - dx, y - dy)) and not within.contains(Point(x + dx, y + dy)), said
            seen.add(side)
    assert {"north-east", "north-west", *POINTS} <= seen


def test_a_key_says_where_a_flight_starts_and_what_a_handrail_is_measured_from():
    lines = [line for sheet in sheets(demo()) if sheet.kind == "E" for line in said(sheet)]
    keyed = " ".join(lines)
    for flight in demo().house.flights:
        starts = f"{flight.name}: first riser {format_length(flight.offset, 'in')} from the left end"
        landing = f" from a landing {format_length(flight.foot, 'in')} up" if flight.foot else ""
        assert f"{starts}, up to the {flight.up}{landing}, {flight.risers} risers of " in keyed, flight
    rails = [f for f in demo().house.fixtures if f.kind == "handrail"]
    for rail in rails:
        assert re.search(rf"{rail.name}: [^:]* to {format_length(rail.top, 'in')} above the nosings", keyed), rail
    assert rails and {flight.foot > 0 for flight in demo().house.flights} == {True, False}


@pytest.mark.parametrize(("alternative", "unit"), [("", "in"), ("formal", "mm")])
def test_no_measure_is_broken_and_no_entry_of_a_key_is_parted(alternative, unit):
    planned, entries = demo(alternative, unit), 0
    for sheet in sheets(planned, "ANSI B" if unit == "in" else "A3"):
        blocks = [i.lines if isinstance(i, Words) else i.said for i in sheet.items if isinstance(i, Words | Caption)]
        for one, other in chain.from_iterable(map(pairwise, blocks)):
            assert not (re.search(r"\d$", one) and re.match(r"\d+/\d|mm\b", other)), (sheet.title, one, other)
        if sheet.number.startswith("E"):
            columns = [i.lines for i in sheet.items if isinstance(i, Words) and i.type == "small" and not i.bold][:3]
            entries += len(columns)
            for lines in columns:
                assert re.match(r"[A-Z]{1,2}\u2003", lines[0]) or re.match(r"\S.*:", lines[0]), (sheet.title, lines)
    assert entries > 100


def test_rooms_on_one_sheet_are_told_apart_in_its_key_where_their_trim_is_not_the_same():
    (sheet,) = (s for s in sheets(demo()) if s.title == "Elevations: Library W, Coat Closet E")
    bases = [line for line in said(sheet) if line.startswith("base: ")]
    assert [line[line.index("(") :] for line in bases] == ["(Library)", "(Coat Closet)"]
    assert [line for line in said(sheet) if line.startswith("crown: ") and "(" in line] == []


def test_every_package_has_a_schedule_and_all_sections_that_its_rooms_meet():
    for package in demo("formal").packages:
        found = [s for s in package_sheets(demo("formal"), frame()) if s.title.startswith(f"Package: {package.label}")]
        rows = [row for sheet in found for item in sheet.items if isinstance(item, Table) for row in item.rows]
        rooms = [room.room.name for room in demo("formal").rooms if room.package == package]
        kinds = {a.kind for room in rooms for wall in demo("formal").walls[room] for a in wall.apertures}
        stands = {s.element for room in rooms for wall in demo("formal").walls[room] for s in wall.solids}
        no_place = set() if "window" in kinds else {"sash", "window casing"}
        no_place |= {"stool", "apron", "window head", "overdoor", "mantel", "overmantel", "crossette"} - stands
        assert [row[1].lower() for row in rows] == [e.element for e in package.elements if e.element not in no_place]
        titles = [" ".join(i.title) for sheet in found for i in sheet.items if isinstance(i, Caption)]
        assert sorted(titles) == sorted(
            f"{cut.element.element.capitalize()}: {cut.element.form}" for cut in cuts(demo("formal"), package)
        )
        on = [{i.number for i in sheet.items if isinstance(i, Caption)} for sheet in found]
        assert sorted(set().union(*on)) == list(range(1, len(cuts(demo("formal"), package)) + 1))
        assert all(max(a) < min(b) for a, b in pairwise(on)), "numbers run from sheet to sheet"
        captions = {f"{i.number}": i for sheet in found for i in sheet.items if isinstance(i, Caption)}
        for number, element, form, *_ in rows:
            assert not number or " ".join(captions.pop(number).title) == f"{element}: {form}"
        assert captions == {}, "a section that no row of the schedule names"
        assert any(title.startswith("Stool") for title in titles) == ("stool" in stands)


def test_heads_with_ears_or_overdoors_have_a_detail_that_tells_their_kick():
    found = [" ".join(said(sheet)) for sheet in detail_sheets(demo("formal"), frame())]
    assert any("kick 1 1/8" in text and "overdoor" in text for text in found)


def test_a_house_without_either_has_no_detail_of_one(tmp_path):
    assert list(detail_sheets(blank(tmp_path, "in"), frame())) == []


def test_hostile_names_come_out_as_themselves():
    read = [solid(text) for text in texts(set_of(hostile()))]
    whole = "".join(read)
    for room in hostile().house.rooms:
        if room.name != LONG:
            assert any(MARKS in text and room.name.split()[-1] in text for text in read)
    of_long = [text for text, sheet in zip(read, sheets(hostile()), strict=True) if LONG[:20] in solid(sheet.title)]
    assert of_long
    assert any(LONG in text.replace(",", "") for text in of_long)
    assert "שלום" in whole or "שלום"[::-1] in whole
    assert "مرحبا" in whole or "مرحبا"[::-1] in whole


def test_equal_plans_give_equal_bytes_and_another_day_does_not():
    planned = demo("easy")
    once = drawing_set(planned, stamp(planned), SIZES["ANSI B"])
    assert once == drawing_set(planned, stamp(planned), SIZES["ANSI B"])
    later = replace(stamp(planned), day=DAY.replace(year=2031))
    assert once != drawing_set(planned, later, SIZES["ANSI B"])


def test_a_house_of_a_room_without_openings_has_a_set(tmp_path):
    planned = blank(tmp_path, "in")
    kinds = [sheet.kind for sheet in sheets(planned)]
    assert kinds[:2] == ["T", "T"]
    assert {"P", "E", "S"} <= set(kinds)
    assert len(texts(drawing_set(planned, stamp(planned), SIZES["ANSI B"]))) == len(kinds)


def test_a_house_of_300_rooms_is_bounded_and_says_what_is_left_out():
    planned = plan(laid_out_house(300, 1, 3))
    began = process_time()
    found = elevations(planned, frame())
    assert process_time() - began < 30
    assert 0 < len(found.sheets) <= MOST
    assert found.scale.ratio <= 48
    assert found.left_out
    shown = set(planned.by_name) - set(found.left_out)
    tier = {room: told.tier for room, told in planned.by_name.items()}
    assert max(tier[room] for room in found.left_out) <= min(tier[room] for room in shown)
    first = sheets_of(planned, stamp(planned), frame())[0]
    assert "not, or not all, in this set" in " ".join(said(first)).replace("\n", " ")


def test_elevations_are_at_half_an_inch_to_the_foot_and_one_to_twenty_five():
    assert {s.scale for s in sheets(demo()) if s.kind == "E"} == {"1/2 in = 1 ft (1 : 24)"}
    assert {s.scale for s in sheets(demo(unit="mm"), "A3") if s.kind == "E"} == {"1 : 25"}


def test_each_figure_of_a_sheet_is_numbered_once():
    for sheet in sheets(demo("formal")):
        if sheet.kind == "E":
            marks = [item.number for item in sheet.items if isinstance(item, Caption)]
            assert marks == list(range(1, len(marks) + 1))
            assert sum(isinstance(item, Drawn) for item in sheet.items) == len(marks) + 1  # and the scale bar
