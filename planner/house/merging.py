"""A table that two people have edited from one beginning: what each changed, and both changes in one table."""

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

Rows = Sequence[Mapping[str, str]]


@dataclass(frozen=True)
class RowChange:
    """What became of one row of a table: it came, it went, or some of its cells changed, each to what it is now."""

    row: str
    kind: Literal["new", "gone", "changed"]
    cells: Mapping[str, str]
    before: Mapping[str, str]


def row_changes(before: Rows, now: Rows, key: Sequence[str]) -> tuple[RowChange, ...]:
    """What differs between two states of a table, whose rows are named by the columns `key`."""
    origin = _origins(before, now, key)
    stays = {at for at in origin if at is not None}
    found = [RowChange(_name(row, key), "gone", {}, row) for at, row in enumerate(before) if at not in stays]
    for row, at in zip(now, origin, strict=True):
        old = {} if at is None else before[at]
        if changed := _changed(old, row):
            was = {column: old.get(column, "") for column in changed}
            found.append(RowChange(_name(old or row, key), "new" if at is None else "changed", changed, was))
    return tuple(found)


def merged(before: Rows, mine: Rows, theirs: Rows, key: Sequence[str]) -> tuple[dict[str, str], ...]:
    """Their table with my changes in it.

    Where both changed a cell, mine stands; where one dropped a row that the other changed, the row stays, changed.

    Examples
    --------
    >>> before = [{"room": "Hall", "use": "hall", "level": "1"}]
    >>> mine, theirs = [before[0] | {"use": "entry hall"}], [before[0] | {"level": "2"}]
    >>> merged(before, mine, theirs, ["room"])
    ({'room': 'Hall', 'use': 'entry hall', 'level': '2'},)
    """
    my_origin, their_origin = _origins(before, mine, key), _origins(before, theirs, key)
    my_row = {at: row for row, at in zip(mine, my_origin, strict=True) if at is not None}
    found = []
    for row, at in zip(theirs, their_origin, strict=True):
        if at is None:
            found.append(dict(row))
        elif at in my_row:
            found.append({**row, **_changed(before[at], my_row[at])})
        elif _changed(before[at], row):
            found.append(dict(row))
    new = [dict(row) for row, at in zip(theirs, their_origin, strict=True) if at is None]
    for row, at in zip(mine, my_origin, strict=True):
        is_mine_alone = dict(row) not in new if at is None else at not in their_origin and _changed(before[at], row)
        if is_mine_alone:
            found.append(dict(row))
    return tuple(found)


def _origins(before: Rows, now: Rows, key: Sequence[str]) -> list[int | None]:
    """For each row now, which row it was before: one that is the same, else the next of its name, else the one in its
    place; of each no row that another was. None for a new one."""
    origin: list[int | None] = [None] * len(now)
    left = set(range(len(before)))
    ways: tuple[Callable[[int, Mapping[str, str]], Hashable], ...] = (
        lambda _, row: frozenset(row.items()),
        lambda _, row: _name(row, key),
        lambda place, _: place,
    )
    for way in ways:
        found: dict[Hashable, list[int]] = {}
        for at in sorted(left):
            found.setdefault(way(at, before[at]), []).append(at)
        for place, row in enumerate(now):
            if origin[place] is None and (like := found.get(way(place, row))):
                origin[place] = like.pop(0)
                left.discard(origin[place])
    return origin


def _changed(before: Mapping[str, str], now: Mapping[str, str]) -> dict[str, str]:
    return {column: cell for column, cell in now.items() if cell != before.get(column, "")}


def _name(row: Mapping[str, str], key: Iterable[str]) -> str:
    return ", ".join(row.get(column, "") for column in key)
