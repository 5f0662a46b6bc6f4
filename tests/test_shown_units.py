"""What people read of a house is in its own unit, wherever they read it; drawn dimensions are what was measured."""

import html
import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pandas as pd
import pytest

from planner import Intent, demo_house, frames, plan, read_house, read_stock
from planner.apps import houses, pages
from planner.apps.changes import Changes, shown
from planner.apps.desk import Desk
from planner.apps.panels import checks, keeping, one_room, packages, schedule, walls
from planner.apps.typed import Typed
from planner.deliverables import tables as downloads
from planner.deliverables.all_tables import all_tables
from planner.deliverables.job_note import job_note, note_text
from planner.deliverables.papers import stamp_of
from planner.deliverables.plan_text import plan_table
from planner.drawings.dxf import document
from planner.drawings.ladder import ladder
from planner.drawings.page import room_sheet
from planner.drawings.scene import Dimension, Scene, flat
from planner.drawings.section import package_sections, profile_section
from planner.drawings.strip import strip
from planner.drawings.svg import svg
from planner.intent.trim_rules import Change, Scope, TrimRule
from planner.intent.words import difference
from planner.planning.answer import Plan
from tests.charts.reading import drawn, found
from tests.metric import INCHES, MILLIMETRES, metric

TOWN_HOUSE = Path(__file__).parent / "practice" / "houses" / "town_house"

RULES = (
    TrimRule("casing", Scope(tiers=(2, 2)), Change(size=100 / 25.4)),
    TrimRule("chair rail", Scope(tiers=(1, 5)), Change("moulded rail", height=850 / 25.4)),
    TrimRule("base", Scope(uses=("kitchen",)), Change(projection=20 / 25.4)),
    TrimRule("crown", Scope(uses=("attic",)), Change(size=90 / 25.4)),
)
"""Rules that say lengths, one of them without effect."""


def folder_of(case: str, tmp: Path) -> Path:
    source = demo_house() if "demo" in case else TOWN_HOUSE
    return (metric if "metric" in case else shutil.copytree)(source, tmp / "house")


CASES = ("demo", "metric demo", "town house", "metric town house")


@pytest.fixture(scope="module", params=CASES)
def case(request, tmp_path_factory):
    """Where a house is, and its plan under rules that say lengths, built from its stock where it has one."""
    folder = folder_of(request.param, tmp_path_factory.mktemp("units"))
    house, _ = read_house(folder)
    return folder, plan(house, Intent(trim=RULES), read_stock(folder, house.unit))


def scenes(planned: Plan) -> Iterator[Scene]:
    """Every kind of drawing of a plan: all walls, sections, ladders, walks and what is to be made."""
    yield from map(room_sheet, planned.walls.values())
    for package in planned.packages:
        yield from package_sections(package, planned.sections[package], planned.library)
    yield ladder(planned.packages, planned.sections)
    yield from (strip(planned.walls, route.rooms) for route in planned.routes)
    for profile in planned.choice.to_make if planned.choice else ():
        yield profile_section(profile, unit=planned.house.unit)


def told(planned: Plan) -> Iterator[str]:
    """What a plan and its tables say; a source says what its publication does, and is left out."""
    yield plan_table(planned)
    yield from (package.label for package in planned.packages)
    yield from (reason for room in planned.rooms for reason in room.reasons)
    for check in planned.checks:
        yield from (check.message, check.remedy)
    yield from planned.choice.shortfalls if planned.choice else ()
    yield difference(Intent(), planned.intent, planned.house.unit)
    tables = [frames.rooms(planned), frames.elements(planned).drop(columns="source"), frames.step_down([planned])]
    tables += [frames.pieces(planned, room.room.name) for room in planned.rooms]
    tables += [frames.steps([planned])]
    tables += [frames.meetings(planned, room.room.name) for room in planned.rooms]
    tables += [frames.built(planned, package) for package in planned.packages if planned.stock]
    tables += [each.drop(columns="Source", errors="ignore") for each in taken_away(planned)]
    for table in tables:
        yield from map(str, table.columns)
        yield from table.select_dtypes(exclude="number").astype(str).to_numpy().ravel()


def taken_away(planned: Plan) -> Iterator[pd.DataFrame]:
    """The tables that the apps hand out."""
    whole = (downloads.rooms, downloads.schedule, downloads.departures, downloads.packages, downloads.checks)
    yield from (table(planned) for table in whole)
    yield from (downloads.pieces(planned, room.room.name) for room in planned.rooms)
    if planned.stock:
        yield downloads.built(planned)


def charted(planned: Plan) -> Iterator[str]:
    """Every text in the specification of every chart."""
    for chart in drawn(planned, width=900).values():
        spec = chart.to_dict()
        for key in ("text", "title", "subtitle", "size", "projection", "ceiling", "length", "width"):
            yield from (said for said in found(spec, key) if isinstance(said, str))
            yield from (line for said in found(spec, key) if isinstance(said, list) for line in map(str, said))


def panels(folder: Path, planned: Plan) -> Iterator[str]:
    """What the tabs of the designer's app show and ask for, without their sources."""
    opened, desk = houses.opened(folder), Desk(folder)
    desk.replace(planned.intent)
    changes = Changes(desk, lambda _: None, lambda _: None, dict.fromkeys(shown(desk), lambda _: None))
    room, typed = planned.rooms[0].room.name, Typed()
    views = [packages.view(planned, False, 700), checks.view(planned), walls.view(planned, room, [], False, 700)]
    views += [packages.sheet(planned, package, False, folder) for package in planned.packages]
    views += [one_room.view(planned, room, {})]
    for tab in schedule.TABS:
        at = schedule.choices(tab, planned.house, room, opened.library, changes)
        forms = schedule.forms(tab, at.value, room, opened.library, changes)
        more = schedule.details(tab, at.value, room, opened, changes)
        views += [schedule.table(planned, tab, room, at, forms, False), schedule.above(planned, at, more, [])]
    fields = keeping.fields(opened, typed)
    views += [keeping.view(fields, pages.mo.ui.button(), planned.house, opened, False)]
    for view in views:
        yield from read(view.text, sources(planned))


def sources(planned: Plan) -> set[str]:
    quoted = {check.source for check in planned.checks}
    return quoted | {e.source for package in planned.packages for e in package.elements}


def read(text: str, left_out: set[str]) -> Iterator[str]:
    """What is read in HTML or SVG: texts, names and labels, but for cells that quote a source."""
    bare = re.sub(r"<style>.*?</style>", "", text, flags=re.DOTALL)
    labels = re.findall(r"""data-(?:label|placeholder|options|initial-value)='([^']*)'|aria-label="([^"]*)\"""", bare)
    said = [*re.split(r"<[^>]*>", bare), *(other for _, other in labels)]
    said += [text for one, _ in labels if one for text in strings(json.loads(html.unescape(one)))]
    plain = (html.unescape(html.unescape(piece)).strip() for piece in said)
    yield from (piece for piece in plain if piece and piece.removeprefix("From: ") not in left_out)


def strings(value: object) -> Iterator[str]:
    """Every text in what JSON says."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, list):
        for each in value:
            yield from strings(each)


def strange(planned: Plan, texts: Iterator[str]) -> list[str]:
    """Where texts say a length in a unit that is not the house's."""
    other = INCHES if planned.house.unit == "mm" else MILLIMETRES
    assert planned.house.unit in ("mm", "in", "ft")
    return [t[max(0, m.start() - 60) : m.end() + 20] for t in texts for m in other.finditer(t)]


def test_what_a_plan_says_is_in_the_houses_unit(case):
    _, planned = case
    assert strange(planned, told(planned)) == []


def on_paper(planned: Plan) -> Iterator[str]:
    """What the tables for paper and the job note say."""
    for table in all_tables(planned):
        yield from (table.title, table.says)
        frame = table.frame.drop(columns="Source", errors="ignore")
        yield from map(str, (*frame.columns, *frame.select_dtypes(exclude="number").to_numpy().ravel()))
    yield note_text(job_note(planned, stamp_of(planned, date(2030, 1, 31)), 30))


def test_what_papers_say_is_in_the_houses_unit(case):
    _, planned = case
    assert strange(planned, on_paper(planned)) == []


def test_what_is_drawn_is_in_the_houses_unit(case):
    _, planned = case
    for scene in scenes(planned):
        assert strange(planned, read(svg(scene), set())) == [], scene.title
        assert scene.unit == planned.house.unit


def test_what_is_charted_is_in_the_houses_unit(case):
    _, planned = case
    assert strange(planned, charted(planned)) == []


def test_what_the_tabs_show_and_ask_for_is_in_the_houses_unit(case):
    folder, planned = case
    assert strange(planned, panels(folder, planned)) == []


def test_what_is_looked_for_is_found():
    """The marks that no text may hold are found where they stand, and words that only look like them are not."""
    assert all(map(INCHES.search, ['4 3/4"', "9'-0\"", "5 ft", "36 in high", "5.7 sq ft", "a foot", "9′-0″"]))
    assert not any(
        map(
            INCHES.search,
            ["tier 2 in Library", "4 to 2 in three steps", "Butler's Pantry", "1 : 20", "3048 mm", "the foot of it"],
        )
    )
    assert all(map(MILLIMETRES.search, ["3048 mm", "0.53 m²", "2 m", "a metre"]))
    assert not any(map(MILLIMETRES.search, ["4 members", "Family 9'-0\"", "36%"]))


def test_every_dimension_of_a_metric_drawing_is_what_was_measured(tmp_path):
    house, _ = read_house(metric(demo_house(), tmp_path / "house"))
    planned = plan(house)
    count = 0
    for scene in scenes(planned):
        for shape in flat(scene.shapes):
            if isinstance(shape, Dimension) and shape.text:
                assert abs(int(shape.text.split(" mm")[0]) - shape.value * 25.4) <= 0.5 + 1e-6, (scene.title, shape)
                count += 1
    assert count > 200


def test_a_metric_wall_is_in_millimetres_in_cad(tmp_path):
    house, _ = read_house(metric(demo_house(), tmp_path / "house"))
    walls_of_library = plan(house).walls["Library"]
    drawing = document(room_sheet(walls_of_library))
    assert (drawing.header["$INSUNITS"], drawing.header["$MEASUREMENT"]) == (4, 1)
    measured = {round(one.get_measurement()) for one in drawing.modelspace().query("DIMENSION")}
    assert {round(wall.length * 25.4) for wall in walls_of_library} <= measured
    imperial, _ = read_house(demo_house())
    drawing = document(room_sheet(plan(imperial).walls["Library"]))
    assert (drawing.header["$INSUNITS"], drawing.header["$MEASUREMENT"]) == (1, 0)


def test_a_house_in_millimetres_has_the_plan_that_it_has_in_feet(tmp_path):
    house, _ = read_house(demo_house())
    other, remarks = read_house(metric(demo_house(), tmp_path / "house"))
    one, two = plan(house), plan(other)
    assert remarks == () and two.house.unit == "mm"
    assert {r.room.name: r.tier for r in one.rooms} == {r.room.name: r.tier for r in two.rooms}
    assert [c.rule for c in one.checks] == [c.rule for c in two.checks]
    for a, b in zip(one.packages, two.packages, strict=True):
        assert [(e.element, e.form) for e in a.elements] == [(e.element, e.form) for e in b.elements]
        assert all(abs(e.size - f.size) <= 1 / 8 + 1e-9 for e, f in zip(a.elements, b.elements, strict=True))


def test_prices_are_of_a_metre_in_a_metric_house_and_of_one_block(tmp_path):
    folder = metric(demo_house(), tmp_path / "house")
    house, _ = read_house(folder)
    planned = plan(house, stock=read_stock(folder, house.unit))
    table, blocks = downloads.built(planned), 0
    each = [frames.built(planned, package) for package in planned.packages]
    shown = pd.concat(each, ignore_index=True)
    for price, row in zip(table["Price [USD a metre]"], shown.to_dict("records"), strict=True):
        if row["element"] == "plinth block":
            blocks += 1
            assert row["price_text"] == f"{row['price']:.2f} each" and price == row["price"]
        else:
            assert row["price_text"] == f"{row['price'] / 0.3048:.2f}" and price == pytest.approx(
                row["price"] / 0.3048, abs=1e-4
            )
    assert blocks


def test_what_is_typed_without_a_unit_is_in_the_houses(tmp_path):
    folder = metric(demo_house(), tmp_path / "house")
    opened, desk = houses.opened(folder), Desk(folder)
    changes = Changes(desk, lambda _: None, lambda _: None, dict.fromkeys(shown(desk), lambda _: None))
    at = {"element": "casing", "tier": "2"}
    more = schedule.details("Schedule", at, "Library", opened, changes)
    more["size"]._update("90")
    (rule,) = desk.intent.trim
    assert rule.change.size == pytest.approx(90 / 25.4)
    assert schedule.details("Schedule", at, "Library", opened, changes)["size"].value == "90 mm"
    assert replace(rule, element="casing").words(opened.unit).endswith("90 mm")
    assert desk.save_as("Wider") and 'size = "90 mm"' in (folder / "alternatives" / "Wider.toml").read_text("utf-8")
