"""What shows of an element's section, member by member. Lengths in inches."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from planner.library import Library
from planner.mouldings.assembly import Placed
from planner.mouldings.outlines import HAIR
from planner.trim.packages import Element, Package
from planner.trim.sections import WALL, sections


@dataclass(frozen=True)
class Shown:
    """A member of a section as far as it shows.

    Parameters
    ----------
    member : what it is: the kind of moulding, "bottom rail", "panel", "boards" ..., or "wall" where plain wall shows.
    height : as far as it shows, round an opening its width. [in]
    projection : from the bare wall, a shoe's from the base that it stands before. [in]
    profile : code of the stock that it is part of, "" where it is of none.
    """

    member: str
    height: float
    projection: float
    profile: str = ""


@lru_cache(maxsize=4096)
def shown(package: Package, element: Element, library: Library) -> tuple[Shown, ...]:
    """What shows of an element from the bottom up, or from the opening outwards; heights sum to its size.

    Parameters
    ----------
    package : the room's trim.
    element : of the package; one that is cut from another is one member.
    library : what the trade knows.

    Examples
    --------
    >>> from planner.library import standard
    >>> from planner.trim.packages import package
    >>> state = package("georgian", "doric", 5, 120, standard(), top=5)
    >>> [(m.member, m.height, m.projection) for m in shown(state, state.element("plinth block"), standard())]
    [('fascia', 7.5, 2.375)]
    """
    placed = _stacked(sections(package, library).get(element.element, ()))
    if not placed:
        return (Shown(element.element, element.size, element.projection),)
    return tuple(_runs(placed, element.size, element.ground))


def _stacked(placed: Sequence[Placed]) -> tuple[Placed, ...]:
    """The pieces without what stands before the lowest, as a shoe before its base."""
    return tuple(p for p in placed if p.part != "shoe") or tuple(placed)


def _runs(placed: Sequence[Placed], size: float, ground: float) -> Iterator[Shown]:
    """At every height what stands out the farthest, that of one member in one."""
    spans = [span for p in placed for span in _members(p)]
    levels = sorted({0.0, size, *(y for low, high, _ in spans for y in (low, high) if 0 <= y <= size)})
    last: tuple[int, Shown] | None = None
    for low, high in pairwise(levels):
        if high - low <= HAIR:
            continue
        there = [(i, what) for i, (a, b, what) in enumerate(spans) if a <= low + HAIR and b >= high - HAIR]
        i, what = max(there, key=lambda each: each[1].projection, default=(-1, Shown(WALL, 0.0, ground)))
        height = high - low
        if last is not None and last[0] == i:
            height += last[1].height
        elif last is not None:
            yield last[1]
        last = i, Shown(what.member, height, what.projection, what.profile)
    if last is not None:
        yield last[1]


def _members(placed: Placed) -> Iterator[tuple[float, float, Shown]]:
    """The members of a profile, each from its foot to its head; a board is called by its part."""
    board = placed.profile.role == "board" and placed.part
    code = placed.profile.code if placed.profile.lengths or placed.cut_from is not None else ""
    y = placed.y
    for m in placed.profile.members:
        name = placed.part if board and m.kind == "fascia" else m.kind
        yield y, y + m.height, Shown(name, m.height, placed.x + m.projection, code)
        y += m.height
