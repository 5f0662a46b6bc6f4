"""The wainscot beside a flight: stiles and boards plumb, rails and panels on the rake. All lengths are inches."""

from collections.abc import Iterator
from itertools import pairwise
from math import cos, radians
from typing import NamedTuple

from planner.library.shop_rows import Panels
from planner.trim.packages import Element
from planner.walls.bays import within
from planner.walls.parts import BOARDS, PANELS, Part
from planner.walls.solids import TOUCH, Solid, polygon
from planner.walls.stairs import Beside, Line, placed
from planner.walls.wainscot import (
    BATTENED,
    BEADED_BOARD,
    INFILL,
)

FORM = "raked wainscot"
"""What is read for a part of it that is not divided."""


class Field(NamedTuple):
    """What lies between a skirt and a raking rail; places are along the flight [in]."""

    one: Beside
    skirt: Line
    rail: Line

    @property
    def slope(self) -> float:
        """How much it rises along the wall, as a part of that."""
        return self.one.flight.rise / self.one.flight.run

    @property
    def start(self) -> float:
        """Where both its edges rake from."""
        return max(self.skirt.start, self.rail.under_start[0])

    @property
    def end(self) -> float:
        """Where both its edges rake to."""
        return min(self.skirt.end, self.rail.under_end[0])

    def low(self, along: float) -> float:
        """Its lower edge above the floor [in]: the skirt's upper edge."""
        return self.skirt.low + (min(max(along, self.skirt.start), self.skirt.end) - self.skirt.start) * self.slope

    def high(self, along: float) -> float:
        """Its upper edge above the floor [in]: the rail's underside."""
        start, foot = self.rail.under_start
        return foot + (min(max(along, start), self.rail.under_end[0]) - start) * self.slope

    def strip(self, part: Part, a: float, b: float, stands: float, lower: float = 0.0, upper: float = 0.0) -> Solid:
        """A part of it with plumb ends from a to b; `lower` and `upper` are plumb off its edges [in]."""
        corners = (
            (a, self.high(a) - upper), (a, self.low(a) + lower), (b, self.low(b) + lower), (b, self.high(b) - upper)
        )  # fmt: skip
        form = FORM if part is Part.PLAIN_WAINSCOT else ""
        return polygon(part, "wainscot", placed(self.one.flight, corners), stands)._replace(form=form)


def raked_wainscot(one: Beside, element: Element, rule: Panels) -> Iterator[Solid]:
    """The wainscot of a package beside a flight, in the same form as where it is level.

    Parameters
    ----------
    one : the flight with its skirt and its rail.
    element : the wainscot.
    rule : sizes of stiles, rails and panels.
    """
    if one.rail is None:
        return
    field, plain = Field(one, one.skirt, one.rail), Part.PLAIN_WAINSCOT
    start, end = field.start, field.end
    if end - start <= TOUCH:
        start = end = (one.dado_start + one.dado_end) / 2
    for a, b in ((one.dado_start, start), (end, one.dado_end)):
        if b - a > TOUCH:
            yield field.strip(plain, a, b, element.thickness)
    if end - start > TOUCH:
        infill = INFILL.get(element.form, plain)
        if infill in PANELS:
            yield from _panelled(field, element, infill, rule)
        elif infill in BOARDS:
            yield from _boarded(field, element, infill, rule)
        else:
            yield field.strip(plain, start, end, element.thickness)


def _panelled(field: Field, element: Element, panel: Part, rule: Panels) -> Iterator[Solid]:
    """Rails on the rake, plumb stiles and panels between; plain where no panel would find room."""
    start, end, stands = field.start, field.end, element.thickness
    plumb = 1 / cos(radians(field.one.flight.angle))
    lower, upper = rule.bottom_rail * plumb, rule.top_rail * plumb
    high, panels = field.high(start) - field.low(start), within(start, end, rule)
    if not panels or high - lower - upper < rule.least_height:
        yield field.strip(Part.PLAIN_WAINSCOT, start, end, stands)
        return
    yield field.strip(Part.BOTTOM_RAIL, start, end, stands, upper=high - lower)
    yield field.strip(Part.TOP_RAIL, start, end, stands, lower=high - upper)
    for a, b in panels:
        yield field.strip(panel, a, b, stands - rule.sink, lower, upper)
    for (_, a), (b, _) in pairwise(panels):
        yield field.strip(Part.STILE, a, b, stands, lower, upper)


def _boarded(field: Field, element: Element, board: Part, rule: Panels) -> Iterator[Solid]:
    """Plumb boards edge to edge, and battens over their joints where they have such."""
    long = field.end - field.start
    wide = rule.battens_apart + rule.batten if board in BATTENED else BEADED_BOARD
    count = max(1, round(long / wide))
    joints = [field.start + long * n / count for n in range(count + 1)]
    for a, b in pairwise(joints):
        yield field.strip(board, a, b, element.thickness)
    for joint in joints[1:-1] if board in BATTENED else ():
        a, b = joint - rule.batten / 2, joint + rule.batten / 2
        yield field.strip(Part.BATTEN, a, b, element.projection)._replace(on="wainscot")
