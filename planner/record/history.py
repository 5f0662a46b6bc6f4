"""The record told from its beginning, for people and for machines."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from planner.files.problems import HouseFault
from planner.house.folder import read_house
from planner.intent.renamed import moment
from planner.record.decisions import AS_IT_STANDS, with_changes
from planner.record.entries import Answer, AnyEntry, Decision, Reply, Vote, values_of
from planner.record.fingerprint import SHOWN
from planner.record.keeping import read_record

FORMAT = 1

SAID = {"keep": "keep it", "more": "a little richer", "less": "a little plainer"}
TAKEN_BACK = "takes the answer back"
TAKEN = {"pin": "a pinned tier", "range": "a range of tiers", "rule": "a trim rule"}


@dataclass(frozen=True)
class History:
    """The record of a house: `house` is its name, `entries` are earliest first; `changed` says, by the ids of the
    decisions that hold, what has changed since in words; `warnings` what could not be read.
    """

    house: str
    entries: tuple[AnyEntry, ...]
    changed: Mapping[str, tuple[str, ...]]
    warnings: tuple[str, ...] = ()


def history(house: str | Path) -> History:
    """The record of a house, with what has changed since each decision that holds.

    Parameters
    ----------
    house : the folder of the house.

    Examples
    --------
    >>> from planner import demo_house
    >>> history(demo_house()).entries
    ()
    """
    folder, record = Path(house), read_record(house)
    try:
        name = read_house(folder)[0].name
    except HouseFault:
        name = folder.absolute().name
    changed = {decision.id: words for decision, words in with_changes(folder, record).items()}
    return History(name, record.entries, changed, record.warnings)


def history_text(told: History) -> str:
    """The record as lines for people: when, by this machine's clock and to the minute, who, what, of which alternative
    and on which fingerprint; below a decision, what has changed since.

    Parameters
    ----------
    told : the record.

    Examples
    --------
    >>> from planner import Vote
    >>> seen, noon = "1a2b3c4d5e6f7788", "2030-05-01T12:00:00"
    >>> said = Vote(who="Ada", alternative="formal", vote="for", time=noon, fingerprint=seen)
    >>> print(history_text(History("Larkmead", (said,), {})))  # doctest: +ELLIPSIS
    Larkmead: 1 entry
    2030-05-0... Ada  votes for it [formal, 1a2b3c4d]
    """
    count = len(told.entries)
    head = f"{told.house}: {count:,} {'entry' if count == 1 else 'entries'}" if count else f"{told.house}: nothing yet"
    said_by = {entry.id: entry.who for entry in told.entries}
    longest = min(max((len(entry.who) for entry in told.entries), default=0), 24)
    lines = [head]
    for entry in told.entries:
        on = f"[{entry.alternative or AS_IT_STANDS}, {entry.fingerprint[:SHOWN] or 'fingerprint not known'}]"
        who, what = _one_line(entry.who), _one_line(f"{_what(entry, said_by)} {on}")
        lines.append(f"{_minute(entry.time)}  {who:<{longest}}  {what}")
        if isinstance(entry, Decision):
            lines += [f"    {words}" for words in since(entry, told)]
    return "\n".join(lines)


def since(decision: Decision, told: History) -> tuple[str, ...]:
    """What became of a decision, in words."""
    if decision.id not in told.changed:
        return ("superseded by a later decision",)
    return told.changed[decision.id] or ("nothing has changed since",)


def history_object(told: History) -> dict[str, Any]:
    """The record as a JSON object, format 1: every entry as its file says it, and what became of each decision.

    Parameters
    ----------
    told : the record.

    Examples
    --------
    >>> history_object(History("Larkmead", (), {}))
    {'format': 1, 'house': 'Larkmead', 'entries': [], 'decisions': [], 'warnings': []}
    """
    return {
        "format": FORMAT,
        "house": told.house,
        "entries": [_object(entry) for entry in told.entries],
        "decisions": [
            {"id": e.id, "holds": e.id in told.changed, "changed": list(told.changed.get(e.id, ()))}
            for e in told.entries
            if isinstance(e, Decision)
        ],
        "warnings": list(told.warnings),
    }


def history_json(told: History) -> str:
    """The record as JSON text."""
    return json.dumps(history_object(told), indent=2, ensure_ascii=False)


def _object(entry: AnyEntry) -> dict[str, Any]:
    """An entry with who said it under one name, whatever its kind."""
    values = values_of(entry)
    who = values.pop("reviewer", entry.who)
    return {"kind": values.pop("kind"), **values, "who": who, "fingerprint": entry.fingerprint}


def _what(entry: AnyEntry, said_by: Mapping[str, str]) -> str:
    """What an entry says, in words; `said_by` are names by the ids of what they said."""
    if isinstance(entry, Answer):
        said = [TAKEN_BACK] if entry.takes_back else [SAID[entry.answer]] if entry.answer else []
        said += [wish.words for wish in entry.wishes]
        return f"{entry.room}: {_with_words(', '.join(said), entry.remark)}" + (
            " (by the page sent)" if entry.sent else ""
        )
    if isinstance(entry, Reply):
        asked = f"{said_by[entry.to]}'s answer" if entry.to in said_by else "an answer"
        done = f"{asked} is taken as {TAKEN[entry.taken]}" if entry.taken else f"on {asked}"
        return f"{entry.room}: {_with_words(done, entry.word)}"
    if isinstance(entry, Vote):
        return {"for": "votes for it", "against": "votes against it", "withdrawn": "withdraws the vote"}[entry.vote]
    if isinstance(entry, Decision):
        return _with_words("DECIDED", entry.remark)
    return _quoted(entry.remark)


def _with_words(said: str, words: str) -> str:
    return ": ".join(filter(None, (said, _quoted(words) if words else "")))


def _quoted(words: str) -> str:
    return f'"{words}"'


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _minute(time: str) -> str:
    """A time by this machine's clock, to the minute."""
    return f"{_local(moment(time)):%Y-%m-%d %H:%M}"


def _local(when: datetime) -> datetime:
    try:
        return when.astimezone()
    except (OverflowError, ValueError, OSError):
        return when
