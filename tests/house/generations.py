"""A house written again and again, each time so that every one of its files says which time it was."""

import os
from collections.abc import Generator
from dataclasses import replace
from pathlib import Path

from planner import House, Wish, list_intents, read_house, read_intent, rename_room, write_house, write_intent
from planner.record.entries import KEEP
from planner.record.keeping import open_session, read_record, say

FIRST = "Library"
"""The room that is renamed, as it is called at first."""


def begun(folder: Path) -> None:
    """Have a fresh copy of the demo house say that it was not written yet, with a draft and an answer of the room."""
    house, _ = read_house(folder)
    write_house(of_generation(house, 0), folder)
    intent = read_intent(folder, "measured")
    write_intent(replace(intent, rooms={**intent.rooms, FIRST: Wish(lowest=1)}), folder, "measured.draft")
    write_intent(replace(intent, rooms={**intent.rooms, FIRST: Wish(lowest=1)}), folder, "measured")
    say(open_session(folder, "Ada"), "Ada", "measured", FIRST, KEEP)


def of_generation(house: House, number: int) -> House:
    """A house in which house.toml, rooms, openings, fixtures and stairs all say a number."""
    return replace(
        house,
        name=f"House {number}",
        rooms=tuple(replace(room, notes=f"{number}") for room in house.rooms),
        openings=tuple(replace(o, width=30 + number % 8 / 8) if o.kind == "door" else o for o in house.openings),
        fixtures=tuple(replace(fixture, notes=f"{number}") for fixture in house.fixtures),
        flights=tuple(replace(flight, notes=f"{number}") for flight in house.flights),
    )


def generations(folder: Path) -> set[int | None]:
    """The numbers that a folder's files say; one where all is of one write. None where there is no such number."""
    house, _ = read_house(folder)
    number = int(house.name.removeprefix("House "))
    notes = [each.notes for table in (house.rooms, house.fixtures, house.flights) for each in table]
    said = set(map(int, notes))
    widths = {o.width for o in house.openings if o.kind == "door"}
    return {number, *said, number if widths == {30 + number % 8 / 8} else None}


def names(folder: Path) -> set[str]:
    """What the renamed room is called wherever it is named; one where all is of one renaming."""
    house, _ = read_house(folder)
    mine = {name for name in house.by_name if name.startswith(FIRST)}
    wished = {
        name
        for alternative in (*list_intents(folder), "measured.draft")
        for name in read_intent(folder, alternative).rooms
        if name.startswith(FIRST)
    }
    said = {answer.room for answer in read_record(folder)[0]}
    return mine | wished | said


def write_on(folder: Path, acknowledged: int) -> Generator[None, None, None]:
    """Write the next generation, then rename the room, for ever; the number of each is acknowledged to a pipe."""
    while True:
        house, _ = read_house(folder)
        number = int(house.name.removeprefix("House ")) + 1
        write_house(of_generation(house, number), folder)
        os.write(acknowledged, b"w%d\n" % number)
        yield
        (old,) = (name for name in house.by_name if name.startswith(FIRST))
        rename_room(folder, old, f"{FIRST} {number}")
        os.write(acknowledged, b"r%d\n" % number)
        yield
