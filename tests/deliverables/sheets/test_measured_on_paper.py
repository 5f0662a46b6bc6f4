"""What is measured on the pages of the PDFs, from the pages alone, as somebody with a rule would."""

import re

import pytest

from planner.units import parse_length
from tests.deliverables.sheets.rule import CLOSE, POINTS, RATIO, of_a_random_house, on_elevations, wrong_of
from tests.drawn import demo, full_size_of, numbers, pages, set_of


@pytest.mark.parametrize(("unit", "size"), [("in", "ANSI B"), ("in", "A3"), ("mm", "A3"), ("mm", "ANSI B")])
def test_dimensions_on_elevations_are_as_long_as_they_say(unit, size):
    found = on_elevations(demo(unit=unit), size, 10)
    assert len(found) > 80
    assert wrong_of(found) == []
    assert max(said for said, _ in found) > 190


@pytest.mark.parametrize("seed", range(4))
def test_dimensions_of_random_houses_are_as_long_as_they_say(seed):
    found = of_a_random_house(seed)
    assert len(found) > 30 and wrong_of(found) == []


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
