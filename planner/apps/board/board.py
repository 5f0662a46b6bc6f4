"""The drawing board as a widget: it shows what it is told of a house and tells what is done to it, and knows no more.

Its scripts stand beside this file and are one module in the browser, joined as they are.
"""

from collections.abc import Callable, Mapping, Sequence
from importlib import resources
from typing import Any

import anywidget
import traitlets

SCRIPTS = ("parts.js", "form.js", "plan.js", "table.js", "reading.js", "board.js")
"""The scripts in the order in which they stand in the module."""

PARTS = ("form", "plan", "table", "reading", "said")
"""What the board is told, part by part."""

Gesture = Mapping[str, Any]
"""What was done on the board: the key "do" says what, the others to what."""


def _text(*names: str) -> str:
    here = resources.files("planner.apps.board")
    return "\n".join((here / name).read_text("utf-8") for name in names)


class Board(anywidget.AnyWidget):
    """The board on one screen; `told` is called with what was done since it was called last, in its order.

    `answered` is the number of the sending that is shown: until it is the last, the page keeps what is in the hand.
    """

    _esm = _text(*SCRIPTS)
    _css = _text("board.css")

    form = traitlets.Dict().tag(sync=True)
    plan = traitlets.Dict().tag(sync=True)
    table = traitlets.Dict().tag(sync=True)
    reading = traitlets.Dict().tag(sync=True)
    said = traitlets.Dict().tag(sync=True)
    answered = traitlets.Int().tag(sync=True)

    def __init__(self, told: Callable[[Sequence[Gesture]], None]):
        super().__init__()
        self._told = told
        self.on_msg(lambda _, sent, __: self._take(sent))

    def _take(self, sent: object) -> None:
        match sent:  # what is anything else was sent by no board
            case {"gestures": [*gestures], "number": int(number)}:
                with self.hold_sync():
                    self._told([gesture for gesture in gestures if isinstance(gesture, Mapping)])
                    self.answered = number

    def show(self, shown: Mapping[str, Mapping[str, Any]]) -> None:
        """Tell the browser of those parts that have changed."""
        with self.hold_sync():
            for part, state in shown.items():
                if getattr(self, part) != state:
                    setattr(self, part, state)
