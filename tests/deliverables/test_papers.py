"""What every paper has: a name that stays in its folder, and a stamp by which two are known to agree."""

import string
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner import Intent, demo_house, plan, read_house
from planner.deliverables.papers import SIZES, Paper, Stamp, is_paper_name, paper_name, stamp_of, usual_size

HOUSE, _ = read_house(demo_house())
DAY = date(2030, 1, 31)

NAMES = st.text(st.sampled_from(string.printable + "./\\\0\u202e\u2028ßé:*\x1b"), max_size=60) | st.text()


@given(st.lists(st.lists(NAMES, min_size=1, max_size=3), min_size=1, max_size=12))
def test_a_paper_never_leaves_the_folder_whatever_rooms_are_called(titles):
    taken, root = set(), Path("/papers").resolve()
    names = [paper_name("rooms", tuple(each), ".dxf", taken) for each in titles]
    assert len({name.casefold() for name in names}) == len(titles)
    for name in names:
        assert (root / Paper(name, "", b"").name).resolve().parent == root / "rooms"


@pytest.mark.parametrize(
    "name",
    ["", "/etc/passwd", "../a.csv", "a/../../b.csv", "a//b.csv", ".hidden", "a/.b", "C:\\a", "a\0b", "a/", "a\nb"],
)
def test_names_that_lead_out_or_that_no_file_system_takes_are_refused(name):
    assert not is_paper_name(name)
    with pytest.raises(ValueError, match="is no name of a paper"):
        Paper(name, "", b"")


def test_papers_of_equal_inputs_carry_the_same_fingerprint_and_of_others_another():
    stamp = stamp_of(plan(HOUSE), DAY)
    assert stamp.fingerprint == stamp_of(plan(replace(HOUSE, name="Larkmead")), DAY).fingerprint
    assert stamp.fingerprint != stamp_of(plan(replace(HOUSE, grade="cottage")), DAY).fingerprint
    assert stamp.fingerprint in stamp.words and stamp.house in stamp.words and "2030-01-31" in stamp.words
    assert [said for _, said in stamp.lines] == [HOUSE.name, "as it stands", "2030-01-31", stamp.fingerprint]


def test_a_stamp_names_the_alternative_by_its_title():
    named = Intent(name="formal", title="Dressed for company")
    assert stamp_of(plan(HOUSE, named), DAY).alternative == "Dressed for company"
    assert stamp_of(plan(HOUSE, replace(named, title="")), DAY).alternative == "formal"


def test_paper_is_as_large_as_its_standard_says():
    """ANSI B is 11 by 17 in (ASME Y14.1), A3 297 by 420 mm and A4 half of it (ISO 216:2007); from memory."""
    assert SIZES["ANSI B"].sheet == (17.0, 11.0) and SIZES["ANSI B"].page == (8.5, 11.0)
    assert [round(side * 25.4, 6) for side in SIZES["A3"].sheet] == [420, 297]
    assert SIZES["A3"].page[1] == SIZES["A3"].sheet[1] and SIZES["A3"].page[0] * 2 == SIZES["A3"].sheet[0]
    assert usual_size("in").name == "ANSI B" and usual_size("m").name == "A3"


def test_the_words_of_a_stamp_go_on_one_line_whatever_is_called_what():
    long = Stamp("House\n" * 50, "& " * 100, DAY, "0f1e2d3c4b5a6978")
    assert (
        len(long.words) < 150 and "\n" not in long.words and long.words.endswith("2030-01-31 · inputs 0f1e2d3c4b5a6978")
    )
    assert long.lines[0] == ("House", "House\n" * 50)
