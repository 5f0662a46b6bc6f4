"""Every kind of drawing can be read on paper and on screens: type, scale, and words clear of lines."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from shapely import STRtree
from shapely.geometry import LineString, Polygon

from planner import Intent, demo_house, plan, read_house, read_stock
from planner.drawings.cell import cell
from planner.drawings.dxf import CAPITALS, document
from planner.drawings.elevation import elevation
from planner.drawings.ladder import ladder, ladder_scale
from planner.drawings.page import room_sheet, sheets_for
from planner.drawings.scale import scales
from planner.drawings.scene import Dimension, Path, Text, flat, parts, text_box
from planner.drawings.section import package_sections, profile_section
from planner.drawings.strip import strip
from planner.drawings.svg import MARGIN, svg
from planner.look import theme
from planner.look.paint import colour, ink
from planner.mouldings.curves import Line, points
from tests.known import package
from tests.walls.trim import profiles

SVG = "{http://www.w3.org/2000/svg}"
SCREEN, PRINT = 10.0, 7.0
"""Least type on a screen [px] and on paper [pt]."""

PAGES = (1190, 342)
"""Widths of a page on a desk and on a phone [px]."""


@pytest.fixture(scope="module")
def planned():
    house, _ = read_house(demo_house())
    return plan(house, Intent(), read_stock(demo_house(), house.unit))


def sheets(planned):
    for walls in planned.walls.values():
        yield room_sheet(walls)
        yield from (sheet for page in PAGES for sheet in sheets_for(walls, page))


def strips(planned):
    return [strip(planned.walls, route.rooms, page) for route in planned.routes for page in PAGES]


def ladders():
    """Ladders of 3 to 7 tiers, at every scale and for both pages."""
    for tiers in range(3, 8):
        packages = [package("georgian", "doric", tier, 120.0, top=tiers, tiers=tiers) for tier in range(1, tiers + 1)]
        drawn = {p: profiles(p) for p in packages}
        yield from (ladder(packages, drawn, scale=scale) for scale in scales("ladders", "in"))
        yield from (ladder(packages, drawn, scale=ladder_scale([packages], drawn, page)) for page in PAGES)


def sections(planned):
    for each in planned.packages:
        yield from package_sections(each, planned.sections[each], planned.library)
    yield from (profile_section(profile) for profile in planned.stock.profiles[:20])


def every(planned):
    first = next(iter(planned.walls.values()))[0]
    yield from (elevation(first, scale=scale) for scale in scales("walls", "in"))
    for kind in (sheets(planned), strips(planned), ladders(), sections(planned)):
        yield from kind


@pytest.fixture(scope="module")
def written(planned):
    """Every drawing, and the SVG that it is written as."""
    return [(scene, ElementTree.fromstring(svg(scene))) for scene in every(planned)]


def test_no_type_is_too_small_on_a_screen_or_on_paper(planned, written):
    for scene, root in written:
        sizes = [float(t.get("font-size")) for t in root.iter(f"{SVG}text")]
        assert min(sizes) >= SCREEN, scene.title
        assert min(sizes) * 72 / 96 >= PRINT
    heights = [
        t.dxf.height / CAPITALS for t in document(room_sheet(planned.walls["Library"])).modelspace().query("TEXT")
    ]
    assert min(heights) / 24 * 72 >= PRINT


def test_every_drawing_states_its_scale_and_the_page_that_it_is_true_on(written):
    for scene, root in written:
        words = " ".join(s.text for s in scene.shapes if isinstance(s, Text))
        paper, foot = re.search(
            r"(full size|half size|(?:[\d/ ]+) in = 1 ft) \(1 : (\d+)\) when printed", words
        ).groups()
        assert scene.scale == pytest.approx(96 / float(foot))
        named = {"full size": 12.0, "half size": 6.0}
        inches = named.get(paper) or sum(map(fraction, paper.removesuffix(" in = 1 ft").split()[-2:]))
        assert inches / 12 == pytest.approx(1 / float(foot))
        printed = re.search(r'when printed ([\d/ ]+)" wide', words)[1]
        width = float(root.get("width"))
        assert sum(map(fraction, printed.split())) == pytest.approx(width / 96, abs=1 / 16), scene.title


def fraction(text):
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom or 1)


def in_unit(wall, unit):
    """A wall as it stands in a house of another unit."""
    return replace(wall, package=replace(wall.package, unit=unit))


@pytest.mark.parametrize(("unit", "named"), [("in", "ft"), ("mm", "mm")])
def test_a_scale_bar_is_as_long_as_it_says(planned, unit, named):
    scene = room_sheet([in_unit(wall, unit) for wall in planned.walls["Library"]])
    bar = [s for s in scene.shapes if isinstance(s, Path) and s.fill and s.layer == "edge"][-2:]
    figures = [s for s in scene.shapes if isinstance(s, Text) and re.fullmatch(r"[\d.]+", s.text)]
    assert [s.text for s in scene.shapes if isinstance(s, Text)][-2] == named
    long = max(s.box.x1 for s in bar) - min(s.box.x0 for s in bar)
    assert long == pytest.approx(float(figures[-1].text) * (12 if unit == "in" else 1 / 25.4))
    assert {s.fill for s in bar} == {"dark", "paper"}


def test_drawings_side_by_side_share_one_scale(planned):
    under = [[p for p in planned.packages if p.ceiling == ceiling] for ceiling in (120.0, 108.0)]
    for page in PAGES:
        scale = ladder_scale(under, planned.sections, page)
        widths = [ladder(packages, planned.sections, scale=scale).bounds() for packages in under]
        assert scale == scales("ladders", "in")[-1] or all(
            (right - left) * scale.pixels <= page for left, _, right, _ in widths
        )
    for each in planned.packages:
        shown = package_sections(each, planned.sections[each], planned.library)
        assert len({scene.scale for scene in shown}) == 1


def test_a_sheet_is_no_wider_than_its_page_where_a_scale_allows_it(planned):
    for walls in planned.walls.values():
        for scene in sheets_for(walls, PAGES[0]):
            left, _, right, _ = scene.bounds()
            wide = (right - left) * scene.scale + 2 * MARGIN
            assert wide <= PAGES[0] or scene.scale == scales("walls", "in")[-1].pixels


def touching(scene):
    """Lines of text that a line runs through, but for what lies hidden under a patch that was drawn over the line."""
    lines, fills, texts = [], [], []
    shapes = [s for shape in flat(scene.shapes) for s in (parts(shape) if isinstance(shape, Dimension) else [shape])]
    for n, shape in enumerate(shapes):
        if isinstance(shape, Text):
            texts.append((n, shape))
            continue
        if shape.line:
            tracks = ([*s] if isinstance(s, Line) else points([s]) for s in shape.sides)
            lines += [(n, LineString(track)) for track in tracks if track[0] != track[-1] or len(track) > 2]
        if shape.fill:
            fills += [(n, figure) for figure in _filled(shape)]
    tree, over = STRtree([line for _, line in lines]), STRtree([patch for _, patch in fills])
    for _, text in texts:
        box = Polygon(text_box(text).corners)
        patches = [fills[at] for at in over.query(box)]
        for n, line in (lines[at] for at in tree.query(box, predicate="intersects")):
            seen = line.intersection(box)
            for m, patch in patches:
                if m > n:
                    seen = seen.difference(patch)
            if seen.length > 0.02 * text.size:
                yield text.text, line.wkt


def _filled(shape):
    """The outlines that a path fills."""
    run = []
    for s in shape.sides:
        if run and abs(run[-1][0] - s.start[0]) + abs(run[-1][1] - s.start[1]) > 1e-6:
            yield Polygon(run)
            run = []
        run += points([s]) if run == [] else points([s])[1:]
    if len(run) > 2:
        yield Polygon(run)


def test_names_are_clear_of_what_they_name(planned):
    for scene in (*strips(planned), *ladders()):
        assert not list(touching(scene)), scene.title
    for room in ("Library", "Drawing Room", "Kitchen", "Principal Bedroom"):
        for page in PAGES:
            for sheet in sheets_for(planned.walls[room], page):
                assert not list(touching(sheet)), (sheet.title, page)


@pytest.mark.parametrize("dark", [False, True])
def test_ink_can_be_read_on_paper_and_on_every_shade(dark):
    """W3C, WCAG 2.1 (from memory): text at least 4.5 : 1 (1.4.3), lines that carry meaning at least 3 : 1 (1.4.11)."""
    paper = theme.palette(dark).paper
    for layer in ("text", "dimension"):
        assert theme.contrast(ink(layer, dark), paper) >= 4.5
        assert theme.contrast(ink(layer, dark), colour("wall", dark)) >= 4.5
    for layer in ("cut", "profile", "edge", "fine", "dimension"):
        for fill in ("paper", "wood", "wall", "light", "mid", "dark"):
            assert theme.contrast(ink(layer, dark), colour(fill, dark)) >= 3, (layer, fill)


def test_a_cell_has_the_scale_of_its_table(planned):
    drawn = planned.sections[planned.packages[0]]
    scenes = [cell(name, "", drawn[name], scales("cells", "in")[0]) for name in ("crown", "base")]
    assert {scene.scale for scene in scenes} == {8.0}
