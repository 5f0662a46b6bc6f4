"""The record of a house: files of JSON lines in HOUSE/reviews that are only ever added to, one for each person and
session, read as one."""

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple, TypeVar
from uuid import uuid4

from msgspec.structs import replace

from planner.files.json_lines import append_record, read_records, record_line, tell_lines
from planner.files.names import safe_name
from planner.files.problems import HouseFault, Problem, raise_errors
from planner.files.storage import settled
from planner.house.folder import REVIEWS
from planner.intent.renamed import RENAMED, Names, moment, names_of
from planner.record.entries import (
    ANSWERS,
    Answer,
    AnyEntry,
    Decision,
    ElementWish,
    Entry,
    Remark,
    Reply,
    Vote,
    entry_of,
    too_long,
    values_of,
)

E = TypeVar("E", bound=Entry)

SENT = f"{REVIEWS}/sent.jsonl"
"""The file of pages that were sent, in a house folder."""

NO_ENTRIES = (RENAMED, SENT)
"""Files beside the record's own that hold something else."""


class Record(NamedTuple):
    """What was said, earliest first, each of a room under the name that the room has now; and a warning for each file
    and line that could not be read and was passed over."""

    entries: tuple[AnyEntry, ...]
    warnings: tuple[str, ...] = ()

    @property
    def answers(self) -> tuple[Answer, ...]:
        """What clients said of rooms."""
        return self._of(Answer)

    @property
    def replies(self) -> tuple[Reply, ...]:
        """What the designer did with answers."""
        return self._of(Reply)

    @property
    def votes(self) -> tuple[Vote, ...]:
        """What the team voted."""
        return self._of(Vote)

    @property
    def remarks(self) -> tuple[Remark, ...]:
        """What the team remarked."""
        return self._of(Remark)

    @property
    def decisions(self) -> tuple[Decision, ...]:
        """What was decided, with what was superseded since."""
        return self._of(Decision)

    def _of(self, kind: type[E]) -> tuple[E, ...]:
        return tuple(entry for entry in self.entries if isinstance(entry, kind))


def open_session(house: str | Path, who: str, visitor: str = "") -> Path:
    """The file that one person's session adds to. It comes into being with the first entry.

    Parameters
    ----------
    house : the folder of the house.
    who : the person's name.
    visitor : the mark of the browser that it is said in, by which what is said is found again.

    Examples
    --------
    >>> open_session("house", "Ada", "1234").name.endswith(" Ada 1234.jsonl")
    True
    """
    day = datetime.now(UTC).strftime("%Y-%m-%d")
    return Path(house) / REVIEWS / f"{day} {safe_name(who, 'guest')} {visitor or uuid4().hex[:8]}.jsonl"


def keep(file: str | Path, entry: E) -> E:
    """Add one entry to the record; it is whole and on the disk when this returns.

    Parameters
    ----------
    file : of the session, as `open_session` gives it.
    entry : an answer, a reply, a vote or a remark.

    Returns
    -------
    The entry.

    Raises
    ------
    HouseFault : something of it is too long, or it cannot be kept; nothing of it is.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import Vote, keep, open_session, read_record
    >>> house = mkdtemp()
    >>> voted = keep(open_session(house, "Ada"), Vote(who="Ada", alternative="formal", vote="for"))
    >>> read_record(house).votes == (voted,)
    True
    """
    raise_errors(too_long(entry))
    append_record(Path(file), values_of(entry))
    return entry


def say(
    file: Path,
    who: str,
    alternative: str,
    room: str,
    answer: str,
    remark: str = "",
    wishes: Iterable[ElementWish] = (),
    fingerprint: str = "",
) -> Answer:
    """Keep what a client says of a room, as `keep` does.

    Raises
    ------
    ValueError : the answer is not one of ANSWERS.
    HouseFault : as in `keep`.
    """
    if answer not in (*ANSWERS, ""):
        raise ValueError(f"an answer is one of {', '.join(ANSWERS)}, not {answer!r}")
    said = Answer(
        who=who,
        alternative=alternative,
        room=room,
        answer=answer,  # type: ignore[arg-type]  # it was looked at
        remark=remark,
        wishes=tuple(wishes),
        fingerprint=fingerprint,
    )
    return keep(file, said)


def read_record(house: str | Path, visitor: str = "") -> Record:
    """Everything that was said of a house; what cannot be read is told and passed over.

    Parameters
    ----------
    house : the folder of the house.
    visitor : the mark of a browser, to read only what was said in it, and the replies to that.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> read_record(mkdtemp())
    Record(entries=(), warnings=())
    """
    house, problems = Path(house), list[Problem]()
    try:
        with settled(house):
            files = _files(house, problems)
            names = names_of(house, problems) if files else Names()
    except HouseFault as fault:
        return Record((), tuple(map(str, fault.problems)))
    own, others, known = list[AnyEntry](), list[AnyEntry](), dict[str, AnyEntry]()
    for file in files:
        if not visitor or file.name.endswith(f" {visitor}.jsonl"):
            own += _entries(file, problems, known)
        else:
            others += _entries(file, [], known)
    ids = {entry.id for entry in own}
    own += [entry for entry in others if isinstance(entry, Reply) and entry.to in ids]
    found = (named(entry, names) for entry in own)
    return Record(tuple(sorted(found, key=lambda entry: moment(entry.time))), tuple(map(str, problems)))


def lines_of(entries: Iterable[AnyEntry]) -> bytes:
    """Entries as lines of a file. Raises HouseFault where one of them cannot be kept."""
    found = list(entries)
    raise_errors(problem for entry in found for problem in too_long(entry))
    try:
        return b"".join(record_line(values_of(entry)) for entry in found)
    except ValueError as error:
        raise HouseFault([Problem("the entry", None, None, f"cannot be kept ({error})", "mend that")]) from error


def _entries(file: Path, problems: list[Problem], known: dict[str, AnyEntry]) -> Iterator[AnyEntry]:
    """The entries of a file that are not `known` yet, by their ids."""
    faults = dict[int, str]()
    for record in read_records(file, problems):
        try:
            entry = entry_of(record.values)
        except (ValueError, TypeError) as error:
            faults[record.line] = f"is no entry ({error})"
            continue
        if entry.id not in known:
            known[entry.id] = entry
            yield entry
        elif known[entry.id] != entry:
            faults[record.line] = "has the id of another entry"
    tell_lines(file, faults, problems)


def named(entry: AnyEntry, names: Names) -> AnyEntry:
    """The entry under the name that its room has now."""
    if isinstance(entry, Answer | Reply):
        return replace(entry, room=names.now(entry.room, moment(entry.time)))
    return entry


def _files(house: Path, problems: list[Problem]) -> list[Path]:
    """The files of the record, by name."""
    try:
        found = [path for path in (house / REVIEWS).iterdir() if path.name.endswith(".jsonl")]
    except FileNotFoundError:
        return []
    except OSError as error:
        remedy = "put a folder there that you may read"
        problems.append(Problem(REVIEWS, None, None, f"cannot be read ({error.strerror})", remedy, "warning"))
        return []
    return sorted(path for path in found if path not in [house / name for name in NO_ENTRIES])
