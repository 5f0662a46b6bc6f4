"""What no plan can be made from is said in words before anything is worked out."""

from dataclasses import replace
from math import inf, nan

import pytest

from planner import Change, House, Intent, Opening, Room, Scope, TrimRule, plan
from planner.intent.model import FACTORS
from planner.intent.soundness import sound

HALL = Room("Hall", "Ground", "entry hall", 120.0, 120.0, 108.0)
DEN = Room("Den", "Ground", "study", 120.0, 144.0, 108.0)
HOUSE = House("Lodge", ("Hall",), (HALL, DEN), (Opening("Door", "door", "Hall", "Den", "E", None, 36.0, 80.0),))

UNSOUND = [
    (Intent(importance={"use": -1.0, "display": 2.0}), "the weight of use must be zero or more, not -1.0"),
    (Intent(importance={"use": nan}), "the weight of use must be zero or more, not nan"),
    (Intent(importance={"use": inf}), "the weight of use must be zero or more, not inf"),
    (Intent(importance={"use": 1.0, "charm": 1.0}), "no factor 'charm'; there are use, display"),
    (Intent(importance=dict.fromkeys(FACTORS, 0.0)), "all weights are zero; give at least one factor a weight"),
    (Intent(importance={}), "all weights are zero"),
    (Intent(limits={"door": -1}), "the limit of a door must be zero or more, not -1"),
    (Intent(sets=((),)), "a set needs two rooms or more"),
    (Intent(sets=(("Hall", "Den"), ("Den", "Den"))), "a set needs two rooms or more"),
    (Intent(budget=nan), "a budget must be a number, or left out, not nan"),
    (Intent(budget=inf), "a budget must be a number, or left out, not inf"),
    (Intent(cost_in="gold"), "costs are counted in one of index and money, not in 'gold'"),
    (
        Intent(trim=(TrimRule("base", Scope(), Change(size=-3.0)),)),
        "the size of base must be 1/16 in or more, not -3.0",
    ),
    (Intent(trim=(TrimRule("crown", Scope(), Change(projection=nan)),)), "the projection of crown must be"),
]


@pytest.mark.parametrize(("intent", "words"), UNSOUND, ids=range(len(UNSOUND)))
def test_what_no_plan_can_be_made_from_is_told(intent, words):
    with pytest.raises(ValueError, match=words):
        sound(intent)
    with pytest.raises(ValueError, match=words):
        plan(HOUSE, intent)


@pytest.mark.parametrize(
    ("house", "words"),
    [
        (
            replace(HOUSE, openings=()),
            "no way leads from 'Hall' to 'Den'; give each an opening into a room within reach",
        ),
        (replace(HOUSE, entries=()), "the entry '' is none of the rooms; name one of them"),
        (replace(HOUSE, entries=("Porch",)), "the entry 'Porch' is none of the rooms"),
    ],
)
def test_a_house_that_cannot_be_walked_through_has_no_plan(house, words):
    with pytest.raises(ValueError, match=words):
        plan(house)


@pytest.mark.parametrize(
    "intent",
    [Intent(), Intent(importance={"use": 1}), Intent(limits={"door": 0}), Intent(sets=(("Hall", "Den"),), budget=1.0)],
)
def test_what_is_sound_stays_as_it_is(intent):
    assert sound(intent) is intent
