"""How a house folder is begun, in whatever unit."""

from dataclasses import replace
from functools import partial
from pathlib import Path

from planner.files.csv_tables import table_bytes
from planner.files.storage import seen
from planner.house import folder as houses
from planner.house.drafting import change_unit
from planner.house.editing import TABLES, read_sheet, save_cells
from planner.house.faults import STOCK
from planner.house.parsing import HOUSE
from planner.house.sketch import Sketch, settings_text
from planner.house.styles import house_library
from planner.intent.folder import list_intents, read_intent, write_intent
from planner.library import Library
from planner.mouldings.members import Profile
from planner.stock.own_profiles import profile_cells
from planner.stock.stock import COLUMNS, FEET_IN, price_per_foot, read_stock
from planner.units import Unit, running_unit, section_unit

EVEN_PRICE = 0.05
"""What a price of a foot or a metre is a multiple of, for bars of such lengths to cost whole cents."""


def new_house(folder: str | Path, source: str | Path | None = None, unit: Unit | None = None) -> None:
    """Make a new house folder: a copy of another, or one entry hall to start from.

    Parameters
    ----------
    folder : where; nothing but an empty folder may be there.
    source : the folder to copy, without its drafts and reviews; none for a single hall.
    unit : the unit of the house; where None that of the source, and inches for a single hall. The lengths of a copy
        come to the nearest millimetre or sixteenth of an inch; profiles and alternatives stay as they are, but between
        metric and not bars come as such bars are sold there, in whole steps of `[[sold]]` in library/takeoff.toml, at
        prices of a metre or a foot to five cents, at which every bar costs whole ones.

    Raises
    ------
    HouseFault : there is no source to copy, something stands there already, it cannot be written, or a copy in another
        unit would have faults.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import read_house
    >>> folder = Path(mkdtemp()) / "my house"
    >>> new_house(folder, unit="mm")
    >>> hall = read_house(folder)[0].rooms[0]
    >>> hall.name, round(hall.length * 25.4)
    ('Entry Hall', 4300)
    """
    houses.new_house(folder, source, partial(_put_in, unit=unit) if unit else None)


def _put_in(folder: Path, unit: Unit) -> None:
    """Put a house that nobody works on in another unit, with its stock and its alternatives."""
    was, library = houses.unit_of(folder), house_library(folder)[0]
    if was == unit:
        return
    stock = read_stock(folder, was, library)
    intents = [read_intent(folder, name) for name in list_intents(folder)]
    tables = {file: read_sheet(folder, file).rows for file in TABLES}
    sketch = Sketch(settings_text(seen(folder, [HOUSE])[HOUSE] or b""), tables)
    made, _ = change_unit(sketch, unit, library)
    also = {HOUSE: made.toml.encode("utf-8", "surrogatepass")}
    if stock is not None and section_unit(unit) != section_unit(was):
        cells = [profile_cells(_as_sold(profile, unit, library), unit) for profile in stock.profiles]
        also[STOCK] = table_bytes(COLUMNS, [[row[column] for column in COLUMNS] for row in cells])
    save_cells(folder, made.tables, also=also)
    for intent in intents:
        write_intent(intent, folder, library=library)


def _as_sold(profile: Profile, unit: Unit, library: Library) -> Profile:
    """A profile as such a one is sold in a unit: its bars in whole steps, and its price of what it runs by there."""
    sold, run = library.takeoff.sold_in(unit), running_unit(unit)
    lengths = tuple(dict.fromkeys(sold.nearest(length) for length in profile.lengths))
    if profile.unit not in FEET_IN:
        return replace(profile, lengths=lengths)
    price = round(price_per_foot(profile) * FEET_IN[run] / EVEN_PRICE) * EVEN_PRICE
    return replace(profile, lengths=lengths, price=round(price, 2), unit=run)
