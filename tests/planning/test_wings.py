"""Rooms and levels in a period of their own."""

import pytest

from planner import (
    HouseFault,
    Intent,
    Wing,
    demo_house,
    plan,
    plan_object,
    read_house,
    read_intent,
    read_stock,
    write_intent,
)
from planner.intent import edits

HOUSE, _ = read_house(demo_house())
STOCK = read_stock(demo_house(), HOUSE.unit)


def styles(planned):
    return {name: package.style for name, package in planned.package_of.items()}


@pytest.mark.parametrize("stock", [None, STOCK])
def test_a_wing_is_in_its_own_period_and_the_rest_in_the_houses(stock):
    planned = plan(HOUSE, Intent(wings=(Wing("craftsman", rooms=("Kitchen", "Family Room")),)), stock)
    found = styles(planned)
    assert {name for name, style in found.items() if style == "craftsman"} == {"Kitchen", "Family Room"}
    assert set(found.values()) == {"georgian", "craftsman"} and planned.style == "georgian"
    plain = plan(HOUSE, None, stock)
    for name, package in planned.package_of.items():
        if found[name] == "georgian" and planned.by_name[name].tier == plain.by_name[name].tier and stock is None:
            assert package == plain.package_of[name]
    said = plan_object(planned)
    assert {p["style"] for p in said["packages"]} == {"georgian", "craftsman"}
    assert len({p["package_key"] for p in said["packages"]}) == len(said["packages"])
    assert planned.walls["Kitchen"][0].package.style == "craftsman"


def test_a_room_goes_before_its_level_and_the_later_before_the_earlier():
    wings = (Wing("federal", rooms=("Upper Hall",)), Wing("victorian", levels=("Upper",)))
    found = styles(plan(HOUSE, Intent(wings=wings)))
    assert found["Upper Hall"] == "federal" and found["West Bedroom"] == "victorian"
    assert found["Entry Hall"] == "georgian"
    later = (*wings, Wing("craftsman", levels=("Upper",)), Wing("georgian", rooms=("Upper Hall",)))
    found = styles(plan(HOUSE, Intent(wings=later)))
    assert found["Upper Hall"] == "georgian" and found["West Bedroom"] == "craftsman"


def test_a_wing_has_the_order_of_its_period_unless_it_names_one():
    def order(**said):
        planned = plan(HOUSE, Intent(wings=(Wing("federal", rooms=("Library",), **said),)))
        return planned.package_of["Library"].order

    assert order() == plan(HOUSE, Intent(style="federal")).order
    assert order(order="tuscan") == "tuscan"


def test_wings_are_written_and_read_back(tmp_path):
    (tmp_path / "rooms.csv").write_bytes((demo_house() / "rooms.csv").read_bytes())
    intent = Intent(name="wing", wings=(Wing("craftsman", "tuscan", ("Upper",)), Wing("federal", rooms=("Library",))))
    write_intent(intent, tmp_path)
    assert read_intent(tmp_path, "wing") == intent
    write_intent(Intent(name="wing"), tmp_path)
    assert "wings" not in (tmp_path / "alternatives" / "wing.toml").read_text()


def test_faults_of_wings_are_told_by_line(tmp_path):
    (tmp_path / "rooms.csv").write_bytes((demo_house() / "rooms.csv").read_bytes())
    (tmp_path / "alternatives").mkdir()
    wings = ('style = "crafstman"\nrooms = ["Libary"]\n\n', 'levels = ["Uper"]\n\n', 'style = "federal"\n')
    said = "".join(f"[[wings]]\n{wing}" for wing in wings)
    (tmp_path / "alternatives" / "bad.toml").write_text(said)
    with pytest.raises(HouseFault) as caught:
        read_intent(tmp_path, "bad")
    told = {(p.row, p.column): p.remedy for p in caught.value.problems}
    assert told[2, "wings 1.style"] == 'write "craftsman"'
    assert told[3, "wings 1.rooms"] == 'write "Library"'
    assert told[6, "wings 2.levels"] == 'write "Upper"'
    assert "style is missing" in " ".join(map(str, caught.value.problems)) or (5, "wings 2.style") in told
    assert (8, "wings 3.rooms") in told


def test_a_room_is_put_into_a_period_and_out_again():
    one = edits.set_room_style(Intent(), "Library", "federal")
    two = edits.set_room_style(one, "Kitchen", "federal")
    assert two.wings == (Wing("federal", rooms=("Library", "Kitchen")),)
    assert edits.style_of_room(two, "Kitchen") == "federal" and edits.style_of_room(two, "Parlor") is None
    moved = edits.set_room_style(two, "Library", "victorian")
    assert moved.wings == (Wing("federal", rooms=("Kitchen",)), Wing("victorian", rooms=("Library",)))
    assert edits.set_room_style(edits.set_room_style(moved, "Library", None), "Kitchen", None) == Intent()
