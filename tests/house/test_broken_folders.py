"""A corpus of broken house folders: each ends in a HouseFault that says where and what would be right.

Never another exception, never a changed file. The corpus is the small house of conftest.py, broken by code: each fault
once, then mixtures of them.
"""
# ruff: noqa: E501 -- the corpus reads as a table, one fault a line

import os
import random
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from planner.files.problems import HouseFault, Problem
from planner.house.folder import read_house
from tests.house.conftest import HOUSE, OPENINGS, ROOMS, state


@dataclass(frozen=True)
class Fault:
    """One way to break the house, and what must be told: by file, row and column, with words of message and remedy."""

    name: str
    breaks: Callable[[Path], None]
    file: str
    row: int | None = None
    column: str | None = None
    says: str = ""
    remedy: str = field(default="")

    def told_in(self, problems: tuple[Problem, ...]) -> bool:
        return any(
            (p.file, p.row, p.column, p.severity) == (self.file, self.row, self.column, "error")
            and re.search(self.says, p.message)
            and re.search(self.remedy, p.remedy)
            for p in problems
        )


def swap(file: str, old: str, new: str, count: int = -1) -> Callable[[Path], None]:
    """Replace text in a file; the text must be there."""

    def breaks(folder: Path) -> None:
        text = (folder / file).read_text("utf-8")
        assert old in text, f"{old!r} is not in {file}"
        (folder / file).write_text(text.replace(old, new, count), "utf-8")

    return breaks


def put(file: str, data: bytes | str) -> Callable[[Path], None]:
    """Put other contents into a file."""
    return lambda folder: (folder / file).write_bytes(data if isinstance(data, bytes) else data.encode())  # type: ignore[func-returns-value]


def add(file: str, line: str) -> Callable[[Path], None]:
    """Append a line to a file."""

    def breaks(folder: Path) -> None:
        with (folder / file).open("a", encoding="utf-8") as end:
            end.write(line + "\n")

    return breaks


def instead(file: str, make: Callable[[Path], object]) -> Callable[[Path], None]:
    """Take a file away and make something else in its place."""

    def breaks(folder: Path) -> None:
        (folder / file).unlink()
        make(folder / file)

    return breaks


def loop(path: Path) -> None:
    path.symlink_to(path.name + ".other")
    path.with_name(path.name + ".other").symlink_to(path.name)


def nothing(path: Path) -> None:
    """Leave nothing in a file's place."""


TOML, ROOM, DOOR = "house.toml", "rooms.csv", "openings.csv"
JUNK = random.Random(1).randbytes(5000).replace(b"\0", b"\x01")

# Each breaks the file as a whole.
FILES = [
    *(Fault(f"{f} missing", instead(f, nothing), f, says="is missing", remedy="add it") for f in (TOML, ROOM, DOOR)),
    *(Fault(f"{f} a directory", instead(f, Path.mkdir), f, says="is a directory", remedy="plain file") for f in (TOML, ROOM, DOOR)),
    *(Fault(f"{f} a loop of links", instead(f, loop), f, says="cannot be read", remedy="plain file") for f in (TOML, ROOM, DOOR)),
    Fault("link to nothing", instead(ROOM, lambda p: p.symlink_to("gone.csv")), ROOM, says="is missing"),
    Fault("a pipe", instead(ROOM, os.mkfifo), ROOM, says="is not a plain file", remedy="plain file"),
    Fault("a device", instead(DOOR, lambda p: p.symlink_to("/dev/zero")), DOOR, says="is not a plain file"),
    Fault("rooms empty", put(ROOM, ""), ROOM, 1, None, "no header", "room,level,use"),
    Fault("rooms blank lines only", put(ROOM, "\n\n\n"), ROOM, 1, None, "no header", "room,level,use"),
    Fault("rooms header only", put(ROOM, ROOMS.splitlines()[0]), ROOM, None, None, "no rooms", "one row for each"),
    Fault("openings empty", put(DOOR, ""), DOOR, 1, None, "no header", "opening,kind,room"),
    Fault("house empty", put(TOML, ""), TOML, None, "name", "is missing", "name ="),
    Fault("rooms in semicolons", put(ROOM, ROOMS.replace(",", ";")), ROOM, 1, None, "semicolons", "commas"),
    Fault("openings in semicolons", put(DOOR, OPENINGS.replace(",", ";")), DOOR, 1, None, "semicolons", "commas"),
    Fault("rooms in tabs", put(ROOM, ROOMS.replace(",", "\t")), ROOM, 1, None, "tabs", "commas"),
    Fault("openings in bars", put(DOOR, OPENINGS.replace(",", "|")), DOOR, 1, None, "bars", "commas"),
    Fault("latin-1", put(ROOM, ROOMS.replace("Kitchen", "Küche").encode("latin-1")), ROOM, 4, None, "0xFC is not UTF-8", "UTF-8"),
    Fault("UTF-16", put(ROOM, ROOMS.encode("utf-16")), ROOM, None, None, "UTF-16", "UTF-8"),
    Fault("UTF-16 without a mark", put(DOOR, OPENINGS.encode("utf-16-le")), DOOR, 1, None, "NUL", "UTF-8"),
    Fault("house in UTF-16", put(TOML, HOUSE.encode("utf-16")), TOML, None, None, "UTF-16", "UTF-8"),
    Fault("house in latin-1", put(TOML, HOUSE.replace("Larkspur", "Lärkspur").encode("latin-1")), TOML, 3, None, "0xE4", "UTF-8"),
    Fault("NUL in a cell", swap(ROOM, "faces the yard", "faces\0the yard"), ROOM, 4, None, "NUL", "UTF-8"),
    *(Fault(f"{f} binary junk", put(f, JUNK), f, 1, None, "is not UTF-8", "UTF-8") for f in (TOML, ROOM, DOOR)),
    Fault("zeros", put(ROOM, b"\0" * 4096), ROOM, 1, None, "NUL", "UTF-8"),
    Fault("a spreadsheet, not its CSV", put(ROOM, b"PK\x03\x04" + JUNK), ROOM, 1, None, "is not UTF-8", "UTF-8"),
    Fault("a cell of 5 MB", swap(ROOM, "faces the yard", "x" * (5 * 10**6)), ROOM, 4, None, "more than 131,072", "shorten"),
    Fault("a name of 5 MB", swap(DOOR, "Hearth", "x" * (5 * 10**6)), DOOR, 9, None, "more than 131,072", "shorten"),
    Fault("60 MB", instead(ROOM, lambda p: (p.touch(), os.truncate(p, 60_000_000))), ROOM, None, None, "larger than 50 MB", "50 MB"),
    Fault("a quote left open", swap(ROOM, "faces the yard", '"faces the yard'), ROOM, 4, None, "begins with a quote", "close it"),
    Fault("text after a quote", swap(ROOM, "faces the yard", '"faces" the yard'), ROOM, 4, None, "begins with a quote", "twice"),
    Fault("house not TOML", swap(TOML, 'name = "Larkspur Cottage"', "name = Larkspur"), TOML, 3, None, "is not TOML", "key = value"),
    Fault("house cut off", put(TOML, HOUSE[:60]), TOML, 3, None, "is not TOML", "key = value"),
    Fault("a key twice", add(TOML, "[levels.Ground]"), TOML, 12, None, "is not TOML", "key = value"),
    Fault("house nested too deep", put(TOML, "a = " + "[" * 10**5), TOML, None, None, "is not TOML", "key = value"),
    Fault("a number of 10,000 digits", put(TOML, "a = " + "9" * 10**4), TOML, None, None, "is not TOML", "key = value"),
]  # fmt: skip

# Each breaks one column of a header.
HEADERS = [
    Fault("a column missing", swap(ROOM, ",ceiling,", ","), ROOM, 1, "ceiling", "is missing", "add the column"),
    Fault("a column misspelled", swap(ROOM, "ceiling,", "celing,"), ROOM, 1, "celing", "is no column", '"ceiling"'),
    Fault("a column unknown", swap(ROOM, "notes", "colour"), ROOM, 1, "colour", "is no column", "drop it"),
    Fault("a column twice", swap(ROOM, "notes", "room"), ROOM, 1, "room", "twice", "one of the two"),
    Fault("openings without kinds", swap(DOOR, "kind,", "", 1), DOOR, 1, "kind", "is missing", "add the column"),
    Fault("no header at all", put(ROOM, "".join(ROOMS.splitlines(True)[1:])), ROOM, 1, "room", "is missing", "add the column"),
]  # fmt: skip

# Each breaks one key of house.toml, and nothing else.
KEYS = [
    Fault("format missing", swap(TOML, "format = 1\n", ""), TOML, None, "format", "is missing", "format = 1"),
    Fault("format of tomorrow", swap(TOML, "format = 1", "format = 2"), TOML, None, "format", "2 is not known", "format = 1"),
    Fault("format of 4,000 digits in sixteens", swap(TOML, "format = 1", f"format = 0x{'f' * 4000}"), TOML, None, "format", "too many digits is not known", "format = 1"),
    Fault("level ceiling of 400 digits", swap(TOML, '"9\'-0\\""', "9" * 400), TOML, None, "levels.Ground.ceiling", "too large", "write"),
    Fault("name missing", swap(TOML, 'name = "Larkspur Cottage"\n', ""), TOML, None, "name", "is missing", "name ="),
    Fault("name a number", swap(TOML, '"Larkspur Cottage"', "7"), TOML, None, "name", "not text", "quotes"),
    Fault("name blank", swap(TOML, '"Larkspur Cottage"', '" "'), TOML, None, "name", "blank", "write the name"),
    Fault("unit unknown", swap(TOML, '"in"', '"inch"'), TOML, None, "unit", "not known", '"in"'),
    Fault("entry missing", swap(TOML, 'entry = "Lobby"\n', ""), TOML, None, "entry", "is missing", "entry ="),
    Fault("entry no room", swap(TOML, '"Lobby"', '"Loby"'), TOML, None, "entry", 'no room "Loby"', '"Lobby"'),
    Fault("entry empty", swap(TOML, '"Lobby"', "[]"), TOML, None, "entry", "not a list of names", "write e.g."),
    Fault("entry numbers", swap(TOML, '"Lobby"', "[1]"), TOML, None, "entry", "not a list of names", "write e.g."),
    Fault("entry twice", swap(TOML, '"Lobby"', '["Lobby", "Lobby"]'), TOML, None, "entry", "twice", "once"),
    Fault("second entry no room", swap(TOML, '"Lobby"', '["Lobby", "Porch"]'), TOML, None, "entry", 'no room "Porch"', "write"),
    Fault("style unknown", swap(TOML, "georgian", "gorgian"), TOML, None, "style", "not known", '"georgian"'),
    Fault("order unknown", swap(TOML, "doric", "dorik"), TOML, None, "order", "not known", '"doric"'),
    Fault("grade unknown", swap(TOML, '"cottage"', '"palace"'), TOML, None, "grade", "not known", '"great house"'),
    Fault("year in words", swap(TOML, "format = 1", 'format = 1\nyear_built = "old"'), TOML, None, "year_built", "whole", "1000"),
    Fault("year far off", swap(TOML, "format = 1", "format = 1\nyear_built = 19311"), TOML, None, "year_built", "whole", "2200"),
    Fault("currency a sign", swap(TOML, "format = 1", 'format = 1\ncurrency = "$"'), TOML, None, "currency", "currency code", "USD"),
    Fault("levels a number", lambda f: (f / TOML).write_text(HOUSE.split("[levels")[0] + "levels = 9"), TOML, None, "levels", "not a table", "levels"),
    Fault("level ceiling no length", swap(TOML, '"9\'-0\\""', '"nine"'), TOML, None, "levels.Ground.ceiling", "not a length", "write"),
    Fault("level ceiling negative", swap(TOML, '"9\'-0\\""', "-9"), TOML, None, "levels.Ground.ceiling", "negative", "zero or more"),
    Fault("level ceiling a list", swap(TOML, '"9\'-0\\""', "[9]"), TOML, None, "levels.Ground.ceiling", "not a length", "write"),
]  # fmt: skip

L_KITCHEN = "0 96; 0 216; 120 216; 120 96"

# Each breaks one cell of rooms.csv, and nothing else.
ROOM_CELLS = [
    Fault("no room's name", add(ROOM, ",Upper,closet,4 ft,3 ft,8',,"), ROOM, 7, "room", "is blank", "write e.g."),
    Fault("two rooms of one name", add(ROOM, "Lobby,Upper,closet,4 ft,3 ft,8',,"), ROOM, 7, "room", "already, in row 2", "own"),
    Fault("a line break in a name", swap(ROOM, "Kitchen,Ground", '"Kit\nchen",Ground'), ROOM, 4, "room", "line break", "one line"),
    Fault("a bell in a name", swap(ROOM, "Kitchen,Ground", "Kit\achen,Ground"), ROOM, 4, "room", "control", "one line"),
    Fault("a name of 201 characters", swap(ROOM, "Kitchen,Ground", f"{'x' * 201},Ground"), ROOM, 4, "room", "201", "200"),
    Fault("a room called outside", swap(ROOM, "Kitchen,Ground", "Outside,Ground"), ROOM, 4, "room", "no room", "another name"),
    Fault("no level", swap(ROOM, "Bedroom,Upper", "Bedroom,"), ROOM, 6, "level", "is blank", "Ground"),
    Fault("no use", swap(ROOM, "Upper,bedroom", "Upper,"), ROOM, 6, "use", "is blank", "write e.g."),
    Fault("ceiling in words", swap(ROOM, "3500 mm,8'", "3500 mm,ten"), ROOM, 6, "ceiling", '"ten" is not a length', "write e.g."),
    Fault("ceiling in a comma", swap(ROOM, "3500 mm,8'", '3500 mm,"2,44 m"'), ROOM, 6, "ceiling", "comma", "point"),
    Fault("ceiling blank, its level too", swap(ROOM, "3500 mm,8'", "3500 mm,"), ROOM, 6, "ceiling", "is blank", "levels"),
    Fault("a level without a ceiling", lambda f: (swap(ROOM, "3500 mm,8'", "3500 mm,")(f), add(TOML, '[levels."Upper"]')(f)), ROOM, 6, "ceiling", "is blank", "levels"),
    Fault("ceiling zero", swap(ROOM, "3500 mm,8'", "3500 mm,0"), ROOM, 6, "ceiling", "too low", "5'-0\""),
    Fault("ceiling too low", swap(ROOM, "3500 mm,8'", "3500 mm,8"), ROOM, 6, "ceiling", "too low", "5'-0\""),
    Fault("ceiling negative", swap(ROOM, "3500 mm,8'", "3500 mm,-8'"), ROOM, 6, "ceiling", "negative", "zero or more"),
    Fault("length not a number", swap(ROOM, "4 m,", "nan,"), ROOM, 6, "length", "not a length", "write e.g."),
    Fault("length without end", swap(ROOM, "4 m,", "inf,"), ROOM, 6, "length", "not a length", "write e.g."),
    Fault("length zero", swap(ROOM, "4 m,", "0,"), ROOM, 6, "length", "no size of a room", "above zero"),
    Fault("length too large", swap(ROOM, "4 m,", "9" * 30 + ","), ROOM, 6, "length", "too large", "write"),
    Fault("length divided by zero", swap(ROOM, "4 m,", "1/0,"), ROOM, 6, "length", "divides by zero", "write"),
    Fault("width blank without outline", swap(ROOM, "3500 mm", ""), ROOM, 6, "width", "is blank", "write a length"),
    Fault("width negative", swap(ROOM, "3500 mm", "-3500 mm"), ROOM, 6, "width", "negative", "zero or more"),
    Fault("outline of words", swap(ROOM, L_KITCHEN, "round"), ROOM, 4, "outline", "no pair", "x y; x y"),
    Fault("outline of one number", swap(ROOM, L_KITCHEN, "0 96; 0; 120 216"), ROOM, 4, "outline", 'point 2, "0"', "x y; x y"),
    Fault("outline of three numbers", swap(ROOM, L_KITCHEN, "0 0 0; 0 216; 120 216"), ROOM, 4, "outline", "point 1", "x y; x y"),
    Fault("outline read two ways", swap(ROOM, L_KITCHEN, "0 96; 5' 6 1/2; 120 96"), ROOM, 4, "outline", "in two ways", "x y; x y"),
    Fault("outline of two points", swap(ROOM, L_KITCHEN, "0 96; 0 216"), ROOM, 4, "outline", "fewer than 3", "3 corners"),
    Fault("outline of one point", swap(ROOM, L_KITCHEN, "0 96"), ROOM, 4, "outline", "fewer than 3", "3 corners"),
    Fault("outline on one line", swap(ROOM, L_KITCHEN, "0 96; 0 216; 0 300"), ROOM, 4, "outline", "no floor", "corners"),
    Fault("outline crosses itself", swap(ROOM, L_KITCHEN, "0 96; 120 216; 120 96; 0 190"), ROOM, 4, "outline", "crosses", "order"),
    Fault("outline halts", swap(ROOM, L_KITCHEN, "0 96; 0 96; 0 216; 120 216"), ROOM, 4, "outline", "twice in a row", "keep one"),
    Fault("outlines overlap", swap(ROOM, L_KITCHEN, "0 60; 0 216; 120 216; 120 60"), ROOM, 4, "outline", "overlaps .* by 30.0 sq ft", "part"),
    Fault("an outline within another", swap(ROOM, "0 0; 0 96; 120 96; 120 0", "10 110; 10 200; 100 200; 100 110"), ROOM, 4, "outline", "overlaps", "part"),
    Fault("a comma not in quotes", swap(ROOM, "faces the yard", "faces, the yard"), ROOM, 4, None, "9 cells under 8", "quotes"),
]  # fmt: skip

# Each breaks one cell of openings.csv, and nothing else.
OPENING_CELLS = [
    Fault("no opening's name", swap(DOOR, "Hearth,", ","), DOOR, 9, "opening", "is blank", "write e.g."),
    Fault("two openings of one name", swap(DOOR, "W2,", "W1,"), DOOR, 8, "opening", "already, in row 7", "own"),
    Fault("a kind misspelled", swap(DOOR, "D2,door", "D2,dor"), DOOR, 4, "kind", '"dor" is no kind', '"door"'),
    Fault("no kind", swap(DOOR, "D2,door", "D2,"), DOOR, 4, "kind", "is blank", '"door"'),
    Fault("room unknown", swap(DOOR, "D3,door,Landing", "D3,door,Landin"), DOOR, 6, "room", 'no room "Landin"', '"Landing"'),
    Fault("no room", swap(DOOR, "D3,door,Landing", "D3,door,"), DOOR, 6, "room", "is blank", "write e.g."),
    Fault("other unknown", swap(DOOR, "Landing,Bedroom", "Landing,Bedrom"), DOOR, 6, "other", 'no room "Bedrom"', '"Bedroom"'),
    Fault("a window onto nothing known", swap(DOOR, "outside,N,24", "outdoors,N,24"), DOOR, 7, "other", "no room", "outside"),
    Fault("to itself", add(DOOR, "D9,door,Bedroom,Bedroom,N,0,30,80,"), DOOR, 10, "other", "to itself", "far side"),
    Fault("wall unknown", swap(DOOR, "Kitchen,N", "Kitchen,X"), DOOR, 4, "wall", 'no wall "X"', "N, E, S or W"),
    Fault("edge unknown", swap(DOOR, "Kitchen,N", "Kitchen,5"), DOOR, 4, "wall", 'no wall "5"', "N, E, S or W"),
    Fault("a stair on one level", swap(DOOR, "D2,door", "D2,stair"), DOOR, 4, "kind", "both on level", "cased opening"),
    Fault("width in words", swap(DOOR, "N,,30,80,\nStair", "N,,wide,80,\nStair"), DOOR, 4, "width", "not a length", "write"),
    Fault("width zero", swap(DOOR, "N,,30,80,\nStair", "N,,0,80,\nStair"), DOOR, 4, "width", "is zero", "above zero"),
    Fault("height zero", swap(DOOR, "N,,30,80,\nStair", "N,,30,0,\nStair"), DOOR, 4, "height", "is zero", "above zero"),
    Fault("opening of negative width", swap(DOOR, "N,,30,80,\nStair", "N,,-30,80,\nStair"), DOOR, 4, "width", "negative", "zero or more"),
    Fault("wider than its wall", swap(DOOR, "N,,30,80,\nStair", "N,,11 ft,80,\nStair"), DOOR, 4, "width", "11'-0\" wide, wall N .* 10'-0\" long", "smaller"),
    Fault("off the end of its wall", swap(DOOR, "N,120,36", "N,150,36"), DOOR, 8, "offset", "beyond the end of wall N", "from 0 to 12'-0\""),
    Fault("off the end of the other room's wall", add(DOOR, "D9,door,Kitchen,\"Parlor, \"\"Front\"\"\",E,60,30,80,"), DOOR, 10, "offset", "beyond the end of wall W", "comes out"),
    Fault("offset negative", swap(DOOR, "N,24,36", "N,-24,36"), DOOR, 7, "offset", "negative", "zero or more"),
    Fault("two in one place", swap(DOOR, "N,120,36", "N,30,36"), DOOR, 8, "offset", 'overlaps window "W1" on wall N', "apart"),
    Fault("two in one place from two rooms", add(DOOR, "D9,door,\"Parlor, \"\"Front\"\"\",Lobby,W,60,30,80,"), DOOR, 10, "offset", 'overlaps cased opening "D1"', "apart"),
    Fault("head above the ceiling", swap(DOOR, "N,120,36,80", "N,120,36,110"), DOOR, 8, "height", "head .* 9'-2\".* ceiling .* 9'-0\"", "9'-0\" or less"),
    Fault("head above the other room's ceiling", swap(DOOR, "Bedroom,N,,30,80", "Bedroom,N,,30,97"), DOOR, 6, "height", "head", "8'-0\" or less"),
    Fault("sill above head", swap(DOOR, "N,120,36,80,24", "N,120,36,80,90"), DOOR, 8, "sill", "not below the head", "above the floor"),
    Fault("sill no length", swap(DOOR, "N,120,36,80,24", "N,120,36,80,low"), DOOR, 8, "sill", "not a length", "write"),
    Fault("a row torn", swap(DOOR, "N,120,36,80,24", "N,120,36,80,24,,x"), DOOR, 8, None, "11 cells under 9", "quotes"),
    Fault("a room out of reach", swap(DOOR, "D2,door,Lobby,Kitchen,N,,30,80,\n", ""), DOOR, None, "other", 'to "Kitchen"', 'between "Lobby" and "Kitchen"'),
    Fault("a storey out of reach", swap(DOOR, "Stair,stair,Lobby,Landing,,,36,80,\n", ""), DOOR, None, "other", '"Landing", "Bedroom"', "stair"),
    Fault("a ring of rooms out of reach", add(ROOM, "A,Upper,closet,60,60,8',,\nB,Upper,closet,60,60,8',,\nC,Upper,closet,60,60,8',,"), DOOR, None, "other", '"A"', "door"),
    Fault("no openings", put(DOOR, OPENINGS.splitlines()[0]), DOOR, None, "other", "no opening leads", "missing"),
]  # fmt: skip

CORPUS = [*FILES, *HEADERS, *KEYS, *ROOM_CELLS, *OPENING_CELLS]
ALONE = {fault.name for fault in (*KEYS, *ROOM_CELLS, *OPENING_CELLS)} - {
    # An opening of a room that is not rightly named names a room that is not there: a second fault.
    "a name of 201 characters", "a line break in a name", "a bell in a name", "a room called outside",
    # What stands behind a missing part is missing too, or is told once for each side.
    "no room's name", "two rooms of one name", "a ring of rooms out of reach", "no openings", "an outline within another",
}  # fmt: skip


def faults_of(folder: Path) -> tuple[Problem, ...]:
    """What reading the folder tells; the folder stays as it is."""
    before = state(folder)
    with pytest.raises(HouseFault) as fault:
        read_house(folder)
    assert state(folder) == before
    return fault.value.problems


def check_manners(problems: tuple[Problem, ...]) -> None:
    """Every problem says where it stands and what would be right, on one short line."""
    for problem in problems:
        line = str(problem)
        assert problem.message and problem.remedy
        assert line.startswith(problem.file) and len(line) < 600 and len(line.splitlines()) == 1
        assert "Error" not in line and "Traceback" not in line and "None" not in line


def test_the_house_is_whole_before_it_is_broken(folder):
    assert read_house(folder)[1] == ()


def test_the_corpus_is_large_and_no_two_are_alike():
    assert len({fault.name for fault in CORPUS}) == len(CORPUS) >= 60


@pytest.mark.parametrize("fault", CORPUS, ids=lambda fault: fault.name)
def test_each_fault_is_told_where_it_stands_with_what_would_be_right(folder, fault):
    fault.breaks(folder)
    problems = faults_of(folder)
    assert fault.told_in(problems), "\n".join(map(str, problems))
    check_manners(problems)
    if fault.name in ALONE:
        assert [p for p in problems if p.severity == "error"] == [p for p in problems if fault.told_in((p,))]


# Faults of single cells and keys that leave each other's text alone.
MIXED = [
    ["unit unknown", "ceiling in words", "width in words"],
    ["entry no room", "length zero", "outline crosses itself", "sill above head"],
    ["style unknown", "order unknown", "grade unknown", "currency a sign"],
    ["ceiling in words", "width negative", "length not a number", "offset negative", "wall unknown"],
    ["two rooms of one name", "two openings of one name", "other unknown"],
    ["outlines overlap", "off the end of its wall", "a stair on one level"],
    ["rooms in semicolons", "openings in bars", "house in UTF-16"],
    ["house.toml missing", "rooms.csv missing", "openings.csv missing"],
    ["house.toml a directory", "rooms.csv a loop of links", "openings.csv binary junk"],
    ["a cell of 5 MB", "UTF-16 without a mark", "house not TOML"],
    ["a column misspelled", "two in one place"],
    ["level ceiling no length", "no use", "head above the other room's ceiling"],
    ["year in words", "outline of words", "to itself"],
    ["a comma not in quotes", "a row torn", "entry twice"],
    ["a ring of rooms out of reach", "ceiling too low", "sill no length"],
]  # fmt: skip


@pytest.mark.parametrize("names", MIXED, ids=" + ".join)
def test_every_fault_of_a_mixture_is_told_in_one_pass(folder, names):
    by_name = {fault.name: fault for fault in CORPUS}
    for name in names:
        by_name[name].breaks(folder)
    problems = faults_of(folder)
    untold = [name for name in names if not by_name[name].told_in(problems)]
    assert not untold, "\n".join(map(str, problems))
    check_manners(problems)


def test_a_file_that_may_not_be_read_is_told(folder, monkeypatch):
    """The system's refusal is made here, because nothing is refused to the superuser."""
    before, really = state(folder), Path.read_bytes

    def refusing(path):
        if path.name == ROOM:
            raise PermissionError(13, "Permission denied")
        return really(path)

    monkeypatch.setattr(Path, "read_bytes", refusing)
    with pytest.raises(HouseFault, match=r"rooms\.csv: cannot be read \(Permission denied\); put a plain file"):
        read_house(folder)
    monkeypatch.undo()
    assert state(folder) == before


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda p: p, "is not there"),
        (lambda p: p.write_text("x"), "is not a folder"),
        (loop, "cannot be read"),
        (lambda p: p.mkdir(), r"house\.toml: is missing"),
    ],
)
def test_what_is_no_house_folder_is_told(tmp_path, make, says):
    make(tmp_path / "house")
    with pytest.raises(HouseFault, match=says):
        read_house(tmp_path / "house")


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000])
def test_a_path_that_no_system_takes_is_told(name):
    with pytest.raises(HouseFault, match=r"is not there|cannot be read") as fault:
        read_house(name)
    assert all(p.remedy for p in fault.value.problems)


@pytest.mark.parametrize("seed", range(150))
def test_any_bytes_that_are_changed_end_in_a_house_or_a_fault(folder, seed):
    """Random damage to random files: a HouseFault or a house, and never another exception."""
    rng = random.Random(seed)
    for file in rng.sample((TOML, ROOM, DOOR), rng.randint(1, 3)):
        data = bytearray((folder / file).read_bytes())
        for _ in range(rng.randint(1, 6)):
            at, length = rng.randrange(len(data)), rng.randint(1, 12)
            junk = bytes(rng.choice(b"\0\n\r\",;'[]=-./0189 ainx\xff\xc3\x85") for _ in range(length))
            data[at : at + rng.choice((0, length))] = junk
        (folder / file).write_bytes(bytes(data))
    before = state(folder)
    try:
        problems = read_house(folder)[1]
    except HouseFault as fault:
        problems = fault.problems
        assert fault.errors
    check_manners(problems)
    assert state(folder) == before
