"""What a designer does in the app again and again."""

import re
import time

from planner.server.keys import VISITOR, mark

NARROW = 700
"""A page no wider than this is laid out for a phone [px]."""


def opened(page, served, alternative=""):
    """The app, once its floor plan is drawn."""
    page.goto(f"{served.url}&alternative={alternative}" if alternative else served.url)
    page.locator("canvas, svg.marks").first.wait_for()
    page.get_by_role("row", name="Entry Hall").wait_for()
    return page


def visitor(page):
    """The mark of the browser that a page is in."""
    (secret,) = (cookie["value"] for cookie in page.context.cookies() if cookie["name"] == VISITOR)
    return mark(secret)


def counted(name):
    """The name of a tab, which may say how much waits in it."""
    return re.compile(rf"^{re.escape(name)}( \(\d+\))?$")


def tab(page, name):
    """Open a tab; a phone has a list of them."""
    tabs, listed = page.get_by_role("tab", name=counted(name)), page.get_by_label("Show", exact=True)
    tabs.or_(listed).first.wait_for()
    if page.viewport_size["width"] > NARROW:
        tabs.click()
    else:
        listed.select_option(name)


def unfold(page, title):
    """Unfold what is folded away under a title, where it is."""
    fold = page.locator("details").filter(has=page.locator("summary", has_text=title)).first
    fold.wait_for()
    if fold.get_attribute("open") is None:
        fold.locator("summary").click()


def tier(page, room):
    """The tier that the table of rooms shows."""
    row = page.locator("tr").filter(has=page.locator("th", has_text=room)).first
    return int(row.locator(".pl-tier b").inner_text())


def controls(page, room):
    """Pin, lowest and highest of a room."""
    return page.locator("tr").filter(has=page.locator("th", has_text=room)).first.locator("select")


def choose_room(page, name):
    """The client turns to a room."""
    room = page.get_by_label("Room", exact=True)
    room.focus()
    room.select_option(name)
    page.get_by_role("heading", name=name).wait_for()


def until(page, condition, seconds=60, instead=lambda: "it never came to be"):
    """Wait until something holds that only Python can tell; where it never does, say what was the case instead."""
    end = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < end, instead()
        page.wait_for_timeout(50)


def settled(page, drawing):
    """Where a drawing is, once the page has done moving it."""
    boxes = [None, drawing.bounding_box()]
    while boxes[-1] is None or boxes[-1] != boxes[-2]:
        page.wait_for_timeout(300)
        boxes.append(drawing.bounding_box())
    return boxes[-1]


def controls_on(page):
    """What of a page is worked with, but for a table's cells, which are what it says."""
    found = page.locator("button, select, input, textarea").evaluate_all(
        """all => all.filter(e => e.checkVisibility() && e.getBoundingClientRect().height > 1
            && !e.closest('.bd-table'))
            .map(e => e.outerHTML.slice(0, 90))"""
    )
    return found


def cut_on(page):
    """What of a page's frames holds more than it shows."""
    return page.evaluate(
        "() => [...document.querySelectorAll('#App, #App div')].filter(e => e.scrollHeight > e.clientHeight + 2"
        " && !['visible', 'clip'].includes(getComputedStyle(e).overflowY)).map(e => e.className)"
    )


def sheets(page):
    """How many sheets of Letter a page is printed on."""
    return len(re.findall(rb"/Type /Page\b", page.pdf(format="Letter")))
