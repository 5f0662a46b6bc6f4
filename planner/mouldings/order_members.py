"""The orders drawn in members: pedestal base and cap, architrave, frieze and cornice, and a casing in fasciae."""

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from planner.library import table
from planner.mouldings.members import Member, Profile, profile

PARTS = ("pedestal base", "pedestal cap", "architrave", "frieze", "cornice")
GROUND: float = table("order_members")["ground"]["inches"]
"""How far the face of a frieze stands off the wall [in]: a board."""

FASCIAE = (3, 4, 5)
"""Fasciae of a casing, from the opening outwards, in twelfths of what the cymatium leaves (Vitruvius IV.6.3)."""
CYMATIUM = Fraction(1, 6)
"""The cymatium of a casing, as a part of its width (Vitruvius IV.6.3)."""


@dataclass(frozen=True)
class Row:
    """One member of an order in parts of D, and how far its figures can be trusted."""

    kind: str
    height: Fraction
    projection: Fraction
    standing: str


@cache
def rows(order: str, part: str) -> tuple[Row, ...]:
    """The members of an order's part, from the bottom up.

    Raises
    ------
    ValueError : no such order or part; the message names those there are.
    """
    entry = _entry(order, part)
    if "like" not in entry:
        return tuple(Row(k, Fraction(h), Fraction(p), standing) for k, h, p, standing in entry["members"])
    model = rows(entry["like"], part)
    stretch = height(order, part) / sum(r.height for r in model)
    return tuple(replace(r, height=r.height * stretch, projection=r.projection * stretch) for r in model)


def height(order: str, part: str) -> Fraction:
    """Height of an order's part, in parts of D."""
    return Fraction(_entry(order, part)["height"])


def source(order: str, part: str) -> str:
    """Where an order's part comes from."""
    return _entry(order, part)["source"]


def members(order: str, part: str, size: float, ground: float | None = None) -> Profile:
    """An order's part, drawn `size` high.

    Parameters
    ----------
    order : tuscan, doric, ionic or corinthian.
    part : one of PARTS.
    size : height of the part. [in]
    ground : how far the face of the frieze, or of the die, stands off the wall [in]; left out, GROUND for an
        architrave or a frieze, which are boards, and nothing for the others.

    Raises
    ------
    ValueError : no such order or part, or a size that is not above zero.

    References
    ----------
    The rows of library/order_members.toml, each with its own.

    Examples
    --------
    >>> cornice = members("doric", "cornice", 7.5)
    >>> cornice.height, cornice.projection, max(m.projection for m in cornice.members if m.kind == "corona")
    (7.5, 10.0, 7.5)
    """
    if not size > 0:
        raise ValueError(f"the {part}'s height is {size:g} in; it must be above zero")
    off = ground if ground is not None else GROUND if part in ("architrave", "frieze") else 0.0
    scale = size / float(height(order, part))
    drawn = [Member(r.kind, float(r.height) * scale, off + float(r.projection) * scale) for r in rows(order, part)]
    return profile(drawn, role=part, code=f"{order} {part}", family=order)


def fascia_casing(width: float, projection: float, thickness: float = 0.75, fasciae: int = 3) -> Profile:
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
    the opening. Each fascia stands an eighth of the whole relief before the one below it (common practice).

    References
    ----------
    Vitruvius, De architectura, IV.6.3, tr. Morgan (1914).

    Examples
    --------
    >>> [round(m.height, 3) for m in fascia_casing(7.2, 1.5).members]
    [1.5, 2.0, 2.5, 0.9, 0.3]
    """
    if not 1 <= fasciae <= len(FASCIAE):
        raise ValueError(f"a casing has 1 to {len(FASCIAE)} fasciae, not {fasciae}")
    if not (width > 0 and 0 < thickness < projection):
        raise ValueError("a casing needs a width above zero and a cymatium that projects beyond its fasciae")
    cymatium, shares = width * float(CYMATIUM), FASCIAE[-fasciae:]
    step = (projection - thickness) / 8
    faces = [
        Member("fascia", (width - cymatium) * share / sum(shares), thickness + step * i)
        for i, share in enumerate(shares)
    ]
    crown = [Member("cyma reversa", cymatium * 3 / 4, projection), Member("fillet", cymatium / 4, projection)]
    return profile([*faces, *crown], role="casing", code=f"{fasciae} fasciae")


def _entry(order: str, part: str) -> dict:
    data = table("order_members")
    known = [name for name in data if name != "ground"]
    if order not in known:
        raise ValueError(f"no order is called {order!r}; known are {', '.join(known)}")
    if part not in PARTS:
        raise ValueError(f"an order has no part called {part!r}; its parts are {', '.join(PARTS)}")
    return data[order][part]
