"""The apps on a screen that is touched."""

import pytest

from tests.browser.driving import opened, settled, tab

pytestmark = pytest.mark.browser


def test_a_tap_on_a_room_picks_it(serve, chromium):
    context = chromium.new_context(viewport={"width": 820, "height": 1180}, has_touch=True)
    try:
        page = opened(context.new_page(), serve("design"))
        box = settled(page, page.locator("canvas, svg.marks").first)
        page.touchscreen.tap(box["x"] + 0.39 * box["width"], box["y"] + 0.67 * box["height"])
        tab(page, "One room")
        page.get_by_role("heading", name="Dining Room: tier").wait_for(timeout=15_000)
    finally:
        context.close()


def test_the_list_of_rooms_ends_within_the_screen_of_a_phone(serve, chromium):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    try:
        page = opened(context.new_page(), serve("design"))
        box = settled(page, page.get_by_label("Room on the plan", exact=True))
        assert box["x"] > 0 and box["x"] + box["width"] <= 390 - 32
    finally:
        context.close()
