"""What was read of a spreadsheet and is not in the house yet: shown as it was understood, with what is wrong."""

import base64
import binascii
from dataclasses import dataclass
from itertools import count
from typing import Any

from planner.files.csv_tables import LARGEST_TABLE, beyond
from planner.files.problems import HouseFault, Problem, words_of
from planner.house.drafting import with_rows_added
from planner.house.faults import OPENINGS, ROOMS
from planner.house.importing import Grid, Understood, grids, text_grid, understood
from planner.house.sketch import Sketch, judged
from planner.library import Library
from planner.units import counted

SHOWN = 8
"""So many rows of what was read are shown, and so many faults of each kind."""

THINGS = {ROOMS: "room", OPENINGS: "opening"}
"""The tables that are read, by what a row of each is."""


@dataclass
class Part:
    """One sheet as it was read."""

    number: int
    title: str
    grid: Grid
    understood: Understood


class Readings:
    """The sheets of the file or the text that was read last, until they are taken over or put away; `error` says why
    nothing could be read."""

    def __init__(self) -> None:
        self.parts: list[Part] = []
        self.error = ""
        self._read = 0

    def clear(self) -> None:
        """Put away what was read."""
        self.parts, self.error = [], ""

    def read(self, name: str, text: object, data: object, size: int) -> None:
        """Read a text, or a file whose bytes come as base64; of one too large to come, only its size does."""
        self.clear()
        try:
            if size > LARGEST_TABLE or (isinstance(data, str) and len(data) > LARGEST_TABLE * 4 // 3 + 8):
                raise HouseFault([Problem(name, None, None, *beyond(LARGEST_TABLE // 1_000_000, "MB"))])
            found = grids(base64.b64decode(data, validate=True), name) if isinstance(data, str) else None
            found = {name: text_grid(str(text or ""))} if found is None else found
        except HouseFault as fault:
            self.error = words_of(fault.problems)
            return
        except binascii.Error:
            self.error = f"{name} did not arrive whole; choose it again"
            return
        numbers = count(self._read)
        self.parts = [Part(next(numbers), title, grid, understood(grid)) for title, grid in found.items() if grid]
        self._read = next(numbers)
        if not self.parts:
            self.error = (
                "There are no cells in it: copy them in the spreadsheet, with their header, and paste them here."
            )

    def part(self, number: int) -> Part:
        """The part of that number; raises IndexError where it has been taken over or put away."""
        found = [part for part in self.parts if part.number == number]
        return found[0]

    def read_as(self, number: int, file: str) -> None:
        """Read a part as another table."""
        part = self.part(number)
        part.understood = understood(part.grid, file)

    def shown(self, sketch: Sketch, library: Library) -> dict[str, Any]:
        """What the board is told of it."""
        return {"error": self.error, "parts": self._shown(sketch, library) if self.parts else []}

    def _shown(self, sketch: Sketch, library: Library) -> list[dict[str, Any]]:
        whole, begins = sketch, list[int]()
        for part in self.parts:
            begins.append(len(whole.rows(part.understood.file)))
            whole = with_rows_added(whole, part.understood.file, part.understood.rows)
        _, faults = judged(whole, library)
        return [_part(part, begin, sketch, faults) for part, begin in zip(self.parts, begins, strict=True)]


def _part(part: Part, begin: int, sketch: Sketch, faults: tuple[Problem, ...]) -> dict[str, Any]:
    what = part.understood
    used = [column for _, column in what.columns if column]
    own = [f for f in faults if f.file == what.file and f.row and 0 <= f.row - 2 - begin < len(what.rows)]
    errors = sum(fault.severity == "error" for fault in own)
    unread = [heading for heading, column in what.columns if not column]
    told = f"{counted(len(what.rows), 'row')} read, {counted(errors, 'fault')} in them. "
    told += f"{_header(what)}."
    told += f" Not read: {', '.join(unread)}." if unread else ""
    thing, there = THINGS[what.file], len(sketch.rows(what.file))
    return {
        "number": part.number,
        "title": part.title,
        "told": told,
        "file": what.file,
        "choices": [{"file": file, "title": f"{thing}s"} for file, thing in THINGS.items()],
        "columns": [[heading, column or "not read"] for heading, column in what.columns],
        "header": used,
        "rows": [[row[column] for column in used] for row in what.rows[:SHOWN]],
        "more": f"the first {SHOWN} of {len(what.rows)}" if len(what.rows) > SHOWN else "",
        "faults": [[str(what.numbers[(f.row or 0) - 2 - begin]), f.column, f.message, f.remedy] for f in own[:SHOWN]],
        "count": len(what.rows),
        "counted": counted(len(what.rows), thing),
        "there": f"{counted(there, thing)} that {'is' if there == 1 else 'are'} there",
    }


def _header(what: Understood) -> str:
    """What is told of the header of a sheet."""
    if not what.is_sure:
        return "It has no header that is known: columns in their order"
    above = f"Its header stands below {counted(what.above, 'row')} of title, which is not read"
    return above if what.above else "Its first row is the header"
