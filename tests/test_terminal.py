"""Text for a terminal."""

import json
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.terminal import shown, shown_json

MARKS = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""The characters with the property Bidi_Control (The Unicode Consortium, Unicode Character Database, PropList.txt)."""


@pytest.mark.parametrize(
    "acted_on", ["\x1b", "\n", "\r", "\x07", "\x08", "\x7f", "\x9b", "\x00", "\u2028", "\ud800", *MARKS]
)
def test_what_a_terminal_acts_on_is_written_out(acted_on):
    line = shown(f"Hall{acted_on}[2J")
    assert acted_on not in line
    assert line.startswith("Hall\\") and line.encode().decode("unicode_escape") == f"Hall{acted_on}[2J"


@pytest.mark.parametrize(
    "name", ["Salle à manger", "Große Stube", "食堂", "अध्ययन‍कक्ष", "اتاق‌خواب", "Bad 🛁", "9'-0\" × 12'"]
)
def test_names_in_any_script_stand_as_they_are(name):
    assert shown(name) == name


@given(st.text(st.characters(exclude_categories=[])))
def test_nothing_is_left_to_act_on(text):
    left = shown(text)
    assert not [c for c in left if unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") or c in MARKS]


@given(st.dictionaries(st.text(), st.lists(st.text(st.characters(exclude_categories=[])))))
def test_json_says_the_same_in_characters_that_are_shown(value):
    text = json.dumps(value, ensure_ascii=False, indent=2)
    left = shown_json(text)
    assert json.loads(left) == value
    assert shown(left.replace("\n", "")) == left.replace("\n", "")
