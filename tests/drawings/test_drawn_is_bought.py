"""What is drawn is what is bought: the wood that a section shows has the area of the pieces bought for it, to 1 %."""

import pytest

from planner import demo_house, plan, read_house, read_stock
from planner.drawings.scene import Path, flat
from planner.drawings.section import element_section
from planner.house.model import OUTSIDE, Opening
from planner.mouldings import curves
from planner.mouldings.outlines import area
from planner.mouldings.timber import wood
from planner.stock.choice import choose
from planner.trim.panelling import panel_edges
from planner.trim.sections import PANELLED, sections
from planner.walls.layout import lay_out
from planner.walls.parts import PANELS, Part
from planner.walls.pieces import MADE_UP, pieces
from tests.known import LIBRARY, STYLES, package
from tests.walls.rooms import PARLOR, alone

CEILINGS = (96.0, 108.0, 120.0, 144.0)
BACKING = LIBRARY.joinery.backing
STOCK = read_stock(demo_house())
HOUSE = read_house(demo_house())[0]


def drawn(element, placed):
    """Area of the wood in the drawn section [sq in], measured on its shapes."""
    shapes = flat(element_section(element, placed).shapes)
    return sum(curves.area(s.segments) for s in shapes if isinstance(s, Path) and s.fill == "wood" and s.layer == "cut")


def bought(whole, element):
    """Area of what is bought for it [sq in]: the profiles of its assembly as they are cut, boxed and sprung as they are
    made, and the boards and panels of its frame."""
    if element.element in PANELLED:
        return frame_area(whole, element)
    made = element.assembly.pieces if element.assembly is not None else ()
    return sum(area(p.profile) if p.turned else wood(p.profile, BACKING) for p in made)


def frame_area(whole, element):
    """Two rails, a panel with its tongues, two moulds; or boards from floor to cap and a batten."""
    row = LIBRARY.panelling(element.element, element.form)
    mould = 2 * area(element.assembly.pieces[0].profile)
    if row is None:
        batten = element.assembly.thickness if element.form == "boards and battens" else 0.0
        return element.size * (element.thickness + batten)
    low, high = panel_edges(whole, element, LIBRARY) if row.framed else (0.0, element.size)
    rails = (low + element.size - high) * element.thickness if row.framed else 0.0
    if not row.panel:
        return mould
    margin = row.groove + element.assembly.pieces[0].profile.height
    height = high - low + 2 * row.groove
    field = height - 2 * (margin + row.bevel)
    if not row.field or field <= 0:
        return rails + mould + height * row.panel
    face = row.panel + row.field
    slope = row.bevel * (row.panel + face - 1 / 16) / 2
    return rails + mould + 2 * margin * row.panel + 2 * slope + field * face


@pytest.mark.parametrize("ceiling", CEILINGS)
@pytest.mark.parametrize("style", STYLES)
def test_the_section_of_every_element_has_the_area_of_what_is_bought_for_it(style, ceiling):
    targets = tuple(package(style, "doric", tier, ceiling, top=5) for tier in range(1, 6))
    compared = 0
    for whole in choose(targets, STOCK, LIBRARY).packages:
        shown = sections(whole, LIBRARY)
        for element in whole.elements:
            if element.assembly is not None and element.element in shown:
                asked = bought(whole, element)
                assert drawn(element, shown[element.element]) == pytest.approx(asked, rel=0.01), (whole.label, element)
                compared += 1
    assert compared > 20


@pytest.mark.parametrize("stock", [None, STOCK], ids=["targets", "stock"])
def test_the_frames_of_the_demo_are_bought_as_large_as_they_are_drawn(stock):
    """A room's bottom rail, panel and top rail by their pieces, all of one thickness, against the section's."""
    planned = plan(HOUSE, None, stock) if stock else plan(HOUSE)
    seen = 0
    for room in planned.rooms:
        element = room.package.element("wainscot")
        if element is None or not element.form.endswith("panels"):
            continue
        layouts = lay_out(HOUSE, room.room.name, room.package, LIBRARY)
        found = [p for p in pieces(layouts, LIBRARY) if p.element == "wainscot"]
        by_part = {p.part: p.profile for p in layouts[0].sections["wainscot"]}
        for part, drawn_as in ((Part.BOTTOM_RAIL, "bottom rail"), (Part.TOP_RAIL, "top rail")):
            assert max(p.width for p in found if p.part is part) == pytest.approx(by_part[drawn_as].height, rel=0.01)
        assert max(p.length for p in found if p.part in PANELS) == pytest.approx(by_part["panel"].height, rel=0.01)
        seen += 1
    assert seen


@pytest.mark.parametrize("ceiling", CEILINGS)
@pytest.mark.parametrize("style", STYLES)
def test_a_mantel_is_made_of_as_much_wood_as_its_section_shows(style, ceiling):
    """Boards of a mantel are bought as wide and as thick as they are drawn; a moulding is run of the least board."""
    hearth = Opening("F", "fireplace", "Parlor", OUTSIDE, "N", 80.0, 40.0, 32.0)
    for tier in range(1, 6):
        whole = package(style, "doric", tier, ceiling, top=5)
        element = whole.element("mantel")
        found = pieces(lay_out(alone(PARLOR, hearth), "Parlor", whole, LIBRARY), LIBRARY)
        made = [p for p in found if p.part in MADE_UP]
        timbers = [t for p in sections(whole, LIBRARY)["mantel"] for t in p.timber]
        assert len(made) == len(timbers) > 0
        assert sum(p.place.y1 - p.place.y0 for p in made) == pytest.approx(element.size)
        worked = 0.0
        for piece, timber in zip(made, timbers, strict=True):
            stuff, wood_ = piece.width * piece.depth, curves.area(timber.outline)
            is_board = len(timber.outline) == 4
            assert wood_ == pytest.approx(stuff, rel=0.01) if is_board else 0.4 * stuff < wood_ <= stuff * 1.01
            worked += wood_
        assert drawn(element, sections(whole, LIBRARY)["mantel"]) == pytest.approx(worked, rel=0.01)
