"""What a designer has on the desk: one alternative of one house, every change to it, and the draft on disk."""

from collections.abc import Callable, Iterator, MutableMapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from planner.apps.houses import Opened
from planner.files.problems import HouseFault, Problem, choose
from planner.files.storage import Overtaken
from planner.house.folder import unit_of
from planner.house.model import House
from planner.intent import drafts, edits
from planner.intent.drafts import Draft
from planner.intent.edits import History
from planner.intent.folder import intent_file, list_intents, read_intent, sound_bytes, write_new_intent
from planner.intent.model import Intent
from planner.intent.sessions import Session
from planner.library import Library
from planner.planning.pipeline import plan
from planner.stock.stock import Stock
from planner.units import Unit, quoted

NO_MORE = b"\0"
"""Stands for what a draft was begun on where the folder holds it no more; no alternative says this."""


@dataclass(frozen=True)
class Theirs:
    """What somebody else has made of the alternative on the desk: its file, None where it is gone, and what that says;
    nothing is wished where it cannot be read, for its `faults`.
    """

    data: bytes | None
    intent: Intent
    faults: tuple[Problem, ...] = ()

    @property
    def words(self) -> str:
        """What they did, as it follows on a colon."""
        return f"somebody else has {'removed' if self.data is None else 'saved'} it meanwhile"


class Desk:
    """An alternative at work. Every change is in this session's draft on the disk before the call returns, or where it
    is to be kept `later`, at the next `keep_up`; where that cannot be, the change stays on the desk and why is told.

    `history` is what was done, `saved` what was saved when it was opened or saved here last, `drafted` when the draft
    was written that was taken up on opening, `fault` why a draft could not be read, `others` the drafts of other
    sessions, `theirs` what somebody else has saved meanwhile. `unkept` and `unsaved` say why the last change is in no
    draft, and why the last saving failed.
    """

    def __init__(self, folder: str | Path, name: str = "", session: str = ""):
        self.folder = Path(folder)
        self.later, self._behind = False, False
        self._session = Session(self.folder, session)
        self.unkept: tuple[Problem, ...] = ()
        self.unsaved: tuple[Problem, ...] = ()
        self.open(name)

    def open(self, name: str) -> Intent:
        """Put another alternative on the desk; raises HouseFault, and changes nothing, where it is faulty or what is on
        the desk cannot be kept as a draft."""
        if self.unkept or self._behind:
            self.keep()
        opened = drafts.open_alternative(self.folder, name, self._session.name)
        self.history: History[Intent] = opened.history
        self.saved: Intent = opened.saved
        self.others: tuple[Draft, ...] = opened.others
        self.fault: str = opened.fault
        self.theirs: Theirs | None = None
        self.unkept = self.unsaved = ()
        self.drafted: datetime | None = opened.draft.touched if opened.draft else None
        self._seen: bytes | None = NO_MORE if opened.overtaken else opened.seen
        self._drafts: tuple[Draft, ...] = (*opened.idle, *((opened.draft,) if opened.draft else ()))
        if opened.draft and opened.draft.session == self._session.name:
            self._session.show()
        if opened.overtaken:
            self.theirs = Theirs(opened.seen, opened.saved)
        return self.intent

    @property
    def session(self) -> str:
        """The name of this session, which its drafts bear."""
        return self._session.name

    @property
    def unit(self) -> Unit:
        """The house's, which lengths are said and read in."""
        return unit_of(self.folder)

    @property
    def intent(self) -> Intent:
        """The alternative as it stands now."""
        return self.history.present

    @property
    def is_saved(self) -> bool:
        """Whether nothing differs from what is saved."""
        return self.intent == self.saved and self.theirs is None

    def fits(self, library: Library) -> bool:
        """Whether all that the alternative names is still in the house."""
        try:
            sound_bytes(self.intent, self.folder, self.intent.name, None, library)
        except HouseFault:
            return False
        return True

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
        """Go back to what is saved, by whomever; that too can be undone."""
        if self.theirs:
            self.saved, self._seen, self.theirs = self.theirs.intent, self.theirs.data, None
        self.history, self.drafted = self.history.do(self.saved), None
        self.keep()
        return self.intent

    def save(self) -> Intent:
        """Save under the alternative's own name; what has none yet gets one from its title.

        Raises Overtaken where somebody else has saved it since it was opened, HouseFault where it cannot be saved;
        nothing is changed then.
        """
        intent = self.intent
        if not intent.name:
            return self.save_as(intent.title)
        with self._saving():
            if self.theirs:
                raise Overtaken([intent_file(intent.name)])
            self._seen = drafts.save(self.folder, intent, self._seen, self._drafts)
        self._drafts = ()
        return self._settle(intent)

    def overwrite(self) -> Intent:
        """Save in the place of what somebody else has saved meanwhile; raises Overtaken where that is new again."""
        if self.theirs:
            self._seen, self.theirs = self.theirs.data, None
        return self.save()

    def save_as(self, title: str) -> Intent:
        """Save as a new alternative, under a name that nobody has taken."""
        with self._saving():
            intent = write_new_intent(self.intent, self.folder, title)
            self._seen = sound_bytes(intent, self.folder, intent.name, None)
        self.theirs, self.others = None, ()
        self._settle(intent)
        with suppress(HouseFault):  # it is saved; that its draft stays is told
            self.keep()
        return intent

    def keep(self) -> None:
        """Keep the draft as it should be: that of the alternative as it stands, or none where nothing differs from what
        is saved. Raises HouseFault where that cannot be; the next change tries again."""
        self._keep()
        self.unsaved = ()

    def keep_up(self) -> None:
        """Keep what was left for later; what stands against it is in `unkept`."""
        if self._behind:
            with suppress(HouseFault):
                self._keep()

    def take_up(self, draft: Draft) -> Intent:
        """Go on from a draft of another session; one that is gone has its draft put away with the next that is kept."""
        intent = drafts.read_draft(self.folder, self.intent.name, draft)
        self.others = tuple(other for other in self.others if other != draft)
        if not draft.lasts:
            self._drafts = (*self._drafts, draft)
        return self.replace(intent)

    def put_away(self, draft: Draft) -> None:
        """Remove a draft of a session that is gone."""
        drafts.forget(self.folder, [draft])
        self.others = tuple(other for other in self.others if other != draft)

    def _move(self, history: History[Intent]) -> Intent:
        if history is not self.history:
            self.history, self.drafted, self._behind = history, None, True
            self.look()
            if self.later:
                self.unsaved = ()
            else:
                self.keep()
        return self.intent

    def _keep(self) -> None:
        self._behind = False
        try:
            if self.intent == self.saved:
                drafts.forget(self.folder, self._drafts)
                self._drafts = ()
            else:
                self._write()
        except HouseFault as fault:
            self.unkept = fault.problems
            raise
        self.unkept = ()

    def _write(self) -> None:
        self._session.show()
        try:
            kept = drafts.keep_draft(self.folder, self.intent, self.session, self._seen, self._drafts)
        except Overtaken:  # its page is open twice, or its draft was put away: from here on it is a session of its own
            self._session = Session(self.folder)
            self._session.show()
            kept = drafts.keep_draft(self.folder, self.intent, self.session, self._seen)
        self._drafts = (kept,)

    def look(self) -> None:
        """Look whether somebody else has saved the alternative; then it is `theirs`."""
        try:
            now = drafts.saved_bytes(self.folder, self.intent.name)
        except HouseFault:  # what cannot be looked at is told when it is written
            return
        if now == self._seen:  # again, where it was another meanwhile
            self.theirs = None
        if now == (self.theirs.data if self.theirs else self._seen):
            return
        try:
            self.theirs = Theirs(now, read_intent(self.folder, self.intent.name))
        except HouseFault as fault:
            self.theirs = Theirs(now, replace(Intent(), name=self.intent.name), fault.problems)

    @contextmanager
    def _saving(self) -> Iterator[None]:
        try:
            yield
        except HouseFault as fault:
            if isinstance(fault, Overtaken):
                self.look()
            self.unsaved = fault.problems
            raise
        self.unkept = self.unsaved = ()
        self._behind = False

    def _settle(self, intent: Intent) -> Intent:
        """What was done before stays to be undone, under the name and the title that it has now."""
        named = self.history.map(lambda past: replace(past, name=intent.name, title=intent.title))
        self.history = replace(named, present=intent)
        self.saved, self.drafted = intent, None
        return intent


def open_desk(
    folder: str | Path, address: str | Sequence[str] | None, command: Sequence[str], session: str = ""
) -> tuple[Desk, tuple[Problem, ...]]:
    """The desk with the alternative that the page's address asks for, else the one that the command asked for.

    The house's own defaults are on it where neither names an alternative, where the house has none of that name, and
    where it has faults; these two are returned too. `session` is the name under which the page was at work before, if
    it was.
    """
    asked = [*([address] if isinstance(address, str) else address or ()), *command, ""][0]
    known = list_intents(folder)
    missing = (_no_such(asked, known),) if asked and asked not in known else ()
    try:
        return Desk(folder, "" if missing else asked, session), missing
    except HouseFault as fault:
        return Desk(folder, session=session), fault.problems


def _no_such(name: str, known: Sequence[str]) -> Problem:
    message = f"there is no alternative {quoted(name)}"
    return Problem("alternatives", None, None, message, choose(name, known) if known else "open one from the list")


def desk_again(
    desks: list[Desk], opened: Opened, address: MutableMapping[str, str], command: Sequence[str]
) -> tuple[Desk, tuple[Problem, ...]]:
    """The desk of a page whose house has been read, the first time or again; `desks` holds the one that it had.

    What was on the desk stays there, with the way back, where the house still has all that it names. The page's
    `address` says then under which name the session keeps its drafts, for when it is loaded again. Changes are kept
    once the page has drawn what they lead to, and before it says that they are.
    """
    if desks:
        desks[-1].keep_up()
        if desks[-1].fits(opened.library):
            return desks[-1], ()
    session = desks[-1].session if desks else address.get("session") or ""
    desk, faults = open_desk(opened.folder, address.get("alternative"), command, str(session))
    desk.later, desks[:] = True, [desk]
    address["session"] = desk.session
    return desk, faults


def ways_out(
    house: House, intent: Intent, stock: Stock | None = None, library: Library | None = None
) -> Iterator[tuple[str, Intent]]:
    """For an intent without a plan: each single wish whose loosening gives one, in words, and the intent then."""
    for words, loosened in edits.loosenings(intent):
        if plan(house, loosened, stock, library, integrated=False).feasible:
            yield words, loosened
