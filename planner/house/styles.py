"""A house's own styles, one a file: read with every fault told, kept whole or not at all."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import tomlkit

from planner.files.names import is_file_name
from planner.files.problems import HouseFault, Problem, raise_errors
from planner.files.storage import names_in, read_bytes, replace_files, settled, writing
from planner.files.toml_settings import Settings, parse_settings
from planner.house.style_parsing import KEYS, parse_style
from planner.library import Library, standard
from planner.units import quoted

STYLES = "styles"
"""The folder in a house's own that holds its styles."""

LARGEST_STYLE = 1_000_000
"""A style's file has no more bytes than this."""

Contents = tuple[tuple[str, bytes | None], ...]
"""The bytes of each style's file by the style's name, None where it could not be read, which was told."""


def house_library(folder: str | Path, library: Library | None = None) -> tuple[Library, tuple[Problem, ...]]:
    """The library with a house's own styles, and every fault of them.

    A style that has faults is left out; a house that does not use it can be planned without it.

    Parameters
    ----------
    folder : of the house; its styles are `styles/NAME.toml`, based on a style of the library or on each other.
    library : what the trade knows; the standard one where None.

    Returns
    -------
    The library, the same object for the same files, and the faults by file, table and row.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> folder = mkdtemp()
    >>> rail = {"element": "chair rail", "form": "none"}
    >>> write_style(folder, "without rails", "georgian", [rail]).name
    'without rails.toml'
    >>> library, faults = house_library(folder)
    >>> library.style("without rails").based_on, faults
    ('georgian', ())
    """
    problems: list[Problem] = []
    contents: Contents = ()
    try:
        with settled(Path(folder)):
            contents = _contents(Path(folder), problems)
    except HouseFault as fault:
        problems += fault.problems
    found, told = _with_own(contents, library or standard())
    return found, (*problems, *told)


def write_style(
    folder: str | Path,
    name: str,
    based_on: str,
    rows: Iterable[Mapping[str, object]] = (),
    settings: Mapping[str, object] | None = None,
    library: Library | None = None,
) -> Path:
    """Keep a style in a house folder, whole or not at all.

    Parameters
    ----------
    folder : of the house.
    name : of the style, and of its file without the ending.
    based_on : the style that it differs from, one of the library's or of the house's.
    rows : what differs, each row with the keys of a style's row; without `rungs` it holds on all of them, without `of`
        it is sized as the base's, and the form "none" takes the element away.
    settings : what else differs, e.g. ``{"ratio": 0.9}``.
    library : what the trade knows; the standard one where None.

    Returns
    -------
    The file.

    Raises
    ------
    HouseFault : the style or its name is faulty, another style is kept under that name, or the file cannot be written;
        nothing was changed.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> path = write_style(mkdtemp(), "plain north", "federal", settings={"ratio": 0.9})
    >>> print(path.read_text("utf-8").strip())
    based_on = "federal"
    ratio = 0.9
    """
    folder, library = Path(folder), library or standard()
    file = f"{STYLES}/{name}.toml"
    problems: list[Problem] = []
    if not is_file_name(name):
        raise HouseFault([_unfit(name)])
    data = _style_bytes({"based_on": based_on, **(settings or {})}, rows)
    with writing(folder):
        before = _contents(folder, problems)
        raise_errors([p for p in problems if p.file in (STYLES, file)])
        _, told = _with_own((*((n, old) for n, old in before if n != name), (name, data)), library)
        raise_errors([p for p in told if p.file == file])
        stands = dict(before).get(name)
        if stands is not None and stands != data:
            raise HouseFault([Problem(file, None, None, "is there already", "choose a name that is free")])
        replace_files(folder, {file: data})
    return folder / file


def _unfit(name: str) -> Problem:
    remedy = "write letters, digits, blanks and hyphens, e.g. north wing"
    return Problem(STYLES, None, None, f"{quoted(name)} cannot be the name of a style", remedy)


def _style_bytes(settings: Mapping[str, object], rows: Iterable[Mapping[str, object]]) -> bytes:
    """A style's file: its keys, its rows one a line, its tables."""
    document = tomlkit.document()
    for key, value in settings.items():
        if not isinstance(value, Mapping):
            document[key] = value
    listed = tomlkit.array().multiline(True)
    for row in rows:
        table = tomlkit.inline_table()
        table.update({key: list(value) if isinstance(value, tuple) else value for key, value in row.items()})
        listed.append(table)
    if listed:
        document["row"] = listed
    for key, value in settings.items():
        if isinstance(value, Mapping):
            document[key] = dict(value)
    return tomlkit.dumps(document).encode("utf-8", "surrogatepass")


def _contents(folder: Path, problems: list[Problem]) -> Contents:
    """The files of a house's styles, sorted by name."""
    read = []
    for name in names_in(folder, STYLES, ".toml", problems):
        if name.startswith("."):
            continue
        if not is_file_name(name):
            problems.append(_unfit(name))
            continue
        file = f"{STYLES}/{name}.toml"
        read.append((name, read_bytes(folder / file, file, problems, largest=LARGEST_STYLE)))
    return tuple(read)


@lru_cache(maxsize=16)
def _with_own(contents: Contents, library: Library) -> tuple[Library, tuple[Problem, ...]]:
    """The library with the styles of a house, and what is wrong with them."""
    problems: list[Problem] = []
    reading = {name: _settings(name, data, library, problems) for name, data in contents}
    bases = {name: _base(name, settings, reading, library) for name, settings in reading.items()}
    _tell_circles(bases, reading)
    for name in _bases_first(bases):
        settings, base = reading[name], bases[name]
        if settings is None or base is None or any(p.file == settings.file for p in problems):
            continue
        if base not in library.style_names:
            message = f"{quoted(base)} cannot be used as it is"
            settings.fault("based_on", message, f"mend {STYLES}/{base}.toml first")
            continue
        style = parse_style(name, settings, library.style(base), library)
        if not any(p.file == settings.file for p in problems):
            library = replace(library, styles=(*library.styles, style))
    return library, tuple(problems)


def _settings(name: str, data: bytes | None, library: Library, problems: list[Problem]) -> Settings | None:
    """What a style's file says; None where it cannot be read."""
    file = f"{STYLES}/{name}.toml"
    settings = None if data is None else parse_settings(data, file, problems)
    if name.casefold() in {known.casefold() for known in library.style_names}:
        message = f"{quoted(name)} is the name of a style that comes along"
        problems.append(Problem(file, None, None, message, "give the file another name"))
    if settings is not None:
        settings.only(KEYS)
    return settings


def _base(name: str, settings: Settings | None, own: Mapping[str, object], library: Library) -> str | None:
    """The style that one is based on; None where it is none, which is told."""
    if settings is None:
        return None
    if "based_on" not in settings:
        settings.fault("based_on", "is missing", 'write the style that this one differs from, e.g. "georgian"')
    known = [other for other in (*library.style_names, *own) if other != name]
    return settings.text("based_on", known)


def _tell_circles(bases: Mapping[str, str | None], reading: Mapping[str, Settings | None]) -> None:
    """Tell each style that is based on itself by way of others."""
    for name, settings in reading.items():
        walked, at = [name], bases[name]
        while at is not None and at in bases and at not in walked:
            walked.append(at)
            at = bases[at]
        if at == name and settings is not None:
            way = " on ".join(map(quoted, (*walked, name)))
            settings.fault("based_on", f"is based on itself: {way}", "base one of them on another style")


def _bases_first(bases: Mapping[str, str | None]) -> list[str]:
    """The styles in an order in which each comes after its base, where it does not go in a circle."""
    listed: dict[str, None] = {}
    for name in bases:
        walked, at = [], name
        while at in bases and at not in walked and at not in listed:
            walked.append(at)
            at = bases[at] or ""
        listed |= dict.fromkeys(reversed(walked))
    return list(listed)


def with_own_faults(problems: Iterable[Problem], told: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems with those of a house's styles: as they are where any of the first is an error, which a style that was
    left out may be behind, else as doubts, because the house can be planned without it."""
    problems = tuple(problems)
    if any(problem.severity == "error" for problem in problems):
        return (*problems, *told)
    return (*problems, *(replace(problem, severity="warning") for problem in told))
