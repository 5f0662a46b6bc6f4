"""What is noted of a room, with its photographs, as pages and papers set it beside what is planned."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from planner.files.problems import HouseFault
from planner.house.model import House
from planner.house.notes import FOLDER, Note, read_notes, small_picture
from planner.walls.layout import WallLayout

KEPT = 256
"""Small pictures that are kept from one showing to the next."""


@dataclass(frozen=True)
class Photograph:
    """A photograph as an upright JPEG, under the name that it has among the notes."""

    name: str
    jpeg: bytes


@dataclass(frozen=True)
class Noted:
    """A note and its photographs, those that can be read."""

    note: Note
    photographs: tuple[Photograph, ...]

    @property
    def title(self) -> str:
        """What it is a note on, in words."""
        return f"{self.note.opening}, from {self.note.room}" if self.note.opening else self.note.room


def room_notes(folder: str | Path, house: House, room: str, longest: int, client: bool = False) -> tuple[Noted, ...]:
    """What is noted of a room, and after that of its openings in the house's order.

    Parameters
    ----------
    folder : of the house.
    house : whose notes they are.
    room : one of its rooms.
    longest : the longest side of a photograph. [px]
    client : whether only what is marked for the client is given.

    Examples
    --------
    >>> from planner import demo_house, read_house
    >>> room_notes(demo_house(), read_house(demo_house())[0], "Library", 640)
    ()
    """
    notes, _ = read_notes(folder, house)
    places = [(room, ""), *((room, opening.name) for opening in house.openings)]
    found = [notes[place] for place in places if place in notes]
    return tuple(
        Noted(note, _photographs(Path(folder), note, longest)) for note in found if note.for_client or not client
    )


def best_wall(layouts: Sequence[WallLayout], opening: str = "") -> WallLayout:
    """The wall of a room that shows most of it: that of an opening, where one is named and has its place on one; else
    that with the fireplace, with the most openings, or the longest."""

    def rank(wall: WallLayout) -> tuple[bool, bool, int, float]:
        standing = [surround.aperture for surround in wall.surrounds]
        named = any(one.name == opening for one in standing)
        return named, any(one.kind == "fireplace" for one in standing), len(standing), wall.length

    return max(layouts, key=rank)


def _photographs(folder: Path, note: Note, longest: int) -> tuple[Photograph, ...]:
    found = []
    for name in note.pictures:
        try:
            state = (folder / FOLDER / name).stat()
            found.append(Photograph(name, _small(folder, name, longest, state.st_mtime_ns, state.st_size)))
        except (OSError, HouseFault):  # told by the check of the house's folder
            continue
    return tuple(found)


@lru_cache(maxsize=KEPT)
def _small(folder: Path, name: str, longest: int, _changed: int, _size: int) -> bytes:
    return small_picture(folder, name, longest)
