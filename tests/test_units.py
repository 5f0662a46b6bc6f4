"""Lengths read in every usual spelling and written so that they read back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.units import (
    INCHES_IN,
    METRIC,
    LengthError,
    format_length,
    format_size,
    parse_length,
    spell_length,
    spell_number,
)

LENGTHS = st.floats(0, 5000, allow_subnormal=False).map(lambda x: round(x, 6))
SIXTEENTHS = st.integers(0, 16 * 5000).map(lambda n: n / 16)


# Common practice: how lengths are spelled on drawings and in schedules; the inch is 25.4 mm (agreement of 1959).
@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("5'-6 1/2\"", 66.5),
        ("5' 6.5\"", 66.5),
        ("5'6\"", 66),
        ("5'6", 66),
        ("5'-6-1/2\"", 66.5),
        ("66 1/2", 66.5),
        ("66-1/2", 66.5),
        ("66 1/2 in", 66.5),
        ("66½", 66.5),
        ("66 ½ in.", 66.5),
        ("½", 0.5),
        ('3/4"', 0.75),
        ("5.54 ft", 66.48),
        ("5 ft 6 in", 66),
        ("5 feet 6 1/2 inches", 66.5),
        ("14 FT", 168),
        ("14'", 168),
        ("10''", 10),
        ("1689 mm", 1689 / 25.4),
        ("1.689 m", 1689 / 25.4),
        ("168.9 cm", 1689 / 25.4),
        ("2540mm", 100),
        ("5′-6½″", 66.5),
        ("5’–6 1⁄2”", 66.5),
        ("5‘ 6“", 66),
        ("66\u00a01/2\u00a0in", 66.5),
        ("66\u202f¾", 66.75),
        (".5", 0.5),
        ("0", 0),
        ("  174  ", 174),
    ],
)
def test_every_usual_spelling(text, inches):
    assert parse_length(text) == pytest.approx(inches, abs=1e-12)


@pytest.mark.parametrize(("unit", "inches"), [("in", 12), ("ft", 144), ("mm", 12 / 25.4), ("cm", 120 / 25.4)])
def test_a_bare_number_takes_the_unit_and_a_written_unit_outranks_it(unit, inches):
    assert parse_length("12", unit) == pytest.approx(inches, abs=1e-12)
    assert parse_length("12 in", unit) == 12
    assert parse_length("1'", unit) == 12


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("ten", "is not a length"),
        ("", "missing"),
        ("-5", "negative"),
        ("−5'", "negative"),
        ("nan", "is not a length"),
        ("inf", "is not a length"),
        ("1e3", "is not a length"),
        ("5²", "is not a length"),
        ("1/0", "divides by zero"),
        ("1,689 m", "comma"),
        ("1.689,5", "comma"),
        ("5.5' 6\"", "is not a length"),
        ("5 6", "is not a length"),
        ("5 furlongs", "is not a length"),
        ("9" * 40, "too large"),
        ("9" * 10_000, "is not a length"),
        ("5'\n6\"; rm", "is not a length"),
    ],
)
def test_what_is_no_length_is_told_with_what_would_be_right(text, says):
    with pytest.raises(LengthError, match=says) as error:
        parse_length(text)
    assert "write" in error.value.remedy
    assert len(str(error.value)) < 200
    assert "\n" not in str(error.value)


@given(st.text(max_size=80))
def test_any_text_is_a_length_of_zero_or_more_or_a_length_error(text):
    try:
        inches = parse_length(text)
    except LengthError as error:
        assert error.message and error.remedy
    else:
        assert 0 <= inches < float("inf")


@given(SIXTEENTHS)
def test_sixteenths_read_back_exactly(inches):
    assert parse_length(format_length(inches, "in")) == inches
    assert parse_length(format_size(inches, "in")) == inches


@given(LENGTHS, st.sampled_from(list(INCHES_IN)))
def test_what_is_shown_is_within_half_of_its_last_place(inches, unit):
    step = 1 / 25.4 if unit in METRIC else 1 / 16
    for shown in (format_length(inches, unit), format_size(inches, unit)):
        assert abs(parse_length(shown) - inches) <= step / 2 + 1e-9


@given(st.just(0.0) | st.floats(1e-9, 5000), st.sampled_from(list(INCHES_IN)))
def test_what_is_spelled_for_a_file_reads_back_to_the_last_bit(inches, unit):
    assert parse_length(spell_length(inches, unit), unit) == inches
    assert parse_length(spell_number(inches, unit), unit) == inches


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (0, '0"'),
        (1 / 64, '0"'),
        (1 / 32, '1/16"'),
        (0.5, '1/2"'),
        (11.99, "1'-0\""),
        (12, "1'-0\""),
        (66.5, "5'-6 1/2\""),
        (71 + 31.5 / 32, "6'-0\""),
        (-66.5, "-5'-6 1/2\""),
        (-0.01, '0"'),
    ],
)
def test_feet_and_inches_carry(inches, text):
    assert format_length(inches, "ft") == text


def test_sizes_are_in_inches_only_and_metric_in_millimetres():
    assert format_size(18.94, "in") == '18 15/16"'
    assert format_size(4.75, "in") == '4 3/4"'
    assert format_length(66.5, "m") == format_size(66.5, "cm") == "1689 mm"
