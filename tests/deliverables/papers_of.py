"""Plans that papers are made of in tests: the demo house, and one whose names do what they can to do harm."""

from datetime import date
from functools import cache

from planner import House, Intent, Opening, Plan, Room, demo_house, plan, read_house, read_intent, read_stock, standard
from planner.deliverables.papers import SIZES, Stamp, stamp_of

DAY = date(2030, 1, 31)
SIZE = SIZES["ANSI B"]

HOSTILE = (
    "=1+1",
    "+2",
    "-3",
    "@SUM(A1)",
    '=HYPERLINK("http://a.example","b")',
    "#set page(width: 1pt)",
    "$x^2$ <a> & \\ \" ' * _ ` ~ // /* @b [c] {d}",
    "../../escaped",
)


@cache
def demo() -> Plan:
    """The demo house, dressed for company."""
    house, _ = read_house(demo_house())
    return plan(house, read_intent(demo_house(), "formal", standard()), read_stock(demo_house(), house.unit))


@cache
def hostile() -> Plan:
    """A house in millimetres and euros, without a stock, in which everything is called something that does harm."""
    sides = ((6000.0, 4000.0), (4000.0, 3000.0))
    rooms = tuple(
        Room(name, f"Level {name}", use, *(x / 25.4 for x in (*side, 2700.0)), notes=name)
        for name, use in zip(HOSTILE, ("entry hall", *["bedroom"] * 7), strict=True)
        for side in sides[:1]
    )
    doors = tuple(Opening(f"{name} door", "door", HOSTILE[0], name, "N", None, 30.0, 80.0) for name in HOSTILE[1:])
    house = House(HOSTILE[6], (HOSTILE[0],), rooms, doors, unit="mm", currency="EUR", year_built=1900)
    return plan(house, Intent(title=HOSTILE[5]))


def stamp(made: Plan) -> Stamp:
    """The stamp of its papers."""
    return stamp_of(made, DAY)
