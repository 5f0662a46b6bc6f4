"""A planner of interior trim for whole houses: house and intent in, plan out, views after.

>>> from planner import demo_house, plan, read_house, read_stock
>>> house, warnings = read_house(demo_house())
>>> plan(house, stock=read_stock(demo_house())).optimal
True
"""

from importlib import resources
from pathlib import Path

from planner.files.problems import HouseFault, Problem
from planner.house.folder import read_house, write_house
from planner.house.model import House, Opening, Room
from planner.intent.folder import list_intents, read_intent, write_intent
from planner.intent.model import Intent, Wish
from planner.planning.answer import Plan
from planner.planning.pipeline import plan
from planner.stock.stock import Stock, read_stock

__all__ = [
    "House",
    "HouseFault",
    "Intent",
    "Opening",
    "Plan",
    "Problem",
    "Room",
    "Stock",
    "Wish",
    "bundled",
    "demo_house",
    "list_intents",
    "plan",
    "read_house",
    "read_intent",
    "read_stock",
    "write_house",
    "write_intent",
]


def bundled(name: str) -> Path:
    """A folder that comes with the planner, "notebooks" or "demo_house": beside it in a checkout, inside the wheel."""
    inside = Path(str(resources.files("planner"))) / f"_{name}"
    return inside if inside.is_dir() else inside.parent.parent / name


def demo_house() -> Path:
    """The folder of the invented house that comes with the planner."""
    return bundled("demo_house")
