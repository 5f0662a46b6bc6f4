"""What pieces of trim are called: the part that a piece plays, and the side of the opening that it stands on."""

from enum import StrEnum


class Part(StrEnum):
    """The trade's names for what is nailed up; the value is what a person reads."""

    LEG = "leg"
    UPPER_LEG = "upper leg"
    HEAD = "head"
    EAR = "ear"
    BLOCK = "block"
    EAR_RETURN = "return under the ear"
    UPRIGHT = "upright of the ear"
    CORNER_BLOCK = "corner block"
    PLINTH_BLOCK = "plinth block"
    STOOL = "stool"
    APRON = "apron"
    OVERDOOR = "overdoor"
    WINDOW_HEAD = "window head"
    HEAD_BAND = "head band"
    ROSETTE = "rosette"

    PLINTH = "plinth"
    PILASTER = "pilaster"
    CAPITAL = "capital"
    MANTEL = "mantel"
    BRACKET = "bracket"
    MANTEL_SHELF = "mantel shelf"
    OVERMANTEL_FRAME = "overmantel frame"
    OVERMANTEL_PANEL = "overmantel panel"

    BASE = "base"
    SHOE = "shoe"
    CHAIR_RAIL = "chair rail"
    PLATE_RAIL = "plate rail"
    PICTURE_RAIL = "picture rail"
    CROWN = "crown"
    RETURN = "return"
    SKIRT = "skirt board"
    RAKING_RAIL = "raking rail"

    STILE = "stile"
    TOP_RAIL = "top rail"
    BOTTOM_RAIL = "bottom rail"
    FLAT_PANEL = "flat panel"
    RAISED_PANEL = "raised panel"
    PLAIN_WAINSCOT = "plain wainscot"
    BOARD = "board"
    BEADED_BOARD = "beaded board"
    BATTEN = "batten"
    WALL_PANEL = "wall panel"
    PANEL_MOULD = "panel mould"

    GROUND = "ground"
    LOWER_GROUND = "lower ground"
    FURRING = "furring"
    BLOCKING = "blocking"
    BACKING = "backing"
    RUN_UP = "board run up"
    JAMB_EXTENSION = "jamb extension"


class Side(StrEnum):
    """Which of two that are alike, seen from inside the room; NONE where there is but one."""

    LEFT = "left"
    RIGHT = "right"
    NONE = ""


RUNS = frozenset(
    {Part.BASE, Part.SHOE, Part.CHAIR_RAIL, Part.PLATE_RAIL, Part.HEAD_BAND, Part.PICTURE_RAIL, Part.CROWN}
)
"""What runs along the wall until something stands in its way."""

RAKED = frozenset({Part.SKIRT, Part.RAKING_RAIL})
"""What runs up beside a flight of stairs."""

FRAME = frozenset({Part.STILE, Part.TOP_RAIL, Part.BOTTOM_RAIL, Part.PLAIN_WAINSCOT})
"""What frames the panels of a wainscot, or stands in their stead."""

PANELS = frozenset({Part.FLAT_PANEL, Part.RAISED_PANEL})
"""Panels in a frame."""

BOARDS = frozenset({Part.BOARD, Part.BEADED_BOARD})
"""Boards set edge to edge."""

CROWNING = frozenset({Part.OVERDOOR, Part.WINDOW_HEAD, Part.MANTEL})
"""What stands on the head casing of an opening, in parts named by its form."""

PLUMB = frozenset(
    {
        Part.PLINTH_BLOCK,
        Part.PLINTH,
        Part.PILASTER,
        Part.BRACKET,
        Part.STILE,
        Part.PLAIN_WAINSCOT,
        Part.BATTEN,
        *PANELS,
        *BOARDS,
    }
)
"""What stands with its length upright; a casing's parts tell by their outlines."""

BEHIND = frozenset(
    {
        Part.GROUND,
        Part.LOWER_GROUND,
        Part.FURRING,
        Part.BLOCKING,
        Part.BACKING,
        Part.RUN_UP,
        Part.JAMB_EXTENSION,
    }
)
"""What lies behind the face: the boards that trim is nailed to."""

FLAT = frozenset({Part.STOOL, Part.MANTEL_SHELF})
"""What lies on its flat, so that only its edge is seen from the room."""


def called(part: Part, side: Side = Side.NONE, form: str = "", element: str = "") -> str:
    """What a person reads for a piece.

    Parameters
    ----------
    part, side : what it is, and where.
    form : what its form calls it, where it has a name of its own there ("cornice", "beaded boards").
    element : the element that it belongs to.

    Examples
    --------
    >>> called(Part.LEG, Side.LEFT), called(Part.HEAD, element="backband"), called(Part.OVERDOOR, form="cornice")
    ('left leg', 'head backband', 'overdoor cornice')
    """
    words = [side, part if part in CROWNING or not form else "", form]
    if element == "backband":
        words.append(element)
    return " ".join(filter(None, words))
