"""The search finds the nearest that a stock makes, all of it where it can, and says what it left out where not."""

from itertools import pairwise, product
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.mouldings.assembly import Placed, stacked
from planner.mouldings.soundness import faults
from planner.stock import laying, search
from planner.stock.built_ups import Target, assemble, layers_of, options_of, target_of
from planner.stock.search import best, within
from planner.stock.stock import Stock
from tests.known import LIBRARY, package
from tests.stock.invented import DEMO, enlarged, ladder, made, shuffled


def test_overdoor_may_have_a_pulvinated_frieze():
    found = within(Target("overdoor", 7.5, 5.0, "frieze and cornice"), DEMO, LIBRARY, 1.0)
    assert {"flat frieze and cornice", "pulvinated frieze and cornice"} <= {a.built_up for a in found}


def test_what_breaks_a_rule_of_the_mouldings_is_not_found():
    """A bed mould that ends in a cyma recta cannot carry a corona (Hatfield, art. 310)."""
    rest = (made("C", "corona", "corona 1 x 3"), made("Y", "cymatium", "fillet 1/4 x 1/4; cyma recta 1 x 1"))
    weak = made("W", "bed mould", "fillet 1/4 x 1/4; cyma recta 1 x 1; fillet 1/4 x 1 1/8")
    strong = made("S", "bed mould", "fillet 1/4 x 1/4; cyma reversa 1/2 x 1; fillet 1/4 x 1 1/8")
    target = Target("crown", 3.75, 4.0, "four-part cornice")
    assert best(target, Stock((weak, *rest)), LIBRARY) == within(target, Stock((weak, *rest)), LIBRARY, 0.1) == ()
    both = Stock((weak, strong, *rest))
    assert [a.profiles for a in best(target, both, LIBRARY)] == [("S", "C", "Y")]
    assert [a.profiles for a in within(target, both, LIBRARY, 0.0)] == [("S", "C", "Y")]


def test_as_many_are_found_as_are_wanted_the_nearest_first():
    boards = tuple(made(f"O{i}", "board", f"fascia {4 + i} x 3/4", 9.0 - i) for i in range(5))
    target = Target("casing", 4.25, 0.75, "plain casing")
    found = best(target, Stock(boards), LIBRARY, 3)
    assert [a.profiles[0] for a in found] == ["O4", "O3", "O2"]  # all are ripped to 4 1/4 in; the cheapest first
    assert len(best(target, Stock(boards), LIBRARY, 9)) == 5


@pytest.mark.parametrize("style", ["georgian", "craftsman", "federal"])
@pytest.mark.parametrize("ceiling", [96.0, 120.0])
def test_what_is_built_closes_and_keeps_the_rules(style, ceiling):
    """Heights of the pieces and of plain wall sum to the whole; the members draw as a sound profile."""
    for tier in range(1, 6):
        whole = package(style, "doric", tier, ceiling, top=5)
        for element in whole.elements:
            target = target_of(whole, element, LIBRARY)
            for a in best(target, DEMO, LIBRARY) if target else ():
                stack = stacked(a.pieces)
                wall = dict(a.parts).get("wall", 0.0)
                assert sum(p.profile.height for p in stack) + wall == pytest.approx(a.height)
                assert max(p.reach for p in stack) == pytest.approx(a.projection)
                assert sum(h for _, h in a.parts) == pytest.approx(a.height)
                for low, high in pairwise(stack):
                    assert high.y >= low.top - 1e-9
                for p in stack:
                    assert p.profile.height > 0 and (p.cut is None or p.turned or p.cut < p.cut_from.height)
                    assert not faults(p.profile), a
                assert max(m.projection for m in a.members) == pytest.approx(a.projection)


def test_arrays_say_what_assembling_says():
    """Each row of a search, against the built-up that is put together from the same profiles."""
    for style, tier in (("georgian", 5), ("craftsman", 5), ("victorian", 3), ("federal", 1)):
        whole = package(style, "doric", tier, 120.0, top=5)
        for element in whole.elements:
            target = target_of(whole, element, LIBRARY)
            drafts = search.search(target, DEMO, LIBRARY, 0.25) if target else ()
            for row in range(0, len(drafts), 7):
                a = drafts.assembly(row, LIBRARY)
                assert (a.height, a.projection, a.deviation) == (
                    drafts.height[row],
                    drafts.projection[row],
                    drafts.deviation[row],
                )
                assert a.price_per_foot == pytest.approx(drafts.price[row], abs=1e-9)
                assert {DEMO.numbers[code] for code in a.profiles} == set(drafts.codes[row]) - {-1}


# Against plain enumeration

FILLETS = "fillet 1/4 x 1/4; {} {} x {}; fillet 1/4 x {}"
SIXTEENTHS = st.integers(8, 48).map(lambda n: n / 16)


@st.composite
def small_stocks(draw):
    """Up to four profiles for each layer of a cornice, a base or a beam; some bed moulds cannot carry."""
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
        profiles.append(made(f"H{i}", "shoe", f"ovolo {draw(SIXTEENTHS)} x 1/2", draw(SIXTEENTHS)))
    return Stock(tuple(profiles))


@st.composite
def targets(draw):
    role, form, parts = draw(
        st.sampled_from(
            [
                ("base", "board and cap", ("board", "cap")),
                ("base", "plinth, board and cap", ("plinth", "board", "cap")),
                ("crown", "four-part cornice", ("cornice",)),
                ("crown", "boxed beam", ()),
                ("crown", "cornice, frieze and taenia", ("taenia", "frieze", "cornice")),
            ]
        )
    )
    heights = [draw(st.floats(0.5, 8)) for _ in parts]
    within = (("shoe", 0.75),) if role == "base" and draw(st.booleans()) else ()
    height = sum(heights) or draw(st.floats(2, 9))
    return Target(role, height, draw(st.floats(0.5, 6)), form, tuple(zip(parts, heights, strict=True)), within)


def all_assemblies(target: Target, stock: Stock):
    for way in LIBRARY.built_ups(target.role, target.form):
        layers = layers_of(way, target)
        for chosen in product(*(options_of(layer, stock) for layer in layers)):
            a = assemble(way, layers, chosen, target, LIBRARY)
            if a is not None and not rules_broken(a.pieces):
                yield a


def rules_broken(pieces: tuple[Placed, ...]) -> tuple[str, ...]:
    members = "; ".join(
        f"{m.kind} {m.height} x {m.projection + p.x}" for p in stacked(pieces) for m in p.profile.members
    )
    return faults(made("", "cornice" if "corona" in members else "", members))


@settings(max_examples=80, deadline=None)
@given(targets(), small_stocks())
def test_nothing_is_better_than_the_best(target, stock):
    every = sorted(a.deviation for a in all_assemblies(target, stock))
    found = [a.deviation for a in best(target, stock, LIBRARY)]
    assert found == pytest.approx(every[:2])


@settings(max_examples=50, deadline=None)
@given(targets(), small_stocks(), st.sampled_from([0.0, 0.1, 1.0, inf]))
def test_all_within_an_allowance_are_found(target, stock, allowance):
    every = {(a.built_up, a.profiles, round(a.deviation, 6)) for a in all_assemblies(target, stock)}
    limit = min((d for _, _, d in every), default=0.0) + allowance
    found = {(a.built_up, a.profiles, round(a.deviation, 6)) for a in within(target, stock, LIBRARY, allowance)}
    assert {e for e in every if e[2] < limit - 1e-5} <= found <= {e for e in every if e[2] <= limit + 1e-5}


@settings(max_examples=60, deadline=None)
@given(targets(), small_stocks(), st.integers(1, 12))
def test_what_is_left_out_misses_by_its_bound_at_least(target, stock, few):
    """A search cut short on purpose: nothing that it did not find is nearer than it says."""
    bounds = {"MOST_LOOKED_AT": 8 * few, "FEW_LOOKED_AT": 8 * few}
    with pytest.MonkeyPatch.context() as patch:
        for name, value in bounds.items():
            patch.setattr(laying, name, value)
        drafts = search.search.__wrapped__(target, stock, LIBRARY, 1.0)
    found = {drafts.assembly(row, LIBRARY).profiles for row in range(len(drafts))}
    others = [a.deviation for a in all_assemblies(target, stock) if a.profiles not in found]
    assert all(deviation >= drafts.beyond - 1e-9 for deviation in others)


# Bounded work

PRINCIPAL = package("georgian", "doric", 4, 120.0, top=5)
CORNICE = target_of(PRINCIPAL, PRINCIPAL.element("crown"), LIBRARY)


@pytest.mark.parametrize("count", [300, 900])
def test_a_search_looks_at_so_many_assemblies_and_keeps_so_many(count):
    stock = enlarged(count)
    for p in ladder("georgian", 5, 120.0)[3:]:
        for element in p.elements:
            target = target_of(p, element, LIBRARY)
            drafts = search.search(target, stock, LIBRARY, 4.0) if target else None
            if drafts is not None:
                most = len(drafts.stacks) * (laying.MOST_LOOKED_AT + max(map(max_width, drafts.stacks)))
                assert drafts.looked_at <= most
                assert len(drafts) <= search.MOST_DRAFTS
                assert (np.diff(drafts.deviation.round(6)) >= 0).all()


def max_width(stack) -> int:
    return max(map(len, stack.open))


def test_of_very_many_the_nearest_are_kept_and_the_nearest_of_each_size(monkeypatch):
    every = search.search.__wrapped__(CORNICE, DEMO, LIBRARY, 4.0)
    monkeypatch.setattr(search, "MOST_DRAFTS", 200)
    some = search.search.__wrapped__(CORNICE, DEMO, LIBRARY, 4.0)
    assert 150 < len(some) <= 200 < len(every)
    assert some.deviation[:100].tolist() == every.deviation[:100].tolist()
    assert some.deviation[100:].max() >= some.beyond >= every.deviation[99]
    kept = {tuple(row) for row in np.column_stack([some.stack, some.options]).tolist()}
    rows = np.column_stack([every.stack, every.options]).tolist()
    missing = [d for d, row in zip(every.deviation, rows, strict=True) if tuple(row) not in kept]
    assert min(missing) >= some.beyond


def test_unfinished_assemblies_of_every_price_are_carried_on():
    rows = laying._Rows(
        {},
        price=np.arange(100.0),
        height=np.zeros(100),
        reach=np.zeros(100),
        miss=np.where(np.arange(100) < 4, 0.0, np.where(np.arange(100) < 90, 0.5, 2.0)),
    )
    kept = laying._hopeful(rows, 10).tolist()
    assert len(kept) == 10 and kept[:4] == [0, 1, 2, 3]
    assert max(kept) < 90 and max(kept) - min(kept[4:]) > 60


def test_the_order_of_the_stock_changes_nothing():
    target = Target("crown", 9.0, 5.0, "cornice, frieze and taenia")
    one, other = (search.search(target, shuffled(DEMO, seed), LIBRARY, 0.25) for seed in (1, 2))
    assert [one.assembly(r, LIBRARY) for r in range(len(one))] == [other.assembly(r, LIBRARY) for r in range(len(one))]
    assert (one.beyond, one.looked_at) == (other.beyond, other.looked_at)


def test_a_search_among_some_profiles_finds_what_they_make():
    every = search.search(CORNICE, DEMO, LIBRARY, 0.5)
    only = frozenset(every.assembly(0, LIBRARY).profiles) | frozenset(every.assembly(40, LIBRARY).profiles)
    some = search.search(CORNICE, DEMO, LIBRARY, 0.5, only)
    expected = [a for row in range(len(every)) if set((a := every.assembly(row, LIBRARY)).profiles) <= only]
    assert len(expected) >= 2 and [some.assembly(row, LIBRARY) for row in range(len(some))] == expected


def test_two_searches_are_joined():
    near, far = (search.search(CORNICE, DEMO, LIBRARY, allowance) for allowance in (0.0625, 0.5))
    both = near.joined(far)
    assert both.beyond == far.beyond > near.beyond
    assert both.deviation.tolist() == far.deviation.tolist() and len(near) < len(both)
    assert both.options.tolist() == far.options.tolist()


def test_searches_that_know_other_built_ups_are_joined():
    """Of some profiles only one built-up may be had: what it makes keeps its name among those of the other search."""
    tried = 0
    for part in PRINCIPAL.elements:
        target = target_of(PRINCIPAL, part, LIBRARY)
        every = search.search(target, DEMO, LIBRARY, 2.0) if target else None
        if every is None or len(every.stacks) < 2:
            continue
        for last in {int(every.stack[row]): row for row in range(len(every))}.values():
            of_last = every.assembly(last, LIBRARY)
            some = search.search(target, DEMO, LIBRARY, 2.0, frozenset(of_last.profiles))
            for both in (some.joined(every), every.joined(some)):
                made = [both.assembly(row, LIBRARY) for row in range(len(both))]
                assert sorted(map(str, made)) == sorted(str(every.assembly(row, LIBRARY)) for row in range(len(every)))
            tried += len(some.stacks) < len(every.stacks)
    assert tried > 1
