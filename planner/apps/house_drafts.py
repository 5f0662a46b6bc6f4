"""What was drawn and typed of a house and is not saved yet, on the disk: a draft for each session, of all its files."""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from planner.files.problems import HouseFault, Problem
from planner.files.storage import Overtaken, read_bytes, replace_files
from planner.house.editing import TABLES, as_cells, sheet_of
from planner.house.folder import ALTERNATIVES
from planner.house.parsing import HOUSE
from planner.house.sketch import Renamed, settings_text
from planner.intent.sessions import SESSION, Session, lasts

DRAFT = re.compile(rf"tables\.({SESSION.pattern})\.draft\.json")
"""What the files of drafts are called."""

Cells = Sequence[Mapping[str, str]]


@dataclass(frozen=True)
class Unsaved:
    """What is not saved: by its file what was read, the rows of those tables as they are now, the text of house.toml
    where that is among them, and what is called otherwise.
    """

    seen: Mapping[str, bytes | None]
    tables: Mapping[str, Cells]
    toml: str | None = None
    renamed: Renamed = field(default_factory=Renamed)


class HouseDraft:
    """The draft of one session; a page that is loaded again goes on with the one that it had, a new page with the
    latest of those whose sessions are gone.

    `found` is what was taken up, None where nothing was, `touched` when that was written last, `faults` why a draft
    could not be read.
    """

    def __init__(self, house: Path, session: str = ""):
        self._house, self._session = house, Session(house, session)
        self._there: dict[str, bytes] = {}
        self.found: Unsaved | None = None
        self.touched: datetime | None = None
        problems: list[Problem] = []
        for path in self._left():
            file = f"{ALTERNATIVES}/{path.name}"
            data = read_bytes(path, file, problems)
            if data is None:
                continue
            try:
                self.found, self.touched = unsaved_in(data, file), datetime.fromtimestamp(path.stat().st_mtime)
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

    def keep(self, unsaved: Unsaved) -> None:
        """Write what is not saved now, or remove the draft where all is; it is on the disk then.

        Raises HouseFault where it cannot be written; what was kept before is there then.
        """
        if not unsaved.seen and not self._there:
            return
        self._session.show()
        try:
            self._write(unsaved)
        except Overtaken:  # its page is open twice, or its draft was put away: it is a session of its own from here on
            self._session, self._there = Session(self._house), {}
            self._session.show()
            self._write(unsaved)

    def _write(self, unsaved: Unsaved) -> None:
        file = f"{ALTERNATIVES}/tables.{self.session}.draft.json"
        new = {file: draft_bytes(unsaved)} if unsaved.seen else {}
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


def draft_bytes(unsaved: Unsaved) -> bytes:
    """A draft as it is kept: by its file what stands in it now, and what was read before."""
    read = {file: _text(seen) for file, seen in unsaved.seen.items()}
    said: dict[str, Any] = {
        file: {"read": read[file], "rows": list(map(dict, rows))} for file, rows in unsaved.tables.items()
    }
    if unsaved.toml is not None:
        said[HOUSE] = {"read": read[HOUSE], "text": unsaved.toml}
    renamed = {"rooms": dict(unsaved.renamed.rooms), "levels": dict(unsaved.renamed.levels)}
    return json.dumps(said | ({"renamed": renamed} if any(renamed.values()) else {}), indent=1).encode()


def unsaved_in(data: bytes, file: str) -> Unsaved:
    """What a draft says; raises HouseFault where it is none."""
    try:
        said = dict(json.loads(data).items())
        seen = {name: _seen(said[name]["read"]) for name in (HOUSE, *TABLES) if name in said}
        tables = {name: as_cells(name, said[name]["rows"]) for name in TABLES if name in said}
        for name in tables:
            sheet_of(name, seen[name])
        toml = str(said[HOUSE]["text"]) if HOUSE in said else None
        settings_text((toml or "").encode("utf-8", "surrogatepass"))
        names = said.get("renamed", {"rooms": {}, "levels": {}})
        rooms, levels = ({str(k): str(v) for k, v in names[what].items()} for what in ("rooms", "levels"))
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, HouseFault) as error:
        message = "is no draft of a house"
        raise HouseFault([Problem(file, None, None, message, "remove it", "warning")]) from error
    return Unsaved(seen, tables, toml, Renamed(rooms, levels))


def _text(seen: bytes | None) -> str | None:
    return None if seen is None else seen.decode("utf-8", "surrogateescape")


def _seen(text: str | None) -> bytes | None:
    return None if text is None else text.encode("utf-8", "surrogateescape")
