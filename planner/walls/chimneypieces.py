"""What stands round a firebox: surround, frieze, shelf, and the panel above it. All lengths are inches."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from msgspec import structs

from planner.library import Library
from planner.library.shop_rows import Chimneypiece, MantelForm
from planner.trim.packages import Element, Package
from planner.trim.spans import built_within
from planner.walls import casings, crossettes
from planner.walls.casings import Frame
from planner.walls.parts import Part, Side
from planner.walls.solids import Solid, polygon


def chimneypiece(
    frame: Frame, joint: Literal["mitred", "butted", "blocked corners"], package: Package, library: Library
) -> tuple[Solid, ...]:
    """What stands round a firebox and above it.

    Parameters
    ----------
    frame : the room's casing round the masonry slips, from the floor up.
    joint : how the period joins legs and head where the mantel does not say.
    package : the room's trim; without a mantel the casing stands alone.
    library : what the trade knows.

    Returns
    -------
    Solids, symmetric about the hearth's axis: plinths, surround, what stands on it up to the shelf, and the panel on
    the chimney breast.
    """
    mantel, overmantel = package.element("mantel"), package.element("overmantel")
    form = library.mantel(mantel.form) if mantel is not None else None
    foot: tuple[Solid, ...] = ()
    if mantel is not None and form is not None and form.plinths:
        frame, foot = _plinths(frame, package, library.surrounds.chimneypiece)
    round_it, top, kick = _surround(frame, joint, form, package, library)
    solids = foot + round_it
    ends = (frame.x0 - frame.width - kick, frame.x1 + frame.width + kick)
    if mantel is not None and form is not None:
        solids += tuple(_upon(mantel, form, frame, ends, top, library))
    if overmantel is not None:
        up = max(s.y1 for s in solids)
        solids += tuple(_overmantel(overmantel, package, (ends[0] + kick, ends[1] - kick), up, library, frame.opening))
    return solids


def height_above(package: Package) -> float:
    """How high what stands on the surround of a firebox is [in], the shelf included."""
    mantel = package.element("mantel")
    return mantel.size if mantel is not None else 0.0


def surround_height(casing: Element, package: Package, library: Library) -> float:
    """How high the head of a surround stands above the masonry slips [in]; pilasters carry no head of their own."""
    mantel = package.element("mantel")
    form = library.mantel(mantel.form) if mantel is not None else None
    return 0.0 if form is not None and form.surround == "pilasters" else casing.size


def _plinths(frame: Frame, package: Package, rule: Chimneypiece) -> tuple[Frame, tuple[Solid, ...]]:
    """The frame as it stands on plinths as high as the room's base, and they."""
    base = package.element("base")
    high = min(base.size if base is not None else rule.plinth, (frame.y1 - frame.y0) / 3)
    out = frame.width + rule.plinth_proud
    outline = casings.box(frame.x0 - out, frame.x0, frame.y0, frame.y0 + high)
    stands = max(frame.face, frame.band_face) + rule.plinth_proud
    blocks = casings.pair(frame, Part.PLINTH, "mantel", outline)
    return replace(frame, y0=frame.y0 + high), tuple(b._replace(projection=stands, outline=()) for b in blocks)


def _surround(
    frame: Frame,
    joint: Literal["mitred", "butted", "blocked corners"],
    form: MantelForm | None,
    package: Package,
    library: Library,
) -> tuple[tuple[Solid, ...], float, float]:
    """What goes round the slips, its upper edge above the floor and how far its ears stand out [in]."""
    casing = package.element("casing")
    thickness = casing.ground + casing.thickness if casing is not None else frame.face
    manner = form.surround if form is not None and form.surround != "casing" else joint
    bare = replace(frame, band=0.0, face=max(frame.face, frame.band_face))
    match manner:
        case "pilasters":
            flat = replace(bare, face=min(bare.face, frame.face, thickness))
            return tuple(_pilasters(flat, library.surrounds.chimneypiece)), frame.y1, 0.0
        case "butted":
            head = structs.replace(library.surrounds.butted_head, higher=0.0, past=0.0)
            return casings.butted(bare, head), frame.top, 0.0
        case "blocked corners":
            over = package.element("overdoor")
            decorated = over is not None and not over.parts and bool(over.enrichments)
            return casings.blocked_corners(bare, frame.width, "mantel", decorated), frame.top, 0.0
        case "eared":
            eared = _eared(frame, thickness, package, library)
            if eared is not None:
                return crossettes.eared(eared), frame.top, eared.kick
    return casings.plain(frame), frame.top, 0.0


def _eared(frame: Frame, thickness: float, package: Package, library: Library) -> Frame | None:
    """The frame with ears, of which only the outer moulding breaks; None where it is too low for them."""
    rule, ears = library.surrounds.crossette, package.element("crossette")
    outer = crossettes.outer_moulding(frame, thickness, rule)
    drop = library.surrounds.chimneypiece.ear_drop * frame.width
    if not 2 * outer.mitred < drop < frame.top - frame.y0:
        return None
    return replace(outer, kick=crossettes.kick(ears.size if ears is not None else rule.kick_least, rule), drop=drop)


def _pilasters(frame: Frame, rule: Chimneypiece) -> Iterator[Solid]:
    """Pilasters beside the slips under their capitals; what they carry lies on them."""
    capital = min(rule.capital * frame.width, (frame.y1 - frame.y0) / 3)
    shaft = casings.box(frame.x0 - frame.width, frame.x0, frame.y0, frame.y1 - capital)
    for s in casings.pair(frame, Part.PILASTER, "mantel", shaft):
        yield s._replace(projection=frame.face, outline=())
    out = casings.box(frame.x0 - frame.width - rule.plinth_proud, frame.x0, frame.y1 - capital, frame.y1)
    for s in casings.pair(frame, Part.CAPITAL, "mantel", out):
        yield s._replace(projection=frame.face + rule.plinth_proud, outline=())


def _upon(
    mantel: Element, form: MantelForm, frame: Frame, ends: tuple[float, float], bottom: float, library: Library
) -> Iterator[Solid]:
    """What stands on the surround, from the bottom up: architrave, frieze, bed mould or brackets, and the shelf."""
    rule, y, last = library.surrounds.chimneypiece, bottom, len(mantel.parts) - 1
    for i, (part, height) in enumerate(mantel.parts):
        out = rule.shelf_overhang if i == last else min(height, rule.shelf_overhang) / 2 if part == "bed mould" else 0.0
        stands = mantel.projection if i == last else mantel.ground + mantel.thickness + 2 * out
        named = Part.MANTEL_SHELF if i == last else Part.MANTEL
        called = "" if i == last else part
        solid = Solid(named, "mantel", ends[0] - out, ends[1] + out, y, y + height, stands, opening=frame.opening)
        yield solid._replace(form=called)
        if form.brackets and i != last:
            yield from _brackets(frame, solid, mantel.projection, rule)
        y += height


def _brackets(frame: Frame, board: Solid, shelf: float, rule: Chimneypiece) -> Iterator[Solid]:
    """Brackets on the board under a shelf, over the legs, and one on the axis of a wide hearth."""
    at = [(frame.x0 - frame.width / 2, Side.LEFT), (frame.x1 + frame.width / 2, Side.RIGHT)]
    if frame.x1 - frame.x0 > rule.bracket_apart:
        at.append(((frame.x0 + frame.x1) / 2, Side.NONE))
    for x, side in at:
        x0, x1 = x - rule.bracket / 2, x + rule.bracket / 2
        stands = shelf * rule.bracket_reach
        yield Solid(
            Part.BRACKET, "mantel", x0, x1, board.y0, board.y1, stands, side, on="mantel", opening=frame.opening
        )


def _overmantel(
    element: Element, package: Package, ends: tuple[float, float], shelf: float, library: Library, opening: str
) -> Iterator[Solid]:
    """One panel in its frame on the chimney breast, on the hearth's axis, between the shelf and what is above."""
    rule, (x0, x1), w = library.surrounds.chimneypiece, ends, element.size
    limits = [e.bottom for e in package.elements if e.element in ("crown", "picture rail") and e.bottom]
    above = min(limits, default=package.ceiling)
    y0 = shelf + rule.margin
    y1 = y0 + built_within(above - rule.margin - y0, package.unit)
    if y1 - y0 - 2 * w < rule.least_panel or x1 - x0 - 2 * w < rule.least_panel:
        return
    inner = (x0 + w, x1 - w, y0 + w, y1 - w)
    left = ((x0, y0), (inner[0], inner[2]), (inner[0], inner[3]), (x0, y1))
    over = ((x0, y1), (inner[0], inner[3]), (inner[1], inner[3]), (x1, y1))
    mirrored = tuple((x0 + x1 - x, y) for x, y in reversed(left))
    under = tuple((x, y0 + y1 - y) for x, y in reversed(over))
    for side, outline in ((Side.LEFT, left), (Side.RIGHT, mirrored), (Side.NONE, over), (Side.NONE, under)):
        yield polygon(Part.OVERMANTEL_FRAME, "overmantel", outline, element.projection, side, opening)
    yield Solid(Part.OVERMANTEL_PANEL, "overmantel", *inner, element.thickness, form=element.form, opening=opening)
