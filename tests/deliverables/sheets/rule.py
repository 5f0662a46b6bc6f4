"""A rule that is laid on the pages of a drawing set."""

import re
from collections.abc import Iterator

from pdfplumber.page import Page

from planner import Plan, plan
from planner.units import parse_length
from tests.drawn import numbers, pages, set_of
from tests.laid_out_houses import laid_out_house
from tests.metric import in_millimetres

POINTS = 72.0
CLOSE = 0.005
"""A length on the page is that of its figure to half a per cent."""

LENGTH = re.compile(r"""\d+'-\d+( \d+/\d+)?"|\d+ mm""")
RATIO = re.compile(r"1 : (\d+)")


def upright(page: Page) -> list[tuple[float, float, float]]:
    """The upright lines of a page: where each stands, its upper and its lower end [pt]."""
    return [(o["x0"], o["top"], o["bottom"]) for o in (*page.lines, *page.curves, *page.rects) if o["width"] < 0.01]


def level(page: Page) -> list[tuple[float, float, float]]:
    """The level lines of a page: its height, its left and its right end [pt]."""
    return [(o["top"], o["x0"], o["x1"]) for o in (*page.lines, *page.curves, *page.rects) if o["height"] < 0.01]


def measured(page: Page) -> Iterator[tuple[str, float]]:
    """The figures under the strings of dimensions of a page, and how long the line over each is from witness line to
    witness line [in of paper]."""
    standing, lying = upright(page), level(page)
    for word in page.extract_words(keep_blank_chars=True, x_tolerance=1.5):
        if not LENGTH.fullmatch(word["text"]):
            continue
        middle, top = (word["x0"] + word["x1"]) / 2, word["top"]
        over = [(y, x0, x1) for y, x0, x1 in lying if 0 < top - y < 6 and x0 < middle < x1]
        if not over:
            continue
        y, x0, x1 = max(over)
        witness = sorted(x for x, upper, lower in standing if upper < y < lower and x0 - 0.1 <= x <= x1 + 0.1)
        left = [x for x in witness if x < middle]
        right = [x for x in witness if x > middle]
        if left and right:
            yield word["text"], (right[0] - left[-1]) / POINTS


def on_elevations(made: Plan, size: str, most: int | None = None) -> list[tuple[float, float]]:
    """What each figure on the elevations of a plan says, and how long what it stands under is [in]; on the first pages
    where not on all.
    """
    found = []
    for page in pages(set_of(made, size), numbers(made, "E", size)[:most]):
        ratio = int(RATIO.search(page.extract_text()).group(1))
        found += [(parse_length(figure, made.house.unit), on_paper * ratio) for figure, on_paper in measured(page)]
    return found


def wrong_of(found: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Those that are not as long as they say."""
    return [(said, there) for said, there in found if abs(there - said) > max(CLOSE * said, 1 / 16)]


def of_a_random_house(seed: int) -> list[tuple[float, float]]:
    """The figures on the elevations of a house made at random; every other one is in millimetres, on A3."""
    house = laid_out_house(8, seed, levels=1 + seed % 2)
    made = plan(in_millimetres(house) if seed % 2 else house)
    return on_elevations(made, "A3" if seed % 2 else "ANSI B")
