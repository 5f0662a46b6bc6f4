"""The tab of proposals: other plans that are worth a look, what each trades for what, and the way to have it."""

from collections.abc import Sequence
from dataclasses import replace

import marimo as mo

from planner import charts
from planner.apps import pages, screen, views
from planner.apps.changes import Changes
from planner.deliverables.plan_text import not_proposed
from planner.intent.model import Intent
from planner.planning import frames
from planner.planning.answer import Plan
from planner.planning.proposals import LARGE, Proposal

WORK = "Looking for other plans that are worth a look"

HINT = (
    "Each keeps all rules that stand; the budget alone is left aside where the cost is what is traded. "
    "What a room asks for is the tier that its importance alone would give it."
)

HINT_OF_LARGE = f"Of more than {LARGE:,} rooms only the cheapest plan and the best for the money are looked for. "

MOST_AT_ONCE = 2_500
"""Rooms of a house for which other plans are looked for as soon as the tab is opened."""

WAITING = (
    "In a house of {rooms:,} rooms looking for other plans takes ten seconds or more, so it waits until it is asked "
    "for."
)

LOOK = "Look for other plans"

CHART = {screen.WIDE_CHART: 690, screen.NARROW_CHART: screen.NARROW_CHART}
"""Widths of the chart of costs [px], by those of the pictures of the house."""

MOST_MOVES = 60
"""Rooms that move and are listed one by one; a proposal on the desk shows them all."""

MOST_UNFOLDED = 5
"""Proposals on a wide screen that are told in full; those after them are folded away."""

Ways = Sequence[tuple[mo.ui.button, mo.ui.button]]
"""For each proposal the buttons that put it on the desk and save it."""


def shown(planned: Plan, changes: Changes, dark: bool, width: int) -> tuple[object, mo.Html]:
    """The tab, after the controls in it; of a house of very many rooms folded away, and made when it is unfolded."""
    if len(planned.rooms) <= MOST_AT_ONCE:
        with screen.working(WORK):
            buttons = ways(planned, changes)
        return buttons, view(planned, buttons, dark, width)
    words = pages.element("p", WAITING.format(rooms=len(planned.rooms)), class_="pl-hint")
    looked_for = pages.later(lambda: view(planned, ways(planned, changes), dark, width))
    fold = pages.folds({LOOK: looked_for})
    return fold, mo.vstack([pages.show(words), fold])


def ways(planned: Plan, changes: Changes) -> Ways:
    """The buttons of all that is proposed beside a plan."""
    found = planned.proposals
    return changes.anew(lambda: [_ways(proposal, changes) for proposal in found])


def _ways(proposal: Proposal, changes: Changes) -> tuple[mo.ui.button, mo.ui.button]:
    which = pages.unseen(f"({proposal.title})")
    return (
        mo.ui.button(
            label=f"Put it on the desk {which}",
            on_click=lambda _: changes.put(called_alike(proposal.intent, changes.desk.intent)),
        ),
        mo.ui.button(
            label=f"Save it as new {which}",
            on_click=lambda _: changes.save_beside(proposal.intent, proposal.title),
        ),
    )


def called_alike(intent: Intent, known: Intent) -> Intent:
    """An alternative under the name of another one, and as much of it open to clients."""
    return replace(intent, name=known.name, title=known.title, author=known.author, offered=known.offered)


def view(planned: Plan, ways: Ways, dark: bool, width: int) -> mo.Html:
    """Cost against fit, then every proposal: what it trades, what it costs, which rooms move, and its buttons."""
    known, proposed = frames.frontier(planned), frames.proposals(planned)
    drawn = charts.frontier(known, proposed, cost_name=planned.cost_name, dark=dark, width=CHART.get(width, width))
    chart = pages.Drawn(drawn)
    unfolded = 0 if width == screen.NARROW_CHART else MOST_UNFOLDED
    both = zip(planned.proposals, ways, strict=True)
    told = [(_told if at < unfolded else _folded)(planned, *each) for at, each in enumerate(both)]
    none = pages.element("p", "No other plan that keeps all rules is worth a look.")
    hint = f"{HINT_OF_LARGE if len(planned.rooms) > LARGE else ''}{HINT} "
    hint += f"{planned.cost_name}: {views.cost_means(planned)}."
    said = [pages.element("p", hint, class_="pl-hint"), *told] if told else [none]
    if words := not_proposed(planned):
        said.append(pages.element("p", words, class_="pl-hint"))
    return mo.vstack([chart, pages.show(*said)])


def _told(planned: Plan, proposal: Proposal, ways: Sequence[mo.ui.button]) -> pages.Markup:
    """One proposal; the rooms that move, one by one, are folded away."""
    moves = pages.folded(f"{_cost(planned, proposal)}; rooms that move: {len(proposal.moves)}", _moves(proposal))
    buttons = pages.element("div", *map(pages.control, ways), moves, style=pages.SIDE_BY_SIDE)
    trade = pages.element("p", proposal.trade)
    return pages.element("section", pages.heading(proposal.title), trade, buttons, style="margin-bottom: 1rem")


def _folded(planned: Plan, proposal: Proposal, ways: Sequence[mo.ui.button]) -> pages.Markup:
    """One proposal, folded away under its title and cost."""
    title = pages.element("b", proposal.title), pages.text(f". {_cost(planned, proposal)}")
    buttons = pages.element("div", *map(pages.control, ways), style=pages.SIDE_BY_SIDE)
    trade = pages.element("p", proposal.trade)
    return pages.folded(pages.Markup("".join(title)), trade, _moves(proposal), buttons)


def _cost(planned: Plan, proposal: Proposal) -> str:
    change = proposal.cost - planned.spent
    return f"{planned.cost_name} {proposal.cost:,.2f}, {abs(change):,.2f} {'more' if change > 0 else 'less'}"


def _moves(proposal: Proposal) -> pages.Markup:
    """The rooms that move, with their tiers before and after."""
    moves = [f"{room}: tier {before} → {after}" for room, (before, after) in proposal.moves.items()]
    more = [f"and {len(moves) - MOST_MOVES:,} more rooms"] if len(moves) > MOST_MOVES else []
    return pages.listed([*moves[:MOST_MOVES], *more])
