"""House folders broken at random, and all that looks at a house and must not break on them."""

import os
import random
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from planner import HouseFault, house_library, list_intents, read_house, read_intent, read_stock
from planner.cli import main
from planner.record.keeping import read_record

Break = Callable[[Path, random.Random], None]

CELLS = [
    "",
    " ",
    "nan",
    "inf",
    "-1",
    "0",
    "1e999",
    "9" * 400,
    "1/0",
    "=1+1",
    "\u202e",
    "\x1b[31m",
    "outside",
    "Library",
]
CELLS += ["[[[[", '"', "x" * 5000, "0 0; 1 1; 0 0", "5' 6 1/2", "٣", "\ufeff", "a;b;c", "#", "door", "99999999999 mm"]
VALUES = [
    "9" * 400,
    "-1",
    "[]",
    "{}",
    '""',
    "true",
    "nan",
    "inf",
    "1979-05-27",
    '"\\ud7ff"',
    "[" * 500,
    "'x'",
    "0x10",
    "1e308",
]
BYTES = [
    b"\0",
    b"\xff",
    b"\r",
    b"\n",
    b'"',
    b",",
    b"=",
    b"[",
    b"\xed\xa0\x80",
    b"\xe2\x80\xae",
    b"\x1b[2J",
    b"\xef\xbb\xbf",
]


def _files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())


def _bytes(folder: Path, chance: random.Random) -> None:
    """A few bytes of a file changed, taken out or put in."""
    path = chance.choice(_files(folder))
    data = bytearray(path.read_bytes())
    for _ in range(chance.choice((1, 1, 1, 3, 30))):
        at = chance.randrange(len(data) + 1)
        match chance.randrange(4):
            case 0 if at < len(data):
                data[at] = chance.randrange(256)
            case 1:
                del data[at : at + chance.choice((1, 5, 200))]
            case 2:
                data[at:at] = chance.choice(BYTES)
            case _:
                data[at:at] = data[chance.randrange(len(data) + 1) :][:80]
    path.write_bytes(data)


def _rows(folder: Path, chance: random.Random) -> None:
    """A row taken out, written twice or put elsewhere."""
    path = chance.choice([p for p in _files(folder) if p.suffix in (".csv", ".toml")] or _files(folder))
    rows = path.read_bytes().splitlines(keepends=True) or [b"\n"]
    at, to = chance.randrange(len(rows)), chance.randrange(len(rows))
    match chance.randrange(3):
        case 0:
            del rows[at]
        case 1:
            rows.insert(to, rows[at])
        case _:
            rows[at], rows[to] = rows[to], rows[at]
    path.write_bytes(b"".join(rows))


def _cells(folder: Path, chance: random.Random) -> None:
    """Cells of a table filled with what does not belong there, or with other cells."""
    path = chance.choice([p for p in _files(folder) if p.suffix == ".csv"] or _files(folder))
    rows = [line.split(",") for line in path.read_text("utf-8", "replace").split("\n")]
    for _ in range(chance.choice((1, 1, 2, 8))):
        row = chance.choice(rows)
        cell = chance.choice(CELLS) if chance.random() < 0.7 else chance.choice(chance.choice(rows))
        row[chance.randrange(len(row))] = cell
    path.write_text("\n".join(map(",".join, rows)), "utf-8")


def _values(folder: Path, chance: random.Random) -> None:
    """A value of a file of settings replaced by another."""
    path = chance.choice([p for p in _files(folder) if p.suffix == ".toml"] or _files(folder))
    lines = path.read_text("utf-8", "replace").split("\n")
    at = chance.choice([n for n, line in enumerate(lines) if "=" in line] or [0])
    lines[at] = f"{lines[at].partition('=')[0]}= {chance.choice(VALUES)}"
    path.write_text("\n".join(lines), "utf-8")


def _kinds(folder: Path, chance: random.Random) -> None:
    """A file gone, or something else in its place; or something that nobody asked for beside it."""
    path = chance.choice([p for p in sorted(folder.rglob("*")) if p.parent == folder or chance.random() < 0.5])
    shutil.rmtree(path) if path.is_dir() and not path.is_symlink() else path.unlink()
    others = _files(folder) or [Path("/dev/null")]
    make: list[Callable[[], object]] = [
        lambda: None,
        path.mkdir,
        path.touch,
        lambda: path.symlink_to(path.name),
        lambda: path.symlink_to("gone"),
        lambda: path.symlink_to("/dev/zero"),
        lambda: path.symlink_to("/"),
        lambda: os.mkfifo(path),
        lambda: path.write_bytes(chance.randbytes(3000)),
        lambda: shutil.copy(chance.choice(others), path),
    ]
    chance.choice(make)()


def _beside(folder: Path, chance: random.Random) -> None:
    """More files than there were: in alternatives, styles or reviews, with any name."""
    place = folder / chance.choice(("alternatives", "styles", "reviews", "."))
    if not place.is_dir():
        return
    ending = {"reviews": ".jsonl"}.get(place.name, ".toml")
    names = [b"more", b"\xff\xfe", b"a\nb", b".hidden", b"x" * 200, "\u202edoc".encode(), b"-rf", b"easy.draft"]
    path = place / os.fsdecode(chance.choice(names) + ending.encode())
    others = _files(folder)
    data = chance.choice(others).read_bytes() if others else b""
    path.write_bytes(chance.choice([b"", data, b"[" * 100_000, b'{"time": "\\ud800"}\n', chance.randbytes(2000)]))


BREAKS: list[Break] = [_bytes, _bytes, _rows, _cells, _cells, _values, _values, _kinds, _beside]


def mutate(folder: Path, chance: random.Random) -> list[str]:
    """Break a house folder in one to four ways, which are named."""
    done = []
    for _ in range(chance.choice((1, 1, 1, 2, 2, 4))):
        broken = chance.choice(BREAKS)
        broken(folder, chance)
        done.append(broken.__name__)
    return done


def looked_at(folder: Path) -> tuple[bool, list[str]]:
    """Read a house every way there is, check it, and plan one of its alternatives; whether it can be read, and what was
    raised besides the project's own faults."""
    raised: list[str] = []

    def attempt(name: str, act: Callable[[], Any]) -> Any:
        try:
            return act()
        except HouseFault:
            return None
        except Exception as error:
            raised.append(f"{name}: {type(error).__name__}: {str(error)[:200]}")
            return None

    read = attempt("read_house", lambda: read_house(folder))
    names = attempt("list_intents", lambda: list_intents(folder)) or ()
    attempt("house_library", lambda: house_library(folder))
    attempt("read_stock", lambda: read_stock(folder, read[0].unit if read else "in"))
    attempt("read_record", lambda: str(read_record(folder)).encode())
    for name in names:
        attempt(f"read_intent {name!r}", lambda name=name: read_intent(folder, name))
    alternative = ["--alternative", names[len(folder.name) % len(names)]] if names else []
    commands = (["check", str(folder)], ["plan", str(folder), "--json", *alternative], ["history", str(folder)])
    for command in commands:
        result = CliRunner().invoke(main, command)
        if result.exception and not isinstance(result.exception, SystemExit):
            raised.append(f"{command[0]}: {type(result.exception).__name__}: {str(result.exception)[:200]}")
        elif result.exit_code not in (0, 1, 2):
            raised.append(f"{command[0]}: exit {result.exit_code}")
    return read is not None, raised
