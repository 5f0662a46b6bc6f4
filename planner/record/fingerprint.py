"""Fingerprints: a short text that is the same wherever a house, an alternative, a stock and a library are the same.

What is hashed is a canonical form of the frozen values, as JSON: of each value its kind, and by name the fields that
say something else than their default, so that a field added later changes no fingerprint; numbers as floats; mappings
in the order of their text; rows of the library's tables as they are. The hash is SHA-256 of the standard library (NIST,
Secure Hash Standard, FIPS 180-4, 2015), cut to 64 bits: enough to tell states of one house apart, and no proof against
somebody who looks for two that agree.
"""

from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from hashlib import sha256
from operator import attrgetter
from typing import TYPE_CHECKING, Any, NamedTuple

import msgspec

from planner.house.model import Existing, Fixture, Flight, House, OwnRate
from planner.intent.model import Intent
from planner.library import Library, standard
from planner.stock.stock import Stock

if TYPE_CHECKING:
    from planner.planning.answer import Plan

DIGITS = 16
"""Hexadecimal digits of a fingerprint."""

EXACT = 2**53
"""Below it every whole number is a float."""

SHOWN = 8
"""So many of them are shown to people."""

WITHOUT: Mapping[type, frozenset[str]] = {
    House: frozenset({"name"}),
    Existing: frozenset({"notes"}),
    Fixture: frozenset({"notes"}),
    Flight: frozenset({"notes"}),
    OwnRate: frozenset({"notes"}),
    Intent: frozenset({"name", "title", "author", "offered"}),
    Stock: frozenset({"doubts"}),
    Library: frozenset({"job"}),
}
"""Fields that change no plan. The notes of a room do: checks look for words in them, such as "radiator"."""


class Fingerprints(NamedTuple):
    """Those of what a plan is made from; "" for a stock that there is none of."""

    house: str
    intent: str
    stock: str
    library: str

    @property
    def whole(self) -> str:
        """That of all four."""
        return _hashed(list(self))


def fingerprint(
    house: House, intent: Intent | None = None, stock: Stock | None = None, library: Library | None = None
) -> str:
    """What a plan is made from, as 16 hexadecimal digits: equal in any process and on any machine, and changed by
    whatever can change the plan.

    Comments, spellings, the order of columns, the names of the house and of the alternative, notes that no check reads,
    and periods that no room is planned in change nothing.

    Parameters
    ----------
    house : as it is planned.
    intent : the alternative; the house's own defaults where None.
    stock : what can be bought, None where there is none.
    library : what the trade knows; the standard one where None.

    Examples
    --------
    >>> from dataclasses import replace
    >>> from planner import demo_house, read_house
    >>> house, _ = read_house(demo_house())
    >>> fingerprint(house) == fingerprint(replace(house, name="Larkmead"))
    True
    >>> fingerprint(house) == fingerprint(replace(house, grade="cottage"))
    False
    """
    return fingerprints(house, intent, stock, library).whole


def fingerprints(
    house: House, intent: Intent | None = None, stock: Stock | None = None, library: Library | None = None
) -> Fingerprints:
    """Those of each of the four values, of the library as far as it is used; the parameters are those of
    `fingerprint`."""
    intent, library = intent or Intent(), library or standard()
    return Fingerprints(
        part(house), part(intent), part(stock) if stock else "", part(_with(library, used_styles(house, intent)))
    )


def used_styles(house: House, intent: Intent) -> frozenset[str]:
    """The periods that a plan is made by: others that the library has change nothing in it."""
    wings = (wing.style for wing in intent.wings)
    return frozenset(name for name in (intent.style or house.style, *wings) if name)


@lru_cache(maxsize=64)
def _with(library: Library, styles: frozenset[str]) -> Library:
    """A library with so much of its periods."""
    return replace(library, styles=tuple(style for style in library.styles if style.name in styles))


def fingerprint_of(planned: "Plan") -> str:
    """That of what a plan is made from."""
    return fingerprint(planned.house, planned.intent, planned.stock, planned.library)


@lru_cache(maxsize=64)
def part(value: House | Intent | Stock | Library) -> str:
    """The fingerprint of one of the four values alone."""
    return _hashed(_plain(value))


def _hashed(plain: object) -> str:
    return sha256(msgspec.json.encode(plain)).hexdigest()[:DIGITS]


def _plain(value: Any) -> Any:
    """The canonical form of a value: texts, numbers and lists of them."""
    kind = type(value)
    if kind is float:
        return value + 0.0  # there is one zero
    if kind is str or value is None or kind is bool:
        return value
    if kind is int:
        return float(value) if abs(value) < EXACT else value
    if kind is tuple:
        return [*map(_plain, value)]
    if told := _told(kind):  # type: ignore[arg-type]  # a class can be hashed
        return [kind.__name__, *told(value)]
    if isinstance(value, msgspec.Struct):
        return msgspec.Raw(_ROWS.encode(value))
    if isinstance(value, Mapping):
        return ["by", *sorted(([_plain(key), _plain(each)] for key, each in value.items()), key=msgspec.json.encode)]
    if isinstance(value, tuple):
        return [kind.__name__, *map(_plain, value)]
    raise TypeError(f"no canonical form of {kind.__name__}")


def _plain_in_row(value: Any) -> Any:
    """What a row of the library's tables holds that JSON has not."""
    if isinstance(value, Mapping):
        return dict(value)
    if isinstance(value, Fraction):
        return str(value)
    raise TypeError(f"no canonical form of {type(value).__name__}")


_ROWS = msgspec.json.Encoder(enc_hook=_plain_in_row, order="deterministic")
"""Rows are read into the types that they name, so that a number is written one way."""


@cache
def _told(kind: type[Any]) -> Callable[[Any], list[Any]] | None:
    """What tells the fields of a kind of value, those that say something, name after name; None where it has none."""
    if not is_dataclass(kind):
        return None
    told_of = [f for f in fields(kind) if f.compare and f.name not in WITHOUT.get(kind, ())]
    names, defaults = [f.name for f in told_of], [f.default for f in told_of]
    said = attrgetter(*names, "__class__")  # of two or more it gives a tuple

    def told(value: Any) -> list[Any]:
        found = list[Any]()
        for name, default, each in zip(names, defaults, said(value), strict=False):
            if each is not default and each != default:
                found += (name, each if type(each) is str else _plain(each))
        return found

    return told
