"""What a client sees: how rich each room is, in plain words, and what their answers would make of it."""

from collections.abc import Mapping
from pathlib import Path

import marimo as mo

from planner.apps import pages
from planner.apps.houses import Opened, title
from planner.apps.reviews import ANSWERS, Answer, choices, latest, propose, read_reviews
from planner.files.problems import HouseFault
from planner.intent.folder import read_intent
from planner.intent.model import Intent
from planner.planning.answer import Plan
from planner.planning.pipeline import plan

WORDS = {"keep": "Keep it", "more": "A little richer", "less": "A little plainer"}
"""The answers, as a client reads them."""


def planned_as(opened: Opened, names: list[str]) -> tuple[Intent, Plan | None, mo.Html]:
    """The alternative that is reviewed, the first of `names` or the house's own, its plan, and what the page says.

    The plan is None where the house or the alternative has faults, or where no plan keeps every wish.
    """
    try:
        intent = read_intent(opened.folder, names[0]) if names else Intent()
    except HouseFault as fault:
        return Intent(), None, pages.show(title(opened), pages.unready(fault.problems))
    words = intent.title or intent.name or "As the house stands"
    if opened.house is None:
        return intent, None, pages.show(title(opened, words), pages.unready(opened.remarks))
    base = plan(opened.house, intent, opened.stock)
    if not base.feasible:
        waiting = pages.note("alarm", "Your designer is not done with this yet.", pages.listed(base.conflicts))
        return intent, None, pages.show(title(opened, words), waiting)
    welcome = pages.element(
        "p",
        "Trim is what frames a room: baseboards, door casings, crown. The more dots, the richer it is. ",
        "It is richest where guests arrive and gets plainer on the way to the bedrooms. ",
        "Choose a room, here or by clicking the plan, and say whether you would keep it, have a little more, ",
        "or a little less. Rooms beside it may follow. Every answer is kept at once for your designer.",
    )
    return intent, base, pages.show(title(opened, words), welcome)


def answers_before(folder: Path, alternative: str) -> tuple[dict[str, Answer], mo.Html]:
    """The last answer for each room, and a note of lines that could not be read."""
    said, torn = read_reviews(folder)
    return latest(said, alternative), pages.show(pages.note("quiet", pages.listed(torn)) if torn else "")


def planned_with(base: Plan, answers: Mapping[str, Answer]) -> tuple[Plan, mo.Html]:
    """The plan with a client's answers, or the one before them where they cannot be had together, which is told."""
    after = plan(base.house, propose(base.intent, base, answers.values()), base.stock, base.library)
    if after.feasible:
        return after, pages.show()
    note = pages.note(
        "alarm",
        "Not all of your answers can be had together, so the plan below is the one before them. "
        "They are kept, and your designer will look for a way. What stands against it:",
        pages.listed(after.conflicts),
    )
    return base, pages.show(note)


def plainly(text: str, subtitle: str) -> dict[str, str]:
    """A chart's title that needs no words of the trade."""
    return {"text": text, "subtitle": subtitle}


def richness(tier: int, tiers: int) -> pages.Markup:
    """A tier as filled and empty dots, and as words for those who hear the page."""
    dots = pages.element("span", "●" * tier + "○" * (tiers - tier), aria_hidden="true")
    return pages.element("span", dots, pages.element("span", f" {tier} of {tiers}"), class_="pl-tier")


def open_answers(base: Plan, room: str) -> dict[str, bool]:
    """Every answer, and whether it is open for the room."""
    held = choices(base.by_name[room])
    return {word: word in held for word in ANSWERS}


def room_words(base: Plan, room: str) -> mo.Html:
    """The head of a room's questions."""
    alone = sum(open_answers(base, room).values()) == 1
    held = "Your designer holds this room where it is."
    asked = "Write first, if you like; then choose. Your words go with your choice."
    return pages.show(pages.heading(room), pages.element("p", held if alone else asked))


def answered(base: Plan, planned: Plan, answers: Mapping[str, Answer]) -> mo.Html:
    """Every room as it is planned, with the client's answers, and what they said."""
    tiers = len(base.tier_names)
    said = {room.room.name: answers.get(room.room.name) for room in base.rooms}
    rows = [
        [
            name,
            richness(base.by_name[name].tier, tiers),
            richness(planned.by_name[name].tier, tiers),
            WORDS.get(answer.answer, "") if answer else "",
            answer.remark if answer else "",
        ]
        for name, answer in said.items()
    ]
    moved = [at for at, room in enumerate(base.rooms) if planned.by_name[room.room.name].tier != room.tier]
    columns = ["Room", "As planned", "With your answers", "You said", "You added"]
    caption = "Room by room; a shaded row is one that your answers change"
    return pages.show(pages.table(columns, rows, caption=caption, marked=moved))
