"""The tab of checks: what does not fit or does not read, and the cautions, each kind once with all its places."""

from collections.abc import Iterable, Sequence

import marimo as mo

from planner.apps import pages
from planner.checks.check import Check
from planner.planning.answer import Plan
from planner.units import counted

MOST_PLACES = 60
"""Places of one kind that are listed; `planner plan` tells all."""

KINDS = {"error": "Cannot be built", "warning": "To mend", "caution": "Caution"}
"""What a person reads for how grave a check is."""


def view(planned: Plan) -> mo.Html:
    """The plan's notes, and a fold for each kind of check, the gravest first."""
    found = [told(alike) for alike in alike_checks(planned.checks)]
    return pages.show(pages.listed(planned.notes), *(found or [pages.element("p", "Nothing to see to.")]))


def alike_checks(checks: Iterable[Check]) -> list[list[Check]]:
    """Checks that ask for the same, together, in the order in which the first of each comes."""
    found: dict[object, list[Check]] = {}
    for check in checks:
        found.setdefault((check.severity, check.rule, check.remedy, check.source), []).append(check)
    return list(found.values())


def told(alike: Sequence[Check]) -> pages.Markup:
    """Checks that ask for the same: what they say, what to do, and all places."""
    check, common = alike[0], {_message(one) for one in alike}
    severe = f"{KINDS[check.severity]}: "
    title = [pages.element("b", severe, check.rule), f", {counted(len(alike), 'place')}" if len(alike) > 1 else ""]
    said = [pages.element("p", next(iter(common)))] if len(common) == 1 else []
    places = [_place(one, with_message=len(common) > 1) for one in alike[:MOST_PLACES] if one.room or len(common) > 1]
    more = f"and {len(alike) - MOST_PLACES:,} more places" if len(alike) > MOST_PLACES else ""
    return pages.folded(
        pages.Markup("".join(map(pages.text, title))),
        *said,
        pages.element("p", pages.element("b", "What to do: "), check.remedy),
        pages.listed([*places, *([more] if more else [])]),
        pages.element("p", f"From: {check.source}", class_="pl-hint"),
        unfolded=check.severity != "caution",
    )


def _message(check: Check) -> str:
    """What a check says, without the name of the opening that it begins with."""
    bare = check.message.removeprefix(check.opening) if check.opening else check.message
    return bare.removeprefix(":").strip()


def _place(check: Check, with_message: bool) -> str:
    place = ", ".join(filter(None, (check.room, check.opening)))
    return f"{place}: {_message(check)}" if with_message and place else place or _message(check)
