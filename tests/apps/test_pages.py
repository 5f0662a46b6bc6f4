"""What people typed stays text, in HTML and as the label of a control."""

import html
import re

import marimo as mo
import pytest

from planner.apps import pages
from planner.look import theme

TYPED = ["![x](http://127.0.0.1:9/x.png)", "<img src=x>", "$x$", "**b** _i_ ~~s~~", "[a](javascript:b)", "1. x", "# h"]
TYPED += ["`c`", "http://127.0.0.1:9/auto", ":smile:", "\\(x\\) a\\b", "- x", "[^1]", "&amp; & <"]
TYPED += ["é 漢 \u202e x", "a@b.cc"]


@pytest.mark.parametrize("typed", TYPED)
def test_a_plain_label_reads_as_it_was_typed_and_makes_no_element(typed):
    inside = re.sub(r"^(<span[^>]*>)+|(</span>)+$", "", mo.md(pages.plain(typed)).text)
    assert "<" not in inside and html.unescape(inside) == typed


SEEN = 3.0
"""Least contrast of a focus ring with what is beside it, and with what stood in its place: W3C, WCAG 2.2 (2023),
success criteria 1.4.11 and 2.4.13, which asks for a ring of 2 CSS pixels too (from memory)."""


@pytest.mark.parametrize("dark", [False, True])
def test_the_ring_round_what_has_the_focus_is_seen_beside_all_that_it_stands_on(dark):
    look, style = theme.palette(dark), str(pages.style(dark))
    colours = dict(re.findall(r"(--[\w-]+): (#[0-9a-f]{6});", style))
    (width, ring, offset) = re.search(
        r":focus-visible \{ outline: (\d+)px solid var\((--[\w-]+)\);\s+outline-offset: (\d+)px", style
    ).groups()
    (mixed,) = re.findall(r"\.pl-marked \{ background: color-mix\(in srgb, var\(--pl-faint\) (\d+)%", style)
    shaded = mix(colours["--pl-faint"], colours["--pl-paper"], int(mixed) / 100)
    assert int(width) >= 2 and int(offset) >= 1
    for drawn in (colours[ring], colours["--ring"]):
        assert min(theme.contrast(drawn, beside) for beside in (look.paper, shaded, look.faint)) >= SEEN


def mix(colour, other, share):
    """A share of one colour, and the rest of another."""
    parts = ([int(c[i : i + 2], 16) for i in (1, 3, 5)] for c in (colour, other))
    return "#" + "".join(f"{round(share * a + (1 - share) * b):02x}" for a, b in zip(*parts, strict=True))


@pytest.mark.parametrize(
    ("columns", "cell", "stacked"),
    [(4, "1505", False), (5, "1505", True), (2, "a word " * 12, False), (3, "a word " * 12, True)],
)
def test_a_phone_stacks_the_cells_of_a_table_of_many_columns_or_of_sentences(columns, cell, stacked):
    table = pages.table([f"Column {n}" for n in range(columns)], (row for row in [["Base", *[cell] * (columns - 1)]]))
    assert ("pl-stacked" in table) == stacked and cell in table


def test_what_several_people_say_in_one_cell_stands_in_as_many_lines():
    assert '<td data-head="Said" class="pl-lines">Ida: richer\nOtto: plainer</td>' in pages.table(
        ["Room", "Said"], [["Library", "Ida: richer\nOtto: plainer"]]
    )


def test_what_names_the_rows_may_be_numbers():
    table = pages.table(["Rule", "Says"], [[1, "none"]], numbers=["Rule"])
    assert '<th scope="row" class="pl-number">1</th>' in table and '<td data-head="Says">none</td>' in table
