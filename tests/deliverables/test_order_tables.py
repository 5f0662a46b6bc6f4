"""What is bought and cut, on paper: every piece and every bar once, in the order of work, as the takeoff has them."""

import re
from collections import Counter
from dataclasses import replace

import pytest

from planner import plan
from planner.deliverables import order_tables
from planner.units import format_length
from planner.values import immutabledict
from tests.deliverables.papers_of import demo, hostile

BY_LENGTH = (order_tables.order, order_tables.cutting, order_tables.bars)
PLANS = {"demo": (demo, "in", 1.0, 1 / 32), "hostile": (hostile, "mm", 25.4, 0.5)}


@pytest.fixture(params=PLANS)
def case(request):
    """A plan, its takeoff, the unit of its lengths, that in an inch, and how far a rounded length may be off."""
    plan_of, unit, one, off = PLANS[request.param]
    return plan_of(), plan_of().takeoff, unit, one, off


def rows(table):
    return table.frame.to_dict("records")


def expanded(words: str) -> list[int]:
    """The numbers that ranges such as "1–3, 7" stand for."""
    ends = ([int(n) for n in part.split("–")] for part in words.split(", "))
    return [number for end in ends for number in range(end[0], end[-1] + 1)]


def test_every_piece_is_on_the_cut_list_once_and_in_the_order_of_work(case):
    made, taken, unit, one, off = case
    told, sticks = rows(order_tables.cut_list(made, taken)), {s.number: s for s in taken.sticks}
    assert sorted(n for row in told for n in expanded(row["Numbers"])) == sorted(sticks)
    for row in told:
        of = [sticks[n] for n in expanded(row["Numbers"])]
        assert len(of) == row["Pieces"]
        for stick in of:
            where = (stick.place.room, stick.place.wall, stick.place.opening, stick.profile)
            assert where == tuple(row[name] for name in ("Room", "Wall", "Opening", "Profile"))
            both = row["Piece"].replace("left and right ", "")
            assert stick.name == row["Piece"] or stick.name in (f"left {both}", f"right {both}")
            assert str(stick.ends[0]) in row["Left or lower end"] and str(stick.ends[1]) in row["Right or upper end"]
            cut = stick.length + taken.allowances.fit(stick.ends)
            assert row[f"Finished [{unit}]"] == pytest.approx(stick.length * one, abs=off)
            assert row[f"Cut to [{unit}]"] == pytest.approx(cut * one, abs=off)
    places = [(row["Level"], row["Room"], row["Wall"]) for row in told]
    assert len(list(dict.fromkeys(places))) == sum(a != b for a, b in zip([None, *places], places, strict=False))
    assert any(row["Piece"].startswith("left and right ") for row in told)
    levels = [level for level, _, _ in dict.fromkeys(places)]
    assert levels == sorted(levels, key=made.house.levels.index)


def test_the_cut_list_says_how_the_saw_is_set_for_each_end(case):
    made, taken, *_ = case
    for row in rows(order_tables.cut_list(made, taken)):
        stick = taken.sticks[expanded(row["Numbers"])[0] - 1]
        for end, settings, said in zip(
            stick.ends, stick.saw, (row["Left or lower end"], row["Right or upper end"]), strict=True
        ):
            assert said.startswith(end)
            told = [float(n) for n in re.findall(r"\d+\.?\d*", said)]
            nested = [settings.nested.miter] if settings and settings.nested else []
            assert told == pytest.approx([*settings.flat, *nested] if settings else [], abs=0.005)


def test_the_saw_is_set_as_often_as_ends_ask_for_it(case):
    made, taken, *_ = case
    asked = Counter(
        (stick.profile, str(end), *(round(angle, 2) for angle in settings.flat))
        for stick in taken.sticks
        for end, settings in zip(stick.ends, stick.saw, strict=True)
        if settings is not None
    )
    told = Counter[tuple]()
    for row in rows(order_tables.saw(made, taken)):
        told[row["Profile"], row["End"], row["Miter, flat [°]"], row["Bevel, flat [°]"]] += row["Ends"]
    assert told == asked and {"cope", "miter"} <= {end for _, end, *_ in told}


def test_the_saw_table_of_the_demo_has_crossettes_returns_and_nested_crowns():
    told = rows(order_tables.saw(demo(), demo().takeoff))
    assert {"crossette", "return", "scarf", "outside miter"} <= {row["End"] for row in told}
    assert {(row["Miter, flat [°]"], row["Bevel, flat [°]"]) for row in told if row["End"] == "crossette"} == {(45, 0)}
    nested = [row for row in told if row["Miter, nested [°]"] == row["Miter, nested [°]"]]
    assert nested and {row["Bevel, nested [°]"] for row in nested} == {0}


def test_every_bar_gives_its_pieces_and_says_what_is_left(case):
    made, taken, unit, one, off = case
    told = rows(order_tables.bars(made, taken))
    assert [row["Bar"] for row in told] == [bar.number for bar in taken.bars]
    for row, bar in zip(told, taken.bars, strict=True):
        numbers = [int(n) for n in re.findall(r"(?:^|; )(\d+):", row["Numbers and what each is cut to"])]
        assert numbers == list(bar.sticks) and row["Pieces"] == len(numbers)
        assert row[f"Left over [{unit}]"] == pytest.approx(bar.offcut * one, abs=off)
    assert sum(row["Kept"] == "yes" for row in told) == len(taken.offcuts)


def test_the_order_and_the_takeoff_are_all_that_is_cut(case):
    made, taken, unit, *_ = case
    run, inches, least = ("ft", 12.0, 0.01) if unit == "in" else ("m", 1000 / 25.4, 0.51 / 25.4)
    money = made.house.currency
    told = [
        (row["Profile"], pytest.approx(row[f"Length [{run}]"] * inches, abs=least), row["Count"])
        for row in rows(order_tables.order(made, taken))
    ]
    assert told == [(line.profile, line.stock_length, line.count) for line in taken.order]
    table = order_tables.takeoff(made, taken)
    assert table.total("Pieces") == len(taken.sticks)
    assert table.total(f"Finished [{run}]") * inches == pytest.approx(taken.finished, abs=0.05 * len(table.frame))
    cutting = order_tables.cutting(made, taken)
    priced = sum(lot.cost for lot in taken.lots if lot.priced)
    assert cutting.total(f"Cost [{money}]") == pytest.approx(priced, abs=0.01)
    for row, lot in zip(rows(cutting), taken.lots, strict=True):
        assert (row["Proved"] == "yes") == lot.proved
        bound = row[f"Bound [{money}]"] if lot.priced else row[f"Bound [{run}]"] * inches
        assert bound == pytest.approx(lot.bound, abs=0.01 if lot.priced else least)


@pytest.mark.parametrize("plan_of", [demo, hostile], ids=["demo", "hostile"])
def test_the_order_writes_each_length_as_it_is_read_off_a_tape(plan_of):
    """Hundredths of a foot are none: a block of 8 in is no 0.67 ft."""
    made = plan_of()
    for row, line in zip(rows(order_tables.order(made, made.takeoff)), made.takeoff.order, strict=True):
        assert row["Written"] == format_length(line.stock_length, made.house.unit)


def test_what_a_metric_house_buys_is_said_to_the_millimetre():
    """Lengths of whole feet too, where its yard has them."""
    made = plan(replace(hostile().house, takeoff=immutabledict({"lengths": (96.0, 120.0, 144.0, 192.0)})))
    bought = [
        (table.name, heading, metres)
        for table in (tell(made, made.takeoff) for tell in (*BY_LENGTH, order_tables.takeoff))
        for heading in table.frame
        if heading.endswith("[m]")
        for metres in table.frame[heading].dropna()
    ]
    assert {heading for _, heading, _ in bought} >= {"Length [m]", "Bought [m]", "Finished [m]", "Bound [m]"}
    assert [line for line in bought if round(line[2], 3) != line[2]] == []
    twelve_feet = {line.stock_length for line in made.takeoff.order} & {144.0}
    assert twelve_feet and 3.658 in [metres for name, _, metres in bought if name == "order"]
    for row in rows(order_tables.cutting(made, made.takeoff)):
        assert row["Kerfs and left over [m]"] == pytest.approx(row["Bought [m]"] - row["Finished [m]"], abs=1e-9)
