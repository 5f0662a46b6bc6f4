"""The tab of weights and limits: what counts for the whole house."""

from collections.abc import Callable, Iterable, Sequence

import marimo as mo

from planner.apps import pages
from planner.apps.changes import Changes
from planner.house.model import House
from planner.intent import edits
from planner.intent.model import COST_IN, FACTORS, FEWEST_TIERS, INDEX, MONEY, MOST_TIERS, Intent
from planner.library import Library
from planner.planning.ladders import usual_order

FACTOR_WORDS = {
    "use": "how public the use is",
    "display": "how much ornament the use asks for, by its size",
    "arrival": "how near the entry it lies",
    "passage": "how much of a guest's walking passes through",
    "presence": "how large and high it is",
}


def weights(changes: Changes) -> list[mo.ui.slider]:
    """A slider for each factor of importance."""
    importance = changes.desk.intent.importance
    most = max(1.0, *importance.values())
    return changes.anew(lambda: [_weight(factor, importance.get(factor, 0.0), most, changes) for factor in FACTORS])


def _weight(factor: str, weight: float, most: float, changes: Changes) -> mo.ui.slider:
    return mo.ui.slider(
        0,
        most,
        0.05,
        value=weight,
        show_value=True,
        full_width=True,
        label=f"{factor}: {FACTOR_WORDS[factor]}",
        on_change=lambda value: changes.make("weights", edits.set_weight, factor, value),
    )


def limits(library: Library, changes: Changes) -> list[mo.ui.dropdown]:
    """For each kind of passage how far the tiers of its two rooms may differ."""
    return [_limit(kind, row.limit, changes) for kind, row in library.passage_kinds.items() if row.depth]


def _limit(kind: str, usual: int, changes: Changes) -> mo.ui.dropdown:
    def change(most: object) -> None:
        changes.make("limits", edits.set_limit, kind, most)

    intent = changes.desk.intent
    return _or_usual(range(intent.tiers), usual, intent.limits.get(kind), kind, change)


def whole(house: House, library: Library, changes: Changes) -> list[mo.ui.dropdown | mo.ui.text]:
    """Period, order, canon and grade, the number of tiers, what costs are counted in, and the budget."""
    intent = changes.desk.intent

    order = usual_order(house, intent.style or house.style, library)

    def change(edit: Callable[..., Intent]) -> Callable[[object], None]:
        return lambda value: changes.make("whole", edit, value)

    def counted(value: object) -> None:
        changes.make("", edits.set_cost_in, value)  # the budget beside it is in that, and so is built anew

    return [
        _or_usual(library.style_names, house.style, intent.style, "Period", change(edits.set_style)),
        _or_usual(library.order_names, order, intent.order, "Order", change(edits.set_order)),
        _or_usual(library.canon_names, house.canon, intent.canon, "Crowns sized by", change(edits.set_canon)),
        _or_usual(
            library.grade_names, house.grade, intent.grade, "Grade, how high the tiers go", change(edits.set_grade)
        ),
        mo.ui.dropdown(
            {str(tiers): tiers for tiers in range(FEWEST_TIERS, MOST_TIERS + 1)},
            value=str(intent.tiers),
            label="Tiers",
            on_change=change(edits.set_tiers),
        ),
        _or_usual(COST_IN, INDEX, intent.cost_in, "Costs counted in", counted),
        mo.ui.text(
            value="" if intent.budget is None else f"{intent.budget:.15g}",
            placeholder="none",
            label=f"Budget, at most so much {house.currency if intent.cost_in == MONEY else 'cost index'}",
            on_change=change(lambda intent, written: edits.set_budget(intent, edits.read_budget(written))),
        ),
    ]


def _or_usual(
    known: Iterable[object], usual: object, chosen: object, label: str, on_change: Callable[[object], None]
) -> mo.ui.dropdown:
    """A choice among what is known that may be left to what is usual."""
    words = f"as usual ({usual})"
    options = {words: None} | {str(each): each for each in known}
    return mo.ui.dropdown(options, value=words if chosen is None else str(chosen), label=label, on_change=on_change)


def view(weights: Sequence[object], limits: Sequence[object], whole: Sequence[object]) -> mo.Html:
    """The controls in columns, as many as there is room for, and below them what is said of the whole house, which has
    long names.
    """
    columns = (
        ("What makes a room important", mo.vstack(weights), ""),
        ("How many tiers may lie between rooms joined by a …", mo.vstack(limits), ""),
        ("The whole house", pages.beside(*whole, gap=1), "pl-across"),
    )
    stacks = [
        pages.element("div", pages.heading(words), pages.control(controls), class_=kind)
        for words, controls, kind in columns
    ]
    return pages.show(pages.element("div", *stacks, class_="pl-columns"))
