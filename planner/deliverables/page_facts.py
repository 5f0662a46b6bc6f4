"""What a page that is sent to a client shows: worked out here, to the last word and figure; the page only shows it.

Of a house it has what a client may see: its rooms, how rich each is, their walls drawn, what is noted for the client,
and what a single answer does; where it is sent to somebody, also what that person said before and the designer's
replies. No prices, no weights, no designer's notes, nobody else's answers, and no path.
"""

import base64
import gzip
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple

from planner.deliverables.client_charts import (
    Clickable,
    Course,
    Drawn,
    client_course,
    client_map,
    client_step_down,
    moved_labels,
)
from planner.deliverables.client_words import ANSWER_OF, TRIM, WORDS, cost_change, reply_words, title_of, wish_words
from planner.deliverables.room_notes import room_notes
from planner.drawings.beside import beside
from planner.drawings.page import plain_sheet
from planner.drawings.perspective import perspective
from planner.drawings.scene import Scene
from planner.drawings.svg import svg
from planner.house.model import Point
from planner.library import Library
from planner.planning.answer import Plan
from planner.planning.differences import differences
from planner.planning.walking import walk
from planner.record.entries import ElementWish, person
from planner.record.keeping import Record, read_record
from planner.record.one_step import ASKED_BY, OneStep, one_step, one_wish
from planner.record.sent import Sending
from planner.record.taking import possible_wishes
from planner.record.voices import voices

Facts = dict[str, Any]
"""Facts as the page reads them: texts, numbers, lists and objects."""

WIDE, NARROW, STEPS = 640, 350, 720
"""Widths of the floor plan on a desk and on a phone, and of the step-down on a desk [px]."""

WALLS, DOOR = 1000.0, 700.0
"""How wide a page three walls side by side are drawn for, and a room seen from its door [px]."""

ACROSS = 300.0
"""About how wide the rows are in which all walls of a room stand [in], so that a desk's screen shows them whole."""

MOST_DRAWN, MOST_PHOTOGRAPHED = 3_400_000, 600_000
"""All drawings of a page, packed, and all photographs, have no more bytes than this; rooms that come later in the walk
from the front door go without."""

PHOTOGRAPH = 480
"""The longest side of a photograph [px]."""


_NAMES = re.compile(r"<(title|desc)>[^<]*</\1>")
_SIZE = re.compile(r'<svg [^>]*?width="([\d.]+)" height="([\d.]+)"')


@dataclass
class Drawings:
    """Drawings of a page, each kept once and packed, as far as there is room for them."""

    room: int = MOST_DRAWN
    room_for_photographs: int = MOST_PHOTOGRAPHED
    places: dict[str, int] = field(default_factory=dict)
    waiting: list[tuple[Facts, str, "Packed"]] = field(default_factory=list)

    def put(self, text: str) -> int | None:
        """The place of a drawing, packed, among them; None where there is no room for it."""
        if text not in self.places:
            if len(text) > self.room:
                return None
            self.room -= len(text)
            self.places[text] = len(self.places)
        return self.places[text]

    def photograph(self, jpeg: bytes) -> int | None:
        """The place of a photograph, which has room of its own; None where there is none left."""
        address = f"data:image/jpeg;base64,{base64.b64encode(jpeg).decode()}"
        if address not in self.places:
            if len(address) > self.room_for_photographs:
                return None
            self.room_for_photographs -= len(address)
            self.places[address] = len(self.places)
        return self.places[address]

    def scene(self, scene: Scene | None) -> Facts | None:
        """A drawing with its title; None where there is none, or no room for it."""
        return None if scene is None else self._facts(packed(scene))

    def later(self, facts: Facts, key: str, scene: Scene) -> None:
        """Have a drawing told in some facts, under a key, where there is room for it when those that are needed have
        theirs."""
        self.waiting.append((facts, key, packed(scene)))

    def fill(self) -> None:
        """Put what waits."""
        for facts, key, drawing in self.waiting:
            facts[key] = self._facts(drawing)
        self.waiting.clear()

    def _facts(self, drawing: "Packed") -> Facts | None:
        place = self.put(drawing.text)
        return None if place is None else {"at": place, **drawing.told}


class Packed(NamedTuple):
    """A drawing as the page holds it: compressed (Deutsch, GZIP File Format Specification, RFC 1952, 1996), in base64;
    its title and its size [px]."""

    text: str
    told: Facts


def packed(scene: Scene) -> Packed:
    """A drawing without what its parts are called and built of."""
    drawing = _NAMES.sub("", svg(scene))
    size = _SIZE.search(drawing)
    assert size, "a drawing without a size"
    text = base64.b64encode(gzip.compress(drawing.encode(), mtime=0)).decode()
    return Packed(text, {"alt": scene.title, "width": float(size[1]), "height": float(size[2])})


def page_facts(folder: Path, plans: Mapping[str, Plan], sending: Sending) -> Facts:
    """All that a page shows.

    Parameters
    ----------
    folder : of the house, for what is noted for the client and what was said.
    plans : feasible plans of one house, by the names of their alternatives' files.
    sending : of these alternatives.
    """
    first, kept = next(iter(plans.values())), Drawings()
    least = min(planned.cost for planned in plans.values())
    rooms = walk(first)
    notes = {room: _notes(folder, first, room, kept) for room in rooms}
    record = read_record(folder) if sending.to else Record(())
    alternatives = [
        _alternative(name, planned, sending.alternatives[name].fingerprint, least, kept)
        | {"said": _said(record, name, sending.to, planned.library)}
        for name, planned in plans.items()
    ]
    kept.fill()
    return {
        "house": first.house.name,
        "about": TRIM,
        "words": WORDS,
        "answer_of": ANSWER_OF,
        "sent": {
            "id": sending.id,
            "secret": sending.secret,
            "house": sending.house,
            "who": sending.who,
            "to": sending.to,
        },
        "day": _day(sending.time),
        "rooms": [{"name": r.name, "level": r.level, "notes": notes[r.name]} for r in first.house.rooms],
        "walk": [*rooms],
        "alternatives": alternatives,
        "drawings": [*kept.places],
    }


def _alternative(name: str, planned: Plan, fingerprint: str, least: float, kept: Drawings) -> Facts:
    """An alternative with its charts and rooms, `least` the cost of the one that costs least."""
    steps = {r: {said: one_step(planned, r, toward) for toward, said in ASKED_BY.items()} for r in planned.by_name}
    return {
        "name": name,
        "title": title_of(planned.intent),
        "fingerprint": fingerprint,
        "tiers": len(planned.tier_names),
        "richest": planned.richest,
        "share": round(planned.cost / least, 4) if least else 1.0,
        "cost": _beside_least(planned.cost, least),
        "course": client_course(planned),
        "maps": [_map(planned, client_map(planned, width), steps) for width in (WIDE, NARROW)],
        "steps": [_course(client_step_down(planned, width)) for width in (STEPS, NARROW)],
        "rooms": {room: _room(planned, room, steps[room], kept) for room in walk(planned)},
    }


def _said(record: Record, alternative: str, who: str, library: Library) -> dict[str, Facts]:
    """What a person has said of rooms of an alternative before, and what the designer replied, by room."""
    return {
        room: {
            "answer": voice.answer.answer,
            "remark": voice.answer.remark,
            "wishes": [wish_words(wish, library).lower() for wish in voice.answer.wishes],
            "replies": [reply_words(reply) for reply in voice.replies],
        }
        for room, found in voices(record, alternative).items()
        for voice in found.voices
        if person(voice.answer.who) == person(who)
    }


def _room(planned: Plan, room: str, steps: Mapping[str, OneStep], kept: Drawings) -> Facts:
    """A room of an alternative: how rich, how it looks, and what each answer does."""
    offered = frozenset(planned.intent.offered)
    here, three = planned.by_name[room], beside(planned, room, WALLS)
    ways = {said: _way(planned, step, kept) for said, step in steps.items()}
    found = {
        "tier": here.tier,
        "walk": _way_to(planned, room),
        "walls": [{"which": s.which, "says": s.says, "drawing": kept.scene(s.scene)} for s in three.sides],
        "door": kept.scene(perspective(planned, room, DOOR)),
        "ways": ways,
        "wishes": [_wish(planned, room, wish) for wish in possible_wishes(planned, room) if wish.element in offered],
    }
    kept.later(found, "all", _sheet(planned, room))
    return found


def _sheet(planned: Plan, room: str) -> Scene:
    """All walls of a room, what runs along them in words that need no trade."""
    names = {name: kind.bare for name, kind in planned.library.element_kinds.items()}
    return plain_sheet(planned.walls[room], ACROSS, names)


def _way_to(planned: Plan, room: str) -> list[str]:
    """The rooms from the front door to a room."""
    found = [room]
    while before := planned.before.get(found[-1]):
        found.append(before)
    return found[::-1]


def _way(planned: Plan, step: OneStep, kept: Drawings) -> Facts:
    """What an answer does by itself: every room that has another tier then, the cost, and the room as it is drawn then;
    or why it cannot be had."""
    if step.planned is None:
        return {"why": step.why}
    found = {
        "moves": _moves(planned, step),
        "cost": cost_change(step.cost, planned.cost),
        "share": round(step.planned.cost / planned.cost, 4) if planned.cost else 1.0,
    }
    kept.later(found, "door", perspective(step.planned, step.room, DOOR))
    kept.later(found, "all", _sheet(step.planned, step.room))
    return found


def _wish(planned: Plan, room: str, wish: ElementWish) -> Facts:
    """What a single wish does by itself in a room, and to the cost."""
    after = one_wish(planned, room, wish)
    facts = {"element": wish.element, "wanted": wish.wanted, "words": wish_words(wish, planned.library)}
    if after.planned is None:
        return {**facts, "why": after.why}
    says = differences(planned.walls[room], after.planned.walls[room], planned.library)
    return {**facts, "says": says, "cost": cost_change(round(after.planned.cost - planned.cost, 2), planned.cost)}


def _moves(planned: Plan, step: OneStep) -> dict[str, tuple[int, int]]:
    """The tiers of all rooms that move with a step, before and after, its own first; none where it cannot be had."""
    if step.planned is None:
        return {}
    own = planned.by_name[step.room].tier, step.planned.by_name[step.room].tier
    return {step.room: own, **step.moves}


def _map(planned: Plan, clickable: Clickable, steps: Mapping[str, Mapping[str, OneStep]]) -> Facts:
    """The floor plan with what is clicked on it, and what stands in rooms that an answer moves."""
    after = dict[str, set[int]]()
    for step in (step for each in steps.values() for step in each.values()):
        for room, (_, tier) in _moves(planned, step).items():
            after.setdefault(room, set()).add(tier)
    labels = dict[str, Facts]()
    for room, tier, label in moved_labels(planned, after, clickable.outlines):
        lines = [{"text": text, "y": round(y, 1)} for text, y in label.rows()]
        labels.setdefault(room, {})[str(tier)] = {"x": round(label.box.x, 1), "size": label.size, "lines": lines}
    outlines = {room: _points(outline) for room, outline in clickable.outlines.items()}
    return {**_picture(clickable.drawn), "outlines": outlines, "labels": labels}


def _points(outline: Iterable[Point]) -> str:
    return " ".join(f"{x:g},{y:g}" for x, y in outline)


def _course(course: Course) -> Facts:
    """The step-down, where each room stands in it, and where each tier does."""
    boxes = {room: [round(at, 1) for at in box] for room, box in course.boxes.items()}
    rows = {tier: round(y, 1) for tier, y in course.rows.items()}
    return {**_picture(course.drawn), "reading": course.reading, "boxes": boxes, "rows": rows}


def _picture(drawn: Drawn) -> Facts:
    return {"light": drawn.light, "dark": drawn.dark, "width": drawn.width, "height": drawn.height}


def _notes(folder: Path, planned: Plan, room: str, kept: Drawings) -> list[Facts]:
    """What the designer has noted of a room for the client."""
    found = []
    for noted in room_notes(folder, planned.house, room, PHOTOGRAPH, client=True):
        places = [kept.photograph(photograph.jpeg) for photograph in noted.photographs]
        pictures = [place for place in places if place is not None]
        lines = [line for line in noted.note.words.split("\n") if line.strip()]
        left_out = len(places) - len(pictures)
        found.append({"of": noted.note.opening, "lines": lines, "pictures": pictures, "more": left_out})
    return found


def _beside_least(cost: float, least: float) -> str:
    """A cost beside that of the alternative that costs least."""
    return "costs least" if cost == least else f"costs {cost_change(cost - least, least)} than the least costly"


def _day(time: str) -> str:
    """The day of a time of the record, as a letter writes it."""
    when = datetime.fromisoformat(time)
    return f"{when.day} {when:%B %Y}"
