"""What the pages show of a plan: the house with its tiers, the walks through it, and what a walker sees."""

from collections import Counter
from collections.abc import Callable, Mapping
from typing import Any

import marimo as mo

from planner import charts
from planner.apps import pages, screen
from planner.charts import vega_lite
from planner.deliverables.client_words import richness
from planner.drawings.strip import strip
from planner.house.model import House
from planner.planning import frames
from planner.planning.answer import Plan, RoomPlan
from planner.units import counted

MOST_AT_ONCE = 80
"""Rooms of a house whose levels are all drawn at once unless asked otherwise."""

FLOOR_PLAN, STEP_DOWN, BOTH = "Floor plan", "Step-down", "Both"
"""The pictures of the whole house that stay in view."""

FLOOR_HEIGHT = {screen.WIDE_CHART: 388, screen.NARROW_CHART: 295}
STEP_HEIGHT = {screen.WIDE_CHART: 340, screen.NARROW_CHART: 330}
"""The most that the pictures take beside what is edited [px], by their widths."""

MOST_WALKED = {screen.WIDE_CHART: 20, screen.NARROW_CHART: 4}
"""Rooms of one walk whose walls are drawn, by the widths of the pictures."""

NO_WALK = (
    "A walk leads from the entry to a bedroom, and no bedroom can be reached yet: draw one, and its door, under House."
)


def house_map(
    planned: Plan, pick: Callable[[str], None], dark: bool, width: int, *, picked: str | None = None, **how: Any
) -> pages.Held:
    """The house by tier as `map_alone` draws it, and below it the list of rooms for those who use the keys or hear the
    page.
    """
    drawn = map_alone(planned, pick, dark, width, picked=picked, **how)
    listed = room_list(planned, pick, picked, plainly=bool(how.get("plainly")))
    return pages.Held(mo.vstack([drawn, listed]), drawn, listed)


def which_picture(width: int) -> mo.ui.radio:
    """A choice between the pictures, of which a narrow screen has room for one."""
    first = FLOOR_PLAN if width == screen.NARROW_CHART else BOTH
    return mo.ui.radio([FLOOR_PLAN, STEP_DOWN, BOTH], value=first, inline=True, label="Picture")


def map_alone(
    planned: Plan,
    pick: Callable[[str], None],
    dark: bool,
    width: int,
    *,
    height: int | None = None,
    level: str | None = None,
    picked: str | None = None,
    moved: Mapping[str, int] | None = None,
    plainly: bool = False,
    **instead: object,
) -> mo.ui.altair_chart:
    """The house by tier; a click calls `pick` with the room's name.

    Parameters
    ----------
    height : the most that the chart takes [px].
    level : the level that is drawn, or None for all.
    picked : the room that is picked to begin with.
    moved : rooms and the tiers that they had before the last change.
    plainly : for those who know no trade: tiers have numbers and no names, and no step has a sign.
    instead : replaces parts such as the title.
    """
    rooms, passages, openings = frames.rooms(planned), frames.passages(planned), frames.openings(planned)
    if plainly:
        rooms, passages = rooms.assign(tier_name=""), passages.assign(step="")
    chart = charts.house_map(
        rooms, passages, openings, level=level, selected=picked, moved=moved, dark=dark, width=width, height=height
    )
    return pages.clicked(chart, pick, **instead)


def map_drawn(planned: Plan, dark: bool, width: int, *, title: str) -> pages.Drawn:
    """The house by tier under a title, to be looked at, on a narrow screen no higher than beside what is edited."""
    height = FLOOR_HEIGHT[width] if width == screen.NARROW_CHART else None
    rooms, passages, openings = frames.rooms(planned), frames.passages(planned), frames.openings(planned)
    chart = charts.house_map(rooms, passages, openings, dark=dark, width=width, height=height, keys=False)
    return pages.Drawn(chart, title=vega_lite.title(title, "", width))


def room_list(
    planned: Plan,
    pick: Callable[[str], None],
    picked: str | None = None,
    *,
    plainly: bool = False,
    narrow: bool = False,
) -> mo.ui.dropdown:
    """Every room with its tier, as the plan shows them, the picked one chosen; `plainly` for those without a trade.

    On a `narrow` page it stands below its label, as wide as the page, whatever rooms are called.
    """

    def told(room: str | None) -> None:
        if room is not None:
            pick(room)

    tiers, most = planned.tier_names, planned.richest

    def words(room: RoomPlan) -> str:
        said = richness(room.tier, most) if plainly else f"tier {room.tier} {tiers[room.tier - 1]}"
        return f"{room.room.name}, {said}"

    named = {words(room): room.room.name for room in planned.rooms}
    chosen = next((said for said, room in named.items() if room == picked), None)
    return mo.ui.dropdown(
        named, value=chosen, label="Room on the plan", on_change=told, allow_select_none=True, full_width=narrow
    )


def level_list(house: House, picked: str | None) -> mo.ui.dropdown:
    """Every level with how many rooms it has, and all of them, of which one is drawn: of a house that is large, that of
    the picked room or of the entry to begin with.
    """
    count = Counter(room.level for room in house.rooms)
    named: dict[str, str | None] = {"All levels": None}
    named |= {f"{level}, {counted(count[level], 'room')}": level for level in house.levels}
    drawn = house.by_name[picked_room(house, picked)].level if is_large(house) else None
    chosen = next(words for words, level in named.items() if level == drawn)
    return mo.ui.dropdown(named, value=chosen, label="Level on the plan")


def is_large(house: House) -> bool:
    """Whether a house has more rooms than are drawn at once unless asked otherwise."""
    return len(house.rooms) > MOST_AT_ONCE


def floor(
    planned: Plan, pick: Callable[[str], None], dark: bool, width: int, *, picked: str | None, **how: Any
) -> mo.ui.altair_chart:
    """The house by tier beside what is edited, without the list; `how` is `level` and `moved`, as in `map_alone`."""
    return map_alone(planned, pick, dark, width, picked=picked, height=FLOOR_HEIGHT[width], **how)


def step_down(
    planned: Plan,
    picked: str | None,
    dark: bool,
    width: int,
    *,
    height: float | None = None,
    plainly: bool = False,
) -> pages.Drawn:
    """How the tiers step down from the entry, the walk to the room that was picked strong; `height` is the most [px],
    `plainly` for those who know no trade.
    """
    rooms, steps = frames.step_down([planned]), frames.steps([planned])
    shown = charts.step_down(rooms, steps, picked=picked, plainly=plainly, dark=dark, width=width, height=height)
    return pages.Drawn(shown)


def walked(planned: Plan, picked: str | None, dark: bool, width: int) -> mo.Html:
    """The walls on the walk to the bedroom that was picked, or to the first; `width` is a chart's [px]."""
    if not planned.routes:
        return pages.show(pages.element("p", NO_WALK))
    route = next((route for route in planned.routes if route.room == picked), planned.routes[0])
    hint = "Click or tap another bedroom on the plan to walk there." if len(planned.routes) > 1 else ""
    most = MOST_WALKED[width]
    if len(route.rooms) > most:
        hint = f"Drawn are the last {most} of the {len(route.rooms)} rooms on this walk. {hint}".rstrip()
    return pages.show(
        pages.drawing(strip(planned.walls, route.rooms[-most:], screen.page(width)), dark),
        pages.element("p", hint, class_="pl-hint"),
    )


def room_choice(house: House, picked: str | None, pick: Callable[[str], None], label: str = "Room") -> mo.ui.dropdown:
    """A choice among the rooms of the house."""
    rooms = [room.name for room in house.rooms]
    return mo.ui.dropdown(rooms, value=picked_room(house, picked), label=label, on_change=pick)


def cost_means(planned: Plan) -> str:
    """What is counted where a plan tells the costs of tiers."""
    if planned.currency:
        return "each room by itself, before bars are cut; what it comes to is under Cost"
    return "by the length of wall and the share that trim covers"


def picked_room(house: House, picked: str | None) -> str:
    """The room that was picked, or the entry where none was, or where the house has it no longer."""
    return picked if picked is not None and picked in house.by_name else house.entries[0]
