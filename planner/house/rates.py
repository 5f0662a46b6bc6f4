"""What a house says of costs itself, rates.csv: its rows as facts, every fault told by row and column."""

import re
from collections.abc import Iterator
from decimal import Decimal
from math import isfinite

from planner.files.csv_tables import Row
from planner.files.problems import Problem, choose
from planner.house.model import House, OwnRate
from planner.library import Library
from planner.library.rate_rows import PART, Rate
from planner.units import Unit, quoted

RATES = "rates.csv"
COLUMNS = ("rate", "value", "low", "high", "unit", "confirmed", "notes")
OPTIONAL = ("value", "low", "high", "unit", "confirmed", "notes")

FIGURES = ("value", "low", "high")

YES, NO = "yes", "no"

NUMBER = re.compile(r"\d+\.?\d*|\.\d+", re.ASCII)


def parse_rates(rows: list[Row], house: House, library: Library, problems: list[Problem]) -> tuple[OwnRate, ...]:
    """The house's own rates; every fault is told in `problems`, and what is faulty is left out.

    Parameters
    ----------
    rows : of the table.
    library : whose rates they stand in the place of.
    """
    del house
    found: dict[str, OwnRate] = {}
    first: dict[str, int] = {}
    for row in rows:
        start = len(problems)
        one = None if row.torn else _rate(row, library, problems)
        if one is not None and first.setdefault(one.name, row.number) != row.number:
            message = f"{one.name} is there already, in row {first[one.name]}"
            problems.append(row.problem("rate", message, "write each rate once"))
        if one is not None and len(problems) == start:
            found[one.name] = one
    return tuple(found.values())


def rate_cells(one: OwnRate, unit: Unit) -> dict[str, str]:
    """A row of rates.csv, text by column."""
    del unit
    cells = {"rate": one.name, "unit": one.unit, "confirmed": YES if one.confirmed else "", "notes": one.notes}
    figures = {name: getattr(one, name) for name in FIGURES}
    cells |= {name: "" if value is None else _spelled(value) for name, value in figures.items()}
    return {column: cells[column] for column in COLUMNS}


def _spelled(value: float) -> str:
    """A figure in full, without an exponent."""
    return f"{Decimal(repr(value)):f}".removesuffix(".0")


def _rate(row: Row, library: Library, problems: list[Problem]) -> OwnRate | None:
    """What a row says; None where it does not say enough."""
    if not row["rate"]:
        problems.append(row.problem("rate", "is blank", "write e.g. carpenter"))
        return None
    name = " ".join(row["rate"].casefold().split())
    rate = library.rate_names.get(name)
    if rate is None:
        remedy = choose(name, library.rate_names)
        problems.append(row.problem("rate", f"{quoted(row['rate'])} is no rate", remedy))
        return None
    unit = _unit(row, rate, problems)
    value, low, high = (_figure(row, column, rate, unit, problems) for column in FIGURES)
    problems += _in_order(row, value, low, high)
    said = row["confirmed"].casefold()
    if said not in (YES, NO, ""):
        problems.append(
            row.problem("confirmed", f"{quoted(row['confirmed'])} is neither yes nor no", "write yes or no")
        )
    return OwnRate(rate.name, value, low, high, row["unit"] and unit, said == YES, row["notes"])


def _unit(row: Row, rate: Rate, problems: list[Problem]) -> str:
    """The unit of a row's figures; that of the library where the row says none, or none that the rate can have."""
    said = " ".join(row["unit"].casefold().split())
    if said and said not in rate.units:
        message = f"{quoted(row['unit'])} is no unit of {rate.name}"
        problems.append(row.problem("unit", message, choose(said, rate.units)))
    return said if said in rate.units else rate.unit


def _figure(row: Row, column: str, rate: Rate, unit: str, problems: list[Problem]) -> float | None:
    """A figure in the unit of its row; None where it is blank or faulty, which is told."""
    text = row[column]
    if not text:
        return None
    least, most = (end / rate.units[unit] for end in (rate.least, rate.most))
    hint = ", e.g. 0.08 or 8 %" if rate.unit == PART else ""
    remedy = f"write a number from {least:.4g} to {most:.4g} [{unit}]{hint}"
    hundredths = rate.unit == PART and text.endswith("%")
    bare = text.removesuffix("%").rstrip() if hundredths else text
    if not NUMBER.fullmatch(bare):
        problems.append(row.problem(column, f"{quoted(text)} is no plain number", remedy))
        return None
    value = float(bare) / (100 if hundredths else 1)
    if not isfinite(value) or not rate.least <= value * rate.units[unit] <= rate.most:
        problems.append(row.problem(column, f"{quoted(text)} is out of range", remedy))
        return None
    return value


def _in_order(row: Row, value: float | None, low: float | None, high: float | None) -> Iterator[Problem]:
    """Ends of a range that stand on the wrong side of its value, or without one."""
    for column, end, beyond in (("low", low, "above"), ("high", high, "below")):
        if end is None:
            continue
        if value is None:
            if not row["value"]:
                yield row.problem("value", f"is blank, and {column} is not", "write the value that the range is of")
                return
        elif (end > value) if column == "low" else (end < value):
            message = f"{quoted(row[column])} is {beyond} the value, {quoted(row['value'])}"
            yield row.problem(column, message, "write low, value and high so that they rise")
