"""What the README shows is what the charts and drawings of the demo house show today."""

import re
from pathlib import Path

import pytest

from tests.charts import golden

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("kind", golden.KINDS)
def test_a_golden_chart_says_what_it_said(kind):
    """After a change that is meant, `python -m tests.charts.golden` writes the charts anew."""
    kept, today = golden.said(golden.file(kind).read_text("utf-8")), golden.said(golden.drawn(kind))
    assert kept - today == today - kept == {}
    assert kept["Drawing Room"] == 1 and len(kept) > 30


def test_every_picture_of_the_readme_is_a_golden_one_and_has_words_for_who_does_not_see_it():
    pictures = re.findall(r"!\[(.*?)\]\((.*?)\)", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    assert {file for _, file in pictures} > {golden.file(kind).relative_to(ROOT).as_posix() for kind in golden.KINDS}
    assert all((ROOT / file).is_file() and Path(file).parent.name == "golden" for _, file in pictures)
    assert all(len(words) > 20 for words, _ in pictures)
