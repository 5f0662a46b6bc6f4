"""A period based on another: the base's rows, with its own in place of those for the same element on the same rungs."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

import msgspec

from planner.library.model import NO_FORM, Library
from planner.library.trim_rows import Style, StyleRow
from planner.units import quoted

MEASURES = ("inch", "ceiling", "door casing")
"""What a row of any style may be sized by, besides another element."""

ORDER_MEASURES = (
    *("taenia", "frieze", "cornice", "pedestal", "pedestal base", "pedestal cap", "architrave", "entablature"),
    "down to taenia",
)
"""What else a row may be sized by in a style that derives from an order."""

PLACE = "place"
"""What a row is sized by whose element fills its place on the wall."""

SIZING = ("of", "factor", "least", "plain", "source")
"""What a row that does not say what it is sized by has from its base."""


@dataclass(frozen=True)
class OwnRow:
    """A row of a period based on another: its number in the file, an element, its form, NO_FORM where the period does
    without it, the rungs that it holds on, and the other keys of a StyleRow where they were given."""

    number: int
    element: str
    form: str
    rungs: tuple[str, ...]
    given: Mapping[str, Any]


class RowFault(NamedTuple):
    """What is wrong with a row: the number of the own row, None for one of the base's, its key, and what is right."""

    number: int | None
    key: str
    message: str
    remedy: str


def measures(from_order: bool) -> tuple[str, ...]:
    """What a row of a style may be sized by, besides an element and PLACE."""
    return (*MEASURES, *(ORDER_MEASURES if from_order else ()))


def rows_over(
    base: Style, own: Iterable[OwnRow], library: Library, faults: list[RowFault]
) -> tuple[tuple[int | None, StyleRow], ...]:
    """The rows of a style based on another, each with the number of the own row that it comes from, None where it is
    the base's. What cannot be sized is told in `faults` and left out."""
    own = tuple(own)
    taken = {(row.element, rung) for row in own for rung in row.rungs}
    found: list[tuple[int | None, StyleRow]] = []
    for row in base.rows:
        left = tuple(rung for rung in row.rungs if (row.element, rung) not in taken)
        if left:
            found.append((None, msgspec.structs.replace(row, rungs=left)))
    for mine in own:
        if mine.form == NO_FORM:
            continue
        found += [(mine.number, row) for row in _written_out(mine, base, library, faults)]
    return tuple(found)


def _written_out(mine: OwnRow, base: Style, library: Library, faults: list[RowFault]) -> list[StyleRow]:
    """An own row with all that it does not say: one row where it says what it is sized by, else one for each rung."""
    alike = [row for row in base.rows if row.element == mine.element and row.form == mine.form]
    known: dict[str, Any] = {"least_ceiling": alike[0].least_ceiling if alike else 0.0} | dict(mine.given)
    if "of" in mine.given:
        return [StyleRow(element=mine.element, form=mine.form, rungs=mine.rungs, **known)]
    rows = []
    for rung in mine.rungs:
        model = _model(mine, rung, base, library)
        if model is None:
            message = f"is missing, and {quoted(base.name)} has no {mine.element} to take it from"
            faults.append(RowFault(mine.number, "of", message, 'write e.g. of = "inch" and factor = 2.5'))
            return []
        sizing = {key: getattr(model, key) for key in SIZING}
        rows.append(StyleRow(element=mine.element, form=mine.form, rungs=(rung,), **sizing | known))
    return rows


def _model(mine: OwnRow, rung: str, base: Style, library: Library) -> StyleRow | None:
    """The base's row that an own one has its size from: of its form before any other, then of the nearest rung."""
    at = library.ladder.rungs.index
    asked = at(rung)

    def unlike(row: StyleRow) -> tuple[bool, int, bool]:
        return row.form != mine.form, min(abs(at(other) - asked) for other in row.rungs), row.finer

    return min((row for row in base.rows if row.element == mine.element and row.rungs), key=unlike, default=None)


def row_faults(style: Style, numbers: Iterable[int | None], library: Library) -> list[RowFault]:
    """What keeps rows of a style from being built, `numbers` the own row that each comes from; one fault a row."""
    by_element = {(row.element, rung) for row in style.rows for rung in row.rungs if row.of in library.element_kinds}
    fills = {row.element for known in library.styles for row in known.rows if row.of == PLACE}
    found = []
    for number, row in zip(numbers, style.rows, strict=True):
        told = _row_fault(row, style, by_element, fills, library)
        if told is not None:
            found.append(RowFault(number, *told))
    return found


def _row_fault(
    row: StyleRow, style: Style, by_element: set[tuple[str, str]], fills: set[str], library: Library
) -> tuple[str, str, str] | None:
    """Key, message and remedy of what is wrong with a row."""
    if row.of == PLACE and row.element not in fills:
        return "of", f"no place on the wall is as high as a {row.element}", 'write e.g. of = "inch" and factor = 2.5'
    if row.of in ORDER_MEASURES and not style.from_order:
        message = f"{quoted(row.of)} is a part of an order, and this style derives from none"
        return "of", message, f"write one of {', '.join(map(quoted, MEASURES))}, or from_order = true"
    if not style.from_order and any(part.like for part in library.form(row.element, row.form).parts):
        message = f"{quoted(row.form)} is made like an order, and this style derives from none"
        return "form", message, "choose another form, or write from_order = true"
    if row.of == row.element:
        return "of", f"a {row.element} cannot be sized by itself", 'write e.g. of = "inch" and factor = 2.5'
    if any((row.of, rung) in by_element for rung in row.rungs):
        message = f"{quoted(row.of)} is sized by another element itself"
        return "of", message, f"size the {row.element} by what that one is sized by"
    return None
