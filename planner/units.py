"""Lengths at the border: read in every usual spelling, written in feet and inches or in millimetres.

Inside the planner a length is a float in inches. Nothing but this module converts.
"""

import re
import unicodedata
from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache
from math import floor, gcd, isfinite
from typing import Literal

Unit = Literal["in", "ft", "mm", "cm", "m"]

INCHES_IN = {"in": 1.0, "ft": 12.0, "mm": 1 / 25.4, "cm": 10 / 25.4, "m": 1000 / 25.4}
"""Inches in one of each unit; the inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

METRIC = ("mm", "cm", "m")
"""Units of a house that is drawn, shown and edited in millimetres; any other is in feet and inches."""

MEASURE = re.compile(r"(?<=\d) (?=\d+/\d|(?:mm|in|ft)\b)")
"""The blank within a measure, at which no line is broken."""

_MILLIMETRES = {"mm": 1, "cm": 10, "m": 1000}

_SPELLINGS = {
    "in": ("in", "inch", "inches", '"'),
    "ft": ("ft", "foot", "feet", "'"),
    "mm": ("mm", "millimeter", "millimeters", "millimetre", "millimetres"),
    "cm": ("cm", "centimeter", "centimeters", "centimetre", "centimetres"),
    "m": ("m", "meter", "meters", "metre", "metres"),
}
_UNIT_OF = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings}

_PLAIN = str.maketrans(
    dict.fromkeys("’‘‛´`ʹʼ′＇", "'")
    | dict.fromkeys("”“‟ʺ″＂", '"')
    | dict.fromkeys("‐‑‒–—−﹣－", "-")
    | {"⁄": "/", "∕": "/"}
)

_AMOUNT = r"(?:(?:(?P<whole>[0-9]+)[ -]+)?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)|(?P<number>[0-9]+\.?[0-9]*|\.[0-9]+))"
_FEET_AND_INCHES = re.compile(rf"(?P<feet>[0-9]+) ?(?:'|ft\.?|feet|foot)[ -]*{_AMOUNT} ?(?:\"|in\.?|inch|inches)?")
_ONE_AMOUNT = re.compile(rf"{_AMOUNT} ?(?:(?P<unit>[a-z]+|'|\")\.?)?")

_LONGEST = 60
"""A spelled length has no more characters than this."""

_FARTHEST = 1e6
"""No length in a house reaches this [in]; sixteen miles."""


def as_unit(name: str) -> Unit:
    """A unit by its name. Raises ValueError for one that there is not.

    >>> as_unit("mm")
    'mm'
    """
    units: tuple[Unit, ...] = ("in", "ft", "mm", "cm", "m")
    return units[units.index(name)]


class LengthError(ValueError):
    """A text that is not a length. `message` says what is wrong with it, `remedy` what would be right."""

    def __init__(self, message: str, remedy: str):
        super().__init__(f"{message}; {remedy}")
        self.message = message
        self.remedy = remedy


def is_one_line(text: str) -> bool:
    """Whether a text has neither line breaks nor control characters; blanks and joiners of any script are none."""
    return len(text.splitlines()) <= 1 and all(c.isprintable() or unicodedata.category(c) in ("Zs", "Cf") for c in text)


def quoted(text: str, longest: int = 60) -> str:
    """Text in quotes for a message: one line, without control characters, cut where it is too long."""
    shown = "".join(c if c.isprintable() else " " for c in text[: longest + 1])
    return f'"{shown[:longest]}…"' if len(shown) > longest else f'"{shown}"'


def in_one_line(text: str, longest: int) -> str:
    """A text in one line, cut where it is longer than so many characters.

    >>> in_one_line("Dining\\nRoom", 20), in_one_line("Dining Room", 7)
    ('Dining Room', 'Dining…')
    """
    line = " ".join(text.split())
    return line if len(line) <= longest else f"{line[: longest - 1]}…"


def counted(number: int, thing: str) -> str:
    """So many of a thing.

    >>> counted(1, "level"), counted(2, "level")
    ('1 level', '2 levels')
    """
    return f"{number} {thing}{'' if number == 1 else 's'}"


def listed(words: Sequence[str]) -> str:
    """Words as a list in a sentence.

    >>> listed(["base", "casing", "crown"]), listed(["base"])
    ('base, casing and crown', 'base')
    """
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


@lru_cache(maxsize=4096)
def parse_length(text: str, unit: Unit = "in") -> float:
    """Read a length.

    Parameters
    ----------
    text : a length as people write it; feet and inches, or one number with or without its unit. Decimals take a
        point; a comma is refused, because it parts decimals for some and thousands for others.
    unit : the unit of a bare number: in, ft, mm, cm or m.

    Returns
    -------
    The length [in], zero or more.

    Raises
    ------
    LengthError : the text is not a length; the error says what would be right.

    Examples
    --------
    >>> parse_length("5'-6 1/2\\""), parse_length("66½"), parse_length("5.5 ft")
    (66.5, 66.5, 66.0)
    >>> parse_length("2540", unit="mm")
    100.0
    """
    text = str(text)
    plain = _plain(text)
    if not plain or len(plain) > _LONGEST:
        raise _not_a_length(text, unit)
    if "," in plain:
        raise LengthError(f"{quoted(text)} has a comma", "write decimals with a point and thousands without a mark")
    if plain.startswith("-"):
        raise LengthError(f"{quoted(text)} is negative", f"write a length of zero or more, e.g. {_examples(unit)}")
    if both := _FEET_AND_INCHES.fullmatch(plain):
        inches = int(both["feet"]) * 12 + _amount(both, text, unit)
    elif (one := _ONE_AMOUNT.fullmatch(plain)) and (one["unit"] or unit) in _UNIT_OF:
        inches = _in_inches(_amount(one, text, unit), _UNIT_OF[one["unit"] or unit])
    else:
        raise _not_a_length(text, unit)
    if inches >= _FARTHEST:
        raise LengthError(f"{quoted(text)} is too large", f"write a length in a house, e.g. {_examples(unit)}")
    return inches


def format_length(inches: float, unit: Unit) -> str:
    """A length to show [in], in a house of that unit: feet and inches to the nearest 1/16, or whole millimetres.

    >>> [format_length(length, "in") for length in (66.5, 71.99, 84.25, 4.75)], format_length(66.5, "m")
    (['5\\'-6 1/2"', '6\\'-0"', '7\\'-0 1/4"', '4 3/4"'], '1689 mm')
    """
    return _millimetres(inches) if unit in METRIC else _feet_and_inches(inches)


def format_size(inches: float, unit: Unit) -> str:
    """A size of trim to show [in], in a house of that unit: inches alone to the nearest 1/16, or whole millimetres.

    >>> format_size(4.75, "ft"), format_size(25.26, "in"), format_size(4.75, "mm")
    ('4 3/4"', '25 1/4"', '121 mm')
    """
    return _millimetres(inches) if unit in METRIC else _inches_alone(inches)


def format_area(square_inches: float, unit: Unit) -> str:
    """An area to show [sq in], in a house of that unit: square feet to a tenth, or square metres to a hundredth.

    >>> format_area(820.8, "in"), format_area(820.8, "mm")
    ('5.7 sq ft', '0.53 m²')
    """
    if unit in METRIC:
        return f"{square_inches / INCHES_IN['m'] ** 2:.2f} m²"
    return f"{square_inches / INCHES_IN['ft'] ** 2:.1f} sq ft"


def grain(unit: Unit) -> float:
    """The least difference between lengths [in] that is shown in a house of that unit: a sixteenth, or a millimetre.

    >>> grain("in"), round(grain("mm") * 25.4, 9)
    (0.0625, 1.0)
    """
    return INCHES_IN["mm"] if unit in METRIC else 1 / 16


def section_unit(unit: Unit) -> Unit:
    """The unit of a bare number that says a size of trim, in a house of that unit: inches, or millimetres.

    >>> section_unit("ft"), section_unit("m")
    ('in', 'mm')
    """
    return "mm" if unit in METRIC else "in"


def running_unit(unit: Unit) -> Unit:
    """The unit that mouldings are sold by, in a house of that unit: feet, or metres.

    >>> running_unit("in"), running_unit("mm")
    ('ft', 'm')
    """
    return "m" if unit in METRIC else "ft"


PER = {"ft": "a foot", "m": "a metre"}
"""How the price of so much is told, by the unit that mouldings are sold by."""


def spell_length(inches: float, unit: Unit = "in") -> str:
    """The plainest spelling that `parse_length` reads back as exactly the same length, for files.

    >>> print(spell_length(66.5), spell_length(0.1), spell_length(100, "mm"), sep=", ")
    5'-6 1/2", 0.1 in, 2540 mm
    """
    if unit not in METRIC and isfinite(inches) and _reads_as(shown := format_length(inches, unit), unit, inches):
        return shown
    number = spell_number(inches, unit)
    return number if number.endswith("in") else f"{number} {unit}"


def spell_number(inches: float, unit: Unit = "in") -> str:
    """The shortest bare number of `unit` that reads back as exactly the same length; with `in` where there is none.

    >>> spell_number(66.5), spell_number(66.5, "ft"), spell_number(100, "mm")
    ('66.5', '5.541666666666667', '2540')
    """
    if not isfinite(inches):
        return f"{inches}in"
    amount = inches / INCHES_IN[unit]
    spellings = (f"{amount:.{places}f}" for places in range(18))
    return next((s for s in spellings if _reads_as(s, unit, inches)), f"{Decimal(repr(float(inches))):f}in")


def _reads_as(text: str, unit: Unit, inches: float) -> bool:
    try:
        return parse_length(text, unit) == inches
    except LengthError:
        return False


def _examples(unit: Unit) -> str:
    return "1689 mm or 1.689 m" if unit in METRIC else "5'-6 1/2\" or 66 1/2 in"


def _not_a_length(text: str, unit: Unit) -> LengthError:
    what = f"{quoted(text)} is not a length" if text.strip() else "a length is missing"
    return LengthError(what, f"write e.g. {_examples(unit)}")


def _plain(text: str) -> str:
    """The text in the few characters that the patterns know: ASCII marks, single blanks, `1/2` for `½`."""
    if len(text) > 4 * _LONGEST:
        return text
    spread = "".join(_vulgar(c) or c for c in text.translate(_PLAIN)).translate(_PLAIN)
    return " ".join(spread.replace("''", '"').lower().split())


def _vulgar(character: str) -> str:
    """` 1/2` for `½`, nothing for any other character."""
    one = unicodedata.decomposition(character).startswith("<fraction>")
    return f" {unicodedata.normalize('NFKC', character)}" if one else ""


def _amount(match: re.Match[str], text: str, unit: Unit) -> float:
    """The number that an _AMOUNT pattern found."""
    if match["number"]:
        return float(match["number"])
    if not int(match["bottom"]):
        raise LengthError(f"{quoted(text)} divides by zero", f"write e.g. {_examples(unit)}")
    return int(match["whole"] or 0) + int(match["top"]) / int(match["bottom"])


def _in_inches(amount: float, unit: str) -> float:
    """An amount of a unit [in]; metric amounts are divided by 25.4 so that 25.4 mm is 1 in to the last bit."""
    if unit in METRIC:
        return amount * _MILLIMETRES[unit] / 25.4
    return amount * INCHES_IN[unit]


@lru_cache(maxsize=4096)
def _feet_and_inches(inches: float) -> str:
    sign, sixteenths = _sixteenths(inches)
    feet, rest = divmod(sixteenths, 12 * 16)
    if not feet:
        return f"{sign}{_inches(rest)}"
    return f"{sign}{feet}'-{'0 ' if 0 < rest < 16 else ''}{_inches(rest)}"


@lru_cache(maxsize=4096)
def _inches_alone(inches: float) -> str:
    sign, sixteenths = _sixteenths(inches)
    return sign + _inches(sixteenths)


@lru_cache(maxsize=4096)
def _millimetres(inches: float) -> str:
    """Whole millimetres, halves away from zero as in sixteenths."""
    count = floor(abs(inches) * 25.4 + 0.5)
    return f"{'-' if inches < 0 and count else ''}{count} mm"


def _sixteenths(inches: float) -> tuple[str, int]:
    """Sign and whole sixteenths of an inch, halves rounded up."""
    count = floor(abs(inches) * 16 + 0.5)
    return ("-" if inches < 0 and count else ""), count


def _inches(sixteenths: int) -> str:
    whole, part = divmod(sixteenths, 16)
    if not part:
        return f'{whole}"'
    shared = gcd(part, 16)
    fraction = f"{part // shared}/{16 // shared}"
    return f'{whole} {fraction}"' if whole else f'{fraction}"'
