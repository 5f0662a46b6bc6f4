"""The alternatives in a house folder: listed, read with every fault told, written whole or not at all."""

from collections.abc import Collection, Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from planner.files.csv_tables import parse_table
from planner.files.names import is_file_name, safe_name
from planner.files.problems import HouseFault, Problem, nearest, raise_errors
from planner.files.storage import bytes_before, names_in, read_bytes, replace_files, settled, writing
from planner.files.toml_settings import parse_settings
from planner.house.faults import OPENINGS, ROOMS, STOCK
from planner.house.folder import ALTERNATIVES, unit_of
from planner.house.styles import house_library, with_own_faults
from planner.intent.model import Intent
from planner.intent.parsing import intent_bytes, parse_intent
from planner.intent.trim_text import Names
from planner.library import Library
from planner.units import quoted


def list_intents(folder: str | Path) -> tuple[str, ...]:
    """Names of the alternatives in a house folder, sorted; drafts are none.

    Parameters
    ----------
    folder : of the house.

    Raises
    ------
    HouseFault : its alternatives cannot be read.

    Examples
    --------
    >>> from planner import demo_house
    >>> list_intents(demo_house())
    ('easy', 'formal', 'measured')
    """
    problems: list[Problem] = []
    with settled(Path(folder)):
        names = names_in(Path(folder), ALTERNATIVES, ".toml", problems)
    raise_errors(problems)
    return tuple(name for name in names if not name.startswith(".") and not name.endswith(".draft"))


def read_intent(folder: str | Path, name: str, library: Library | None = None) -> Intent:
    """Read an alternative of a house.

    The rooms that it names must stand in the folder's rooms.csv; a folder without one, such as one of drafts, has
    no rooms to check them against.

    Parameters
    ----------
    folder : of the house.
    name : of the alternative, that of its file without the ending.
    library : what the trade knows; the standard one with the house's own styles where None.

    Raises
    ------
    HouseFault : there is no such alternative, or it is faulty; all faults are in it.

    Examples
    --------
    >>> from planner import demo_house
    >>> read_intent(demo_house(), "formal").grade
    'great house'
    """
    folder = Path(folder)
    problems: list[Problem] = []
    file = intent_file(name)
    others = [quoted(other) for other in nearest(name, list_intents(folder)) or list_intents(folder)[:12]]
    remedy = f"there {'is' if len(others) == 1 else 'are'} {', '.join(others)}" if others else "save one of that name"
    with settled(folder):
        data = read_bytes(folder / file, file, problems, remedy) or b""
        raise_errors(problems)
        library, told = (library, ()) if library else house_library(folder)
        names = _names_of(folder)
    intent = parse_intent(data, file, name, names, problems, library)
    raise_errors(with_own_faults(problems, told))
    return intent


def intent_file(name: str) -> str:
    """Where an alternative of that name stands in a house folder. Raises HouseFault where it is no name of a file."""
    if not is_file_name(name):
        message = f"{quoted(name)} cannot be the name of a file"
        remedy = "write letters, digits, blanks and hyphens, e.g. plainer upstairs"
        raise HouseFault([Problem(ALTERNATIVES, None, None, message, remedy)])
    return f"{ALTERNATIVES}/{name}.toml"


def write_intent(
    intent: Intent,
    folder: str | Path,
    name: str | None = None,
    library: Library | None = None,
    *,
    also: Mapping[str, bytes | None] | None = None,
    expected: Mapping[str, bytes | None] | None = None,
) -> Path:
    """Write an alternative of a house under a name, its own if none is given; comments of a person's stay.

    Parameters
    ----------
    intent : the alternative.
    folder : of the house.
    name : of its file, without the ending; the alternative's own where None.
    library : what the trade knows; the standard one with the house's own styles where None.
    also, expected : other files to write or remove with it, and what the writer has seen of files, both as in
        `planner.files.storage.replace_files`.

    Returns
    -------
    The file.

    Raises
    ------
    Overtaken : a file no longer holds what is expected; nothing was changed.
    HouseFault : the intent or its name is faulty, or a file cannot be written; nothing was changed.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> folder = mkdtemp()
    >>> write_intent(Intent(name="plainer", tiers=4), folder).name
    'plainer.toml'
    >>> read_intent(folder, "plainer").tiers
    4
    """
    folder, name = Path(folder), name if name is not None else intent.name
    file = intent_file(name)
    with writing(folder):
        before = bytes_before(folder / file, file)
        data = sound_bytes(intent, folder, name, before, library)
        replace_files(folder, {**(also or {}), file: data}, expected)
    return folder / file


def sound_bytes(intent: Intent, folder: Path, name: str, before: bytes | None, library: Library | None = None) -> bytes:
    """The bytes of an alternative's file; `before` is what it holds so far, whose comments stay.

    Raises
    ------
    HouseFault : the alternative, its name or what is there is faulty.
    """
    problems: list[Problem] = []
    file = intent_file(name)
    with settled(folder):
        library, told = (library, ()) if library else house_library(folder)
        names = _names_of(folder)
    if before is not None:
        parse_settings(before, file, problems)
        raise_errors(problems)
    data = intent_bytes(intent, before, library, names.unit)
    parse_intent(data, file, name, names, problems, library)
    raise_errors(with_own_faults(problems, told))
    return data


def write_new_intent(
    intent: Intent,
    folder: str | Path,
    title: str,
    library: Library | None = None,
    *,
    also: Mapping[str, bytes | None] | None = None,
) -> Intent:
    """Write an alternative under a free name close to a title, which no other writer gets; the rest is as in
    `write_intent`.

    Returns
    -------
    The alternative with its name and title.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> folder = mkdtemp()
    >>> [write_new_intent(Intent(), folder, "Plainer").name for _ in range(3)]
    ['Plainer', 'Plainer 2', 'Plainer 3']
    """
    with writing(Path(folder)):
        name = safe_name(title, "alternative", taken=list_intents(folder))
        named = replace(intent, name=name, title=title.strip() or name)
        write_intent(named, folder, library=library, also=also, expected={intent_file(name): None})
    return named


def free_title(folder: str | Path, title: str) -> str:
    """A title that nobody has typed, with the number that makes its name free where an alternative has it already."""
    free = safe_name(title, "alternative", taken=list_intents(folder))
    return f"{title}{free.removeprefix(safe_name(title, 'alternative'))}"


def _names_of(folder: Path) -> Names:
    """What an alternative of a house may name; None for what no file of the folder tells."""
    rooms, levels = _columns(folder, ROOMS, "room", "level")
    (openings,), (profiles,) = _columns(folder, OPENINGS, "opening"), _columns(folder, STOCK, "profile")
    return Names(rooms, levels, openings, profiles, unit_of(folder))


def _columns(folder: Path, file: str, *columns: str) -> tuple[Collection[str] | None, ...]:
    """What stands in each of some columns of a table, whatever else is faulty in it; None where there is no table."""
    data = read_bytes(folder / file, file, [])
    if data is None:
        return (None,) * len(columns)
    return _columns_in(data, columns)


@lru_cache(maxsize=6)  # an alternative that is being worked on is held to the same tables again and again
def _columns_in(data: bytes, columns: tuple[str, ...]) -> tuple[Collection[str], ...]:
    rows = parse_table(data, "", columns, [], columns)
    return tuple(dict.fromkeys(row[column] for row in rows if row[column]) for column in columns)
