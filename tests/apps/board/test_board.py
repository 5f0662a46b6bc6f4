"""What is sent to a board that no board sends does nothing, and holds up nothing that comes after it."""

from math import inf

import pytest

from planner.apps.drawing import Drawing
from planner.apps.panels.house import board


@pytest.fixture
def drawing(folder):
    return Drawing(folder)


@pytest.fixture
def live(drawing):
    """The board of the drawing."""
    return board(drawing, dict.fromkeys(("refusal", "news", "opened", "drawn"), lambda _: None)).widget


CEILING = {"do": "cell", "file": "rooms.csv", "at": 1, "column": "ceiling", "text": "9'"}

BEYOND = [
    {"do": "pick", "at": inf},
    {"do": "cell", "file": "rooms.csv", "at": 0, "column": "room", "text": "Den", "seen": inf},
    {"do": "move", "at": 0, "by": [10**400, 0], "dragged": True},
    {"do": "move", "at": 0, "by": [1e308, 1e308], "dragged": False},
    {"do": "remove", "file": "rooms.csv", "at": -1},
    {"do": "paste", "file": "rooms.csv", "at": -1, "column": "room", "text": "Den"},
]


@pytest.mark.parametrize("gesture", BEYOND)
def test_what_no_board_tells_is_refused_and_what_comes_after_it_is_done(drawing, live, gesture):
    before = drawing.sketch
    live._handle_custom_msg({"number": 1, "gestures": [gesture]}, [])
    assert drawing.sketch == before
    assert "out of step" in live.said["news"] and live.said["is_refused"]
    live._handle_custom_msg({"number": 2, "gestures": [gesture, "undo", None, CEILING]}, [])
    assert drawing.sketch.rooms[1]["ceiling"] == "9'" and live.answered == 2


@pytest.mark.parametrize(
    "message", [{}, {"gestures": []}, {"number": 3}, {"gestures": {}, "number": 3}, {"gestures": [], "number": "3"}, []]
)
def test_a_message_that_no_board_sends_is_none(live, message):
    live._handle_custom_msg(message, [])
    assert live.answered == 0
