"""Lengths: read in every usual spelling, kept in inches, written in feet-inches to a sixteenth or in millimetres."""

import re
from fractions import Fraction
from math import isfinite
from typing import Literal

Unit = Literal["in", "ft", "mm", "cm", "m"]

INCHES_IN: dict[str, float] = {"in": 1.0, "ft": 12.0, "mm": 1 / 25.4, "cm": 1 / 2.54, "m": 1000 / 25.4}
"""Inches in one of each unit."""

METRIC = ("mm", "cm", "m")

SIXTEENTH = Fraction(1, 16)

_EXAMPLES = """write e.g. 5'-6 1/2", 66 1/2 in, 5.54 ft or 1689 mm"""

_SPELLINGS = {
    **dict.fromkeys("′’‘´`ʹ", "'"),
    **dict.fromkeys("″”“ʺ", '"'),
    **dict.fromkeys("\u00a0\u2007\u2009\u202f", " "),
    **dict.fromkeys("‐‑–—−", "-"),
    "⁄": "/",
    "×": "x",
}
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3",
    "⅙": "1/6", "⅚": "5/6", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
}  # fmt: skip
_NAMES = {
    "in": "in", "inch": "in", "inches": "in", '"': "in", "''": "in",
    "ft": "ft", "foot": "ft", "feet": "ft", "'": "ft",
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
}  # fmt: skip
_NUMBER = r"(?:\d+(?:\.\d*)?|\.\d+)"
_AMOUNT = rf"(?:\d+[ -]+\d+/\d+|\d+/\d+|{_NUMBER})"
_ONE = re.compile(rf"({_AMOUNT})\s*([a-z]+|'{{1,2}}|\")?\.?")
_FEET_INCHES = re.compile(rf"({_NUMBER})\s*(?:'|ft\.?|feet|foot)\s*-?\s*({_AMOUNT})\s*(?:\"|''|in\.?|inch|inches)?")


class LengthError(ValueError):
    """Text that is not a length; the message says what would be right."""


def parse_length(text: str, unit: Unit = "in") -> float:
    """A length [in] from text; a bare number is read in `unit`.

    Raises
    ------
    LengthError : where the text is not a length of zero or more.

    >>> parse_length("5'-6 1/2\\""), parse_length("66½"), parse_length("1689 mm") == 1689 / 25.4
    (66.5, 66.5, True)
    """
    plain = "".join(_SPELLINGS.get(c, c) for c in str(text))
    plain = "".join(f" {_VULGAR[c]}" if c in _VULGAR else c for c in plain)
    plain = " ".join(plain.lower().split())
    shown = f'"{text if len(str(text)) <= 40 else str(text)[:39] + "…"}"'
    if not plain:
        raise LengthError(f"there is no length; {_EXAMPLES}")
    if "," in plain:
        raise LengthError(f"{shown} has a comma; write decimals with a point, and {_EXAMPLES}")
    if plain.startswith("-"):
        raise LengthError(f"{shown} is negative; {_EXAMPLES}")
    try:
        if both := _FEET_INCHES.fullmatch(plain):
            inches = _amount(both[1]) * 12 + _amount(both[2])
        elif (one := _ONE.fullmatch(plain)) and (one[2] is None or one[2] in _NAMES):
            inches = _amount(one[1]) * INCHES_IN[_NAMES[one[2]] if one[2] else unit]
        else:
            raise LengthError(f"{shown} is not a length; {_EXAMPLES}")
    except ZeroDivisionError:
        raise LengthError(f"{shown} divides by zero; {_EXAMPLES}") from None
    if not isfinite(inches):
        raise LengthError(f"{shown} is too large to be a length; {_EXAMPLES}")
    return inches


def _amount(text: str) -> float:
    *whole, last = re.split(r"[ -]+", text)
    if "/" in last:
        return float(int(whole[0]) if whole else 0) + float(Fraction(last))
    return float(last)


def format_length(inches: float, unit: Unit = "in") -> str:
    """A length as feet and inches to the nearest sixteenth, or as whole millimetres where `unit` is metric.

    >>> format_length(66.5), format_length(120), format_length(11.99), format_length(66.5, "mm")
    ('5\\'-6 1/2"', '10\\'-0"', '1\\'-0"', '1689 mm')
    """
    if unit in METRIC:
        return f"{round(inches * 25.4)} mm"
    sign, sixteenths = _sixteenths(inches)
    feet, rest = divmod(sixteenths, 12 * 16)
    return f"{sign}{feet}'-{_inches(rest)}" if feet else f"{sign}{_inches(rest)}"


def format_size(inches: float, unit: Unit = "in") -> str:
    """A size of trim in inches only, or millimetres.

    >>> format_size(18.94), format_size(0.75), format_size(4)
    ('18 15/16"', '3/4"', '4"')
    """
    if unit in METRIC:
        return f"{round(inches * 25.4)} mm"
    sign, sixteenths = _sixteenths(inches)
    return sign + _inches(sixteenths)


def _sixteenths(inches: float) -> tuple[str, int]:
    count = int(abs(inches) * 16 + 0.5)
    return ("-" if inches < 0 and count else ""), count


def _inches(sixteenths: int) -> str:
    whole, rest = divmod(sixteenths, 16)
    part = str(Fraction(rest, 16)) if rest else ""
    return " ".join(piece for piece in (str(whole) if whole or not part else "", part) if piece) + '"'
