"""Where things of given sizes find room on sheets. Lengths in inches, from the upper left corner, downwards."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from planner.drawings.scene import Box

HAIR = 1e-9
"""What is narrower than this is nothing [in]."""


class Place(NamedTuple):
    """A sheet, counted from 0, and the upper left corner on it [in]."""

    sheet: int
    x: float
    y: float


def packed(
    sizes: Sequence[tuple[float, float]],
    across: float,
    down: float,
    gap: float,
    taken: tuple[float, float] = (0.0, 0.0),
) -> list[Place]:
    """A place for each thing on as few sheets as simple rules find, the highest first, each as high up as it goes;
    where the widest or the largest first takes fewer sheets, in that order.

    Parameters
    ----------
    sizes : width and height of each. [in]
    across, down : of a sheet. [in]
    gap : plain paper between two of them. [in]
    taken : width and height of what stands in the upper left corner of the first sheet. [in]

    Notes
    -----
    Free paper is kept as the largest rectangles that are free, which overlap; a thing goes into the one whose top is
    highest, of those the leftmost. What is larger than a sheet has one to itself.

    Examples
    --------
    >>> packed([(3, 2), (2, 2), (5, 2)], 5.0, 4.0, 0.0)
    [Place(sheet=0, x=0.0, y=2.0), Place(sheet=0, x=3.0, y=2.0), Place(sheet=0, x=0.0, y=0.0)]
    """
    tried = (_packed(sizes, sorted(range(len(sizes)), key=rule), across, down, gap, taken) for rule in _rules(sizes))
    return min(tried, key=lambda places: max((place.sheet for place in places), default=0))


def _rules(sizes: Sequence[tuple[float, float]]) -> Iterator[Callable[[int], tuple[float, ...]]]:
    """The orders in which things of these sizes are tried: the highest, the widest and the largest first."""
    yield lambda n: (-sizes[n][1], -sizes[n][0], n)
    yield lambda n: (-sizes[n][0], -sizes[n][1], n)
    yield lambda n: (-sizes[n][0] * sizes[n][1], n)


def _packed(
    sizes: Sequence[tuple[float, float]],
    order: Iterable[int],
    across: float,
    down: float,
    gap: float,
    taken: tuple[float, float],
) -> list[Place]:
    """A place for each thing, found for one after another in an order."""
    whole = Box(0.0, 0.0, across + gap, down + gap)
    sheets = [_without([whole], Box(0.0, 0.0, taken[0] + gap, taken[1] + gap)) if all(taken) else [whole]]
    found: dict[int, Place] = {}
    for n in order:
        wide, high = (min(size, most) + gap for size, most in zip(sizes[n], (across, down), strict=True))
        place = next((p for s, free in enumerate(sheets) if (p := _in(free, s, wide, high)) is not None), None)
        if place is None:
            sheets.append([whole])
            place = Place(len(sheets) - 1, 0.0, 0.0)
        found[n] = place
        sheets[place.sheet] = _without(sheets[place.sheet], Box(place.x, place.y, place.x + wide, place.y + high))
    return [found[n] for n in range(len(sizes))]


def numbers(places: Sequence[Place]) -> list[int]:
    """The numbers of things as they are read, sheet by sheet, row by row, each from the left.

    >>> numbers([Place(0, 4.0, 0.02), Place(1, 0.0, 0.0), Place(0, 0.0, 0.0)])
    [2, 3, 1]
    """
    read = sorted(range(len(places)), key=lambda n: (places[n].sheet, round(places[n].y, 1), places[n].x))
    return [read.index(n) + 1 for n in range(len(places))]


def _in(free: Sequence[Box], sheet: int, wide: float, high: float) -> Place | None:
    """The highest place among free rectangles, None where it finds no room."""
    fit = [b for b in free if b.x1 - b.x0 >= wide - HAIR and b.y1 - b.y0 >= high - HAIR]
    if not fit:
        return None
    best = min(fit, key=lambda b: (round(b.y0, 6), b.x0))
    return Place(sheet, best.x0, best.y0)


def _without(free: Sequence[Box], taken: Box) -> list[Box]:
    """The largest free rectangles once one is taken."""
    found: list[Box] = []
    for b in free:
        if taken.x0 >= b.x1 or taken.x1 <= b.x0 or taken.y0 >= b.y1 or taken.y1 <= b.y0:
            found.append(b)
            continue
        found += [
            b._replace(x1=taken.x0), b._replace(x0=taken.x1), b._replace(y1=taken.y0), b._replace(y0=taken.y1),
        ]  # fmt: skip
    found = [b for b in dict.fromkeys(found) if b.x1 - b.x0 > HAIR and b.y1 - b.y0 > HAIR]
    return [b for b in found if not any(b != other and _inside(b, other) for other in found)]


def _inside(one: Box, other: Box) -> bool:
    return one.x0 >= other.x0 and one.y0 >= other.y0 and one.x1 <= other.x1 and one.y1 <= other.y1
