"""Profiles where they stand, and elements made of them. All lengths are inches."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from planner.library.joinery_rows import Backing
from planner.mouldings.members import Member, Profile
from planner.mouldings.outlines import HAIR, outline
from planner.mouldings.timber import Timber, timber
from planner.values import Kept

FLAT_EDGES = ("fascia", "plain edge")
"""Members that a profile can be ripped through."""


@dataclass(frozen=True)
class Placed(Kept):
    """A profile where it stands.

    Parameters
    ----------
    profile : as it stands there, a ripped one as high as it is left, a turned board on its flat.
    x : its back off the wall. [in]
    y : its foot above the foot of the whole. [in]
    part : the part of the whole that it makes up, alone or with others.
    cut_from : the profile of the stock that it is ripped or turned from; None where it stands as it comes.
    turned : whether it is a board that lies on its flat.
    backing : how what reaches far from the wall is made; None where all is taken for solid.
    """

    profile: Profile
    x: float = 0.0
    y: float = 0.0
    part: str = ""
    cut_from: Profile | None = None
    turned: bool = False
    backing: Backing | None = None

    __hash__ = Kept.__hash__

    @cached_property
    def timber(self) -> tuple[Timber, ...]:
        """The pieces of wood that it is made of, its back and foot at (0, 0), from the bottom up."""
        if self.backing is None or self.turned:
            return (Timber("solid", outline(self.profile)),)
        return timber(self.profile, self.backing)

    @property
    def cut(self) -> float | None:
        """The width that it is ripped to [in], None where it stands as it comes."""
        if self.cut_from is None:
            return None
        return self.profile.projection if self.turned else self.profile.height

    @property
    def top(self) -> float:
        """Its upper edge above the foot of the whole [in]."""
        return self.y + self.profile.height

    @property
    def reach(self) -> float:
        """How far it reaches from the wall [in]."""
        return self.x + self.profile.projection


@dataclass(frozen=True)
class Assembly(Kept):
    """An element made of stock: its pieces, from the bottom up, and what stands before them.

    `height` is of the whole [in]; `projection` is from the wall, a shoe not counted [in]; `thickness` is of the
    thickest piece [in]; `price_per_foot` is in the house's currency; `deviation` is from the target, as
    library/built_ups.toml weighs it [in]; `built_up` names the way it is put together.
    """

    role: str
    built_up: str
    pieces: tuple[Placed, ...]
    height: float
    projection: float
    thickness: float
    price_per_foot: float
    deviation: float

    __hash__ = Kept.__hash__

    @cached_property
    def profiles(self) -> tuple[str, ...]:
        """Codes of its profiles, each once, in the order of the pieces."""
        return tuple(dict.fromkeys(p.profile.code for p in self.pieces))

    @cached_property
    def members(self) -> tuple[Member, ...]:
        """What shows of it, from the bottom up; projections are from the wall. Plain wall within it is left out."""
        return tuple(m for run in runs(self.pieces) for m in run)

    @cached_property
    def parts(self) -> tuple[tuple[str, float], ...]:
        """Its parts and their heights [in], from the bottom up; plain wall is the part "wall"."""
        found: dict[str, float] = {}
        at = 0.0
        for p in stacked(self.pieces):
            if p.y > at + HAIR:
                found["wall"] = p.y - at
            found[p.part] = found.get(p.part, 0.0) + p.profile.height
            at = p.top
        return tuple(found.items())


def stacked(pieces: Sequence[Placed]) -> tuple[Placed, ...]:
    """The pieces that stand on one another, without what stands before them."""
    return tuple(p for i, p in enumerate(pieces) if not i or p.y > HAIR)


def runs(pieces: Sequence[Placed]) -> tuple[tuple[Member, ...], ...]:
    """Members from the bottom up, their projections from the wall, broken where plain wall shows between."""
    found: list[list[Member]] = []
    at = -1.0
    for p in stacked(pieces):
        if abs(p.y - at) > HAIR:
            found.append([])
        found[-1] += [replace(m, projection=m.projection + p.x) if p.x else m for m in p.profile.members]
        at = p.top
    return tuple(map(tuple, found))


def flat_edge(profile: Profile) -> int | None:
    """Which member a profile is ripped through: the higher of its first and last where that is flat, else None."""
    edges = [i for i in (0, len(profile.members) - 1) if profile.members[i].kind in FLAT_EDGES]
    return max(edges, key=lambda i: profile.members[i].height, default=None)


def ripped(profile: Profile, width: float) -> Profile:
    """A profile ripped to a width. [in]

    Raises
    ------
    ValueError : it has no flat edge.
    """
    flat = flat_edge(profile)
    if flat is None:
        raise ValueError(f"{profile.code} has no flat edge to rip it through")
    members = list(profile.members)
    members[flat] = replace(members[flat], height=members[flat].height - (profile.height - width))
    return replace(profile, height=width, members=tuple(members))


def turned(board: Profile, width: float) -> Profile:
    """A board on its flat, ripped to a width, which is then its projection. [in]"""
    member = replace(board.members[0], height=board.projection, projection=width)
    return replace(board, height=board.projection, projection=width, members=(member,))
