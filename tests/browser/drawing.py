"""A hand at the drawing board: it does what a person does with a pointer and the keys, and counts it."""

from dataclasses import dataclass, field
from typing import Any

COUNTING = """() => {
    window.done = {clicks: 0, keys: 0};
    addEventListener("pointerdown", (event) => event.isTrusted && window.done.clicks++, true);
    addEventListener("keydown", (event) => event.isTrusted && window.done.keys++, true);
}"""
"""Counts in the page itself what reaches it: presses of a button or a finger, and of keys."""

POINT, PRESS, KEY, THINK = 1.1, 0.2, 0.28, 1.35
"""Seconds that pointing, pressing a button, a key of an average typist, and making up one's mind take (S. K. Card,
T. P. Moran and A. Newell, The Keystroke-Level Model, 1980; from memory)."""


@dataclass
class Hand:
    """Hands on one page; `chosen` counts lists, whose menus no browser without a window opens: two clicks each."""

    page: Any
    chosen: int = 0
    steps: list[str] = field(default_factory=list)

    def begin(self):
        """Count from now on."""
        self.page.evaluate(COUNTING)

    def click(self, name, exact=True):
        self.steps.append(name)
        self.page.get_by_role("button", name=name, exact=exact).click()

    def choose(self, label, value):
        """A list opened with a click, and an entry clicked."""
        self.steps.append(label)
        self.chosen += 1
        listed = self.page.get_by_label(label, exact=True)
        listed.focus()  # its entries come when it is reached
        listed.select_option(value)

    def put(self, kind):
        """Choose what a click on a wall puts there."""
        self.choose("A click or a drag is to", kind)
        self.page.locator(f"[data-kind='{kind}']").wait_for()

    def type(self, label, text):
        """A field clicked, and what is in it typed over."""
        self.steps.append(label)
        self.page.get_by_label(label, exact=True).click(click_count=3)
        self.page.keyboard.type(text)
        self.page.keyboard.press("Enter")

    def press(self, *keys):
        for key in keys:
            self.page.keyboard.press(key)

    def wall(self, name, wall, part=0.5):
        """A wall of a room clicked, a part of its length from its left end."""
        self.steps.append(f"wall {wall} of {name}")
        self.page.mouse.click(*self.spot(name, wall, part))

    def spot(self, name, wall, part):
        """Where a part of a wall's length from its left end is on the screen [px]."""
        at = room(self.page, name).get_attribute("data-key").removeprefix("room-")
        line = self.page.locator(f"[data-wall='{at} {wall}']")
        line.wait_for(state="attached")
        return line.evaluate(
            """(line, part) => {
                line.scrollIntoView({block: "center", inline: "center"});
                const at = (name) => Number(line.getAttribute(name));
                const [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map(at);
                const on_it = new DOMPoint(x1 + part * (x2 - x1), y1 + part * (y2 - y1));
                const spot = on_it.matrixTransform(line.getScreenCTM());
                return [spot.x, spot.y];
            }""",
            part,
        )

    def drag(self, place, dx, dy):
        """What stands at a locator dragged so far [px]."""
        self.steps.append("drag")
        x, y = middle(place)
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + dx / 2, y + dy / 2, steps=3)
        self.page.mouse.move(x + dx, y + dy, steps=3)
        self.page.mouse.up()

    @property
    def clicks(self):
        return self.page.evaluate("window.done.clicks") + 2 * self.chosen

    @property
    def keys(self):
        return self.page.evaluate("window.done.keys")

    @property
    def minutes(self):
        """What a person would take for it, by the times above."""
        thought = THINK * len(self.steps)
        return (self.clicks * (POINT + PRESS) + self.keys * KEY + thought) / 60


def room(page, name):
    """A room on the board."""
    return page.locator(f".bd-room[aria-label^='{name},']")


def news(page, words):
    """Wait until the board has said so."""
    page.locator(".bd-news").get_by_text(words).wait_for()


def table(page):
    """The table on the board, unfolded."""
    fold = page.locator("details", has=page.get_by_text("Tables of rooms"))
    if fold.get_attribute("open") is None:
        page.get_by_text("Tables of rooms").click()
    return page.locator(".bd-table").first


def saved(page):
    """Save the house, and wait until it is."""
    page.get_by_role("button", name="Save the house").click()
    page.get_by_text("All that is drawn is saved.").wait_for()


def middle(place):
    """The middle of something on the screen, once it is in view [px]."""
    return place.evaluate(
        """(e) => {
            e.scrollIntoView({block: "center", inline: "center"});
            const box = e.getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2];
        }"""
    )
