"""The whole house on the client's page: its plan, its step-down, every room in a table, and what answers change."""

from collections.abc import Callable, Mapping

import marimo as mo
import pandas as pd

from planner.apps import pages, tables, views
from planner.apps.client.asking import Heard
from planner.deliverables import client_words
from planner.deliverables.client_words import MEASURE, answer_words, cost_change, dots
from planner.library import Library
from planner.planning.answer import Plan, RoomPlan
from planner.record.entries import Answer
from planner.units import counted


def sums(base: Plan, heard: Heard, answers: Mapping[str, Answer]) -> mo.Html:
    """What all answers together come to, in a line that is read out."""
    said = counted(len(answers), "room")
    moved = sum(room.tier != now for room, now in _then(base, heard.planned))
    change = cost_change(heard.planned.cost - base.cost, base.cost)
    moving = counted(moved, "room") if moved else "No room"
    words = f"You have answered on {said}. {moving} of the house would change, "
    words += f"and its trim would cost {change}." if answers else ""
    told = words if answers else "You have said nothing of the house yet."
    measured = pages.element("p", MEASURE, class_="pl-hint")
    return pages.show(pages.element("p", told, class_="pl-sum", role="status"), measured, *_aside(heard))


def _aside(heard: Heard) -> list[pages.Markup]:
    """Which answers cannot be had beside the others."""
    if not heard.aside:
        return []
    words = (
        "Not all of your answers can be had together, so the plan of the house is without these. "
        "They are kept, and your designer will look for a way:"
    )
    listed = [f"{said.room}: {answer_words(said, heard.planned.library)}" for said in heard.aside]
    return [pages.note("alarm", words, pages.listed(listed))]


def house_map(planned: Plan, pick: Callable[[str], None], dark: bool, width: int) -> pages.Held:
    """The house, under words that need no trade."""
    title = {"text": "Your house", "subtitle": f"1 is the plainest, {planned.richest} the richest"}
    return views.house_map(planned, pick, dark, width, title=title, plainly=True)


def step_down(planned: Plan, picked: str | None, dark: bool, width: int) -> pages.Drawn:
    """How the house gets plainer from the front door on, under words that need no trade."""
    return views.step_down(planned, picked, dark, width, plainly=True)


ROOM_BY_ROOM = ["Room", "As planned", "With your answers", "You said", "You added"]


def room_by_room(base: Plan, planned: Plan, answers: Mapping[str, Answer]) -> pages.Held:
    """Every room as it was planned and with the answers, and what was said of it; with the ways to take that away."""
    most = base.richest

    def said(room: str) -> list[str]:
        return _said(answers.get(room), base.library)

    rows = [
        [room.room.name, richness(room.tier, most), richness(now, most), *said(room.room.name)]
        for room, now in _then(base, planned)
    ]
    moved = [number for number, (room, now) in enumerate(_then(base, planned)) if now != room.tier]
    caption = "Room by room; a shaded row is one that your answers change"
    table = pages.show(pages.table(ROOM_BY_ROOM, rows, caption=caption, marked=moved))

    def made() -> pd.DataFrame:
        rows = [[r.room.name, r.tier, now, *said(r.room.name)] for r, now in _then(base, planned)]
        return pd.DataFrame(rows, columns=ROOM_BY_ROOM)

    take = tables.ways({"Room by room": made}, lambda title, ending: tables.named(base, title, ending=ending))
    return pages.Held(mo.vstack([table, take]), take)


def _then(base: Plan, planned: Plan) -> list[tuple[RoomPlan, int]]:
    """Every room as it was planned, and its tier with the answers."""
    return [(room, planned.by_name[room.room.name].tier) for room in base.rooms]


def _said(answer: Answer | None, library: Library) -> list[str]:
    """What was said of a room: the answer with its single wishes, and the remark."""
    if answer is None:
        return ["", ""]
    return [answer_words(answer, library).capitalize(), answer.remark]


def richness(tier: int, most: int) -> pages.Markup:
    """A tier as filled and empty dots, and as words for those who hear the page."""
    filled = pages.element("span", dots(tier, most), aria_hidden="true")
    return pages.element(
        "span", filled, pages.element("span", f" {client_words.richness(tier, most)}"), class_="pl-tier"
    )
