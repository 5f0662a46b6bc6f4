"""Trim that stays, existing.csv: its rows as facts, every fault told by row and column."""

from collections.abc import Iterator

from planner.files.csv_tables import Row
from planner.files.problems import Problem, choose
from planner.house.model import WHOLE_ROOM, Existing, House, Room
from planner.library import Library
from planner.library.model import NO_FORM
from planner.units import Unit, format_length, format_size, is_one_line, quoted, spell_length

EXISTING = "existing.csv"
COLUMNS = ("room", "element", "form", "height", "projection", "bottom", "profile", "notes")
OPTIONAL = ("form", "height", "projection", "bottom", "profile", "notes")

SIZES = ("height", "projection", "bottom")

DEEPEST = 36.0
"""No trim reaches farther from its wall than this [in]."""


def parse_existing(
    rows: list[Row], unit: Unit, rooms: dict[str, Room], library: Library, problems: list[Problem]
) -> tuple[Existing, ...]:
    """The trim that stays. `rooms` are those of the house that are sound; every fault is told in `problems`, and what
    is faulty is left out."""
    first: dict[tuple[str, str], int] = {}
    found = []
    for row in rows:
        before = len(problems)
        one = _existing(row, unit, library, problems)
        if one.room and one.element:
            at = first.setdefault((one.room, one.element), row.number)
            if at != row.number:
                message = f"the {one.element} of {quoted(one.room)} is there already, in row {at}"
                problems.append(row.problem("element", message, "write each once"))
        if one.room in rooms:
            problems += _in_its_room(row, one, rooms[one.room], unit)
        if len(problems) == before and not row.torn:
            found.append(one)
    return tuple(found)


def check_rooms_of(existing: list[Row], house: House) -> Iterator[Problem]:
    """Rows of rooms that the house has not."""
    known = [room.name for room in house.rooms]
    for row in existing:
        if row["room"] and row["room"] not in house.by_name:
            yield row.problem("room", f"there is no room {quoted(row['room'])}", choose(row["room"], known))


def existing_cells(one: Existing, unit: Unit) -> dict[str, str]:
    """A row of existing.csv, text by column."""
    spelled = {name: getattr(one, name) for name in SIZES}
    cells = {name: "" if size is None else spell_length(size, unit) for name, size in spelled.items()}
    return {column: cells.get(column, getattr(one, column)) for column in COLUMNS}


def _existing(row: Row, unit: Unit, library: Library, problems: list[Problem]) -> Existing:
    """What a row says, its faults told."""
    for column, example in (("room", "Parlor"), ("element", f"base, or {WHOLE_ROOM} for the whole room")):
        if not row[column]:
            problems.append(row.problem(column, "is blank", f"write e.g. {example}"))
    element = " ".join(row["element"].casefold().split())
    known = (*library.element_kinds, WHOLE_ROOM)
    if element and element not in known:
        problems.append(row.problem("element", f"{quoted(row['element'])} is no element", choose(element, known)))
        element = ""
    form = " ".join(row["form"].casefold().split())
    sizes = {column: row.length(column, unit, problems) for column in SIZES}
    if element == WHOLE_ROOM:
        problems += [
            row.problem(column, f"{quoted(row[column])} is said of a whole room", "write it in a row of its element")
            for column in ("form", *SIZES, "profile")
            if row[column]
        ]
    elif element:
        problems += _form_faults(row, element, form, library, unit)
    if not is_one_line(row["profile"]):
        problems.append(row.problem("profile", "has a line break or a control character", "write it on one line"))
    return Existing(row["room"], element, form, **sizes, profile=row["profile"], notes=row["notes"])


def _form_faults(row: Row, element: str, form: str, library: Library, unit: Unit) -> list[Problem]:
    """What is wrong with the form of an element, and with a height that it needs or cannot have."""
    forms = [*(known.name for known in library.forms if known.element == element), NO_FORM]
    if form not in forms:
        message = f"{quoted(row['form'])} is no form of {element}" if form else "is blank"
        return [row.problem("form", message, choose(form, forms) if form else f"write one of {_listed(forms)}")]
    if form == NO_FORM:
        return [
            row.problem(column, f"there is no {element}, and it measures {quoted(row[column])}", "leave it blank")
            for column in SIZES
            if row[column]
        ]
    if not row["height"]:
        return [
            row.problem(
                "height",
                "is blank",
                f"measure it, and write e.g. {format_size(5.5, unit)}; of a casing write its width",
            )
        ]
    return []


def _in_its_room(row: Row, one: Existing, room: Room, unit: Unit) -> list[Problem]:
    """Lengths that cannot be in the room."""
    found = []
    for column in ("height", "projection"):
        if getattr(one, column) == 0:
            found.append(row.problem(column, "is zero", "write a length above zero"))
    top = (one.bottom or 0.0) + (one.height or 0.0)
    if top > room.ceiling > 0:
        column = "height" if (one.height or 0.0) > room.ceiling else "bottom"
        message = f"it reaches {format_length(top, unit)}, and the ceiling of {quoted(room.name)} is at "
        remedy = "measure it again, from its lower edge to its upper"
        found.append(row.problem(column, message + format_length(room.ceiling, unit), remedy))
    if (one.projection or 0.0) > DEEPEST:
        message = f"{format_length(one.projection or 0.0, unit)} is no projection of trim"
        found.append(row.problem("projection", message, f"write {format_length(DEEPEST, unit)} or less"))
    return found


def _listed(names: list[str]) -> str:
    return ", ".join(map(quoted, names))
