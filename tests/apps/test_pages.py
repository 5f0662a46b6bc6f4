"""What people typed stays text, in HTML and as the label of a control."""

import html
import re

import marimo as mo
import pytest

from planner.apps import pages

TYPED = ["![x](http://127.0.0.1:9/x.png)", "<img src=x>", "$x$", "**b** _i_ ~~s~~", "[a](javascript:b)", "1. x", "# h"]
TYPED += ["`c`", "http://127.0.0.1:9/auto", ":smile:", "\\(x\\) a\\b", "- x", "[^1]", "&amp; & <"]
TYPED += ["é 漢 \u202e x", "a@b.cc"]


@pytest.mark.parametrize("typed", TYPED)
def test_a_plain_label_reads_as_it_was_typed_and_makes_no_element(typed):
    inside = re.sub(r"^(<span[^>]*>)+|(</span>)+$", "", mo.md(pages.plain(typed)).text)
    assert "<" not in inside and html.unescape(inside) == typed
