"""A schedule is kept as a style of the house, and a drawn profile joins its stock."""

import pytest

from planner import house_library, read_stock
from planner.apps.houses import opened
from planner.apps.panels import keeping
from planner.apps.typed import Typed
from planner.intent import edits
from planner.intent.trim_rules import Change, Scope, TrimRule

MEMBERS = "fascia 2 x 3/4; cyma reversa 1/2 x 1 1/4; fillet 1/4 x 1 3/8"


@pytest.fixture
def tell():
    """What the page was told, by what tells it."""
    told: dict[str, list] = {"news": [], "opened": []}
    return told, {name: heard.append for name, heard in told.items()}


def test_what_holds_on_whole_tiers_becomes_a_style_and_the_rest_stays(folder, planned, changes, tell):
    told, telling = tell
    changes.make("", edits.set_form, "chair rail", Scope(tiers=(2, 2)), "moulded rail")
    changes.make("", edits.set_rule, "casing", Scope(tiers=(3, 3)), Change(size=5.5))
    changes.make("", edits.set_form, "crossette", Scope(), "none")
    changes.make("", edits.set_form, "wainscot", Scope(rooms=("West Bedroom",)), "flat panels")
    controls = keeping.style(planned.house, opened(folder), changes, telling, Typed())
    controls["name"]._update(" railed ")
    controls["keep"]._update(1)
    assert told["news"][-1].startswith("Kept as the style railed.") and told["opened"][-1].house is not None
    assert changes.desk.intent.style == "railed"
    assert changes.desk.intent.trim == (TrimRule("wainscot", Scope(rooms=("West Bedroom",)), Change("flat panels")),)
    library, faults = house_library(folder)
    rows = {(row.element, rung): row for row in library.style("railed").rows for rung in row.rungs}
    assert not faults and rows["chair rail", "Chamber"].form == "moulded rail"
    assert (rows["casing", "Family"].of, rows["casing", "Family"].factor) == ("inch", 5.5)
    assert not any(element == "crossette" for element, _ in rows)


def test_a_name_that_no_file_can_have_is_told(folder, planned, changes, tell):
    told, telling = tell
    changes.make("", edits.set_form, "chair rail", Scope(tiers=(2, 2)), "moulded rail")
    keeping.style(planned.house, opened(folder), changes, telling, Typed())["keep"]._update(1)
    assert "cannot be" in told["news"][-1] and told["opened"] == []
    assert changes.desk.intent.style is None or changes.desk.intent.style == planned.style
    assert len(changes.desk.intent.trim) == 1


def test_a_profile_is_seen_as_it_is_written_and_added(folder, planned, tell):
    told, telling = tell
    house, typed = opened(folder), Typed()
    drawn = keeping.fields(house, typed)

    def shown():
        button = keeping.adding(drawn, planned.house, house, telling, typed)
        return keeping.view(drawn, button, planned.house, house, False).text, button

    assert "For example" in shown()[0]
    drawn._update({"members": "facia 2 x 3/4"})
    text, button = shown()
    assert "facia" in text and "<svg" not in text
    button._update(1)
    assert "fascia" in told["news"][-1] and told["opened"] == []
    drawn._update({"members": MEMBERS, "profile": "OWN-1"})
    text, button = shown()
    assert "<svg" in text
    button._update(1)
    assert told["news"][-1] == "OWN-1 is in the stock of this house."
    assert "OWN-1" in {profile.code for profile in read_stock(folder).profiles}
    button._update(2)
    assert "OWN-1" in told["news"][-1] and "stock.csv" in told["news"][-1]


def test_what_is_half_written_outlives_its_fields_until_it_is_used(folder, planned, changes, tell):
    _, telling = tell
    house, typed = opened(folder), Typed()
    keeping.style(planned.house, house, changes, telling, typed)["name"]._update("rail")
    drawn = keeping.fields(house, typed)
    drawn._update({"members": MEMBERS, "role": ["base"]})
    assert keeping.style(planned.house, house, changes, telling, typed)["name"].value == "rail"
    again = keeping.fields(house, typed)
    assert (again.value["members"], again.value["role"]) == (MEMBERS, "base")
    again._update({"profile": "OWN-1"})
    keeping.adding(again, planned.house, house, telling, typed)._update(1)
    assert keeping.fields(house, typed).value["members"] == ""
