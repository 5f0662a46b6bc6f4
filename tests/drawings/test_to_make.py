"""What a stock lacks is drawn with its dimensions, so that a mill can make it."""

from planner import Intent, Stock, demo_house, plan, read_house, read_stock
from planner.drawings.scene import Text, flat
from planner.drawings.section import package_sections, profile_section
from planner.drawings.svg import svg
from planner.units import format_size


def test_a_stock_without_wide_casings_has_one_drawn_to_be_made():
    house, _ = read_house(demo_house())
    whole = read_stock(demo_house(), house.unit)
    narrow = tuple(p for p in whole.profiles if p.role not in ("casing", "architrave") or p.height < 4.2)
    planned = plan(house, Intent(), Stock(narrow))
    assert planned.choice.shortfalls
    assert planned.choice.to_make
    for profile in planned.choice.to_make:
        scene = profile_section(profile)
        words = " ".join(shape.text for shape in flat(scene.shapes) if isinstance(shape, Text))
        assert format_size(profile.height, "in") in words + scene.title
        assert svg(scene).startswith("<svg")


def test_every_element_with_a_section_is_drawn():
    house, _ = read_house(demo_house())
    planned = plan(house, Intent(), read_stock(demo_house(), house.unit))
    for package in planned.packages:
        scenes = package_sections(package, planned.sections[package], planned.library)
        titles = [scene.title.lower() for scene in scenes]
        for kind in ("base", "casing", "crown"):
            if package.element(kind):
                assert any(title.startswith(kind) for title in titles)
