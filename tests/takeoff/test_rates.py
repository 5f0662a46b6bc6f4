"""The rates in force: the library's, and what a house says in their place."""

import pytest

from planner.house.model import House, OwnRate
from planner.library import standard
from planner.library.rate_rows import OTHERWISE
from planner.takeoff.ends import End
from planner.takeoff.rates import figures_of

ROWS = standard().rates


def in_force(*own: OwnRate):
    return figures_of(House("", (), (), (), rates=own), standard())


def test_the_library_says_a_range_of_every_rate_and_where_it_is_from():
    for row in ROWS:
        assert 0 <= row.least <= row.low < row.value < row.high <= row.most, row.name
        assert row.source.startswith(("from memory", "common practice")), row.name
    assert len({row.name for row in ROWS}) == len(ROWS)


def test_every_element_and_every_end_is_paid_once():
    hours = [e for row in ROWS if row.kind in ("run", "each") and not row.made for e in row.elements]
    assert sorted(hours) == sorted(standard().element_kinds)
    assert sorted(e for row in ROWS if row.kind == "end" for e in row.ends) == sorted(end.value for end in End)
    for made in ("", "board", "rough", "section", "panel", "carved"):
        assert sum(row.made == made and row.kind in ("stock", "volume", "area", "piece") for row in ROWS) == 1
    for kind in ("wage", "pace", "finish", "markup", "tax", "stock"):
        assert sum(row.kind == kind for row in ROWS) == 1


def test_without_the_house_every_rate_is_an_assumption():
    assert all(not f.confirmed and not f.own and f.value == f.rate.value for f in in_force().values())


def test_the_house_goes_first_and_blank_ends_follow_what_it_says():
    found = in_force(
        OwnRate("carpenter", 150.0),
        OwnRate("tax", 0.1, confirmed=True),
        OwnRate("markup", confirmed=True),
        OwnRate("boards", 10.0, 9.0),
    )
    row = standard().rate_names["carpenter"]
    wage, tax, markup, boards = (found[name] for name in ("carpenter", "tax", "markup", "boards"))
    assert (wage.low, wage.value, wage.high) == (2 * row.low, 150.0, 2 * row.high)
    assert not wage.confirmed and wage.source == "the house"
    assert (tax.low, tax.value, tax.high, tax.confirmed) == (0.1, 0.1, 0.1, True)
    assert markup.confirmed and markup.low < markup.value < markup.high and markup.source == markup.rate.source
    assert (boards.low, boards.value) == (9.0, 10.0)


@pytest.mark.parametrize(
    ("name", "unit", "said", "means"),
    [
        ("crown run", "hours per m", 1.0, 0.3048),
        ("finish", "per sq m", 1.0, 0.09290304),
        ("boards", "per cu m", 423.776, 1.0),
    ],
)
def test_metric_figures_mean_the_same(name, unit, said, means):
    """A metre is 3.28084 ft; 423.776 board feet are a cubic metre (from memory: 12 board feet to the cubic foot)."""
    assert in_force(OwnRate(name, said, unit=unit))[name].value == pytest.approx(means, rel=1e-5)
    assert unit in OTHERWISE[standard().rate_names[name].unit]
