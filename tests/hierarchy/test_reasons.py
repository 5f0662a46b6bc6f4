"""What is said of a room's tier, word for word, under rules written by hand."""

import pytest

from planner.hierarchy.reasons import conflicts, nearest_tier, reasons
from planner.hierarchy.rules import Arc, PassageRule, Range, Rules, passage_arcs

LADDER = Range(1, 5, "ladder", "the ladder")
DOOR = Arc("Hall", "Parlor", 1, "the door between them")
BACK = Arc("Parlor", "Hall", 1, "the door between them")


def rules(hall: tuple[Range, ...] = (), parlor: tuple[Range, ...] = (), arcs: tuple[Arc, ...] = (DOOR, BACK)) -> Rules:
    """Rules on a hall and a parlor with five tiers."""
    ranges = {"Hall": (LADDER, *hall), "Parlor": (LADDER, *parlor)}
    return Rules(("Hall", "Parlor"), 5, ranges, arcs, (), ())


@pytest.mark.parametrize(
    ("target", "tier"), [(-3.0, 1), (0.2, 1), (1.5, 1), (1.51, 2), (3.5, 3), (4.6, 5), (5.0, 5), (9.0, 5)]
)
def test_the_nearest_tier_is_one_of_the_ladder_and_the_lower_of_two(target, tier):
    assert nearest_tier(target, 5) == tier


def test_a_room_on_its_nearest_tier_is_held_by_nothing():
    assert reasons("Hall", 4, 3.9, {"Hall": 4, "Parlor": 4}, rules()) == (
        "Its importance asks for 3.90, nearest tier 4.",
        "Nothing holds it from there.",
    )


def test_what_holds_a_room_down_is_told_and_nothing_else():
    """With the parlor on 3 the door allows 4 and is not named beside the use that holds to 3; with it on 2 it is."""
    use = Range(1, 3, "use", "a hall suits tiers 1 to 3")
    said = reasons("Hall", 3, 5.0, {"Hall": 3, "Parlor": 3}, rules((use,)))
    assert said[1:] == ("Held down to 3: a hall suits tiers 1 to 3.",)
    said = reasons("Hall", 3, 5.0, {"Hall": 3, "Parlor": 2}, rules((Range(1, 4, "use", "its use"),)))
    assert said[1:] == ("Held down to 3: the door between them.",)


def test_what_holds_a_room_up_is_told_and_nothing_else():
    use = Range(3, 5, "use", "a hall suits tiers 3 to 5")
    said = reasons("Hall", 3, 1.0, {"Hall": 3, "Parlor": 3}, rules((use,)))
    assert said[1:] == ("Held up to 3: a hall suits tiers 3 to 5.",)
    said = reasons("Hall", 2, 1.0, {"Hall": 2, "Parlor": 3}, rules())
    assert said[1:] == ("Held up to 2: the door between them.",)


def test_a_pin_is_told_and_counts_as_no_other_reason():
    pin = Range(2, 2, "pin", "pinned to tier 2")
    told = "It is pinned to tier 2, which outranks its use and the house's grade."
    assert reasons("Hall", 2, 4.0, {"Hall": 2, "Parlor": 2}, rules((pin,)))[1:] == (told,)
    assert reasons("Hall", 2, 2.0, {"Hall": 2, "Parlor": 2}, rules((pin,)))[1:] == (told,)


@pytest.mark.parametrize(("target", "direction"), [(5.0, "down"), (1.0, "up")])
def test_a_room_that_no_rule_holds_is_drawn_by_its_neighbours(target, direction):
    said = reasons("Hall", 3, target, {"Hall": 3, "Parlor": 3}, rules(arcs=()))
    assert said[1] == f"Drawn {direction} to 3 by its neighbours: another tier would make steps more abrupt."
    said = reasons("Hall", 3, target, {"Hall": 3, "Parlor": 3}, rules(arcs=()), budget=100.0)
    assert said[1].endswith("make steps more abrupt, or cost more than the budget leaves.")


def test_a_use_that_cannot_be_reached_yields_and_says_how_far():
    use = Range(4, 5, "use", "a parlor suits tiers 4 to 5")
    held = rules((Range(1, 2, "range", "kept to tier 2"),), (use,)).lowest("Parlor")
    assert (held.lowest, held.why) == (3, "a parlor suits tiers 4 to 5, but here it cannot be above 3")


@pytest.mark.parametrize(
    ("rise", "allowed"), [(0, "does not rise"), (1, "rises by at most 1"), (2, "rises by at most 2")]
)
def test_a_passage_says_what_it_asks(rise, allowed):
    door = PassageRule("Hall", "Parlor", "door", 2, 1, 0.3, rise)
    across = "across the door between Hall and Parlor tiers differ by at most 2"
    assert passage_arcs(door) == [
        Arc("Hall", "Parlor", 2, across),
        Arc("Parlor", "Hall", 2, across),
        Arc("Hall", "Parlor", rise, f"going in from Hall to Parlor the tier {allowed}"),
    ]


def test_two_ranges_that_meet_in_no_tier_are_a_conflict_of_their_own():
    high, low = Range(4, 5, "pin", "pinned to tier 4"), Range(1, 3, "room", "its ceiling carries 3")
    assert conflicts(rules((high, low))) == ("Hall: its ceiling carries 3.", "Hall: pinned to tier 4.")
    assert conflicts(rules()) == ()
