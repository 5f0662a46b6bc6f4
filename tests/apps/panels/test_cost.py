"""The tab of cost and order, and the rates in it."""

import re
from dataclasses import replace
from html import escape

import pytest

from planner import Intent, plan, read_house, standard
from planner.apps import pages, screen
from planner.apps.panels import cost, paying
from planner.house.rates import RATES
from planner.intent.model import MONEY
from planner.takeoff.rates import figures_of
from planner.units import format_size


@pytest.fixture(scope="module")
def costed(planned):
    assert planned.money is not None
    return planned


def shown(costed, changes, till, width=screen.WIDE_CHART):
    held, view = cost.shown(costed, changes, till, False, width)
    return held, view.text


def opened_folds(html):
    return len(re.findall(r"<details [^>]*\bopen=", html))


def test_what_is_shown_is_what_the_takeoff_comes_to(costed, changes, till):
    _, html = shown(costed, changes, till)
    money = costed.money
    for figure in (money.total, money.low, money.median, money.high, money.by_rates):
        assert f"{figure:,.0f}" in html
    assert f"{len(money.assumptions)} of {len(money.figures)} rates are assumptions" in html
    assert f"{len(costed.takeoff.sticks)} pieces" in html and f"{len(costed.takeoff.bars)} bars" in html
    for line in costed.takeoff.order[:3]:
        assert line.profile in html and f"{line.amount:,.2f}" in html
    richer = costed.tier_money["Library"][costed.by_name["Library"].tier]
    here = costed.tier_money["Library"][costed.by_name["Library"].tier - 1]
    assert f"+{richer - here:,.0f}" in html


def test_the_cut_list_is_read_off_a_tape(costed, changes, till):
    _, html = shown(costed, changes, till)
    listed = html[html.index("What to cut: ") :]
    listed = listed[: listed.index("</table>")]
    taken, unit = costed.takeoff, costed.house.unit
    cells = re.findall(r"<td[^>]*>([^<]*)</td>", listed)
    for stick in taken.sticks[:40]:
        cut = escape(format_size(stick.length + taken.allowances.fit(stick.ends), unit))
        section = " × ".join(escape(format_size(size, unit)) for size in (stick.width, stick.depth))
        assert cut in cells and section in cells
    assert not [cell for cell in cells if re.fullmatch(r"[\d.,]+\.\d+", cell)], "no decimals of an inch"


def test_a_metric_house_buys_in_metres_to_the_millimetre(costed, changes, till):
    house = replace(costed.house, unit="mm")
    metric = plan(house, costed.intent, costed.stock, costed.library)
    assert metric.money is not None
    _, html = shown(metric, changes, till)
    listed = html[html.index("What to buy: ") : html.index("What to cut: ")]
    lengths = {line.stock_length for line in metric.takeoff.order}
    assert 144.0 in lengths and ">3.658<" in listed and ">2.438<" in listed and "3.6576" not in listed


def test_a_large_house_is_taken_off_when_that_is_asked_for(planned, changes, told, monkeypatch):
    woken = []
    till = cost.till(woken.append, told)
    monkeypatch.setattr(cost, "MOST_UNASKED", 10)
    fresh = plan(planned.house, Intent(title="not taken off yet"), planned.stock)
    ask, view = cost.shown(fresh, changes, till, False, screen.WIDE_CHART)
    assert "takes long" in view.text and not fresh.is_costed and not woken
    ask._update(1)
    assert len(woken) == 1
    begun = cost.shown(fresh, changes, till, False, screen.WIDE_CHART)[1].text
    assert "takes long" not in begun and ("costs USD" in begun or cost.WAIT in begun)


def test_on_a_phone_the_lists_are_folded(costed, changes, till):
    wide, narrow = (shown(costed, changes, till, width)[1] for width in (screen.WIDE_CHART, screen.NARROW_CHART))
    assert opened_folds(wide) == 3 and opened_folds(narrow) == 0


def test_a_budget_in_money_is_set_from_here_and_told_against_what_it_comes_to(planned, changes, till, costed):
    field = cost.budget(planned.house, changes)
    field._update("150,000")
    assert (changes.desk.intent.cost_in, changes.desk.intent.budget) == (MONEY, 150_000)
    assert cost.budget(planned.house, changes).value == "150,000"
    field._update("dear")
    assert changes.desk.intent.budget == 150_000


def test_tables_can_be_taken_once_the_plan_is_taken_off(costed):
    made = {title: make() for title, make in cost.to_take(costed).items()}
    assert list(made)[:4] == ["Order", "Cut list", "Bars", "Saw"]
    assert made["Cost by room"]["Cost [USD]"].sum() == pytest.approx(costed.money.total)
    assert len(made["Rates"]) == len(costed.money.figures)


# Rates


def rated(house, folder, till, told):
    fields = paying.fields(house, standard(), till.typed)
    return fields, paying.keeping(folder, house, standard(), till.typed, told)


def test_rates_are_kept_together_and_confirmed(folder, till, told):
    house, _ = read_house(folder)
    fields, keep = rated(house, folder, till, told)
    fields["pace"]["value"]._update("1.25")
    fields["markup"]["confirmed"]._update(True)
    fields["carpenter"]["low"]._update("72")
    assert "1.25" not in (folder / RATES).read_text()
    keep._update(1)
    assert told.news() == f"Kept in {RATES}: 3 rates."
    found = figures_of(read_house(folder)[0], standard())
    assert (found["pace"].value, found["pace"].own, found["pace"].confirmed) == (1.25, True, False)
    assert found["markup"].confirmed and found["markup"].value == figures_of(house, standard())["markup"].value
    assert (found["carpenter"].low, found["carpenter"].value, found["carpenter"].confirmed) == (72.0, 78.0, True)
    assert till.typed == {} and [kind for kind, _ in told.said] == ["opened", "news"]
    assert "what three invented crews asked for in spring" in (folder / RATES).read_text()


def test_what_cannot_be_is_told_and_stays_written(folder, till, told):
    house, _ = read_house(folder)
    before = (folder / RATES).read_bytes()
    fields, keep = rated(house, folder, till, told)
    fields["tax"]["value"]._update("lots")
    fields["pace"]["value"]._update("1.1")
    keep._update(1)
    assert told.news().startswith("No rate was kept: ") and "no plain number" in told.news()
    assert (folder / RATES).read_bytes() == before
    again = paying.fields(house, standard(), till.typed)
    assert (again["tax"]["value"].value, again["pace"]["value"].value) == ("lots", "1.1")


def test_why_no_rate_was_kept_leaves_out_what_is_doubtful_in_the_house(folder, till, told):
    openings = folder / "openings.csv"
    lines = openings.read_text("utf-8").splitlines()
    at = next(n for n, line in enumerate(lines) if ",window," in line)
    lines[at] = lines[at].rpartition(",")[0] + ","
    openings.write_text("\n".join(lines), "utf-8")
    house, doubts = read_house(folder)
    assert any("sill" in doubt.message for doubt in doubts)
    fields, keep = rated(house, folder, till, told)
    fields["tax"]["value"]._update("lots")
    keep._update(1)
    assert "no plain number" in told.news() and "sill" not in told.news()


def test_nothing_written_keeps_nothing(folder, till, told):
    house, _ = read_house(folder)
    _, keep = rated(house, folder, till, told)
    before = (folder / RATES).read_bytes()
    keep._update(1)
    assert told.news() == "No rate was changed." and (folder / RATES).read_bytes() == before


def test_a_house_without_rates_of_its_own_shows_the_librarys_and_keeps_one(folder, till, told):
    (folder / RATES).unlink()
    house, _ = read_house(folder)
    fields, keep = rated(house, folder, till, told)
    row = standard().rate_names["carpenter"]
    assert fields["carpenter"]["value"].value == f"{row.value:g}" and fields["carpenter"]["low"].value == ""
    fields["carpenter"]["confirmed"]._update(True)
    keep._update(1)
    (own,) = read_house(folder)[0].rates
    assert (own.name, own.value, own.confirmed) == ("carpenter", row.value, True)


def test_a_metric_house_pays_by_the_metre_and_says_so_in_its_file(folder, till, told):
    house, _ = read_house(folder)
    metric = replace(house, unit="mm")
    fields, keep = rated(metric, folder, till, told)
    row = standard().rate_names["base run"]
    assert "a metre of base" in paying.view(fields, keep, metric, standard(), False).text
    assert float(fields["base run"]["value"].value) == pytest.approx(row.value / 0.3048, rel=1e-5)
    fields["base run"]["value"]._update("0.2")
    keep._update(1)
    (own,) = (one for one in read_house(folder)[0].rates if one.name == "base run")
    assert (own.value, own.unit) == (0.2, "hours per m")
    assert figures_of(read_house(folder)[0], standard())["base run"].value == pytest.approx(0.2 * 0.3048)


def test_every_rate_stands_in_one_group_with_its_words(folder, till, told):
    house, _ = read_house(folder)
    fields, keep = rated(house, folder, till, told)
    html = paying.view(fields, keep, house, standard(), False).text
    for rate in standard().rates:
        assert html.count(str(pages.text(rate.says))) == 1, rate.name
    assert len(re.findall("<details", html)) == len(paying.GROUPS)
