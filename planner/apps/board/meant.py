"""What is meant by what is done on the board: it is done to the house as the board shows it, which is told of nothing
while the page is at work."""

from collections import deque
from collections.abc import Mapping
from itertools import count
from typing import Any

from planner.house.faults import ROOMS
from planner.house.since import level_since, row_since
from planner.house.sketch import Sketch

STEPS = 200
"""So many steps may be done before the board shows the first of them."""


class Meant:
    """The sketches that the board was shown, and the steps between, each by its number."""

    def __init__(self) -> None:
        self._numbers, self._sketches = count(), deque[tuple[int, Sketch]](maxlen=STEPS)

    def moment(self, sketch: Sketch) -> int:
        """The number of a sketch that is the latest now, which what is done to it comes back with."""
        if not self._sketches or self._sketches[-1][1] is not sketch:
            self._sketches.append((next(self._numbers), sketch))
        return self._sketches[-1][0]

    def now(self, gesture: Mapping[str, Any], sketch: Sketch) -> dict[str, Any]:
        """What was done to the house of the moment that was `seen`, as it is to be done to the latest sketch.

        Raises ValueError where the row or the level that it was done to is gone, or nobody knows any more which it was.
        """
        seen, made = int(gesture.get("seen", self.moment(sketch))), dict(gesture)
        if seen < self._sketches[0][0]:
            raise ValueError("too much was done since the board was drawn: load the page again")
        since = [each for number, each in self._sketches if number >= seen]
        if "at" in gesture:
            if (at := int(gesture["at"])) < 0:
                raise IndexError(at)
            made["at"] = row_since(since, str(gesture.get("file", ROOMS)), at)
        if "level" in gesture and gesture["do"] != "add level":
            made["level"] = level_since(since, str(gesture["level"]))
        if None in (made.get("at", 0), made.get("level", "")):
            raise ValueError("what that was done to is gone: it was removed just before")
        return made
