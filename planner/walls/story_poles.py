"""Story poles: the heights of a package, marked on one stick that is carried from wall to wall. In inches."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.values import Kept
from planner.walls.layout import WallLayout
from planner.walls.openings import CASED, Aperture, Surround
from planner.walls.parts import Part
from planner.walls.solids import Solid

CLOSE = 1 / 32
"""Heights nearer than this are one mark [in]."""

RUNNING = {
    Part.SHOE: ("", "top of shoe"),
    Part.BASE: ("", "top of base"),
    Part.CHAIR_RAIL: ("foot of chair rail", "top of chair rail"),
    Part.PLATE_RAIL: ("foot of plate rail", "top of plate rail"),
    Part.HEAD_BAND: ("foot of head band", "top of head band"),
    Part.PICTURE_RAIL: ("foot of picture rail", "top of picture rail"),
    Part.FLAT_PANEL: ("foot of panels", "head of panels"),
    Part.RAISED_PANEL: ("foot of panels", "head of panels"),
    Part.WALL_PANEL: ("foot of wall panels", "head of wall panels"),
}
"""What is marked of what runs along the walls: its foot and its top, "" for what is not."""

ROUND = {
    Part.PLINTH_BLOCK: ("", "top of plinth block"),
    Part.HEAD: ("", "top of head casing"),
    Part.UPRIGHT: ("underside of ears", ""),
    Part.UPPER_LEG: ("underside of ears", ""),
    Part.STOOL: ("", "top of stool"),
    Part.APRON: ("foot of apron", ""),
    Part.OVERDOOR: ("", "top of overdoor"),
    Part.WINDOW_HEAD: ("", "top of window head"),
    Part.MANTEL_SHELF: ("", "top of mantel shelf"),
    Part.OVERMANTEL_FRAME: ("foot of overmantel", "top of overmantel"),
}
"""The same of what goes round an opening."""

KINDS = {"window": "windows", "fireplace": "fireplaces"} | dict.fromkeys(CASED, "doorways")
"""What the openings of a kind are called together; of any other kind, passages."""


@dataclass(frozen=True)
class Mark:
    """A mark of a story pole.

    Parameters
    ----------
    name : what is at that height.
    height : above the finished floor. [in]
    where : the rooms or openings that it is for, none where there is one height of that name alone.
    """

    name: str
    height: float
    where: tuple[str, ...] = ()


@dataclass(frozen=True)
class StoryPole(Kept):
    """All heights of a package on one stick, from the floor up to the ceiling [in]."""

    layouts: tuple[WallLayout, ...]

    __hash__ = Kept.__hash__

    @property
    def ceiling(self) -> float:
        """How long the stick is [in]."""
        return self.layouts[0].ceiling

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Its marks, from the lowest up; the floor is 0 and has none."""
        found: dict[str, dict[float, dict[str, None]]] = {}
        for layout in self.layouts:
            for name, height, where in _heights(layout):
                levels = found.setdefault(name, {})
                level = next((y for y in levels if abs(y - height) < CLOSE), height)
                levels.setdefault(level, {})[where] = None
        marks = [
            Mark(name, height, tuple(where) if len(levels) > 1 else ())
            for name, levels in found.items()
            for height, where in levels.items()
        ]
        return (*sorted(marks, key=lambda m: (m.height, m.name)), Mark("ceiling", self.ceiling))


def story_pole(layouts: Sequence[WallLayout]) -> StoryPole:
    """The story pole of the walls of all rooms that have one package.

    Raises
    ------
    ValueError : there are no walls, or their ceilings differ.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> planned = plan(read_house(demo_house())[0])
    >>> [mark.name for mark in story_pole(planned.walls["Coat Closet"]).marks][:2]
    ['top of shoe', 'top of base']
    """
    if len({layout.ceiling for layout in layouts}) != 1:
        raise ValueError("a story pole is for walls under one ceiling")
    return StoryPole(tuple(layouts))


def _heights(layout: WallLayout) -> Iterator[tuple[str, float, str]]:
    """Names and heights [in] of what is on a wall, and the room or the opening that each is of."""
    crown = dict.fromkeys((s.form, s.y0) for s in layout.solids if s.part is Part.CROWN)
    for form, y in crown:
        yield f"foot of {form if len(crown) > 1 else 'crown'}", y, layout.room
    if not layout.stairs and layout.half_turn is None:
        for s in layout.solids:
            if not s.opening and s.part in RUNNING:
                yield from ((name, y, layout.room) for name, y in _edges([s], RUNNING[s.part]))
    for around in layout.surrounds:
        for name, y in _opening(around):
            yield f"{name}, {_kind(around.aperture)}", y, around.aperture.name


def _opening(around: Surround) -> Iterator[tuple[str, float]]:
    """Names and heights [in] of an opening and of what goes round it."""
    a = around.aperture
    if a.is_open:
        yield "head", a.y1
        if a.y0 > 0:
            yield "sill", a.y0
    for part, names in ROUND.items():
        if of_part := [s for s in around.solids if s.part is part]:
            yield from _edges(of_part, names)


def _edges(solids: Sequence[Solid], names: tuple[str, str]) -> Iterator[tuple[str, float]]:
    """The foot of the lowest and the top of the highest, those that have a name."""
    foot, top = names
    if foot:
        yield foot, min(s.y0 for s in solids)
    if top:
        yield top, max(s.y1 for s in solids)


def _kind(a: Aperture) -> str:
    return KINDS.get(a.kind, "passages")
