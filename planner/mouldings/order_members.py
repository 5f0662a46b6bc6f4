"""The orders drawn in members: pedestal base and cap, architrave, frieze and cornice, and a casing in fasciae."""

from dataclasses import replace
from fractions import Fraction

from planner.library import Library
from planner.library.trim_rows import Order, OrderPart
from planner.mouldings.members import Member, Profile, profile

PARTS = ("pedestal base", "pedestal cap", "architrave", "frieze", "cornice")

GREEK_CORNICE = "greek cornice"
"""What stands in the cornice's place in a period whose curves are Greek."""

FASCIAE = (3, 4, 5)
"""Fasciae of a casing, from the opening outwards, in twelfths of what the cymatium leaves (Vitruvius IV.6.3)."""
FASCIA_STEP = 1 / 8
"""A fascia steps so far before the next at least [in], so that the eye reads it: common practice."""
CYMATIUM = Fraction(1, 6)
"""The cymatium of a casing, as a part of its width (Vitruvius IV.6.3)."""


def members(order: str, part: str, size: float, library: Library, ground: float | None = None) -> Profile:
    """An order's part, drawn `size` high.

    Parameters
    ----------
    order : tuscan, doric, ionic or corinthian.
    part : one of PARTS.
    size : height of the part. [in]
    ground : how far the face of the frieze, or of the die, stands off the wall [in]; left out, the library's ground
        for an architrave or a frieze, which are boards, and nothing for the others.

    Raises
    ------
    ValueError : no such order or part, or a size that is not above zero.

    References
    ----------
    The rows of library/order_members.toml, each with its own.

    Examples
    --------
    >>> from planner.library import standard
    >>> cornice = members("doric", "cornice", 7.5, standard())
    >>> cornice.height, cornice.projection, max(m.projection for m in cornice.members if m.kind == "corona")
    (7.5, 10.0, 7.5)
    """
    if not size > 0:
        raise ValueError(f"the {part}'s height is {size:g} in; it must be above zero")
    if ground is None:
        ground = library.orders.ground.inches if part in ("architrave", "frieze") else 0.0
    given = order_part(library.order(order), part)
    scale = size / float(given.height)
    drawn = [
        Member(library.moulding(m.kind), float(m.height) * scale, ground + float(m.projection) * scale)
        for m in given.members
    ]
    return profile(drawn, role=part, code=f"{order} {part}", family=order)


def cornice_of(order: Order, greek: bool) -> str:
    """The part that is an order's cornice where curves are Greek or Roman: "greek cornice" where it has one, else
    "cornice"."""
    return GREEK_CORNICE if greek and GREEK_CORNICE in order.parts else "cornice"


def uncut(drawn: Profile, library: Library) -> Profile:
    """A part of an order with its dentil band left a plain band, as high and as deep."""
    band = library.moulding("fascia")
    plain = (replace(m, moulding=band) if m.kind == "dentil band" else m for m in drawn.members)
    return replace(drawn, members=tuple(plain))


def fascia_casing(
    width: float, projection: float, library: Library, thickness: float = 0.75, fasciae: int = 3
) -> Profile:
    """A casing in fasciae under a cymatium, from the opening's edge outwards.

    Parameters
    ----------
    width : of the casing on the face. [in]
    projection : of its cymatium from the wall. [in]
    thickness : of the fascia beside the opening. [in]
    fasciae : 1 to 3; fewer than three leave out the narrowest.

    Notes
    -----
    The cymatium takes 1/6 of the width, a quarter of it the fillet; the rest is divided as 3 : 4 : 5, narrowest at
    the opening. Each fascia stands an eighth of the whole relief before the one below it, and FASCIA_STEP at least
    where the relief has room for it (common practice).

    References
    ----------
    Vitruvius, De architectura, IV.6.3, tr. Morgan (1914).

    Examples
    --------
    >>> from planner.library import standard
    >>> [round(m.height, 3) for m in fascia_casing(7.2, 1.5, standard()).members]
    [1.5, 2.0, 2.5, 0.9, 0.3]
    """
    if not 1 <= fasciae <= len(FASCIAE):
        raise ValueError(f"a casing has 1 to {len(FASCIAE)} fasciae, not {fasciae}")
    if not (width > 0 and 0 < thickness < projection):
        raise ValueError("a casing needs a width above zero and a cymatium that projects beyond its fasciae")
    cymatium, shares = width * float(CYMATIUM), FASCIAE[-fasciae:]
    relief = projection - thickness
    step = max(relief / 8, min(FASCIA_STEP, relief / (fasciae + 1)))
    fascia, cyma, fillet = (library.moulding(kind) for kind in ("fascia", "cyma reversa", "fillet"))
    faces = [
        Member(fascia, (width - cymatium) * share / sum(shares), thickness + step * i) for i, share in enumerate(shares)
    ]
    crown = [Member(cyma, cymatium * 3 / 4, projection), Member(fillet, cymatium / 4, projection)]
    return profile([*faces, *crown], role="casing", code=f"{fasciae} fasciae")


def order_part(order: Order, part: str) -> OrderPart:
    """A part of an order in members, in parts of D. Raises ValueError for one that it has not."""
    if part not in order.parts:
        raise ValueError(f"an order has no part called {part!r}; its parts are {', '.join(PARTS)}")
    return order.parts[part]
