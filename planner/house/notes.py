"""Notes on rooms and openings, with photographs: read with every fault told, changed one at a time, all or none.

They are no facts that a plan is made from: a house with faulty notes is planned all the same.
"""

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from os.path import lexists
from pathlib import Path

from planner.files.csv_tables import Row, parse_table, table_bytes
from planner.files.names import file_name, is_file_name
from planner.files.pictures import ENDINGS, LARGEST_PICTURE, is_picture_name, scaled_down
from planner.files.problems import HouseFault, Problem, choose, raise_errors, summed_up
from planner.files.storage import Overtaken, bytes_before, names_in, read_bytes, replace_files, settled, writing
from planner.house.model import House
from planner.units import quoted

FOLDER = "notes"
NOTES = f"{FOLDER}/notes.csv"
COLUMNS = ("room", "opening", "note", "pictures", "for client")
OPTIONAL = ("opening", "note", "pictures", "for client")

YES, NO = "yes", "no"

LONGEST_NOTE = 10_000
"""The words of a note are no more characters than this."""

MOST_PICTURES = 24
"""A note has no more pictures than this."""


@dataclass(frozen=True)
class Note:
    """What is noted of a room, or of an opening as it is seen from a room.

    `pictures` are names of files in the folder of notes; `for_client` is whether the client is shown it.
    """

    room: str
    opening: str = ""
    words: str = ""
    pictures: tuple[str, ...] = ()
    for_client: bool = False

    @property
    def place(self) -> tuple[str, str]:
        """What it is a note on."""
        return self.room, self.opening

    @property
    def is_blank(self) -> bool:
        """Whether it says and shows nothing."""
        return not self.words and not self.pictures


Notes = Mapping[tuple[str, str], Note]
"""Notes by their room and opening."""


def read_notes(folder: str | Path, house: House | None = None) -> tuple[Notes, tuple[Problem, ...]]:
    """The notes of a house folder and what is wrong with them; what is faulty is left out. Pictures are not opened.

    Parameters
    ----------
    folder : of the house.
    house : whose rooms and openings they must be of; any where None.

    Examples
    --------
    >>> from planner import demo_house
    >>> read_notes(demo_house())
    ({}, ())
    """
    folder, problems = Path(folder), list[Problem]()
    try:
        with settled(folder):
            notes = _parsed(_table(folder, problems), house, problems)
    except HouseFault as fault:
        return {}, fault.problems
    return notes, summed_up(problems)


def note_faults(folder: str | Path, house: House) -> tuple[Problem, ...]:
    """Everything that is wrong with the notes of a house folder, its pictures decoded."""
    folder = Path(folder)
    notes, problems = read_notes(folder, house)
    found = list(problems)
    named = {name for note in notes.values() for name in note.pictures}
    for name in sorted(named):
        try:
            small_picture(folder, name, 16)
        except HouseFault as fault:
            found += fault.problems
    there = {name for name in names_in(folder, FOLDER, "", found) if is_picture_name(name)}
    for name in sorted(there - named) if not problems else ():
        message, remedy = "is named by no note", f"name it in {NOTES}, or remove it"
        found.append(Problem(f"{FOLDER}/{name}", None, None, message, remedy, "warning"))
    return summed_up(found)


def small_picture(folder: Path, name: str, longest: int) -> bytes:
    """A picture of a note as an upright JPEG no longer than `longest` [px].

    Raises
    ------
    HouseFault : it is not there, or cannot be read.
    """
    problems: list[Problem] = []
    file = f"{FOLDER}/{name}"
    remedy = f"put it there, or take its name out of {NOTES}"
    data = read_bytes(folder / FOLDER / name, file, problems, remedy, LARGEST_PICTURE)
    raise_errors(problems)
    try:
        return scaled_down(data or b"", file, longest)
    except HouseFault as fault:
        raise HouseFault(replace(problem, file=file) for problem in fault.problems) from fault


def change_note(
    folder: str | Path,
    before: Note,
    after: Note,
    added: Sequence[tuple[str, bytes]] = (),
    back: Mapping[str, bytes] | None = None,
) -> tuple[Note, Mapping[str, bytes]]:
    """Write a note in the place of what it was, pictures with it, all or none; one that is blank is removed.

    Parameters
    ----------
    folder : of the house.
    before : the note as the writer has seen it, a blank one where there was none.
    after : what it is to be, on the same room and opening; a picture of `before` that is not in it is removed.
    added : pictures that come to it, each with the name that it has elsewhere, as bytes of any JPEG, PNG or WebP.
    back : those of its pictures that were removed before and are put back, by name.

    Returns
    -------
    The note as it stands then, and the pictures that were removed, by name.

    Raises
    ------
    Overtaken : the note is no longer what the writer has seen; nothing was changed.
    HouseFault : a picture cannot be read, the note has too many or is too long, or it cannot be written; nothing was
        changed.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> folder = mkdtemp()
    >>> change_note(folder, Note("Hall"), Note("Hall", words="Plaster is sound."))[0].words
    'Plaster is sound.'
    >>> read_notes(folder)[0]["Hall", ""].words
    'Plaster is sound.'
    """
    folder, back = Path(folder), back or {}
    after = replace(after, words=after.words.replace("\r\n", "\n").strip())
    small = _sound(after, added)
    with writing(folder):
        rows, known = _standing(folder, before)
        names = _new_names(folder, after, len(small))
        note = replace(after, pictures=(*after.pictures, *names))
        used = {name for other in known.values() if other.place != note.place for name in other.pictures}
        removed = _as_they_stand(folder, set(before.pictures) - set(note.pictures) - used)
        pictures = dict(zip(names, small, strict=True)) | dict(back)
        files = {f"{FOLDER}/{name}": data for name, data in (dict.fromkeys(removed) | pictures).items()}
        replace_files(folder, {**files, NOTES: _bytes(rows, note)}, {f"{FOLDER}/{name}": None for name in pictures})
    return note, removed


def _standing(folder: Path, seen: Note) -> tuple[list[Row], Notes]:
    """The table of notes, as rows and as notes. Raises HouseFault where it cannot be changed without a loss, Overtaken
    where one of them is no longer what was seen."""
    problems, doubts = list[Problem](), list[Problem]()
    rows = _table(folder, problems)
    known = _parsed(rows, None, doubts)
    here = {row.number for row in rows if (row["room"], row["opening"]) == seen.place}
    raise_errors([*problems, *(doubt for doubt in doubts if doubt.row in here)])
    if known.get(seen.place, Note(*seen.place)) != seen:
        raise Overtaken([NOTES])
    return rows, known


def _sound(note: Note, added: Sequence[tuple[str, bytes]]) -> list[bytes]:
    """The pictures that come to a note, scaled down. Raises HouseFault for all that is wrong with it and them."""
    problems, small = list[Problem](), list[bytes]()
    if len(note.words) > LONGEST_NOTE:
        found = f"has {len(note.words):,} characters"
        problems.append(Problem("the note", None, None, found, f"keep it to {LONGEST_NOTE:,}"))
    if "\0" in note.words or note.words != note.words.encode("utf-8", "replace").decode():
        problems.append(Problem("the note", None, None, "holds characters that are no text", "write it without"))
    if len(note.pictures) + len(added) > MOST_PICTURES:
        found = f"has {len(note.pictures) + len(added)} pictures"
        problems.append(Problem("the note", None, None, found, f"keep it to {MOST_PICTURES}"))
        added = ()
    for name, data in added:
        try:
            small.append(scaled_down(data, name))
        except HouseFault as fault:
            problems += fault.problems
    raise_errors(problems)
    return small


def _table(folder: Path, problems: list[Problem]) -> list[Row]:
    """The rows of the table of notes; none where there is none."""
    if not lexists(folder / NOTES):
        return []
    data = read_bytes(folder / NOTES, NOTES, problems)
    return [] if data is None else parse_table(data, NOTES, COLUMNS, problems, OPTIONAL)


def _parsed(rows: Iterable[Row], house: House | None, problems: list[Problem]) -> Notes:
    notes: dict[tuple[str, str], Note] = {}
    first: dict[tuple[str, str], int] = {}
    for row in rows:
        found = [*_faults(row), *(_place_faults(row, house) if house else ())]
        note = _note(row)
        at = first.setdefault(note.place, row.number)
        if at != row.number:
            found.append(
                row.problem("room", f"{quoted(_of(note))} has a note already, in row {at}", "write one of both")
            )
        problems += found
        if not found and not row.torn:
            notes[note.place] = note
    return notes


def _of(note: Note) -> str:
    return note.opening or note.room


def _note(row: Row) -> Note:
    pictures = tuple(name for part in row["pictures"].split(";") if (name := part.strip()))
    words = row["note"].replace("\r\n", "\n")
    return Note(row["room"], row["opening"], words, pictures, row["for client"].casefold() == YES)


def _faults(row: Row) -> Iterator[Problem]:
    if not row["room"]:
        yield row.problem("room", "is blank", "write the room, e.g. Parlor")
    if row["for client"].casefold() not in (YES, NO, ""):
        yield row.problem("for client", f"{quoted(row['for client'])} is neither yes nor no", f"write {YES} or {NO}")
    note = _note(row)
    if len(note.words) > LONGEST_NOTE:
        yield row.problem("note", f"has {len(note.words):,} characters", f"keep it to {LONGEST_NOTE:,}")
    if len(note.pictures) > MOST_PICTURES:
        yield row.problem("pictures", f"there are {len(note.pictures)}", f"keep them to {MOST_PICTURES}")
    for name in note.pictures:
        if not is_file_name(name) or not is_picture_name(name):
            remedy = f"write the name of a file in {FOLDER}/ that ends in {', '.join(ENDINGS)}; part two by a semicolon"
            yield row.problem("pictures", f"{quoted(name)} is no name of a picture", remedy)


def _place_faults(row: Row, house: House) -> Iterator[Problem]:
    """Notes of rooms that the house has not, and of openings that the room has not."""
    room, opening = row["room"], row["opening"]
    if room and room not in house.by_name:
        yield row.problem("room", f"there is no room {quoted(room)}", choose(room, house.by_name))
    elif room and opening:
        known = [one.name for one in house.openings if room in (one.room, one.other)]
        if opening not in known:
            message = f"{quoted(room)} has no opening {quoted(opening)}"
            yield row.problem("opening", message, choose(opening, known) if known else "leave it blank")


def _new_names(folder: Path, note: Note, count: int) -> list[str]:
    """Free names for so many pictures, after what they are pictures of."""
    taken = {name.casefold() for name in names_in(folder, FOLDER, "", [])} | set(note.pictures)
    stem = file_name(filter(None, note.place), "")
    free = (name for number in itertools.count(1) if (name := f"{stem}-{number}.jpg").casefold() not in taken)
    return list(itertools.islice(free, count))


def _as_they_stand(folder: Path, names: Iterable[str]) -> dict[str, bytes]:
    """The pictures of some names; one that is not there is left out."""
    held = {name: bytes_before(folder / FOLDER / name, f"{FOLDER}/{name}") for name in sorted(names)}
    return {name: data for name, data in held.items() if data is not None}


def _bytes(rows: Iterable[Row], note: Note) -> bytes:
    """The table with a note in the place of its row; rows of other notes stay as they are."""
    cells = {"room": note.room, "opening": note.opening, "note": note.words, "pictures": "; ".join(note.pictures)}
    cells["for client"] = YES if note.for_client else ""
    made, is_there = list[Mapping[str, str]](), False
    for row in rows:
        if (row["room"], row["opening"]) != note.place:
            made.append(row.cells)
        elif not is_there:
            is_there = True
            made += [] if note.is_blank else [cells]
    if not is_there and not note.is_blank:
        made.append(cells)
    data, problems = table_bytes(COLUMNS, ([row[column] for column in COLUMNS] for row in made)), list[Problem]()
    parse_table(data, NOTES, COLUMNS, problems)
    raise_errors(problems)
    return data
