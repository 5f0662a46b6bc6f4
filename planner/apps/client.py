"""The client's page: how rich each room is, in plain words, and what the client would have otherwise."""

from bisect import bisect_left
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import marimo as mo
import pandas as pd

from planner.apps import houses, notes, pages, screen, tables, views
from planner.apps.houses import Opened
from planner.apps.typed import Typed, typed_again
from planner.files.problems import HouseFault, Problem
from planner.house.folder import REVIEWS
from planner.house.model import House
from planner.intent.folder import read_intent
from planner.intent.model import Intent
from planner.planning.answer import Plan, RoomPlan
from planner.planning.pipeline import plan
from planner.record.answers import can_be_had, latest, propose
from planner.record.entries import ANSWERS, Answer
from planner.record.fingerprint import fingerprint_of
from planner.record.keeping import open_session, read_record, say

WORDS = {"keep": "Keep it", "more": "A little richer", "less": "A little plainer"}

WELCOME = (
    "Trim is what frames a room: baseboards, door casings, crown. The more dots, the richer it is. "
    "It is richest where guests arrive and gets plainer on the way to the bedrooms. "
    "Choose a room, here or by clicking the plan, and say whether you would keep it, have a little more, "
    "or a little less. Rooms beside it may follow. Every answer is kept at once for your designer."
)


@dataclass(frozen=True)
class Shown:
    """What the client is asked about: an alternative of a house and its plan, None where the house or the alternative
    has `faults`.
    """

    opened: Opened
    intent: Intent
    base: Plan | None
    faults: tuple[Problem, ...] = ()


def shown(folder: Path, alternative: str, was: Shown | None = None) -> Shown:
    """What is shown of a house folder; its own defaults where no alternative is named. What `was` shown is returned as
    long as nothing of it has changed.
    """
    opened = houses.opened(folder)
    if opened.house is None:
        return Shown(opened, Intent(), None, opened.remarks)
    try:
        intent = read_intent(folder, alternative) if alternative else Intent()
    except HouseFault as fault:
        return Shown(opened, Intent(), None, fault.problems)
    if was and was.base and (opened, intent) == (was.opened, was.intent):
        return was
    return Shown(opened, intent, planned(opened.house, intent, opened))


def planned(house: House, intent: Intent, opened: Opened) -> Plan:
    """The plan of an intent; where it takes long the page says so."""
    with screen.working("Planning your house"):
        return plan(house, intent, opened.stock, opened.library)


def greeting(shown: Shown) -> mo.Html:
    """What the page is about, or why there is nothing to see yet."""
    title = houses.title(shown.opened, shown.intent.title or shown.intent.name or "As the house stands")
    if shown.base is None:
        return pages.show(title, pages.unready(shown.faults))
    if not shown.base.feasible:
        return pages.show(
            title, pages.note("alarm", "Your designer is not done with this yet.", pages.listed(shown.base.conflicts))
        )
    return pages.show(title, pages.element("p", WELCOME))


@dataclass(frozen=True)
class Sitting:
    """The client at the page: each reviewer's answers go to a file of their own, and a remark not sent waits with its
    room, in `typed`.

    `visitor` is the mark of the browser: what was said in it is shown in it and in no other. Without one, all is shown.
    """

    folder: Path
    alternative: str
    visitor: str = ""
    files: dict[str, Path] = field(default_factory=dict)
    typed: Typed = field(default_factory=Typed)

    def before(self) -> tuple[Mapping[str, Answer], tuple[str, ...]]:
        """The last answer for each room so far, and a warning for each line that could not be read."""
        record = read_record(self.folder, self.visitor)
        return latest(record.answers, self.alternative), record.warnings

    def say(self, reviewer: str, base: Plan, room: str, answer: str, remark: str) -> Answer:
        """Keep an answer on a room of the plan that is shown; it is on the disk when this returns.

        Raises HouseFault where it cannot be kept; then the remark waits with its room.
        """
        who = reviewer.strip()
        file = self.files.setdefault(who, open_session(self.folder, who, self.visitor))
        said = say(file, who, self.alternative, room, answer, remark.strip(), fingerprint=fingerprint_of(base))
        self.typed.used(room)
        return said

    def remark(self, room: str, before: Answer | None) -> mo.ui.text_area:
        """A field for a remark on a room, with what was typed there last, else with what was said."""
        typed = self.typed.text(room) if room in self.typed else before.remark if before else ""
        return mo.ui.text_area(
            value=typed,
            label="Anything to add?",
            rows=2,
            full_width=True,
            debounce=False,  # so that it is here when the page is loaded again before the field is left
            on_change=self.typed.into(room),
        )

    def waiting(self, answers: Mapping[str, Answer]) -> tuple[str, ...]:
        """The rooms with a remark that was not sent."""
        return self.typed.waiting({room: said.remark for room, said in answers.items()})


def sitting(folder: Path, alternative: str) -> Sitting:
    """The client at a page, with the remarks that the same browser has not sent before the page was loaded again."""
    visitor = houses.visitor()
    typed = typed_again(visitor, str(folder), alternative) if visitor else Typed()
    return Sitting(folder, alternative, visitor, typed=typed)


@dataclass(frozen=True)
class Follow:
    """What lets a client's page follow what others have changed, as setters of its states: the plan that it asks about,
    what the same client has said in another window, and the room that is picked, where it is no more.
    """

    shown: Callable[[Shown], None]
    answers: Callable[[Mapping[str, Answer]], None]
    picked: Callable[[str], None]

    def look(self, sitting: Sitting, was: Shown, answers: Mapping[str, Answer], picked: str) -> None:
        """Look for what is new."""
        now, (said, _) = shown(sitting.folder, sitting.alternative, was), sitting.before()
        if said != answers:
            self.answers(said)
        if now == was:
            return
        if now.opened.house and picked not in now.opened.house.by_name:
            self.picked(first_room(now))
        self.shown(now)


def first_room(shown: Shown) -> str:
    """The room that is asked about first: where guests arrive; "" where there is none yet."""
    return shown.opened.house.entries[0] if shown.opened.house else ""


def back(rooms: Iterable[str], sitting: Sitting, let_go: mo.ui.button) -> mo.Html | None:
    """Which of the rooms that had a remark when the page was loaded still have it unsent."""
    waiting = [room for room in rooms if room in sitting.typed]
    if not waiting:
        return None
    words = f"What you had written and not sent is back, at: {', '.join(waiting)}."
    return mo.vstack([pages.show(pages.note("quiet", words)), let_go])


def letting_go(sitting: Sitting, rooms: Iterable[str], then: Callable[[tuple[str, ...]], None]) -> mo.ui.button:
    """The button that lets go of remarks that were not sent; `then` is told that none is left."""

    def let_go(_: object) -> None:
        sitting.typed.used(*rooms)
        then(())

    return mo.ui.button(label="Let go of these words", on_click=let_go)


@dataclass(frozen=True)
class Heard:
    """The plan that answers give, and those of them that it is without: they cannot be had beside the later ones."""

    planned: Plan
    aside: tuple[Answer, ...] = ()


def heard(shown: Shown, base: Plan, answers: Iterable[Answer]) -> Heard:
    """The plan of all answers that can be had together. Where not all can, a later one goes before an earlier one."""
    latest_first = sorted(answers, key=lambda said: said.time, reverse=True)

    def with_answers(said: Iterable[Answer]) -> Plan:
        return planned(base.house, propose(shown.intent, base, said), shown.opened)

    kept, aside = list[Answer](), list[Answer]()
    while not (after := with_answers([*kept, *latest_first])).feasible:
        counts = range(1, len(latest_first))
        here = bisect_left(counts, True, key=lambda n: not with_answers([*kept, *latest_first[:n]]).feasible)
        kept += latest_first[:here]
        aside.append(latest_first[here])
        latest_first = latest_first[here + 1 :]
    return Heard(after, tuple(aside))


def refusal(room: str, fault: HouseFault) -> str:
    """Why an answer was not kept, in words for the client."""
    why = "; ".join(
        p.message if p.file.startswith(REVIEWS) else f"{p.file} {p.message}; {p.remedy}" for p in fault.problems
    )
    return f"Your answer on {room} was not kept: {why}. Your words are still here, so that you can choose again."


def refused(words: str) -> mo.Html | None:
    """That the last answer was not kept."""
    return pages.show(pages.note("alarm", words)) if words else None


def torn(warnings: Iterable[str]) -> mo.Html | None:
    """What was passed over in the record of answers."""
    listed = list(warnings)
    return pages.show(pages.note("quiet", pages.listed(listed))) if listed else None


def cannot_all_be(heard: Heard) -> mo.Html | None:
    """Which answers cannot be had beside the others."""
    if not heard.aside:
        return None
    words = (
        "Not all of your answers can be had together, so the plan below is without these. "
        "They are kept, and your designer will look for a way:"
    )
    listed = [f"{said.room}: {WORDS[said.answer].lower()}" for said in heard.aside]
    return pages.show(pages.note("alarm", words, pages.listed(listed)))


def house_map(planned: Plan, pick: Callable[[str], None], dark: bool, width: int) -> pages.Held:
    """The house, under words that need no trade."""
    most = len(planned.tier_names)
    title = {"text": "Your house", "subtitle": f"1 is the plainest, {most} the richest; click a room"}
    return views.house_map(planned, pick, dark, width, title=title)


def step_down(planned: Plan, picked: str | None, dark: bool, width: int) -> pages.Drawn:
    """How the house gets plainer from the front door on, under words that need no trade."""
    return views.step_down(planned, picked, dark, width, plainly=True)


def answer_buttons(
    base: Plan, room: RoomPlan, before: Answer | None, answer: Callable[[str], None]
) -> list[mo.ui.button]:
    """A button for each answer, the last one given marked, those disabled that the plan leaves no way for; and one for
    a remark alone.
    """
    said, open_to = before.answer if before else "", can_be_had(base, room)
    buttons = [
        mo.ui.button(
            label=WORDS[word],
            kind="success" if word == said else "neutral",
            disabled=word not in open_to,
            on_click=_answering(word, answer),
        )
        for word in ANSWERS
    ]
    return [*buttons, mo.ui.button(label="Only my words", on_click=_answering(said, answer))]


def _answering(word: str, answer: Callable[[str], None]) -> Callable[[object], None]:
    return lambda _: answer(word)


def question(
    folder: Path, base: Plan, room: RoomPlan, remark: mo.ui.text_area, buttons: Iterable[mo.ui.button]
) -> mo.Html:
    """What the client is asked of one room, after what the designer notes of it for the client."""
    held = len(can_be_had(base, room)) == 1
    free = "Write first, if you like; then choose. Your words go with your choice."
    return mo.vstack(
        [
            pages.show(pages.heading(room.room.name), notes.room(folder, base.house, room.room.name, client=True)),
            pages.show(pages.element("p", "Your designer holds this room where it is." if held else free)),
            remark,
            mo.hstack(list(buttons), justify="start", wrap=True),
        ]
    )


ROOM_BY_ROOM = ["Room", "As planned", "With your answers", "You said", "You added"]


def room_by_room(base: Plan, planned: Plan, answers: Mapping[str, Answer]) -> pages.Held:
    """Every room as it was planned and with the answers, and what was said of it; with the ways to take that away."""
    tiers = len(base.tier_names)
    rows = [
        [room.room.name, richness(room.tier, tiers), richness(now, tiers), *_said(answers.get(room.room.name))]
        for room, now in _then(base, planned)
    ]
    moved = [number for number, (room, now) in enumerate(_then(base, planned)) if now != room.tier]
    caption = "Room by room; a shaded row is one that your answers change"
    table = pages.show(pages.table(ROOM_BY_ROOM, rows, caption=caption, marked=moved))

    def made() -> pd.DataFrame:
        rows = [[r.room.name, r.tier, now, *_said(answers.get(r.room.name))] for r, now in _then(base, planned)]
        return pd.DataFrame(rows, columns=ROOM_BY_ROOM)

    take = tables.ways({"Room by room": made}, lambda title, ending: tables.named(base, title, ending=ending))
    return pages.Held(mo.vstack([table, take]), take)


def _then(base: Plan, planned: Plan) -> list[tuple[RoomPlan, int]]:
    """Every room as it was planned, and its tier with the answers."""
    return [(room, planned.by_name[room.room.name].tier) for room in base.rooms]


def _said(answer: Answer | None) -> list[str]:
    """What was said of a room: the answer in words, and the remark."""
    return [WORDS.get(answer.answer, ""), answer.remark] if answer else ["", ""]


def richness(tier: int, tiers: int) -> pages.Markup:
    """A tier as filled and empty dots, and as words for those who hear the page."""
    dots = pages.element("span", "●" * tier + "○" * (tiers - tier), aria_hidden="true")
    return pages.element("span", dots, pages.element("span", f" {tier} of {tiers}"), class_="pl-tier")
