"""The project's own look, once, for charts, drawings and apps: type, line weights, tiers, ink and paper.

The tiers share one hue and differ evenly in lightness, so that greyscale and every kind of colour vision read them;
wherever a tier is shown by colour it is shown by its number too. A step that is abrupt or rises is told by shape and
text, never by colour alone.
"""

import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from math import cos, floor, log2, radians, sin, sqrt

from planner.intent.model import FEWEST_TIERS, MOST_TIERS

FONT = 'system-ui, -apple-system, "Segoe UI", Roboto, "Helvetica Neue", Arial, "Liberation Sans", sans-serif'
"""Type that every machine has, and no download."""

PRINT_FONT = "Source Sans Pro"
"""Type of papers, which bring it along: narrow and open, legible at six points; of the SIL Open Font License."""

TEXT = {"title": 15, "subtitle": 12, "label": 12, "note": 11, "small": 10}
"""Sizes of type [px]; nothing is set smaller than `small`."""

LINES = {"cut": 1.42, "profile": 0.99, "edge": 0.71, "dimension": 0.51, "hatch": 0.37}
"""Widths of lines [pt]: 0.50, 0.35, 0.25, 0.18 and 0.13 mm, the steps of root two of ISO 128 (from memory)."""

THINNEST = 0.35
"""No line is thinner on a screen [px], however small the scale."""

PIXELS_PER_INCH, PIXELS_PER_POINT = 96, 4 / 3
"""A point is 1/72 in, a CSS pixel 1/96 in (CSS Values and Units, level 3, from memory)."""

WHOLE = 24.0
"""The scale from which lines have their whole width [px/in]: three inches to the foot."""

MOST_THINNED = 2
"""So many steps of root two lines are thinned at most."""

_HUE, _CHROMA = 205.0, 22.0
_LIGHTNESS = {False: (92.0, 30.0), True: (32.0, 90.0)}
_D65 = (0.95047, 1.0, 1.08883)


@dataclass(frozen=True)
class Palette:
    """Ink on paper, as #rrggbb: `faint` for grids and hatching, `soft` for second-rank text, `alarm` for marks."""

    paper: str
    ink: str
    soft: str
    faint: str
    alarm: str


LIGHT = Palette(paper="#fdfcf9", ink="#1c2224", soft="#525b5e", faint="#d5d8d6", alarm="#8a3a12")
DARK = Palette(paper="#14191b", ink="#eceeeb", soft="#aab3b4", faint="#3a4245", alarm="#f0a378")


@dataclass(frozen=True)
class Mark:
    """How a step is told without colour: a Vega symbol, a glyph for text, and the word."""

    shape: str
    glyph: str
    word: str
    filled: bool


STEPS = {
    "even": Mark("circle", "", "even", True),
    "clear": Mark("circle", "", "clear", True),
    "faint": Mark("circle", "~", "faint", False),
    "abrupt": Mark("square", "■", "abrupt", True),
    "rises": Mark("triangle-up", "▲", "rises", True),
}
"""The marks of steps; `faint` is hollow. The glyphs are of the WGL4 set, which common fonts carry."""


def palette(dark: bool = False) -> Palette:
    """Ink and paper for a light or a dark page."""
    return DARK if dark else LIGHT


def thinned(scale: float) -> int:
    """By how many steps of root two lines are thinned at a scale [px/in]: one each time that it is halved.

    >>> [thinned(scale) for scale in (96, 24, 12, 4, 2, 0.1)]
    [0, 0, 1, 2, 2, 2]
    """
    return min(max(0, floor(log2(WHOLE / scale))), MOST_THINNED)


def pixels(line: str, steps: int = 0) -> float:
    """Width of a line of LINES on a screen [px], thinned by steps of root two."""
    return max(THINNEST, LINES[line] * PIXELS_PER_POINT / sqrt(2) ** steps)


@cache
def ramp(tiers: int, dark: bool = False) -> tuple[str, ...]:
    """Colours of the tiers from the lowest up, as #rrggbb; the highest stands out most from the paper.

    Parameters
    ----------
    tiers : how many there are, 3 to 7.
    dark : for a dark page.

    Raises
    ------
    ValueError : where `tiers` is not 3 to 7.

    Notes
    -----
    Equal steps of lightness L* of CIE 1976 L*a*b* at one hue; chroma grows away from the paper.
    """
    if not FEWEST_TIERS <= tiers <= MOST_TIERS:
        raise ValueError(f"a ramp has {FEWEST_TIERS} to {MOST_TIERS} tiers, not {tiers}")
    return _steps(tiers, dark, _CHROMA)


@cache
def greys(steps: int, dark: bool = False) -> tuple[str, ...]:
    """Neutral steps for what is not a tier, e.g. factors, from the strongest to the weakest, as #rrggbb."""
    return _steps(steps, dark, 0.0)[::-1]


def text_width(text: str, size: float) -> float:
    """About how wide a line of text is [px] at a size [px], on the generous side for the fonts of FONT."""
    return size * _ems(text)


def wrapped(text: str, width: float, size: float) -> list[str]:
    """Lines of a text no wider than `width` [px], broken between words and, where a word is too wide, inside it."""
    lines, line = [], ""
    for word in text.split():
        joined = f"{line} {word}" if line else word
        if text_width(joined, size) <= width:
            line = joined
            continue
        if line:
            lines.append(line)
        while text_width(word, size) > width and len(word) > 1:
            cut = next(n for n in range(len(word) - 1, 0, -1) if n == 1 or text_width(word[:n], size) <= width)
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    return [*lines, line] if line else lines


@cache
def text_on(colour: str) -> str:
    """Black or white, whichever stands out more from a #rrggbb ground; at least 4.58 : 1 on any."""
    return "#000000" if contrast(colour, "#000000") >= contrast(colour, "#ffffff") else "#ffffff"


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two #rrggbb colours, 1 to 21 (W3C, WCAG 2.1, definition of contrast ratio, from memory)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def luminance(colour: str) -> float:
    """Relative luminance of a #rrggbb colour, 0 to 1 (sRGB, IEC 61966-2-1, from memory)."""
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return sum(share * value for share, value in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def _steps(count: int, dark: bool, chroma: float) -> tuple[str, ...]:
    """Colours at equal steps of lightness; chroma grows away from the paper."""
    first, last = _LIGHTNESS[dark]
    parts = [i / (count - 1) for i in range(count)]
    return tuple(_hex(first + (last - first) * p, chroma * (0.35 + 0.65 * p), _HUE) for p in parts)


@lru_cache(maxsize=8192)
def _ems(text: str) -> float:
    return sum(_advance(character) for character in text)


@cache
def _advance(character: str) -> float:
    """Width of a character in ems, by its class."""
    if unicodedata.east_asian_width(character) in "WF":
        return 1.1
    if character in " .,:;'!|ijlI()[]’-ft":
        return 0.34
    if character in "mMW@%—…→":
        return 0.96
    return 0.72 if character.isupper() or character in "w&" else 0.57


def _hex(lightness: float, chroma: float, hue: float) -> str:
    """#rrggbb of a CIE LCh colour under D65; a colour outside sRGB is brought in by lowering its chroma."""
    while max(abs(c - min(max(c, 0), 1)) for c in _srgb(lightness, chroma, hue)) > 1e-6:
        chroma -= 0.5
    return "#" + "".join(f"{round(255 * min(max(c, 0), 1)):02x}" for c in _srgb(lightness, chroma, hue))


def _srgb(lightness: float, chroma: float, hue: float) -> list[float]:
    """sRGB channels of a CIE LCh colour (CIE 15 and IEC 61966-2-1, from memory), outside 0 to 1 where out of gamut."""
    fy = (lightness + 16) / 116
    fs = (fy + chroma * cos(radians(hue)) / 500, fy, fy - chroma * sin(radians(hue)) / 200)
    x, y, z = (
        white * (f**3 if f > 6 / 29 else 3 * (6 / 29) ** 2 * (f - 4 / 29)) for white, f in zip(_D65, fs, strict=True)
    )
    linear = (
        3.2404542 * x - 1.5371385 * y - 0.4985314 * z,
        -0.9692660 * x + 1.8760108 * y + 0.0415560 * z,
        0.0556434 * x - 0.2040259 * y + 1.0572252 * z,
    )
    return [12.92 * c if c <= 0.0031308 else 1.055 * c ** (1 / 2.4) - 0.055 for c in linear]
