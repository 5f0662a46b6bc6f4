"""What is measured on the pages of the PDFs, from the pages alone, as somebody with a rule would."""

import re
from collections.abc import Iterator

import pytest
from pdfplumber.page import Page

from planner import plan
from planner.units import parse_length
from tests.drawn import demo, full_size_of, numbers, pages, set_of
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


@pytest.mark.parametrize(("unit", "size"), [("in", "ANSI B"), ("in", "A3"), ("mm", "A3"), ("mm", "ANSI B")])
def test_dimensions_on_elevations_are_as_long_as_they_say(unit, size):
    found = []
    for page in pages(set_of(demo(unit=unit), size), numbers(demo(unit=unit), "E", size)[:10]):
        ratio = int(RATIO.search(page.extract_text()).group(1))
        found += [(parse_length(figure, unit), on_paper * ratio) for figure, on_paper in measured(page)]
    assert len(found) > 80
    wrong = [(said, there) for said, there in found if abs(there - said) > max(CLOSE * said, 1 / 16)]
    assert wrong == []
    assert max(said for said, _ in found) > 190


@pytest.mark.parametrize("seed", range(4))
def test_dimensions_of_random_houses_are_as_long_as_they_say(seed):
    house = laid_out_house(8, seed, levels=1 + seed % 2)
    made, size = plan(in_millimetres(house) if seed % 2 else house), "A3" if seed % 2 else "ANSI B"
    found = []
    for page in pages(set_of(made, size), numbers(made, "E", size)):
        ratio = int(RATIO.search(page.extract_text()).group(1))
        found += [(parse_length(figure, made.house.unit), on_paper * ratio) for figure, on_paper in measured(page)]
    assert len(found) > 30
    assert [(said, there) for said, there in found if abs(there - said) > max(CLOSE * said, 1 / 16)] == []


@pytest.mark.parametrize(("unit", "size", "side"), [("in", "ANSI B", 1.0), ("mm", "A3", 25 / 25.4)])
def test_the_square_that_is_measured_after_printing_is_as_large_as_it_says(unit, size, side):
    data = full_size_of(demo(unit=unit), size)
    for page in list(pages(data, [2, 9])):
        squares = [
            (r["width"] / POINTS, r["height"] / POINTS)
            for r in page.rects
            if abs(r["width"] - r["height"]) < 0.05 and r["width"] > 0.9 * POINTS and r["x0"] < 120
        ]
        assert squares
        assert min(abs(w - side) + abs(h - side) for w, h in squares) < 2 * CLOSE * side
        assert ("1 inch" if unit == "in" else "25 mm") in page.extract_text()


def test_a_profile_at_full_size_is_as_large_as_its_caption_says():
    """The caption of a profile says its size, and the curve over it is measured."""
    sized = re.compile(r'(?:board|casing|crown|backband|chair rail), (\S.*?)" by (\S.*?)"')
    found = 0
    for page in pages(full_size_of(demo()), list(range(2, 9))):
        for word in page.extract_words(keep_blank_chars=True, x_tolerance=1.5):
            if not (said := sized.fullmatch(word["text"])):
                continue
            high, deep = (parse_length(f'{text}"') for text in said.groups())
            over = [
                o
                for o in (*page.curves, *page.rects)
                if o["fill"] and o["bottom"] < word["top"] and abs(o["x0"] - (word["x0"] - 20) - 7.2) < 0.5
            ]
            nearest = max(over, key=lambda o: o["bottom"])
            assert nearest["height"] / POINTS == pytest.approx(high, abs=max(CLOSE * high, 1 / 32))
            assert nearest["width"] / POINTS == pytest.approx(deep, abs=max(CLOSE * deep, 1 / 32))
            found += 1
    assert found >= 4


@pytest.mark.parametrize(
    ("size", "width", "height"), [("ANSI B", 17 * 72, 11 * 72), ("A3", 420 / 25.4 * 72, 297 / 25.4 * 72)]
)
def test_pages_have_the_size_of_their_paper(size, width, height):
    """ANSI B: ASME Y14.1, 11 by 17 in; A3: ISO 216, 297 by 420 mm; both from memory."""
    for page in pages(set_of(demo(), size), [1, 2, 3, 40, 80]):
        assert (page.width, page.height) == pytest.approx((width, height), abs=0.1)


def test_the_scale_bar_is_as_long_as_its_figures_say():
    (page,) = pages(set_of(demo()), numbers(demo(), "E")[:1])
    ratio = int(RATIO.search(page.extract_text()).group(1))
    words = page.extract_words(x_tolerance=1.5)
    unit = next(w for w in words if w["text"] == "ft" and w["x0"] > page.width / 2 and w["top"] > page.height / 2)
    row = [w for w in words if abs(w["top"] - unit["top"]) < 1 and w["x0"] > page.width / 2]
    feet = max(float(w["text"]) for w in row if w["text"].replace(".", "").isdigit())
    blocks = [r for r in page.rects if 0 < r["top"] - unit["top"] < 14 and r["x0"] > page.width / 2 and r["height"] < 8]
    long = (max(r["x1"] for r in blocks) - min(r["x0"] for r in blocks)) / POINTS
    assert long * ratio == pytest.approx(feet * 12, rel=CLOSE)
