"""Under the weights: what makes each room count, and where it lies."""

import marimo as mo

from planner import charts
from planner.apps import pages
from planner.intent.model import Intent
from planner.intent.words import difference
from planner.planning import frames
from planner.planning.answer import Plan
from planner.units import listed

FACTORS, GRAPH = "What makes each room important", "The rooms by steps from the entry"
"""Titles of what is folded away."""


def view(planned: Plan, dark: bool, width: int) -> mo.Html:
    """On paper what is wished; the factors of every room's importance, and the rooms by depth from the entry, each
    folded away and drawn when it is looked at."""

    def factors() -> pages.Drawn:
        return pages.Drawn(charts.importance(frames.factors(planned), dark=dark, width=width))

    def graph() -> pages.Drawn:
        rooms, passages = frames.rooms(planned), frames.passages(planned)
        return pages.Drawn(charts.room_graph(rooms, passages, dark=dark, width=width))

    said = pages.show(*(pages.element("p", words, class_="pl-paper") for words in wished(planned)))
    return mo.vstack([said, pages.folds({FACTORS: pages.later(factors), GRAPH: pages.later(graph)})])


def wished(planned: Plan) -> list[str]:
    """In words what is weighed, and what else is wished of the house, as paper shows no controls."""
    intent = planned.intent
    weights = listed([f"{factor} {weight:g}" for factor, weight in intent.importance.items()])
    usual = Intent(importance=intent.importance, tiers=intent.tiers)
    more = difference(usual, intent, planned.house.unit) or "nothing"
    return [f"Weights: {weights}.", f"Tiers: {intent.tiers}. Wished beside the house's own: {more}."]
