"""The address of the designer's page, which opens an alternative, a room and a tab, and says them as they change."""

from collections.abc import Callable, Collection, Mapping, MutableMapping, Sequence
from typing import Any

ALTERNATIVE, SESSION, ROOM, TAB = "alternative", "session", "room", "tab"
"""What an address asks for."""


def asked(address: Mapping[str, str | Sequence[str]], field: str) -> str:
    """What an address asks for, "" where it asks for nothing; of several the first.

    >>> asked({"tab": ["Walls", "Checks"]}, TAB), asked({}, ROOM)
    ('Walls', '')
    """
    said = address.get(field) or ""
    return said if isinstance(said, str) else next(iter(said), "")


def asked_among(address: Mapping[str, str | Sequence[str]], field: str, known: Collection[str]) -> str | None:
    """What an address asks for where there is such a thing, else None."""
    return said if (said := asked(address, field)) in known else None


def keeping(address: MutableMapping[str, str], field: str, act: Callable[[Any], object]) -> Callable[[Any], None]:
    """What a control calls with its new value: the address says it, and then it is acted upon."""

    def done(value: Any) -> None:
        address[field] = str(value)
        act(value)

    return done
