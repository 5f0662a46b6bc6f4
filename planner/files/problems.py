"""Every fault found in a house, with the place where it stands and what would be right."""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

from planner.units import quoted

Severity = Literal["error", "warning"]


@dataclass(frozen=True)
class Problem:
    """One fault or doubt.

    `row` is the row that a spreadsheet shows (the header is row 1), `column` a column or key; either may be None.
    An error keeps the house from being planned; a warning does not.

    >>> print(Problem("rooms.csv", 7, "ceiling", '"ten" is not a length', "write e.g. 10' or 120 in"))
    rooms.csv row 7, ceiling: "ten" is not a length; write e.g. 10' or 120 in
    """

    file: str
    row: int | None
    column: str | None
    message: str
    remedy: str
    severity: Severity = "error"

    def __str__(self) -> str:
        row = f" row {self.row}" if self.row else ""
        column = f", {self.column}" if self.column else ""
        return f"{self.file}{row}{column}: {self.message}; {self.remedy}"


class HouseFault(Exception):
    """A house folder that cannot be planned; `problems` holds every error and warning found in it."""

    def __init__(self, problems: Iterable[Problem]):
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    @property
    def errors(self) -> tuple[Problem, ...]:
        """The problems that are errors."""
        return tuple(p for p in self.problems if p.severity == "error")


def words_of(problems: Iterable[Problem]) -> str:
    """Problems one after the other, as running text; "" where there are none."""
    return " ".join(map(str, problems))


def raise_errors(problems: Iterable[Problem]) -> None:
    """Raise HouseFault with all of the problems where at least one is an error."""
    fault = HouseFault(problems)
    if fault.errors:
        raise fault


def nearest(name: str, known: Iterable[str], count: int = 3) -> tuple[str, ...]:
    """The known names most like `name`, best first, whatever their case; empty where none is like it.

    >>> nearest("dinning room", ["Dining Room", "Parlor"])
    ('Dining Room',)
    """
    folded = {other.casefold()[:200]: other for other in known}
    return tuple(folded[match] for match in get_close_matches(name.casefold()[:200], folded, count))


def choose(name: str, known: Iterable[str]) -> str:
    """Remedy for a name that is not known: the nearest known ones, or all where they are few.

    >>> choose("doorr", ["door", "window"]), choose("x", ["door", "window"])
    ('write "door"', 'write one of "door", "window"')
    """
    known = list(known)
    offered = nearest(name, known) or (known if len(known) <= 12 else ())
    if not offered:
        return f"write one of the {len(known)} that are known, e.g. {quoted(known[0])}"
    listed = ", ".join(quoted(other) for other in offered)
    return f"write {listed}" if len(offered) == 1 else f"write one of {listed}"
