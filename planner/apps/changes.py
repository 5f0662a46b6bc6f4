"""What the controls of the designer's page call: every change reaches the desk, the plan, and the other controls.

A control that is being used shows its new value by itself, and keeps its focus as long as it is not built anew. So
after a change only those controls are built anew that would show something else than they do now.
"""

from collections.abc import Callable, Mapping

from planner.apps.desk import Desk
from planner.files.problems import HouseFault
from planner.intent.folder import list_intents
from planner.intent.model import Intent

ROOMS, WEIGHTS, EVERYWHERE = "Rooms", "Weights and limits", ""

PLACES = {
    "names": EVERYWHERE,
    "draft": EVERYWHERE,
    "ladder": ROOMS,
    "wishes": ROOMS,
    "sets": ROOMS,
    "weights": WEIGHTS,
    "limits": WEIGHTS,
    "whole": WEIGHTS,
}
"""The groups of controls that show parts of an alternative, with the tab that each is on. What is on a tab is built
when the tab is opened.
"""


def shown(desk: Desk) -> dict[str, object]:
    """What each group of controls shows of the desk."""
    intent = desk.intent
    return {
        "names": (list_intents(desk.folder), intent.name),
        "draft": (desk.drafted, desk.fault),
        "ladder": intent.tiers,
        "wishes": intent.rooms,
        "sets": intent.sets,
        "weights": intent.importance,
        "limits": (intent.tiers, intent.limits),
        "whole": (intent.style, intent.order, intent.grade, intent.tiers, intent.budget),
    }


class Changes:
    """Changes to the alternative on a desk.

    Parameters
    ----------
    desk : what is changed.
    replan : called with the intent after every change.
    say : called with what the designer is to be told, "" where that is nothing.
    wake : for each of the groups in PLACES what builds its controls anew, called with what they are to show.
    """

    def __init__(
        self,
        desk: Desk,
        replan: Callable[[Intent], None],
        say: Callable[[str], None],
        wake: Mapping[str, Callable[[object], None]],
    ):
        self.desk, self._replan, self._say, self._wake = desk, replan, say, wake
        self._shown = shown(desk)

    def make(self, group: str, edit: Callable[..., Intent], *arguments: object) -> None:
        """One change by a control of a group, or of none where its name is blank.

        Where the change cannot be, that is said, and the control shows again what is.
        """
        try:
            self.desk.change(edit, *arguments)
        except ValueError as error:
            self._say(str(error))
            if group:
                self._wake[group](shown(self.desk)[group])
            return
        self._tell("", group)

    def put(self, intent: Intent) -> None:
        """An alternative as it comes out of other hands than a control's."""
        self.desk.replace(intent)
        self._tell()

    def undo(self) -> None:
        """Take the last change back."""
        self.desk.undo()
        self._tell()

    def redo(self) -> None:
        """Make the change again that was taken back last."""
        self.desk.redo()
        self._tell()

    def revert(self) -> None:
        """Go back to what is saved."""
        self.desk.revert()
        self._tell()

    def open(self, name: str) -> None:
        """Put another alternative on the desk, by its name; where it is faulty, that is said, and the desk stays."""
        self._tell(_fault_of(lambda: self.desk.open(name)))

    def save(self) -> None:
        """Save the alternative under its own name."""
        fault = _fault_of(self.desk.save)
        self._tell(fault or f"Saved as {self.desk.intent.name}.")

    def save_as(self, title: str) -> None:
        """Save the alternative as a new one."""
        fault = _fault_of(lambda: self.desk.save_as(title))
        self._tell(fault or f"Saved as {self.desk.intent.name}.")

    def _tell(self, news: str = "", by: str = "") -> None:
        """Let the page follow the desk after a change by a control of the group `by`, or by none of them."""
        self._replan(self.desk.intent)
        self._say(news)
        now = shown(self.desk)
        in_view = {by, *(g for g in PLACES if not by or PLACES[g] == PLACES[by])}
        for group in in_view - {by}:
            if now[group] != self._shown[group]:
                self._wake[group](now[group])
        kept = {g: self._shown[g] for g in PLACES if g not in in_view and PLACES[g] == EVERYWHERE}
        self._shown = now | kept


def _fault_of(act: Callable[[], object]) -> str:
    """What stands against an act, in words; "" where it could be done."""
    try:
        act()
    except HouseFault as fault:
        return " ".join(map(str, fault.problems))
    return ""
