"""Whatever a designer's schedule asks for, what is told of each package is whole, and what cannot be is told."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import demo_house, plan, plan_object, read_house
from planner.intent.model import Intent
from tests import random_rules
from tests.known import STYLES

HOUSE, _ = read_house(demo_house())
HAIR = 1 / 64
MEETINGS = {
    "base thicker than what it dies into",
    "base as thick as what it dies into",
    "block no thicker than the casing",
}


def reach(element):
    return max(m["projection"] for m in element["section"])


@settings(max_examples=25, deadline=None)
@given(st.lists(random_rules.rules(HOUSE), max_size=6), st.sampled_from(STYLES))
def test_sections_are_as_high_as_their_elements_and_thicknesses_meet_or_are_told(rules, style):
    told = plan_object(plan(HOUSE, Intent(style=style, trim=tuple(rules), grade="great house")), takeoff=False)
    if not told["feasible"]:
        return
    warned = {check["room"] for check in told["checks"] if check["rule"] in MEETINGS}
    rooms = {}
    for room in told["rooms"]:
        rooms.setdefault(room["package_key"], set()).add(room["room"])
    for package in told["packages"]:
        has = {e["element"]: e for e in package["elements"]}
        for e in package["elements"]:
            assert sum(m["height"] for m in e["section"]) == pytest.approx(e["size"], abs=HAIR), (
                e["element"],
                e["form"],
            )
            assert all(m["height"] > 0 and m["projection"] >= e["ground"] - HAIR for m in e["section"] if m["member"])
        stop = has.get("plinth block") or has.get("casing")
        if "base" in has and stop and reach(stop) < reach(has["base"]) - HAIR:
            in_use = rooms.get(package["package_key"], set())
            assert not in_use or in_use & warned, (package["package"], "the base stands before what it dies into")
        names = [e["element"] for e in package["elements"]]
        assert len(names) == len(set(names))
