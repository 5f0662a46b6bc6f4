"""What a row of each table says: elements, forms, mouldings, the orders, and the periods. In inches."""

from fractions import Fraction
from math import inf
from typing import Literal

import msgspec

from planner.library.rows import TableRow
from planner.values import immutabledict

# Elements and their forms


class ElementKind(TableRow, frozen=True):
    """An element of the ladder: where it stands, and at which kinds of opening where that is round one; the element
    within which it is counted, whether it is seen from the next room, whether it counts toward the trim's share of the
    wall, the bounds of its size [in], and what a client is told that it is."""

    name: str
    display: str
    place: Literal["floor", "dado", "plate", "field", "frieze", "ceiling", "opening"]
    seen: bool
    share: bool
    least: float
    source: str
    openings: tuple[str, ...] = ()
    within: str = ""
    most: float = inf
    plain: str = ""

    @property
    def told(self) -> str:
        """What a client is told that it is, with its article where it has one."""
        return self.plain or self.display.lower()

    @property
    def bare(self) -> str:
        """What a client is told that it is, without its article."""
        return self.told.removeprefix("a ").removeprefix("an ")


class Dado(TableRow, frozen=True):
    """Heights between which the top of a chair rail stands [in]."""

    lowest: float
    highest: float
    source: str


class Plate(TableRow, frozen=True):
    """Top of a plate rail, as a part of the ceiling height within bounds [in]."""

    of_ceiling: float
    lowest: float
    highest: float
    source: str


class Field(TableRow, frozen=True):
    """Plain wall left above the rail and below the crown [in]."""

    margin: float
    source: str


class FriezeGap(TableRow, frozen=True):
    """The frieze left below the crown, as a part of the ceiling height."""

    of_ceiling: float
    source: str


class Places(TableRow, frozen=True):
    """Where the elements of each place are set."""

    dado: Dado
    plate: Plate
    field: Field
    frieze: FriezeGap


class FormPart(TableRow, frozen=True):
    """A part of a form: a fixed height [in], a share of what is left, or like a part of the order."""

    part: str
    inches: float = 0.0
    share: float = 0.0
    like: str = ""


class Form(TableRow, frozen=True):
    """A form of an element: members that show, projection and thickness [in], and its parts from the bottom up.

    It is larger by `more` [in] than what its row asks for, where that sizes it by another element, stands `proud` of
    the casing [in] where that is above 0, and no farther out than the casing where it `stops` on it.
    It is there only `on` that form of what sizes it, where one is named. `plain` is what a client is told of it.
    """

    element: str
    name: str
    members: int
    thickness: float
    parts: tuple[FormPart, ...]
    projection: float = 0.0
    projects_by: float = 0.0
    overhang: bool = False
    more: float = 0.0
    on: str = ""
    proud: float = 0.0
    stops: bool = False
    plain: str = ""


class MemberShare(msgspec.Struct, frozen=True, array_like=True, forbid_unknown_fields=True):
    """A member of a form that is drawn without stock: its kind, its shares of the height and of the projection."""

    kind: str
    height: float
    projection: float


class FormMembers(TableRow, frozen=True, rename={"parts": "part", "forms": "form"}):
    """What forms are drawn with without stock: parts of the order, parts of forms, and forms without parts."""

    order: immutabledict[str, str]
    parts: immutabledict[str, tuple[MemberShare, ...]]
    forms: immutabledict[str, tuple[MemberShare, ...]]


class Moulding(TableRow, frozen=True):
    """A kind of member: what it does for its neighbours, and the family of curves that its section is drawn by."""

    kind: str
    action: Literal["supports", "terminates", "binds", "separates"]
    curve: Literal[
        "straight", "half round", "convex", "concave", "recta", "reversa", "hollow", "corona", "beaded edge", "bevel"
    ]
    source: str
    also: tuple[str, ...] = ()

    def __hash__(self) -> int:
        return hash(self.kind)


# The orders


class Pedestal(TableRow, frozen=True):
    """The pedestal as a part of the column, its base and cap as parts of it."""

    of_column: float
    base: float
    cap: float
    source: str


class Entablature(TableRow, frozen=True):
    """The entablature as a part of the column, where a style says none of its own."""

    of_column: float
    source: str


class OrderMember(msgspec.Struct, frozen=True, array_like=True, forbid_unknown_fields=True):
    """One member of an order in parts of D, and how far its figures can be trusted."""

    kind: str
    height: Fraction
    projection: Fraction
    standing: str


class OrderPart(TableRow, frozen=True):
    """A part of an order in members, from the bottom up, in parts of D."""

    height: Fraction
    source: str
    members: tuple[OrderMember, ...] = ()
    like: str = ""


class Order(TableRow, frozen=True):
    """An order in parts of D, the lower diameter of its column, with its parts in members."""

    name: str
    column: float
    architrave: float
    frieze: float
    cornice: float
    taenia: float
    cornice_projection: float
    source: str
    parts: immutabledict[str, OrderPart] = immutabledict()


class Ground(TableRow, frozen=True):
    """How far the face of a frieze stands off the wall [in]."""

    inches: float
    source: str


class Interior(TableRow, frozen=True):
    """A canon by the height of the room: how many parts of it each has, for the least and the greatest."""

    name: str
    with_columns: tuple[float, float]
    entablature: tuple[float, float]
    down_to_taenia: tuple[float, float]
    cornice: tuple[float, float]
    casing: float
    source: str


class Orders(TableRow, frozen=True, rename={"orders": "order", "interiors": "interior"}):
    """The orders, plainest first, what they share, and the canons for rooms that stand beside them."""

    pedestal: Pedestal
    entablature: Entablature
    orders: tuple[Order, ...]
    ground: Ground
    interiors: tuple[Interior, ...] = ()


# Periods


class StyleRow(TableRow, frozen=True):
    """How one element stands on some rungs of a style.

    Its canon is `factor` times the measure or the element named by `of`; a `plain` row keeps that size on its rung,
    any other is scaled by the style's ratio. `least` is a floor and `least_ceiling` what the form needs [in]. A
    `finer` row holds only for the upper of two tiers that share a rung, a `coarser` one only for the lower.
    """

    element: str
    form: str
    rungs: tuple[str, ...]
    of: str
    factor: float = 1.0
    least: float = 0.0
    least_ceiling: float = 0.0
    plain: bool = False
    finer: bool = False
    coarser: bool = False
    source: str = "common practice"


class LeastCeiling(TableRow, frozen=True):
    """The ceiling that a rung of a style needs [in], and why."""

    rung: str
    ceiling: float
    reason: str
    source: str


class Plinth(TableRow, frozen=True):
    """The plinth blocks of a period: least and most height as a part of the base's, how far they stand proud [in]."""

    least: float
    most: float
    proud: float
    decorated: bool
    source: str


class CasingJoint(TableRow, frozen=True):
    """How legs and head of a casing meet."""

    joint: Literal["mitred", "butted", "blocked corners"]
    source: str


class Enrichment(TableRow, frozen=True):
    """What a carver or a turner adds: what it is, the forms that can carry it by element, and the member of an order's
    cornice that it is cut in, "" where it is cut in none; `plain` is what a client is told that it is."""

    name: str
    what: str
    forms: immutabledict[str, tuple[str, ...]]
    source: str
    member: str = ""
    plain: str = ""


class EnrichmentRow(TableRow, frozen=True):
    """The elements and the rungs on which a style carries an enrichment."""

    name: str
    elements: tuple[str, ...]
    rungs: tuple[str, ...]
    source: str


class Style(
    TableRow,
    frozen=True,
    rename={"rows": "row", "least_ceilings": "least_ceiling", "enrichments": "enrichment"},
):
    """A period. Where it is not `from_order`, its trim derives from none and `order` is left out.

    `ratio` is the step in size from one rung to the next below, `entablature` the entablature as a part of the column
    where it is not the orders' own. Its curves are arcs of circles (roman) or conics (greek). `plinth` is None where
    it has no plinth blocks; `enrichments` say what it carries on which rungs. `based_on` is the style that a house's
    own one differs from, "" for one that stands alone.
    """

    name: str
    display: str
    from_order: bool
    ratio: float
    least_ceilings: tuple[LeastCeiling, ...]
    rows: tuple[StyleRow, ...]
    source: str
    order: str = ""
    entablature: float | None = None
    curves: Literal["roman", "greek"] = "roman"
    casing: CasingJoint = CasingJoint(joint="mitred", source="common practice")
    plinth: Plinth | None = None
    enrichments: tuple[EnrichmentRow, ...] = ()
    based_on: str = ""
