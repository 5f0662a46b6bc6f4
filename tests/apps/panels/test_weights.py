"""The controls of the whole house show what the desk has, and change it."""

from planner.apps.panels import weights
from planner.intent import edits
from planner.intent.model import FACTORS


def test_each_factor_has_a_slider_that_weighs_it(changes):
    use, display, arrival, *_ = weights.weights(changes)
    assert (use.value, display.value, arrival.value) == (0.35, 0.4, 0.1)
    use._update(0.9)
    assert changes.desk.intent.importance["use"] == 0.9


def test_a_weight_above_one_has_room_on_its_slider(changes):
    changes.make("", edits.set_weight, "passage", 3.0)
    passage = weights.weights(changes)[FACTORS.index("passage")]
    assert passage.value == 3.0


def test_limits_offer_every_difference_and_what_is_usual(changes, planned):
    controls = weights.limits(planned.library, changes)
    kinds = [kind for kind, row in planned.library.passage_kinds.items() if row.depth]
    assert [control._args.label for control in controls] == kinds
    door = controls[kinds.index("door")]
    usual = f"as usual ({planned.library.passage_kinds['door'].limit})"
    assert list(door.options) == [usual, "0", "1", "2", "3", "4"] and door.value is None
    door._update(["1"])
    assert changes.desk.intent.limits == {"door": 1}
    door._update([usual])
    assert changes.desk.intent.limits == {}


def test_period_order_grade_tiers_and_budget_are_changed(changes, planned):
    period, order, canon, grade, tiers, counted, budget = weights.whole(planned.house, planned.library, changes)
    period._update(["craftsman"])
    order._update(["ionic"])
    canon._update(["interior 1809"])
    grade._update(["cottage"])
    tiers._update(["4"])
    budget._update("42,000")
    intent = changes.desk.intent
    assert (intent.style, intent.order, intent.canon, intent.grade, intent.tiers, intent.budget) == (
        "craftsman",
        "ionic",
        "interior 1809",
        "cottage",
        4,
        42000.0,
    )
    budget._update("")
    assert changes.desk.intent.budget is None
    budget._update("160")
    counted._update(["money"])
    assert (changes.desk.intent.cost_in, changes.desk.intent.budget) == ("money", None)
    budget = weights.whole(planned.house, planned.library, changes)[-1]
    assert "USD" in budget.text and "index" not in budget.text
    budget._update("120,000")
    assert changes.desk.intent.budget == 120_000
