"""The floor plan: rooms coloured and labelled by tier, their openings, and the keys to read them by."""

from collections.abc import Sequence
from math import cos, hypot, pi, sin
from typing import NamedTuple, TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.label_box import Box, label_box
from planner.charts.names import short
from planner.charts.parts import nearest_rooms
from planner.charts.rooms import (
    PICK_LAYER,
    PICKING,
    RoomRow,
    room_channels,
    room_fill,
    room_properties,
    room_rows,
    tier_names,
)
from planner.charts.sheet import LEADING, Sheet, feature, joined, message
from planner.charts.vega_lite import PIXELS, QUIET, Datum, Spec, layer, records
from planner.house.model import Point
from planner.look import theme
from planner.look.theme import TEXT, text_on, text_width, wrapped
from planner.units import INCHES_IN, Unit, running_unit

MARGIN = 10.0
"""Pixels kept free round a level."""

HEAD = 20.0
"""Pixels above a level for its name, where there are several."""

LEAST_LEAF = 20.0
"""A door leaf shorter than this on the sheet [px] is left out of it."""

SCALE_BARS = (50, 20, 10, 5, 2, 1)
"""Lengths that a scale bar may have [ft], or [m] in a metric house."""


class OpeningRow(TypedDict):
    """Columns of frames.openings that are drawn."""

    kind: str
    room: str
    main: bool
    x1: float
    y1: float
    x2: float
    y2: float


class Place(NamedTuple):
    """Where a level stands: its name and north-west corner on the sheet [px], that on the plan [in], px an inch."""

    name: Point
    left: float
    top: float
    west: float
    north: float
    scale: float

    def on_sheet(self, point: Point) -> Point:
        """A point of the plan on the sheet [px]."""
        x, y = point
        return round(self.left + (x - self.west) * self.scale, 1), round(self.top + (self.north - y) * self.scale, 1)

    def label_box(self, outline: Sequence[Point]) -> Box:
        """Where a room's label can stand on the sheet [px]."""
        box = label_box(tuple((x, y) for x, y in outline))
        return Box(*self.on_sheet((box.x, box.y)), box.width * self.scale, box.height * self.scale)


class Gap(NamedTuple):
    """An opening on the sheet by its left and right jamb, seen from inside the room [px]."""

    left: Point
    right: Point

    @property
    def length(self) -> float:
        """From jamb to jamb."""
        return hypot(self.right[0] - self.left[0], self.right[1] - self.left[1])

    @property
    def direction(self) -> Point:
        """From the left jamb to the right one, of length 1."""
        return (self.right[0] - self.left[0]) / self.length, (self.right[1] - self.left[1]) / self.length

    def at(self, along: float, inward: float) -> Point:
        """A point so far from the left jamb along the wall, and so far into the room."""
        (x, y), (dx, dy) = self.left, self.direction
        return x + dx * along - dy * inward, y + dy * along + dx * inward

    def turned_inward(self) -> int:
        """Degrees clockwise from straight up to the direction into the room; 0 where the wall stands askew."""
        dx, dy = self.direction
        return {(0, -1): 0, (1, 0): 90, (0, 1): 180, (-1, 0): 270}.get((round(-dy), round(dx)), 0)


def floor_plan(
    rooms: pd.DataFrame,
    openings: pd.DataFrame | None = None,
    *,
    level: str | None = None,
    selected: str | None = None,
    dark: bool = False,
    width: int = 720,
    across: bool = False,
) -> FinishedChart:
    """Floor plan coloured and labelled by tier; a click picks a room.

    Parameters
    ----------
    rooms : frames.rooms; a room without an outline is named below the plan instead of drawn.
    openings : frames.openings, or None to draw walls alone.
    level : the level to draw, or None for all of them, in one drawing so that one selection serves all.
    selected : the room to outline.
    across : levels side by side instead of one below the other.
    """
    part, left_out = nearest_rooms(rooms if level is None else rooms[rooms["level"] == level])
    shown = room_rows(part)
    drawn = [r for r in shown if has_outline(r)]
    title = f"Tier by room, {level}" if level else "Tier by room"
    if not drawn:
        return message(title, "No room here has an outline, so there is no floor plan to draw.", width, dark)
    sheet = Sheet(width, dark)
    places, bottom = _places(drawn, sheet.width, across)
    shapes: list[Datum] = []
    gaps: list[Datum] = []
    keyed: dict[str, RoomRow] = {}
    for name, place in places.items():
        if len(places) > 1:
            sheet.write(short(name), *place.name, sheet.look.soft, TEXT["label"], bold=True)
        on_level = {r["room"]: r for r in drawn if r["level"] == name}
        shapes += [_shape(r, place, selected, dark) for r in on_level.values()]
        for r in on_level.values():
            _write_label(sheet, r, place.label_box(r["outline"]), keyed)
        gaps += _draw_openings(sheet, openings, on_level, place)
    bottom = _scale_and_north(sheet, bottom, next(iter(places.values())).scale, drawn[0]["unit"])
    bottom = sheet.tiers(bottom, drawn[0]["tiers"], tier_names(rooms))
    bottom = _write_keys(sheet, bottom, keyed)
    if left_out:
        bottom = sheet.paragraph(left_out, bottom)
    missing = [short(r["room"]) for r in shown if not has_outline(r)]
    if missing:
        bottom = sheet.paragraph(f"Without an outline: {', '.join(missing)}", bottom)
    subtitle = "Tier number and name in each room; click a room to pick it"
    return sheet.chart(title, subtitle, bottom, ground=_ground(sheet, shapes, gaps), picking=[PICKING])


def has_outline(room: RoomRow) -> bool:
    """Whether a room can be drawn."""
    return len(room["outline"]) > 2


def _places(rooms: list[RoomRow], width: float, across: bool) -> tuple[dict[str, Place], float]:
    """Where each level stands, all at the scale that fills the width, and where the lowest of them ends [px]."""
    bounds: dict[str, tuple[float, float, float, float]] = {}
    for level in dict.fromkeys(r["level"] for r in rooms):
        corners = [p for r in rooms if r["level"] == level for p in r["outline"]]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        bounds[level] = min(xs), max(ys), max(xs) - min(xs), max(ys) - min(ys)
    lengths = [length for _, _, length, _ in bounds.values()]
    scale = (width - 2 * MARGIN * (len(bounds) if across else 1)) / (sum(lengths) if across else max(lengths))
    head = HEAD if len(bounds) > 1 else 0.0
    places: dict[str, Place] = {}
    x, y, bottom = 0.0, 0.0, 0.0
    for level, (west, north, length, depth) in bounds.items():
        places[level] = Place((x + MARGIN, y + 8), x + MARGIN, y + head + MARGIN, west, north, scale)
        end = y + head + MARGIN + depth * scale + MARGIN
        bottom = max(bottom, end)
        if across:
            x += length * scale + 2 * MARGIN
        else:
            y = end
    return places, bottom + 4


def _shape(room: RoomRow, place: Place, selected: str | None, dark: bool) -> Datum:
    """A room's floor."""
    ring = [place.on_sheet(p) for p in room["outline"]]
    outline = {"type": "Polygon", "coordinates": [[*ring, ring[0]]]}
    return {"type": "Feature", "geometry": outline, "properties": room_properties(room, selected, dark)}


def _ground(sheet: Sheet, shapes: list[Datum], gaps: list[Datum]) -> list[Spec]:
    """Floors edged as cut walls, the selected one again so that no neighbour covers its outline, and gaps in walls."""
    thin, thick = theme.pixels("cut"), theme.pixels("cut") * 3.2
    edge: Spec = {"type": "geoshape", "stroke": sheet.look.ink}
    mark = edge | {"strokeJoin": "miter", "cursor": "pointer"}
    layers = [layer(shapes, mark, room_channels(thin, thick), name=PICK_LAYER, projection=PIXELS)]
    selected = [s for s in shapes if s["properties"]["selected"]]
    if selected:
        outline = {"strokeWidth": {"value": thick}}
        layers.append(layer(selected, edge | {"filled": False}, outline, projection=PIXELS))
    if gaps:
        bare = {"type": "geoshape", "filled": False, "stroke": sheet.look.paper, "strokeWidth": thin + 1.5} | QUIET
        layers.append({"data": {"values": joined(gaps)}, "projection": PIXELS, "mark": bare})
    return layers


def _write_label(sheet: Sheet, room: RoomRow, box: Box, keyed: dict[str, RoomRow]) -> None:
    """Tier and name inside a room, in the largest type that fits; where none does, a key, added to those so far."""
    colour = text_on(room_fill(room, sheet.dark))
    width, height = box.width - 6, box.height - 4
    for size in (13, 12, 11, TEXT["small"]):
        texts = _label(room, width, size)
        if texts and len(texts) * size * LEADING <= height:
            top = box.y - (len(texts) - 1) * size * LEADING / 2
            for i, text in enumerate(texts):
                sheet.write(text, box.x, top + i * size * LEADING, colour, size, bold=i == 0, align="center")
            return
    key = f"{room['tier']}{letters(len(keyed))}"
    size = next((s for s in (12, 11, 10) if text_width(key, s) <= box.width), TEXT["small"])
    sheet.write(key, box.x, box.y, colour, size, bold=True, align="center")
    keyed[key] = room


def _label(room: RoomRow, width: float, size: float) -> list[str]:
    """Lines of a room's label no wider than `width`; none where a word would have to be broken."""
    name = short(room["room"])
    if any(text_width(word, size) > width for word in name.split()):
        return []
    named = f"{room['tier']} {room['tier_name']}"
    tier = named if text_width(named, size) * 1.08 <= width else str(room["tier"])
    return [tier, *wrapped(name, width, size), *(["▲ entry"] if room["entry"] else [])]


def letters(number: int) -> str:
    """Letters that stand for a number from 0 up.

    >>> [letters(n) for n in (0, 25, 26, 701, 702)]
    ['a', 'z', 'aa', 'zz', 'aaa']
    """
    found = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        found = chr(ord("a") + rest) + found
    return found


def _draw_openings(sheet: Sheet, openings: pd.DataFrame | None, rooms: dict[str, RoomRow], place: Place) -> list[Datum]:
    """Signs of the openings of some rooms; returns the gaps that they make in walls."""
    rows = [] if openings is None else cast("list[OpeningRow]", records(openings))
    gaps = []
    for opening in rows:
        gap = Gap(place.on_sheet((opening["x1"], opening["y1"])), place.on_sheet((opening["x2"], opening["y2"])))
        if opening["room"] not in rooms or not gap.length:
            continue
        _draw_opening(sheet, opening, gap, text_on(room_fill(rooms[opening["room"]], sheet.dark)))
        if opening["kind"] != "fireplace":
            gaps.append(feature(list(gap), {}))
    return gaps


def _draw_opening(sheet: Sheet, opening: OpeningRow, gap: Gap, on_floor: str) -> None:
    """The sign of an opening's kind; `on_floor` is the colour of lines that lie on the room's floor."""
    ink, long = sheet.look.ink, gap.length
    if opening["kind"] == "fireplace":
        sheet.line([gap.at(0, 3), gap.at(long, 3)], ink, "cut", widen=3)
    elif opening["kind"] == "window":
        for inward in (-1.5, 1.5):
            sheet.line([gap.at(0, inward), gap.at(long, inward)], ink, "dimension")
    elif opening["kind"] == "door":
        _draw_leaf(sheet, gap, 0, long, on_floor)
    elif opening["kind"] == "double door":
        _draw_leaf(sheet, gap, 0, long / 2, on_floor)
        _draw_leaf(sheet, gap, long, -long / 2, on_floor)
    elif opening["kind"] == "pocket door":
        sheet.line([gap.at(0, 0), gap.at(long / 2, 0)], ink, "edge")
    if opening["main"]:
        x, y = gap.at(long / 2, -8)
        sheet.mark(x, y, "triangle-up", 60, ink, gap.turned_inward())


def _draw_leaf(sheet: Sheet, gap: Gap, hinge: float, reach: float, colour: str) -> None:
    """A door leaf standing open into the room, and the arc of its edge; nothing where it would only clutter.

    `reach` is the leaf's width, less than 0 where it is hinged at its right.
    """
    if abs(reach) < LEAST_LEAF:
        return
    quarter = [pi / 2 * i / 6 for i in range(7)]
    sheet.line([gap.at(hinge, 0), gap.at(hinge, abs(reach))], colour, "dimension")
    sheet.line([gap.at(hinge + reach * cos(a), abs(reach) * sin(a)) for a in quarter], colour, "hatch")


def _scale_and_north(sheet: Sheet, top: float, scale: float, unit: Unit) -> float:
    """A bar of whole feet or metres and an arrow to the north, `scale` in pixels an inch; returns where they end."""
    ink, y, step = sheet.look.ink, top + 14, running_unit(unit)
    bars = {steps: steps * INCHES_IN[step] * scale for steps in SCALE_BARS}
    steps = next((steps for steps, long in bars.items() if long <= sheet.width / 4), min(bars))
    long = bars[steps]
    sheet.line([(4, y - 4), (4, y), (4 + long, y), (4 + long, y - 4)], ink, "edge")
    sheet.write(f"{steps} {step}", 10 + long, y - 2, ink, TEXT["note"])
    sheet.write("↑ N", sheet.width - 30, y - 2, ink, TEXT["label"], bold=True)
    return y + 8


def _write_keys(sheet: Sheet, top: float, keyed: dict[str, RoomRow]) -> float:
    """The names of the rooms that were too small for theirs, in columns; returns where they end."""
    if not keyed:
        return top
    size, indent = TEXT["note"], 26
    texts = {key: f"{short(r['room'])}, {r['tier_name']}{', entry' if r['entry'] else ''}" for key, r in keyed.items()}
    widest = max(text_width(text, size) for text in texts.values()) + indent + 14
    columns = max(1, min(len(texts), int(sheet.width // widest)))
    ends = [top + 6] * columns
    for i, (key, text) in enumerate(texts.items()):
        column = i % columns
        left, y = 2.0 + column * sheet.width / columns, ends[column]
        sheet.write(key, left, y + size / 2, sheet.look.ink, size, bold=True)
        for words in wrapped(text, sheet.width / columns - indent - 6, size):
            sheet.write(words, left + indent, y + size / 2, sheet.look.ink, size)
            y += size * LEADING
        ends[column] = y + 3
    return max(ends)
