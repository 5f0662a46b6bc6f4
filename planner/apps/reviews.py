"""What clients and the team say of an alternative: one append-only file of JSON lines a reviewer and session."""

import json
import os
from collections.abc import Iterable
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

from planner.files.names import safe_name
from planner.intent.model import Intent, Wish
from planner.planning.answer import Plan, RoomPlan

KEEP, MORE, LESS = "keep", "more", "less"
ANSWERS = (KEEP, MORE, LESS)

FOLDER = "reviews"


@dataclass(frozen=True)
class Answer:
    """What a reviewer said of one room; `time` is UTC in ISO 8601, `answer` one of ANSWERS or "" for a mere remark."""

    time: str
    reviewer: str
    alternative: str
    room: str
    answer: str
    remark: str = ""


def open_session(house: Path, reviewer: str, visitor: str = "") -> Path:
    """The file that one reviewer's session writes to. It comes into being with the first answer.

    `visitor` is the mark of the browser that it was said in, by which its answers are found again.
    """
    day = datetime.now(UTC).strftime("%Y-%m-%d")
    return Path(house) / FOLDER / f"{day} {safe_name(reviewer, 'guest')} {visitor or uuid4().hex[:8]}.jsonl"


def say(file: Path, reviewer: str, alternative: str, room: str, answer: str, remark: str = "") -> Answer:
    """Append one answer; it is on the disk when this returns. Raises ValueError for an answer not in ANSWERS."""
    if answer not in (*ANSWERS, ""):
        raise ValueError(f"an answer is one of {', '.join(ANSWERS)}, not {answer!r}")
    said = Answer(datetime.now(UTC).isoformat(timespec="microseconds"), reviewer, alternative, room, answer, remark)
    file.parent.mkdir(parents=True, exist_ok=True)
    descriptor = os.open(file, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o644)
    with os.fdopen(descriptor, "r+b", buffering=0) as lines:
        torn = lines.seek(0, os.SEEK_END) > 0 and (lines.seek(-1, os.SEEK_END), lines.read(1))[1] != b"\n"
        line = json.dumps(asdict(said), ensure_ascii=False) + "\n"
        lines.write((b"\n" if torn else b"") + line.encode())
        os.fsync(descriptor)
    return said


def read_reviews(house: Path, visitor: str = "") -> tuple[tuple[Answer, ...], tuple[str, ...]]:
    """Every answer, earliest first, and a warning for each line that could not be read and was passed over.

    Where a `visitor` is named, only what that visitor has said.
    """
    answers, warnings = [], []
    for file in sorted((Path(house) / FOLDER).glob(f"* {visitor}.jsonl" if visitor else "*.jsonl")):
        where = f"{FOLDER}/{file.name}"
        try:
            text = file.read_bytes().decode("utf-8", "replace")
        except OSError as error:
            warnings.append(f"{where}: cannot be read ({error.strerror})")
            continue
        for number, line in enumerate(text.split("\n"), 1):
            if not line.strip():
                continue
            try:
                answers.append(_answer(json.loads(line)))
            except (ValueError, TypeError) as error:
                torn = number == text.count("\n") + 1
                why = "breaks off, as after a power failure" if torn else f"is no answer ({error})"
                warnings.append(f"{where} line {number}: {why}; it was passed over")
    return tuple(sorted(answers, key=lambda a: a.time)), tuple(warnings)


def latest(answers: Iterable[Answer], alternative: str) -> dict[str, Answer]:
    """The last answer for each room of an alternative; among equal times the later in order."""
    return {a.room: a for a in sorted(answers, key=lambda a: a.time) if a.alternative == alternative}


def choices(room: RoomPlan) -> tuple[str, ...]:
    """The answers open for a room: a step up or down only where the range in force leaves one."""
    return (KEEP, *((MORE,) if room.tier < room.highest else ()), *((LESS,) if room.tier > room.lowest else ()))


def can_be_had(plan: Plan, room: RoomPlan) -> tuple[str, ...]:
    """Those of a room's choices for which there is a plan, everything else as the plan was asked for."""
    ways = {way.tier for way in plan.what_if(room.room.name) if way.moves is not None} | {room.tier}
    tiers = {said: _range(room, said) for said in choices(room)}
    return tuple(said for said, (low, high) in tiers.items() if ways & set(range(low, high + 1)))


def propose(intent: Intent, plan: Plan, answers: Iterable[Answer]) -> Intent:
    """The intent with a reviewer's answers to `plan`, the plan of that intent, taken as wishes.

    Keep holds the room where it is, more asks for a tier above it or higher, less for one below it or lower. None
    reaches outside the range in force; an answer that is not open for its room, or for a room that is no more,
    changes nothing. Later answers for a room outrank earlier ones.
    """
    rooms = dict(intent.rooms)
    for said in answers:
        room = plan.by_name.get(said.room)
        if room is None:
            continue
        if said.answer in choices(room):
            lowest, highest = _range(room, said.answer)
            rooms[said.room] = replace(rooms.get(said.room, Wish()), lowest=lowest, highest=highest)
    return replace(intent, rooms=rooms)


def _range(room: RoomPlan, answer: str) -> tuple[int, int]:
    """The tiers that an answer leaves to a room, lowest and highest."""
    if answer == MORE:
        return room.tier + 1, room.highest
    if answer == LESS:
        return room.lowest, room.tier - 1
    return room.tier, room.tier


def _answer(record: dict[str, str]) -> Answer:
    answer = Answer(**record)
    if not all(isinstance(value, str) for value in asdict(answer).values()):
        raise ValueError("its values must be text")
    datetime.fromisoformat(answer.time)
    if answer.answer not in (*ANSWERS, ""):
        raise ValueError(f"{answer.answer!r} is not one of {', '.join(ANSWERS)}")
    return answer
