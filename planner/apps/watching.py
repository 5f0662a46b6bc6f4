"""What others change in a house folder while a page is open."""

import asyncio
import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from itertools import islice
from pathlib import Path
from time import monotonic

from planner.intent.drafts import DRAFT

EVERY = 0.5
"""A page looks for what others have changed so often [s], and acts when it has found the same twice, so that nothing is
read while it is being written: that and one plan after it are seen within two seconds."""

MOST_FILES = 5_000
"""Of a folder with more files than these only so many are looked at."""

FOLDERS_DEEP = 2
"""How far below the house's folder there is something that people share."""

Traces = frozenset[tuple[str, int, int]]
"""Of every file its path, when it was changed [ns], and its size [bytes]."""


def traces(folder: Path) -> Traces:
    """What tells whether something that people share in a house folder has changed: no drafts, and nothing hidden."""
    return frozenset(islice(_traces(os.fspath(folder), FOLDERS_DEEP), MOST_FILES))


def _traces(folder: str, deep: int) -> Iterator[tuple[str, int, int]]:
    try:
        with os.scandir(folder) as found:
            for entry in found:
                if entry.name.startswith(".") or f"{DRAFT}." in entry.name:
                    continue
                if not entry.is_dir(follow_symlinks=False):
                    seen = entry.stat(follow_symlinks=False)
                    yield entry.path, seen.st_mtime_ns, seen.st_size
                elif deep:
                    yield from _traces(entry.path, deep - 1)
    except OSError:  # what cannot be read is told where it is read
        return


_last: dict[Path, tuple[float, Traces]] = {}


def _shared_traces(folder: Path) -> Traces:
    """The traces of a folder, looked for once however many pages ask at the same moment."""
    looked, found = _last.get(folder, (-EVERY, frozenset()))
    if monotonic() - looked > EVERY / 4:
        _last[folder] = looked, found = monotonic(), traces(folder)
    return found


class Watch:
    """Does what it was asked for last when something that people share in a house folder has changed, while the page
    is open.

    It is done between what the page itself has to do, and never while it does that. Where no page is open, as in a
    script, nothing is watched. What changes while `has_page` says that the page is closed waits until it is back: pages
    that nobody looks at hold up no others.
    """

    def __init__(self, folder: Path, has_page: Callable[[], bool] = lambda: True):
        self._folder, self._seen, self._has_page = folder, traces(folder), has_page
        self._found = self._seen
        self._act: Callable[[], object] = lambda: None
        self._whole, self._missed = True, False
        self._again()

    def do(self, act: Callable[[], object], *, whole: bool = True) -> None:
        """Do `act` from now on, instead of what was asked for before.

        An act that is not the `whole` of what has to be done is for a page that cannot show more; the next whole one
        is done for what has changed meanwhile too.
        """
        if whole and self._missed:
            self._seen, self._missed = frozenset(), False
        self._act, self._whole = act, whole

    def _again(self) -> None:
        with suppress(RuntimeError):  # no page is open
            asyncio.get_running_loop().call_later(EVERY, self._look)

    def _look(self) -> None:
        before, self._found = self._found, _shared_traces(self._folder)
        try:
            if self._seen != self._found == before and self._has_page():
                self._seen, self._missed = self._found, not self._whole
                self._act()
        finally:
            self._again()
