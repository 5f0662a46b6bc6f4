"""Workbooks of plans, and how they are read once a spreadsheet has worked them out."""

from functools import cache

import pytest

from planner import Intent, Plan, plan
from planner.deliverables.all_tables import all_tables, figures
from planner.deliverables.workbook import CONTENTS, HEAD, TOTAL, workbook_bytes
from tests.deliverables.papers_of import SIZE, demo, stamp
from tests.laid_out_houses import laid_out_house
from tests.random_houses import random_house


def written(made):
    return workbook_bytes(all_tables(made), figures(made), stamp(made), SIZE)


def column(sheet, heading):
    """The number of a column, from 1."""
    return [cell.value for cell in sheet[HEAD + 1]].index(heading) + 1


def of(sheets, table, heading, row=TOTAL):
    return sheets[table].cell(row + 1, column(sheets[table], heading)).value


def totals(sheets, money):
    """What the sheets of cost come to, by sheet."""
    return {name: of(sheets, f"Cost by {name}", f"Cost [{money}]") for name in ("room", "tier", "element")}


@cache
def small(seed: int) -> Plan | None:
    """The plan of a small house made at random, every other without a stock; None where it has no trim to cost."""
    house = random_house(2 + seed % 4, seed) if seed % 3 else laid_out_house(3, seed, levels=2)
    made = plan(house, Intent(), demo().stock if seed % 2 else None)
    return made if made.feasible and made.takeoff.sticks else None


def differing(made, sheets):
    """Where a workbook that was worked out anew comes to anything but what its plan says, to the cent."""
    money, cost = made.house.currency, made.money
    there = {f"by {name}": total for name, total in totals(sheets, money).items()}
    said = dict.fromkeys(there, cost.total)
    there |= {"bars": of(sheets, "Order", "Count"), "order": of(sheets, "Order", f"Amount [{money}]")}
    said |= {"bars": len(made.takeoff.bars), "order": sum(line.amount or 0 for line in made.takeoff.order)}
    found = {row[0].value: row[1].value for row in sheets[CONTENTS].iter_rows(max_col=2)}
    told = {figure.says: figure.value for figure in figures(made)}
    there, said = there | {name: found.get(name) for name in told}, said | told
    close = {name: pytest.approx(value, abs=1e-3) for name, value in said.items()}
    return [f"{name}: {there[name]}, not {said[name]}" for name in said if there[name] != close[name]]
