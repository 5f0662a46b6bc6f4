"""The ladder of all tiers: measured on what is drawn, not on what is written."""

from itertools import pairwise

import pytest

from planner.apps.screen import PAGES, WIDE_CHART
from planner.drawings.ladder import AROUND, LADDER, ladder, ladder_scale
from planner.drawings.scene import Group, Path, flat
from planner.drawings.svg import MARGIN
from planner.library import standard
from planner.mouldings.curves import points
from planner.units import format_length, format_size
from tests.drawings.texts import assert_no_text_overlaps, texts
from tests.walls.trim import profiles, trim, without

CEILINGS = (96.0, 108.0, 120.0, 144.0)


def tiers(style="georgian", ceiling=120.0):
    packages = [trim(tier, ceiling, style) for tier in range(1, 6)]
    return packages, {p: profiles(p) for p in packages}


@pytest.mark.parametrize("style", standard().style_names)
@pytest.mark.parametrize("ceiling", CEILINGS)
def test_the_ladder_draws_every_tier_at_one_scale_without_overlaps(style, ceiling):
    packages, sections = tiers(style, ceiling)
    scene = ladder(packages, sections)
    assert_no_text_overlaps(scene)
    written = " ".join(t.text for t in texts(scene))
    cuts = [points(s.segments) for s in flat(scene.shapes) if isinstance(s, Path) and s.fill == "wood"]
    heights = sorted(round(max(y for _, y in c) - min(y for _, y in c), 3) for c in cuts)
    kinds = (*LADDER, *AROUND)
    placed = [q for p in packages for kind in kinds for q in sections[p].get(kind, ())]
    outlines = [points(t.outline) for q in placed for t in q.timber]
    drawn = [round(max(y for _, y in o) - min(y for _, y in o), 3) for o in outlines]
    assert heights == pytest.approx(sorted(drawn), abs=0.002)
    assert all(p.label in written for p in packages)


@pytest.mark.parametrize("style", standard().style_names)
def test_five_tiers_stand_side_by_side_on_a_page_without_being_scrolled(style):
    packages, sections = tiers(style)
    scale = ladder_scale([packages], sections, PAGES[WIDE_CHART])
    scene = ladder(packages, sections, scale=scale)
    assert (scene.box.x1 - scene.box.x0) * scale.pixels + 2 * MARGIN <= PAGES[WIDE_CHART]
    assert_no_text_overlaps(scene)


def test_columns_have_the_names_that_they_are_given():
    packages, sections = tiers()
    words = {t.text for t in texts(ladder(packages, sections, ["a", "b", "c", "d", "e"]))}
    assert {"a", "b", "c", "d", "e"} <= words and packages[0].label not in words


def test_each_element_is_told_with_its_size_form_and_height():
    packages, sections = tiers()
    scene = ladder(packages, sections)
    words = {t.text for t in texts(scene)}
    rail, crown = packages[4].element("chair rail"), packages[4].element("crown")
    assert f"crown {format_size(crown.size, 'in')}" in words and crown.form in words
    assert f"chair rail {format_size(rail.size, 'in')} at {format_length(rail.top, 'in')}" in words
    assert f"base {format_size(packages[0].element('base').size, 'in')}" in scene.description


def test_crowns_hang_from_one_line_and_bases_stand_on_one():
    packages, sections = tiers()
    scene = ladder(packages, sections)
    figures = [s for s in scene.shapes if isinstance(s, Group)]
    lines = [s for s in scene.shapes if isinstance(s, Path) and s.layer == "profile"]
    floor, ceiling = sorted(line.segments[0].start[1] for line in lines)
    feet, tops = [], []
    for figure in figures:
        wood = [p for s in figure.shapes if isinstance(s, Path) and s.fill == "wood" for p in points(s.segments)]
        feet.append(figure.placement.y + min(y for _, y in wood))
        tops.append(figure.placement.y + max(y for _, y in wood))
    bases, crowns = (sum(kind in sections[p] for p in packages) for kind in ("base", "crown"))
    assert sum(y == pytest.approx(floor) for y in feet) == bases == 5
    assert sum(y == pytest.approx(ceiling) for y in tops) == crowns == 4


def test_tiers_stand_at_equal_steps():
    packages, sections = tiers()
    heads = [t for t in texts(ladder(packages, sections)) if t.bold]
    steps = {round(b.x - a.x, 6) for a, b in pairwise(heads)}
    assert len(heads) == 5 and len(steps) == 1


def test_an_element_that_no_tier_has_is_left_out():
    packages = [without(p, "crown") for p in tiers()[0]]
    scene = ladder(packages, {p: profiles(p) for p in packages})
    assert not [t for t in texts(scene) if t.text.startswith("crown")]


def test_a_ladder_needs_a_package():
    with pytest.raises(ValueError, match="at least one"):
        ladder([], {})


@pytest.mark.parametrize("page", PAGES.values())
def test_no_line_of_a_heading_breaks_a_measure(page):
    packages, sections = tiers()
    heads = [f"Family {1000 + n} mm" for n in range(len(packages))]
    written = [text.text for text in texts(ladder(packages, sections, heads, ladder_scale([packages], sections, page)))]
    assert "mm" not in written and any(text.endswith("1000 mm") for text in written)
