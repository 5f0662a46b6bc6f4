"""The lines of a step-down, which fall from box to box, and the signs of the steps that are marked."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import dist
from typing import NamedTuple

from planner.charts.step_down_places import Box
from planner.charts.step_down_words import ALARMING, StepRow
from planner.house.model import Point
from planner.look import theme
from planner.look.theme import TEXT, text_width

PIECES = 14
"""Straight pieces of a line that falls."""

AWAY = 11.0
"""Signs are at least so far from each other [px]."""

ALONG = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Where on its line a sign may stand, the best first."""

SEVERAL = {"abrupt": "abrupt", "rises": "rise"}
"""The words of signs that stand for several steps."""

SIGN_TEXT = TEXT["small"]
"""Size of the word of a sign [px]."""

Rect = tuple[float, float, float, float]
"""West, north, east and south end [px]."""


class Link(NamedTuple):
    """The passages between two boxes, the upper or nearer one first, and how many of them are marked, by their sign."""

    start: Box
    end: Box
    strong: bool
    walked: bool
    alarms: dict[str, int]


class Sign(NamedTuple):
    """The sign of marked steps, its kind, word and place, and the middle of the word where that has room [px]."""

    kind: str
    word: str
    at: Point
    middle: Point | None


def links_between(steps: Iterable[StepRow], boxes: Sequence[Box], walk: Sequence[str]) -> list[Link]:
    """The lines of a panel, one for all passages between two boxes, in the order in which they are drawn."""
    box_of = {room: box for box in boxes for room in box.rooms}
    strong = set(map(frozenset, pairwise(walk)))
    links: dict[tuple[Box, Box], Link] = {}
    for s in steps:
        ends = [box_of[room] for room in (s["start"], s["end"]) if room in box_of]
        if len(ends) < 2 or ends[0] is ends[1]:
            continue
        start, end = sorted(ends, key=lambda box: (box.depth, box.y))
        link = links.get((start, end), Link(start, end, False, False, {}))
        if s["step"] in ALARMING:
            link.alarms[s["step"]] = link.alarms.get(s["step"], 0) + 1
        picked = frozenset((s["start"], s["end"])) in strong
        links[start, end] = link._replace(strong=link.strong or picked, walked=link.walked or s["walked"])
    return sorted(links.values(), key=lambda link: (link.strong, bool(link.alarms), link.walked))


def falling(start: Box, end: Box, gutter: float) -> list[Point]:
    """The line from the right side of a box to the left side of one further on, or round to the right side of one as
    far from the entry."""
    (x0, y0), (x3, y3) = (start.x2, start.middle), (end.x, end.middle)
    if start.depth == end.depth:
        x3 = end.x2
        x1 = x2 = x0 + min(gutter / 2, 9.0) / 0.75
    else:
        x1 = x2 = (x0 + x3) / 2
    if y0 == y3:
        return [(x0, y0), (x3, y3)]
    return [(a * x0 + b * x1 + c * x2 + d * x3, (a + b) * y0 + (c + d) * y3) for a, b, c, d in _SHARES]


def _shares(t: float) -> tuple[float, float, float, float]:
    """What each of its four points has in a point of a cubic Bezier curve."""
    return (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3


_SHARES = [_shares(i / PIECES) for i in range(PIECES + 1)]


def signs(links: Iterable[Link], boxes: Sequence[Box], room: Rect, gutter: float) -> Iterator[Sign]:
    """The signs of marked steps, apart from each other, each with its word where that covers nothing.

    Parameters
    ----------
    room : what words may lie in.
    """
    covered: list[Rect] = [(box.x - 4, box.y - 4, box.x2 + 4, box.y2 + 4) for box in boxes]
    taken: list[Point] = []
    for link in links:
        line = falling(link.start, link.end, gutter)
        for kind, number in link.alarms.items():
            word = theme.STEPS[kind].word if number == 1 else f"{number} {SEVERAL[kind]}"
            places = [_on(line, t) for t in ALONG]
            free = [at for at in places if all(dist(at, other) >= AWAY for other in taken)] or places[:1]
            at, middle = next(
                ((at, middle) for at in free for middle in _beside(at, word) if _is_free(middle, word, covered, room)),
                (free[0], None),
            )
            taken.append(at)
            covered.append((at[0] - 5, at[1] - 5, at[0] + 5, at[1] + 5))
            if middle:
                covered.append(_extent(middle, word))
            yield Sign(kind, word, at, middle)


def _on(line: Sequence[Point], part: float) -> Point:
    """The point after a part of a line."""
    piece, rest = divmod(part * (len(line) - 1), 1)
    (x0, y0), (x1, y1) = line[int(piece)], line[min(int(piece) + 1, len(line) - 1)]
    return x0 + (x1 - x0) * rest, y0 + (y1 - y0) * rest


def _beside(at: Point, word: str) -> Iterator[Point]:
    """Where the middle of a word may lie about its sign."""
    half = text_width(word, SIGN_TEXT) / 2
    for dx, dy in ((half + 7, 0), (-half - 7, 0), (0, -11), (0, 11), (half + 4, -9), (half + 4, 9), (-half - 4, 9)):
        yield at[0] + dx, at[1] + dy


def _extent(middle: Point, word: str) -> Rect:
    (x, y), half = middle, text_width(word, SIGN_TEXT) / 2
    return x - half, y - SIGN_TEXT / 2, x + half, y + SIGN_TEXT / 2


def _is_free(middle: Point, word: str, covered: Iterable[Rect], room: Rect) -> bool:
    """Whether a word covers nothing and lies within what it may."""
    w0, n0, e0, s0 = _extent(middle, word)
    west, north, east, south = room
    within = west <= w0 and north <= n0 and e0 <= east and s0 <= south
    return within and all(e0 + 1 <= w1 or e1 + 1 <= w0 or s0 + 1 <= n1 or s1 + 1 <= n0 for w1, n1, e1, s1 in covered)
