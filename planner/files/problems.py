"""Every fault found in a house, with the place where it stands and what would be right."""

import shutil
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
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


MOST_TOLD = 200
"""Faults of one kind, and problems of one file, that are told one by one: more nobody reads at once."""


def first_of(found: Iterable[Problem], most: int = MOST_TOLD) -> Iterator[Problem]:
    """The first problems of a check; no more of them is looked for, which the last one says."""
    told = list(islice(found, most + 1))
    yield from told[:most]
    if len(told) > most:
        last = told[most]
        yield replace(
            last, row=None, message=f"there are more faults like the {most} told of", remedy="mend these first"
        )


def summed_up(problems: Iterable[Problem], most: int = MOST_TOLD) -> tuple[Problem, ...]:
    """The problems in their order, of each file and severity the first, and how many more there are.

    >>> many = [Problem("rooms.csv", row, "use", "is blank", "write one") for row in range(2, 500)]
    >>> len(summed_up(many)), str(summed_up(many)[-1])
    (201, 'rooms.csv: there are 298 problems more; mend these first')
    """
    told: list[Problem] = []
    counts = Counter[tuple[str, Severity]]()
    for problem in problems:
        counts[problem.file, problem.severity] += 1
        if counts[problem.file, problem.severity] <= most:
            told.append(problem)
    for (file, severity), count in counts.items():
        if count > most:
            message = f"there are {count - most:,} problems more"
            told.append(Problem(file, None, None, message, "mend these first", severity))
    return tuple(told)


class HouseFault(Exception):
    """A house folder that cannot be planned; `problems` holds the errors and warnings found in it, see `summed_up`."""

    def __init__(self, problems: Iterable[Problem]):
        self.problems = summed_up(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    @property
    def errors(self) -> tuple[Problem, ...]:
        """The problems that are errors."""
        return tuple(p for p in self.problems if p.severity == "error")


def words_of(problems: Iterable[Problem]) -> str:
    """Problems one after the other, as running text; "" where there are none."""
    return " ".join(map(str, problems))


def reason_of(error: Exception) -> str:
    """Why the system did not do what it was asked for with a file, in its own words; of a folder's files the first why.

    >>> reason_of(OSError(28, "No space left on device", "a.csv"))
    'No space left on device'
    >>> reason_of(shutil.Error([("a.csv", "b.csv", "[Errno 28] No space left on device: 'a.csv' -> 'b.csv'")]))
    'No space left on device'
    """
    if isinstance(error, shutil.Error) and error.args and isinstance(error.args[0], list):
        (*_, why), *_ = error.args[0]
        return str(why).rpartition("] ")[2].partition(":")[0]
    return getattr(error, "strerror", None) or str(error)


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
    from rapidfuzz import fuzz, process  # only where something is wrong

    folded = {other.casefold()[:200]: other for other in known}
    found = process.extract(name.casefold()[:200], list(folded), scorer=fuzz.ratio, limit=count, score_cutoff=60)
    return tuple(folded[match] for match, _, _ in found)


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
