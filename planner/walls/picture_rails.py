"""How high a picture rail runs round a room: on the heads of its openings, or clear above them. In inches."""

from collections.abc import Iterable

from planner.library import Library
from planner.trim.packages import Package
from planner.walls.openings import Surround
from planner.walls.solids import TOUCH


def bottom(package: Package, surrounds: Iterable[Surround], library: Library) -> float | None:
    """Lower edge of a room's picture rail above the floor.

    Parameters
    ----------
    package : the room's trim.
    surrounds : what stands round the openings of all its walls.
    library : how much plain wall is left between two mouldings.

    Returns
    -------
    The package's own height, or where a head would stop the rail the lowest above it at which the rail stands on the
    heads or clear above them all. Where no such place is left below the crown, or the designer has said the height,
    the package's own; None where the package has no rail. [in]

    References
    ----------
    Common practice: on the heads, or clear above them.
    """
    rail, crown = package.element("picture rail"), package.element("crown")
    if rail is None or rail.bottom is None:
        return None
    own, least = rail.bottom, library.surrounds.apart.inches
    tops = [s.top for s in surrounds if s.solids and s.aperture.kind != "fireplace"]
    if rail.placed:
        return own
    highest = package.ceiling - (crown.size if crown is not None else 0.0) - rail.size - least
    wanted = sorted({own, *tops, *(top + least for top in tops)})
    free = (y for y in wanted if own <= y <= highest and all(_clear(y, top, least) for top in tops))
    return next(free, own)


def _clear(y: float, top: float, least: float) -> bool:
    """Whether a rail at a height stands on a head, or far enough above it [in]."""
    return abs(y - top) <= TOUCH or y - top >= least - TOUCH
