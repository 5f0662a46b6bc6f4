"""The sections that the JSON tells, held to the rules of the trade by what it says alone.

Nothing here knows how the planner sizes anything: each check reads the object that `planner plan --json` prints.
"""

from collections import defaultdict
from itertools import pairwise

import pytest

from planner import Intent, demo_house, plan, plan_object, read_house, read_stock

PERIODS = ("georgian", "federal", "greek revival", "victorian", "colonial revival", "craftsman")
EIGHTH, HAIR = 1 / 8, 1 / 64


def told(style, stocked):
    """The object of the demo house in a period, on the longest ladder that five tiers give."""
    house, _ = read_house(demo_house())
    stock = read_stock(demo_house(), house.unit) if stocked else None
    return plan_object(plan(house, Intent(style=style, grade="great house"), stock), takeoff=False)


@pytest.fixture(scope="module", params=[(style, stocked) for style in PERIODS for stocked in (False, True)], ids=str)
def packages(request):
    return told(*request.param)["packages"]


def by_kind(package):
    return {e["element"]: e for e in package["elements"]}


def reach(element):
    return max(m["projection"] for m in element["section"])


def test_every_element_has_a_section_as_high_as_itself(packages):
    wrong = [
        (p["package"], e["element"], e["size"], sum(m["height"] for m in e["section"]))
        for p in packages
        for e in p["elements"]
        if abs(sum(m["height"] for m in e["section"]) - e["size"]) > HAIR
    ]
    assert wrong == []


def test_every_member_has_a_height_and_stands_off_the_wall(packages):
    wrong = [
        (p["package"], e["element"], m)
        for p in packages
        for e in p["elements"]
        for m in e["section"]
        if not (m["height"] > 0 and m["projection"] >= 0 and m["member"])
    ]
    assert wrong == []


def test_nothing_of_a_wainscot_overhangs_its_base_or_rail(packages):
    """A mould that is planted on the frame may stand before it; the frame, and boards, stand behind."""
    wrong = []
    for p in packages:
        has = by_kind(p)
        if "wainscot" not in has:
            continue
        face = max((m["projection"] for m in has["wainscot"]["section"] if m["member"].endswith("rail")), default=None)
        face = has["base"]["ground"] if face is None else face
        for name in ("base", "chair rail", "plate rail"):
            if name in has and min(m["projection"] for m in has[name]["section"]) < face - HAIR:
                wrong.append((p["package"], name, face, has[name]["section"]))
    assert wrong == []


def test_thicknesses_meet(packages):
    """Casing an eighth over the base that dies into it, a block an eighth over the casing."""
    wrong = []
    for p in packages:
        has = by_kind(p)
        stop = has.get("plinth block") or has.get("casing")
        if stop and "base" in has and reach(stop) < reach(has["base"]) + EIGHTH - HAIR:
            wrong.append((p["package"], stop["element"], reach(stop), reach(has["base"])))
        if "plinth block" in has and reach(has["plinth block"]) < reach(has["casing"]) + EIGHTH - HAIR:
            wrong.append((p["package"], "block", reach(has["plinth block"]), reach(has["casing"])))
    assert wrong == []


def members(element):
    """What an element shows of each kind: the largest height."""
    found = defaultdict(float)
    for m in element["section"]:
        found[m["member"]] = max(found[m["member"]], m["height"])
    return found


def ladders(packages):
    found = defaultdict(list)
    for p in packages:
        if not p["variant"]:
            found[p["style"], p["order"], p["ceiling"]].append(p)
    return [sorted(ps, key=lambda p: p["tier"]) for ps in found.values()]


def test_no_lower_tier_is_larger(packages):
    wrong = []
    for ladder in ladders(packages):
        for low, high in pairwise(ladder):
            below, above = by_kind(low), by_kind(high)
            for name in ("base", "casing", "window casing", "chair rail", "crown"):
                if name in below and name in above and below[name]["size"] > above[name]["size"] + HAIR:
                    wrong.append((low["package"], name, below[name]["size"], above[name]["size"]))
            if "crown" in below and "crown" in above:
                a, b = members(below["crown"]), members(above["crown"])
                for kind in ("corona",):
                    if kind in a and kind in b and a[kind] > b[kind] + HAIR:
                        wrong.append((low["package"], kind, a[kind], b[kind]))
    assert wrong == []


def test_dentils_never_fall_with_a_rising_tier(packages):
    for ladder in ladders(packages):
        crowns = [by_kind(p)["crown"]["section"] for p in ladder if "crown" in by_kind(p)]
        carried = [any(m["member"] == "dentil band" for m in section) for section in crowns]
        assert carried == sorted(carried)


def test_doors_stand_above_windows(packages):
    wrong = [
        (p["package"], by_kind(p)["casing"]["size"], by_kind(p)["window casing"]["size"])
        for p in packages
        if "window casing" in by_kind(p) and by_kind(p)["casing"]["size"] < by_kind(p)["window casing"]["size"] + EIGHTH
    ]
    assert wrong == []
