"""Plans that the chart tests share: the demo house, and the same house under names that hurt."""

from dataclasses import replace

import pytest

from planner import Intent, Plan, demo_house, plan, read_house

ODD_NAMES = (
    "<script>alert('x')</script>",
    'Ωmega, "the best" café 🏛️',
    "Grand " * 33,
    "W" * 200,
    "W" * 199 + "X",
    "line\nbreak\ttab",
    "datum.tier + '}'",
)


@pytest.fixture(scope="session")
def planned() -> Plan:
    return plan(read_house(demo_house())[0])


@pytest.fixture(scope="session")
def odd(planned: Plan) -> Plan:
    """The demo house with its rooms renamed, bedrooms first so that the odd names are on the walks too."""
    house = planned.house
    bedrooms = [room.name for room in house.rooms if "bedroom" in room.use]
    others = [room.name for room in house.rooms if room.name not in bedrooms]
    names = dict(zip(bedrooms[:2] + others, ODD_NAMES, strict=False))

    def new(name: str) -> str:
        return names.get(name, name)

    rooms = tuple(replace(room, name=new(room.name)) for room in house.rooms)
    openings = tuple(replace(o, room=new(o.room), other=new(o.other)) for o in house.openings)
    entries = tuple(map(new, house.entries))
    return plan(replace(house, rooms=rooms, openings=openings, entries=entries))


@pytest.fixture(scope="session")
def alternatives(planned: Plan) -> list[Plan]:
    return [plan(planned.house, Intent(title=grade, grade=grade)) for grade in ("cottage", "great house")]
