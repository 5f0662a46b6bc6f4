"""What a designer has on the desk: one alternative of one house, every change to it, and the draft on disk."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from planner.files.problems import HouseFault, Problem
from planner.house.model import House
from planner.intent import edits
from planner.intent.drafts import discard_draft, keep_draft, open_alternative, save, save_as
from planner.intent.edits import History
from planner.intent.folder import list_intents
from planner.intent.model import Intent
from planner.library import Library
from planner.planning.pipeline import plan
from planner.stock.stock import Stock


class Desk:
    """An alternative at work. Every change is in the draft on disk before the call returns.

    `history` is what was done, `saved` what is saved, `drafted` when the draft was written that was taken up on
    opening, `fault` why a draft could not be.
    """

    def __init__(self, folder: str | Path, name: str = ""):
        self.folder = Path(folder)
        self.open(name)

    def open(self, name: str) -> Intent:
        """Put another alternative on the desk; raises HouseFault where it is faulty, and then changes nothing."""
        opened = open_alternative(self.folder, name)
        self.history: History[Intent] = opened.history
        self.saved: Intent = opened.saved
        self.drafted: datetime | None = opened.drafted
        self.fault: str = opened.fault
        return self.intent

    @property
    def intent(self) -> Intent:
        """The alternative as it stands now."""
        return self.history.present

    @property
    def is_saved(self) -> bool:
        """Whether nothing differs from what is saved."""
        return self.intent == self.saved

    def change(self, edit: Callable[..., Intent], *arguments: object) -> Intent:
        """Apply an edit of planner.intent.edits; raises its ValueError."""
        return self._move(self.history.do(edit(self.intent, *arguments)))

    def replace(self, intent: Intent) -> Intent:
        """Put an edited intent in the place of the present one."""
        return self._move(self.history.do(intent))

    def undo(self) -> Intent:
        """Take the last change back."""
        return self._move(self.history.undo())

    def redo(self) -> Intent:
        """Make the change again that was taken back last."""
        return self._move(self.history.redo())

    def revert(self) -> Intent:
        """Go back to what is saved; that too can be undone."""
        return self.replace(self.saved)

    def save(self) -> Intent:
        """Save under the alternative's own name."""
        return self._settle(save(self.folder, self.intent))

    def save_as(self, title: str) -> Intent:
        """Save as a new alternative."""
        return self._settle(save_as(self.folder, self.intent, title))

    def _move(self, history: History[Intent]) -> Intent:
        if history is not self.history:
            self.history, self.drafted = history, None
            if self.is_saved:
                discard_draft(self.folder, self.intent.name)
            else:
                keep_draft(self.folder, self.intent)
        return self.intent

    def _settle(self, intent: Intent) -> Intent:
        """What was done before stays to be undone, under the name that it has now."""
        self.history = replace(self.history.map(lambda past: replace(past, name=intent.name)), present=intent)
        self.saved, self.drafted = intent, None
        return intent


def open_desk(
    folder: str | Path, address: str | Sequence[str] | None, command: Sequence[str]
) -> tuple[Desk, tuple[Problem, ...]]:
    """The desk with the alternative that the page's address asks for, else the one that the command asked for.

    The house's own defaults are on it where neither names an alternative of the house, and where it has faults, which
    are returned too.
    """
    asked = [*([address] if isinstance(address, str) else address or ()), *command, ""][0]
    try:
        return Desk(folder, asked if asked in list_intents(folder) else ""), ()
    except HouseFault as fault:
        return Desk(folder), fault.problems


def ways_out(
    house: House, intent: Intent, stock: Stock | None = None, library: Library | None = None
) -> Iterator[tuple[str, Intent]]:
    """For an intent without a plan: each single wish whose loosening gives one, in words, and the intent then."""
    for words, loosened in edits.loosenings(intent):
        if plan(house, loosened, stock, library, integrated=False).feasible:
            yield words, loosened
