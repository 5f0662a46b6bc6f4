"""One room with one door, of which everything can be reckoned by hand: nothing is allowed for saws and fits."""

from functools import cache

from planner import House, Intent, Opening, Plan, Room, plan
from planner.house.model import OUTSIDE, OwnRate
from planner.values import immutabledict

NO_LOSS = immutabledict(dict.fromkeys(("kerf", "end_trim", "fit_square", "fit_miter", "fit_cope"), 0.0))


@cache
def tiny(*rates: OwnRate) -> Plan:
    """A closet of 120 x 96 in under 96 in, with a door of 36 x 80 in from outside; its trim is made to its sections."""
    den = Room("Den", "Ground", "closet", 120.0, 96.0, 96.0, ((0, 0), (0, 96), (120, 96), (120, 0)))
    door = Opening("Front door", "door", "Den", OUTSIDE, "S", 42.0, 36.0, 80.0)
    house = House("Tiny", ("Den",), (den,), (door,), grade="cottage", rates=rates, takeoff=NO_LOSS)
    return plan(house, Intent())
