"""What is noted of a room, with its photographs, as pages and papers set it beside what is planned."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from planner.files.problems import HouseFault
from planner.house.model import House
from planner.house.notes import FOLDER, Note, Notes, read_notes, small_picture
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
    """A note and its photographs, those that can be read; so many pictures more were `left` in the folder."""

    note: Note
    photographs: tuple[Photograph, ...]
    left: int = 0

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
    found = notes_of((room,), read_notes(folder, house)[0], house)
    return tuple(
        Noted(note, _photographs(Path(folder), note, longest)) for note in found if note.for_client or not client
    )


def house_notes(folder: str | Path, house: House, rooms: Iterable[str], longest: int, most: int) -> tuple[Noted, ...]:
    """What is noted of some rooms, as `room_notes` has it of one, with no more than the first `most` pictures."""
    found = list[Noted]()
    for note in notes_of(rooms, read_notes(folder, house)[0], house):
        taken = note.pictures[: max(0, most)]
        most -= len(taken)
        shown = _photographs(Path(folder), replace(note, pictures=taken), longest)
        found.append(Noted(note, shown, len(note.pictures) - len(taken)))
    return tuple(found)


def notes_of(rooms: Iterable[str], notes: Notes, house: House) -> list[Note]:
    """The notes on some rooms in their order, each followed by those on its openings in the house's order."""
    room_at = {room: at for at, room in enumerate(rooms)}
    opening_at = {"": -1} | {opening.name: at for at, opening in enumerate(house.openings)}
    own = (note for note in notes.values() if note.room in room_at)
    return sorted(own, key=lambda note: (room_at[note.room], opening_at[note.opening]))


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
