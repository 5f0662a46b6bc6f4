"""What a row of library/joinery.toml says: how panelling is framed, how mouldings are backed, what lies behind."""

from typing import Literal

from planner.library.rows import TableRow


class Panelling(TableRow, frozen=True):
    """How a form of wainscot or of wall panels is put together [in].

    One that is `framed` has rails and stiles as thick as its element; any other is planted on the wall. Its panel,
    where it has one, has its back `back` off the wall and is `panel` thick at its margin, which goes `groove` into the
    frame; a raised one has a `bevel` so wide and a field that stands `field` before the margin. `mould` and
    `mould_depth` are of the moulding round the panel where none is chosen from stock.
    """

    element: str
    form: str
    framed: bool
    mould: float
    mould_depth: float
    source: str
    back: float = 0.0
    panel: float = 0.0
    groove: float = 0.0
    bevel: float = 0.0
    field: float = 0.0


class Backing(TableRow, frozen=True):
    """How what reaches far from the wall is made of boards [in]: what is not deeper than its stuff by more than `solid`
    is solid; a straight face no higher than `flat`, or `shelf` over a hearth, is a board on its flat, a higher one is
    boxed with a `soffit` so thick, let over what is below by `lap`; a sprung moulding keeps `web` behind its deepest
    point."""

    solid: float
    flat: float
    shelf: float
    soffit: float
    lap: float
    web: float
    source: str


class BoardRow(TableRow, frozen=True):
    """A board behind an element [in]: from `x` off the wall, `depth` deep, to the ground's face where `to_ground` is
    set; from `y` above the element's foot, or below its top, `height` high and higher by the part `of_size` of its
    size; behind an element of at least the size `least`. What `comes_with` the opening, the framing of the house or
    another element is not bought for it."""

    name: str
    elements: tuple[str, ...]
    x: float
    depth: float
    y: float
    height: float
    source: str
    where: Literal["anywhere", "plaster", "wainscot"] = "anywhere"
    at: Literal["foot", "top"] = "foot"
    to_ground: bool = False
    of_size: float = 0.0
    least: float = 0.0
    blocks: bool = False
    comes_with: Literal["", "opening", "framing", "stool"] = ""


class Blocks(TableRow, frozen=True):
    """Blocks at intervals [in]: one `every` so far, each so long `along` the run, those in the wall as long as the room
    `between` two studs."""

    every: float
    along: float
    between: float
    source: str


class Joinery(TableRow, frozen=True, rename={"boards": "board"}):
    """What lies behind the face of trim, and how it is framed."""

    panelling: tuple[Panelling, ...]
    backing: Backing
    blocks: Blocks
    boards: tuple[BoardRow, ...]
