"""What the pages show of a plan: the house with its tiers, the walks through it, and what a walker sees."""

from collections.abc import Callable, Mapping

import marimo as mo

from planner import charts
from planner.apps import pages, screen
from planner.drawings.strip import strip
from planner.house.model import House
from planner.planning import frames
from planner.planning.answer import Plan

FLOOR_PLAN, STEP_DOWN, BOTH = "Floor plan", "Step-down", "Both"
"""The pictures of the whole house that stay in view."""

MOST_WALKED = 20
"""Rooms of one walk whose walls are drawn."""


def house_map(planned: Plan, pick: Callable[[str], None], dark: bool, width: int, **instead: object) -> pages.Held:
    """The house by tier; a click calls `pick` with the room's name, as does a choice from the list below for those who
    use the keys or hear the page. `instead` replaces parts such as the title.
    """
    rooms, passages, openings = frames.rooms(planned), frames.passages(planned), frames.openings(planned)
    drawn = pages.clicked(charts.house_map(rooms, passages, openings, dark=dark, width=width), pick, **instead)
    listed = room_list(planned, pick)
    return pages.Held(mo.vstack([drawn, listed]), drawn, listed)


def which_picture(width: int) -> mo.ui.radio:
    """A choice between the pictures, of which a narrow screen has room for one."""
    first = FLOOR_PLAN if width == screen.NARROW_CHART else BOTH
    return mo.ui.radio([FLOOR_PLAN, STEP_DOWN, BOTH], value=first, inline=True, label="Picture")


def room_list(planned: Plan, pick: Callable[[str], None]) -> mo.ui.dropdown:
    """Every room with its tier, as the plan shows them."""

    def told(room: str | None) -> None:
        if room is not None:
            pick(room)

    named = {f"{r.room.name}, tier {r.tier} {planned.tier_names[r.tier - 1]}": r.room.name for r in planned.rooms}
    return mo.ui.dropdown(named, label="Room on the plan", on_change=told, allow_select_none=True)


def floor(planned: Plan, moved: Mapping[str, int], pick: Callable[[str], None], dark: bool, width: int) -> pages.Held:
    """The house by tier on the designer's page; rooms that the last change has moved are marked."""
    return house_map(planned, pick, dark, width)


def walks(planned: Plan, dark: bool, width: int, picked: str | None = None, **instead: object) -> pages.Drawn:
    """The walks from the entry to each bedroom."""
    return pages.Drawn(charts.step_down(frames.routes(planned), dark=dark, width=width), **instead)


def walked(planned: Plan, picked: str | None, dark: bool, width: int) -> mo.Html:
    """The walls on the walk to the bedroom that was picked, or to the first; `width` is a chart's [px]."""
    if not planned.routes:
        return pages.show()
    route = next((route for route in planned.routes if route.room == picked), planned.routes[0])
    hint = "Click another bedroom on the plan to walk there."
    if len(route.rooms) > MOST_WALKED:
        hint = f"Drawn are the last {MOST_WALKED} of the {len(route.rooms)} rooms on this walk. {hint}"
    return pages.show(
        pages.drawing(strip(planned.walls, route.rooms[-MOST_WALKED:], screen.page(width)), dark),
        pages.element("p", hint, class_="pl-hint"),
    )


def room_choice(house: House, picked: str | None, pick: Callable[[str], None]) -> mo.ui.dropdown:
    """A choice among the rooms of the house."""
    rooms = [room.name for room in house.rooms]
    return mo.ui.dropdown(rooms, value=picked_room(house, picked), label="Room", on_change=pick)


def picked_room(house: House, picked: str | None) -> str:
    """The room that was picked, or the entry where none was, or where the house has it no longer."""
    return picked if picked is not None and picked in house.by_name else house.entries[0]
