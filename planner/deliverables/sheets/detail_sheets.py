"""Details: heads of openings with their ears and what stands on them, and chimneypieces. Lengths in inches of paper."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.deliverables.sheets.frame import Frame, detail_scales
from planner.deliverables.sheets.keyed import bar_figure
from planner.deliverables.sheets.packing import numbers, packed
from planner.deliverables.sheets.sheet import (
    BAR,
    UNDER,
    Caption,
    Drawn,
    Figure,
    Item,
    Sheet,
    caption_height,
    captioned,
    figure_of,
    lines,
    paragraph,
)
from planner.drawings.detail import Detail, chimneypiece_detail, head_detail, measured, told
from planner.drawings.elevation import wall
from planner.drawings.scene import around as round_all
from planner.drawings.scene import bounds
from planner.planning.answer import Plan
from planner.trim.packages import Package
from planner.walls.layout import WallLayout
from planner.walls.openings import CASED, Surround
from planner.walls.parts import Part

WIDEST = 7.4
"""A detail is no wider than this [in], so that two stand side by side."""

GAP = 0.35
"""Plain paper round a detail [in]."""

TITLE = "Details: openings and chimneypieces"

MADE = frozenset({Part.UPRIGHT, Part.UPPER_LEG, Part.OVERDOOR, Part.WINDOW_HEAD, Part.CORNER_BLOCK, Part.ROSETTE})
"""What makes the head of an opening worth a detail."""

SHELVES = frozenset({Part.MANTEL, Part.MANTEL_SHELF})
"""What makes a fireplace worth one."""


class _Piece(NamedTuple):
    """A detail as it is drawn: the part of the wall, what is measured round it, how far the one lies within the other
    [in], and its caption."""

    picture: Figure
    strings: Figure
    dx: float
    dy: float
    title: tuple[str, ...]
    said: tuple[str, ...]
    bar: Figure

    @property
    def size(self) -> tuple[float, float]:
        """What it takes with its caption [in]."""
        return self.strings.width, captioned(self.strings.height, self.title, self.said) + BAR


def detail_sheets(plan: Plan, frame: Frame) -> Iterator[Sheet]:
    """One of each kind of head and of chimneypiece of every package, several a sheet; none where there are none."""
    pieces = [_piece(detail, title, said, frame) for detail, title, said in _details(plan)]
    places = packed([piece.size for piece in pieces], frame.across, frame.down, GAP)
    count = max((place.sheet for place in places), default=-1) + 1
    for n in range(count):
        items: list[Item] = []
        for number, piece, place in zip(numbers(places), pieces, places, strict=True):
            if place.sheet == n:
                items += _items(piece, place.x, place.y, number)
        yield Sheet("D", f"{TITLE}{f', {n + 1} of {count}' if count > 1 else ''}", "as noted", tuple(items))


def _details(plan: Plan) -> Iterator[tuple[Detail, str, list[str]]]:
    """Each detail with its title and what is said of it."""
    for package in plan.packages:
        for name, (layout, around) in _examples(plan, package).items():
            detail = chimneypiece_detail if name == "chimneypiece" else head_detail
            title = f"{package.label}, {name}: {around.aperture.name}, {layout.room}"
            yield detail(layout, around), title, list(told(layout, around))


def _examples(plan: Plan, package: Package) -> dict[str, tuple[WallLayout, Surround]]:
    """The first opening of each kind that is worth a detail."""
    found: dict[str, tuple[WallLayout, Surround]] = {}
    for layout in plan.walls_with(package):
        for around in layout.surrounds:
            parts, kind = {s.part for s in around.solids}, around.aperture.kind
            if kind == "fireplace" and parts & SHELVES:
                found.setdefault("chimneypiece", (layout, around))
            elif parts & MADE and kind in (*CASED, "window"):
                found.setdefault("head of a window" if kind == "window" else "head of a doorway", (layout, around))
    return found


def _piece(detail: Detail, title: str, said: list[str], frame: Frame) -> _Piece:
    """A detail at the largest scale at which it is no wider than WIDEST and a sheet holds it, else at the smallest."""
    for scale in detail_scales(detail.layout.unit):
        strings = measured(detail, scale)
        box = round_all(detail.shown, bounds(strings))
        picture, drawn = figure_of(wall(detail.layout, scale), detail.shown, scale), figure_of(strings, box, scale)
        room = drawn.width - 0.35
        heading, words = lines(title, room, "label"), paragraph([scale.words, *said], room, "small")
        dx, dy = (detail.shown.x0 - box.x0) / scale.ratio, (box.y1 - detail.shown.y1) / scale.ratio
        piece = _Piece(picture, drawn, dx, dy, heading, words, bar_figure(scale))
        if drawn.width <= WIDEST and piece.size[1] <= frame.down:
            break
    return piece


def _items(piece: _Piece, x: float, y: float, number: int) -> Iterator[Item]:
    under = y + piece.strings.height + UNDER
    yield Drawn(x + piece.dx, y + piece.dy, piece.picture)
    yield Drawn(x, y, piece.strings)
    yield Caption(x, under, piece.size[0], number, piece.title, piece.said)
    yield Drawn(x + piece.size[0] - piece.bar.width, under + caption_height(len(piece.title), 0) - 0.06, piece.bar)
