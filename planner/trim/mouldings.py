"""The classical vocabulary of mouldings as exact curves, and profiles as stacks of members."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Member:
    """One member of a profile, e.g. a fillet or a cyma recta: its height and how far it reaches out [in]."""

    kind: str
    height: float
    projection: float


@dataclass(frozen=True)
class Profile:
    """A moulding that can be bought or made; its members run from the bottom up. Lengths in inches.

    `role` is what it is for (base, base cap, shoe, casing, backband, chair rail, crown, bed mould, bead, board, ...);
    `family` the design family it belongs to; `lengths` the stock lengths [in]; `price` per `unit`.
    """

    code: str
    role: str
    family: str
    height: float
    projection: float
    thickness: float
    members: tuple[Member, ...]
    lengths: tuple[float, ...] = ()
    price: float = 0.0
    unit: str = "ft"
