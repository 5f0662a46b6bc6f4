"""Profiles of one's own: drawn by their members as text, and added to a house's stock with all else left as it was."""

import csv
import io
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from planner.files.csv_tables import Row, parse_table, table_bytes
from planner.files.problems import HouseFault, Problem, raise_errors
from planner.files.storage import bytes_before, replace_files, writing
from planner.house.faults import STOCK
from planner.library import Library, standard
from planner.mouldings.members import Member, Profile, bare_number, parse_members
from planner.stock.stock import COLUMNS, OPTIONAL, Stock, parse_profiles
from planner.units import Unit, is_one_line, parse_length, quoted, section_unit, spell_length, spell_number

DRAWN = ("profile", "role", "family", "thickness", "members", "lengths", "price", "unit")
"""What a profile is drawn from, the columns of stock.csv without those that its members tell."""


def draw_profile(
    cells: Mapping[str, str], unit: Unit = "in", library: Library | None = None
) -> tuple[Profile | None, tuple[Problem, ...]]:
    """A profile as a person writes it, and all that is wrong with it so far.

    Parameters
    ----------
    cells : text by the columns of stock.csv. `profile` (its code), `role` and `members` are needed; it is as high and
        as deep as its members make it, as thick as it is deep where `thickness` is blank, and costs nothing where
        `price` is.
    unit : the house's unit; a bare number is inches, or millimetres where it is metric.
    library : which roles and mouldings there are; the standard one where None.

    Returns
    -------
    The profile, None where it cannot be read, and the faults by column: an error where it cannot be read or breaks a
    rule of the mouldings.

    Examples
    --------
    >>> cells = {"profile": "MY-1", "role": "bead", "members": "fillet 1/4; bead 1/2; fillet 1/4"}
    >>> profile, told = draw_profile(cells)
    >>> profile.height, profile.projection, told
    (1.0, 0.5, ())
    >>> draw_profile(cells | {"members": "filet 1/4"})[1][0].remedy
    'did you mean fillet or flat?'
    """
    library, bare = library or standard(), section_unit(unit)
    said = {column: (cells.get(column) or "").strip() for column in DRAWN}
    try:
        members = parse_members(said["members"], library, bare)
    except ValueError:
        members = ()
    reach = max((m.projection for m in members), default=1.0)
    sizes = {"height": sum(m.height for m in members) or 1.0, "projection": reach}
    made = {column: _size(size, bare) for column, size in sizes.items()}
    made |= {"thickness": said["thickness"] or _size(reach, bare), "price": said["price"] or "0"}
    profile, told = _read(said | made, unit, library)
    return profile, told


def add_profile(
    folder: str | Path, profile: Profile, unit: Unit = "in", library: Library | None = None
) -> tuple[Stock, Profile]:
    """Add a profile to the stock of a house folder; whatever stands in the file stays as it is, to the byte.

    Parameters
    ----------
    folder : of the house; its stock.csv is begun where there is none.
    profile : as `draw_profile` gives it.
    unit : the house's unit.
    library : which roles and mouldings there are; the standard one where None.

    Returns
    -------
    The stock with it, and the profile as it stands there.

    Raises
    ------
    HouseFault : the profile breaks a rule of the mouldings or its code is taken, the stock is faulty or lacks a column
        that the profile needs, or the file cannot be written; nothing was changed.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import draw_profile
    >>> profile, _ = draw_profile({"profile": "MY-1", "role": "bead", "members": "fillet 1/4; bead 1/2; fillet 1/4"})
    >>> stock, added = add_profile(mkdtemp(), profile)
    >>> stock.by_role["bead"] == (added,)
    True
    """
    folder, library = Path(folder), library or standard()
    cells = profile_cells(profile, unit)
    _, told = _read(cells, unit, library)
    raise_errors(told)
    with writing(folder):
        before = bytes_before(folder / STOCK, STOCK) or table_bytes(COLUMNS, ())
        _, stood = _stock(before, unit, library)
        if (taken := {row["profile"]: row.number for row in stood}.get(profile.code)) is not None:
            message = f"{quoted(profile.code)} is the code of row {taken}"
            raise HouseFault([Problem(STOCK, None, "profile", message, "give it a code of its own")])
        data = _with_row(before, cells)
        stock, _ = _stock(data, unit, library)
        if stock.profiles[-1] != profile:
            message = f"{quoted(profile.code)} would not read back as it is"
            raise HouseFault([Problem(STOCK, None, "profile", message, "write its texts without blanks at their ends")])
        replace_files(folder, {STOCK: data})
    return stock, stock.profiles[-1]


def profile_cells(profile: Profile, unit: Unit = "in") -> dict[str, str]:
    """A profile as a row of stock.csv in a house of that unit, text by column, which reads back as exactly the same."""
    bare = section_unit(unit)
    lengths = [spell_length(length, bare) for length in profile.lengths]
    texts = {
        "profile": profile.code,
        "role": profile.role,
        "family": profile.family,
        "members": "; ".join(_member(member, bare) for member in profile.members),
        "lengths": "; ".join(lengths) + ";" * (len(lengths) == 1),
        "price": price if float(price := f"{profile.price:.2f}") == profile.price else repr(float(profile.price)),
        "unit": profile.unit,
    }
    sizes = {name: _size(getattr(profile, name), bare) for name in ("height", "projection", "thickness")}
    return {column: (texts | sizes)[column] for column in COLUMNS}


def _member(member: Member, bare: Unit) -> str:
    kind = f"greek {member.kind}" if member.greek else member.kind
    return f"{kind} {_size(member.height, bare)} x {_size(member.projection, bare)}"


def _size(inches: float, bare: Unit) -> str:
    """A size of a section as it reads back exactly: in sixty-fourths where it is so in inches."""
    fraction = bare_number(inches)
    if bare == "in" and inches > 0 and parse_length(fraction) == inches:
        return fraction
    return spell_number(inches, bare)


def _read(cells: Mapping[str, str], unit: Unit, library: Library) -> tuple[Profile | None, tuple[Problem, ...]]:
    """The profile of a row that stands in no file yet, and every fault, with those of the mouldings' rules."""
    problems: list[Problem] = []
    row = Row(STOCK, 0, {column: cells.get(column, "") for column in COLUMNS})
    found = parse_profiles([row], unit, library, problems)
    problems += [
        row.problem(column, f"{quoted(row[column])} has a line break or a control character", "write it on one line")
        for column in ("profile", "family")
        if not is_one_line(row[column])
    ]
    told = tuple(replace(problem, row=None, severity="error") for problem in problems)
    return (found[0] if found else None), told


def _stock(data: bytes, unit: Unit, library: Library) -> tuple[Stock, list[Row]]:
    """The stock in the bytes of a file, with its rows. Raises HouseFault where it is faulty."""
    problems: list[Problem] = []
    rows = parse_table(data, STOCK, COLUMNS, problems, OPTIONAL)
    profiles = parse_profiles(rows, unit, library, problems)
    raise_errors(problems)
    return Stock(profiles, tuple(problems)), rows


def _with_row(before: bytes, cells: Mapping[str, str]) -> bytes:
    """The bytes of a table with one more row, its cells in the order of the header, its line ended as the others."""
    text = before.decode("utf-8-sig")
    header = [cell.strip() for cell in next(csv.reader(io.StringIO(text, newline="")))]
    for column in OPTIONAL:
        if column not in header and cells[column] and (column, cells[column]) != ("unit", "ft"):
            raise HouseFault([Problem(STOCK, 1, column, "the column is missing", f"add the column {quoted(column)}")])
    end = "\r\n" if "\r\n" in text else "\n" if "\n" in text or "\r" not in text else "\r"
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator=end).writerow([cells.get(column, "") for column in header])
    gap = "" if before.endswith((b"\n", b"\r")) else end
    return before + (gap + out.getvalue()).encode("utf-8", "surrogatepass")
