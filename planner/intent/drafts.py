"""Alternatives on disk: opened, saved, saved under another name, and a draft of what is not saved yet."""

from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from planner.files.names import safe_name
from planner.files.problems import HouseFault
from planner.house.folder import ALTERNATIVES
from planner.intent.edits import History
from planner.intent.folder import list_intents, read_intent, write_intent
from planner.intent.model import Intent

DRAFT = ".draft"
"""Ends the file name of a draft, which stands beside the alternative that it is of."""

UNNAMED = "as the house stands"
"""What a draft is called that is of no alternative yet."""


@dataclass(frozen=True)
class Opened:
    """An alternative as it was found: with its draft taken up, where there is one, and the saved state behind it.

    `drafted` is when the draft was written, None where there was none; `fault` says why a draft could not be read.
    """

    history: History[Intent]
    saved: Intent
    drafted: datetime | None = None
    fault: str = ""


def open_alternative(house: Path, name: str = "") -> Opened:
    """Open an alternative, or the house's own defaults where no name is given. Raises HouseFault where it is faulty."""
    saved = read_intent(house, name) if name else Intent()
    path = draft_path(house, name)
    if not path.exists():
        return Opened(History.of(saved), saved)
    try:
        draft = replace(read_intent(house, _draft_name(name)), name=name)
    except HouseFault as fault:
        return Opened(History.of(saved), saved, fault="; ".join(map(str, fault.problems)))
    if draft == saved:
        return Opened(History.of(saved), saved)
    return Opened(History.of(saved).do(draft), saved, drafted=datetime.fromtimestamp(path.stat().st_mtime))


def draft_path(house: Path, name: str) -> Path:
    """Where the draft of an alternative is kept."""
    return Path(house) / ALTERNATIVES / f"{_draft_name(name)}.toml"


def keep_draft(house: Path, intent: Intent) -> None:
    """Write the draft of an alternative, whole or not at all."""
    write_intent(intent, house, _draft_name(intent.name))


def discard_draft(house: Path, name: str) -> None:
    """Forget the draft of an alternative, if there is one."""
    draft_path(house, name).unlink(missing_ok=True)


def save(house: Path, intent: Intent) -> Intent:
    """Save an alternative under its own name, and forget its draft; what has no name yet gets one from its title."""
    if not intent.name:
        return save_as(house, intent, intent.title)
    write_intent(intent, house)
    discard_draft(house, intent.name)
    return intent


def save_as(house: Path, intent: Intent, title: str) -> Intent:
    """Save as a new alternative of that title, under a free file name; the draft of the old one is forgotten."""
    name = safe_name(title, "alternative", taken=list_intents(house))
    renamed = replace(intent, name=name, title=title.strip() or name)
    write_intent(renamed, house)
    discard_draft(house, intent.name)
    return renamed


def _draft_name(name: str) -> str:
    return f"{name or UNNAMED}{DRAFT}"
