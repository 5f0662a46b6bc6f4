"""What was typed into a house's tables and is not saved yet, on the disk: a draft for each session, of all tables."""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from planner.files.problems import HouseFault, Problem
from planner.files.storage import Overtaken, read_bytes, replace_files
from planner.house.editing import TABLES, Sheet, as_cells, sheet_of
from planner.house.folder import ALTERNATIVES
from planner.intent.sessions import SESSION, Session, lasts

DRAFT = re.compile(rf"tables\.({SESSION.pattern})\.draft\.json")
"""What the files of drafts are called."""

Cells = Sequence[Mapping[str, str]]


@dataclass(frozen=True)
class TypedTable:
    """A table as it was read, and its rows as they were typed since."""

    read: Sheet
    rows: Cells


class TableDraft:
    """The draft of one session; a page that is loaded again goes on with the one that it had, a new page with the
    latest of those whose sessions are gone.

    `found` is what was taken up, by its table, `touched` when that was written last, `faults` why a draft could not be
    read.
    """

    def __init__(self, house: Path, session: str = ""):
        self._house, self._session = house, Session(house, session)
        self._there: dict[str, bytes] = {}
        self.found: Mapping[str, TypedTable] = {}
        self.touched: datetime | None = None
        problems: list[Problem] = []
        for path in self._left():
            file = f"{ALTERNATIVES}/{path.name}"
            data = read_bytes(path, file, problems)
            if data is None:
                continue
            try:
                self.found, self.touched = typed_in(data, file), datetime.fromtimestamp(path.stat().st_mtime)
            except HouseFault as fault:
                problems += fault.problems
            except OSError:  # it was put away at this moment
                continue
            else:
                self._there = {file: data}
                self._session.show()
                break
        self.faults = tuple(problems)

    @property
    def session(self) -> str:
        """The name of the session, which its draft bears."""
        return self._session.name

    def keep(self, typed: Mapping[str, TypedTable]) -> None:
        """Write what is typed now, or remove the draft where nothing is; it is on the disk then.

        Raises HouseFault where it cannot be written; what was kept before is there then.
        """
        if not typed and not self._there:
            return
        self._session.show()
        try:
            self._write(typed)
        except Overtaken:  # its page is open twice, or its draft was put away: it is a session of its own from here on
            self._session, self._there = Session(self._house), {}
            self._session.show()
            self._write(typed)

    def _write(self, typed: Mapping[str, TypedTable]) -> None:
        file = f"{ALTERNATIVES}/tables.{self.session}.draft.json"
        new = {file: draft_bytes(typed)} if typed else {}
        replace_files(self._house, {**dict.fromkeys(self._there), **new}, {**dict.fromkeys(new), **self._there})
        self._there = new

    def _left(self) -> list[Path]:
        """The files that may be taken up: the session's own, then those of sessions that are gone, the latest first."""
        try:
            paths = [(path, path.stat().st_mtime) for path in (self._house / ALTERNATIVES).iterdir()]
        except OSError:
            return []
        named = [(path, found[1], moment) for path, moment in paths if (found := DRAFT.fullmatch(path.name))]
        open_to = [one for one in named if one[1] == self.session or not lasts(self._house, one[1])]
        ranked = sorted(open_to, key=lambda one: (one[1] == self.session, one[2]), reverse=True)
        return [path for path, _, _ in ranked]


def draft_bytes(typed: Mapping[str, TypedTable]) -> bytes:
    """A draft as it is kept: by its table what was typed, and what was read before."""
    tables = {
        file: {"read": None if one.read.seen is None else _text(one.read.seen), "rows": list(map(dict, one.rows))}
        for file, one in typed.items()
    }
    return json.dumps(tables, indent=1).encode()


def typed_in(data: bytes, file: str) -> dict[str, TypedTable]:
    """What a draft says, by its table; raises HouseFault where it is none."""
    try:
        tables, typed = dict(json.loads(data).items()), {}
        for name in (name for name in TABLES if name in tables):
            read, rows = tables[name]["read"], tables[name]["rows"]
            seen = None if read is None else read.encode("utf-8", "surrogateescape")
            typed[name] = TypedTable(sheet_of(name, seen), as_cells(name, rows))
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        message = "is no draft of a house's tables"
        raise HouseFault([Problem(file, None, None, message, "remove it", "warning")]) from error
    return typed


def _text(data: bytes) -> str:
    return data.decode("utf-8", "surrogateescape")
