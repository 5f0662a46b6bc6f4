"""The tab of rooms: what each is, and what is wished of it."""

from collections.abc import Iterable, Mapping, Sequence
from functools import reduce

import marimo as mo

from planner.apps import pages, screen
from planner.apps.changes import Changes
from planner.apps.desk import Desk
from planner.apps.typed import Typed
from planner.house.model import House
from planner.intent import edits
from planner.intent.model import Intent, Wish
from planner.planning.answer import Plan

ALL_LEVELS = "all levels"
FREE = "–"
"""What a control shows that wishes for nothing."""

SHOWN_ROOMS, SHOWN_ON_A_PHONE = 32, 22
"""Rooms that are shown at once; more would be three screens long."""

COLUMNS = ["Room", "Tier", "Pin", "Lowest", "Highest", "Asks for", "May have", "Shares its tier with"]
NARROW = ["Room", "Pin", "Lowest", "Highest"]
"""What is told of each room, and what of it a phone has room for."""

MEANT = "Pin: it has just this tier. Lowest and highest: it stays between these."
MEANT_TOO = (
    "Asks for: the tier that its importance alone would give, in tenths. "
    "May have: the tiers that its use, the house and your wishes leave it."
)

Wishes = Mapping[str, tuple[mo.ui.dropdown, ...]]
"""The controls of each room: pin, lowest and highest."""


def shown_at_once(width: int) -> int:
    """How many rooms are shown beside charts of a width [px]."""
    return SHOWN_ON_A_PHONE if width == screen.NARROW_CHART else SHOWN_ROOMS


def level_choice(house: House) -> mo.ui.dropdown:
    """The level that the table is narrowed to."""
    return mo.ui.dropdown([ALL_LEVELS, *house.levels], value=ALL_LEVELS, label="Level")


def found(house: House, part: str, level: str) -> list[str]:
    """The rooms on a level whose names hold some letters, in the house's order."""
    return [
        room.name
        for room in house.rooms
        if level in (ALL_LEVELS, room.level) and part.casefold() in room.name.casefold()
    ]


def wishes(rooms: Iterable[str], changes: Changes) -> Wishes:
    """The controls of rooms, as the desk has them."""
    return {room: _controls(room, changes) for room in rooms}


def mended(built: Wishes, changes: Changes) -> Wishes:
    """New controls for those rooms for which the desk has something else than the controls that were built show."""
    options = list(_tiers(changes.desk))
    stale = (
        room
        for room, (pin, lowest, highest) in built.items()
        if (pin.value, lowest.value, highest.value) != _wished(changes.desk, room) or list(pin.options) != options
    )
    return wishes(stale, changes)


def _controls(room: str, changes: Changes) -> tuple[mo.ui.dropdown, ...]:
    desk = changes.desk

    def pin(tier: int | None) -> None:
        changes.make("wishes", edits.pin, room, tier)

    def lowest(tier: int | None) -> None:
        changes.make("wishes", edits.set_range, room, tier, _wished(desk, room)[2])

    def highest(tier: int | None) -> None:
        changes.make("wishes", edits.set_range, room, _wished(desk, room)[1], tier)

    controls = {"Pin": pin, "Lowest": lowest, "Highest": highest}
    return tuple(
        mo.ui.dropdown(
            _tiers(desk),
            value=FREE if tier is None else str(tier),
            label=pages.unseen(f"{head} tier of {room}"),
            on_change=told,
        )
        for tier, (head, told) in zip(_wished(desk, room), controls.items(), strict=True)
    )


def _wished(desk: Desk, room: str) -> tuple[int | None, ...]:
    wish = desk.intent.rooms.get(room, Wish())
    return wish.tier, wish.lowest, wish.highest


def _tiers(desk: Desk) -> dict[str, int | None]:
    """What can be chosen for a room."""
    return {FREE: None} | {str(tier): tier for tier in range(1, desk.intent.tiers + 1)}


def sharing(house: House, changes: Changes, typed: Typed) -> list[mo.ui.multiselect | mo.ui.button]:
    """The controls that make rooms share a tier, and part those that do."""
    chosen = mo.ui.multiselect(
        [room.name for room in house.rooms],
        value=[room for room in typed.get("sharing", ()) if room in house.by_name],
        label="Rooms that share a tier",
        on_change=typed.into("sharing"),
    )

    def joined(_: object) -> None:
        if len(chosen.value) > 1:
            typed.used("sharing")
        changes.make("", edits.add_set, chosen.value)

    join = mo.ui.button(label="Make them share", on_click=joined)
    return [chosen, join, *(_part(group, changes) for group in changes.desk.intent.sets)]


def _part(group: Sequence[str], changes: Changes) -> mo.ui.button:
    def parted(intent: Intent) -> Intent:
        return reduce(edits.leave_set, group, intent)

    return mo.ui.button(label=pages.plain(f"Part {', '.join(group)}"), on_click=lambda _: changes.make("", parted))


def view(planned: Plan, controls: Wishes, sharing: Sequence[object], left_out: int, width: int) -> mo.Html:
    """A row for each room with its controls; then how many rooms are left out, and the controls for sharing."""
    narrow = width == screen.NARROW_CHART
    columns, meant = (NARROW, MEANT) if narrow else (COLUMNS, f"{MEANT} {MEANT_TOO}")
    sets = {name: group for group in planned.sets for name in group}
    rows = [_row(planned, room, controls[room], sets.get(room, ())) for room in controls]
    more = f"{left_out:,} more rooms: write part of a name above, or choose a level, to see them." if left_out else ""
    more = more if rows else "No room of that level has that in its name."
    numbers = [] if narrow else ["Asks for"]
    table = pages.table(columns, map(_narrowed, rows) if narrow else rows, numbers=numbers, label="Rooms and tiers")
    told = pages.element("p", meant, class_="pl-hint"), table, pages.element("p", more)
    return mo.vstack([pages.show(*told), pages.beside(*sharing)])


def _row(planned: Plan, name: str, controls: Iterable[mo.ui.dropdown], group: Iterable[str]) -> list[object]:
    room = planned.by_name.get(name)
    return [
        name,
        pages.tier(room.tier, planned.tier_names[room.tier - 1]) if room else "–",
        *map(_wish, controls),
        f"{room.target:.1f}" if room else "",
        _span(room.lowest, room.highest) if room else "",
        ", ".join(other for other in group if other != name),
    ]


def _wish(control: mo.ui.dropdown) -> pages.Markup:
    return pages.control_or_said(control, "" if control.value is None else str(control.value))


def _narrowed(row: list[object]) -> list[object]:
    """A room's row with the tier under the name, and no more than its controls beside it."""
    name, tier, pin, lowest, highest, *_ = row
    return [pages.Markup(pages.text(name) + pages.element("div", tier)), pin, lowest, highest]


def _span(lowest: int, highest: int) -> str:
    """A range of tiers in words."""
    return str(lowest) if lowest == highest else f"{lowest} to {highest}"
