"""A house folder as it is planned with, and what differs between two such states, in words for people."""

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, fields, replace
from operator import attrgetter
from pathlib import Path
from typing import Any

from planner.files.storage import settled
from planner.house.faults import OPENINGS, ROOMS, STOCK
from planner.house.folder import read_house
from planner.house.model import House
from planner.house.parsing import HOUSE
from planner.house.side_tables import SIDE_TABLES
from planner.house.styles import house_library
from planner.intent.folder import read_intent
from planner.intent.model import Intent
from planner.intent.words import difference
from planner.library import Library
from planner.record.fingerprint import WITHOUT, Fingerprints, fingerprints, part, used_styles
from planner.stock.stock import Stock, read_stock
from planner.units import Unit, format_length, format_size

MOST_TOLD = 20
"""Differences of one file that are told one by one."""

LENGTHS = frozenset(
    ("length", "width", "ceiling", "offset", "height", "sill", "bottom", "top", "depth", "foot", "projection")
)
"""Fields of a house's rows that are lengths."""

SIZES = frozenset(("height", "projection", "thickness", "rise", "run"))
"""Fields that are sizes of small things, in a stock's rows and of a flight's steps."""

Calls = Callable[[str], str]
"""What a room is called now, by what it was called."""


@dataclass(frozen=True)
class State:
    """What a plan is made from, as a folder has it."""

    house: House
    intent: Intent
    stock: Stock | None
    library: Library

    @property
    def fingerprints(self) -> Fingerprints:
        """Those of all four."""
        return fingerprints(self.house, self.intent, self.stock, self.library)


def read_state(folder: Path, alternative: str) -> State:
    """A house with an alternative, its own defaults where that is "", as its folder has them. Raises HouseFault where
    one of them is faulty."""
    with settled(folder):
        library, _ = house_library(folder)
        house, _ = read_house(folder, library)
        intent = read_intent(folder, alternative, library) if alternative else Intent()
        return State(house, intent, read_stock(folder, house.unit, library), library)


def differences(before: State, now: State, called: Calls = str) -> Iterator[str]:
    """What differs from one state to the next, in words, file by file; nothing where nothing does that can change a
    plan. `called` says what a room is called now."""
    unit = now.house.unit
    for old in before.house.by_name:
        if (new := called(old)) != old and new in now.house.by_name:
            yield f"{ROOMS} has changed since: {old} is called {new}"
    house = under_new_names(before.house, called)
    yield from _of_file(HOUSE, _of_settings(house, now.house))
    for file, rows, key in TABLES:
        yield from _of_file(file, _of_rows(rows(house), rows(now.house), key, unit))
    old_stock, new_stock = (state.stock.profiles if state.stock else () for state in (before, now))
    yield from _of_file(STOCK, _of_rows(old_stock, new_stock, attrgetter("code"), unit, small=True))
    wished = wishes_under_new_names(before.intent, called)
    if part(wished) != part(now.intent):
        words = difference(wished, now.intent, unit)
        yield f"the alternative has changed since: {words or 'it says something else'}"
    used = used_styles(before.house, before.intent) | used_styles(now.house, now.intent)
    yield from _of_library(before.library, now.library, used)


TABLES: tuple[tuple[str, Callable[[House], Sequence[Any]], Callable[[Any], Hashable]], ...] = (
    (ROOMS, attrgetter("rooms"), attrgetter("name")),
    (OPENINGS, attrgetter("openings"), attrgetter("name")),
    *((table.file, attrgetter(table.field), table.key) for table in SIDE_TABLES),
)
"""The tables of a house: their files, their rows, and what tells a row from the others."""


def under_new_names(house: House, called: Calls) -> House:
    """The house with its rooms under other names."""
    return replace(
        house,
        entries=tuple(map(called, house.entries)),
        rooms=tuple(replace(room, name=called(room.name)) for room in house.rooms),
        openings=tuple(replace(o, room=called(o.room), other=called(o.other)) for o in house.openings),
        existing=tuple(replace(row, room=called(row.room)) for row in house.existing),
        fixtures=tuple(replace(row, room=called(row.room)) for row in house.fixtures),
        flights=tuple(replace(row, room=called(row.room)) for row in house.flights),
    )


def wishes_under_new_names(intent: Intent, called: Calls) -> Intent:
    """The alternative with the house's rooms under other names."""

    def all_called(names: Iterable[str]) -> tuple[str, ...]:
        return tuple(map(called, names))

    return replace(
        intent,
        rooms={called(room): wish for room, wish in intent.rooms.items()},
        sets=tuple(map(all_called, intent.sets)),
        trim=tuple(replace(r, scope=replace(r.scope, rooms=all_called(r.scope.rooms))) for r in intent.trim),
        wings=tuple(replace(wing, rooms=all_called(wing.rooms)) for wing in intent.wings),
    )


def _of_file(file: str, found: Iterable[str]) -> Iterator[str]:
    """What differs in a file, each with the file's name; of many the first, and how many more there are."""
    told = list(found)
    yield from (f"{file} has changed since: {words}" for words in told[:MOST_TOLD])
    if (more := len(told) - MOST_TOLD) > 0:
        yield f"{file} has changed since: {more:,} differences more"


def _of_settings(before: House, now: House) -> Iterator[str]:
    tables = {"rooms", "openings", *(table.field for table in SIDE_TABLES)}
    for field in fields(House):
        old, new = getattr(before, field.name), getattr(now, field.name)
        if field.name not in tables | WITHOUT[House] and old != new:
            yield f"{field.name} was {_said(old)}, is {_said(new)}"


def _of_rows(
    before: Sequence[Any], now: Sequence[Any], key: Callable[[Any], Hashable], unit: Unit, *, small: bool = False
) -> Iterator[str]:
    """What differs between the rows of a table; `small` are rows of mouldings, whose lengths are sizes."""
    old, new = ({key(row): row for row in rows} for rows in (before, now))
    yield from (f"{_name(at)} is gone" for at in old if at not in new)
    yield from (f"{_name(at)} is new" for at in new if at not in old)
    for at, row in old.items():
        if at in new and row != new[at]:
            yield from _of_row(_name(at), row, new[at], unit, small)
    if list(old) != list(new) and old.keys() == new.keys():
        yield "its rows stand in another order"


def _of_row(name: str, before: Any, now: Any, unit: Unit, small: bool) -> Iterator[str]:
    for field in fields(before):
        old, new = getattr(before, field.name), getattr(now, field.name)
        if old == new or field.name in WITHOUT.get(type(before), ()):
            continue
        if isinstance(old, tuple):
            yield f"the {field.name} of {name} {'are' if field.name.endswith('s') else 'is'} another"
            continue
        show = _size if field.name in SIZES and (small or field.name not in LENGTHS) else _length
        told = show if field.name in LENGTHS | SIZES else _plainly
        yield f"the {field.name} of {name} was {told(old, unit)}, is {told(new, unit)}"


def _of_library(before: Library, now: Library, used: frozenset[str]) -> Iterator[str]:
    """What differs between the periods that are used."""
    old, new = ({s.name: s for s in library.styles if s.name in used} for library in (before, now))
    for name in dict.fromkeys((*old, *new)):
        if old.get(name) != new.get(name):
            became = "is gone" if name not in new else "is new" if name not in old else "says something else"
            yield f"styles have changed since: {name} {became}"


def _name(key: Hashable) -> str:
    return f"the {key[1]} of {key[0]}" if isinstance(key, tuple) else str(key)


def _length(value: Any, unit: Unit) -> str:
    return format_length(value, unit) if isinstance(value, float) else _said(value)


def _size(value: Any, unit: Unit) -> str:
    return format_size(value, unit) if isinstance(value, float) else _said(value)


def _plainly(value: Any, _: Unit) -> str:
    return _said(value)


def _said(value: Any) -> str:
    if isinstance(value, tuple):
        return ", ".join(map(str, value)) or "blank"
    return "blank" if value in (None, "") else f"{value:g}" if isinstance(value, float) else str(value)
