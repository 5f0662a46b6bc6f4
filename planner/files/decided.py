"""Copies of what was decided: folders that are read, and in which nobody writes."""

import os
from pathlib import Path

from planner.files.problems import HouseFault, Problem

DECIDED = "reviews/decided"
"""Where in the folder of a house such copies stand, each in a folder of its own."""


def is_decided(path: Path) -> bool:
    """Whether a folder is a copy of what was decided, or a path is in one.

    >>> is_decided(Path("house/reviews/decided/2030-01-01 formal 1a2b3c4d/rooms.csv")), is_decided(Path("house"))
    (True, False)
    """
    place = Path(os.path.realpath(path))
    return any(f"{above.parent.parent.name}/{above.parent.name}" == DECIDED for above in (place, *place.parents))


def refuse_decided(path: Path) -> None:
    """Let nobody write in a copy of what was decided. Raises HouseFault where the path is one or is in one."""
    if is_decided(path):
        message = "nothing was written: this is a locked copy of what was decided"
        remedy = "open the house that it stands in, or copy this folder to another place and work there"
        raise HouseFault([Problem(str(path), None, None, message, remedy)])
