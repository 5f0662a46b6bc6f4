"""What was said of a room under an old name is found under the one that it has now."""

from datetime import UTC, datetime, timedelta

import pytest

from planner.intent.renamed import RENAMED, Names, Renaming, names_of
from planner.intent.renaming import rename_room
from tests.house.conftest import folder

__all__ = ["folder"]

DAY = datetime(2030, 1, 1, tzinfo=UTC)


def days(number: float) -> datetime:
    return DAY + timedelta(days=number)


def renamings(*pairs: str) -> tuple[Renaming, ...]:
    """One renaming a day, each as "old>new"."""
    return tuple(Renaming(days(n), *pair.split(">")) for n, pair in enumerate(pairs, start=1))


@pytest.mark.parametrize(
    ("pairs", "rooms", "room", "day", "now"),
    [
        (["A>B"], "BX", "A", 0, "B"),
        (["A>B"], "BX", "X", 0, "X"),
        (["A>B", "B>C"], "CX", "A", 0, "C"),
        (["A>B", "B>C"], "CX", "B", 1.5, "C"),
        (["A>B"], "BX", "A", 9, "B"),  # from a page opened before
        (["A>B"], "AB", "A", 9, "A"),  # another room has the name since
        (["A>B"], "AB", "A", 0, "B"),
        (["A>C", "B>A", "C>B"], "AB", "A", 0, "B"),  # two rooms that have changed names
        (["A>C", "B>A", "C>B"], "AB", "B", 0, "A"),
        (["A>C", "B>A", "C>B"], "AB", "A", 9, "A"),
        (["A>C", "B>A", "C>B", "B>D"], "AD", "B", 3.5, "D"),  # what one was called before is the other's name now
        (["A>B", "X>A", "A>D"], "BD", "A", 1.5, "B"),  # from a page opened before, when no room was called so
        (["A>B", "B>A"], "AX", "A", 0, "A"),
        (["A>B", "B>A"], "AX", "B", 9, "A"),
    ],
)
def test_a_name_is_followed_from_when_it_was_said(pairs, rooms, room, day, now):
    assert Names(renamings(*pairs), frozenset(rooms)).now(room, days(day)) == now


def test_renamings_are_added_and_none_is_rewritten(folder):
    before = datetime.now(UTC)
    rename_room(folder, "Lobby", "Porch")
    first = (folder / RENAMED).read_bytes()
    rename_room(folder, "Porch", "Hall \N{SLIGHTLY SMILING FACE}")
    assert (folder / RENAMED).read_bytes().startswith(first)
    problems = []
    names = names_of(folder, problems)
    assert names.now("Lobby", before) == "Hall \N{SLIGHTLY SMILING FACE}" and problems == []


def test_a_torn_or_forged_record_costs_only_itself(folder):
    before = datetime.now(UTC)
    rename_room(folder, "Lobby", "Porch")
    data = (folder / RENAMED).read_bytes()
    forged = b'{"time": "never", "room": "Porch", "renamed": "x"}\n{"room": 3}\n[]\n' + b"[" * 90_000 + b"\n"
    (folder / RENAMED).write_bytes(forged + data + b'{"time": "20')
    rename_room(folder, "Porch", "Hall")
    problems = []
    assert names_of(folder, problems).now("Lobby", before) == "Hall"
    assert sorted(problem.row for problem in problems) == [1, 2, 3, 4, 6]
