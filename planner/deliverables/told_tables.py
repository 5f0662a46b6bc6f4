"""What a plan costs, what is to be seen to, and what all of it rests on, as tables for paper."""

from collections.abc import Iterator
from dataclasses import fields, replace
from typing import Any

import pandas as pd

from planner.deliverables import tables
from planner.deliverables.table import How, Table, Worked
from planner.intent.model import Intent
from planner.intent.words import difference
from planner.planning.answer import Plan
from planner.record.fingerprint import fingerprints
from planner.takeoff.spread import DRAWS
from planner.takeoff.takeoff import Takeoff
from planner.units import Unit, counted, format_area, format_length, format_size


def cost_by(plan: Plan, by: str) -> Table:
    """What the plan costs by room, tier or element."""
    frame = tables.cost_by(plan, tables.COST_BY[by])
    money = [f"{heading} [{plan.house.currency}]" for heading in tables.COST_PARTS]
    return Table(
        f"cost-by-{by.lower()}",
        f"Cost by {by.lower()}",
        frame,
        f"What each {by.lower()} costs, part by part. Material from the order's prices and the rates of boards, labour"
        " from hours, finish by girth and length, then"
        " markup and tax. Every breakdown adds up to the same total.",
        totals=tuple(money),
        worked={money[-1]: Worked(How.SUM, tuple(money[:-1]))},
    )


def rates(plan: Plan) -> Table:
    """Every rate that counts in the cost, that first which moves the total most; what is not confirmed is an
    assumption."""
    foreign = plan.money.foreign if plan.money is not None else ""
    return Table(
        "rates",
        "Rates",
        tables.rates(plan),
        "What the cost is worked out with. A rate that is not confirmed is an assumption: put your own into rates.csv."
        " Low and high are the 10th and the 90th percentile of what it may be; the last figures say by how much the"
        " total changes where this rate alone is there." + (foreign and f" {foreign}"),
    )


def checks(plan: Plan) -> Table:
    """Everything to see to, the gravest first."""
    frame = tables.checks(plan)[["Kind", "Room", "Opening", "What", "Remedy", "Source", "Rule"]]
    return Table(
        "checks",
        "Checks",
        frame,
        "An error cannot be built so; a warning can, and will look wrong; a caution is to be looked up or asked. The"
        " planner decides nothing that a code or a licensed professional decides.",
        fast=2,
    )


def notes(plan: Plan, taken: Takeoff | None) -> Table:
    """What is to be known of the plan and of what is cut."""
    found = [("the plan", note) for note in plan.notes] + [("cutting", note) for note in (taken.notes if taken else ())]
    return Table("notes", "Notes", pd.DataFrame(found, columns=["About", "What"]), "What is to be known besides.")


def sources(plan: Plan, taken: Takeoff | None) -> Table:
    """What the plan rests on: the inputs, the allowances, the proportions, and where each comes from."""
    rows = [*_inputs(plan), *_allowances(plan, taken), *_proportions(plan), *_methods(plan, taken)]
    return Table(
        "sources",
        "Sources",
        pd.DataFrame(rows, columns=["About", "What", "Says", "Source"]),
        "What all papers rest on. Where a source is common practice or from memory, nobody has looked it up: ask those"
        " who know better. Rates have a sheet of their own.",
        fast=2,
    )


Row = tuple[str, str, str, str]

AS_USUAL: dict[str, Any] = {
    f.name: getattr(Intent(), f.name) for f in fields(Intent) if f.name not in ("name", "title", "author", "offered")
}
"""What an alternative says of a plan that says nothing of it."""


def _inputs(plan: Plan) -> Iterator[Row]:
    chosen = (("style", plan.style), ("order", plan.order), ("canon", plan.canon), ("grade", plan.grade))
    for what, value in chosen:
        yield "inputs", what, value, "the house or the alternative"
    found = fingerprints(plan.house, plan.intent, plan.stock, plan.library)
    for what, value in found._asdict().items():
        yield (
            "inputs",
            f"fingerprint of the {what}",
            value or "there is none",
            "SHA-256 (NIST, FIPS 180-4), 64 bits of it",
        )
    intent = plan.intent
    if asked := difference(replace(intent, **AS_USUAL), replace(intent, trim=()), plan.house.unit):
        yield "inputs", "the alternative", asked, "the designer"
    for number, rule in enumerate(intent.trim, 1):
        yield "inputs", f"trim rule {number}", rule.words(plan.house.unit), "the designer"


def _allowances(plan: Plan, taken: Takeoff | None) -> Iterator[Row]:
    if taken is None:
        return
    known = plan.library.takeoff
    for row in known.allowances:
        value, own = getattr(taken.allowances, row.name), row.name in plan.house.takeoff
        shown = f"{value:g}°" if row.name == "scarf" else format_size(value, plan.house.unit)
        yield "cutting", row.name.replace("_", " "), f"{row.says}: {shown}", "the house" if own else row.source
    sold = ", ".join(format_length(length, plan.house.unit) for length in taken.allowances.lengths)
    source = "the house" if "lengths" in plan.house.takeoff else plan.library.takeoff.sold_in(plan.house.unit).source
    yield "cutting", "lengths", f"what is sold where the stock names no lengths: {sold}", source
    yield "cutting", "boards", "what boards come in, dressed", known.boards.source
    if taken.panels:
        yield "cutting", "panels", panels_words(taken, plan.house.unit), "common practice: a shop makes panels to size"


def panels_words(taken: Takeoff, unit: Unit) -> str:
    """What is assumed of panels."""
    area = format_area(sum(stick.length * stick.width for stick in taken.panels), unit)
    return (
        f"{counted(len(taken.panels), 'panel')}, {area} of face, each by the piece to its own size and paid by its"
        " area: no sheets are laid out, and what is left of sheets is not counted; who cuts panels from sheets adds it"
    )


def _proportions(plan: Plan) -> Iterator[Row]:
    found: dict[Row, None] = {}
    for package in plan.packages:
        for element in package.elements:
            if not element.stays:
                found["proportions", element.element, element.form, element.source] = None
    yield from sorted(found, key=lambda row: (list(plan.library.element_kinds).index(row[1]), row[2:]))


def _methods(plan: Plan, taken: Takeoff | None) -> Iterator[Row]:
    proof = "no assignment of tiers is better under the stated rules: " + ("proved" if plan.optimal else "not proved")
    yield "methods", "tiers", proof, "linear programs, solved exactly"
    if taken is None:
        return
    open_ = sum(not lot.proved for lot in taken.lots)
    cut = f"of {len(taken.lots)} profiles {len(taken.lots) - open_} are cut for the least that is possible"
    yield "methods", "cutting", cut, "Gilmore and Gomory's relaxation over patterns, and whole numbers (from memory)"
    span = f"10th to 90th percentile of {DRAWS:,} draws of all rates, each by itself"
    yield "methods", "range of the cost", span, "JCGM 101:2008: propagation of distributions by draws (from memory)"
