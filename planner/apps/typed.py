"""What was typed and is not used yet: it outlives the fields that it was typed into, which are built anew."""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from threading import Lock
from typing import Any

MOST_KEPT = 1_000
"""So many visitors' words are kept from one loading of a page to the next; those not seen for longest go first."""


class Typed(dict[str, Any]):
    """What stands in the fields of a page, by field, until it is used.

    >>> typed = Typed()
    >>> typed.into("title")("Plainer upstairs")
    >>> typed.text("title"), typed.text("name")
    ('Plainer upstairs', '')
    """

    who: str | None = None
    """The name of the person who types, None before any is written; no field, so that a room may have any name."""

    visitor: str = ""
    """The mark of the browser that is typed in, "" where none is known."""

    def into(self, field: str) -> Callable[[Any], None]:
        """What a field calls with its new value."""
        return lambda written: self.__setitem__(field, written)

    def text(self, field: str) -> str:
        """What stands in a field of text; "" where nothing does."""
        return str(self.get(field) or "")

    def waiting(self, used: Mapping[str, str]) -> tuple[str, ...]:
        """The fields, in the order in which they were first typed into, that say something else than is in use.

        >>> Typed(Library="we read", Kitchen="", Hall="as it is").waiting({"Hall": "as it is"})
        ('Library',)
        """
        return tuple(field for field in self if self.text(field).strip() not in ("", used.get(field, "")))

    def used(self, *fields: str) -> None:
        """What was typed into some fields is in use now, and need not be kept."""
        for field in fields:
            self.pop(field, None)


_kept: OrderedDict[tuple[str, ...], Typed] = OrderedDict()
_turn = Lock()


def typed_again(*whose: str) -> Typed:
    """What somebody typed before the page was loaded again, as long as the server runs.

    It is on no disk: whoever has not sent a remark has not said it.
    """
    with _turn:
        typed = _kept.setdefault(whose, Typed())
        _kept.move_to_end(whose)
        while len(_kept) > MOST_KEPT:
            _kept.popitem(last=False)
        return typed
