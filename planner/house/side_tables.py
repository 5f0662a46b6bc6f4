"""The tables that a house can do without: trim that stays, fixtures, stairs, rates."""

from collections.abc import Callable, Hashable
from typing import Any, NamedTuple

from planner.files.csv_tables import Row
from planner.files.problems import Problem
from planner.house import existing, fixtures, flights, rates
from planner.house.model import House
from planner.library import Library
from planner.units import Unit


class SideTable(NamedTuple):
    """A table that may be missing.

    Parameters
    ----------
    file, columns, optional : its name, its columns, and those of them that may be missing.
    field : where its facts stand in a House.
    parse : its rows as facts, for a house with its rooms and openings; what is faulty is told and left out.
    cells : a fact as a row, text by column, its lengths in a unit.
    key : what tells a fact from the others of its table.
    """

    file: str
    columns: tuple[str, ...]
    optional: tuple[str, ...]
    field: str
    parse: Callable[[list[Row], House, Library, list[Problem]], tuple[Any, ...]]
    cells: Callable[[Any, Unit], dict[str, str]]
    key: Callable[[Any], Hashable]


def _parse_existing(rows: list[Row], house: House, library: Library, problems: list[Problem]) -> tuple[Any, ...]:
    return existing.parse_existing(rows, house.unit, dict(house.by_name), library, problems)


SIDE_TABLES = (
    SideTable(
        existing.EXISTING,
        existing.COLUMNS,
        existing.OPTIONAL,
        "existing",
        _parse_existing,
        existing.existing_cells,
        lambda one: (one.room, one.element),
    ),
    SideTable(
        fixtures.FIXTURES,
        fixtures.COLUMNS,
        fixtures.OPTIONAL,
        "fixtures",
        fixtures.parse_fixtures,
        fixtures.fixture_cells,
        lambda one: one.name,
    ),
    SideTable(
        flights.STAIRS,
        flights.COLUMNS,
        flights.OPTIONAL,
        "flights",
        flights.parse_flights,
        flights.flight_cells,
        lambda one: one.name,
    ),
    SideTable(
        rates.RATES,
        rates.COLUMNS,
        rates.OPTIONAL,
        "rates",
        rates.parse_rates,
        rates.rate_cells,
        lambda one: one.name,
    ),
)
"""In the order in which they are filled in."""
