"""Levels stand on the sheet at the largest scale that fits."""

import pytest

from planner.charts.levels import HEAD, MARGIN, Extent, places

FLAT, DEEP = Extent(0.0, 100.0, 400.0, 100.0), Extent(0.0, 400.0, 100.0, 400.0)


@pytest.mark.parametrize(
    ("extent", "width", "height", "rows"),
    [(FLAT, 400, 1000, 4), (DEEP, 1000, 400, 1), (Extent(0, 100, 100, 100), 500, 560, 2)],
)
def test_as_many_stand_beside_each_other_as_makes_them_largest(extent, width, height, rows):
    levels = dict.fromkeys(["a", "b", "c", "d"], extent)
    found, bottom = places(levels, width, top=5.0, height=height)
    assert len({place.top for place in found.values()}) == rows
    assert bottom <= 5.0 + height + 1e-9
    assert len({place.scale for place in found.values()}) == 1
    scale = found["a"].scale
    for across in (True, False):
        forced, _ = places(levels, width, top=5.0, height=height, across=across)
        assert forced["a"].scale <= scale
    ends = [place.left + extent.length * scale + MARGIN for place in found.values()]
    fills = max(ends) == pytest.approx(width) or bottom == pytest.approx(5.0 + height)
    assert fills


def test_no_level_lies_on_another_or_on_its_name():
    levels = {"a": FLAT, "b": DEEP, "c": Extent(50.0, 70.0, 200.0, 200.0)}
    found, _ = places(levels, 600, top=0.0, height=500)
    boxes = []
    for name, place in found.items():
        extent = levels[name]
        assert place.on_sheet((extent.west, extent.north)) == pytest.approx((place.left, place.top), abs=0.06)
        assert place.top - place.name[1] == HEAD + MARGIN - 8
        right, low = place.left + extent.length * place.scale, place.top + extent.depth * place.scale
        boxes.append((place.left, place.name[1], right, low))
    for i, (x0, y0, x1, y1) in enumerate(boxes):
        assert not any(x0 < right and left < x1 and y0 < low and high < y1 for left, high, right, low in boxes[i + 1 :])


def test_one_level_has_no_name():
    found, _ = places({"a": FLAT}, 420, top=0.0)
    assert (found["a"].top, found["a"].scale) == (MARGIN, 1.0)


def test_a_sheet_too_small_for_its_levels_still_has_a_scale():
    found, _ = places({"a": FLAT, "b": DEEP}, 420, top=0.0, height=20)
    assert found["a"].scale > 0
