"""The floor plan: rooms coloured and labelled by tier, their openings, and the keys to read them by."""

from collections.abc import Mapping, Sequence
from math import inf
from typing import NamedTuple, cast

import pandas as pd

from planner.charts import room_labels
from planner.charts.finished import FinishedChart
from planner.charts.foot import Foot
from planner.charts.label_box import Box, box_of, corners_of
from planner.charts.levels import Place, extents, places
from planner.charts.names import short
from planner.charts.opening_signs import LEAST_SIGN, Gap, OpeningRow, draw_opening, sign_of
from planner.charts.parts import nearest_rooms
from planner.charts.room_labels import Floor, Label, coded, letters, placed, words_of
from planner.charts.rooms import (
    PICK_LAYER,
    READOUT,
    TOLD,
    RoomRow,
    moved_rooms,
    outlined,
    picking,
    readout,
    room_fill,
    room_properties,
    room_rows,
    tier_names,
    told_of,
)
from planner.charts.sheet import Sheet, feature, joined, message
from planner.charts.tier_words import description, finding
from planner.charts.vega_lite import EDGE, PIXELS, QUIET, Datum, Spec, layer, plain_name, records, title_height
from planner.house.model import Point
from planner.look import theme
from planner.look.theme import TEXT, text_on
from planner.units import counted

SMALL = 0.15
"""A scale up to which walls are drawn thinner [px/in]."""

MOST_CODED = 100
"""Rooms on a plan that has codes for those too small for their names; of more, codes could not be found in the key."""


class Drawn(NamedTuple):
    """What is on a plan besides a sheet's lines and text, as it is put together level by level.

    `before` has the tiers that rooms had, where they have moved; `floors` the rings of the rooms of each colour;
    `keyed` the room that each code stands for.
    """

    before: dict[str, int]
    picks: list[Datum]
    gaps: list[Datum]
    chips: list[Box]
    floors: dict[str, list[object]]
    keyed: dict[str, RoomRow]


class Level(NamedTuple):
    """A level on the sheet: its rooms with what is free in them, and the signs of its openings."""

    rooms: list[tuple[RoomRow, Floor]]
    gaps: list[tuple[OpeningRow, Gap]]


def floor_plan(
    rooms: pd.DataFrame,
    openings: pd.DataFrame | None = None,
    *,
    level: str | None = None,
    selected: str | None = None,
    moved: Mapping[str, int] | None = None,
    dark: bool = False,
    width: int = 720,
    height: int | None = None,
    across: bool | None = None,
    keys: bool = True,
    clicked: bool = True,
) -> FinishedChart:
    """Floor plan coloured and labelled by tier; a click or a tap picks a room, whose name is then told in a line.

    Parameters
    ----------
    rooms : frames.rooms; a room without an outline is named below the plan instead of drawn.
    openings : frames.openings, or None to draw walls alone.
    level : the level to draw, or None for all of them, in one drawing so that one selection serves all.
    selected : the room that is picked to begin with.
    moved : rooms and the tiers that they had before the last change; those that have another now are marked.
    height : the most that the plan takes [px]; what does not fit below the levels is left out.
    across : levels side by side, or one below the other; None for one below the other, and where there is a `height`
        for what is the larger.
    keys : whether the codes of rooms too small for their names are told below the plan.
    clicked : whether a line says that rooms are clicked, and what the one is that was; on paper there is none.
    """
    rooms = rooms if level is None else rooms[rooms["level"] == level]
    part, left_out = nearest_rooms(rooms)
    whole = room_rows(rooms)
    shown = room_rows(part) if left_out else whole
    drawn = [r for r in shown if has_outline(r)]
    if not drawn:
        return message("There is no floor plan", "No room here has an outline, so there is none to draw.", width, dark)
    sheet, heading = Sheet(width, dark), finding(whole, moved, level)
    most = height and height - 2 * EDGE - title_height(heading, "", sheet.width)
    notes = [*([left_out] if left_out else []), *_without_outline(shown, brief=bool(height))]
    foot = Foot(drawn[0]["tiers"], tier_names(rooms), notes, compact=bool(height), unit=drawn[0]["unit"])
    free = most - READOUT - foot.height(sheet) if most else inf
    across = across if height or across else False
    where, bottom = places(extents(drawn), sheet.width, top=READOUT, height=free, across=across)
    scale = next(iter(where.values())).scale
    on = Drawn(moved_rooms(drawn, moved), [], [], [], {}, {})
    bottom = _draw_levels(sheet, on, _levels(drawn, where, openings), foot.draw(sheet, bottom, scale), most, keys)
    for name, at in where.items() if len(where) > 1 else ():
        sheet.write(short(name), *at.name, sheet.look.soft, TEXT["label"], bold=True)
    told = _told(drawn, on)
    return sheet.chart(
        heading,
        "",
        bottom,
        ground=_ground(sheet, on, scale),
        over=[_pick_layer(sheet, on, scale), *(readout(sheet, told) if clicked else ())],
        picking=[picking(selected if selected in told else None)],
        described=description(whole, moved),
    )


def has_outline(room: RoomRow) -> bool:
    """Whether a room can be drawn."""
    return len(room["outline"]) > 2


def _without_outline(shown: Sequence[RoomRow], brief: bool) -> list[str]:
    """Which rooms are not drawn, or where it is to be brief, how many."""
    missing = [short(r["room"]) for r in shown if not has_outline(r)]
    told = counted(len(missing), "room") if brief else ", ".join(missing)
    return [f"Without an outline: {told}"] if missing else []


def _levels(rooms: Sequence[RoomRow], where: Mapping[str, Place], openings: pd.DataFrame | None) -> list[Level]:
    """The rooms and openings of each level on the sheet."""
    rows = [] if openings is None else cast("list[OpeningRow]", records(openings, OpeningRow.__annotations__))
    return [_level([r for r in rooms if r["level"] == name], place, rows) for name, place in where.items()]


def _level(rooms: Sequence[RoomRow], place: Place, openings: Sequence[OpeningRow]) -> Level:
    named = {r["room"] for r in rooms}
    gaps = [(o, _gap(o, place)) for o in openings if o["room"] in named]
    gaps = [(o, gap) for o, gap in gaps if _is_drawn(o, gap)]
    taken: dict[str, list[Box]] = {}
    for opening, gap in gaps:
        taken.setdefault(opening["room"], []).extend(sign_of(opening["kind"], gap).taken)
    floors = [Floor(tuple(map(place.on_sheet, r["outline"])), tuple(taken.get(r["room"], ()))) for r in rooms]
    return Level(list(zip(rooms, floors, strict=True)), gaps)


def _gap(opening: OpeningRow, place: Place) -> Gap:
    left, right = (opening["x1"], opening["y1"]), (opening["x2"], opening["y2"])
    return Gap(place.on_sheet(left), place.on_sheet(right))


def _draw_levels(
    sheet: Sheet, on: Drawn, levels: Sequence[Level], top: float, bottom: float | None, keys: bool
) -> float:
    """The levels, and below `top` what codes in them stand for, if it fits above `bottom`; returns where it ends."""
    rooms = sum(len(level.rooms) for level in levels)
    coding = keys and rooms <= MOST_CODED and _keys_fit(sheet, levels, on, top, bottom)
    for level in levels:
        _draw_level(sheet, on, level, coding)
    return _write_keys(sheet, on, top, bottom)


def _keys_fit(sheet: Sheet, levels: Sequence[Level], on: Drawn, top: float, bottom: float | None) -> bool:
    """Whether there is a place for what codes stand for, or for most of it."""
    rooms = [pair for level in levels for pair in level.rooms]
    nameless = [r for r, floor in rooms if placed(words_of(r, on.before.get(r["room"])), floor) is None]
    texts = {str(i): _key(r) for i, r in enumerate(nameless)}
    return bottom is None or bool(room_labels.keys(sheet, top, texts).above(bottom).rows)


def _write_keys(sheet: Sheet, on: Drawn, top: float, bottom: float | None) -> float:
    """What codes stand for; returns where that ends."""
    found = room_labels.keys(sheet, top, {code: _key(r) for code, r in on.keyed.items()})
    fitting = found if bottom is None else found.above(bottom)
    return fitting.write(sheet, top, len(found.rows) - len(fitting.rows)) if fitting.rows else top


def _draw_level(sheet: Sheet, on: Drawn, level: Level, coding: bool) -> None:
    """The floors of a level's rooms, their labels where no door swings, and the signs of their openings."""
    labels: list[Box] = []
    inks: dict[str, str] = {}
    for r, floor in level.rooms:
        ring, fill = [*floor.corners, floor.corners[0]], room_fill(r, sheet.dark)
        on.floors.setdefault(fill, []).append([ring])
        on.picks.append(_shape(r, ring, sheet.dark, on.before.get(r["room"])))
        inks[r["room"]] = text_on(fill)
        label = _label(r, floor, on, coding)
        if label is not None:
            labels.append(_write(sheet, label, inks[r["room"]], on))
    for opening, gap in level.gaps:
        draw_opening(sheet, opening, gap, inks[opening["room"]], labels)
        if opening["kind"] != "fireplace":
            on.gaps.append(feature(list(gap), {}))


def _is_drawn(opening: OpeningRow, gap: Gap) -> bool:
    """Whether an opening is wide enough on the sheet for its sign."""
    return gap.length >= LEAST_SIGN or (opening["main"] and gap.length > 0)


def _label(room: RoomRow, floor: Floor, on: Drawn, coding: bool) -> Label | None:
    """A room's label, else its tier with a code, which is noted; None where the room is too small for either."""
    words = words_of(room, on.before.get(room["room"]))
    label = placed(words, floor)
    if label is not None:
        return label
    code = letters(len(on.keyed)) if coding else ""
    label = coded(words, code, floor)
    if coding and label is not None and label.lines[0].startswith(f"{room['tier']}{code}"):
        on.keyed[f"{room['tier']}{code}"] = room
    return label


def _write(sheet: Sheet, label: Label, ink: str, on: Drawn) -> Box:
    """A label's lines, the one that tells of a move on a chip of paper; returns what it takes of the floor."""
    for i, (text, y) in enumerate(label.rows()):
        marked = i == label.marked
        colour = sheet.look.ink if marked else ink
        sheet.write(text, label.box.x, y, colour, label.size, bold=i == 0 or marked, align="center")
    chip = label.chip
    if chip is None:
        return label.box
    on.chips.append(chip)
    return box_of(corners_of(label.box) + corners_of(chip))


def _shape(room: RoomRow, ring: Sequence[Point], dark: bool, before: int | None) -> Datum:
    """What is clicked of a room."""
    outline = {"type": "Polygon", "coordinates": [ring]}
    return {"type": "Feature", "geometry": outline, "properties": room_properties(room, dark, before)}


def _ground(sheet: Sheet, on: Drawn, scale: float) -> list[Spec]:
    """Floors edged as cut walls, one shape for each tier, gaps in walls, and chips for what is marked."""
    thin = theme.pixels("cut", 0 if scale > SMALL else 1)
    floors = [_polygons(rings, {"fill": fill}) for fill, rings in on.floors.items()]
    edged: Spec = {"type": "geoshape", "stroke": sheet.look.ink, "strokeWidth": thin, "strokeJoin": "miter"} | QUIET
    layers = [layer(floors, edged, {"fill": plain_name("properties.fill")}, projection=PIXELS)]
    if on.gaps:
        bare = {"type": "geoshape", "filled": False, "stroke": sheet.look.paper, "strokeWidth": thin + 1.5} | QUIET
        layers.append({"data": {"values": joined(on.gaps)}, "projection": PIXELS, "mark": bare})
    if on.chips:
        chip = {"type": "geoshape", "fill": sheet.look.paper, "stroke": sheet.look.ink, "strokeWidth": 0.7} | QUIET
        rings = [[[*corners, corners[0]]] for corners in map(corners_of, on.chips)]
        layers.append({"data": {"values": [_polygons(rings, {})]}, "projection": PIXELS, "mark": chip})
    return layers


def _polygons(rings: Sequence[object], said: Datum) -> Datum:
    return {"type": "Feature", "geometry": {"type": "MultiPolygon", "coordinates": rings}, "properties": said}


def _pick_layer(sheet: Sheet, on: Drawn, scale: float) -> Spec:
    """The rooms again, above all that is drawn, so that a click on a name or a door picks too, and nothing covers the
    outline of the picked one.
    """
    mark = {"type": "geoshape", "fill": "transparent", "stroke": sheet.look.ink, "strokeJoin": "miter"}
    channels = outlined(0, theme.pixels("cut") * 3.2 * min(1, max(0.6, scale * 2))) | {"tooltip": TOLD}
    return layer(on.picks, mark | {"cursor": "pointer"}, channels, name=PICK_LAYER, projection=PIXELS)


def _key(room: RoomRow) -> str:
    """What is told of a room that has a code; that it moved is marked in the room."""
    return ", ".join(filter(None, [short(room["room"]), room["tier_name"], "entry" if room["entry"] else ""]))


def _told(rooms: Sequence[RoomRow], on: Drawn) -> dict[str, str]:
    """What is told of each room that is picked."""
    codes = {r["room"]: code for code, r in on.keyed.items()}
    return {r["room"]: told_of(r, on.before.get(r["room"]), codes.get(r["room"], "")) for r in rooms}
