"""The sessions of an app: whose each is, and that they do not grow without bound."""

import time
from collections.abc import Callable
from dataclasses import dataclass

MOST = 240
"""Sessions of one app at a time; each holds a plan of its own."""

LASTING = 60
"""Seconds that a session lasts without its page, so that a page whose connection broke finds it again."""


@dataclass
class _Session:
    visitor: str
    pages: int = 0
    left: float = 0.0


class Sessions:
    """The sessions of one app, each of one visitor.

    Parameters
    ----------
    most : how many there may be at a time.
    now : the clock [s].
    """

    def __init__(self, most: int = MOST, now: Callable[[], float] = time.monotonic):
        self._most, self._now = most, now
        self._known: dict[str, _Session] = {}

    @property
    def full(self) -> bool:
        """Whether there is no room for another one."""
        over = self._now() - LASTING
        self._known = {name: s for name, s in self._known.items() if s.pages or s.left > over}
        return len(self._known) >= self._most

    def owns(self, name: str, visitor: str) -> bool:
        """Whether a session is this visitor's."""
        return name in self._known and self._known[name].visitor == visitor

    def has_page(self, name: str) -> bool:
        """Whether a page is open on a session, and not only waited for."""
        return name in self._known and self._known[name].pages > 0

    def admits(self, name: str, visitor: str) -> bool:
        """Whether this visitor's page may take a session up, old or new."""
        return self.owns(name, visitor) or (bool(name) and name not in self._known and not self.full)

    def enter(self, name: str, visitor: str) -> None:
        """A page takes a session up."""
        self._known.setdefault(name, _Session(visitor)).pages += 1

    def leave(self, name: str) -> None:
        """A page has left its session."""
        self._known[name].pages -= 1
        self._known[name].left = self._now()
