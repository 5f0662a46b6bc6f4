"""What a house says of allowances for cutting: the table [takeoff] of house.toml, read, written and respelled."""

from collections.abc import Mapping, MutableMapping
from typing import Any

import tomlkit

from planner.files.toml_settings import Settings, shown
from planner.library import Library
from planner.library.takeoff_rows import Allowance
from planner.units import LengthError, Unit, format_size, parse_length, quoted, section_unit, spell_length
from planner.values import immutabledict

TABLE = "takeoff"

LENGTHS = "lengths"
"""The key of the lengths that are sold where the stock says none."""

ANGLES = frozenset({"scarf"})
"""Allowances that are degrees."""

SHORTEST, LONGEST, MOST_LENGTHS = 24.0, 1200.0, 20
"""Lengths that are sold are from two to a hundred feet [in], and there are no more of them."""

Values = immutabledict[str, float | tuple[float, ...]]


def parse_takeoff(settings: Settings, unit: Unit, library: Library) -> Values:
    """What the settings of a house say of allowances, by name [in; of angles degrees]; what is faulty is told.

    A bare number is inches where the house is in feet or inches, and millimetres where it is metric.
    """
    if TABLE not in settings:
        return immutabledict()
    said, rows = settings.inner(TABLE), {row.name: row for row in library.takeoff.allowances}
    said.only((*rows, LENGTHS), "warning")
    found: dict[str, float | tuple[float, ...]] = {}
    for name, row in rows.items():
        value = _angle(said, row) if name in ANGLES else _length(said, row, unit)
        if value is not None:
            found[name] = value
    if lengths := _lengths(said, unit):
        found[LENGTHS] = lengths
    return immutabledict(found)


def _angle(said: Settings, row: Allowance) -> float | None:
    value = said.number(row.name, row.least, row.most)
    return None if value is None else float(value)


def _length(said: Settings, row: Allowance, unit: Unit) -> float | None:
    value = said.length(row.name, section_unit(unit))
    if value is not None and not row.least <= value <= row.most:
        least, most = format_size(row.least, unit), format_size(row.most, unit)
        said.fault(
            row.name, f"{shown(said.values[row.name])} is out of range", f"write a length from {least} to {most}"
        )
        return None
    return value


def _lengths(said: Settings, unit: Unit) -> tuple[float, ...]:
    """The lengths that are sold [in], rising; bare numbers are in the unit of moulding's sizes, as all here."""
    value = said.values.get(LENGTHS)
    if value is None:
        return ()
    listed = value if isinstance(value, list) else [value]
    bare, found = section_unit(unit), []
    remedy = (
        f"write from 1 to {MOST_LENGTHS} lengths from {format_size(SHORTEST, unit)} to {format_size(LONGEST, unit)}"
    )
    for one in listed:
        try:
            length = parse_length(one if isinstance(one, str) else shown(one), bare)
        except LengthError as error:
            said.fault(LENGTHS, error.message, error.remedy)
            return ()
        if isinstance(one, bool) or not SHORTEST <= length <= LONGEST:
            said.fault(LENGTHS, f"{quoted(str(one))} is no length that is sold", remedy)
            return ()
        found.append(length)
    if not 0 < len(found) <= MOST_LENGTHS:
        said.fault(LENGTHS, f"lists {len(found)} lengths", remedy)
        return ()
    return tuple(sorted(set(found)))


def write_takeoff(document: MutableMapping[str, Any], values: Values, unit: Unit, library: Library) -> None:
    """Put into the document of house.toml what a house says of allowances; what says so already stays as it is."""
    said = _said(document)
    if parse_takeoff(Settings({TABLE: said}, "", []), unit, library) == values:
        return
    known = {row.name for row in library.takeoff.allowances} | {LENGTHS}
    table = document[TABLE] if isinstance(document.get(TABLE), MutableMapping) else tomlkit.table()
    for name in [name for name in table if name in known and name not in values]:
        table.pop(name)
    for name, value in values.items():
        if parse_takeoff(Settings({TABLE: {name: said.get(name)}}, "", []), unit, library).get(name) != value:
            table[name] = _spelled(name, value, unit)
    if table:
        document[TABLE] = table
    else:
        document.pop(TABLE, None)


def respell_takeoff(document: MutableMapping[str, Any], was: Unit, unit: Unit) -> None:
    """Spell what the document of house.toml says of allowances in the unit that the house is to have; what cannot be
    read stays as it is."""
    if section_unit(was) == section_unit(unit):
        return
    for name, value in _said(document).items():
        if name not in ANGLES:
            spelled = [_respelled(one, was, unit) for one in (value if isinstance(value, list) else [value])]
            document[TABLE][name] = spelled if isinstance(value, list) else spelled[0]


def _respelled(value: Any, was: Unit, unit: Unit) -> Any:
    try:
        inches = parse_length(value if isinstance(value, str) else shown(value), section_unit(was))
    except LengthError:
        return value
    return spell_length(inches, section_unit(unit))


def _said(document: Mapping[str, Any]) -> dict[str, Any]:
    """The table as plain values."""
    table: Any = document.get(TABLE)
    plain = table.unwrap() if hasattr(table, "unwrap") else table
    return dict(plain) if isinstance(plain, Mapping) else {}


def _spelled(name: str, value: float | tuple[float, ...], unit: Unit) -> float | str | list[str]:
    if isinstance(value, tuple):
        return [spell_length(length, section_unit(unit)) for length in value]
    return value if name in ANGLES else spell_length(value, section_unit(unit))
