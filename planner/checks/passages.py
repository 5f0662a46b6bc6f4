"""Rules on the passages between rooms: does the step of the trim read, does what stays meet its like."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Protocol

from planner.checks.check import Check, raised
from planner.house.model import Existing
from planner.library import Library
from planner.trim.packages import Package
from planner.units import Unit, counted, format_size


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


def check_passages(passages: Iterable[Passage], library: Library, unit: Unit) -> Iterator[Check]:
    """Passages whose step is abrupt, faint, or in the middle of one space."""
    for p in passages:
        tiers = counted(abs(p.difference), "tier")
        values = {"near": p.start, "far": p.end, "kind": p.kind, "difference": tiers}
        if p.kind == "open" and p.difference:
            yield raised(library, unit, "trim changes in one space", p.end, **values)
        elif p.reads in ("abrupt", "faint"):
            yield raised(library, unit, f"{p.reads} passage", p.end, **values)


def check_matches(
    packages: Mapping[str, Package],
    passages: Iterable[Passage],
    existing: Mapping[str, tuple[Existing, ...]],
    library: Library,
) -> Iterator[Check]:
    """Elements that stay in one of two rooms of a tier, and are of another size in the other, seen through a passage
    without a leaf."""
    rule = library.check("kept trim is not matched")
    for p in passages:
        if p.kind not in rule.words or p.difference or not {p.start, p.end} <= packages.keys():
            continue
        for room, other in ((p.start, p.end), (p.end, p.start)):
            kept = {row.element for row in existing.get(room, ())} - {row.element for row in existing.get(other, ())}
            for one in packages[room].elements:
                two = packages[other].element(one.element)
                if one.element not in kept or two is None or two.stays or not library.element(one.element).seen:
                    continue
                if abs(one.size - two.size) > rule.limits["seen"]:
                    unit = packages[room].unit
                    sizes = {"kept": format_size(one.size, unit), "planned": format_size(two.size, unit)}
                    yield raised(
                        library,
                        unit,
                        rule.name,
                        room,
                        room=room,
                        other=other,
                        kind=p.kind,
                        element=one.element,
                        **sizes,
                    )
