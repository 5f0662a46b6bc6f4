"""What a stock falls short of is told by how much, with what to have made."""

import pytest

from planner.stock.built_ups import Target
from planner.stock.offers import Item
from planner.stock.search import best
from planner.stock.shortfalls import shortfall, to_make, unproved, unread
from planner.stock.stock import Stock
from tests.known import LIBRARY
from tests.stock.invented import made, tier

CROWN = made("K", "crown", "fillet 1/4 x 1/4; cyma recta 2 x 1 3/4; fillet 1/4 x 2", 2.0)


def told(target: Target, stock: Stock | None, to_order: bool = False):
    item = Item(target, (0, 1), 0.75)
    built = best(target, stock, LIBRARY, 1)[0] if stock else None
    return shortfall(item, built, to_order, (tier(1), tier(2)), LIBRARY)


@pytest.mark.parametrize(
    ("height", "projection", "words"),
    [
        (2.75, 2.0, None),  # a quarter of an inch is no shortfall
        (2.8, 2.0, 'is 5/16" too small'),
        (2.2, 2.0, 'is 5/16" too large'),
        (2.5, 2.5, None),  # a quarter of the projection is 5/8 in
        (2.5, 2.7, 'is 11/16" too shallow'),
        (2.5, 1.5, 'is 1/2" too deep'),
        (2.5, 0.76, 'is 1 1/4" too deep'),
        (4.0, 3.0, 'is 1 1/2" too small and 1" too shallow'),
    ],
)
def test_a_miss_is_told_by_how_much(height, projection, words):
    found = told(Target("crown", height, projection, "plain crown"), Stock((CROWN,)))
    if words is None:
        assert found is None
    else:
        text, profile = found
        assert text.startswith(
            f"Tier 1, Tier 2: crown: the nearest in stock, K, {words}; have the crown made after K, "
        )
        assert (profile.height, profile.projection) == (pytest.approx(height), pytest.approx(projection))


def test_what_lies_flat_is_not_judged_by_its_projection():
    """A stool's projection is its whole width; it is not compared (library/built_ups.toml)."""
    stool = made("S", "stool", "torus 1 1/8 x 3 1/4")
    assert told(Target("stool", 1.125, 9.0, "nosed stool"), Stock((stool,))) is None


def test_what_nothing_makes_and_what_nothing_steps_down_to():
    asked = Target("crown", 3.5, 2.0, "plain crown")
    for to_order, words in ((False, "makes it"), (True, "steps down to it")):
        text, profile = told(asked, None, to_order)
        assert text == f'Tier 1, Tier 2: crown: nothing in stock {words}; have a plain crown made, 3 1/2" x 2"'
        assert (profile.role, profile.code, profile.thickness) == ("crown", "", 0.75)
        assert [(m.kind, m.height, m.projection) for m in profile.members] == [("fascia", 3.5, 2.0)]


def test_what_is_to_be_made_is_drawn_after_the_tallest_moulding():
    """A base of a board and a cap half an inch too low: the cap is made higher, the board stays a board."""
    cap = made("C", "base cap", "fillet 1/4 x 7/8; cyma reversa 5/8 x 3/4; fillet 1/8 x 3/8")
    board = made("O", "board", "fascia 3 1/2 x 3/4")
    target = Target("base", 5.0, 0.875, "board and cap")
    built = best(target, Stock((board, cap)), LIBRARY, 1)[0]
    profile = to_make(Item(target, (0,), 0.75), built, LIBRARY)
    assert (profile.code, profile.role, profile.height) == ("C", "base cap", 1.5)
    assert sum(m.height for m in profile.members) == pytest.approx(1.5)
    assert profile.lengths == () and profile.price == 0.0


def test_steps_that_do_not_read_are_told():
    steps = [(tier(1, crown=3.5), tier(2, crown=3.75)), (tier(1, crown=3.0), tier(2, crown=4.0))]
    (words,) = unread(steps, LIBRARY)
    assert words.startswith("Tier 1 and Tier 2: with this stock the step between them cannot be seen; ")


def test_what_is_not_proved_is_said_in_words():
    assert '5/16" less in all' in unproved(0.3125, 30, 0, "in")
    assert unproved(0.0, 30, 28, "in").endswith("may take fewer profiles than 30; 28 at least")
    assert unproved(0.0, 30, 0, "in").endswith("how many are needed is not known")
    assert unproved(0.0, 30, 30, "in").endswith("of as many profiles may cost less")
