"""A house folder: read with every fault told in one pass, written whole or not at all."""

import shutil
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from contextlib import suppress
from os.path import lexists
from pathlib import Path
from tempfile import mkdtemp
from time import time
from typing import Any, NamedTuple

import tomlkit

from planner.files.csv_tables import parse_table, table_bytes
from planner.files.problems import HouseFault, Problem, raise_errors, reason_of, summed_up
from planner.files.storage import bytes_before, read_bytes, replace_files, settled, writing
from planner.files.toml_settings import Settings, parse_settings
from planner.house.faults import OPENINGS, ROOMS
from planner.house.model import Fixture, Flight, House, Opening, OwnRate, Room
from planner.house.parsing import (
    ALSO,
    FILES,
    FORMAT,
    HOUSE,
    OPENING_COLUMNS,
    ROOM_COLUMNS,
    Files,
    house_unit,
    level_ceilings,
    parse_house,
    spelled_outline,
    written_columns,
)
from planner.house.side_tables import SIDE_TABLES
from planner.house.styles import house_library, with_own_faults
from planner.house.takeoff_settings import respell_takeoff, write_takeoff
from planner.library import Library
from planner.units import INCHES_IN, Unit, quoted, spell_length

ALTERNATIVES = "alternatives"
"""The folder in a house's own that holds its alternatives."""

REVIEWS = "reviews"
"""The folder in a house's own that holds what people said of it."""

HALF_MADE = ".planner-new-"
"""Begins the name of a folder beside that of a new house, in which the house is made."""

LONG_AGO = 3600
"""Nobody is at making a house for so long [s]."""

Cells = Mapping[str, str]


def read_house(folder: str | Path, library: Library | None = None) -> tuple[House, tuple[Problem, ...]]:
    """Read a house folder.

    Parameters
    ----------
    folder : where house.toml, rooms.csv and openings.csv are, and those of existing.csv, fixtures.csv, stairs.csv
        and rates.csv that it has.
    library : what the trade knows; the standard one with the house's own styles where None.

    Returns
    -------
    The house, and the warnings: what is doubtful, and what was filled in for blank cells.

    Raises
    ------
    HouseFault : the folder is faulty; it holds every error and warning found in one pass.

    Examples
    --------
    >>> from planner import demo_house
    >>> house, warnings = read_house(demo_house())
    >>> house.name, house.by_name["Entry Hall"].ceiling
    ('Thornapple House', 120.0)
    """
    folder = Path(folder)
    problems = _folder_faults(folder)
    raise_errors(problems)
    remedy = "add it, or make a new house folder to begin with"
    with settled(folder):
        there = (*FILES, *(name for name in ALSO if lexists(folder / name)))
        files = {name: read_bytes(folder / name, name, problems, remedy) for name in there}
        library, told = (library, ()) if library else house_library(folder)
    house = parse_house(files, problems, library)
    problems = list(with_own_faults(problems, told))
    raise_errors(problems)
    return house, summed_up(problems)


def write_house(house: House, folder: str | Path, library: Library | None = None) -> tuple[Problem, ...]:
    """Write house.toml, rooms.csv, openings.csv and, where the house has what they hold, existing.csv, fixtures.csv,
    stairs.csv and rates.csv into a folder, all or none.

    What a person wrote stays as it is wherever it means the same: comments in house.toml, spellings of lengths and
    uses, blank cells.

    Parameters
    ----------
    house : what is to be written.
    folder : where; it is made where it is not there.
    library : what the trade knows; the standard one with the folder's own styles where None.

    Returns
    -------
    The warnings that reading the folder would give.

    Raises
    ------
    HouseFault : the house is faulty, or the folder cannot be written; nothing was changed.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> hall = Room("Hall", "Ground", "entry hall", 192.0, 144.0, 108.0)
    >>> folder = mkdtemp()
    >>> write_house(House("Lodge", ("Hall",), (hall,), ()), folder)
    ()
    >>> read_house(folder)[0].by_name["Hall"].width
    144.0
    """
    folder = Path(folder)
    library = library or house_library(folder)[0]
    if lexists(folder):
        raise_errors(_folder_faults(folder))
    problems: list[Problem] = []
    with writing(folder):
        before = {name: bytes_before(folder / name, name) for name in (*FILES, *ALSO)}
        if (said := before[HOUSE]) is not None:
            parse_settings(said, HOUSE, problems)
            raise_errors(problems)
        plain = _house_files(house, before, NOTHING_SPELLED, library)
        read = parse_house(plain, problems, library)
        raise_errors(problems)
        if list(read.by_name) != list(house.by_name):
            raise_errors([Problem(ROOMS, None, "room", "a name begins or ends with a blank", "write it without")])
        kept = _house_files(house, before, _spelled(before, house.unit, library), library)
        replace_files(folder, kept if parse_house(kept, [], library) == read else plain)
    return summed_up(problems)


def new_house(
    folder: str | Path, source: str | Path | None = None, finish: Callable[[Path], None] | None = None
) -> None:
    """Make a new house folder in inches or as its source is; `finish` does what is to be done to it before it takes its
    place. The rest is as in `planner.stock.beginning.new_house`.
    """
    folder = Path(folder)
    raise_errors(_folder_faults(Path(source)) if source is not None else [])
    try:
        if folder.exists() and not (folder.is_dir() and not any(folder.iterdir())):
            raise HouseFault([Problem(str(folder), None, None, "is there already", "choose a name that is free")])
        folder.absolute().parent.mkdir(parents=True, exist_ok=True)
        _sweep(folder.absolute().parent)
        made = Path(mkdtemp(prefix=HALF_MADE, dir=folder.absolute().parent))
        try:
            if source is None:
                hall = Room("Entry Hall", "Ground", "entry hall", 192.0, 144.0, 108.0)
                write_house(House(folder.absolute().name, (hall.name,), (hall,), ()), made)
            else:
                aside = shutil.ignore_patterns(".*", "*.draft.toml", REVIEWS)
                shutil.copytree(source, made, dirs_exist_ok=True, ignore=aside)
            (made / ALTERNATIVES).mkdir(exist_ok=True)
            if finish is not None:
                finish(made)
            made.chmod(0o755)
            made.replace(folder)
        finally:
            shutil.rmtree(made, ignore_errors=True)
    except (OSError, ValueError, shutil.Error) as error:
        message, remedy = f"cannot be made ({reason_of(error)})", "choose a folder with room that you may write"
        raise HouseFault([Problem(str(folder), None, None, message, remedy)]) from error


def _sweep(place: Path) -> None:
    """Remove what is left of houses whose making broke off long ago."""
    for left in place.glob(f"{HALF_MADE}*"):
        with suppress(OSError):
            if time() - left.stat().st_mtime > LONG_AGO:
                shutil.rmtree(left, ignore_errors=True)


def _folder_faults(folder: Path) -> list[Problem]:
    name = str(folder)
    remedy = f"give a folder with {', '.join(FILES)}"
    try:
        if folder.is_dir():
            return []
        folder.stat()
        return [Problem(name, None, None, "is not a folder", remedy)]
    except FileNotFoundError:
        return [Problem(name, None, None, "is not there", remedy)]
    except (OSError, ValueError) as error:
        return [Problem(quoted(name), None, None, f"cannot be read ({reason_of(error)})", remedy)]


class _Spelled(NamedTuple):
    """What a folder holds already: each room and opening by name, and each row of the tables that a house can do
    without by file and key, with the cells in which it was spelled."""

    rooms: Mapping[str, tuple[Room, Cells]]
    openings: Mapping[str, tuple[Opening, Cells]]
    also: Mapping[tuple[str, Hashable], tuple[Any, Cells]]


NOTHING_SPELLED = _Spelled({}, {}, {})

NAMED_BY = {Room: "room", Opening: "opening", Fixture: "fixture", Flight: "flight", OwnRate: "rate"}
"""The column that holds the name of each."""


def unit_of(folder: Path) -> Unit:
    """The unit of the house in a folder, whatever else is faulty there; inches where nothing tells it."""
    return house_unit(read_bytes(folder / HOUSE, HOUSE, []) or b"")


def _spelled(before: Files, unit: Unit, library: Library) -> _Spelled:
    """What the folder spelled so far; nothing where it was faulty, or where its bare numbers meant another unit."""
    problems: list[Problem] = []
    room_data, opening_data = before[ROOMS], before[OPENINGS]
    if room_data is None or opening_data is None or before[HOUSE] is None:
        return NOTHING_SPELLED
    house = parse_house(before, problems, library)
    if house.unit != unit or any(p.severity == "error" for p in problems):
        return NOTHING_SPELLED
    named = parse_table(room_data, ROOMS, ROOM_COLUMNS, [], ROOM_COLUMNS)
    openings = parse_table(opening_data, OPENINGS, OPENING_COLUMNS, [], OPENING_COLUMNS)
    also: dict[tuple[str, Hashable], tuple[Any, Cells]] = {}
    for table in SIDE_TABLES:
        rows = parse_table(before.get(table.file) or b"", table.file, table.columns, [], table.columns)
        facts = getattr(house, table.field)
        also |= {(table.file, table.key(one)): (one, row.cells) for one, row in zip(facts, rows, strict=True)}
    return _Spelled(
        {row["room"]: (house.by_name[row["room"]], row.cells) for row in named},
        {opening.name: (opening, row.cells) for opening, row in zip(house.openings, openings, strict=True)},
        also,
    )


def _house_files(house: House, before: Files, spelled: _Spelled, library: Library) -> dict[str, bytes]:
    """The bytes of a house's files; every cell that means what it did keeps its spelling."""
    unit: Unit = house.unit if house.unit in INCHES_IN else "in"
    rooms = (_kept(_room_cells(room, unit), room, spelled.rooms.get(room.name)) for room in house.rooms)
    openings = [_kept(_opening_cells(o, unit), o, spelled.openings.get(o.name)) for o in house.openings]
    made = {
        HOUSE: _house_toml(house, before[HOUSE], unit, library),
        ROOMS: _table_file(ROOMS, ROOM_COLUMNS, rooms, before),
        OPENINGS: _table_file(OPENINGS, written_columns(OPENING_COLUMNS, before[OPENINGS], openings), openings, before),
    }
    for table in SIDE_TABLES:
        facts = getattr(house, table.field)
        if facts or before.get(table.file) is not None:
            known = (spelled.also.get((table.file, table.key(one))) for one in facts)
            rows = (_kept(table.cells(one, unit), one, was) for one, was in zip(facts, known, strict=True))
            made[table.file] = _table_file(table.file, table.columns, rows, before)
    return made


def _table_file(file: str, columns: Sequence[str], rows: Iterable[Cells], before: Files) -> bytes:
    """The bytes of a table; those that were there where every cell is the same."""
    data = table_bytes(columns, ([cells[column] for column in columns] for cells in rows))
    old = before.get(file)
    if old is None or parse_table(old, file, columns, [], columns) != parse_table(data, file, columns, []):
        return data
    return old


def _kept(cells: Cells, what: Any, before: tuple[Any, Cells] | None) -> Cells:
    """The cells of a row, each spelled as before where it means the same."""
    if before is None:
        return cells
    was, spelled = before
    fields = {NAMED_BY[type(what)]: "name"} if type(what) in NAMED_BY else {}
    same = {c for c in cells if getattr(was, fields.get(c, c)) == getattr(what, fields.get(c, c))}
    return {column: spelled[column] if column in same else cell for column, cell in cells.items()}


def _room_cells(room: Room, unit: Unit) -> Cells:
    outline = spelled_outline(room.outline, unit)
    sides = (spell_length(room.length, unit), spell_length(room.width, unit), spell_length(room.ceiling, unit))
    values = (room.name, room.level, room.use, *sides, outline, room.notes)
    return dict(zip(ROOM_COLUMNS, values, strict=True))


def _opening_cells(opening: Opening, unit: Unit) -> Cells:
    sizes = (opening.offset, opening.width, opening.height, opening.sill)
    spelled = ("" if size is None else spell_length(size, unit) for size in sizes)
    hangs = (opening.leaf, opening.lights)
    values = (opening.name, opening.kind, opening.room, opening.other, opening.wall, *spelled, *hangs)
    return dict(zip(OPENING_COLUMNS, values, strict=True))


def _house_toml(house: House, before: bytes | None, unit: Unit, library: Library) -> bytes:
    """house.toml with what the house says; comments and all else that a person wrote stay."""
    document = tomlkit.parse((before or b"").decode("utf-8-sig"))
    if before is not None and (said := parse_settings(before, HOUSE, [])) is not None:
        _respell_levels(document, said, unit)
        respell_takeoff(document, house_unit(before), unit)
    default = House("", (), (), ())
    values: dict[str, Any] = {"format": FORMAT, "name": house.name, "unit": house.unit}
    values["entry"] = house.entries[0] if len(house.entries) == 1 else list(house.entries)
    values |= {key: getattr(house, key) or None for key in ("style", "order", "grade", "year_built", "currency")}
    values["canon"] = house.canon if house.canon != default.canon or "canon" in document else None
    for key, value in values.items():
        stands = document.get(key, getattr(default, key, None) if before is not None else None)
        if value is None:
            document.pop(key, None)
        elif stands != value and [stands] != value:
            document[key] = value
    write_takeoff(document, house.takeoff, unit, library)
    return tomlkit.dumps(document).encode("utf-8", "surrogatepass")


def _respell_levels(document: tomlkit.TOMLDocument, settings: Settings, unit: Unit) -> None:
    """Where the house's unit changes, spell the ceilings of levels in the new one."""
    was = settings.values.get("unit", "in")
    if was == unit or was not in INCHES_IN:
        return
    for level, ceiling in level_ceilings(settings, was).items():
        if ceiling is not None:
            document["levels"][level]["ceiling"] = spell_length(ceiling, unit)
