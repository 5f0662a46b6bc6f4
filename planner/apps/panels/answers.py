"""The tab of answers: what clients said of the rooms of the alternative on the desk, and what the designer makes of it:
takes it in, answers it with a word, lets clients speak of single elements, and decides."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import marimo as mo
import pandas as pd

from planner.apps import houses, pages, screen
from planner.apps.changes import Changes
from planner.apps.houses import Tell
from planner.apps.people import name_field
from planner.apps.typed import Typed
from planner.deliverables.client_words import WORDS, title_of
from planner.files.problems import HouseFault, words_of
from planner.intent import edits
from planner.intent.model import Intent, Wish
from planner.intent.renamed import moment
from planner.library import Library
from planner.planning.answer import Plan
from planner.record.decisions import AS_IT_STANDS, decide, with_changes
from planner.record.entries import LONGEST_REMARK, PIN, RANGE, RULE, Answer, Decision, Reply, Way, person
from planner.record.fingerprint import fingerprint, fingerprint_of
from planner.record.keeping import Record, keep, open_session, read_record
from planner.record.taking import take_answer, ways_to_take
from planner.record.voices import RoomVoices, Voice, voices
from planner.units import counted, listed

TAB = "Answers"

MOST_SHOWN = {screen.WIDE_CHART: 10, screen.NARROW_CHART: 3}
"""Answers that are shown at once with their buttons, by the width of charts [px]; the next come up as these are
answered."""

WORD, WHY, SAID = "word to a client", "why decided", "said of answers"
"""What waits in the fields of the tab, and what is to be said there, among what was typed."""

PLACES, SEEN = "places of answers", "answers seen"
"""Among what was typed: while the tab is open where each answer stands in it, and which were there when it was opened
last.
"""

DESIGNER = "the designer"
"""Who replies where no name is given."""

TAKE = {PIN: "Take it in as a pin", RANGE: "Take it in as a range", RULE: "Take it in as trim rules"}
TAKEN = {PIN: "as a pinned tier", RANGE: "as a range of tiers", RULE: "as trim rules"}
OUTCOMES = {"open": "Open", "answered": "Answered", "taken": "Taken in"}

WITHOUT_WORDS = "Write the word first, in the field above; it is still open."
NAMELESS = "Write your name first, so that the record says who has decided."
DECIDED = "It is decided already, and nothing has changed since."
UNSAVED = "Save the alternative first: only what is saved can be decided on."
LOCKED = (
    "To decide locks a copy of the alternative, with the house as it is now, in the house's own folder. Later edits do "
    "not touch the copy; a later decision on the same alternative takes this one's place, and both stay in the record."
)


@dataclass(frozen=True)
class Spoken:
    """What was said of a house, and for each decision that holds what has changed since, in words."""

    record: Record
    since: tuple[tuple[Decision, tuple[str, ...]], ...]


def spoken(folder: Path) -> Spoken:
    """What was said of a house until now."""
    record = read_record(folder)
    return Spoken(record, tuple(with_changes(folder, record).items()))


def follow(folder: Path, was: Spoken, tell: Tell) -> None:
    """Tell the page of what others have said since it looked last."""
    now = spoken(folder)
    if now == was:
        return
    tell["spoken"](now)
    before = {said.id for said in was.record.answers}
    new = [said for said in now.record.answers if said.id not in before]
    if new:
        rooms = listed(list(dict.fromkeys(said.room for said in new[:3]))) + (" and more" if len(new) > 3 else "")
        who = listed(list(dict.fromkeys(said.who for said in new[:3])))
        did = "took an answer back" if all(said.takes_back for said in new) else "answered"
        tell["news"](f"{who} {did} on {rooms}; see {TAB}.")


@dataclass(frozen=True)
class Fields:
    """What is written in the tab: the designer's name, a word to a client, and why it is decided."""

    who: mo.ui.text
    word: mo.ui.text_area
    why: mo.ui.text


def typed_here() -> Typed:
    """What is typed at a page that is being opened, with the mark of its browser: nothing tells that mark again when
    the page shows what others have changed."""
    typed = Typed()
    typed.visitor = houses.visitor()
    return typed


def fields(folder: Path, typed: Typed) -> Fields:
    """The fields, with what was typed there last; the name is that under which this browser has replied last."""
    before = read_record(folder, typed.visitor).replies if typed.visitor else ()
    return Fields(
        name_field(typed, "who replies", before[-1].who if before and before[-1].who != DESIGNER else ""),
        mo.ui.text_area(
            value=typed.text(WORD),
            label="A word to a client, who sees it at the room",
            placeholder="write it, then send it at the answer that it is for",
            max_length=LONGEST_REMARK,
            rows=2,
            full_width=True,
            debounce=False,
            on_change=typed.into(WORD),
        ),
        mo.ui.text(
            value=typed.text(WHY),
            label="Why, or on what terms",
            placeholder="may stay blank",
            debounce=False,
            on_change=typed.into(WHY),
        ),
    )


def offered(library: Library, changes: Changes, width: int) -> mo.ui.multiselect:
    """The elements of trim that clients may wish for, or to do without, in single rooms; below its label where charts
    are no wider than a phone [px]."""
    return mo.ui.multiselect(
        list(library.element_kinds),
        value=list(changes.desk.intent.offered),
        label="Clients may speak of",
        full_width=width == screen.NARROW_CHART,
        on_change=lambda names: changes.make("offered", edits.offer, names, library),
    )


class _Acts:
    """What the buttons do; what is said of the last act stands with what was typed, by the answer that it was about,
    until another act, or until the alternative is no longer as it was then; that somebody else was quicker stays."""

    def __init__(self, planned: Plan, changes: Changes, typed: Typed, tell: Tell):
        self.planned, self.changes, self._typed, self._tell = planned, changes, typed, tell

    @property
    def folder(self) -> Path:
        return self.changes.desk.folder

    @property
    def _who(self) -> str:
        return (self._typed.who or "").strip()

    def take(self, said: Answer, way: Way) -> None:
        """Take an answer into the alternative, and let the client know; once, however often the button is pressed."""
        told = (reply.taken for reply in read_record(self.folder).replies if reply.to == said.id)
        if way in told and holds(self.changes.desk.intent, said, way):
            return
        try:
            after = take_answer(self.changes.desk.intent, self.planned, said, way)
        except ValueError as error:
            self._say(said.id, f"It was not taken in: {error}.", refused=True)
            return
        self.changes.put(after)
        done = f"Taken in {TAKEN[way]}. Undo takes it back; the client sees the plan once it is saved."
        self._reply(said, done, f"It is taken in {TAKEN[way]}, but the client is not told", taken=way)

    def send(self, said: Answer) -> None:
        """Answer with the word that was written."""
        if not (word := self._typed.text(WORD).strip()):
            self._say(said.id, WITHOUT_WORDS, refused=True)
        elif self._reply(said, "Sent.", "The word was not sent, and is still in the field", word=word):
            self._typed.used(WORD)
            self._tell["sent"](None)

    def decide(self) -> None:
        """Decide on the alternative as it is saved."""
        desk, who = self.changes.desk, self._who
        if not who or not desk.is_saved:
            self._say("", UNSAVED if who else NAMELESS, refused=True)
            return
        why, held = self._typed.text(WHY), spoken(self.folder).since
        if not why and any(each.alternative == desk.intent.name and not words for each, words in held):
            self._say("", DECIDED)
            return
        try:
            decide(self.folder, who, desk.intent.name, why, fingerprint_of(self.planned))
        except HouseFault as fault:
            self._say("", f"It was not decided. {words_of(fault.errors)}", refused=True, stays=True)
            return
        self._typed.used(WHY)
        self._say("", "It is decided, and a copy is locked.")
        self._tell["sent"](None)

    def _reply(self, said: Answer, done: str, failed: str, word: str = "", taken: Way | None = None) -> bool:
        who = self._who or DESIGNER
        file = self._typed.setdefault(f"file of {who}", open_session(self.folder, who, self._typed.visitor))
        reply = Reply(who=who, alternative=said.alternative, room=said.room, to=said.id, word=word, taken=taken or "")
        try:
            keep(file, reply)
        except HouseFault as fault:
            self._say(said.id, f"{failed}: {words_of(fault.errors)}", refused=True)
            return False
        self._say(said.id, done)
        return True

    def _say(self, about: str, words: str, *, refused: bool = False, stays: bool = False) -> None:
        self._typed[SAID] = (about, words, refused, None if stays else self.changes.desk.intent)
        self._tell["spoken"](spoken(self.folder))


@dataclass(frozen=True)
class Answered:
    """One person's answer on a room as it is shown: whether it came since the tab was opened, the state that it was
    given on, in words, the buttons for what can be done with it, and what came of the last of them."""

    voice: Voice
    new: bool
    state: str
    buttons: Sequence[mo.ui.button]
    said: pages.Markup


@dataclass(frozen=True)
class Answers:
    """What is shown of answers, how many more there are, how many of all are open and how many new, and the button
    that decides, with what is said of it."""

    rooms: Sequence[tuple[RoomVoices, Sequence[Answered]]]
    left_out: int
    open: int
    new: int
    decide: mo.ui.button
    decided: pages.Markup


def answers(spoken: Spoken, planned: Plan, changes: Changes, typed: Typed, tell: Tell, width: int) -> Answers:
    """What is said of the alternative on the desk, with the buttons, on a page with charts so wide [px]."""
    return changes.anew(lambda: _answers(spoken, planned, changes, typed, tell, width))


def _answers(spoken: Spoken, planned: Plan, changes: Changes, typed: Typed, tell: Tell, width: int) -> Answers:
    acts = _Acts(planned, changes, typed, tell)
    about, words, refused, then = typed.get(SAID, (None, "", False, None))
    about = about if then in (None, changes.desk.intent) else None
    told = pages.note("alarm", words) if refused else pages.element("p", words, role="status")
    state = _states(planned, changes.desk.saved)
    found = _placed(voices(spoken.record, changes.desk.intent.name).values(), changes.desk.intent.name, typed)
    every = [voice for _, those in found for voice in those]
    new = {voice.answer.id for voice in every} - typed.setdefault(SEEN, _ids(spoken))
    rooms, left = list[tuple[RoomVoices, Sequence[Answered]]](), MOST_SHOWN[width]
    for room, those in found:
        shown = [
            Answered(
                v,
                v.answer.id in new,
                state(v.answer),
                _buttons(v, acts),
                told if v.answer.id == about else pages.Markup(""),
            )
            for v in those[: max(0, left)]
        ]
        left -= len(shown)
        rooms += [(room, shown)] if shown else []
    button = mo.ui.button(label="Decide on this alternative", on_click=lambda _: acts.decide())
    still_open = sum(voice.outcome == "open" for voice in every)
    left_out = len(every) - (MOST_SHOWN[width] - left)
    return Answers(rooms, left_out, still_open, len(new), button, told if about == "" else pages.Markup(""))


def is_open(tab: str, spoken: Spoken, typed: Typed) -> bool:
    """Whether the tab is open. When it is opened next, what was there when it was closed is not new, what is open
    stands first, and nothing is said of what was done before.
    """
    if tab == TAB:
        return True
    typed.used(SAID)
    if PLACES in typed or SEEN not in typed:
        typed[SEEN] = _ids(spoken)
        typed.used(PLACES)
    return False


def _ids(spoken: Spoken) -> frozenset[str]:
    return frozenset(said.id for said in spoken.record.answers)


def _placed(rooms: Iterable[RoomVoices], alternative: str, typed: Typed) -> list[tuple[RoomVoices, list[Voice]]]:
    """The answers on each room: rooms with open ones first, and the newest first. While the tab is open each keeps its
    place, and others come after them, so that no button moves from under a hand.
    """
    found = sorted(rooms, key=lambda room: max(moment(voice.answer.time) for voice in room.voices), reverse=True)
    found.sort(key=lambda room: list(OUTCOMES).index(room.outcome))
    newest_first = [
        (room, sorted(room.voices, key=lambda voice: moment(voice.answer.time), reverse=True)) for room in found
    ]
    places: dict[tuple[str, str, str], int] = typed.setdefault(PLACES, {})

    def place(voice: Voice) -> int:
        key = alternative, voice.answer.room, person(voice.answer.who)
        return places.setdefault(key, len(places))

    for _, those in newest_first:
        those.sort(key=place)
    return sorted(newest_first, key=lambda of_room: place(of_room[1][0]))


def _states(planned: Plan, saved: Intent) -> Callable[[Answer], str]:
    """What tells on which state of the house an answer was given, in words."""
    now = fingerprint_of(planned)
    kept = fingerprint(planned.house, saved, planned.stock, planned.library)

    def state(said: Answer) -> str:
        if not said.fingerprint:
            return "nobody knows on which state of the house it was given"
        if said.fingerprint == now:
            return "given on the house as it is now"
        if said.fingerprint == kept:
            return "given on the alternative as it is saved; on the desk it has changed since"
        return "given on an earlier state; the house, the alternative or the stock has changed since"

    return state


def holds(intent: Intent, said: Answer, way: Way) -> bool:
    """Whether an alternative still says something of a room in the way in which an answer was taken in.

    >>> holds(Intent(rooms={"Library": Wish(tier=4)}), Answer(who="Ada", alternative="", room="Library"), "pin")
    True
    """
    wish = intent.rooms.get(said.room, Wish())
    if way == PIN:
        return wish.tier is not None
    if way == RANGE:
        return wish.lowest is not None or wish.highest is not None
    ruled = {rule.element for rule in intent.trim if rule.scope.rooms == (said.room,)}
    return ruled >= {wished.element for wished in said.wishes}


def _buttons(voice: Voice, acts: _Acts) -> list[mo.ui.button]:
    """A button for each way that the answer can be taken in and is not, and the one that answers it with a word."""
    said, intent = voice.answer, acts.changes.desk.intent
    about = pages.unseen(f"for {said.who} on {said.room}")
    return [
        *(
            mo.ui.button(label=f"{TAKE[way]} {about}", on_click=_taking(acts, said, way))
            for way in ways_to_take(said)
            if way not in voice.taken or not holds(intent, said, way)
        ),
        mo.ui.button(label=f"Send the word {about}", on_click=lambda _: acts.send(said)),
    ]


def _taking(acts: _Acts, said: Answer, way: Way) -> Callable[[object], None]:
    return lambda _: acts.take(said, way)


def view(shown: Answers, intent: Intent) -> mo.Html:
    """Every answer with its buttons."""
    if not shown.rooms:
        words = f"Nobody has said anything of {_called(intent)} yet. Answers appear here as they are given."
        return pages.show(pages.element("p", words))
    count = counted(shown.open, "open answer") if shown.open else "No answer is open"
    count += f", {shown.new} new since you opened this" if shown.new else ""
    more = f"{counted(shown.left_out, 'more answer')}: they come up here as those above are answered."
    return pages.show(
        pages.heading(count),
        *(_room(room, answered, intent) for room, answered in shown.rooms),
        pages.element("p", more, class_="pl-hint") if shown.left_out else "",
    )


def waiting(spoken: Spoken, intent: Intent, width: int) -> mo.Html | None:
    """How many answers on the alternative on the desk are open, in the name of the tab, which stays as it is; in a line
    on a narrow screen, where the tabs are a list."""
    said = [voice for room in voices(spoken.record, intent.name).values() for voice in room.voices]
    still_open = sum(voice.outcome == "open" for voice in said)
    if not still_open:
        return None
    if width == screen.NARROW_CHART:
        words = f"{counted(still_open, 'open answer')} of clients, under {TAB}"
        return pages.show(pages.element("p", words, class_="pl-hint"))
    return pages.show(pages.Markup(f'<style>:root {{ --pl-open-answers: " ({still_open})" }}</style>'))


def _called(intent: Intent) -> str:
    return title_of(intent) if intent.name else "the house as it stands"


def _room(room: RoomVoices, answered: Iterable[Answered], intent: Intent) -> pages.Markup:
    """What all say of a room, and whether they agree."""
    agree = f"disputed: {listed(room.disputed)}" if room.disputed else "all agree" if room.agreed else ""
    head = pages.heading(" · ".join(filter(None, (room.room, agree))))
    return pages.element("section", head, *(_answer(each, intent) for each in answered), style="margin-bottom: 1rem")


def _answer(answered: Answered, intent: Intent) -> pages.Markup:
    said = answered.voice.answer
    asked = [*([WORDS[said.answer]] if said.answer else []), *(wish.words for wish in said.wishes)]
    head = [*(["New · "] if answered.new else []), pages.element("b", said.who), ": ", ", ".join(asked) or "only words"]
    remark = [pages.element("p", f"“{said.remark}”", style="white-space: pre-line")] if said.remark else []
    return pages.element(
        "div",
        pages.element("p", *head),
        *remark,
        pages.element("p", f"{_when(said.time)}; {answered.state}.", class_="pl-hint"),
        *(pages.element("p", words) for words in _outcome(answered.voice, intent)),
        pages.element("div", *map(pages.control, answered.buttons), style=pages.SIDE_BY_SIDE),
        answered.said,
        class_="pl-note pl-quiet",
    )


def _outcome(voice: Voice, intent: Intent) -> Iterable[str]:
    """What became of an answer."""
    if not voice.replies:
        yield OUTCOMES["open"]
    for reply in voice.replies:
        if reply.taken:
            gone = "" if holds(intent, voice.answer, reply.taken) else "; the alternative says so no longer"
            yield f"Taken in {TAKEN[reply.taken]} by {reply.who}, {_when(reply.time)}{gone}."
        if reply.word:
            yield f"Answered by {reply.who}, {_when(reply.time)}: “{reply.word}”"


def _when(time: str) -> str:
    return f"{moment(time):%d %B %Y at %H:%M} UTC"


def deciding(spoken: Spoken, shown: Answers, fields: Fields, changes: Changes) -> mo.Html:
    """What deciding does, the button, and the decisions that hold, each with what has changed since."""
    saved = [] if changes.desk.is_saved else [pages.element("p", UNSAVED)]
    head = pages.on_screen(pages.heading(f"Decide on {_called(changes.desk.intent)}"))
    words = head, pages.element("p", LOCKED, class_="pl-hint")
    rows = [[*_decided(decision), _changed(words)] for decision, words in spoken.since]
    columns = ["Alternative", "Decided", "Why", "Since then"]
    table = [pages.table(columns, rows, caption="Decisions that hold")] if rows else []
    buttons = pages.beside(fields.why, *([shown.decide] if changes.desk.is_saved else []))
    return mo.vstack([pages.show(*words, *saved), buttons, pages.show(shown.decided, *table)])


def _decided(decision: Decision) -> list[str]:
    called = decision.title or decision.alternative or AS_IT_STANDS
    return [called, f"{decision.who}, {_when(decision.time)}", decision.remark]


def _changed(words: Sequence[str]) -> str | pages.Markup:
    return pages.listed(words) if words else "Nothing has changed since."


COLUMNS = ["Room", "Who", "When", "Answer", "Single wishes", "Remark", "What became of it", "Your word"]


def as_table(record: Record, alternative: str) -> pd.DataFrame:
    """What is said of the rooms of an alternative, a row for each answer that holds."""
    rows = [
        [
            room.room,
            voice.answer.who,
            voice.answer.time,
            WORDS.get(voice.answer.answer, ""),
            listed([wish.words for wish in voice.answer.wishes]),
            voice.answer.remark,
            OUTCOMES[voice.outcome],
            "; ".join(reply.word for reply in voice.replies if reply.word),
        ]
        for room in voices(record, alternative).values()
        for voice in room.voices
    ]
    return pd.DataFrame(rows, columns=COLUMNS)
