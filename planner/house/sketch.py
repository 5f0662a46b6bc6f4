"""A house as it is being drawn: the text of its settings and the cells of its tables, changed by people step by step.

Whatever is typed stands in it, faulty or not; `faults` tells what is wrong. A step gives a new sketch, so that each can
be undone.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

import tomlkit

from planner.files.csv_tables import Row, table_bytes
from planner.files.problems import Problem, raise_errors
from planner.files.toml_settings import Settings, parse_settings
from planner.house import existing, fixtures, flights, rates
from planner.house.editing import TABLES
from planner.house.faults import OPENINGS, ROOMS
from planner.house.model import OUTSIDE, House, Point, Room
from planner.house.parsing import ALSO, HOUSE, outline_of, parse_house, sides_of, spelled_outline
from planner.house.placing import box, shelved, tidy
from planner.house.takeoff_settings import respell_takeoff
from planner.library import Library
from planner.units import LengthError, Unit, as_unit, parse_length, spell_length

Cells = Mapping[str, str]
Rows = tuple[Cells, ...]

LENGTHS = {
    ROOMS: ("length", "width", "ceiling"),
    OPENINGS: ("offset", "width", "height", "sill"),
    existing.EXISTING: existing.SIZES,
    fixtures.FIXTURES: fixtures.SIZES,
    flights.STAIRS: ("offset", "rise", "run", "foot"),
    rates.RATES: (),
}
"""The columns of each table that hold lengths."""

NAMING = {file: tuple(c for c in ("room", "other") if c in columns) for file, columns in TABLES.items()}
"""The columns of each table that hold names of rooms."""


@dataclass(frozen=True)
class Renamed:
    """What is called otherwise than in the files: the name now by the name there, of rooms and of levels."""

    rooms: Mapping[str, str] = field(default_factory=dict)
    levels: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Drawn:
    """A room on the board, of the row `at` of its table; one that no outline places is drawn beside the others."""

    at: int
    room: Room
    placed: bool


@dataclass(frozen=True)
class Sketch:
    """The text of house.toml, the rows of every table by its file, and what has been renamed since they were read."""

    toml: str
    tables: Mapping[str, Rows]
    renamed: Renamed = Renamed()

    def rows(self, file: str) -> Rows:
        """The rows of a table."""
        return self.tables.get(file, ())

    def with_rows(self, file: str, rows: Iterable[Cells]) -> "Sketch":
        """The sketch with other rows in one of its tables."""
        return replace(self, tables={**self.tables, file: tuple(rows)})

    @property
    def room_names(self) -> tuple[str, ...]:
        """The names of the rooms, in the order of their rows."""
        return tuple(row["room"] for row in self.rooms if row["room"])

    @property
    def rooms(self) -> Rows:
        """The rows of rooms."""
        return self.rows(ROOMS)

    @cached_property
    def drawn(self) -> Mapping[int, Drawn]:
        """The rooms that can be drawn, by their rows: those with an outline in its place, the others in rows below."""
        unit = unit_of(self)
        rooms = {at: _room(row, unit) for at, row in enumerate(self.rooms)}
        found = {at: Drawn(at, room, True) for at, room in rooms.items() if room.outline}
        for level in dict.fromkeys(room.level for room in rooms.values()):
            boxes = [box(one.room.outline) for one in found.values() if one.room.level == level]
            waiting = {at: room for at, room in rooms.items() if room.level == level and at not in found and room.area}
            for at, place in zip(waiting, shelved([(r.length, r.width) for r in waiting.values()], boxes), strict=True):
                found[at] = Drawn(at, replace(waiting[at], outline=place.corners), False)
        return dict(sorted(found.items()))


@dataclass(frozen=True)
class Form:
    """What the settings say, as text; `levels` has the ceiling of each level by its name, "" where it has none."""

    name: str
    entries: tuple[str, ...]
    levels: Mapping[str, str]
    style: str
    grade: str
    unit: Unit
    currency: str
    year_built: str


def form(sketch: Sketch) -> Form:
    """What the settings of a house say; what they leave out is as a house has it, and the levels of rooms are among
    the levels, with the ceiling that most of their rooms have."""
    said, default = _settings(sketch), House("", (), (), ())
    values, given = said.values, said.inner("levels")
    of_rooms = list(dict.fromkeys(row["level"] for row in sketch.rooms if row["level"]))
    ceilings = {name: _text(given.inner(name).values.get("ceiling")) for name in _in_order(given.values, of_rooms)}
    for level in of_rooms:
        ceilings[level] = ceilings[level] or _usual_ceiling(sketch, level)
    return Form(
        name=_text(values.get("name")),
        entries=said.names("entry") or (),
        levels=ceilings,
        style=_text(values.get("style")) or default.style,
        grade=_text(values.get("grade")) or default.grade,
        unit=unit_of(sketch),
        currency=_text(values.get("currency")) or default.currency,
        year_built=_text(values.get("year_built")),
    )


def _in_order(given: Iterable[str], of_rooms: Sequence[str]) -> list[str]:
    """The levels that the settings give, and each of the rooms' others before those that come after it or are new.

    >>> _in_order(["Upper"], ["Ground"]), _in_order(["Ground"], ["Ground", "Upper"])
    (['Ground', 'Upper'], ['Ground', 'Upper'])
    """
    found, after = list(given), {*given}
    for level in of_rooms:
        after.discard(level)
        if level not in found:
            found.insert(next((at for at, name in enumerate(found) if name in after), len(found)), level)
    return found


def has_ceiling(sketch: Sketch, level: str) -> bool:
    """Whether the settings give a level a ceiling."""
    return "ceiling" in _settings(sketch).inner("levels").inner(level)


def unit_of(sketch: Sketch) -> Unit:
    """The unit of bare numbers; inches where the settings name none that there is."""
    try:
        return as_unit(_text(_settings(sketch).values.get("unit", "in")))
    except ValueError:
        return "in"


def judged(sketch: Sketch, library: Library) -> tuple[House, tuple[Problem, ...]]:
    """The house as far as it is sound, and every fault and doubt; row 2 of a table is the first of its rows here."""
    problems: list[Problem] = []
    files = {HOUSE: sketch.toml.encode("utf-8", "surrogatepass")}
    for file, columns in TABLES.items():
        if sketch.rows(file) or file not in ALSO:
            files[file] = table_bytes(columns, ([row[c] for c in columns] for row in sketch.rows(file)))
    house = parse_house(files, problems, library)
    return house, tuple(problems)


# Settings


def settings_text(data: bytes) -> str:
    """The text of house.toml. Raises HouseFault where it is none that can be read."""
    problems: list[Problem] = []
    parse_settings(data, HOUSE, problems)
    raise_errors(problems)
    return data.decode("utf-8-sig")


def changed_settings(before: str, now: str) -> dict[str, tuple[str, str]]:
    """What each key of the settings was and is, where the two differ."""
    was, is_now = tomlkit.parse(before), tomlkit.parse(now)
    keys = dict.fromkeys([*was, *is_now])
    return {key: (_text(was.get(key)), _text(is_now.get(key))) for key in keys if was.get(key) != is_now.get(key)}


def merged_settings(before: str, mine: str, theirs: str) -> str:
    """Their settings with my changes in them; a key that both changed is as I changed it."""
    said, document = tomlkit.parse(mine), tomlkit.parse(theirs)
    for key in changed_settings(before, mine):
        if key in said:
            document[key] = said[key]
        else:
            document.pop(key, None)
    return tomlkit.dumps(document)


def rebased(sketch: Sketch, saved: Renamed) -> Sketch:
    """A sketch of before a saving, its renamings told from the names that were saved."""

    def from_there(names: Mapping[str, str], now: Mapping[str, str]) -> dict[str, str]:
        was = {now.get(name, name): names.get(name, name) for name in {**now, **names}}
        return {old: new for old, new in was.items() if old != new}

    renamed = sketch.renamed
    rooms, levels = from_there(renamed.rooms, saved.rooms), from_there(renamed.levels, saved.levels)
    return replace(sketch, renamed=Renamed(rooms, levels))


def with_setting(sketch: Sketch, key: str, value: object) -> Sketch:
    """The sketch with one key of its settings changed, or without it where the value is None; comments stay."""
    document = tomlkit.parse(sketch.toml)
    if value is None:
        document.pop(key, None)
    elif document.get(key) != value:
        document[key] = value
    return replace(sketch, toml=tomlkit.dumps(document))


def with_entry(sketch: Sketch, room: str) -> Sketch:
    """The sketch with the room at which guests arrive; other entries stay behind it."""
    entries = list(dict.fromkeys([room, *form(sketch).entries[1:]]))
    return with_setting(sketch, "entry", entries[0] if len(entries) == 1 else entries)


def with_level(sketch: Sketch, level: str, ceiling: str) -> Sketch:
    """The sketch with a ceiling for a level, which is added where it is new.

    Rooms whose own ceiling is the one that the level had follow it.
    """
    before, unit = form(sketch).levels.get(level, ""), unit_of(sketch)
    document = tomlkit.parse(sketch.toml)
    levels = document.setdefault("levels", tomlkit.table(is_super_table=True))
    if ceiling:
        levels.setdefault(level, tomlkit.table())["ceiling"] = ceiling
    else:
        levels.pop(level, None)
    if not levels:
        document.pop("levels")
    follows = inches(before, unit)
    rows = [
        {**row, "ceiling": ""} if ceiling and row["level"] == level and inches(row["ceiling"], unit) == follows else row
        for row in sketch.rooms
    ]
    return replace(sketch.with_rows(ROOMS, rows), toml=tomlkit.dumps(document))


def without_level(sketch: Sketch, level: str) -> Sketch:
    """The sketch without a level. Raises ValueError where rooms are on it."""
    if any(row["level"] == level for row in sketch.rooms):
        raise ValueError(f"{level} has rooms on it; put them on another level first, or remove them")
    return with_level(sketch, level, "")


def renamed_level(sketch: Sketch, old: str, new: str) -> Sketch:
    """The sketch with a level renamed wherever it is named. Raises ValueError where that cannot be."""
    new = new.strip()
    if not new or new in form(sketch).levels:
        raise ValueError(f"there is a level {new} already" if new else "a level needs a name")
    ceiling = form(sketch).levels.get(old, "")
    stands = old in _settings(sketch).inner("levels").values
    made = with_level(with_level(sketch, old, ""), new, ceiling) if stands else sketch
    rows = [{**row, "level": new} if row["level"] == old else row for row in sketch.rooms]
    renamed = replace(sketch.renamed, levels=_follow(sketch.renamed.levels, old, new))
    return replace(made.with_rows(ROOMS, rows), renamed=renamed)


def with_unit(sketch: Sketch, unit: Unit) -> Sketch:
    """The sketch with every length that can be read in another unit, to the nearest sixteenth of an inch or millimetre,
    and that unit for bare numbers."""
    was = unit_of(sketch)
    tables = {
        file: tuple({**row, **{column: _respelled(row[column], was, unit) for column in LENGTHS[file]}} for row in rows)
        for file, rows in sketch.tables.items()
    }
    outlined = ({**row, "outline": _outline_in(row, was, unit)} for row in tables.get(ROOMS, ()))
    tables[ROOMS] = tuple(_measured(row, unit) for row in outlined)
    document = tomlkit.parse(sketch.toml)
    document["unit"] = unit
    for level in document.get("levels", {}).values():
        if isinstance(level, Mapping) and "ceiling" in level:
            level["ceiling"] = _respelled(_text(level["ceiling"]), was, unit)  # type: ignore[index]
    respell_takeoff(document, was, unit)
    return replace(sketch, toml=tomlkit.dumps(document), tables=tables)


# Cells and rows


def with_cell(sketch: Sketch, file: str, at: int, column: str, text: str) -> Sketch:
    """The sketch with one cell changed, in a new row where `at` is the one after the last.

    A room that is renamed is renamed wherever it is named; its sides follow its outline and its outline them.
    """
    rows = list(sketch.rows(file))
    if at == len(rows):
        rows.append(dict.fromkeys(TABLES[file], ""))
    text, before = text.strip(), rows[at]
    if before[column] == text:
        return sketch
    rows[at] = {**before, column: text}
    if file == ROOMS:
        rows[at] = _agreed(rows[at], column, unit_of(sketch))
    made = sketch.with_rows(file, rows)
    if (file, column) == (ROOMS, "room"):
        return _followed(made, before["room"], text)
    return made


def without_row(sketch: Sketch, file: str, at: int) -> Sketch:
    """The sketch without a row; with a room goes what names it: its openings, and what stands in it."""
    gone = sketch.rows(file)[at]
    made = sketch.with_rows(file, (row for place, row in enumerate(sketch.rows(file)) if place != at))
    name = gone["room"] if file == ROOMS else ""
    if not name or name in made.room_names:
        return made
    for other, columns in NAMING.items():
        if other != ROOMS:
            made = made.with_rows(other, (row for row in made.rows(other) if name not in [row[c] for c in columns]))
    return made


def with_row(sketch: Sketch, file: str, cells: Cells) -> Sketch:
    """The sketch with one row more; cells that are not given are blank."""
    return sketch.with_rows(file, (*sketch.rows(file), {**dict.fromkeys(TABLES[file], ""), **cells}))


def outline_cells(corners: Sequence[Point], unit: Unit) -> dict[str, str]:
    """The cells that say where a room is and how large: its outline and its sides."""
    extent = box(corners)
    return {
        "outline": spelled_outline(corners, unit),
        "length": spell_length(tidy(extent.east - extent.west, unit), unit),
        "width": spell_length(tidy(extent.north - extent.south, unit), unit),
    }


def outline(row: Cells, unit: Unit) -> tuple[Point, ...]:
    """The corners that a row of rooms says [in]; none where it says none that can be read."""
    return outline_of(Row(ROOMS, 0, dict(row)), unit, []) or ()


def sides(row: Cells, unit: Unit) -> tuple[float, float]:
    """Length and width that a row of rooms says [in], 0 where it says none that can be read."""
    return sides_of(Row(ROOMS, 0, dict(row)), unit, outline(row, unit), [])


def inches(text: str, unit: Unit) -> float | None:
    """The length in a cell [in]; None where it is blank or none."""
    try:
        return parse_length(text, unit) if text else None
    except LengthError:
        return None


def _room(row: Cells, unit: Unit) -> Room:
    return Room(row["room"], row["level"], row["use"], *sides(row, unit), 0.0, outline(row, unit))


def _agreed(row: Cells, column: str, unit: Unit) -> Cells:
    """A row of rooms of which one cell was changed, with its sides and its outline in agreement where both can be read.

    A rectangle keeps its south-west corner.
    """
    corners = outline(row, unit)
    if column == "outline" and corners:
        return {**row, **outline_cells(corners, unit), "outline": row["outline"]}
    if column not in ("length", "width") or len(corners) != 4 or set(corners) != set(box(corners).corners):
        return row
    length, width = sides(row, unit)
    west, south, *_ = extent = box(corners)
    if not (row[column] and length and width) or (length, width) == (extent.east - west, extent.north - south):
        return row
    return {**row, "outline": spelled_outline(extent._replace(east=west + length, north=south + width).corners, unit)}


def _measured(row: dict[str, str], unit: Unit) -> dict[str, str]:
    """A row of rooms whose sides, where it says any, are those of its outline, where that can be read."""
    corners = outline(row, unit)
    measured = outline_cells(corners, unit) if corners else row
    return {**row, **{side: measured[side] for side in ("length", "width") if row[side]}}


def _followed(sketch: Sketch, old: str, new: str) -> Sketch:
    """The sketch with a room's new name wherever the old one stands, where it is clear which room is meant."""
    if not old or not new or old in sketch.room_names or sketch.room_names.count(new) > 1 or new == OUTSIDE:
        return sketch
    for file, columns in NAMING.items():
        if file != ROOMS:
            rows = ({**row, **{c: new for c in columns if row[c] == old}} for row in sketch.rows(file))
            sketch = sketch.with_rows(file, rows)
    entries = form(sketch).entries
    if old in entries:
        named = [new if entry == old else entry for entry in entries]
        sketch = with_setting(sketch, "entry", named[0] if len(named) == 1 else named)
    return replace(sketch, renamed=replace(sketch.renamed, rooms=_follow(sketch.renamed.rooms, old, new)))


def _follow(renamed: Mapping[str, str], old: str, new: str) -> Mapping[str, str]:
    """Names by those in the files, with one more renaming."""
    first = next((was for was, now in renamed.items() if now == old), old)
    others = {was: now for was, now in renamed.items() if was != first}
    return others if first == new else {**others, first: new}


# Words and numbers


def _settings(sketch: Sketch) -> Settings:
    return parse_settings(sketch.toml.encode("utf-8", "surrogatepass"), HOUSE, []) or Settings({}, HOUSE, [])


def _text(value: Any) -> str:
    return "" if value is None else str(value)


def _usual_ceiling(sketch: Sketch, level: str) -> str:
    """The ceiling that most rooms of a level have of their own."""
    own = Counter(row["ceiling"] for row in sketch.rooms if row["level"] == level and row["ceiling"])
    return max(own, key=own.__getitem__, default="")


def _respelled(text: str, was: Unit, unit: Unit) -> str:
    read = inches(text, was)
    return text if read is None else spell_length(tidy(read, unit), unit)


def _outline_in(row: Cells, was: Unit, unit: Unit) -> str:
    corners = outline(row, was)
    rounded = [(tidy(x, unit), tidy(y, unit)) for x, y in corners]
    return spelled_outline(rounded, unit) if corners else row["outline"]


def changed_files(before: Sketch, now: Sketch) -> Iterator[str]:
    """The files of a house that say something else than before."""
    if now.toml != before.toml:
        yield HOUSE
    yield from (file for file in TABLES if list(now.rows(file)) != list(before.rows(file)))
