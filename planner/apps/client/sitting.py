"""The client at the page: who answers, what was answered before, and words that were not sent."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import marimo as mo

from planner.apps import houses, pages
from planner.apps.client.asking import Shown, shown
from planner.apps.people import name_field
from planner.apps.presses import Anew
from planner.apps.typed import Typed, typed_again
from planner.deliverables.client_words import ANSWER_OF, TAKE_BACK, answer_words
from planner.files.problems import HouseFault
from planner.house.folder import REVIEWS
from planner.intent.renamed import called_now
from planner.library import Library
from planner.planning.answer import Plan
from planner.record.answers import latest
from planner.record.entries import Answer, ElementWish, person
from planner.record.fingerprint import fingerprint_of
from planner.record.keeping import Record, open_session, read_record, say

NAMELESS = "Write your name first, at the top of the page, so that your designer knows who says it."

WORDLESS = "You have not written anything yet."


@dataclass(frozen=True)
class Sitting:
    """The client at the page: each reviewer's answers go to a file of their own, a remark not sent waits with its room,
    in `typed`, and `said` are the last answers by their rooms, as the record had them when it was read last.

    `visitor` is the mark of the browser: what was said in it is shown in it and in no other. Without one, all is shown.
    Controls that speak of a room are built `anew`.
    """

    folder: Path
    alternative: str
    visitor: str = ""
    files: dict[str, Path] = field(default_factory=dict)
    typed: Typed = field(default_factory=Typed)
    said: dict[str, Answer] = field(default_factory=dict)
    anew: Anew = field(default_factory=Anew)

    def before(self) -> Record:
        """What was said in this browser so far, and what the designer replied to it."""
        record = read_record(self.folder, self.visitor)
        self.said.clear()
        self.said.update(answers_of(record, self))
        return record

    def reviewer(self, record: Record) -> mo.ui.text:
        """The field of the client's name, with the name that answers were given under in this browser last."""
        before = record.answers[-1].who if self.visitor and record.answers else ""
        return name_field(self.typed, "who says it", before)

    @property
    def who(self) -> str:
        """The client's name, "" where none is written."""
        return (self.typed.who or "").strip()

    def say(self, base: Plan, room: str, answer: str, remark: str, wishes: Iterable[ElementWish] = ()) -> Answer:
        """Keep an answer on a room of the plan that is shown; it is on the disk when this returns.

        Raises HouseFault where it cannot be kept; then the remark waits with its room.
        """
        said = self._keep(base, room, answer, remark.strip(), wishes)
        self.typed.used(room)
        return said

    def _keep(self, base: Plan, room: str, answer: str, remark: str, wishes: Iterable[ElementWish]) -> Answer:
        who = self.who
        file = self.files.setdefault(who, open_session(self.folder, who, self.visitor))
        return say(file, who, self.alternative, room, answer, remark, wishes, fingerprint_of(base))

    def answer(
        self,
        base: Plan,
        room: str,
        remark: str,
        answer: str | None = None,
        wishes: Iterable[ElementWish] | None = None,
    ) -> str:
        """Keep an answer as `say` does; what is None of it is as it was said last.

        Returns why it was not kept, in words for the client; "" where it was.
        """
        if not self.who:
            return NAMELESS
        if before := self.said.get(room):
            answer = before.answer if answer is None else answer
            wishes = before.wishes if wishes is None else wishes
        elif not (answer or remark.strip() or wishes):
            return WORDLESS
        try:
            self.say(base, room, answer or "", remark, wishes or ())
        except HouseFault as fault:
            return refusal(room, fault)
        return ""

    def take_back(self, base: Plan, room: str) -> str:
        """Take back what was said of a room, by whoever said it; what was typed there since stays with its room.

        Returns why it was not taken back, in words for the client; "" where it was.
        """
        before = self.said.get(room)
        if before is None:
            return ""
        if not self.who:
            return NAMELESS
        if person(self.who) != person(before.who):
            return f"This is the answer of {before.who}: write that name at the top of the page to take it back."
        try:
            self._keep(base, room, "", "", ())
        except HouseFault as fault:
            return f"Your answer on {room} was not taken back: {_why(fault)}. It stands as it was."
        return ""

    def remark(self, room: str) -> mo.ui.text_area:
        """A field for a remark on a room, with what was typed there last, else with what was said."""
        before = self.said.get(room)
        typed = self.typed.text(room) if room in self.typed else before.remark if before else ""
        return self.anew(
            lambda: mo.ui.text_area(
                value=typed,
                label="Anything to add?",
                rows=2,
                full_width=True,
                debounce=False,  # so that it is here when the page is loaded again before the field is left
                on_change=self.typed.into(room),
            )
        )

    def waiting(self, answers: Mapping[str, Answer]) -> tuple[str, ...]:
        """The rooms with a remark that was not sent."""
        sent = {room: said.remark for room, said in answers.items()}
        return self.typed.waiting(sent)


def sitting(folder: Path, alternative: str) -> Sitting:
    """The client at a page, with the remarks that the same browser has not sent before the page was loaded again."""
    visitor = houses.visitor()
    typed = typed_again(visitor, str(folder), alternative) if visitor else Typed()
    return Sitting(folder, alternative, visitor, typed=typed)


def answers_of(record: Record, sitting: Sitting) -> Mapping[str, Answer]:
    """The last answer for each room so far."""
    return latest(record.answers, sitting.alternative)


@dataclass(frozen=True)
class Follow:
    """What lets a client's page follow what others have changed, as setters of its states: the plan that it asks about,
    what the same client has said in another window and the designer has replied, that something else is kept of the
    room that is picked, that its remark is another, and the room that is picked, where it is no more.
    """

    shown: Callable[[Shown], None]
    record: Callable[[Record], None]
    again: Callable[[object], None]
    words: Callable[[object], None]
    picked: Callable[[str], None]

    def look(self, sitting: Sitting, was: Shown, record: Record, picked: str) -> None:
        """Look for what is new. A remark that is being written stays in the hand."""
        now, said = shown(sitting.folder, sitting.alternative, was), sitting.before()
        if said.entries != record.entries:
            self.record(said)
        if answers_of(said, sitting).get(picked) != answers_of(record, sitting).get(picked):
            self.again(None)
            if picked not in sitting.typed:
                self.words(None)
        here = carried(sitting, now, picked)
        if here != picked:
            self.picked(here)
        if now != was:
            self.shown(now)


def carried(sitting: Sitting, now: Shown, picked: str) -> str:
    """The room that is picked as the house has it now: under its new name where it was renamed, else the first one
    where it is no more. What is being written of a room goes with it to its new name.
    """
    rooms = now.opened.house.by_name if now.opened.house else {}
    called = called_now(sitting.folder, [room for room in {*sitting.typed, picked} if rooms and room not in rooms])
    for old, new in called.items():
        if old in sitting.typed and new in rooms and new not in sitting.typed:
            sitting.typed[new] = sitting.typed.pop(old)
    here = called.get(picked, picked)
    return here if here in rooms or not rooms else first_room(now)


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


def given(room: str, answer: Answer | None, library: Library, taking_back: mo.ui.button) -> mo.Html:
    """What the client has answered on a room, in a line that is read out, as it is when another room is come to, and
    marked on the drawing that was chosen, where one was; with the button that takes it back, where there is something
    to take back."""
    which, kind, back = None, "pl-hint", mo.Html("")
    said = f"You have not answered on {room} yet."
    if answer:
        which = next((side for side, word in ANSWER_OF.items() if word == answer.answer), None)
        said = f"Your answer on {room}: {answer_words(answer, library)}."
        kind, back = "pl-given", taking_back
    words = pages.element("p", said, class_=kind, role="status")
    mark = f'[data-side="{which}"] {{ --pl-given: "Your answer. "; outline: 3px solid var(--pl-ink) }}' if which else ""
    # The line is read out where it stays and its words change, so that what stands beside it is always as many.
    return mo.vstack([pages.show(words, pages.Markup(f"<style>{mark}</style>")), back])


def taking_back(take_back: Callable[[], None]) -> mo.ui.button:
    """The button that takes back what was said of a room."""
    return mo.ui.button(label=TAKE_BACK, on_click=lambda _: take_back())


def refusal(room: str, fault: HouseFault) -> str:
    """Why an answer was not kept, in words for the client."""
    still = "Your words are still here, so that you can choose again."
    return f"Your answer on {room} was not kept: {_why(fault)}. {still}"


def _why(fault: HouseFault) -> str:
    return "; ".join(
        p.message if p.file.startswith(REVIEWS) else f"{p.file} {p.message}; {p.remedy}" for p in fault.problems
    )


def not_kept(words: str) -> mo.Html | None:
    """That the last answer was not kept."""
    return pages.show(pages.note("alarm", words)) if words else None


def torn(warnings: Iterable[str]) -> mo.Html | None:
    """What was passed over in the record of answers."""
    listed = list(warnings)
    return pages.show(pages.note("quiet", pages.listed(listed))) if listed else None
