"""What both faces of a passage show alike: the leaf that hangs in it. All lengths are inches."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.library import Library
from planner.trim.packages import Package
from planner.walls.layout import WallLayout
from planner.walls.openings import DOORS, Surround, filling


def with_leaves(
    layouts: tuple[WallLayout, ...], packages: Mapping[str, Package], library: Library
) -> tuple[WallLayout, ...]:
    """The walls of a room, each door in them with the leaf of the higher of the two rooms that it joins.

    Parameters
    ----------
    layouts : the walls, each opening with what the room's own tier hangs in it.
    packages : of every room, by its name.
    library : what the trade knows.

    References
    ----------
    Common practice: a door is one piece of work, and like its jamb it is the higher room's on both faces.
    """
    return tuple(_hung(layout, packages, library) for layout in layouts)


def _hung(layout: WallLayout, packages: Mapping[str, Package], library: Library) -> WallLayout:
    surrounds = tuple(_surround(s, layout.package, packages, library) for s in layout.surrounds)
    return layout if _same(surrounds, layout.surrounds) else replace(layout, surrounds=surrounds)


def _surround(around: Surround, own: Package, packages: Mapping[str, Package], library: Library) -> Surround:
    """What stands round an opening, with the leaf of the room beyond where that has the higher tier."""
    a = around.aperture
    beyond = packages.get(a.other) if a.kind in DOORS else None
    if beyond is None or beyond.tier <= own.tier:
        return around
    hangs = filling(a, beyond.at(a.name), library)
    return around if hangs == around.filling else replace(around, filling=hangs)


def _same(some: Sequence[Surround], others: Sequence[Surround]) -> bool:
    return all(one is other for one, other in zip(some, others, strict=True))
