"""A room renamed wherever a house folder names it: its tables, its entries, its alternatives and their drafts; and a
house saved as it was drawn, with all that it renames."""

from collections.abc import Collection, Iterable, Mapping
from pathlib import Path
from typing import Any

import tomlkit

from planner.files.csv_tables import parse_table, table_bytes
from planner.files.journal import is_there
from planner.files.problems import HouseFault, Problem, choose, raise_errors
from planner.files.storage import names_in, read_bytes, replace_files, writing
from planner.files.toml_settings import parse_settings
from planner.house import notes
from planner.house.editing import TABLES, save_cells
from planner.house.faults import ROOMS
from planner.house.folder import ALTERNATIVES, read_house
from planner.house.model import House
from planner.house.parsing import ALSO, FILES, HOUSE, parse_house, written_columns
from planner.house.sketch import NAMING, Renamed, Sketch
from planner.house.styles import house_library
from planner.intent.renamed import RENAMED, with_renamings
from planner.library import Library
from planner.units import quoted

NAMED_IN = {file: (TABLES[file], naming) for file, naming in NAMING.items()} | {notes.NOTES: (notes.COLUMNS, ("room",))}
"""The columns of each table, and those of them that name rooms."""


def rename_room(folder: str | Path, old: str, new: str, library: Library | None = None) -> House:
    """Rename a room in every file of a house folder that names it, all of them or none.

    What people said of it stays as they said it; a record of the renaming lets it be found under the new name.

    Parameters
    ----------
    folder : of the house.
    old : what the room is called.
    new : what it is to be called.
    library : what the trade knows; the standard one with the house's own styles where None.

    Returns
    -------
    The house as it is then.

    Raises
    ------
    HouseFault : the house is faulty, has no such room or has one of the new name, the name is none, or an alternative
        cannot be read or written; nothing was changed.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import new_house
    >>> folder = Path(mkdtemp()) / "lodge"
    >>> new_house(folder)
    >>> rename_room(folder, "Entry Hall", "Front Hall").entries
    ('Front Hall',)
    """
    folder, problems = Path(folder), list[Problem]()
    with writing(folder):
        library = library or house_library(folder)[0]
        house, _ = read_house(folder, library)
        if old not in house.by_name:
            message = f"there is no room {quoted(old)}"
            raise HouseFault([Problem(ROOMS, None, "room", message, choose(old, house.by_name))])
        written = _files(folder, old, new)
        renamed = parse_house({name: written.get(name) for name in (*FILES, *ALSO)}, problems, library)
        raise_errors(problems)
        if list(renamed.by_name) != [new if name == old else name for name in house.by_name]:
            message = f"{quoted(new)} begins or ends with a blank"
            raise HouseFault([Problem(ROOMS, None, "room", message, "write it without")])
        replace_files(folder, {**written, RENAMED: with_renamings(folder, {old: new})})
    return renamed


def save_sketch(
    folder: str | Path, sketch: Sketch, files: Collection[str], expected: Mapping[str, bytes | None]
) -> tuple[House, tuple[Problem, ...]]:
    """Save a house as it was drawn, all of its files or none; what it calls otherwise is called so in its alternatives,
    and what people said of a room is found under its new name.

    Parameters
    ----------
    files : those of the sketch that were changed; the others stay as they are.
    expected : what the writer has seen of them, as in `planner.files.storage.replace_files`.

    Returns
    -------
    The house as it is then, and the warnings on it.

    Raises
    ------
    Overtaken, HouseFault : as in `planner.house.editing.save_cells`; the folder is as it was.
    """
    folder, problems = Path(folder), list[Problem]()
    with writing(folder):
        also = {HOUSE: sketch.toml.encode("utf-8", "surrogatepass")} if HOUSE in files else {}
        renamed = sketch.renamed
        if renamed.rooms or renamed.levels:
            also |= _settings_of(folder, _alternatives(folder, problems), renamed, problems)
            raise_errors(problems)
        if renamed.rooms:
            also |= {RENAMED: with_renamings(folder, renamed.rooms), **_noted(folder, renamed.rooms)}
        tables = {file: sketch.rows(file) for file in files if file != HOUSE}
        return save_cells(folder, tables, expected, also)


def _noted(folder: Path, names: Mapping[str, str]) -> dict[str, bytes]:
    """The notes of a house with rooms renamed, where there are any."""
    problems: list[Problem] = []
    if not is_there(folder / notes.NOTES):
        return {}
    data = read_bytes(folder / notes.NOTES, notes.NOTES, problems) or b""
    made = _table(data, notes.NOTES, names, problems)
    raise_errors(problems)
    return {notes.NOTES: made} if made is not data else {}


def _files(folder: Path, old: str, new: str) -> dict[str, bytes]:
    """Every file of a house that may name a room, with the new name in the place of the old."""
    problems, names = list[Problem](), {old: new}
    written = {
        file: _table(read_bytes(folder / file, file, problems) or b"", file, names, problems)
        for file in NAMED_IN
        if file in FILES or is_there(folder / file)
    }
    files = [HOUSE, *_alternatives(folder, problems)]
    written |= _settings_of(folder, files, Renamed(rooms=names), problems)
    raise_errors(problems)
    return written


def _table(data: bytes, file: str, names: Mapping[str, str], problems: list[Problem]) -> bytes:
    """A table with rooms renamed; `data` itself where it names none of them."""
    columns, naming = NAMED_IN[file]
    rows = parse_table(data, file, columns, problems, columns)
    if not any(row[column] in names for row in rows for column in naming):
        return data
    kept = written_columns(columns, data, [row.cells for row in rows])
    cells = ([names.get(row[c], row[c]) if c in naming else row[c] for c in kept] for row in rows)
    return table_bytes(kept, cells)


def _alternatives(folder: Path, problems: list[Problem]) -> list[str]:
    """The files of the alternatives of a house."""
    return [f"{ALTERNATIVES}/{name}.toml" for name in names_in(folder, ALTERNATIVES, ".toml", problems)]


def _settings_of(folder: Path, files: Iterable[str], renamed: Renamed, problems: list[Problem]) -> dict[str, bytes]:
    """Those files of settings that can be read, with rooms and levels renamed."""
    found: dict[str, bytes] = {}
    for file in files:
        data = read_bytes(folder / file, file, problems)
        if data is not None and parse_settings(data, file, problems) is not None:
            found[file] = _settings(data, renamed)
    return found


def _settings(data: bytes, renamed: Renamed) -> bytes:
    """A file of settings with rooms and levels renamed: as entries, as keys of wishes, and in lists."""
    document = tomlkit.parse(data.decode("utf-8-sig"))
    before = tomlkit.dumps(document)
    _put_in_list(document, "entry", renamed.rooms)
    rooms = document.get("rooms")
    if isinstance(rooms, Mapping) and any(name in rooms for name in renamed.rooms):
        document["rooms"] = _with_keys(document["rooms"], renamed.rooms)
    for listed in document.values():
        for one in listed if isinstance(listed, list) else ():
            if isinstance(one, Mapping):
                _put_in_list(one, "rooms", renamed.rooms)
                _put_in_list(one, "levels", renamed.levels)
    after = tomlkit.dumps(document)
    return data if after == before else after.encode("utf-8", "surrogatepass")


def _put_in_list(table: Any, key: str, names: Mapping[str, str]) -> None:
    value = table.get(key)
    if isinstance(value, str) and value in names:
        table[key] = names[value]
    elif isinstance(value, list):
        for at, name in enumerate(value):
            if isinstance(name, str) and name in names:
                value[at] = names[name]


def _with_keys(table: Any, names: Mapping[str, str]) -> Any:
    """A table of tables with other keys in the place of some, in the same order; one that is there already stays."""
    made = tomlkit.table(is_super_table=True)
    kept = {key for key in table if key not in names}
    for key, value in table.items():
        made[key if (new := names.get(key, key)) in kept else new] = value
    return made
