"""Rules on the passages between rooms: does the step of the trim read."""

from collections.abc import Iterable, Iterator
from typing import Protocol

from planner.checks.check import Check, raised
from planner.library import Library


class Passage(Protocol):
    """What is needed of a passage of a plan; see planner.planning.answer.PassagePlan."""

    @property
    def start(self) -> str: ...
    @property
    def end(self) -> str: ...
    @property
    def kind(self) -> str: ...
    @property
    def difference(self) -> int: ...
    @property
    def reads(self) -> str: ...


def check_passages(passages: Iterable[Passage], library: Library) -> Iterator[Check]:
    """Passages whose step is abrupt, faint, or in the middle of one space."""
    for p in passages:
        tiers = f"{abs(p.difference)} tier" + ("s" if abs(p.difference) != 1 else "")
        values = {"near": p.start, "far": p.end, "kind": p.kind, "difference": tiers}
        if p.kind == "open" and p.difference:
            yield raised(library, "trim changes in one space", p.end, **values)
        elif p.reads in ("abrupt", "faint"):
            yield raised(library, f"{p.reads} passage", p.end, **values)
