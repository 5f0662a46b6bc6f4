"""Settings in TOML files: every key read with its fault told by file and key."""

import re
import tomllib
from collections import Counter
from collections.abc import Collection, Mapping
from math import isfinite
from typing import Any

from planner.files.problems import MOST_TOLD, Problem, Severity, choose
from planner.files.storage import decode
from planner.units import LengthError, Unit, is_one_line, parse_length, quoted

LARGEST_SETTINGS = 1_000_000
"""A file of settings has no more bytes than this."""

_PART = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+"""
_LONG_KEY = re.compile(rf"(?m)(?:^|[{{,])[ \t]*+\[?+\[?+[ \t]*+(?:{_PART}\.[ \t]*+){{50}}")
"""A key of more parts than anybody writes; the reader of TOML takes time by the square of them."""

LARGEST_NUMBER = 1e15
"""No number of a house or an alternative is larger; beyond it not every whole one is told from its neighbours."""


class Settings:
    """One table of a TOML file. Each reader returns None where the key is missing or, told in `problems`, faulty."""

    def __init__(
        self,
        values: Mapping[str, Any],
        file: str,
        problems: list[Problem],
        path: str = "",
        lines: Mapping[str, int] | None = None,
    ):
        self.values, self.file, self.problems, self.path = values, file, problems, path
        self.lines = lines or {}

    def __contains__(self, key: str) -> bool:
        return key in self.values

    def fault(self, key: str | None, message: str, remedy: str, severity: Severity = "error") -> None:
        """Tell a problem of a key, or of the table itself."""
        where = self._where(key) if key is not None else self.path or None
        line = self.lines.get(where or "") or self.lines.get(self.path)
        self.problems.append(Problem(self.file, line, where, message, remedy, severity))

    def text(self, key: str, known: Collection[str] = ()) -> str | None:
        """Text on one line; one of the `known`, where they are given."""
        value = self.values.get(key)
        if value is None:
            return None
        if not isinstance(value, str):
            self.fault(key, f"{shown(value)} is not text", "put it in quotes")
        elif not is_one_line(value):
            self.fault(key, f"{quoted(value)} has a line break or a control character", "write it on one line")
        elif known and value not in known:
            self.fault(key, f"{quoted(value)} is not known", choose(value, known))
        else:
            return value
        return None

    def flag(self, key: str) -> bool | None:
        """true or false."""
        value = self.values.get(key)
        if value is None or isinstance(value, bool):
            return value
        self.fault(key, f"{shown(value)} is neither true nor false", "write true or false, without quotes")
        return None

    def number(self, key: str, least: float = 0.0, most: float = float("inf")) -> float | None:
        """A finite number from `least` to `most`."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fault(key, f"{shown(value)} is not a number", f"write a number, {_range(least, most)}")
        elif abs(value) > LARGEST_NUMBER or not isfinite(value) or not least <= value <= most:
            self.fault(key, f"{shown(value)} is out of range", f"write a number, {_range(least, most)}")
        else:
            return value
        return None

    def whole(self, key: str, least: int, most: int) -> int | None:
        """A whole number from `least` to `most`."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            self.fault(
                key, f"{shown(value)} is no whole number {_range(least, most)}", f"write one {_range(least, most)}"
            )
            return None
        return value

    def length(self, key: str, unit: Unit) -> float | None:
        """A length [in], as text or as a bare number of `unit`."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            self.fault(key, f"{shown(value)} is not a length", """write e.g. "9'-0\\"" or 108""")
            return None
        try:
            return parse_length(value if isinstance(value, str) else shown(value), unit)
        except LengthError as error:
            self.fault(key, error.message, error.remedy)
            return None

    def names(self, key: str) -> tuple[str, ...] | None:
        """A list of texts; one text alone is a list of one."""
        value = self.values.get(key)
        if value is None:
            return None
        listed = [value] if isinstance(value, str) else value
        if not isinstance(listed, list) or not listed or not all(isinstance(name, str) for name in listed):
            self.fault(key, f"{shown(value)} is not a list of names", 'write e.g. ["Front Parlor", "Back Parlor"]')
            return None
        return tuple(name.strip() for name in listed)

    def inner(self, key: str) -> "Settings":
        """The table under a key, empty where it is missing or no table."""
        value = self.values.get(key, {})
        if not isinstance(value, dict):
            self.fault(key, f"{shown(value)} is not a table", f"write a table, [{self._where(key)}]")
            value = {}
        return Settings(value, self.file, self.problems, self._where(key), self.lines)

    def each(self, key: str) -> list["Settings"]:
        """The tables of a list of tables, [[key]]."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            self.fault(key, f"{shown(value)} is not a list of tables", f"begin each with a line [[{self._where(key)}]]")
            value = []
        return [
            Settings(one, self.file, self.problems, f"{self._where(key)} {number}", self.lines)
            for number, one in enumerate(value, start=1)
        ]

    def unknown(self, key: str, what: str, name: str, known: Collection[str]) -> None:
        """Tell of a name that is none of those that there are; the nearest are looked for while few faults are told."""
        remedy = "mend the faults above first" if len(self.problems) > MOST_TOLD else choose(name, known or [name])
        self.fault(key, f"there is no {what} {quoted(name)}", remedy if known else "drop it")

    def only(self, known: Collection[str], severity: Severity = "error") -> None:
        """Tell of every key that is none of the `known`."""
        for key in self.values:
            if key not in known:
                self.fault(key, f"{quoted(key)} is not known here", f"{choose(key, known)}, or drop it", severity)

    def _where(self, key: str) -> str:
        name = key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else quoted(key)
        return f"{self.path}.{name}" if self.path else name


def parse_settings(data: bytes, file: str, problems: list[Problem]) -> Settings | None:
    """The settings in the bytes of a TOML file, or None where it is not TOML."""
    if len(data) > LARGEST_SETTINGS:
        limit = f"{LARGEST_SETTINGS // 1_000_000} MB"
        problems.append(Problem(file, None, None, f"is larger than {limit}", f"keep it under {limit}"))
        return None
    text = decode(data, file, problems)
    if text is None:
        return None
    if long := _LONG_KEY.search(text):
        told = text.count("\n", 0, long.end()) + 1
        problems.append(Problem(file, told, None, "has a key of more than 50 parts", "write key = value on each line"))
        return None
    try:
        return Settings(tomllib.loads(text), file, problems, lines=_lines(text))
    except (ValueError, RecursionError) as error:
        place = re.search(r" \(at (?:line (\d+)|end of document)", str(error))
        row = int(place[1] or text.count("\n") + 1) if place else None
        reason = str(error)[: place.start()] if place else "it is nested too deeply, or a number is too long"
        remedy = "write key = value on each line, and text in quotes"
        problems.append(Problem(file, row, None, f"is not TOML ({reason[:100]})", remedy))
        return None


def _lines(text: str) -> dict[str, int]:
    """The line of each table of a list of tables and of its keys, by their place as faults tell it.

    >>> _lines("tiers = 5\\n\\n[[sets]]\\nrooms = []\\n[[sets]]\\n")
    {'sets 1': 3, 'sets 1.rooms': 4, 'sets 2': 5}
    """
    found: dict[str, int] = {}
    table, counts = "", Counter[str]()
    for number, line in enumerate(text.splitlines(), start=1):
        if header := re.match(r"\s*\[\[\s*([A-Za-z0-9_-]+)\s*\]\]", line):
            counts[header[1]] += 1
            table = f"{header[1]} {counts[header[1]]}"
            found[table] = number
        elif re.match(r"\s*\[", line):
            table = ""
        elif table and (key := re.match(r"\s*([A-Za-z0-9_-]+)\s*=", line)):
            found.setdefault(f"{table}.{key[1]}", number)
    return found


def shown(value: object) -> str:
    """A value for a message, cut where it is too long.

    >>> shown("a\\nb"), shown([1, 2]), shown(16**5000)
    ('"a b"', '[1, 2]', 'a number of too many digits')
    """
    if isinstance(value, str):
        return quoted(value)
    try:
        return str(value)[:60]
    except ValueError:  # more digits than Python writes out
        return "a number of too many digits"
    except RecursionError:
        return "what is nested too deeply"


def _range(least: float, most: float) -> str:
    return f"from {least:g} to {most:g}" if isfinite(most) else f"of {least:g} or more"
