"""What was typed and is not used yet: it outlives the fields that it was typed into, which are built anew."""

from collections.abc import Callable
from typing import Any


class Typed(dict[str, Any]):
    """What stands in the fields of a page, by field, until it is used.

    >>> typed = Typed()
    >>> typed.into("title")("Plainer upstairs")
    >>> typed.text("title"), typed.text("name")
    ('Plainer upstairs', '')
    """

    def into(self, field: str) -> Callable[[Any], None]:
        """What a field calls with its new value."""
        return lambda written: self.__setitem__(field, written)

    def text(self, field: str) -> str:
        """What stands in a field of text; "" where nothing does."""
        return str(self.get(field) or "")

    def used(self, *fields: str) -> None:
        """What was typed into some fields is in use now, and need not be kept."""
        for field in fields:
            self.pop(field, None)
