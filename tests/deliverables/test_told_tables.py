"""What a plan costs and rests on, on paper: its own figures, in the house's units, each with where it is from."""

from dataclasses import replace

import pytest

from planner import plan
from planner.deliverables import order_tables, told_tables
from planner.deliverables.job_note import job_note
from planner.house.model import OwnRate
from planner.library.rate_rows import OTHERWISE
from planner.record.fingerprint import fingerprint, fingerprints
from planner.values import immutabledict
from tests.deliverables.papers_of import demo, hostile, stamp


def rows(table):
    return table.frame.to_dict("records")


@pytest.mark.parametrize("plan_of", [demo, hostile], ids=["demo", "hostile"])
def test_every_rate_times_its_amount_is_what_the_plan_pays_whatever_the_unit(plan_of):
    cost, told = plan_of().money, rows(told_tables.rates(plan_of()))
    assert {row["Rate"] for row in told} == set(cost.figures)
    for row in told:
        figure, amount = cost.figures[row["Rate"]], cost.amounts.get(row["Rate"])
        if amount is None:
            assert row["Times"] != row["Times"] and row["Value"] == pytest.approx(figure.value)
        else:
            assert row["Value"] * row["Times"] == pytest.approx(figure.value * amount, rel=0.02, abs=0.5)
        assert row["Low"] <= row["Value"] <= row["High"]
        assert (row["Confirmed"] == "yes") == figure.confirmed and row["Source"] == figure.source


def test_a_metric_house_has_its_rates_by_the_metre():
    told = {row["Rate"]: row for row in rows(told_tables.rates(hostile()))}
    base = told["base run"]
    assert (base["Unit"], base["Says"]) == ("hours per m", "a metre of base, shoe or skirt set")
    assert base["Value"] == pytest.approx(hostile().money.figures["base run"].value / 0.3048, abs=1e-6)
    assert not {row["Unit"] for row in told.values()} & set(OTHERWISE)


@pytest.mark.parametrize("plan_of", [demo, hostile], ids=["demo", "hostile"])
def test_rates_say_what_each_changes_alone_the_widest_first(plan_of):
    cost = plan_of().money
    told = {
        row["Rate"]: (row[f"At its low [{cost.currency}]"], row[f"At its high [{cost.currency}]"])
        for row in rows(told_tables.rates(plan_of()))
    }
    for name, swing in told.items():
        assert swing == pytest.approx(cost.swings[name], abs=0.006)
    widths = [more - less for less, more in told.values()]
    assert widths == sorted(widths, reverse=True)


def test_the_order_says_what_has_no_price_and_where_it_is_counted():
    made = demo()
    bare = sum(line.count for line in made.takeoff.unpriced)
    says = order_tables.order(made, made.takeoff).says
    assert f"{bare:,} of {len(made.takeoff.bars):,} bars and pieces have no price" in says
    assert f"USD {made.money.by_rates:,.0f} of material" in says


@pytest.mark.parametrize(
    ("plan_of", "says", "source"),
    [
        (demo, "8'-0\", 10'-0\", 12'-0\", 16'-0\"", "whole feet"),
        (hostile, "2400 mm, 3000 mm, 3600 mm, 4800 mm", "300 mm"),
    ],
    ids=["demo", "hostile"],
)
def test_sources_say_in_which_lengths_boards_are_sold(plan_of, says, source):
    made = plan_of()
    (row,) = (row for row in rows(told_tables.sources(made, made.takeoff)) if row["What"] == "lengths")
    assert row["Says"].endswith(f": {says}") and source in row["Source"]


def test_sources_say_how_panels_are_counted():
    made = demo()
    (row,) = (row for row in rows(told_tables.sources(made, made.takeoff)) if row["What"] == "panels")
    panels = [lot for lot in made.takeoff.lots if lot.stuff.made == "panel"]
    assert all(lot.by_piece and not lot.priced for lot in panels)
    assert row["Says"].startswith(f"{sum(len(lot.bars) for lot in panels)} panels, ") and "no sheets" in row["Says"]
    face = sum(s.length * s.width for s in made.takeoff.sticks if s.profile in {lot.profile for lot in panels})
    assert f"{face / 144:.1f} sq ft" in row["Says"]


@pytest.mark.parametrize("by", ["Room", "Tier", "Element"])
def test_every_breakdown_comes_to_the_total(by):
    table, cost = told_tables.cost_by(demo(), by), demo().money
    assert table.total("Cost [USD]") == pytest.approx(cost.total, abs=1e-6)
    for row in rows(table):
        parts = sum(row[f"{part} [USD]"] for part in ("Material", "Labour", "Finish", "Markup", "Tax"))
        assert parts == pytest.approx(row["Cost [USD]"], abs=1e-6)


def test_the_gravest_checks_come_first_each_with_its_remedy_and_source():
    told = rows(told_tables.checks(demo()))
    assert len(told) == len(demo().checks) and all(row["Remedy"] and row["Source"] for row in told)
    order = ["error", "warning", "caution"]
    assert [order.index(row["Kind"]) for row in told] == sorted(order.index(row["Kind"]) for row in told)


def test_sources_name_the_inputs_by_their_fingerprints_and_every_allowance_by_who_says_it():
    house = replace(demo().house, takeoff=immutabledict({"kerf": 0.25}))
    made = plan(house, demo().intent, demo().stock)
    told = rows(told_tables.sources(made, made.takeoff))
    parts = fingerprints(made.house, made.intent, made.stock, made.library)
    said = {row["What"]: row["Says"] for row in told if row["What"].startswith("fingerprint")}
    assert said == {f"fingerprint of the {name}": value for name, value in parts._asdict().items()}
    assert fingerprint(made.house, made.intent, made.stock) == parts.whole
    cutting = {row["What"]: row for row in told if row["About"] == "cutting"}
    assert {row.name.replace("_", " ") for row in made.library.takeoff.allowances} <= set(cutting)
    assert cutting["kerf"]["Source"] == "the house" and cutting["kerf"]["Says"].endswith('1/4"')
    assert cutting["fit cope"]["Source"].startswith("common practice") and cutting["scarf"]["Says"].endswith("45°")
    elements = {row["What"] for row in told if row["About"] == "proportions"}
    assert elements == {e.element for package in made.packages for e in package.elements}
    assert all(row["Source"] for row in told)


def test_what_the_alternative_asks_is_told_and_nothing_where_it_asks_nothing():
    (row,) = (row for row in rows(told_tables.sources(demo(), None)) if row["What"] == "the alternative")
    assert "Dining Room tier 5" in row["Says"] and "order ionic" in row["Says"]
    assert not [r for r in rows(told_tables.sources(plan(demo().house), None)) if r["What"] == "the alternative"]


def test_what_is_to_be_known_of_cutting_is_told():
    taken = demo().takeoff
    told = rows(told_tables.notes(demo(), replace(taken, notes=("longer than anything sold",))))
    assert {"About": "cutting", "What": "longer than anything sold"} in told


def test_money_of_the_library_is_told_from_that_of_the_house():
    """A dollar is no yen: what a house abroad has not said itself is named, what it has said or confirmed is not."""
    abroad = replace(
        demo().house, currency="JPY", rates=(OwnRate("carpenter", 9000.0), OwnRate("finish", confirmed=True))
    )
    made = plan(abroad, stock=demo().stock)
    words = "US dollars counted as if they were JPY, until rates.csv says otherwise: "
    told = told_tables.rates(made).says.partition(words)[2]
    assert "rough boards" in told and "carpenter" not in told and "finish" not in told and "miter" not in told
    note = " ".join(item.says for section in job_note(made, stamp(made), 8).sections for item in section.items)
    assert words in note
    assert "dollars" not in told_tables.rates(demo()).says
