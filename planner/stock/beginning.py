"""How a house folder is begun, in whatever unit."""

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
from planner.stock.own_profiles import profile_cells
from planner.stock.stock import COLUMNS, read_stock
from planner.units import Unit


def new_house(folder: str | Path, source: str | Path | None = None, unit: Unit | None = None) -> None:
    """Make a new house folder: a copy of another, or one entry hall to start from.

    Parameters
    ----------
    folder : where; nothing but an empty folder may be there.
    source : the folder to copy, without its drafts and reviews; none for a single hall.
    unit : the unit of the house; where None that of the source, and inches for a single hall. The lengths of a copy
        come to the nearest millimetre or sixteenth of an inch, those of its stock and alternatives stay as they are.

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
    if stock is not None:
        cells = [profile_cells(profile, unit) for profile in stock.profiles]
        also[STOCK] = table_bytes(COLUMNS, [[row[column] for column in COLUMNS] for row in cells])
    save_cells(folder, made.tables, also=also)
    for intent in intents:
        write_intent(intent, folder, library=library)
