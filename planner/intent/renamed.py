"""What rooms were called before: a record that is added to with each renaming, so that what was said of a room under an
old name is found under the new one, and nothing that was said is ever rewritten."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from planner.files.csv_tables import parse_table
from planner.files.journal import is_there
from planner.files.json_lines import Record, read_records, record_line, tell_lines
from planner.files.problems import Problem
from planner.files.storage import bytes_before, read_bytes
from planner.house.faults import ROOMS
from planner.house.folder import REVIEWS

RENAMED = f"{REVIEWS}/renamed rooms.jsonl"
"""The file of renamings in a house folder."""


@dataclass(frozen=True)
class Renaming:
    """A room that was called otherwise up to a time."""

    time: datetime
    old: str
    new: str


@dataclass(frozen=True)
class Names:
    """What the rooms of a house are called, and every renaming, earliest first."""

    renamings: tuple[Renaming, ...] = ()
    rooms: frozenset[str] = frozenset()

    def now(self, room: str, said: datetime) -> str:
        """What a room is called now that was called so when something was said of it.

        A page that was opened before a renaming goes on saying the old name: that name is followed too, as long as no
        room has it.

        >>> at = datetime(2030, 5, 1, tzinfo=UTC)
        >>> names = Names((Renaming(at, "Hall", "Lobby"),), frozenset({"Lobby"}))
        >>> names.now("Hall", datetime(2030, 4, 1, tzinfo=UTC)), names.now("Hall", datetime(2030, 6, 1, tzinfo=UTC))
        ('Lobby', 'Lobby')
        """
        later = [renaming for renaming in self.renamings if said <= renaming.time]
        followed = _followed(room, later)
        if _traced_back(followed, later) == room and (followed != room or room in self.rooms):
            return followed  # a room was called so then, whatever other had the name before or has it since
        for renaming in self.renamings:
            if renaming.old == room and (said <= renaming.time or room not in self.rooms):
                room = renaming.new
        return room

    def then(self, room: str, sent: datetime, said: datetime) -> str:
        """What a room was called when something was said of it, on a page that calls it as it was called when that was
        sent: by then its old name may be that of another room.

        >>> first, second = datetime(2030, 5, 1, tzinfo=UTC), datetime(2030, 5, 2, tzinfo=UTC)
        >>> names = Names((Renaming(first, "Hall", "Lobby"), Renaming(second, "Den", "Hall")))
        >>> names.then("Hall", datetime(2030, 4, 1, tzinfo=UTC), datetime(2030, 6, 1, tzinfo=UTC))
        'Lobby'
        """
        return _followed(room, (renaming for renaming in self.renamings if sent <= renaming.time < said))


def _followed(room: str, renamings: Iterable[Renaming]) -> str:
    """What a room is called after renamings, earliest first."""
    for renaming in renamings:
        if renaming.old == room:
            room = renaming.new
    return room


def _traced_back(room: str, renamings: Sequence[Renaming]) -> str:
    """What a room was called before renamings, earliest first."""
    for renaming in reversed(renamings):
        if renaming.new == room:
            room = renaming.old
    return room


def with_renamings(folder: Path, renamed: Mapping[str, str]) -> bytes:
    """The file of renamings of a house folder with some more, made at once: what rooms are called by what they were.

    Raises HouseFault where there is no such file that can be read.
    """
    before = bytes_before(folder / RENAMED, RENAMED) or b""
    gap = b"" if not before or before.endswith(b"\n") else b"\n"
    now = datetime.now(UTC)
    lines = [
        record_line(
            {
                "time": (now + timedelta(microseconds=at)).isoformat(timespec="microseconds"),
                "room": old,
                "renamed": new,
            }
        )
        for at, (old, new) in enumerate(one_by_one(renamed))
    ]
    return before + gap + b"".join(lines)


def one_by_one(renamed: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Renamings made at once as ones that can be made one after the other; rooms that change names go by way of a name
    that no room has.

    >>> list(one_by_one({"Den": "Study", "Study": "Office"}))
    [('Study', 'Office'), ('Den', 'Study')]
    >>> list(one_by_one({"Den": "Study", "Study": "Den"}))
    [('Den', 'Den (was)'), ('Study', 'Den'), ('Den (was)', 'Study')]
    """
    left = dict(renamed)
    while left:
        old = next((old for old, new in left.items() if new not in left), None)
        if old is None:
            old, new = next(iter(left.items()))
            aside = f"{old} (was)"
            while aside in left or aside in left.values():
                aside += "*"
            yield old, aside
            del left[old]
            left[aside] = new
        else:
            yield old, left.pop(old)


def names_of(folder: Path, problems: list[Problem]) -> Names:
    """What the rooms of a house are and were called; lines that cannot be read are told and passed over."""
    path = folder / RENAMED
    try:
        if not is_there(path):
            return Names()
    except OSError:
        pass  # told when it is read
    renamings, faults = list[Renaming](), dict[int, str]()
    for record in read_records(path, problems):
        try:
            renamings.append(_renaming(record))
        except (TypeError, ValueError, KeyError):
            faults[record.line] = "is no renaming of a room"
    tell_lines(path, faults, problems)
    return Names(_in_order(renamings), room_names(folder))


def called_now(folder: Path, gone: Collection[str]) -> dict[str, str]:
    """What rooms that are `gone` from a house are called now, by what they were called; as they were where nobody has
    renamed them.
    """
    names, now = names_of(folder, []) if gone else Names(), datetime.now(UTC)
    return {room: names.now(room, now) for room in gone}


def room_names(folder: Path) -> frozenset[str]:
    """What the rooms of a house are called, whatever else is faulty in their table."""
    data = read_bytes(folder / ROOMS, ROOMS, []) or b""
    return frozenset(row["room"] for row in parse_table(data, ROOMS, ("room",), [], ("room",)))


def moment(text: str) -> datetime:
    """A time in ISO 8601, in UTC where it names no zone. Raises ValueError where it is none."""
    try:
        said = datetime.fromisoformat(text)
        return said.astimezone(UTC) if said.tzinfo else said.replace(tzinfo=UTC)
    except (ValueError, OverflowError):
        raise ValueError("its time is none") from None


def _renaming(record: Record) -> Renaming:
    values = record.values
    old, new = values["room"], values["renamed"]
    if not isinstance(old, str) or not isinstance(new, str):
        raise TypeError
    return Renaming(moment(values["time"]), old, new)


def _in_order(renamings: Iterable[Renaming]) -> tuple[Renaming, ...]:
    return tuple(sorted(renamings, key=lambda renaming: renaming.time))
