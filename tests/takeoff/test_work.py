"""How much of each rate a takeoff comes to."""

from collections import defaultdict

import pytest

from planner import demo_house, plan, read_house, read_stock
from planner.mouldings.outlines import girth
from planner.takeoff.work import work
from tests.takeoff.tiny import tiny


@pytest.fixture(scope="module")
def demo():
    house, _ = read_house(demo_house())
    return plan(house, stock=read_stock(demo_house(), house.unit))


def test_one_room_and_one_door_by_hand():
    """Round the room 120 + 2 x 96 + 2 x 37 5/8 in, the door with its casings of 4 1/8 in left out of 120; the legs 80 +
    4 1/8 + 1/4 in long, the head 36 + 2 (4 1/8 + 1/4)."""
    found = {(of.element, of.rate): amount for of, amount in work(tiny().takeoff, tiny().library).items()}
    along = 120 + 2 * 96 + 2 * 37.625
    around = 2 * 84.375 + 44.75
    by_hand = {
        # Bars of 144, 144 and 120 in for 96 + 37 5/8 twice and 120; of 144 and 96 in for a leg and the head, and a leg.
        # A base of 4 in that is a plain board is ripped from one of 5 1/2.
        ("base", "boards"): 408 * 5.5 * 0.75 / 144,
        ("shoe", "mouldings made"): 408 * 0.75 * 0.5 / 144,
        ("base", "rough boards"): 408 * 1.5 * 0.75 / 144,
        ("casing", "mouldings made"): 240 * 4.125 * 0.875 / 144,
        ("base", "base run"): along / 12,
        ("shoe", "base run"): along / 12,
        ("base", "rough run"): along / 12,
        ("casing", "casing run"): around / 12,
        # Four corners are coped on one side; the two ends at the door are square.
        ("base", "cope"): 4,
        ("shoe", "cope"): 4,
        ("base", "square end"): 6,
        ("shoe", "square end"): 6,
        ("casing", "square end"): 2,
        ("casing", "miter"): 4,
        # A base shows its face and its upper edge.
        ("base", "finish"): along * (4 + 0.75) / 144,
    }
    assert {of: found[of] for of in by_hand} == pytest.approx(by_hand)
    assert set(found) - set(by_hand) == {("shoe", "finish"), ("casing", "finish")}
    for element, long in (("shoe", along), ("casing", around)):
        (lot,) = (lot for lot in tiny().takeoff.lots if lot.profile.startswith(element))
        assert found[element, "finish"] == pytest.approx(long * sum(map(girth, lot.stuff.profiles)) / 144)


def test_every_bar_is_paid_once_by_what_its_pieces_take_of_it(demo):
    amounts = work(demo.takeoff, demo.library)
    order = sum(line.amount for line in demo.takeoff.order if line.amount is not None)
    assert sum(n for of, n in amounts.items() if of.rate == "stock prices") == pytest.approx(order)
    paid = defaultdict(float)
    for bar in demo.takeoff.bars:
        sticks = [demo.takeoff.sticks[number - 1] for number in bar.sticks]
        taken = [demo.takeoff.allowances.taken(s.length, s.ends) for s in sticks]
        for stick, part in zip(sticks, taken, strict=True):
            paid[stick.place.room] += (bar.price or 0.0) * part / sum(taken)
    for room, price in paid.items():
        of_room = sum(n for of, n in amounts.items() if (of.room, of.rate) == (room, "stock prices"))
        assert of_room == pytest.approx(price), room


def test_all_that_stands_on_walls_is_set_and_what_lies_behind_takes_no_paint(demo):
    amounts = work(demo.takeoff, demo.library)
    runs = {row.name for row in demo.library.rates if row.kind == "run"}
    by_run = sum(n for of, n in amounts.items() if of.rate in runs) * 12
    by_piece = {"panel", "carved"}
    kinds = {row.name: row for row in demo.library.rates}
    each = {e for row in kinds.values() if row.kind == "each" for e in row.elements}
    long = sum(
        demo.takeoff.sticks[number - 1].length
        for lot in demo.takeoff.lots
        for bar in lot.bars
        for number in bar.sticks
        if lot.stuff.made == "rough"
        or (lot.stuff.made not in by_piece and not lot.by_piece and demo.takeoff.sticks[number - 1].element not in each)
    )
    assert by_run == pytest.approx(long)
    rough = sum(lot.finished for lot in demo.takeoff.lots if lot.stuff.made == "rough")
    assert sum(n for of, n in amounts.items() if of.rate == "rough run") * 12 == pytest.approx(rough) != 0


def test_a_ripped_profile_loses_the_face_that_is_sawn_off(demo):
    lots = {lot.profile: lot for lot in demo.takeoff.lots}
    ripped = [
        stick
        for stick in demo.takeoff.sticks
        for profiles in [lots[stick.profile].stuff.profiles]
        if len(profiles) == 1 and stick.width < profiles[0].height - 0.1
    ]
    assert ripped
    whole = work(demo.takeoff, demo.library)
    face = sum(n for of, n in whole.items() if of.rate == "finish") * 144
    most = sum(
        max(sum(map(girth, lots[s.profile].stuff.profiles)), s.width + s.depth) * s.length
        for s in demo.takeoff.sticks
        if lots[s.profile].stuff.made != "rough"
    )
    sawn = sum((lots[s.profile].stuff.profiles[0].height - s.width) * s.length for s in ripped)
    assert face <= most - 0.5 * sawn
