"""The matrix has the tier of every room in every alternative, and marks where they differ."""

import pytest

from planner import charts
from planner.look import theme
from planner.planning import frames
from tests.charts.reading import rows, styled, words


@pytest.fixture(scope="module")
def compared(alternatives):
    return frames.compare(alternatives)


@pytest.fixture(scope="module")
def differing(compared) -> set[str]:
    return {row["room"] for row in compared.to_dict("records") if row["differs"]}


def cells(chart: charts.FinishedChart) -> list[dict]:
    return [row for row in rows(chart) if "said" in row]


def names(chart: charts.FinishedChart) -> list[str]:
    """The rooms' names, each joined of its lines."""
    return [row["text"] for row in styled(chart, "right", "normal")]


def test_rooms_that_differ_are_shown_alone_unless_asked(compared, differing):
    rooms = set(compared["room"])
    assert differing and differing < rooms
    assert {cell["said"]["room"] for cell in cells(charts.tier_matrix(compared))} == differing
    whole = charts.tier_matrix(compared, differing_only=False)
    assert {cell["said"]["room"] for cell in cells(whole)} == rooms
    for chart in (charts.tier_matrix(compared), whole):
        assert chart.to_dict()["title"]["text"] == [
            f"Tier by room and alternative, {len(differing)} of {len(rooms)} rooms differ"
        ]


def test_a_room_that_differs_is_marked_among_others(compared, differing):
    whole = charts.tier_matrix(compared, differing_only=False, width=1000)
    assert names(whole) == [f"≠ {r}" if r in differing else r for r in dict.fromkeys(compared["room"])]
    assert "≠ they differ" in " ".join(whole.to_dict()["title"]["subtitle"])
    alone = charts.tier_matrix(compared, width=1000)
    assert names(alone) == [r for r in dict.fromkeys(compared["room"]) if r in differing]
    assert "≠" not in str(alone.to_dict())


@pytest.mark.parametrize("dark", [False, True])
def test_cells_have_the_tier_in_colour_and_in_words(compared, dark):
    chart = charts.tier_matrix(compared, dark=dark, width=1000)
    shown = [row for row in compared.to_dict("records") if row["differs"]]
    texts = {(t["x"], t["y"]): t for t in words(chart)}
    for row, cell in zip(shown, cells(chart), strict=True):
        assert cell["said"]["alternative"] == row["alternative"]
        assert cell["said"]["tier"] == f"{row['tier']} {row['tier_name']}"
        assert cell["fill"] == theme.ramp(row["tiers"], dark)[row["tier"] - 1]
        (text,) = (t for (x, y), t in texts.items() if cell["x"] < x < cell["x2"] and cell["y"] < y < cell["y2"])
        assert text["text"] == cell["said"]["tier"]
        assert text["ink"] == theme.text_on(cell["fill"])


def test_cells_too_narrow_for_the_name_have_the_number(compared):
    texts = [t["text"] for t in words(charts.tier_matrix(compared, width=150)) if t["ink"] in ("#000000", "#ffffff")]
    assert texts and all(text.isdigit() for text in texts)


def test_columns_are_the_alternatives_in_their_order(alternatives, compared):
    chart = charts.tier_matrix(compared, width=1000)
    titles = [p.intent.title for p in alternatives]
    heads = {t["text"]: t["x"] for t in words(chart) if t["text"] in titles}
    assert list(heads) == titles
    assert list(heads.values()) == sorted(heads.values())
    for cell in cells(chart):
        assert (cell["x"] + cell["x2"]) / 2 == pytest.approx(heads[cell["said"]["alternative"]])


def test_a_long_title_wraps_above_its_column_from_the_top_down(compared):
    chart = charts.tier_matrix(compared.replace("great house", "the great house as first wished"), width=342)
    lines = [t for t in words(chart) if t["text"] in ("the great house", "as first wished")]
    assert [t["text"] for t in lines] == ["the great house", "as first wished"]
    assert lines[1]["y"] - lines[0]["y"] == 14
    assert lines[1]["y"] < min(cell["y"] for cell in cells(chart))
    (short,) = (t for t in words(chart) if t["text"] == "cottage")
    assert short["y"] == lines[1]["y"]
    (over,) = (t for t in words(chart) if t["text"] == "Alternative")
    assert lines[0]["y"] - over["y"] > 10
    assert over["x"] >= min(cell["x"] for cell in cells(chart))


def test_letters_stand_above_columns_too_narrow_for_a_word_and_a_key_above_them(alternatives, compared):
    narrow, wide = (charts.tier_matrix(compared, width=width) for width in (120, 1000))
    titles = [p.intent.title for p in alternatives]
    heads = {t["text"]: t for t in words(narrow) if t["text"] in ("A", "B") and t["x"] > 18}
    keyed = [t for t in words(narrow) if t["x"] == 18]
    assert " ".join(t["text"] for t in keyed) == " ".join(titles)
    assert max(t["y"] for t in keyed) < min(t["y"] for t in words(narrow) if t["text"] == "Alternative")
    at = {c["said"]["alternative"]: (c["x"] + c["x2"]) / 2 for c in cells(narrow)}
    assert [t["x"] for t in heads.values()] == pytest.approx([at[title] for title in titles])
    assert not {"A", "B"} & {t["text"] for t in words(wide)}


@pytest.mark.parametrize("width", [342, 1000])
def test_headings_follow_each_other_down_to_the_first_row(alternatives, compared, width):
    chart = charts.tier_matrix(compared, width=width)
    at = {t["text"]: t["y"] for t in words(chart)}
    titles = [row["y"] for row in words(chart) if row["text"] in " ".join(p.intent.title for p in alternatives)]
    assert 0 < at["Alternative"] < min(titles) - 10
    assert max(titles) == at["Room"]
    assert 5 < min(cell["y"] for cell in cells(chart)) - at["Room"] < 15


def test_rows_are_as_high_as_their_names_need(compared):
    plain, wrapped = (
        charts.tier_matrix(compared.replace("Library", name), width=342) for name in ("Library", "Li " * 15)
    )
    high = [{c["said"]["room"]: c["y2"] - c["y"] for c in cells(chart)} for chart in (plain, wrapped)]
    assert set(high[0].values()) == {22}
    assert high[1]["Li " * 15] > 28
