"""What clients and the team say of an alternative: one append-only file of JSON lines a reviewer and session."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, fields, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

from planner.files.json_lines import append_record, read_records, tell_lines
from planner.files.names import safe_name
from planner.files.problems import HouseFault, Problem, raise_errors
from planner.files.storage import settled
from planner.house.folder import REVIEWS
from planner.intent.model import Intent, Wish
from planner.intent.renamed import RENAMED, Names, moment, names_of
from planner.planning.answer import Plan, RoomPlan

KEEP, MORE, LESS = "keep", "more", "less"
ANSWERS = (KEEP, MORE, LESS)

LONGEST_REMARK = 2_000
"""A remark has no more characters than this."""

LONGEST_NAME = 200
"""A reviewer's name has no more characters than this."""


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
    return Path(house) / REVIEWS / f"{day} {safe_name(reviewer, 'guest')} {visitor or uuid4().hex[:8]}.jsonl"


def say(file: Path, reviewer: str, alternative: str, room: str, answer: str, remark: str = "") -> Answer:
    """Append one answer; it is whole and on the disk when this returns.

    Raises
    ------
    ValueError : the answer is not one of ANSWERS.
    HouseFault : the remark or a name is too long, or the answer cannot be kept; nothing of it is.
    """
    if answer not in (*ANSWERS, ""):
        raise ValueError(f"an answer is one of {', '.join(ANSWERS)}, not {answer!r}")
    raise_errors(
        Problem(what, None, None, f"has {len(text):,} characters", f"keep it to {most:,}")
        for what, text, most in (("the remark", remark, LONGEST_REMARK), ("the name", reviewer, LONGEST_NAME))
        if len(text) > most
    )
    said = Answer(datetime.now(UTC).isoformat(timespec="microseconds"), reviewer, alternative, room, answer, remark)
    append_record(file, asdict(said))
    return said


def read_reviews(house: Path, visitor: str = "") -> tuple[tuple[Answer, ...], tuple[str, ...]]:
    """Every answer, earliest first, under the name that its room has now, and a warning for each file and line that
    could not be read and was passed over. Where a `visitor` is named, only what that visitor has said."""
    house, problems, answers = Path(house), list[Problem](), list[Answer]()
    try:
        with settled(house):
            files = _files(house, problems, visitor)
            names = names_of(house, problems) if files else Names()
    except HouseFault as fault:
        return (), tuple(map(str, fault.problems))
    for file in files:
        faults = dict[int, str]()
        for record in read_records(file, problems):
            try:
                answers.append(_answer(record.values))
            except (ValueError, TypeError) as error:
                faults[record.line] = f"is no answer ({error})"
        tell_lines(file, faults, problems)
    found = (replace(said, room=names.now(said.room, moment(said.time))) for said in answers)
    return tuple(sorted(found, key=lambda said: moment(said.time))), tuple(map(str, problems))


def _files(house: Path, problems: list[Problem], visitor: str) -> list[Path]:
    """The files of all sessions, or of a visitor's, by name."""
    try:
        ending = f" {visitor}.jsonl" if visitor else ".jsonl"
        found = [path for path in (house / REVIEWS).iterdir() if path.name.endswith(ending)]
    except FileNotFoundError:
        return []
    except OSError as error:
        remedy = "put a folder there that you may read"
        problems.append(Problem(REVIEWS, None, None, f"cannot be read ({error.strerror})", remedy, "warning"))
        return []
    return sorted(path for path in found if path != house / RENAMED)


def latest(answers: Iterable[Answer], alternative: str) -> dict[str, Answer]:
    """The last answer for each room of an alternative; among equal times the later in order."""
    return {a.room: a for a in sorted(answers, key=lambda a: moment(a.time)) if a.alternative == alternative}


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


def _answer(values: Mapping[str, Any]) -> Answer:
    """An answer from what a line says. Raises ValueError where it is none."""
    known = {field.name for field in fields(Answer)}
    if not set(values) <= known or not known - {"remark"} <= set(values):
        raise ValueError(f"it says something else than {', '.join(sorted(known))}")
    if not all(isinstance(value, str) for value in values.values()):
        raise ValueError("its values must be text")
    answer = Answer(**values)
    moment(answer.time)
    if answer.answer not in (*ANSWERS, ""):
        raise ValueError(f"its answer is not one of {', '.join(ANSWERS)}")
    return answer
