"""A takeoff: what is bought and what is not, in layers, spliced, by the allowances of the house."""

from collections import Counter
from dataclasses import replace
from math import radians, tan

import pytest

from planner import demo_house, plan, read_stock
from planner.house.model import Existing, House, Opening, Room
from planner.library import standard
from planner.stock.stock import Stock
from planner.takeoff import takeoff as module
from planner.takeoff.allowances import allowances_of
from planner.takeoff.ends import End
from planner.values import immutabledict
from planner.walls.cuts import Joint
from planner.walls.parts import BEHIND, RUNS, Part

STOCK = read_stock(demo_house())
ROOM = Room("Parlor", "Ground", "parlor", 264.0, 192.0, 120.0)
DOOR = Opening("Front", "door", "Parlor", "outside", "S", 100.0, 36.0, 84.0)
HOUSE = House("Lodge", ("Parlor",), (ROOM,), (DOOR,))


def taken(house: House = HOUSE, stock: Stock | None = STOCK):
    made = plan(house, stock=stock)
    return made, made.takeoff


@pytest.fixture(scope="module")
def lodge():
    return taken()


def test_every_piece_is_cut_in_as_many_layers_as_it_is_built_up_of(lodge):
    made, found = lodge
    pieces = [p for p in made.pieces["Parlor"] if p.part in RUNS]
    runs = {run.number: run for run in found.runs}
    assert Counter((p.name, p.place) for p in pieces) == Counter((r.name, r.place) for r in runs.values())
    for p in pieces:
        run = next(r for r in runs.values() if (r.name, r.place) == (p.name, p.place))
        assert run.profiles == tuple((placed.cut_from or placed.profile).code for placed in p.stock)
    assert max(len(run.profiles) for run in runs.values()) > 1


def test_blocks_are_cut_one_by_one(lodge):
    made, found = lodge
    blocks = [p for p in made.pieces["Parlor"] if p.part is Part.BLOCKING]
    assert blocks and sum(p.count for p in blocks) == sum(s.name == "blocking" for s in found.sticks)


def test_a_long_run_is_scarfed_over_studs_and_its_layers_are_staggered(lodge):
    _, found = lodge
    long = [run for run in found.runs if run.place.x1 - run.place.x0 > 192 and len(run.profiles) > 1]
    assert long
    for run in long:
        joints = []
        for layer in range(len(run.profiles)):
            of = sorted((s for s in found.sticks if (s.run, s.layer) == (run.number, layer)), key=lambda s: s.place.x0)
            assert [s.ends[1] for s in of[:-1]] == [End.SCARF] * (len(of) - 1) == [s.ends[0] for s in of[1:]]
            lap = of[0].depth * tan(radians(45)) / 2
            assert of[0].length == pytest.approx(of[0].place.x1 - of[0].place.x0 + lap)
            assert of[0].saw[1].flat == (0.0, 45.0)
            joints.append(of[0].place.x1)
        assert len(set(joints)) == len(joints)


def test_what_lies_behind_is_butted(lodge):
    _, found = lodge
    behind = [s for s in found.sticks if s.name in {str(part) for part in BEHIND}]
    assert behind and {end for s in behind for end in s.ends} == {End.SQUARE}


def test_a_profile_goes_round_an_outside_corner_as_far_as_it_stands_off_the_wall():
    outline = ((0, 0), (0, 192), (120, 192), (120, 120), (200, 120), (200, 0))
    room = replace(ROOM, outline=outline, length=200.0)
    made, found = taken(replace(HOUSE, rooms=(room,), openings=(replace(DOOR, wall="", offset=None),)))
    corners = [p for p in made.pieces["Parlor"] if any(cut.joint is Joint.OUTSIDE for cut in p.ends)]
    assert corners
    for p in corners:
        run = next(r for r in found.runs if (r.name, r.place) == (p.name, p.place))
        of = [s for s in found.sticks if s.run == run.number]
        turns = sum(tan(radians(cut.through)) for cut in p.ends if cut.joint is Joint.OUTSIDE)
        whole = p.place.x1 - p.place.x0
        if len(of) == len(p.stock):
            for s, placed in zip(of, p.stock, strict=True):
                assert s.length == pytest.approx(whole + placed.reach * turns)
                assert End.OUTSIDE_MITER in s.ends


def test_trim_that_stays_is_not_bought():
    stays = Existing("Parlor", "crown", "built-up cornice", 6.0, 5.0)
    forms = standard().form_names("crown")
    stays = replace(stays, form=next(f for f in forms if f != "none"))
    before, after = taken()[1], taken(replace(HOUSE, existing=(stays,)))[1]
    assert any(s.element == "crown" for s in before.sticks)
    assert not any(s.element == "crown" for s in after.sticks)
    assert any(s.element == "base" for s in after.sticks)


def test_a_house_kept_whole_buys_nothing():
    found = taken(replace(HOUSE, existing=(Existing("Parlor", "all"),)))[1]
    assert (found.sticks, found.bars, found.order, found.waste) == ((), (), (), 0.0)


def test_allowances_of_the_house_are_used():
    own = immutabledict({"kerf": 0.25, "end_trim": 1.0, "fit_cope": 0.5, "scarf": 30.0})
    house = replace(HOUSE, takeoff=own)
    allowances = allowances_of(house, standard())
    assert (allowances.kerf, allowances.end_trim, allowances.offcut) == (0.25, 1.0, 24.0)
    found = taken(house)[1]
    by_number = {s.number: s for s in found.sticks}
    for bar in found.bars:
        if bar.kerf:
            used = sum(by_number[n].length + allowances.fit(by_number[n].ends) + 0.25 for n in bar.sticks) + 2.0
            assert used + bar.offcut == pytest.approx(bar.stock_length)
    assert any(s.saw[1] is not None and s.saw[1].flat.bevel == 30.0 for s in found.sticks)


def test_without_a_stock_all_is_made_to_its_section_and_has_no_price():
    found = taken(stock=None)[1]
    assert found.sticks and not any(lot.priced for lot in found.lots)
    assert {bar.price for bar in found.bars} == {None}
    assert all(lot.cost == pytest.approx(lot.ordered) for lot in found.lots)


def test_rails_and_stiles_are_ripped_from_boards_of_the_stock():
    _, found = taken(replace(HOUSE, grade="great house"))
    rails = [s for s in found.sticks if s.name in ("top rail", "bottom rail", "stile")]
    boards = {p.code: p for p in STOCK.profiles if p.role == "board"}
    for s in rails:
        if s.profile in boards:
            assert boards[s.profile].height >= s.width - 1 / 64 and boards[s.profile].projection == s.depth
    assert {s.profile for s in rails} & set(boards)


def test_a_casing_longer_than_anything_sold_is_ordered_as_long_as_it_is():
    wide = Opening("Wide", "cased opening", "Parlor", "", "N", 20.0, 220.0, 84.0)
    house = replace(HOUSE, openings=(DOOR, wide))
    found = taken(house)[1]
    heads = [s for s in found.sticks if s.place.opening == "Wide" and s.element == "casing" and s.length > 192]
    assert heads and all(End.SCARF not in s.ends for s in heads)
    bars = [bar for bar in found.bars if heads[0].number in bar.sticks]
    assert bars[0].stock_length >= heads[0].length and len(bars[0].sticks) == 1
    assert any("longer than anything sold" in note for note in found.notes)


@pytest.mark.parametrize(("unit", "step"), [("in", 12.0), ("m", 300 / 25.4)])
def test_what_has_no_lengths_of_its_own_is_sold_in_those_of_the_houses_unit(unit, step):
    """Common practice: whole feet, or whole multiples of 300 mm; a head that is longer than any as well."""
    wide = Opening("Wide", "cased opening", "Parlor", "", "N", 20.0, 220.0, 84.0)
    made, found = taken(replace(HOUSE, unit=unit, openings=(DOOR, wide)), None)
    sold = {bar.stock_length for lot in found.lots if not lot.by_piece for bar in lot.bars}
    assert len(sold) >= 3 and all(length / step == pytest.approx(round(length / step), abs=1e-9) for length in sold)
    assert max(sold) > max(found.allowances.lengths)
    own = immutabledict({"lengths": (100.0, 200.0)})
    assert allowances_of(replace(made.house, takeoff=own), made.library).lengths == (100.0, 200.0)


def test_what_is_made_to_its_size_is_ordered_in_the_size_that_the_cut_list_has():
    """No more of its length than of its width: a shop makes a panel, and nobody cuts it from a bar."""
    _, found = taken(replace(HOUSE, takeoff=immutabledict({"fit_square": 0.25})))
    panels = [bar for lot in found.lots if lot.stuff.made == "panel" for bar in lot.bars]
    assert panels
    for bar in panels:
        (stick,) = (found.sticks[number - 1] for number in bar.sticks)
        assert bar.stock_length == stick.length + 0.5 and (bar.kerf, bar.end_trim, bar.offcut) == (0.0, 0.0, 0.0)


def test_a_house_of_too_many_pieces_is_not_taken_off(monkeypatch):
    monkeypatch.setattr(module, "MOST_PIECES", 10)
    assert taken()[1] is None


def test_a_room_a_mile_long_is_taken_off_in_bounded_time():
    long = replace(ROOM, length=60000.0)
    found = taken(replace(HOUSE, rooms=(long,), openings=(replace(DOOR, wall="W"),)))[1]
    assert found is not None and len(found.sticks) > 5000


def test_no_plan_is_not_taken_off():
    from planner.intent.model import Intent, Wish

    made = plan(HOUSE, Intent(rooms={"Parlor": Wish(tier=3)}, budget=0.0), STOCK)
    assert not made.feasible and made.takeoff is None
