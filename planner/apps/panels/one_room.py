"""The tab of one room: why it has its tier, and what another would change."""

from collections.abc import Mapping, Sequence

import marimo as mo

from planner.apps import pages
from planner.apps.changes import Changes
from planner.apps.panels.weights import FACTOR_WORDS
from planner.deliverables import tables
from planner.deliverables.tables import FARTHER
from planner.hierarchy.reasons import WhatIf
from planner.intent import edits
from planner.planning.answer import Plan
from planner.units import counted


def pins(planned: Plan, room: str, changes: Changes) -> dict[int, mo.ui.button]:
    """A button for each tier that the room can have."""
    return {way.tier: _pin(room, way.tier, changes) for way in planned.what_if(room) if way.moves is not None}


def _pin(room: str, tier: int, changes: Changes) -> mo.ui.button:
    return mo.ui.button(label="Pin", on_click=lambda _: changes.make("", edits.pin, room, tier))


def view(planned: Plan, room: str, pins: Mapping[int, mo.ui.button], narrow: bool = False) -> mo.Html:
    """Reasons of one room, its other tiers, folded on a narrow screen, its passages and its factors."""
    found = planned.by_name[room]
    figures = f"Its importance is {found.importance:.2f} of 1. "
    figures += (
        f"It lies {counted(found.depth, 'step')} from the entry." if found.depth else "It is the entry, or open to it."
    )
    return pages.show(
        pages.element(
            "div",
            pages.heading(f"{room}: tier {found.tier} {planned.tier_names[found.tier - 1]}"),
            pages.element("p", figures),
            pages.listed(found.reasons),
            _ways(planned, room, pins, unfolded=not narrow),
            _passages(planned, room),
            _factors(planned, room),
            class_="pl-room",
        )
    )


def _ways(planned: Plan, room: str, pins: Mapping[int, mo.ui.button], unfolded: bool) -> pages.Markup:
    rows = [
        [
            pages.tier(way.tier, planned.tier_names[way.tier - 1]),
            "" if way.objective is None else f"{way.objective:+.2f}",
            "" if way.cost is None else f"{way.cost:+,.0f}",
            _moves(way),
            pages.control(pins[way.tier]) if way.tier in pins else "no plan",
        ]
        for way in planned.what_if(room)
    ]
    columns, title = ["Tier", FARTHER, planned.cost_name, "Moves with it", "Take it"], "What if it had another tier?"
    marked = [planned.by_name[room].tier - 1]
    table = pages.table(columns, rows, numbers=[FARTHER, planned.cost_name], marked=marked, label=title)
    return pages.folded(title, table, unfolded=unfolded)


def _moves(way: WhatIf) -> str:
    if way.moves is None:
        return pages.listed(way.conflicts)
    if not way.moves:
        return "no other room"
    return pages.some([f"{name} {before} → {after}" for name, (before, after) in way.moves.items()], 6)


def _passages(planned: Plan, room: str) -> pages.Markup:
    frame = tables.passages(planned, room)
    title = "Its passages: how many tiers lie between, and how that step reads"
    return _folded(title, tables.PASSAGES, frame.to_numpy().tolist(), ["Tiers between", "At most"])


def _factors(planned: Plan, room: str) -> pages.Markup:
    rows = [
        [factor, FACTOR_WORDS[factor], f"{value:.2f}", planned.intent.importance.get(factor, 0.0)]
        for factor, value in planned.by_name[room].factors.items()
    ]
    columns = ["Factor", "What it measures", "Value, 0 to 1", "Weight"]
    return _folded("What makes it important", columns, rows, ["Value, 0 to 1", "Weight"])


def _folded(title: str, columns: Sequence[str], rows: Sequence[Sequence[object]], numbers: list[str]) -> pages.Markup:
    return pages.folded(title, pages.table(columns, rows, numbers=numbers, label=title))
