"""Built-ups measure what their pieces make them, and the search finds the best of them."""

from itertools import pairwise, product
from math import inf
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.mouldings.members import Profile, faults, parse_members
from planner.stock.choice import target_of
from planner.stock.search import Placed, Target, assemble, best, built_ups, stacked, ways, within
from planner.stock.stock import Stock, read_stock, roles
from planner.trim.packages import package

DEMO = read_stock(Path(__file__).parents[2] / "demo_house")


def made(code: str, role: str, members: str, price: float = 1.0) -> Profile:
    parts = parse_members(members)
    height, reach = sum(m.height for m in parts), max(m.projection for m in parts)
    return Profile(code, role, "", height, reach, reach, parts, (96.0,), price)


def test_every_row_names_roles_and_elements_that_exist():
    from planner.trim.styles import forms, kinds

    known = {(element, form) for element, form in forms()}
    for way in built_ups():
        assert {role for piece in way.pieces for role in piece.roles} <= set(roles()), way.name
        for element in way.elements:
            if element in kinds():
                assert any((element, form) in known for form in way.forms), (way.name, element)
        assert sum(piece.fill or bool(piece.gap) for piece in way.pieces) <= 1, way.name


def test_every_form_that_is_bought_can_be_built_from_the_demo_stock():
    from planner.library import table
    from planner.trim.styles import forms

    for element, form in forms():
        if element not in table("built_ups")["not_bought"]:
            assert ways(element, form), (element, form)
            assert best(Target(element, 5.0, 3.0, form), DEMO, 1), (element, form)


def test_base_of_board_cap_and_shoe():
    """A board ripped to 4 1/4 in under a cap of 1 1/4 in is 5 1/2 in high; the shoe adds nothing to that."""
    target = Target("base", 5.5, 0.875, "board and cap", within=(("shoe", 0.75),))
    found = best(target, DEMO, 1)[0]
    board, cap, shoe = found.pieces
    assert (board.cut, board.x, board.y) == (5.5 - cap.height, 0.0, 0.0)
    assert (cap.x, cap.y) == (0.0, board.height)
    assert (shoe.profile.role, shoe.x, shoe.y) == ("shoe", board.reach, 0.0)
    assert (found.height, found.projection) == (5.5, 0.875)
    assert found.price_per_foot == pytest.approx(sum(p.profile.price for p in found.pieces))
    assert len(best(Target("base", 5.5, 0.875, "board and cap"), DEMO, 1)[0].pieces) == 2


def test_crown_above_a_bead_leaves_plain_wall_between():
    """Common practice: bead, at least as much plain wall, crown; 5 to 6 in down in all."""
    found = best(Target("crown", 5.5, 2.1, "crown above a bead"), DEMO, 1)[0]
    bead, crown = found.pieces
    gap = crown.y - bead.top
    assert gap >= bead.height
    assert bead.height + gap + crown.height == found.height == 5.5
    assert dict(found.parts)["wall"] == gap


def test_chair_rail_of_a_beaded_casing_and_a_backband():
    stock = Stock(
        (
            made("C", "casing", "beaded edge 1/2 x 7/8; fascia 3 1/2 x 7/8"),
            made("B", "backband", "cyma reversa 1/2 x 1 1/8; backband 3/8 x 1 1/4"),
        )
    )
    found = best(Target("chair rail", 3.0, 1.25, "moulded rail"), stock)[0]
    casing, band = found.pieces
    assert casing.cut == 2.125 and casing.section.members[1].height == 1.625
    assert (band.y, found.height, found.projection) == (2.125, 3.0, 1.25)


def test_cornice_of_bed_mould_corona_and_cymatium():
    """The cymatium's foot stands 1/8 in proud of the corona, which passes the bed mould by 1/2 in or more."""
    stock = Stock(
        (
            made("B", "bed mould", "fillet 1/4 x 1/4; ovolo 1 x 1; fillet 1/4 x 1 1/4"),
            made("C", "corona", "corona 1 1/2 x 4"),
            made("Y", "cymatium", "fillet 1/4 x 1/4; cyma recta 1 x 1; fillet 1/4 x 1 1/4"),
        )
    )
    found = best(Target("crown", 4.5, 5.0, "four-part cornice"), stock)
    assert len(found) == 1
    bed, corona, top = found[0].pieces
    assert (bed.x, corona.x, top.x) == (0.0, 0.0, 4 + 0.125 - 0.25)
    assert (found[0].height, found[0].projection) == (4.5, 5.125)
    assert found[0].deviation == pytest.approx(0.25 * 0.125)
    short = Stock((stock.profiles[0], made("C", "corona", "corona 1 1/2 x 1 5/8"), stock.profiles[2]))
    assert best(Target("crown", 4.5, 5.0, "four-part cornice"), short) == ()


def test_a_terminating_moulding_is_not_put_under_load():
    """A bed mould that ends in a cyma recta cannot carry a corona (Hatfield, art. 310)."""
    rest = (made("C", "corona", "corona 1 x 3"), made("Y", "cymatium", "fillet 1/4 x 1/4; cyma recta 1 x 1"))
    weak = made("W", "bed mould", "fillet 1/4 x 1/4; cyma recta 1 x 1; fillet 1/4 x 1 1/8")
    strong = made("S", "bed mould", "fillet 1/4 x 1/4; cyma reversa 1 x 1; fillet 1/4 x 1 1/8")
    target = Target("crown", 3.5, 4.0, "four-part cornice")
    assert best(target, Stock((weak, *rest))) == ()
    assert best(target, Stock((weak, strong, *rest)))[0].profiles == ("S", "C", "Y")


def test_overdoor_may_have_a_pulvinated_frieze():
    found = within(Target("overdoor", 7.5, 5.0, "frieze and cornice"), DEMO, 1.0)
    assert {"flat frieze and cornice", "pulvinated frieze and cornice"} <= {a.built_up for a in found}


def test_a_turned_board_lies_on_its_flat():
    shelf = best(Target("plate rail", 4.0, 3.0, "shelf on a board"), DEMO, 1)[0].pieces[-1]
    assert shelf.turned
    assert (shelf.height, shelf.projection) == (shelf.profile.projection, 3.0)
    assert shelf.section.members[0].projection == 3.0


@pytest.mark.parametrize("style", ["georgian", "craftsman", "federal"])
@pytest.mark.parametrize("ceiling", [96.0, 120.0])
def test_what_is_built_closes_and_keeps_the_rules(style, ceiling):
    """Heights of the pieces and of plain wall sum to the whole; the members draw as a sound profile."""
    for tier in range(1, 6):
        whole = package(style, "doric", tier, ceiling, top=5)
        for element in whole.elements:
            target = target_of(whole, element)
            for a in best(target, DEMO) if target else ():
                stack = stacked(a.pieces)
                wall = dict(a.parts).get("wall", 0.0)
                assert sum(p.height for p in stack) + wall == pytest.approx(a.height)
                assert max(p.reach for p in stack) == pytest.approx(a.projection)
                assert sum(h for _, h in a.parts) == pytest.approx(a.height)
                for low, high in pairwise(stack):
                    assert high.y >= low.top - 1e-9
                for p in stack:
                    assert p.height > 0 and (p.cut is None or p.cut < p.profile.height)
                    assert not faults(p.section), a
                assert max(m.projection for m in a.members) == pytest.approx(a.projection)


# Against plain enumeration

FILLETS = "fillet 1/4 x 1/4; {} {} x {}; fillet 1/4 x {}"
SIXTEENTHS = st.integers(8, 48).map(lambda n: n / 16)


@st.composite
def small_stocks(draw):
    """Up to four profiles for each piece of a cornice or a base; some bed moulds cannot carry."""
    profiles = []
    for role in ("bed mould", "cymatium"):
        for i in range(draw(st.integers(1, 4))):
            kind = draw(st.sampled_from(["ovolo", "cyma reversa", "cyma recta"]))
            height, run = draw(SIXTEENTHS), draw(SIXTEENTHS) + 0.25
            profiles.append(made(f"{role[0]}{i}", role, FILLETS.format(kind, height, run, run), draw(SIXTEENTHS)))
    for i in range(draw(st.integers(1, 4))):
        profiles.append(
            made(f"C{i}", "corona", f"corona {draw(SIXTEENTHS)} x {1 + draw(SIXTEENTHS)}", draw(SIXTEENTHS))
        )
    for i in range(draw(st.integers(1, 4))):
        board = f"fascia {4 * draw(SIXTEENTHS)} x {draw(st.sampled_from(['3/4', '1']))}"
        profiles.append(made(f"O{i}", "board", board, draw(SIXTEENTHS)))
    for i in range(draw(st.integers(0, 3))):
        members = FILLETS.format("cyma reversa", draw(SIXTEENTHS), 1, 1)
        profiles.append(made(f"K{i}", "base cap", members, draw(SIXTEENTHS)))
        profiles.append(made(f"T{i}", "taenia", f"fillet {draw(SIXTEENTHS)} x 1 1/4", draw(SIXTEENTHS)))
    return Stock(tuple(profiles))


@st.composite
def targets(draw):
    role, form, parts = draw(
        st.sampled_from(
            [
                ("base", "board and cap", ("board", "cap")),
                ("base", "plinth, board and cap", ("plinth", "board", "cap")),
                ("crown", "four-part cornice", ("cornice",)),
                ("crown", "cornice, frieze and taenia", ("taenia", "frieze", "cornice")),
            ]
        )
    )
    heights = [draw(st.floats(0.5, 8)) for _ in parts]
    return Target(role, sum(heights), draw(st.floats(0.5, 6)), form, tuple(zip(parts, heights, strict=True)))


def all_assemblies(target: Target, stock: Stock):
    for way in ways(target.role, target.form):
        pieces = tuple(p for p in way.pieces if not p.if_within)
        options = [[p for r in piece.roles for p in stock.by_role.get(r, ()) if piece.suits(p)] for piece in pieces]
        for chosen in product(*options):
            a = assemble(way, pieces, chosen, target)
            if a is not None and not rules_broken(a.pieces):
                yield a


def rules_broken(pieces: tuple[Placed, ...]) -> tuple[str, ...]:
    members = "; ".join(f"{m.kind} {m.height} x {m.projection + p.x}" for p in pieces for m in p.section.members)
    return faults(made("", "cornice" if "corona" in members else "", members))


@settings(max_examples=150, deadline=None)
@given(targets(), small_stocks())
def test_nothing_is_better_than_the_best(target, stock):
    every = sorted(a.deviation for a in all_assemblies(target, stock))
    found = [a.deviation for a in best(target, stock)]
    assert found == pytest.approx(every[:2])


@settings(max_examples=60, deadline=None)
@given(targets(), small_stocks(), st.sampled_from([0.0, 0.1, 1.0, inf]))
def test_all_within_an_allowance_are_found(target, stock, allowance):
    every = {(a.built_up, a.profiles, round(a.deviation, 6)) for a in all_assemblies(target, stock)}
    limit = min((d for _, _, d in every), default=0.0) + allowance
    found = {(a.built_up, a.profiles, round(a.deviation, 6)) for a in within(target, stock, allowance)}
    assert {e for e in every if e[2] < limit - 1e-5} <= found <= {e for e in every if e[2] <= limit + 1e-5}
