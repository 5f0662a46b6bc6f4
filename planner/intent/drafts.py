"""Alternatives on disk: opened, saved, saved under another name, and a draft of what each session has not saved yet."""

import hashlib
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from planner.files.problems import HouseFault
from planner.files.storage import Overtaken, read_bytes, replace_files, seen
from planner.house.folder import ALTERNATIVES
from planner.intent.edits import History
from planner.intent.folder import intent_file, read_intent, sound_bytes
from planner.intent.model import Intent
from planner.intent.sessions import SESSION, lasts

DRAFT = ".draft"
"""Ends the file name of a draft, which stands beside the alternative that it is of."""

UNNAMED = "as the house stands"
"""What a draft is called that is of no alternative yet."""

BEGUN = re.compile(rb"# Begun when the alternative was ([0-9a-f]{16})\.\n")
"""The first line of a draft: which state of the alternative its writer had seen."""


@dataclass(frozen=True)
class Draft:
    """A draft on the disk: its file in the house, what that holds, whose it is and when it was written.

    `lasts` says whether its session is still at work; the `session` of a draft of old is "".
    """

    file: str
    data: bytes
    session: str
    touched: datetime
    lasts: bool = False

    @property
    def begun(self) -> str | None:
        """Which state of the alternative it was begun on, as `state_of` tells it; None where it does not say."""
        found = BEGUN.match(self.data)
        return found[1].decode() if found else None


@dataclass(frozen=True)
class Opened:
    """An alternative as it was found: with a draft taken up, where there is one, and the saved state behind it.

    `seen` is the file of what is saved, None where there is none; `draft` the one taken up, `idle` those that say no
    more than what is saved, `others` those of other sessions; `fault` says why a draft could not be read; `overtaken`
    is true where somebody has saved the alternative since the draft was begun.
    """

    history: History[Intent]
    saved: Intent
    seen: bytes | None = None
    draft: Draft | None = None
    idle: tuple[Draft, ...] = ()
    others: tuple[Draft, ...] = ()
    fault: str = ""
    overtaken: bool = False


def open_alternative(house: Path, name: str = "", session: str = "") -> Opened:
    """Open an alternative, or the house's own defaults where no name is given. Raises HouseFault where it is faulty.

    The session's own draft is taken up, else the latest of those whose sessions are gone.
    """
    house = Path(house)
    data = saved_bytes(house, name)
    saved = read_intent(house, name) if name else Intent()
    taken, idle, others, faults = list[tuple[Draft, Intent]](), list[Draft](), list[Draft](), list[str]()
    for draft in drafts_of(house, name, session):
        if taken or (draft.lasts and draft.session != session):
            others.append(draft)
            continue
        try:
            intent = read_draft(house, name, draft)
        except HouseFault as fault:
            faults += map(str, fault.problems)
        else:
            taken += [] if intent == saved else [(draft, intent)]
            idle += [draft] if intent == saved else []
    opened = Opened(History.of(saved), saved, data, None, tuple(idle), tuple(others), "; ".join(faults))
    for draft, intent in taken:
        overtaken = draft.begun not in (None, state_of(data))
        return replace(opened, history=opened.history.do(intent), draft=draft, overtaken=overtaken)
    return opened


def drafts_of(house: Path, name: str, session: str = "") -> list[Draft]:
    """The drafts of an alternative: the session's own first, then the latest."""
    pattern = re.compile(rf"{re.escape(name or UNNAMED)}(?:\.({SESSION.pattern}))?{re.escape(DRAFT)}\.toml")
    found = []
    try:
        paths = list((Path(house) / ALTERNATIVES).iterdir())
    except OSError:
        return []
    for path in paths:
        if not (named := pattern.fullmatch(path.name)):
            continue
        whose = named[1] or ""
        try:
            touched = datetime.fromtimestamp(path.stat().st_mtime)
        except OSError:  # it was put away at this moment
            continue
        file = f"{ALTERNATIVES}/{path.name}"
        if (data := read_bytes(path, file, [])) is None:
            continue
        found.append(Draft(file, data, whose, touched, bool(whose) and lasts(Path(house), whose)))
    return sorted(found, key=lambda draft: (draft.session == session, draft.touched), reverse=True)


def read_draft(house: Path, name: str, draft: Draft) -> Intent:
    """What a draft of an alternative says. Raises HouseFault where it is faulty."""
    return replace(read_intent(house, Path(draft.file).name.removesuffix(".toml")), name=name)


def saved_bytes(house: Path, name: str) -> bytes | None:
    """The file of an alternative as it is now; None where there is none, or where it has no name yet."""
    if not name:
        return None
    file = intent_file(name)
    return seen(Path(house), [file])[file]


def state_of(data: bytes | None) -> str:
    """What tells one state of an alternative's file from another."""
    return hashlib.sha256(data or b"").hexdigest()[:16]


def draft_file(name: str, session: str = "") -> str:
    """Where a session's draft of an alternative is kept, in the folder of the house."""
    return f"{ALTERNATIVES}/{_draft_name(name, session)}.toml"


def keep_draft(
    house: Path, intent: Intent, session: str = "", begun: bytes | None = None, instead: Iterable[Draft] = ()
) -> Draft:
    """Write a session's draft of an alternative, whole or not at all.

    Parameters
    ----------
    session : whose it is; a draft of nobody's says nothing of what its writer had seen, and is written over.
    begun : the file of the alternative as the session has seen it.
    instead : the draft that the session kept before, and those of others that it has taken up and that go with this
        write.

    Raises
    ------
    Overtaken : a draft is no longer as it was last seen; nothing was written.
    HouseFault : it cannot be written, or the alternative is faulty; nothing was changed.
    """
    file, known = draft_file(intent.name, session), {draft.file: draft.data for draft in instead}
    head = b"# Begun when the alternative was %s.\n" % state_of(begun).encode() if session else b""
    data = head + sound_bytes(intent, house, _draft_name(intent.name, session), None)
    expected = {file: None, **known} if session else known
    replace_files(Path(house), {**dict.fromkeys(known), file: data}, expected)
    return Draft(file, data, session, datetime.now(), True)


def forget(house: Path, drafts: Iterable[Draft]) -> None:
    """Remove drafts, but none that somebody has written since. Raises HouseFault where one cannot be removed."""
    for draft in drafts:
        try:
            replace_files(Path(house), {draft.file: None}, {draft.file: draft.data})
        except Overtaken:
            continue


def save(house: Path, intent: Intent, expected: bytes | None, drafts: Iterable[Draft] = ()) -> bytes:
    """Save an alternative under its own name, and forget the drafts that it was.

    Parameters
    ----------
    expected : the file of the alternative as its writer has seen it, None where there was none.

    Returns
    -------
    The file as it is then.

    Raises
    ------
    Overtaken : somebody else has saved it since; nothing was changed.
    HouseFault : it is faulty, or cannot be written; nothing was changed.
    """
    file, known = intent_file(intent.name), {draft.file: draft.data for draft in drafts}
    data = sound_bytes(intent, house, intent.name, expected)
    while True:
        try:
            replace_files(Path(house), {**dict.fromkeys(known), file: data}, {**known, file: expected})
        except Overtaken as overtaken:
            if file in overtaken.files:
                raise
            known = {name: data for name, data in known.items() if name not in overtaken.files}
        else:
            return data


def _draft_name(name: str, session: str = "") -> str:
    return f"{name or UNNAMED}{f'.{session}' if session else ''}{DRAFT}"
