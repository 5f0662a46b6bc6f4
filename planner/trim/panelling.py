"""A wainscot and wall panels cut through: rails, a panel in its groove, the mouldings round it. Lengths in inches."""

from dataclasses import replace

from planner.library import Library
from planner.library.joinery_rows import Panelling
from planner.mouldings.assembly import Placed
from planner.mouldings.members import Member, Profile, profile
from planner.trim.packages import Element, Package

BOTTOM_RAIL, TOP_RAIL, PANEL, MOULD, BOARDS = "bottom rail", "top rail", "panel", "panel mould", "boards"
"""Parts of panelling."""

BATTENS = "boards and battens"
"""The form of a wainscot whose boards have battens over their joints."""

SHOULDER = 0.0625
"""How far the field of a raised panel stands before the head of its bevel [in], common practice."""


def panelled(package: Package, element: Element, library: Library) -> tuple[Placed, ...]:
    """The section of a wainscot or of wall panels through the middle of a panel, from the bottom up.

    Parameters
    ----------
    package : whose base and rail cover the foot and the head of the wainscot's frame.
    element : the wainscot or the wall panels.
    library : what the trade knows.

    Returns
    -------
    The pieces: bottom rail, lower mould, panel, upper mould, top rail, as far as its form has them; boards, and the
    batten before them, for a form of boards. The rails run on behind base and rail to the floor and to the cap.
    """
    greek = library.style(package.style).curves == "greek"
    return tuple(p if p.profile.code else _drawn(p, greek) for p in _pieces(package, element, library))


def _drawn(placed: Placed, greek: bool) -> Placed:
    """What is not of the stock, its curves in the manner of the period."""
    members = tuple(replace(m, greek=m.greek or greek) for m in placed.profile.members)
    return replace(placed, profile=replace(placed.profile, members=members))


def _pieces(package: Package, element: Element, library: Library) -> tuple[Placed, ...]:
    row = library.panelling(element.element, element.form)
    if row is None:
        return _boards(element, library)
    low, high = panel_edges(package, element, library) if row.framed else (0.0, element.size)
    least = library.surrounds.panels.least_height
    if high - low < least:
        return (_board(BOTTOM_RAIL, element.size, element.thickness, 0.0, library),) if row.framed else ()
    mould = mould_of(element, row, library)
    face = row.back + row.panel
    under = Placed(mould, face, low, MOULD)
    over = Placed(mirrored(mould), face, high - mould.height, MOULD)
    found = [under, over]
    if row.panel:
        foot, height = low - row.groove, high - low + 2 * row.groove
        found[1:1] = [Placed(panel_profile(row, height, row.groove + mould.height, library), row.back, foot, PANEL)]
    if not row.framed:
        return tuple(found)
    bottom = _board(BOTTOM_RAIL, low, element.thickness, 0.0, library)
    top = _board(TOP_RAIL, element.size - high, element.thickness, high, library)
    return (bottom, *found, top)


def as_chosen(element: Element, library: Library) -> Element:
    """A wainscot or wall panels as thick and as far off the wall as the stock chosen for them makes them."""
    row, chosen = library.panelling(element.element, element.form), element.assembly
    if chosen is None:
        return element
    if row is None:
        boards = element.thickness if element.form == BATTENS else chosen.thickness
        reach = boards + chosen.thickness if element.form == BATTENS else boards
        return replace(element, thickness=boards, projection=reach)
    face = row.back + row.panel
    own = element.thickness if row.framed else face + row.field
    return replace(element, projection=max(own, face + chosen.projection))


def panel_edges(package: Package, element: Element, library: Library) -> tuple[float, float]:
    """Top of the bottom rail and underside of the top rail of a wainscot above its foot [in]: base and rail are planted
    on these, and what shows beyond them is as the rule of panels has it."""
    rule = library.surrounds.panels
    base, rail = package.element("base"), package.element("plate rail") or package.element("chair rail")
    low = (base.size if base is not None else 0.0) + rule.bottom_rail
    return low, element.size - (rail.size if rail is not None else 0.0) - rule.top_rail


def mould_of(element: Element, row: Panelling, library: Library) -> Profile:
    """The moulding round a panel, its higher edge first, toward the frame: of the stock, where one was chosen."""
    if element.assembly is not None:
        chosen = element.assembly.pieces[0].profile
        falls = chosen.members[0].projection >= chosen.members[-1].projection
        return chosen if falls else mirrored(chosen)
    kinds = (("fillet", 0.2, 1.0), ("cyma reversa", 0.6, 0.9), ("fillet", 0.2, 0.35))
    members = [
        Member(library.moulding(kind), share * row.mould, reach * row.mould_depth) for kind, share, reach in kinds
    ]
    return profile(members, "panel mould")


def mirrored(moulding: Profile) -> Profile:
    """A profile upside down."""
    return replace(moulding, members=moulding.members[::-1])


def panel_profile(row: Panelling, height: float, margin: float, library: Library) -> Profile:
    """The section of a panel so high between the ends of its margins, each so wide [in]: flat, or raised to a field."""
    flat, bevel = library.moulding("fascia"), library.moulding("bevel")
    field = height - 2 * (margin + row.bevel)
    if not row.field or field <= 0:
        return profile([Member(flat, height, row.panel)], "board")
    face = row.panel + row.field
    edge, slope = Member(flat, margin, row.panel), Member(bevel, row.bevel, face - SHOULDER)
    return profile([edge, slope, Member(flat, field, face), slope, edge], "board")


def _boards(element: Element, library: Library) -> tuple[Placed, ...]:
    """Boards from the floor to the top of the rail, and a batten before them."""
    boards = _board(BOARDS, element.size, element.thickness, 0.0, library)
    proud = element.projection - element.thickness
    if element.form != BATTENS or proud <= 0:
        return (_of_stock(boards, element),)
    batten = _board("batten", element.size, proud, 0.0, library)
    return boards, _of_stock(replace(batten, x=element.thickness), element)


def _of_stock(placed: Placed, element: Element) -> Placed:
    """A board that is cut lengthwise, with what it is bought as."""
    if element.assembly is None:
        return placed
    bought = element.assembly.pieces[0].profile
    return replace(placed, profile=replace(placed.profile, code=bought.code, lengths=bought.lengths))


def _board(part: str, height: float, thickness: float, foot: float, library: Library) -> Placed:
    return Placed(profile([Member(library.moulding("fascia"), height, thickness)], "board"), 0.0, foot, part)
