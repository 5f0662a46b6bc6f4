"""What a row of each table says: rooms, passages, the ladder of tiers, and the rules that plans are held against.

A row is frozen, compares by what it says, and is refused with the place of the fault where a key is unknown or a value
of the wrong kind (msgspec). Lengths in inches, angles in degrees; every row names its source.
"""

from typing import Literal

import msgspec

from planner.values import immutabledict


class TableRow(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A row of a table."""


# Rooms and the ways between them


class Use(TableRow, frozen=True):
    """A use of a room: how public it is and how much display it asks for (0 to 1 each), the tiers of five that suit it,
    whether the room is seen from its neighbours, whether guests use it, and other names that read as it.

    Walks from the entry, along which the step-down is read, end in each `bedroom`. On the lowest tier a `bare` one has
    nothing but what its openings need.
    """

    name: str
    public: float
    display: float
    lowest: int
    highest: int
    seen: bool
    guest: bool
    source: str
    bedroom: bool = False
    bare: bool = False
    synonyms: tuple[str, ...] = ()


class RoomSize(TableRow, frozen=True):
    """The usual size of a room of a use, from west to east and from south to north as it is first drawn [in]."""

    use: str
    length: float
    width: float
    source: str


class PassageKind(TableRow, frozen=True):
    """A way to join two rooms: the most that their tiers may differ, the difference that reads as natural, what each
    tier beyond that costs, the steps that walking through adds, and whether both rooms are seen at once through it."""

    kind: str
    limit: int
    comfort: int
    penalty: float = msgspec.field(name="lambda")
    depth: int
    source: str
    together: bool = False


class LeafRow(TableRow, frozen=True):
    """A row of panels of a leaf: how many side by side, the rail under it in stiles, its share of the height or its
    height as a part of its panels' width, and whether it is glazed, in so many lights above one another."""

    columns: int
    rail: float
    share: float = 0.0
    square: float = 0.0
    glass: bool = False
    high: int = 1


class Leaf(TableRow, frozen=True, rename={"rows": "row"}):
    """A kind of door leaf: its rows of panels from the bottom up."""

    name: str
    rows: tuple[LeafRow, ...]
    source: str


class Lights(TableRow, frozen=True):
    """How the lights of a sash stand: so many side by side, so many above one another."""

    count: int
    columns: int
    rows: int


class Leaves(TableRow, frozen=True, rename={"leaves": "leaf"}):
    """What hangs in openings: stiles of leaves and bars of glazing, the width below which a leaf has one panel in a
    row [in], the kinds of leaf, and the lights of sashes."""

    narrow: float
    stile: float
    bar: float
    leaves: tuple[Leaf, ...]
    lights: tuple[Lights, ...]


class OpeningSize(TableRow, frozen=True):
    """The common size of a kind of opening [in]; None where the kind has none."""

    kind: str
    width: float
    source: str
    height: float | None = None
    sill: float | None = None


class Grade(TableRow, frozen=True):
    """A grade of house: its highest tier is `fifths` / 5 of the ladder, rounded up."""

    name: str
    fifths: int
    source: str


class Ladder(TableRow, frozen=True, rename={"grades": "grade"}):
    """The ladder of formality: the five rungs that every style describes, from the bottom, the names of the tiers by
    how many there are, and the grades of houses."""

    rungs: tuple[str, ...]
    names: immutabledict[str, tuple[str, ...]]
    grades: tuple[Grade, ...]
    source: str


class PartOfSize(TableRow, frozen=True):
    """A change of a size, as a part of the larger one, 0 to 1."""

    part: float
    source: str


class LoudElements(TableRow, frozen=True):
    """How many elements that change loudly make a step abrupt."""

    loud_elements: int
    source: str


class SharedElements(TableRow, frozen=True):
    """The elements in which two rooms that are seen at once may repeat each other's members."""

    elements: tuple[str, ...]
    source: str


class StepRules(TableRow, frozen=True):
    """When a step between two rooms reads: what is noticed, what is loud, what is abrupt, what may be shared."""

    noticed: PartOfSize
    loud: PartOfSize
    abrupt: LoudElements
    shared: SharedElements


# Checks


class CheckRule(TableRow, frozen=True):
    """A rule that a plan is held against, with the words and the limits of it.

    `bars` says that a tier whose package breaks it in a room is not offered there; `limits` are lengths [in] unless
    they are ratios, areas [sq in] or years.
    """

    name: str
    severity: Literal["error", "warning", "caution"]
    message: str
    remedy: str
    source: str
    bars: bool = False
    limits: immutabledict[str, float] = immutabledict()
    uses: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
