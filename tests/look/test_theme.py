"""The ramp is read by lightness alone, and whatever stands on it or on the paper can be read."""

import colorsys
from itertools import pairwise

import pytest

from planner.look import theme

RAMPS = [(tiers, dark) for tiers in range(3, 8) for dark in (False, True)]
READABLE = 4.5
"""Least contrast of text: W3C, WCAG 2.1, success criterion 1.4.3 (from memory)."""


@pytest.mark.parametrize(("colours", "ratio"), [(("#000000", "#ffffff"), 21.0), (("#777777", "#ffffff"), 4.48)])
def test_contrast_agrees_with_published_pairs(colours, ratio):
    """Black on white is 21 : 1 by the definition; #777777 on white is known as the grey that just fails (4.48)."""
    assert theme.contrast(*colours) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize(("tiers", "dark"), RAMPS)
def test_greyscale_tells_every_tier(tiers, dark):
    """CIE 1976 L* steps are equal within two units and at least eight apart."""
    lightness = [116 * theme.luminance(colour) ** (1 / 3) - 16 for colour in theme.ramp(tiers, dark)]
    steps = [(b - a) * (1 if dark else -1) for a, b in pairwise(lightness)]
    assert min(steps) > 8
    assert max(steps) - min(steps) < 2


@pytest.mark.parametrize(("tiers", "dark"), RAMPS)
def test_a_ramp_has_one_hue(tiers, dark):
    """One hue cannot be confused by any kind of colour vision; HSV hue drifts a little along equal CIE hue."""
    hues = [colorsys.rgb_to_hsv(*(int(c[i : i + 2], 16) / 255 for i in (1, 3, 5)))[0] for c in theme.ramp(tiers, dark)]
    assert max(hues) - min(hues) < 0.03


@pytest.mark.parametrize(("tiers", "dark"), RAMPS)
def test_labels_read_on_every_step(tiers, dark):
    assert min(theme.contrast(c, theme.text_on(c)) for c in theme.ramp(tiers, dark)) >= READABLE


@pytest.mark.parametrize("dark", [False, True])
def test_inks_read_on_their_paper(dark):
    look = theme.palette(dark)
    assert min(theme.contrast(look.paper, ink) for ink in (look.ink, look.soft, look.alarm)) >= READABLE


@pytest.mark.parametrize("tiers", [2, 8])
def test_a_ramp_out_of_range_is_told(tiers):
    with pytest.raises(ValueError, match=f"3 to 7 tiers, not {tiers}"):
        theme.ramp(tiers)


def test_lines_have_a_hierarchy():
    widths = [theme.LINES[name] for name in ("cut", "profile", "edge", "dimension", "hatch")]
    assert all(1.3 < a / b < 1.5 for a, b in pairwise(widths))


def test_grave_steps_differ_without_colour():
    signs = {(m.shape, m.glyph, m.word) for m in (theme.STEPS[n] for n in ("abrupt", "rises", "faint", "clear"))}
    assert len({shape for shape, _, _ in signs}) >= 3
    assert len({glyph for _, glyph, _ in signs}) == len({word for _, _, word in signs}) == 4


@pytest.mark.parametrize("text", ["Dining Room", "W" * 200, "", "a\nb", "Conservatory-Orangery and Winter Garden"])
def test_wrapping_loses_nothing_and_fits(text):
    lines = theme.wrapped(text, 70, 11)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(theme.text_width(line, 11) <= 70 for line in lines)
