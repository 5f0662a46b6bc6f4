"""The screen that a page is on: dark or light, wide or narrow, and that the app works where it takes long."""

import asyncio
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from threading import Event

import altair as alt
import marimo as mo
from marimo._runtime.context import ContextNotInitializedError, get_context

from planner.apps import pages
from planner.apps.presses import Anew

WIDE_CHART, NARROW_CHART = 590, 342
"""Widths of a chart [px] beside another one, and on a narrow screen."""

PAGES = {WIDE_CHART: 720, NARROW_CHART: 342}
"""How wide a page is for a drawing [px], by the width of its charts."""

MOMENT = 0.4
"""What takes longer than this [s] is said to be going on."""

REST = 0.1
"""How long nothing new must have been asked for before the page is brought up to date beyond its charts [s]."""


def is_dark() -> bool:
    """Whether the page is shown light on dark."""
    return mo.app_meta().theme == "dark"


def dress(dark: bool) -> mo.Html:
    """The look of a page's pieces and charts, once a page."""
    alt.renderers.set_embed_options(actions=False)
    return pages.show(pages.style(dark))


def watch(narrow: mo.Html) -> mo.Html:
    """A line that is drawn, and so makes `narrow`, a mo.lazy in it, true, only on a narrow screen.

    A page that was narrow once stays so until it is loaded again.
    """
    return pages.show(pages.element("div", pages.control(narrow), pages.Markup("&nbsp;"), class_="pl-narrow"))


def page(width: int) -> int:
    """How wide a page is for a drawing [px], from the width of its charts [px]."""
    return PAGES.get(width, width)


def tabs(names: Sequence[str], first: str, told: Callable[[str], None], width: int) -> mo.ui.tabs | mo.ui.dropdown:
    """Tabs, the `first` open; a narrow screen has a list of them instead, under a name of its own: what takes the place
    of tabs under their name may show another than it says.
    """
    if width == NARROW_CHART:
        return Anew()(lambda: mo.ui.dropdown(names, value=first, label="Show", on_change=told))
    return mo.ui.tabs(dict.fromkeys(names, ""), value=first, on_change=told)


@contextmanager
def working(words: str) -> Iterator[None]:
    """Say, where the cell's output will be, that the app works, if what is done within takes longer than a MOMENT.

    What a page does between its cells, as when it follows others, has no output.
    """
    done, told, has_output = Event(), Event(), _has_output()

    def tell() -> None:
        if not done.wait(MOMENT) and has_output:
            mo.output.replace(mo.status.spinner(title=words))
            told.set()

    teller = mo.Thread(target=tell, daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()
        if told.is_set():
            mo.output.clear()


def _has_output() -> bool:
    """Whether a cell runs, or no page is open."""
    try:
        return get_context().execution_context is not None
    except ContextNotInitializedError:
        return True


class Afterwards:
    """Does what it was asked for last when nothing new has been asked for a while, and the first thing at once.

    So the charts keep up with a slider that is being moved, and all else follows when it rests.
    """

    def __init__(self) -> None:
        self._waiting: asyncio.TimerHandle | None = None
        self._begun = False

    def do(self, act: Callable[[], None]) -> None:
        """Do `act` afterwards, instead of what is still waiting."""
        if self._waiting:
            self._waiting.cancel()
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:  # run as a script, where nothing comes afterwards
            self._begun = False
        if self._begun:
            self._waiting = loop.call_later(REST, act)
        else:
            self._begun = True
            act()
