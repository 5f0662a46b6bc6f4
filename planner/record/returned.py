"""Answer files that come back from a page that was sent: read, checked to the last line, and added to the record once.

A file is one JSON object of at most LARGEST_FILE bytes, in format 1, all of whose texts are of people or of the page:

    {"format": 1, "house": NAME, "sent": ID OF THE PAGE, "id": ID OF THE FILE, "who": NAME,
     "answers": [{"id": ID, "time": UTC IN ISO 8601, "alternative": NAME, "fingerprint": TEXT, "room": NAME,
                  "answer": "keep", "more", "less" or "", "remark": TEXT,
                  "wishes": [{"element": NAME, "wanted": true or false}]}],
     "digest": HMAC}

An answer that says nothing takes back what a file before said of the room. An id is 32 hexadecimal digits, drawn at
random; an answer keeps its own in whatever file it comes. The digest is the HMAC-SHA-256 (Krawczyk, Bellare and
Canetti, HMAC: Keyed-Hashing for Message Authentication, RFC 2104, 1997) of the object without it, keyed by the 32 bytes
that the page's secret spells in hexadecimal: of its JSON in UTF-8 with the keys of every object sorted, no blanks, and
no character escaped but those that must be, as JSON.stringify writes it.

It proves that the file was written by the page, or by somebody who has the page and took the secret out of it, and was
not changed since by accident or in an editor. It does not prove who the person was: a name is what was typed, and
whoever has the page can say anything in it.
"""

import hmac
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, Literal, NamedTuple

import msgspec
from msgspec.structs import replace

from planner.files.names import safe_name
from planner.files.problems import HouseFault, Problem, choose, raise_errors
from planner.files.storage import decode, read_bytes, replace_files, writing
from planner.house.folder import REVIEWS
from planner.house.styles import house_library
from planner.intent.renamed import Names, moment, names_of, room_names
from planner.library import Library
from planner.record.entries import Answer, AnyEntry, ElementWish, too_long
from planner.record.keeping import lines_of, named, read_record
from planner.record.sent import Sending, sendings
from planner.units import quoted
from planner.values import as_kind

LARGEST_FILE = 5_000_000
"""An answer file has no more bytes than this."""

MOST_ANSWERS = 5_000
"""It holds no more answers than this."""

CLOCKS_APART = timedelta(days=1)
"""A client's clock may be so far from this one's."""

ASK_AGAIN = "ask for the file again"


class _Said(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An answer as a file says it."""

    id: str
    time: str
    alternative: str
    fingerprint: str
    room: str
    answer: Literal["", "keep", "more", "less"]
    remark: str = ""
    wishes: tuple[ElementWish, ...] = ()


class _File(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An answer file."""

    format: Literal[1]
    house: str
    sent: str
    id: str
    who: str
    answers: tuple[_Said, ...]
    digest: str


class Added(NamedTuple):
    """What was added of an answer file: who it is from, its answers, and those of them that were not in the record."""

    who: str
    answers: tuple[Answer, ...]
    new: tuple[Answer, ...]


def add_answers(house: str | Path, file: str | Path) -> Added:
    """Add an answer file that came back to the record: all of it or nothing, and once, however often it is read.

    Parameters
    ----------
    house : the folder of the house.
    file : as the page wrote it; README says how.

    Returns
    -------
    What was added.

    Raises
    ------
    HouseFault : the file is none, was damaged or doctored, or answers another house, with every place where something
        is wrong; or nothing can be written. Nothing was added.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> add_answers(mkdtemp(), "answers.json")
    Traceback (most recent call last):
    planner.files.problems.HouseFault: answers.json: is missing; put the file there
    """
    folder, path, problems = Path(house), Path(file), list[Problem]()
    name = quoted(path.name)[1:-1]
    data = read_bytes(path, name, problems, largest=LARGEST_FILE)
    raise_errors(problems)
    content = _parsed(data or b"", name)
    found = _shaped(content, name)
    with writing(folder):
        sending = _sending(found, folder, name)
        known, names = read_record(folder), names_of(folder, [])
        answers = tuple(_answer(said, found, sending, names) for said in found.answers)
        raise_errors(
            [
                *_seal_faults(content, found, sending, name),
                *_file_faults(found, name),
                *_answers_faults(answers, sending, names, folder, name),
                *_known_faults(answers, known.entries, names, name),
            ]
        )
        there = {entry.id for entry in known.entries}
        new = tuple(answer for answer in answers if answer.id not in there)
        if new:
            ending = f"{found.id} returned.jsonl"
            if any((folder / REVIEWS).glob(f"*{ending}")):
                message = "a file with this id was added before, and said something else"
                raise HouseFault([Problem(name, None, "id", message, ASK_AGAIN)])
            place = f"{REVIEWS}/{safe_name(found.who, 'guest')} {ending}"
            replace_files(folder, {place: lines_of(new)})
    return Added(found.who, answers, new)


def _digest(content: Mapping[str, Any], secret: str) -> str:
    said = {key: value for key, value in content.items() if key != "digest"}
    text = json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hmac.new(bytes.fromhex(secret), text.encode("utf-8", "surrogatepass"), "sha256").hexdigest()


def _parsed(data: bytes, file: str) -> dict[str, Any]:
    """The JSON object of a file. Raises HouseFault where it is none."""
    problems = list[Problem]()
    text = decode(data, file, problems)
    raise_errors(problems)
    message = "is no answer file"
    try:
        content = json.loads(text or "", object_pairs_hook=_once)
        if isinstance(content, dict):
            return content
    except RecursionError:
        message = "is nested too deeply"
    except json.JSONDecodeError as error:
        message = f"is no JSON: line {error.lineno}, column {error.colno}: {error.msg}"
    except ValueError as error:
        message = f"is no answer file ({error})"
    raise HouseFault([Problem(file, None, None, message, ASK_AGAIN)])


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object whose keys are there once each."""
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("it says a thing twice")
    return found


def _shaped(content: Mapping[str, Any], file: str) -> _File:
    """What a file says. Raises HouseFault, by place, where that is not what an answer file says."""
    try:
        found: _File = as_kind(content, _File)
    except msgspec.ValidationError as error:
        message, _, path = str(error).partition(" - at `$.")
        raise HouseFault([Problem(file, None, _place(path.rstrip("`")), message.lower(), ASK_AGAIN)]) from None
    if len(found.answers) > MOST_ANSWERS:
        message = f"there are {len(found.answers):,} of them"
        raise HouseFault([Problem(file, None, "answers", message, f"send at most {MOST_ANSWERS:,} at once")])
    problems = [Problem(file, None, place, "holds what is no text", ASK_AGAIN) for place in _no_text(content)]
    raise_errors(problems)
    return found


def _no_text(value: object, place: str = "") -> Iterator[str]:
    """Where halves of characters stand in what has the shape of an answer file."""
    if isinstance(value, str):
        try:
            value.encode()
        except UnicodeEncodeError:
            yield _place(place) or "the file"
    elif isinstance(value, Mapping):
        for key, each in value.items():
            yield from _no_text(each, f"{place}.{key}" if place else key)
    elif isinstance(value, list):
        for number, each in enumerate(value):
            yield from _no_text(each, f"{place}[{number}]")


def _place(path: str) -> str | None:
    """A place as people count.

    >>> _place("answers[0].wishes[2].element")
    'answer 1, wish 3, element'
    """
    return re.sub(r"(answer|wish)e?s\[(\d+)\]", _counted, path).replace(".", ", ") or None


def _counted(found: re.Match[str]) -> str:
    return f"{found[1]} {int(found[2]) + 1}"


def _sending(found: _File, folder: Path, file: str) -> Sending:
    """The page that a file comes from. Raises HouseFault where none is known that was sent from this house, with
    whatever of their record cannot be read."""
    problems = list[Problem]()
    for sending in sendings(folder, problems):
        if sending.id == found.sent:
            return sending
    known = "no page of this house that can be read" if problems else "no page of this house"
    message = f"{known} has the id {quoted(found.sent)}; the file says it is about {quoted(found.house)}"
    remedy = "add it to the house that the page was sent from"
    raise HouseFault([*problems, Problem(file, None, "sent", message, remedy)])


def _seal_faults(content: Mapping[str, Any], found: _File, sending: Sending, file: str) -> Iterator[Problem]:
    if found.house != sending.house:
        message = f"it says {quoted(found.house)}, and the page was about {quoted(sending.house)}"
        yield Problem(file, None, "house", message, ASK_AGAIN)
    if not hmac.compare_digest(_digest(content, sending.secret).encode(), found.digest.encode()):
        message = "does not go with what the file says: it was damaged or changed after the page wrote it"
        yield Problem(file, None, "digest", message, ASK_AGAIN)


def _file_faults(found: _File, file: str) -> Iterator[Problem]:
    if not found.who.strip():
        yield Problem(file, None, "who", "is blank", "write the name of the person")
    if not _is_id(found.id):
        yield Problem(file, None, "id", f"{quoted(found.id)} is no id", ASK_AGAIN)
    ids = [said.id for said in found.answers]
    for number, said in enumerate(found.answers):
        if not _is_id(said.id):
            yield Problem(file, None, f"answer {number + 1}, id", f"{quoted(said.id)} is no id", ASK_AGAIN)
        elif said.id in ids[:number]:
            yield Problem(file, None, f"answer {number + 1}, id", "is that of an answer before it", ASK_AGAIN)


def _answers_faults(
    answers: Iterable[Answer], sending: Sending, names: Names, folder: Path, file: str
) -> Iterator[Problem]:
    """What is wrong with each answer by itself."""
    rooms, library = room_names(folder) | frozenset(sending.rooms), house_library(folder)[0]
    latest, sent = datetime.now(UTC) + CLOCKS_APART, moment(sending.time)
    for number, answer in enumerate(answers, 1):
        for key, message, remedy in _answer_faults(answer, sending, library):
            yield Problem(file, None, f"answer {number}, {key}", message, remedy)
        for problem in too_long(answer):
            yield Problem(file, None, f"answer {number}, {problem.file}", problem.message, problem.remedy)
        try:
            when = moment(answer.time)
        except ValueError:
            yield Problem(file, None, f"answer {number}, time", f"{quoted(answer.time)} is no time", ASK_AGAIN)
            continue
        if when > latest or when + CLOCKS_APART < sent:
            reason = "is still to come" if when > latest else "is before the page was sent"
            remedy = "set the clock of the device that the page is open on, and answer again"
            yield Problem(file, None, f"answer {number}, time", f"{quoted(answer.time)} {reason}", remedy)
        if answer.room not in rooms and names.now(answer.room, when) not in rooms:
            message = f"there is no room {quoted(answer.room)}"
            yield Problem(file, None, f"answer {number}, room", message, choose(answer.room, sorted(rooms)))


def _answer_faults(answer: Answer, sending: Sending, library: Library) -> Iterator[tuple[str, str, str]]:
    """What is wrong with an answer for the page that it comes from: which part, why, and what would be right."""
    shown = sending.alternatives.get(answer.alternative)
    if shown is None:
        yield "alternative", f"{quoted(answer.alternative)} was not in the page", ASK_AGAIN
    elif answer.fingerprint != shown.fingerprint:
        yield "fingerprint", f"{quoted(answer.fingerprint)} is not that of what the page showed", ASK_AGAIN
    for wish in answer.wishes:
        if wish.element not in library.element_kinds:
            yield "wishes", f"{quoted(wish.element)} is no element", choose(wish.element, library.element_kinds)


def _known_faults(answers: Iterable[Answer], known: Iterable[AnyEntry], names: Names, file: str) -> Iterator[Problem]:
    """Answers with the id of something else that was said."""
    there = {entry.id: entry for entry in known}
    for number, answer in enumerate(answers, 1):
        if answer.id in there and there[answer.id] != _as_read(answer, names):
            message = "is in the record already, of something else that was said"
            yield Problem(file, None, f"answer {number}, id", message, ASK_AGAIN)


def _as_read(answer: Answer, names: Names) -> AnyEntry:
    """The answer as the record has it; one without a time is none of it."""
    try:
        return named(answer, names)
    except ValueError:
        return answer


def _answer(said: _Said, file: _File, sending: Sending, names: Names) -> Answer:
    """An answer of a file as the record has it: of the room by the name that it had when it was answered."""
    values = {field: getattr(said, field) for field in said.__struct_fields__}
    with suppress(ValueError):  # a time that is none is told
        values["room"] = names.then(said.room, moment(sending.time), moment(said.time))
    return replace(Answer(who=file.who.strip(), sent=file.sent, **values), remark=said.remark.strip())


def _is_id(text: str) -> bool:
    return re.fullmatch(r"[0-9a-f]{32}", text) is not None
