"""The tab of checks: what does not fit or does not read, and the cautions, each kind once with all its places."""

from collections.abc import Iterable, Sequence

import marimo as mo

from planner.apps import pages, screen
from planner.checks.check import Check
from planner.planning.answer import Plan
from planner.units import counted

MOST_PLACES, MOST_UNFOLDED, UNFOLDED_ON_A_PHONE = 60, 16, 6
"""Places of one kind that are listed, and places in all that stand unfolded; the table of checks has every one."""

MOST_LAID_OUT = 1_200
"""Rooms whose walls are laid out for the page, those of the highest tiers; of more it takes seconds."""

WORK = "Laying out every wall and checking what stands on it"

LEFT_OUT = (
    "Passages and trim rules are checked in the whole house, walls here in the {looked_at:,} rooms of the highest "
    "tiers; the table of checks looks at those of the other {left:,} too, which takes some seconds."
)

KINDS = {"error": "Cannot be built", "warning": "To mend", "caution": "Caution"}
"""What a person reads for how grave a check is."""

Kind = Sequence[Sequence[Check]]
"""Checks of one kind, those that ask for the same together."""


def view(planned: Plan, narrow: bool = False) -> mo.Html:
    """The plan's notes, and a fold for each kind of check, the gravest first."""
    looked_at = laid_out(planned)
    with screen.working(WORK):
        checks = planned.checks_of(looked_at)
    found, unfolded, most = [], 0, UNFOLDED_ON_A_PHONE if narrow else MOST_UNFOLDED
    for kind in kinds(checks):
        places = sum(map(len, kind))
        is_open = kind[0][0].severity != "caution" and unfolded + places <= most
        unfolded += places if is_open else 0
        found.append(told(kind, is_open))
    left = len(planned.rooms) - len(looked_at)
    words = LEFT_OUT.format(looked_at=len(looked_at), left=left)
    said = [pages.element("p", words, class_="pl-hint")] if left else []
    return pages.show(pages.listed(planned.notes), *said, *(found or [pages.element("p", "Nothing to see to.")]))


def laid_out(planned: Plan) -> list[str]:
    """The rooms whose walls are looked at for the page, the highest tiers first."""
    by_tier = sorted(planned.rooms, key=lambda room: -room.tier)
    return [room.room.name for room in by_tier[:MOST_LAID_OUT]]


def kinds(checks: Iterable[Check]) -> list[Kind]:
    """Checks by their kind, and in it those that ask for the same; each in the order in which its first comes."""
    found: dict[object, dict[object, list[Check]]] = {}
    for check in checks:
        alike = found.setdefault((check.severity, check.rule), {})
        alike.setdefault((check.remedy, check.source), []).append(check)
    return [list(alike.values()) for alike in found.values()]


def told(kind: Kind, unfolded: bool = False) -> pages.Markup:
    """Checks of one kind: what they say, what to do, and their places."""
    check, places = kind[0][0], sum(map(len, kind))
    title = pages.element("b", f"{KINDS[check.severity]}: ", check.rule)
    shown, said = 0, []
    for alike in kind:
        if shown < MOST_PLACES:
            said.append(_alike(alike[: MOST_PLACES - shown]))
            shown += len(alike[: MOST_PLACES - shown])
    left = f"and {places - shown:,} more places; the table of checks has them all" if shown < places else ""
    more = [pages.element("p", left)] if left else []
    several = pages.text(f", {counted(places, 'place')}" if places > 1 else "")
    return pages.folded(pages.Markup(title + several), *said, *more, unfolded=unfolded)


def _alike(alike: Sequence[Check]) -> pages.Markup:
    """Checks that ask for the same, with what they have in common told once."""
    check, common = alike[0], {_message(one) for one in alike}
    words = next(iter(common))
    said = [pages.element("p", words[:1].upper() + words[1:])] if len(common) == 1 else []
    places = [_place(one, with_message=len(common) > 1) for one in alike if one.room or len(common) > 1]
    return pages.element(
        "div",
        *said,
        pages.element("p", pages.element("b", "What to do: "), check.remedy),
        pages.listed(places),
        pages.element("p", f"From: {check.source}", class_="pl-hint"),
    )


def _message(check: Check) -> str:
    """What a check says, without the name of the opening that it begins with."""
    bare = check.message.removeprefix(check.opening) if check.opening else check.message
    return bare.removeprefix(":").strip()


def _place(check: Check, with_message: bool) -> str:
    place = ", ".join(filter(None, (check.room, check.opening)))
    return f"{place}: {_message(check)}" if with_message and place else place or _message(check)
