"""A plan is complete, read-only, and the same in every process."""

import os
import pickle
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace
from types import MappingProxyType

import numpy as np
import pytest

from planner import Intent, Plan, Wish, demo_house, plan, read_house, read_stock
from planner.deliverables.plan_json import plan_object, plan_text
from planner.planning import answer
from planner.values import OnDemand
from planner.walls import meetings

HOUSE, _ = read_house(demo_house())
STOCK = read_stock(demo_house(), HOUSE.unit)
INTENT = Intent(
    name="tried",
    rooms={"Guest Bedroom": Wish(tier=3), "Library": Wish(lowest=2, highest=4)},
    limits={"door": 2},
    sets=(("Drawing Room", "Dining Room"),),
)

SCRIPT = """
import pickle, sys
from planner import Intent, Wish, demo_house, plan, read_house, read_stock
from planner.deliverables.plan_json import plan_text
sent = pickle.loads(sys.stdin.buffer.read())
house, _ = read_house(demo_house())
made = plan(house, sent.intent, read_stock(demo_house(), house.unit))
assert made == sent, "equal plans are told apart"
assert hash(made) == hash(sent), "equal plans hash differently"
assert {made: 1}[sent] == 1
assert hash(made.house) == hash(sent.house) and hash(made.intent) == hash(sent.intent)
assert hash(made.stock) == hash(sent.stock) and hash(made.library) == hash(sent.library)
assert {room.package for room in made.rooms} == set(sent.packages)
assert made.walls["Library"] == sent.walls["Library"] and made.checks == sent.checks
assert plan_text(made) == plan_text(sent), "equal plans say different things"
sys.stdout.buffer.write(pickle.dumps(made))
"""


@pytest.fixture(scope="module")
def planned() -> Plan:
    return plan(HOUSE, INTENT, STOCK)


@pytest.mark.parametrize("seed", ["0", "1", "4711"])
def test_a_plan_is_the_same_in_another_process_whatever_its_hash_seed(planned, seed):
    environment = os.environ | {"PYTHONHASHSEED": seed}
    hash(planned)
    ran = subprocess.run(
        [sys.executable, "-c", SCRIPT], input=pickle.dumps(planned), capture_output=True, env=environment
    )
    assert ran.returncode == 0, ran.stderr.decode()
    back = pickle.loads(ran.stdout)
    assert back == planned and hash(back) == hash(planned) and plan_text(back) == plan_text(planned)


def test_plans_are_told_apart_by_what_they_are_made_from(planned):
    assert plan(HOUSE, INTENT, STOCK) == planned
    others = [
        plan(HOUSE, INTENT),
        plan(HOUSE, replace(INTENT, rooms={}), STOCK),
        plan(replace(HOUSE, year_built=1800), INTENT, STOCK),
        plan(HOUSE, INTENT, STOCK, replace(planned.library, checks=planned.library.checks[:-1])),
    ]
    assert planned not in others and len({planned, *others}) == 5
    assert planned != plan_text(planned)


def written_to(value: object) -> list[str]:
    """Everything within a value that somebody could write to, in words; arrays and mappings are tried."""
    found, seen, left = [], set(), [("plan", value)]
    while left:
        where, one = left.pop()
        if id(one) in seen or one is None or isinstance(one, str | int | float | bool | type):
            continue
        seen.add(id(one))
        if isinstance(one, list | set | dict | bytearray):
            found.append(f"{where} is a {type(one).__name__}")
        elif isinstance(one, np.ndarray):
            found += [f"{where} is an array that can be written to"] if one.flags.writeable else []
        elif isinstance(one, Mapping):
            try:
                one[next(iter(one), "")] = None
                found.append(f"{where} takes a new value")
            except TypeError:
                left += [(f"{where}[{key!r}]", item) for key, item in one.items()]
        elif isinstance(one, tuple | frozenset):
            left += [(f"{where}[{n}]", item) for n, item in enumerate(one)]
        elif is_dataclass(one):
            try:
                setattr(one, fields(one)[0].name, None)
                found.append(f"{where}, a {type(one).__name__}, takes a new value")
            except FrozenInstanceError:
                left += [(f"{where}.{f.name}", getattr(one, f.name)) for f in fields(one)]
    return found


def test_nothing_in_a_plan_can_be_written_to(planned):
    deep = ("by_name", "package_of", "placements", "walls", "pieces", "meetings", "checks", "sections", "runners_up")
    asked = {name: getattr(planned, name) for name in deep}
    for name, value in asked.items():
        if isinstance(value, OnDemand):
            asked[name] = tuple(value[key] for key in value)
    ways = planned.what_if("Library")
    known = {"plan.problem.shared", "plan.problem.program"}  # the solver's own matrix, which nothing hands out
    assert [w for w in written_to((planned, *asked.values(), ways)) if not any(k in w for k in known)] == []


def test_the_finder_of_what_can_be_written_to_finds_it():
    assert written_to({"a": 1}) and written_to((1, [2])) and written_to(np.zeros(2))
    assert written_to(MappingProxyType({"a": [1]}))
    assert written_to((1, "a", MappingProxyType({"a": (1,)}))) == []


def test_what_takes_long_is_computed_when_asked_for_and_once(monkeypatch):
    asked: list[str] = []

    def counted(module, name):
        function = getattr(module, name)

        def called(*arguments, **named):
            asked.append(name)
            return function(*arguments, **named)

        monkeypatch.setattr(module, name, called)

    for name in ("lay_out", "meetings", "check_plan", "sections", "best"):
        counted(answer, name)
    planned = plan(HOUSE, INTENT, STOCK)
    assert asked == []
    for _ in range(2):
        assert planned.walls["Library"] and planned.pieces["Library"] and planned.meetings and planned.checks
        assert planned.sections[planned.packages[0]] and planned.runners_up[planned.packages[0]]
        assert planned.what_if("Library") is planned.what_if("Library")
    assert asked.count("meetings") == asked.count("check_plan") == asked.count("sections") == 1
    assert asked.count("lay_out") <= len(planned.rooms)
    assert asked.count("best") == len(planned.runners_up[planned.packages[0]])


def test_the_meetings_of_one_room_are_those_of_all_and_lay_out_no_far_walls(planned, monkeypatch):
    near = {room.name: [one.name for one in HOUSE.openings_of.get(room.name, ())] for room in HOUSE.rooms}
    for room, names in near.items():
        assert planned.meetings_of(room) == {name: planned.meetings[name] for name in names if name in planned.meetings}
    assert any(map(planned.meetings_of, near))
    laid_out = []
    monkeypatch.setattr(meetings, "lay_out", lambda house, room, *_: laid_out.append(room) or ())
    plan(HOUSE, INTENT, STOCK).meetings_of("Library")
    doors = [one for one in HOUSE.openings_of["Library"] if one.other in HOUSE.by_name]
    assert set(laid_out) == {"Library"} | {room for one in doors for room in (one.room, one.other)}
    assert len(laid_out) < len(HOUSE.rooms)


def test_a_house_goes_to_the_top_of_its_grade_and_beyond_where_a_room_is_held_there(planned):
    assert (len(planned.tier_names), planned.top, planned.richest) == (5, 4, 4)
    held = plan(planned.house, Intent(rooms={"Drawing Room": Wish(tier=5)}))
    assert (held.feasible, held.top, held.richest) == (True, 4, 5)


def test_a_room_that_is_not_there_is_no_key(planned):
    for mapping in (planned.walls, planned.pieces, planned.by_name):
        with pytest.raises(KeyError):
            mapping["Ballroom"]
    with pytest.raises(KeyError):
        planned.what_if("Ballroom")


def test_ceilings_a_millimetre_apart_have_packages_that_nobody_takes_for_one():
    rooms = tuple(
        replace(room, ceiling=(2438 if n % 2 else 2439) / 25.4) if room.level == "Upper" else room
        for n, room in enumerate(HOUSE.rooms)
    )
    planned = plan(replace(HOUSE, rooms=rooms, openings=HOUSE.openings))
    packages = planned.packages
    assert len({p.ceiling for p in packages}) >= 3
    assert len({p.key for p in packages}) == len({p.label for p in packages}) == len(packages)
    found = plan_object(planned)
    keys = [p["package_key"] for p in found["packages"]]
    assert len(set(keys)) == len(keys) and {r["package_key"] for r in found["rooms"]} == set(keys)


def test_an_infeasible_plan_is_as_complete(planned):
    none = plan(HOUSE, replace(INTENT, rooms={"Entry Hall": Wish(tier=1), "Drawing Room": Wish(tier=5)}))
    assert not none.feasible and none.conflicts
    assert (none.rooms, none.passages, none.packages, none.checks, none.notes) == ((), (), (), (), ())
    assert dict(none.walls) == dict(none.pieces) == dict(none.meetings) == {}
    assert none.what_if("Drawing Room") == () and none.objective.total == none.cost == 0 and not none.optimal
    assert pickle.loads(pickle.dumps(none)) == none != planned
