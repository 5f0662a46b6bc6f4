"""What both faces of a passage show alike: the leaf that hangs in it. All lengths are inches."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.library import Library
from planner.trim.packages import Package
from planner.walls.layout import WallLayout
from planner.walls.openings import DOORS, Aperture, Surround, filling


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


def hanging(a: Aperture, own: Package, packages: Mapping[str, Package]) -> Package:
    """The package whose leaf hangs in an opening of a room of its `own`: that of the higher of the two rooms that a
    door joins."""
    beyond = packages.get(a.other) if a.kind in DOORS else None
    return (beyond if beyond is not None and beyond.tier > own.tier else own).at(a.name)


def _hung(layout: WallLayout, packages: Mapping[str, Package], library: Library) -> WallLayout:
    surrounds = tuple(_surround(s, layout.package, packages, library) for s in layout.surrounds)
    return layout if _same(surrounds, layout.surrounds) else replace(layout, surrounds=surrounds)


def _surround(around: Surround, own: Package, packages: Mapping[str, Package], library: Library) -> Surround:
    """What stands round an opening, with the leaf of the room beyond where that has the higher tier."""
    a = around.aperture
    higher = hanging(a, own, packages)
    if higher is own.at(a.name):
        return around
    hangs = filling(a, higher, library)
    return around if hangs == around.filling else replace(around, filling=hangs)


def _same(some: Sequence[Surround], others: Sequence[Surround]) -> bool:
    return all(one is other for one, other in zip(some, others, strict=True))
