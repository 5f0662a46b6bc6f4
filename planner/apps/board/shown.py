"""What the board is told of a sketch: plain lists and words, part by part. Lengths in inches where it draws them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from planner.charts.label_box import label_box
from planner.files.problems import Problem
from planner.house import existing, fixtures, flights, rates
from planner.house.drafting import CEILINGS, called, leads_to
from planner.house.editing import TABLES
from planner.house.faults import OPENINGS, ROOMS
from planner.house.fillings import HAVE
from planner.house.model import OUTSIDE, WHOLE_ROOM, House
from planner.house.parsing import HOUSE
from planner.house.placements import placements
from planner.house.placing import box, grid, on_grid
from planner.house.sketch import Drawn, Form, Sketch, form, unit_of
from planner.library import Library
from planner.library.model import NO_FORM
from planner.units import METRIC, Unit, counted, format_length

MOST_DRAWN = 400
"""The board draws so many rooms of a level at most."""

PAGE = 60
"""A table shows so many rows at a time."""

TITLES = {
    ROOMS: "Rooms",
    OPENINGS: "Openings",
    existing.EXISTING: "Trim that stays",
    fixtures.FIXTURES: "Fixtures",
    flights.STAIRS: "Stairs",
    rates.RATES: "Rates",
}
HINTS = {
    ROOMS: "A blank ceiling is that of the level; length runs from west to east, width from south to north.",
    OPENINGS: "Offset is from the wall's left end, seen from inside the room, to the left jamb.",
    existing.EXISTING: 'Trim that is there and is kept; the element "all" keeps the whole room.',
    fixtures.FIXTURES: "What else stands on walls: counters, cabinets, radiators.",
    flights.STAIRS: "Flights that run against a wall.",
    rates.RATES: "What work and material cost here; a rate is an assumption until it is confirmed.",
}
UNITS = {"in": "feet and inches", "ft": "feet (decimal)", "mm": "millimetres", "cm": "centimetres", "m": "metres"}

NARROW, NOTES = 7, 16
"""How many characters the fields of a table show of lengths and codes, and of names and notes."""

WIDE_COLUMNS = ("room", "opening", "fixture", "flight", "rate", "outline", "notes", "profile")

Part = dict[str, Any]


@dataclass
class Look:
    """What of a house a board is looking at, and what its lists stand at."""

    level: str = ""
    picked: int = 0
    beside: int | None = 0
    use: str = "parlor"
    kind: str = ""
    put: str = "door"
    wall: str = ""
    file: str = ROOMS
    first: int = 0
    find: str = ""


def form_part(sketch: Sketch, faults: Iterable[Problem], fixed_unit: str, is_blank: bool, library: Library) -> Part:
    """The form, each fault in it at its field; `fixed_unit` says why the unit can no longer be changed."""
    said = form(sketch)
    on = [row["level"] for row in sketch.rooms]
    wrong = {fault.column or "": _fault(fault)["words"] for fault in faults if _is_of_form(fault)}
    return {
        "name": said.name,
        "entry": next(iter(said.entries), ""),
        "entries": list(sketch.room_names),
        "style": said.style,
        "styles": list(library.style_names),
        "grade": said.grade,
        "grades": list(library.grade_names),
        "unit": said.unit if not fixed_unit else UNITS[said.unit],
        "units": [{"value": unit, "text": words} for unit, words in UNITS.items()],
        "fixed_unit": fixed_unit,
        "currency": said.currency,
        "year_built": said.year_built,
        "levels": [
            {
                "name": name,
                "ceiling": ceiling,
                "rooms": counted(on.count(name), "room"),
                "empty": name not in on,
                "fault": wrong.get(f"levels.{name}.ceiling", ""),
            }
            for name, ceiling in said.levels.items()
        ],
        "faults": wrong,
        "usual_ceiling": next((c for c in said.levels.values() if c), CEILINGS[said.unit in METRIC]),
        "is_blank": is_blank,
    }


def _is_of_form(fault: Problem) -> bool:
    return fault.file == HOUSE and fault.severity == "error"


def plan_part(sketch: Sketch, look: Look, house: House, faults: Iterable[Problem], library: Library) -> Part:
    """One level as it is drawn, with the others' outlines under it where it is not the first."""
    said = form(sketch)
    drawn = [one for one in sketch.drawn.values() if one.room.level == look.level][:MOST_DRAWN]
    told: dict[int, str] = {}
    for fault in faults:
        if fault.file == ROOMS and fault.row and fault.severity == "error":
            told.setdefault(fault.row - 2, f"{fault.column}: {fault.message}")
    picked = look.picked if look.picked in [one.at for one in drawn] else -1
    return {
        "level": look.level,
        "levels": list(said.levels),
        "grid": grid(said.unit),
        "rooms": [_room(one, sketch, said, told.get(one.at, ""), one.at == picked) for one in drawn],
        "under": _under(sketch, look.level, said),
        "openings": _openings(house, look.level, {one.room.name for one in drawn if one.placed}, library),
        "picked": picked,
        "use": look.use,
        "uses": [
            {"value": use.name, "text": f"{use.name}, {_usual(use.name, said.unit, library)}"} for use in library.uses
        ],
        "use_names": [use.name for use in library.uses],
        "kind": look.kind,
        "kinds": list(library.opening_kinds),
        "puts": [{"value": kind, "text": f"put {called(kind)} on a wall"} for kind in library.opening_kinds],
        "put": look.put,
        "wall": look.wall,
    }


def _usual(use: str, unit: Unit, library: Library) -> str:
    usual = library.room_size(use)
    return _sides(on_grid(usual.length, unit), on_grid(usual.width, unit), unit)


def _sides(length: float, width: float, unit: Unit) -> str:
    return f"{format_length(length, unit)} x {format_length(width, unit)}"


def _room(one: Drawn, sketch: Sketch, said: Form, fault: str, is_picked: bool) -> Part:
    room, extent = one.room, box(one.room.corners)
    size = _sides(extent.east - extent.west, extent.north - extent.south, said.unit)
    told = [room.name or "a room without a name", room.use, size]
    told += [] if one.placed else ["not placed yet"]
    told += [fault] if fault else []
    behind = leads_to(sketch, one.at) if is_picked else {}
    written = label_box(tuple(room.corners))
    return {
        "at": one.at,
        "name": room.name,
        "use": room.use if one.placed else "not placed yet",
        "size": size,
        "told": ", ".join(told),
        "fault": fault,
        "placed": one.placed,
        "corners": [list(corner) for corner in room.corners],
        "box": list(extent),
        "middle": [written.x, written.y],
        "width": written.width,
        "height": written.height,
        "is_rectangular": room.is_rectangular,
        "walls": [
            {"name": wall.name, "left": wall.left, "right": wall.right, "leads_to": behind.get(wall.name, "")}
            for wall in room.walls
        ],
        "cells": dict(sketch.rooms[one.at]) if is_picked else {},
        "from_west": format_length(extent.west, said.unit),
        "from_south": format_length(extent.south, said.unit),
        "level_ceiling": said.levels.get(room.level, ""),
    }


def _under(sketch: Sketch, level: str, said: Form) -> list[list[list[float]]]:
    """The outlines of the level before this one, else of the one after it."""
    levels = list(said.levels)
    at = levels.index(level) if level in levels else 0
    other = next(iter([*levels[at - 1 : at], *levels[at + 1 : at + 2]]), "")
    rooms = [one.room for one in sketch.drawn.values() if one.placed and one.room.level == other]
    return [[list(corner) for corner in room.corners] for room in rooms[:MOST_DRAWN]]


def _openings(house: House, level: str, placed: set[str], library: Library) -> list[Part]:
    rooms = [room for room in house.rooms if room.level == level and room.name in placed]
    found = []
    for room in rooms:
        for one in placements(house, library)[room.name]:
            if one.side == "near":
                told = f"{one.opening.name}: {one.opening.kind}" + (f" to {one.other}" if one.other else "")
                ends = {"from": one.jambs[0], "to": one.jambs[1]}
                found.append({"name": one.opening.name, "kind": one.opening.kind, "told": told, **ends})
    return found


# Tables


def table_part(sketch: Sketch, look: Look, faults: Iterable[Problem], library: Library) -> Part:
    """Some rows of one table, each with its faults, and the lists of its columns."""
    rows = sketch.rows(look.file)
    words = look.find.casefold()
    found = [at for at, row in enumerate(rows) if not words or any(words in cell.casefold() for cell in row.values())]
    told: dict[int, list[Part]] = {}
    for fault in faults:
        if fault.file == look.file and fault.row and fault.row > 1:
            told.setdefault(fault.row - 2, []).append(_fault(fault))
    first = min(look.first, max(0, (len(found) - 1) // PAGE * PAGE))
    lists = _lists(sketch, library)
    return {
        "file": look.file,
        "title": TITLES[look.file],
        "hint": HINTS[look.file],
        "files": [{"file": file, "title": f"{title} ({len(sketch.rows(file))})"} for file, title in TITLES.items()],
        "columns": [_column(look.file, column) for column in TABLES[look.file]],
        "lists": lists,
        "rows": [
            {
                "at": at,
                "number": at + 2,
                "cells": [rows[at][column] for column in TABLES[look.file]],
                "lists": _lists_of_row(look.file, rows[at], sketch, library),
                "faults": told.get(at, []),
            }
            for at in found[first : first + PAGE]
        ],
        "first": first,
        "page": PAGE,
        "total": len(found),
        "find": look.find,
    }


LISTS = {
    ROOMS: {"level": "levels", "use": "uses"},
    OPENINGS: {"kind": "kinds", "room": "rooms", "other": "others", "leaf": "leaves", "lights": "lights"},
    existing.EXISTING: {"room": "rooms", "element": "elements"},
    fixtures.FIXTURES: {"kind": "fixtures", "room": "rooms"},
    flights.STAIRS: {"room": "rooms", "up": "ways"},
    rates.RATES: {"rate": "rates", "confirmed": "yes or no"},
}
"""The columns that have a list, and which."""

FREE = ("lights", "level", "form")
"""Columns whose list is offered beside what else may be typed."""


def _column(file: str, column: str) -> Part:
    size = NOTES if column in WIDE_COLUMNS else NARROW
    return {"name": column, "list": LISTS[file].get(column, ""), "free": column in FREE, "size": size}


def _lists(sketch: Sketch, library: Library) -> dict[str, list[str]]:
    counts = sorted(row.count for row in library.hung.lights)
    rooms = list(dict.fromkeys(sketch.room_names))
    return {
        "levels": list(form(sketch).levels),
        "uses": [use.name for use in library.uses],
        "kinds": list(library.opening_kinds),
        "rooms": rooms,
        "others": [OUTSIDE, *rooms],
        "leaves": [leaf.name for leaf in library.leaves],
        "lights": [f"{count}/{count}" for count in counts] + [str(count) for count in counts],
        "elements": [WHOLE_ROOM, *library.element_kinds],
        "fixtures": list(library.fixture_kinds),
        "ways": ["left", "right"],
        "rates": list(library.rate_names),
        "yes or no": [rates.YES, rates.NO],
    }


def _lists_of_row(file: str, row: Mapping[str, str], sketch: Sketch, library: Library) -> dict[str, list[str]]:
    """The lists that depend on the row: the walls of its room, the forms of its element, what its kind can have."""
    found: dict[str, list[str]] = {}
    if "wall" in TABLES[file]:
        found["wall"] = _walls(row["room"], sketch)
    if file == OPENINGS and row["kind"]:
        found |= {column: [] for column, kinds in HAVE.items() if row["kind"].casefold() not in kinds}
    if file == existing.EXISTING:
        found["form"] = [*(one.name for one in library.forms if one.element == row["element"].casefold()), NO_FORM]
    if file == rates.RATES and (rate := library.rate_names.get(row["rate"].casefold())) is not None:
        found["unit"] = list(rate.units)
    return found


def _walls(room: str, sketch: Sketch) -> list[str]:
    one = next((one for one in sketch.drawn.values() if one.room.name == room), None)
    return [wall.name for wall in one.room.walls] if one and one.placed else ["N", "E", "S", "W"]


# What is said


def said_part(
    sketch: Sketch,
    news: str,
    is_refused: bool,
    unsaved: Sequence[str],
    undo: str,
    redo: str,
    faults: Sequence[Problem],
) -> Part:
    """What was done, what is not saved, and what is wrong: errors with their places first."""
    errors = [fault for fault in faults if fault.severity == "error"]
    doubts = len(faults) - len(errors)
    parts = [counted(len(errors), "fault") + " to mend before it can be saved"] if errors else []
    parts += [counted(doubts, "doubt")] if doubts else []
    return {
        "news": news,
        "is_refused": is_refused,
        "is_saved": not unsaved,
        "unsaved": f"Not saved yet: {', '.join(unsaved)}." if unsaved else "All that is drawn is saved.",
        "undo": undo,
        "redo": redo,
        "summary": " and ".join(parts),
        "is_open": bool(errors),
        "faults": [_fault(fault) for fault in faults[:MOST_LISTED]],
        "unit": unit_of(sketch),
    }


MOST_LISTED = 40
"""So many faults are listed; the others stand at their cells."""


def _fault(fault: Problem) -> Part:
    place = f"{fault.file}" + (f" row {fault.row}" if fault.row else "") + (f", {fault.column}" if fault.column else "")
    return {
        "file": fault.file if fault.file in TABLES and fault.row else "",
        "row": fault.row or 0,
        "column": fault.column or "",
        "place": place if fault.file != HOUSE else f"the form, {fault.column}",
        "words": f"{fault.message}; {fault.remedy}",
        "is_error": fault.severity == "error",
    }
