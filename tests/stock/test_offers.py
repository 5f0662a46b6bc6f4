"""What is known of each item goes no farther than it must, and what is not known is reckoned with."""

from math import inf

import numpy as np
import pytest

from planner.stock import offers, search
from planner.stock.built_ups import Target, is_sound
from planner.stock.offers import (
    ALLOWANCES,
    FARTHEST,
    TO_ORDER,
    UNKNOWN,
    Item,
    Known,
    known_of,
    settle,
    sixteenths,
)
from planner.stock.program import Rules
from planner.stock.stock import Stock
from tests.known import LIBRARY
from tests.stock.invented import enlarged, made, thinned

CROWNS = Stock(
    tuple(
        made(f"K{h}", "crown", f"fillet 1/4 x 1/4; cyma recta {h - 0.25} x 2", 2.0)
        for h in (2.0, 3.0, 3.4375, 3.5, 3.5625, 4.0, 9.0)
    )
)


def crown(height: float) -> Item:
    return Item(Target("crown", height, 2.0, "plain crown"), (0,), 0.75)


def rules(count: int, orders=(), steps=(), shares=None) -> Rules:
    return Rules(shares or (1,) * count, tuple(orders), tuple(tuple(step) for step in steps), 0.125)


def heights(settled) -> list[float]:
    return [float(one.drafts.height[row]) for one, row in zip(settled.known, settled.drafts, strict=True)]


def test_sixteenths_are_counted_halves_up():
    assert sixteenths(np.array([0.0, 0.03, 1 / 32, 0.0625, 0.9])).tolist() == [0, 0, 1, 1, 14]


# What is known


def test_the_shortest_search_is_the_first():
    known = known_of(crown(3.5), CROWNS, LIBRARY)
    assert known.drafts.height.tolist() == [3.5, 3.4375, 3.5625]
    assert known.farther == ALLOWANCES[1:] and known.nearest == 0.0
    assert known.unknown == 1 and known.misses.tolist() == [0, 1, 1]


def test_what_is_farther_than_the_farthest_is_no_choice():
    known = known_of(crown(3.5), CROWNS, LIBRARY)
    (known,) = offers._farther((known,), [0], CROWNS, LIBRARY)
    assert known.drafts.height.max() == 4.0 and len(known.usable) == 6
    assert known.unknown is None or known.unknown >= FARTHEST * 16
    alone = known_of(crown(1.0), CROWNS, LIBRARY)  # the nearest misses by 1 in, so that 5 in is the farthest
    (alone,) = offers._farther((alone,), [0], CROWNS, LIBRARY)
    assert alone.drafts.height[alone.usable].tolist() == [2.0, 3.0, 3.4375, 3.5, 3.5625, 4.0]


def test_nothing_known_is_nothing_usable():
    known = known_of(crown(3.5), Stock((made("C", "casing", "fascia 4 x 7/8"),)), LIBRARY)
    assert (len(known.usable), known.nearest, known.farther, known.unknown) == (0, None, (), None)


WEAK = "fillet 1/4 x 1/4; cyma recta {0} x 1; fillet 1/4 x 1 1/8"
STRONG = "fillet 1/4 x 1/4; cyma reversa {0} x 1; fillet 1/4 x 1 1/8"
CORNICE = Target("crown", 3.5, 4.0, "four-part cornice")


def cornices(*beds: str) -> Stock:
    """Bed moulds, some of which cannot carry (Hatfield, art. 310), a corona and a cymatium."""
    moulds = tuple(made(f"B{i}", "bed mould", members) for i, members in enumerate(beds))
    return Stock(
        (*moulds, made("C", "corona", "corona 1 x 3"), made("Y", "cymatium", "fillet 1/4 x 1/4; cyma recta 1 x 1"))
    )


def test_what_is_unsound_is_ruled_out_and_looked_past():
    stock = cornices(WEAK.format(0.75), WEAK.format(0.6875), STRONG.format(1.5))
    known = known_of(Item(CORNICE, (0,), 0.75), stock, LIBRARY)
    assert known.drafts.assembly(int(known.usable[0]), LIBRARY).profiles == ("B2", "C", "Y")
    assert known.ruled_out.sum() == 2 and known.nearest > 0.5
    assert known_of(Item(CORNICE, (0,), 0.75), cornices(WEAK.format(0.75)), LIBRARY).nearest is None


def test_only_so_many_are_doubted(monkeypatch):
    monkeypatch.setattr(offers, "MOST_DOUBTED", 2)
    stock = cornices(*(WEAK.format(0.75 + i / 64) for i in range(4)), STRONG.format(0.875))
    known = known_of(Item(CORNICE, (0,), 0.75), stock, LIBRARY)
    assert known.nearest is None and known.unknown is not None and known.farther == ()
    settled = settle([Item(CORNICE, (0,), 0.75)], rules(1), stock, LIBRARY)
    assert settled.drafts == (TO_ORDER,) and settled.loose == {0}


# How large everything is to be


def test_what_no_rule_holds_is_the_nearest():
    settled = settle([crown(3.5), crown(3.9)], rules(2), CROWNS, LIBRARY)
    assert heights(settled) == [3.5, 4.0]
    assert (settled.misses, settled.bound, settled.proved, settled.yielding) == (2, 2, True, False)
    assert settled.loose == frozenset()
    assert [len(one.drafts) for one in settled.known] == [3, 1]  # nothing farther was looked for


def test_the_search_goes_farther_where_a_rule_needs_it():
    """The step reads where the lower crown is half an inch off, or the upper one 7/16 and the lower one 1/16."""
    settled = settle([crown(3.5), crown(3.5625)], rules(2, steps=[[(0, 1)]]), CROWNS, LIBRARY)
    assert heights(settled) in ([3.0, 3.5625], [3.4375, 4.0])
    assert settled.misses == settled.bound == 8
    assert settled.proved and not settled.yielding


def test_shares_count():
    """Two packages share the upper crown, so that the lower one gives way though it misses a little more."""
    settled = settle([crown(3.5), crown(3.5625)], rules(2, steps=[[(0, 1)]], shares=(1, 2)), CROWNS, LIBRARY)
    assert heights(settled) == [3.0, 3.5625]
    assert settled.misses == 8


def test_what_is_of_use_may_stand_in_a_choice_that_misses_as_little():
    """Against trying all: each draft of use stands in some pair that keeps the rule and misses least, and no other."""
    items = [crown(3.5), crown(3.5)]
    settled = settle(items, rules(2, [(0, 1, "height")]), CROWNS, LIBRARY)
    for one, rows in zip(settled.known, settled.useful, strict=True):
        assert one.drafts.height[rows].tolist() == [3.5]
    tied = Stock((*CROWNS.profiles, made("T", "crown", "fillet 1/4 x 1/4; cyma recta 3 1/4 x 2 1/16", 9.0)))
    settled = settle(items, rules(2, [(0, 1, "height")]), tied, LIBRARY)
    assert [len(rows) for rows in settled.useful] == [2, 2]  # a quarter of a sixteenth of projection does not count


def test_what_must_give_way_is_made_to_order():
    """A base 1 in deep cannot die into casings 7/8 in deep: one of the two is made."""
    stock = Stock((made("C", "casing", "fascia 4 x 7/8"), made("O", "base", "fascia 5 x 1")))
    items = [
        Item(Target("base", 5.0, 0.75, "board"), (0,), 0.75),
        Item(Target("casing", 4.0, 0.875, "plain casing"), (0,), 0.75),
    ]
    settled = settle(items, rules(2, [(0, 1, "projection")]), stock, LIBRARY)
    assert settled.yielding and settled.proved and settled.giving == 1
    assert sorted(row == TO_ORDER for row in settled.drafts) == [False, True]


def test_a_step_that_nothing_shows_stays_unread():
    settled = settle([crown(3.5), crown(3.5)], rules(2, steps=[[]]), CROWNS, LIBRARY)
    assert settled.yielding and settled.proved and settled.giving == 100
    assert heights(settled) == [3.5, 3.5]


def test_an_unsound_size_is_not_taken():
    """The nearest size of a cornice that is lower is unsound; the next is taken."""
    stock = cornices(STRONG.format(0.75), WEAK.format(0.3125), STRONG.format(0.25))
    items = [Item(CORNICE, (0,), 0.75), Item(CORNICE, (1,), 0.75)]
    settled = settle(items, rules(2, steps=[[(0, 1)]]), stock, LIBRARY)
    taken = [one.drafts.assembly(row, LIBRARY) for one, row in zip(settled.known, settled.drafts, strict=True)]
    assert all(is_sound(a) for a in taken)
    assert [a.profiles[0] for a in taken] == ["B2", "B0"]


def test_of_very_many_sizes_some_are_weighed_and_the_rest_is_not_known(monkeypatch):
    monkeypatch.setattr(offers, "MOST_SIZES", 4)
    offers._table.cache_clear()
    misses = np.array([0, 0, 0, 0, 0, 0, 3, 3, 3, 3])
    assert offers._spread(misses).tolist() == [0, 5, 6, 9]
    monkeypatch.setattr(offers, "MOST_SIZES", 2)
    alike = Stock(
        tuple(made(f"K{i}", "crown", f"fillet 1/4 x 1/4; cyma recta {3.24 + i / 100} x 2", 2.0) for i in range(4))
    )
    known = known_of(crown(3.5), alike, LIBRARY)
    table = offers._table(known, ("height",), False)
    assert table.sizes.low["height"].tolist() == pytest.approx([3.49, 3.52, 0.0])
    assert table.drafts[-1] == UNKNOWN and table.sizes.misses.tolist() == [0, 0, 0]
    assert sorted(table.row_of.tolist()) == [0, 1, 2, 2]


def test_a_table_of_sizes_has_a_row_for_each_that_rules_read():
    known = known_of(crown(3.5), CROWNS, LIBRARY)
    by_height = offers._table(known, ("height",), False)
    assert by_height.sizes.low["height"].tolist() == [3.4375, 3.5, 3.5625, 0.0]
    assert by_height.sizes.high["height"].tolist() == [3.4375, 3.5, 3.5625, inf]
    assert by_height.sizes.misses.tolist() == [1, 0, 1, 1]
    assert by_height.row_of.tolist() == [1, 0, 2]
    alike = offers._table(known, (), False)
    assert alike.drafts.tolist() == [0, UNKNOWN] and alike.sizes.misses.tolist() == [0, 1]
    made_too = offers._table(known, ("projection",), True)
    assert made_too.drafts.tolist() == [0, TO_ORDER, UNKNOWN]
    assert made_too.sizes.to_order.tolist() == [False, True, False]
    assert made_too.sizes.low["projection"].tolist() == [2.0, 2.0, 0.0]


# Stocks too large to know


def test_what_is_of_use_in_a_large_stock_is_looked_for_among_what_is_laid_out():
    stock = enlarged(3_000)
    item = Item(Target("crown", 9.0, 5.0, "cornice, frieze and taenia"), (0,), 0.75)
    settled = settle([item, item], rules(2), stock, LIBRARY)
    assert settled.loose == {0, 1} and settled.proved
    codes = {code for one in settled.known for code in np.unique(one.drafts.codes)} - {-1}
    roles = {role: {p.code for p in profiles} for role, profiles in stock.by_role.items()}
    names = {code for code, number in stock.numbers.items() if number in codes}
    assert max(len(names & of) for of in roles.values()) <= offers.ON_COUNTER + 2
    assert all(len(rows) > 1 for rows in settled.useful)


def test_what_is_known_of_a_small_stock_is_all():
    item = Item(Target("crown", 9.0, 5.0, "cornice, frieze and taenia"), (0,), 0.75)
    stock = thinned(0.5, 0)
    settled = settle([item], rules(1), stock, LIBRARY)
    every = search.search(item.target, stock, LIBRARY, 1.0)
    nearest = next(row for row in range(len(every)) if is_sound(every.assembly(row, LIBRARY)))
    count = sum(sixteenths(every.deviation) == sixteenths(every.deviation)[nearest])
    assert not settled.loose and len(settled.useful[0]) == count


@pytest.mark.parametrize("known", [Known])
def test_items_are_known_by_what_they_are(known):
    one, other = (known_of(crown(3.5), CROWNS, LIBRARY) for _ in range(2))
    assert isinstance(one, known) and one != other and one == one
