"""What the ends of a piece are called on a cut list."""

from enum import StrEnum

from planner.walls.cuts import Cut, Joint
from planner.walls.parts import Part


class End(StrEnum):
    """How an end is made; the value is what a person reads."""

    SQUARE = "square"
    MITER = "miter"
    INSIDE_MITER = "inside miter"
    OUTSIDE_MITER = "outside miter"
    COPE = "cope"
    RETURN = "return"
    CROSSETTE = "crossette"
    SCARF = "scarf"


EARS = frozenset({Part.EAR, Part.EAR_RETURN, Part.UPRIGHT})
"""Parts of a casing whose mitres make its ear."""


def end_of(cut: Cut, part: Part, element: str) -> End:
    """What the end of a piece is called, by its cut and by what the piece is."""
    match cut.joint:
        case Joint.SQUARE:
            return End.SQUARE
        case Joint.COPE:
            return End.COPE
        case Joint.INSIDE:
            return End.INSIDE_MITER
        case Joint.OUTSIDE:
            return End.OUTSIDE_MITER
        case Joint.RETURN:
            return End.RETURN
    if part is Part.RETURN:
        return End.RETURN
    return End.CROSSETTE if part in EARS or element == "crossette" else End.MITER
