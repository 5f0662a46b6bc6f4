"""What is told of a house that may be read and not written: a process of its own, whose rights can be taken away.

Run by a test: python -m tests.apps.reading_only HOUSE. Prints, as JSON, by the act what was told; "" where it was done.
"""

import json
import sys
from collections.abc import Callable
from pathlib import Path

from planner import HouseFault, edits, plan, read_house, read_stock
from planner.apps.changes import Changes, shown
from planner.apps.client.sitting import refusal
from planner.apps.desk import Desk
from planner.apps.drawing import Drawing
from planner.apps.headline import headline
from planner.apps.panels import answers as panel
from planner.apps.screen import WIDE_CHART
from planner.apps.typed import Typed
from planner.house.model import House
from planner.record.entries import KEEP
from planner.record.keeping import open_session, say


def told(act: Callable[[], object]) -> str:
    """Why an act could not be done."""
    try:
        act()
    except HouseFault as fault:
        return str(fault)
    return ""


def main(folder: Path) -> dict[str, str]:
    """Try all that would write into a house."""
    try:
        (folder / "probe").write_text("")
        return {"written": "this process may write there"}
    except PermissionError:
        pass
    house, _ = read_house(folder)
    desk, drawing = Desk(folder, "measured"), Drawing(folder)
    said = {"change": told(lambda: desk.change(edits.set_tiers, 4))}
    said |= {"headline": headline(plan(house, desk.intent), desk, "", {}).text, "save": told(desk.save)}
    said |= {"save as": told(lambda: desk.save_as("Another"))}
    said |= {"saved?": headline(plan(house, desk.intent), desk, "", {}).text}
    drawing.act({"do": "cell", "file": "rooms.csv", "at": 0, "column": "notes", "text": "tall"})
    said |= {"tables": str(drawing.unkept[0]) if drawing.unkept else ""}
    saved = drawing.save()
    said |= {"save tables": str(saved.faults[0]) if saved else ""}
    try:
        say(open_session(folder, "Ada"), "Ada", "measured", "Library", KEEP)
        said["answer"] = ""
    except HouseFault as fault:
        said["answer"] = refusal("Library", fault)
    return said | answers(house, desk, folder)


def answers(house: House, desk: Desk, folder: Path) -> dict[str, str]:
    """Try what the designer does with an answer, and to decide, on the desk as it is saved."""
    typed, desk = Typed(), Desk(folder, "measured")
    changes = Changes(desk, lambda _: None, lambda _: None, dict.fromkeys(shown(desk), lambda _: None))
    fields = panel.fields(folder, typed)
    fields.who._update("Cy Dale")
    fields.word._update("With pleasure.")
    planned = plan(house, desk.intent, read_stock(folder, house.unit))
    tell = {"spoken": lambda _: None, "sent": lambda _: None}
    found = panel.answers(panel.spoken(folder), planned, changes, typed, tell, WIDE_CHART)
    said = {}
    for act, button in (("send", found.rooms[0][1][0].buttons[-1]), ("decide", found.decide)):
        button._update(1)
        said[act] = typed[panel.SAID][1]
    return said


if __name__ == "__main__":
    print(json.dumps(main(Path(sys.argv[1]))))
