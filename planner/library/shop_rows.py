"""What a row of each table says: what stands round openings, and what is built of stock. Lengths in inches."""

from typing import Literal

from planner.library.rows import TableRow
from planner.values import immutabledict

# What stands round openings, and panels


class Reveal(TableRow, frozen=True):
    """How far a casing stands back from the jamb's edge [in]."""

    inches: float
    source: str


class Apart(TableRow, frozen=True):
    """The least plain wall between two mouldings that are not to read as one [in]."""

    inches: float
    source: str


class Crossette(TableRow, frozen=True):
    """Bounds of an ear and its drop [in]: the least on openings as narrow as `narrow`, the most from `wide` on.

    `upright_least` shows between its mitres, `lap` is let in behind the leg; `outer` is the outer moulding of a casing
    in fasciae, as a part of its width.
    """

    kick_least: float
    kick_most: float
    drop_least: float
    drop_most: float
    narrow: float
    wide: float
    upright_least: float
    outer: float
    lap: float
    source: str


class Stool(TableRow, frozen=True):
    """How far a stool runs past the casing [in]."""

    horn: float
    source: str


class Hearth(TableRow, frozen=True):
    """What is kept clear of wood round a firebox [in]."""

    clear: float
    source: str


class Chimneypiece(TableRow, frozen=True):
    """What a chimneypiece keeps [in]; `ear_drop` and `capital` are parts of its casing's width.

    `plinth` is a plinth's height where the room has no base, `margin` what is left of plain wall round the panel above.
    """

    shelf_overhang: float
    plinth: float
    plinth_proud: float
    capital: float
    ear_drop: float
    bracket: float
    bracket_apart: float
    bracket_reach: float
    margin: float
    least_panel: float
    source: str


class MantelForm(TableRow, frozen=True):
    """How a form of mantel goes round the slips of a firebox, and what it stands on."""

    form: str
    surround: Literal["casing", "eared", "pilasters", "butted", "blocked corners"]
    plinths: bool
    source: str
    brackets: bool = False


class ButtedHead(TableRow, frozen=True):
    """How much higher and thicker a head over square legs is than they, and how far past them it runs [in]."""

    higher: float
    thicker: float
    past: float
    source: str


class OverdoorJoint(TableRow, frozen=True):
    """How legs and head meet under a form of overdoor; it outranks the style's own joint."""

    overdoor: str
    joint: Literal["mitred", "butted", "blocked corners"]
    source: str


class MeetingRule(TableRow, frozen=True):
    """How the trim of two rooms meets in a kind of passage; `share` where both must carry one package across it."""

    kind: str
    share: bool
    lining: str
    stops: str
    source: str
    stops_under_crown: str = ""


class Panels(TableRow, frozen=True):
    """Stiles, rails, panels and battens of wainscot and wall [in]: panels from `usual` to `most` wide as a rule, down
    to `least` in a bay too narrow for that, each `sink` behind its stiles; under a window the top rail is at least
    `least_rail`. Battens so wide stand about `battens_apart`."""

    stile: float
    bottom_rail: float
    top_rail: float
    least: float
    usual: float
    most: float
    preferred: float
    least_height: float
    least_rail: float
    sink: float
    batten: float
    battens_apart: float
    source: str


class Surrounds(TableRow, frozen=True, rename={"joints": "joint", "meetings": "meeting", "mantels": "mantel"}):
    """What stands round an opening, beyond the sizes that a package gives."""

    reveal: Reveal
    apart: Apart
    crossette: Crossette
    stool: Stool
    hearth: Hearth
    chimneypiece: Chimneypiece
    mantels: tuple[MantelForm, ...]
    butted_head: ButtedHead
    joints: tuple[OverdoorJoint, ...]
    meetings: tuple[MeetingRule, ...]
    panels: Panels


# Stock


class Role(TableRow, frozen=True):
    """What a profile of the stock may be for."""

    name: str
    what: str


class Weighing(TableRow, frozen=True):
    """How an inch counts by which something built misses its target, in height, in projection, in a part."""

    height: float
    projection: float
    part: float
    source: str


class Shortfall(TableRow, frozen=True):
    """When a stock falls short: by how much in height [in], by what part in projection."""

    height: float
    projection: float
    source: str


class Stop(TableRow, frozen=True):
    """How far what stops another piece stands before it [in]."""

    proud: float
    source: str


class FaceJoint(TableRow, frozen=True):
    """How far the foot of a piece that stands on the face of another stands proud of it [in]."""

    proud: float
    source: str


class Rip(TableRow, frozen=True):
    """What is left of the flat edge of a profile that is ripped [in]."""

    least: float
    source: str


class ShareRule(TableRow, frozen=True):
    """By what part of a cornice's height each group of its members may miss the order's share of it, 0 to 1."""

    tolerance: float
    source: str


class Stepping(TableRow, frozen=True):
    """The roles of profiles that are no higher in a tier than in one above it, in the same element."""

    roles: tuple[str, ...]
    source: str


Group = Literal["", "below the corona", "corona itself", "above the corona"]
"""The group of a cornice's members that a piece is of, "" for what is of none."""


class Layer(TableRow, frozen=True):
    """One piece of a built-up: the part that it makes up, the roles of profiles that it may be made from, how it stands
    upon the one below, and what is asked of it [in]."""

    part: str
    roles: tuple[str, ...] = ()
    stand: Literal["on", "face", "flush", "before"] = "on"
    rip: bool = False
    fill: bool = False
    turned: bool = False
    gap: tuple[float, float] | None = None
    past: float | None = None
    short: float | None = None
    least: float = 0.0
    holds: immutabledict[str, int] = immutabledict()
    only: tuple[str, ...] = ()
    any: tuple[str, ...] = ()
    at_least: immutabledict[str, int] = immutabledict()
    at_most: immutabledict[str, int] = immutabledict()
    mirrored: bool = False
    if_within: bool = False
    moulded: bool = False
    group: Group = ""


class BuiltUp(TableRow, frozen=True, rename={"layers": "pieces"}):
    """A way to put an element together. `reach` False leaves its projection uncompared; one that is `planted` is of
    its own `height` [in], whatever the element's; one that is `enriched` serves only elements that carry all of these;
    `whole` is the least and most height of all of it [in], None where any will do."""

    name: str
    elements: tuple[str, ...]
    forms: tuple[str, ...]
    layers: tuple[Layer, ...]
    source: str
    reach: bool = True
    planted: bool = False
    height: float = 0.0
    enriched: tuple[str, ...] = ()
    whole: tuple[float, float] | None = None


class Building(TableRow, frozen=True, rename={"roles": "role", "built_ups": "built_up"}):
    """What profiles are for, how elements are built up of them, and how what is built is judged."""

    roles: tuple[Role, ...]
    deviation: Weighing
    shortfall: Shortfall
    shares: ShareRule
    stepping: Stepping
    stop: Stop
    face: FaceJoint
    rip: Rip
    not_bought: immutabledict[str, str]
    built_ups: tuple[BuiltUp, ...]
