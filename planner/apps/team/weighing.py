"""Which alternative comes first by what matters to the team, and how far each weight can move before another does."""

from collections.abc import Sequence
from math import ceil, floor, inf

import marimo as mo

from planner.apps import pages
from planner.apps.team.rows import told
from planner.deliverables import comparison
from planner.deliverables.comparison import CRITERIA
from planner.planning import frames, preference
from planner.planning.answer import Plan
from planner.record.keeping import Record
from planner.units import listed

MOST, USUAL = 10, 5
"""A weight goes from 0, which is nothing, to so much, and begins in the middle."""

TIED = 1e-6
"""A tenth of a weight is one though arithmetic has brought it so far from it."""

BESIDE = "display: inline-block; width: min(17rem, 36vw)"
"""A style for the names of sliders, so that these stand below one another."""


def weights() -> mo.ui.array:
    """A slider for each of what may matter."""
    named = [pages.element("span", one.words.partition(" [")[0], style=BESIDE) for one in CRITERIA]
    return mo.ui.array([mo.ui.slider(0, MOST, 1, value=USUAL, label=name, show_value=True) for name in named])


def view(
    standing: Sequence[Plan], record: Record, weight: Sequence[float], sliders: mo.ui.array, width: int
) -> mo.Html:
    """The alternatives by their totals, what each has of what matters, and how far the sliders' weights can move."""
    titles = frames.alternative_titles(standing)
    table = comparison.criteria(standing, record)
    values = table[titles].to_numpy(float).T
    scores = preference.scores(values, [one.more for one in CRITERIA])
    totals = preference.totals(scores, weight)
    first = preference.winners(totals)
    most = sum(weight)
    ranked = sorted(range(len(titles)), key=lambda at: (-totals[at], at))
    rank = [[titles[at], f"{totals[at]:.1f}"] for at in ranked]
    rows = [
        [one.words, *(f"{value:g}" for value in values[:, k]), f"{weight[k]:g}", _range(scores, weight, k, first[0])]
        for k, one in enumerate(CRITERIA)
    ]
    columns = ["What matters", *titles, "Weight", f"{titles[first[0]]} stays first while it is"]
    caption = "What each has, and how far a weight can move, the others as they are"
    return mo.vstack(
        [
            pages.show(
                pages.element("p", finding(titles, first, scores, weight), role="status", class_="pl-sum"),
                pages.table(["Alternative", "Total"], rank, caption=f"Totals, of {most:g} at most", numbers=["Total"]),
            ),
            mo.vstack(list(sliders)),
            pages.show(
                told(columns, rows, width, caption=caption),
                pages.element("p", HOW, class_="pl-hint"),
            ),
        ]
    )


HOW = (
    "Of each line the best alternative of those compared scores 1 and the worst 0; scores times weights add up to the "
    "total."
)


def finding(titles: Sequence[str], first: Sequence[int], scores: preference.Real, weight: Sequence[float]) -> str:
    """Which comes first, and the weight that need move least for another to come first."""
    if len(first) > 1:
        return f"{listed([titles[at] for at in first])} come first alike."
    nearest = min(
        (
            (abs(end - weight[k]), one.words.partition(" [")[0], end)
            for k, one in enumerate(CRITERIA)
            for end in ends(scores, weight, k, first[0])
            if 0 < end < MOST
        ),
        default=None,
    )
    if nearest is None:
        return f"{titles[first[0]]} comes first, whatever any one weight is."
    return f"{titles[first[0]]} comes first. It stays so until the weight of “{nearest[1]}” passes {nearest[2]:.1f}."


def ends(scores: preference.Real, weight: Sequence[float], criterion: int, winner: int) -> tuple[float, float]:
    """Between which values of a weight the winner stays first, to a tenth and never beyond where it does."""
    low, high = preference.stays_first(scores, weight, criterion, winner)
    return ceil(low * 10 - TIED) / 10, high if high == inf else floor(high * 10 + TIED) / 10


def _range(scores: preference.Real, weight: Sequence[float], criterion: int, winner: int) -> str:
    """Between which values of a weight the winner stays first, of those that it can have."""
    low, high = ends(scores, weight, criterion, winner)
    if low <= 0 and (high == inf or high >= MOST):
        return "whatever it is"
    if low <= 0:
        return f"at most {high:.1f}"
    return f"at least {low:.1f}" if high == inf or high >= MOST else f"from {low:.1f} to {high:.1f}"
