"""The step-down: every room once, by its steps from the entry across and by its tier down; passages are lines."""

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple, cast

import pandas as pd

from planner.charts import step_down_words as words
from planner.charts.finished import FinishedChart
from planner.charts.names import LINE_HEIGHT, short
from planner.charts.parts import nearest_rooms
from planner.charts.sheet import Sheet, message
from planner.charts.step_down_lines import SIGN_TEXT, Link, falling, links_between, signs
from planner.charts.step_down_places import SIDE, Box, Panel, Places, deepest, places
from planner.charts.step_down_words import Alternative, RoomRow, StepRow
from planner.charts.vega_lite import EDGE, records, title_height
from planner.look import theme
from planner.look.theme import TEXT, text_on, text_width, wrapped
from planner.units import counted

LEAST_PANEL = 330.0
"""Least width of an alternative's panel [px]."""

GAP = 28.0
"""Pixels between panels, side by side and one below the other."""

TALLEST, TALLEST_BESIDE = 480.0, 320.0
"""The most that the rows of a panel take where nothing is asked [px], alone and beside others."""

LEAST_ROWS = 90.0
"""The rows of a panel may take at least so much, whatever is asked [px]."""

NAMED_FROM = 480.0
"""From this width on [px] the tiers of a panel have their names below their numbers."""

NAMED_ROW = 28.0
"""The least height of a row whose tier has its name below its number [px]."""

NUMBERS = 26.0
"""What the numbers of the tiers take left of the columns [px]."""

FOOT = 16.0
"""Pixels below the rows of a panel for the steps."""

SIGN = 56.0
"""Area of the sign of a step [px²]."""


def step_down(
    rooms: pd.DataFrame,
    steps: pd.DataFrame,
    *,
    picked: str | None = None,
    plainly: bool = False,
    dark: bool = False,
    width: int = 720,
    height: float | None = None,
) -> FinishedChart:
    """How the tiers step down from the entry; alternatives side by side on the same axes.

    Parameters
    ----------
    rooms, steps : frames.step_down and frames.steps of one plan or of several.
    picked : the room to which the walk from the entry is strong; the first bedroom where there is no such room.
    plainly : for those who know no trade, in their words, without names of tiers and signs of steps.
    height : the most that the chart takes [px]; rooms that have no place for their names then are counted.
    """
    if rooms.empty:
        return message("There is no step-down to draw", "No room has a tier.", width, dark)
    plans = _alternatives(rooms, steps, plainly)
    first = plans[0].rooms
    if not all(any(r["entry"] for r in plan.rooms) for plan in plans):
        return message(
            f"{short(first[0]['house'])} has no entry", "Steps are counted from where guests come in.", width, dark
        )
    return _laid_out(plans, rooms, picked, plainly, height, Sheet(width, dark)).chart()


def step_down_places(rooms: pd.DataFrame, steps: pd.DataFrame, *, plainly: bool = False, width: int = 720) -> Places:
    """Where boxes and rows stand in the step-down of one plan, whose rooms have an entry; the rest is as in
    `step_down`."""
    return _laid_out(
        _alternatives(rooms, steps, plainly), rooms, None, plainly, None, Sheet(width, False)
    ).panels.places


class _LaidOut(NamedTuple):
    """A step-down before it is drawn: its words and its panels."""

    heading: str
    subtitle: str
    left_out: str
    described: str
    panels: "Panels"

    def chart(self) -> FinishedChart:
        """It drawn."""
        sheet, bottom = self.panels.sheet, self.panels.draw()
        bottom = sheet.paragraph(self.left_out, bottom) if self.left_out else bottom
        return sheet.chart(self.heading, self.subtitle, bottom, described=self.described, halo=True)


def _laid_out(
    plans: Sequence[Alternative],
    rooms: pd.DataFrame,
    picked: str | None,
    plainly: bool,
    height: float | None,
    sheet: Sheet,
) -> _LaidOut:
    """A step-down as it is drawn on a sheet."""
    first = plans[0].rooms
    walk = _walk(first, picked)
    heading = words.finding(first, plans[0].steps, plainly) if len(plans) == 1 else words.compared(plans)
    drawn, left_out = _drawn(plans, rooms[rooms["alternative"] == plans[0].title], sheet.width)
    below = sheet.paragraph_height(left_out) if left_out else 0.0

    def put(subtitle: str) -> Panels:
        above = title_height(heading, subtitle, sheet.width)
        most = None if height is None else height - above - below - 2 * EDGE
        return Panels(sheet, drawn, walk, most, "" if plainly else "Tier")

    subtitle = words.subtitle(plans, walk, plainly)
    if (panels := put(subtitle)).places.hidden:
        panels = put(subtitle := f"{subtitle}. {words.HIDDEN}")
    return _LaidOut(heading, subtitle, left_out, words.spoken(plans, walk), panels)


def _alternatives(rooms: pd.DataFrame, steps: pd.DataFrame, plainly: bool) -> list[Alternative]:
    """The plans of the frames, in the order in which they come."""
    if plainly:
        rooms, steps = rooms.assign(tier_name=""), steps.assign(step="clear")
    by_title: dict[str, Alternative] = {}
    for room in cast("list[RoomRow]", records(rooms)):
        by_title.setdefault(room["alternative"], Alternative(room["alternative"], [], [])).rooms.append(room)
    for step in cast("list[StepRow]", records(steps)):
        by_title[step["alternative"]].steps.append(step)
    return list(by_title.values())


def _walk(rooms: Sequence[RoomRow], picked: str | None) -> list[str]:
    """The rooms from the entry to the one that was picked, else to the first bedroom; none where there is neither."""
    by_name = {r["room"]: r for r in rooms}
    first = min((r["room"] for r in rooms if r["bedroom"]), default=None)
    end = picked if picked in by_name else first
    return words.walk(by_name, end) if end is not None else []


def _drawn(plans: Sequence[Alternative], rooms: pd.DataFrame, width: float) -> tuple[list[Alternative], str]:
    """What there is room for of the plans on a sheet so wide [px], and words that say so where that is not all."""
    part, left_out = nearest_rooms(rooms)
    names, panel = set(part["room"]), _panel_width(len(plans), width)
    down = deepest([Panel(p.part(names).rooms, ()) for p in plans], panel - _axis_width(plans, panel))
    if down < int(part["depth"].max()):
        names = set(part["room"][part["depth"] <= down])
        left_out = f"Drawn are the {len(names)} of {len(rooms):,} rooms up to {counted(down, 'step')} from the entry."
    return [plan.part(names) for plan in plans], left_out


def _beside(panels: int, width: float) -> int:
    """How many panels stand side by side, their rows about as long."""
    most = min(panels, max(1, int((width + GAP) // (LEAST_PANEL + GAP))))
    return ceil(panels / ceil(panels / most))


def _panel_width(panels: int, width: float) -> float:
    beside = _beside(panels, width)
    return (width - (beside - 1) * GAP) / beside


def _axis_width(plans: Sequence[Alternative], panel: float) -> float:
    """Pixels left of the columns for the numbers of the tiers and, where there is room for them, their names."""
    if panel < NAMED_FROM:
        return NUMBERS
    return max(NUMBERS, 10 + max(text_width(r["tier_name"], TEXT["small"]) for plan in plans for r in plan.rooms))


class Panels:
    """The panels of all alternatives on the same axes, in at most `height` pixels; `word` says what goes down them."""

    def __init__(
        self, sheet: Sheet, plans: Sequence[Alternative], walk: Sequence[str], height: float | None, word: str
    ) -> None:
        self.sheet, self.plans, self.walk, self.word = sheet, plans, walk, word
        self.width = _panel_width(len(plans), sheet.width)
        self.axis = _axis_width(plans, self.width)
        self.heads = [self._head(plan) for plan in plans] if len(plans) > 1 else [[]]
        self.above = LINE_HEIGHT * max(map(len, self.heads)) + (6 if len(plans) > 1 else 0)
        self.down = ceil(len(plans) / _beside(len(plans), sheet.width))
        most = TALLEST if len(plans) == 1 else TALLEST_BESIDE
        if height is not None:
            most = max(LEAST_ROWS, (height - (self.down - 1) * GAP) / self.down - self.above - FOOT)
        order = words.first_named(plans, walk)
        panels = [Panel(plan.rooms, order) for plan in plans]
        least = NAMED_ROW if self.width >= NAMED_FROM else 0.0
        self.places = places(panels, order, self.axis, self.width - self.axis, most, least)

    def _head(self, plan: Alternative) -> list[str]:
        """The title of an alternative and its step-down, line by line."""
        said = words.course(plan.rooms)
        return [
            *wrapped(short(plan.title), self.width / 1.08, TEXT["label"])[:1],
            *wrapped(f"{said[0].upper()}{said[1:]}; {words.alarm(plan.steps)}", self.width, TEXT["note"]),
        ]

    def draw(self) -> float:
        """Draw all panels; returns where the lowest ends."""
        beside, each = _beside(len(self.plans), self.sheet.width), self.above + self.places.bottom + FOOT
        for i, (plan, head, boxes) in enumerate(zip(self.plans, self.heads, self.places.panels, strict=True)):
            left, top = (i % beside) * (self.width + GAP), (i // beside) * (each + GAP)
            for line, text in enumerate(head):
                ink, size = (self.sheet.look.soft, TEXT["note"]) if line else (self.sheet.look.ink, TEXT["label"])
                self.sheet.write(text, left, top + LINE_HEIGHT * (line + 0.5), ink, size, bold=not line)
            self._draw_axes(left, top + self.above)
            moved = [b.moved(left, top + self.above) for b in boxes]
            self._draw_panel(plan, moved, left, top + self.above)
        return self.down * (each + GAP) - GAP

    def _draw_axes(self, left: float, top: float) -> None:
        """The tiers down, each with its number and name and a line below it, and the steps across."""
        sheet, small, foot = self.sheet, TEXT["small"], top + self.places.bottom + FOOT / 2 + 1
        names = {r["tier"]: r["tier_name"] for plan in self.plans for r in plan.rooms}
        named = self.width >= NAMED_FROM
        for tier, (y, y2) in self.places.rows.items():
            middle = top + (y + y2) / 2
            sheet.line([(left, top + y2), (left + self.width, top + y2)], sheet.look.faint, "edge")
            sheet.write(str(tier), left, middle - (6 if named else 0), sheet.look.ink, TEXT["label"], bold=True)
            if named and tier in names:
                sheet.write(names[tier], left, middle + 6, sheet.look.soft, small)
        sheet.write(self.word, left, foot, sheet.look.soft, small)
        for text, x in self._steps():
            sheet.write(text, left + x, foot, sheet.look.soft, small)

    def _steps(self) -> Iterator[tuple[str, float]]:
        """What stands below each column."""
        columns = self.places.columns
        for depth, (x, _) in columns.items():
            said = counted(depth, "step") if depth else "entry"
            pitch = columns.get(depth + 1, (self.width + 4, 0.0))[0] - x
            yield said if text_width(said, TEXT["small"]) + 4 <= pitch else str(depth), x

    def _draw_panel(self, plan: Alternative, boxes: Sequence[Box], left: float, top: float) -> None:
        """Lines, boxes and signs of an alternative."""
        sheet, strong = self.sheet, set(self.walk)
        links = links_between(plan.steps, boxes, self.walk)
        for link in links:
            self._draw_link(link)
        by_name = {r["room"]: r for r in plan.rooms}
        into = {s["end"]: s["step"] for s in plan.steps if by_name[s["end"]]["before"] == s["start"]}
        into |= {s["start"]: s["step"] for s in plan.steps if by_name[s["start"]]["before"] == s["end"]}
        for box in boxes:
            self._draw_box(box, [by_name[name] for name in box.rooms], into, not strong.isdisjoint(box.rooms))
        room = (left + self.axis, top, left + self.width, top + self.places.bottom)
        for sign in signs(links, boxes, room, self.places.gutter):
            sheet.mark(*sign.at, theme.STEPS[sign.kind].shape, SIGN, sheet.look.alarm)
            if sign.middle:
                sheet.write(sign.word, *sign.middle, sheet.look.alarm, SIGN_TEXT, align="center")

    def _draw_link(self, link: Link) -> None:
        look = self.sheet.look
        colour = look.alarm if link.alarms else look.ink if link.strong else look.soft
        weight = "cut" if link.strong else "profile" if link.walked or link.alarms else "dimension"
        self.sheet.line(falling(link.start, link.end, self.places.gutter), colour, weight, 1.8 if link.strong else 1)

    def _draw_box(self, box: Box, rooms: Sequence[RoomRow], into: dict[str, str], strong: bool) -> None:
        """A box with its names, framed where the strong walk goes through it."""
        sheet, first = self.sheet, rooms[0]
        fill = theme.ramp(first["tiers"], sheet.dark)[first["tier"] - 1]
        if strong:
            frame = [(box.x, box.y), (box.x2, box.y), (box.x2, box.y2), (box.x, box.y2), (box.x, box.y)]
            sheet.line(frame, sheet.look.ink, "cut", 2.4)
        said = {"room": ", ".join(r["room"] for r in rooms), "tier": f"{first['tier']} {first['tier_name']}"}
        ways = dict.fromkeys(_way(r, into) for r in rooms)
        said |= {"steps": f"{counted(box.depth, 'step')} from the entry", "reached": "; ".join(ways)}
        sheet.block(box.x, box.y, box.x2, box.y2, fill, said)
        line = (box.y2 - box.y - self.places.more) / len(box.lines)
        for i, text in enumerate(box.lines):
            y = box.y + self.places.more / 2 + (i + 0.5) * line
            sheet.write(text, box.x + SIDE, y, text_on(fill), self.places.size)


def _way(room: RoomRow, into: dict[str, str]) -> str:
    """Where one comes from into a room and, where that room is drawn, how the step reads."""
    if not room["before"]:
        return "by the front door"
    read = f", {theme.STEPS[into[room['room']]].word}" if room["room"] in into else ""
    return f"from {short(room['before'])}{read}"
