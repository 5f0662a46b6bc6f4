"""Where a row or a level of a sketch has come to in a later one: others may have been removed, added or renamed between
the two."""

from collections.abc import Iterable
from itertools import pairwise

from planner.house.sketch import Rows, Sketch, form


def row_since(sketches: Iterable[Sketch], file: str, at: int) -> int | None:
    """The place in the last of some sketches of the row that stood `at` a place in the first; None where it is gone.

    The sketches are steps, one after the other. The place after the last row stays after the last.
    """
    place: int | None = at
    for before, after in pairwise(sketches):
        if place is not None:
            place = _row_after(before.rows(file), after.rows(file), place)
    return place


def level_since(sketches: Iterable[Sketch], level: str) -> str | None:
    """What a level of the first of some sketches is called in the last; None where it is gone. They are steps."""
    name: str | None = level
    for before, after in pairwise(sketches):
        if name is not None:
            name = _level_after(before, after, name)
    return name


def _row_after(before: Rows, after: Rows, at: int) -> int | None:
    if before is after or len(before) == len(after):
        return at
    if at >= len(before):
        return len(after)
    same = [place for place, row in enumerate(after) if row is before[at]]
    alike = same or [place for place, row in enumerate(after) if row == before[at]]  # tables are read anew when saved
    grown = at if len(after) > len(before) else None  # cells were pasted over it that go on below the last row
    return min(alike, key=lambda place: abs(place - at), default=grown)


def _level_after(before: Sketch, after: Sketch, name: str) -> str | None:
    now = form(after).levels
    if name in now:
        return name
    there = next((was for was, called in before.renamed.levels.items() if called == name), name)
    called = after.renamed.levels.get(there, there)
    return called if called in now else None
