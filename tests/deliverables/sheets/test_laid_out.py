"""How sheets are laid out: packing, parts that overlap, lines of text, numbers."""

import random
import re

import pytest

from planner.deliverables.papers import SIZES
from planner.deliverables.sheets.frame import detail_scales, frame_of, section_scales, wall_scales
from planner.deliverables.sheets.full_size import EDGE, OVERLAP, full_size_sheets
from planner.deliverables.sheets.package_sheets import package_sheets
from planner.deliverables.sheets.packing import packed
from planner.deliverables.sheets.sheet import TYPE, Caption, Drawn, Table, lines, table_height
from planner.deliverables.sheets.walls import in_parts
from planner.look.theme import text_width
from tests.drawn import demo, frame


@pytest.mark.parametrize("seed", range(30))
def test_packed_things_overlap_nowhere_and_stay_on_their_sheet(seed):
    rng = random.Random(seed)
    sizes = [(rng.uniform(0.5, 7), rng.uniform(0.5, 6)) for _ in range(rng.randrange(1, 40))]
    taken = (rng.uniform(1, 5), rng.uniform(1, 5)) if seed % 2 else (0.0, 0.0)
    places = packed(sizes, 15.0, 9.0, 0.3, taken)
    boxes = [(p.sheet, p.x, p.y, p.x + w, p.y + h) for p, (w, h) in zip(places, sizes, strict=True)]
    if all(taken):
        boxes.append((0, 0.0, 0.0, *taken))
    for n, (sheet, x0, y0, x1, y1) in enumerate(boxes):
        assert x0 >= 0 and y0 >= 0 and x1 <= 15.0 + 1e-6 and y1 <= 9.0 + 1e-6
        for other, a0, b0, a1, b1 in boxes[n + 1 :]:
            apart = x1 + 0.3 <= a0 + 1e-6 or a1 + 0.3 <= x0 + 1e-6 or y1 + 0.3 <= b0 + 1e-6 or b1 + 0.3 <= y0 + 1e-6
            assert sheet != other or apart
    area = sum((w + 0.3) * (h + 0.3) for w, h in sizes)
    assert max(p.sheet for p in places) + 1 <= 2 + area / (0.4 * 15.3 * 9.3)


@pytest.mark.parametrize(
    "sizes",
    [
        [(5, 3), (2, 1), (3, 2), (3, 2), (1, 4)],  # the widest first
        [(4, 2), (2, 4), (2, 3), (1, 2), (1, 2), (4, 1)],  # the largest first
    ],
)
def test_things_are_packed_in_another_order_where_that_takes_fewer_sheets(sizes):
    """They fill a sheet of 7 by 5 to six sevenths and more; the highest first they take two."""
    assert 30 <= sum(w * h for w, h in sizes) <= 35
    assert {place.sheet for place in packed(sizes, 7.0, 5.0, 0.0)} == {0}


def test_what_is_larger_than_a_sheet_has_one_to_itself():
    places = packed([(20.0, 12.0), (3.0, 3.0)], 15.0, 9.0, 0.3)
    assert (places[0].x, places[0].y) == (0.0, 0.0)
    assert places[1].sheet != places[0].sheet


@pytest.mark.parametrize(
    "text", ["a line of words that is long enough to be broken somewhere", "W" * 80, "i" * 200, ""]
)
def test_lines_keep_within_their_width_and_lose_no_letter(text):
    found = lines(text, 1.2, "small")
    assert "".join(found).replace(" ", "") == text.replace(" ", "")
    assert all(text_width(line, TYPE["small"]) <= 1.2 * 72 for line in found)


def test_a_table_is_as_high_as_its_rows():
    one = Table(0, 0, (1.0, 1.0), ("A", "B"), (("x", "y"),))
    two = Table(0, 0, (1.0, 1.0), ("A", "B"), (("x", "y"), ("a word and another and another", "y")))
    assert table_height(two) > table_height(one) * 1.5


def test_no_profile_of_the_stock_is_drawn_twice():
    """A panel mould stands upside down at one edge of a panel, and is one profile."""
    titles = [" ".join(i.title) for s in full_size_sheets(demo(), frame()) for i in s.items if isinstance(i, Caption)]
    profiles = [title for title in titles if title.startswith("Profile ")]
    assert len(profiles) > 20 and sorted(set(profiles)) == sorted(profiles)


def test_a_package_of_few_elements_has_one_sheet():
    (package,) = (p for p in demo().packages if p.label == "Service 9'-0\"")
    assert [s.title for s in package_sheets(demo(), frame()) if package.label in s.title] == [
        f"Package: {package.label}"
    ]


def test_parts_of_a_drawing_overlap_and_share_their_crosses():
    sheets = [s for s in full_size_sheets(demo(), frame()) if s.title.startswith("Full size: Wainscot")]
    assert len(sheets) == 3
    for sheet in sheets:
        figure = next(item.figure for item in sheet.items if isinstance(item, Drawn))
        assert figure.width == pytest.approx(frame().across)
        caption = next(item for item in sheet.items if isinstance(item, Caption))
        assert f"part {caption.number} of 3" in " ".join(caption.title)
    package = demo().standing[demo().packages[0]]
    long = package.element("wainscot").size
    assert 2 * frame().across - OVERLAP < long + 2 * EDGE < 3 * frame().across - 2 * OVERLAP


def test_parts_of_straight_edges_alone_are_left_out_and_told():
    found = [s for s in full_size_sheets(demo("formal"), frame()) if s.title.startswith("Full size: Wall panels")]
    captions = [item for sheet in found for item in sheet.items if isinstance(item, Caption)]
    parts = int(re.search(r"of (\d+)", captions[0].title[0]).group(1))
    told = [" ".join(caption.said) for caption in captions]
    (left_out,) = {tuple(map(int, re.findall(r"\d+", said.partition("left out: ")[2]))) for said in told}
    assert left_out and sorted((*left_out, *(caption.number for caption in captions))) == list(range(1, parts + 1))
    assert {1, parts} <= {caption.number for caption in captions}


def test_every_profile_of_the_plan_and_every_section_is_at_full_size():
    titles = " ".join(
        " ".join(i.title) for s in full_size_sheets(demo(), frame()) for i in s.items if isinstance(i, Caption)
    )
    codes = {
        code
        for package in demo().packages
        for e in package.elements
        for code in e.profiles
        if e.element in demo().sections[package]
    }
    assert codes
    sold = {profile.code for profile in demo().stock.profiles}
    assert set(re.findall(r"Profile (\S+)", titles)) <= sold
    assert [code for code in codes if f"Profile {code}" not in titles] == []
    for name in (
        "Crown: cornice, frieze and taenia",
        "Casing: two fasciae",
        "Wainscot: flat panels",
        "Stool: nosed stool",
    ):
        assert name in titles


def test_a_long_wall_is_parted_clear_of_its_openings():
    wall = max((w for walls in demo().walls.values() for w in walls), key=lambda w: (len(w.apertures), w.length))
    parts = in_parts(wall, wall.length / 2.5)
    assert len(parts) == 3
    assert sum(part.length for part, _ in parts) == pytest.approx(wall.length)
    assert sum(len(part.apertures) for part, _ in parts) == len(wall.apertures)
    assert parts[0][1].endswith("part 1 of 3")
    assert in_parts(wall, wall.length) == [(wall, f"{wall.room}, wall {wall.wall}")]


def test_scales_are_those_of_a_rule():
    """Architect's scales (common practice); ISO 5455:1979, from memory, with 1 : 25 for walls (common practice)."""
    assert [s.words for s in wall_scales("in")[:3]] == [
        "1/2 in = 1 ft (1 : 24)", "3/8 in = 1 ft (1 : 32)", "1/4 in = 1 ft (1 : 48)",
    ]  # fmt: skip
    iso = {1, 2, 5, 10, 20, 50, 100}
    metric = {s.ratio for each in (wall_scales, section_scales, detail_scales) for s in each("mm")}
    assert metric - iso == {25}


def test_borders_leave_room_to_bind():
    """ISO 5457:1999, from memory: 20 mm at the filing edge of an A3, 10 mm elsewhere."""
    a3 = frame_of(SIZES["A3"])
    assert [round(length * 25.4, 6) for length in (a3.bound, a3.side, a3.edge)] == [20.0, 10.0, 10.0]
    assert a3.across * 25.4 == pytest.approx(420 - 30 - 2 * 0.18 * 25.4)
