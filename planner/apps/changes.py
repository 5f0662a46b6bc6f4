"""What the controls of the designer's page call: every change reaches the desk, the plan, and the other controls.

A control that is being used shows its new value by itself, and keeps its focus as long as it is not built anew. So
after a change only those controls are built anew that would show something else than they do now, and not before the
charts have followed.
"""

from collections.abc import Callable, Mapping, MutableMapping
from typing import Any

from planner.apps.address import ALTERNATIVE, SESSION
from planner.apps.desk import Desk
from planner.apps.presses import Anew
from planner.files.problems import HouseFault, words_of
from planner.files.storage import Overtaken
from planner.intent.drafts import Draft
from planner.intent.edits import moved_wishes
from planner.intent.folder import free_title, list_intents, write_new_intent
from planner.intent.model import Intent
from planner.intent.words import difference

Act = Callable[[Any], None]
"""What a control does with its new value."""

TOP, WARNINGS = "top", "warnings"
"""The groups of controls above the tabs: what is open, and what stands against saving it."""


WHOLE = ("style", "order", "canon", "grade", "tiers", "cost_in", "budget", "wings")
"""What an alternative says of the whole house in one word or number."""


def shown(desk: Desk) -> dict[str, object]:
    """What each group of controls shows of the desk."""
    intent = desk.intent
    return {
        TOP: (list_intents(desk.folder), intent.name, desk.drafted, desk.fault, desk.others),
        WARNINGS: (desk.unkept, desk.unsaved, desk.theirs),
        "wishes": (intent.tiers, intent.rooms),
        "sets": intent.sets,
        "trim": intent.trim,
        "rules": intent.trim,
        "weights": intent.importance,
        "limits": (intent.tiers, intent.limits),
        "offered": intent.offered,
        "whole": tuple(getattr(intent, name) for name in WHOLE),
    }


def addressed(desk: Desk, address: MutableMapping[str, str]) -> Callable[[Act], Act]:
    """Acts of controls above the tabs; the page's `address` says which alternative is open after each, and under which
    name the session keeps its drafts.
    """

    def told(act: Act) -> Act:
        def done(value: Any) -> None:
            act(value)
            address[ALTERNATIVE], address[SESSION] = desk.intent.name, desk.session

        return done

    return told


class Changes:
    """Changes to the alternative on a desk.

    Parameters
    ----------
    desk : what is changed.
    replan : called with the intent after every change; what it starts ends in `settle`.
    say : called with what the designer is to be told, "" where that is nothing.
    wake : for each group of controls in `shown` what builds it anew, called with what it is to show.
    """

    def __init__(
        self,
        desk: Desk,
        replan: Callable[[Intent], None],
        say: Callable[[str], None],
        wake: Mapping[str, Callable[[object], None]],
    ):
        self.desk, self.anew = desk, Anew()
        self._replan, self._say, self._wake = replan, say, wake
        self._shown = shown(desk)
        self._left = {TOP}  # groups that stay until something else than a control changes the alternative

    def make(self, group: str, edit: Callable[..., Intent], *arguments: object) -> None:
        """One change by a control of a group, or of none where its name is blank.

        Where the change cannot be, that is said, and the control shows again what is.
        """
        before = self.desk.intent
        try:
            fault = _fault_of(lambda: self.desk.change(edit, *arguments))
        except ValueError as error:
            self._say(str(error))
            if group:
                self._wake[group](shown(self.desk)[group])
            return
        self._tell(fault or moved_wishes(before, self.desk.intent), group)

    def put(self, intent: Intent) -> None:
        """An alternative as it comes out of other hands than a control's."""
        self._tell(_fault_of(lambda: self.desk.replace(intent)))

    def undo(self) -> None:
        """Take the last change back, and say which it was."""
        self._move(self.desk.undo, "Taken back", lambda before, now: difference(now, before, self.desk.unit))

    def redo(self) -> None:
        """Make the change again that was taken back last, and say which it is."""
        self._move(self.desk.redo, "Made again", lambda before, now: difference(before, now, self.desk.unit))

    def revert(self) -> None:
        """Go back to what is saved."""
        self._tell(_fault_of(self.desk.revert))

    def open(self, name: str) -> None:
        """Put another alternative on the desk, by its name; where that cannot be, that is said, and the desk stays."""
        fault = _fault_of(lambda: self.desk.open(name))
        self._tell(fault)
        if fault:
            self._wake[TOP](self._shown[TOP])

    def save(self) -> None:
        """Save the alternative under its own name; where somebody else has, the page offers what can be done."""
        self._save(self.desk.save)

    def overwrite(self) -> None:
        """Save the alternative in the place of what somebody else has saved meanwhile."""
        self._save(self.desk.overwrite)

    def save_as(self, title: str) -> None:
        """Save the alternative as a new one."""
        self._save(lambda: self.desk.save_as(title))

    def save_beside(self, intent: Intent, title: str) -> None:
        """Save something else than what is on the desk as a new alternative; the desk stays as it is."""
        saved, free = list[Intent](), free_title(self.desk.folder, title)
        fault = _fault_of(lambda: saved.append(write_new_intent(intent, self.desk.folder, free)))
        self._tell(fault or f"Saved as {saved[0].name}; it opens under Alternative.")

    def keep(self) -> None:
        """Try again to keep the draft."""
        self._tell(_fault_of(self.desk.keep))

    def take_up(self, draft: Draft) -> None:
        """Go on from a draft of another session."""
        self._tell(_fault_of(lambda: self.desk.take_up(draft)))

    def put_away(self, draft: Draft) -> None:
        """Remove the draft of a session that is gone."""
        self._tell(_fault_of(lambda: self.desk.put_away(draft)))

    def follow(self) -> None:
        """Let the page follow what others have saved meanwhile.

        Where nothing was done here, the alternative is shown as it is saved now, with a way back; else the page offers
        what can be done, and nothing on it moves.
        """
        before, theirs = self.desk.intent, self.desk.theirs
        untouched = self.desk.is_saved
        self.desk.look()
        if untouched and self.desk.theirs and not self.desk.theirs.faults:
            fault = _fault_of(self.desk.revert)
            words = difference(before, self.desk.intent, self.desk.unit)
            self._tell(fault or f"Somebody else has saved this alternative: {words}. Undo shows it as it was.")
            return
        self._left = set()
        self.settle()
        if self.desk.theirs != theirs:
            self._say("")  # the title says anew whether all is saved

    def _save(self, act: Callable[[], object]) -> None:
        fault = _fault_of(act)
        self._tell(fault or f"Saved as {self.desk.intent.name}.")

    def _move(self, step: Callable[[], Intent], done: str, told: Callable[[Intent, Intent], str]) -> None:
        before = self.desk.intent
        fault = _fault_of(step)
        words = told(before, self.desk.intent)
        self._tell(fault or (f"{done}: {words}." if words else ""))

    def settle(self) -> None:
        """Build those controls anew that show something else than the desk has."""
        now = shown(self.desk)
        stale = [group for group in sorted(now) if now[group] != self._shown[group] and group not in self._left]
        self._shown |= {group: now[group] for group in stale}
        self._left = {TOP}
        for group in stale:
            self._wake[group](now[group])

    def _tell(self, news: str = "", by: str = "") -> None:
        """Let the page follow the desk after a change by a control of the group `by`, or by none of them.

        What is said of a draft that was found stays until something else than a control changes the alternative.
        """
        if by:
            self._shown[by] = shown(self.desk)[by]
        else:
            self._left = set()
        self._replan(self.desk.intent)
        self._say(news)


def _fault_of(act: Callable[[], object]) -> str:
    """What stands against an act, in words; "" where it could be done."""
    try:
        act()
    except Overtaken as overtaken:
        return f"Not saved: somebody else has changed {' and '.join(overtaken.files)} since you opened it."
    except HouseFault as fault:
        return words_of(fault.problems)
    return ""
