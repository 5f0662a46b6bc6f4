"""A room's best wall as it is planned, one step plainer and one step richer, at one scale. Lengths in inches."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planner.drawings.elevation import wall
from planner.drawings.measures import CUT
from planner.drawings.perspective import walls_seen
from planner.drawings.scale import Scale, paper
from planner.drawings.scene import Box, Scene
from planner.drawings.svg import MARGIN
from planner.library import Library
from planner.look import theme
from planner.planning.answer import Plan
from planner.planning.differences import differences
from planner.record.one_step import OneStep, Toward, one_step
from planner.units import format_length, listed
from planner.walls.layout import WallLayout

LEAST = 280.0
"""Walls stand side by side where each finds so much width [px], else one below the other."""

TALLEST = 0.8
"""A wall is drawn no higher than this part of the width of its page."""


@dataclass(frozen=True)
class Side:
    """One of three drawings of a wall.

    `scene` is None where the step cannot be had; `says` is what differs from what is planned, or why there is none.
    """

    which: Literal["plainer", "planned", "richer"]
    scene: Scene | None
    says: str
    step: OneStep | None = None


@dataclass(frozen=True)
class Beside:
    """A room's best wall as it is planned, one step plainer before that and one step richer after.

    All scenes are of one size and scale; `abreast` says that they stand side by side on the page that they are for.
    """

    room: str
    wall: str
    sides: tuple[Side, Side, Side]
    abreast: bool


def beside(planned: Plan, room: str, page: float = 700.0) -> Beside:
    """A room's best wall as it is planned, one step plainer and one step richer.

    Parameters
    ----------
    planned : a feasible plan.
    room : the room's name.
    page : how wide a page they are for. [px]

    Raises
    ------
    KeyError : the plan has no such room.

    Notes
    -----
    The best wall is the one with a chimneypiece; else, of those seen from the door, that on which trim takes the most.
    A step is what `one_step` says; the walls are those of the plan that it leads to.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> [side.says for side in beside(planned, "Library").sides][:2]
    ['A library is given no plainer trim than this.', 'As planned']
    """
    here = best_wall(planned.walls[room], walls_seen(planned, room))
    both: tuple[Toward, Toward] = ("plainer", "richer")
    plainer, richer = (one_step(planned, room, toward) for toward in both)
    count = 1 + sum(step.planned is not None for step in (plainer, richer))
    column = page / count
    abreast = column >= LEAST
    wide, high = here.length + 2 * CUT, here.ceiling + 2 * CUT
    across = column if abreast else page
    pixels = min((across - 2 * MARGIN) / wide, (TALLEST * page - 2 * MARGIN) / high, paper(here.unit).pixels)
    now = Side("planned", _scene(here, f"{room}, as planned", pixels, planned.library), "As planned")
    return Beside(
        room, here.wall, (_side(planned, plainer, here, pixels), now, _side(planned, richer, here, pixels)), abreast
    )


def best_wall(layouts: Sequence[WallLayout], seen: Sequence[str]) -> WallLayout:
    """The wall that shows most of a room's trim: one with a chimneypiece, else of those seen from the door that on
    which trim takes the most; of two alike the longer."""

    def worth(one: WallLayout) -> tuple[bool, bool, float, float]:
        hearth = any(a.kind == "fireplace" and a.is_open for a in one.apertures)
        return hearth, one.wall in seen, sum(s.width * s.height for s in one.solids), one.length

    return max(layouts, key=worth)


def _side(planned: Plan, step: OneStep, here: WallLayout, pixels: float) -> Side:
    """The same wall one step away, and what differs in the room."""
    if step.planned is None:
        return Side(step.toward, None, step.why, step)
    after = step.planned.walls[step.room]
    there = next(one for one in after if one.wall == here.wall)
    found = differences(planned.walls[step.room], after, planned.library)
    says = f"{step.toward.capitalize()}: {found or 'nothing that shows in this room'}"
    scene = _scene(there, f"{step.room}, a little {step.toward}", pixels, planned.library)
    return Side(step.toward, scene, says, step)


def _scene(layout: WallLayout, title: str, pixels: float, library: Library) -> Scene:
    """A wall without a word, at so many pixels to an inch."""
    scale = Scale(theme.PIXELS_PER_INCH / pixels, layout.unit)
    box = Box(-CUT, -CUT, layout.length + CUT, layout.ceiling + CUT)
    return Scene(tuple(wall(layout, scale)), title, _described(layout, library), pixels, box, layout.unit)


def _described(layout: WallLayout, library: Library) -> str:
    """What a wall shows, in words that need no trade."""
    trim = listed([library.element(e.element).told for e in layout.package.elements if library.element(e.element).seen])
    length = format_length(layout.length, layout.unit)
    return f"Wall {layout.wall} of {layout.room}, {length} long, with {trim or 'no trim'}."
