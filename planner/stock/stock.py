"""The profiles that can be bought: stock.csv read into a Stock, every fault told by row. All lengths are inches."""

from dataclasses import dataclass
from functools import cached_property
from os.path import lexists
from pathlib import Path

from planner.files.csv_tables import Row, read_table
from planner.files.problems import HouseFault, Problem, choose, raise_errors
from planner.house.faults import STOCK
from planner.library import Library, standard
from planner.mouldings.assembly import Assembly
from planner.mouldings.members import Member, Profile, parse_members
from planner.mouldings.soundness import SHOP, faults
from planner.units import (
    INCHES_IN,
    LengthError,
    Unit,
    format_length,
    format_size,
    parse_length,
    quoted,
    running_unit,
    section_unit,
)
from planner.values import Kept, immutabledict

HIGHEST_PRICE = 1e9
"""In whatever currency; sums of higher ones are lost in rounding."""

COLUMNS = ("profile", "role", "family", "height", "projection", "thickness", "members", "lengths", "price", "unit")
OPTIONAL = ("family", "lengths", "unit")

FEET_IN = {"ft": 1.0, "m": INCHES_IN["m"] / INCHES_IN["ft"]}
"""Feet in a unit that a price is asked by; the other unit is "each", a price for one piece."""
UNITS = (*FEET_IN, "each")

SHORTEST_LENGTH = 12.0
"""What is sold in shorter lengths than this [in] is sold as a block, and has no stock length."""


USUAL_LENGTHS = (96.0, 144.0)
"""Lengths in which mouldings are sold [in], as examples."""


@dataclass(frozen=True)
class Stock(Kept):
    """What can be bought. `doubts` are warnings: profiles that break a rule of the mouldings and may still be used."""

    profiles: tuple[Profile, ...]
    doubts: tuple[Problem, ...] = ()

    KEY = ("profiles",)
    __hash__ = Kept.__hash__

    @cached_property
    def by_role(self) -> immutabledict[str, tuple[Profile, ...]]:
        """Profiles by role, in the order of the file."""
        found: dict[str, list[Profile]] = {}
        for p in self.profiles:
            found.setdefault(p.role, []).append(p)
        return immutabledict({role: tuple(profiles) for role, profiles in found.items()})

    @cached_property
    def numbers(self) -> immutabledict[str, int]:
        """The number of each code, from 0 in the order of the alphabet."""
        return immutabledict({code: at for at, code in enumerate(sorted({p.code for p in self.profiles}))})


def family_of(name: str, stock: Stock) -> str:
    """The design family of a profile by its code, or the family of that name; blank where the stock has neither."""
    return next((p.family for p in stock.profiles if name and name in (p.code, p.family)), "")


def price_per_foot(profile: Profile) -> float:
    """Price of a foot of a profile in the house's currency.

    A profile priced by the piece costs its price over its longest stock length, or, where it has none, as a block
    does, the price of one.
    """
    if profile.unit in FEET_IN:
        return profile.price / FEET_IN[profile.unit]
    return profile.price * 12 / max(profile.lengths) if profile.lengths else profile.price


def price_text(built: Assembly, unit: Unit) -> str:
    """The price of what is built, in a house of that unit: of a foot or a metre, or of one where it is a block."""
    bought = [piece.cut_from or piece.profile for piece in built.pieces]
    if all(profile.unit == "each" and not profile.lengths for profile in bought):
        return f"{built.price_per_foot:.2f} each"
    return f"{built.price_per_foot * FEET_IN[running_unit(unit)]:.2f}"


def read_stock(folder: str | Path, unit: Unit = "in", library: Library | None = None) -> Stock | None:
    """Read the stock of a house folder.

    Parameters
    ----------
    folder : the house folder.
    unit : the house's unit for bare numbers. Sections of mouldings are small: a bare number is read as inches where
        the house is in feet, and as millimetres where it is metric.
    library : which roles and mouldings there are; the standard one where None.

    Returns
    -------
    The stock, or None where the folder has no stock.csv.

    Raises
    ------
    HouseFault : with every fault of the file, found in one pass.

    Examples
    --------
    >>> from planner import demo_house
    >>> stock = read_stock(demo_house())
    >>> stock.by_role["casing"][0].members[-1].kind
    'fascia'
    """
    path = Path(folder) / STOCK
    if not lexists(path):
        return None
    library = library or standard()
    problems: list[Problem] = []
    rows = read_table(path, COLUMNS, problems, OPTIONAL)
    if not rows and not problems:
        problems.append(Problem(STOCK, None, None, "holds no profiles", "add a row for each, or remove the file"))
    profiles = parse_profiles(rows, unit, library, problems)
    raise_errors(problems)
    return Stock(profiles, tuple(problems))


def usable_stock(
    folder: str | Path, unit: Unit = "in", library: Library | None = None
) -> tuple[Stock | None, tuple[Problem, ...]]:
    """The stock of a house folder, or None with its faults: a house can be planned without one."""
    try:
        return read_stock(folder, unit, library), ()
    except HouseFault as fault:
        return None, fault.problems


def parse_profiles(rows: list[Row], unit: Unit, library: Library, problems: list[Problem]) -> tuple[Profile, ...]:
    """The profiles of the rows of a stock in a house of that unit; what is faulty is told in `problems` and left out,
    what breaks a rule of the mouldings is told as a doubt."""
    bare = section_unit(unit)
    profiles = [p for row in rows if (p := _profile(row, bare, library, problems)) is not None]
    _check_codes(rows, problems)
    return tuple(profiles)


def _profile(row: Row, unit: Unit, library: Library, problems: list[Problem]) -> Profile | None:
    """The profile of a row, or None where it has faults, which are told in `problems`."""
    found: list[Problem] = []
    roles = library.role_names
    if not row["profile"]:
        found.append(row.problem("profile", "the code is missing", "give every profile a code of its own"))
    if row["role"] not in roles:
        found.append(row.problem("role", f"{quoted(row['role'])} is no role", choose(row["role"], roles)))
    height, projection, thickness = (_size(row, name, unit, found) for name in ("height", "projection", "thickness"))
    members = _members(row, unit, library, found)
    lengths = _lengths(row, unit, found)
    price = _price(row, found)
    priced_by = row["unit"] or "ft"
    if priced_by not in UNITS:
        found.append(row.problem("unit", f"{quoted(priced_by)} is no unit of sale", choose(priced_by, UNITS)))
    if members:
        found += _sums(row, {"height": height, "projection": projection}, members, unit)
    if found or height is None or projection is None or thickness is None:
        problems += found
        return None
    profile = Profile(
        code=row["profile"],
        role=row["role"],
        family=row["family"],
        height=height,
        projection=projection,
        thickness=thickness,
        members=members,
        lengths=lengths,
        price=price,
        unit=priced_by,
    )
    remedy = "have its section drawn anew, or use it knowingly"
    problems += [row.problem("members", fault, remedy, "warning") for fault in faults(profile, unit)]
    return profile


def _size(row: Row, column: str, unit: Unit, found: list[Problem]) -> float | None:
    """A size of the section [in], which is above zero."""
    before = len(found)
    size = row.length(column, unit, found)
    if size is None and len(found) == before:
        found.append(row.problem(column, "is blank", f"write the profile's {column}, e.g. {format_size(3.5, unit)}"))
    elif size is not None and size <= 0:
        found.append(row.problem(column, f"is {format_size(size, unit)}", f"a {column} is above zero"))
        return None
    return size


def _members(row: Row, unit: Unit, library: Library, found: list[Problem]) -> tuple[Member, ...]:
    """The members of a row, none where they cannot be read."""
    try:
        return parse_members(row["members"], library, unit)
    except ValueError as fault:
        text, _, remedy = str(fault).rpartition("; ")
        found.append(row.problem("members", text or str(fault), remedy if text else "write e.g. fascia 3 1/2 x 3/4"))
        return ()


def _sums(row: Row, sizes: dict[str, float | None], members: tuple[Member, ...], unit: Unit) -> list[Problem]:
    """Where the members do not make up the height and the projection of their row."""
    made = {"height": ("heights sum to", sum(m.height for m in members))}
    made["projection"] = ("they reach", max(m.projection for m in members))
    found = []
    for column, (words, measure) in made.items():
        said = sizes[column]
        if said is not None and abs(measure - said) > SHOP:
            message = f"{words} {format_size(measure, unit)}, {column} says {format_size(said, unit)}"
            found.append(row.problem("members", message, f"make the members and the {column} agree"))
    return found


def _lengths(row: Row, unit: Unit, found: list[Problem]) -> tuple[float, ...]:
    """Stock lengths [in], parted by blanks or, where they hold blanks, by semicolons."""
    text = row["lengths"]
    lengths, usual = [], [format_length(length, unit) for length in USUAL_LENGTHS]
    for part in text.split(";") if ";" in text else text.split():
        if not part.strip():
            continue
        try:
            length = parse_length(part, unit)
        except LengthError as error:
            found.append(row.problem("lengths", error.message, f"write e.g. {'; '.join(usual)}"))
            continue
        if length < SHORTEST_LENGTH:
            message = f"{quoted(part.strip())} is {format_length(length, unit)}, too short for a stock length"
            found.append(row.problem("lengths", message, f"write e.g. {usual[0]}"))
        lengths.append(length)
    return tuple(sorted(set(lengths)))


def _price(row: Row, found: list[Problem]) -> float:
    """The price, from zero to HIGHEST_PRICE."""
    try:
        price = float(row["price"])
    except ValueError:
        price = float("nan")
    if not 0 <= price <= HIGHEST_PRICE:
        found.append(row.problem("price", f"{quoted(row['price'])} is no price", "write a plain number, e.g. 2.35"))
        return 0.0
    return price


def _check_codes(rows: list[Row], problems: list[Problem]) -> None:
    """Tell every code that is there twice."""
    first: dict[str, int] = {}
    for row in rows:
        code = row["profile"]
        if code and code in first:
            message = f"{quoted(code)} is the code of row {first[code]} too"
            problems.append(row.problem("profile", message, "give every profile a code of its own"))
        elif code:
            first[code] = row.number
