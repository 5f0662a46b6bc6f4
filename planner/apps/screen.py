"""The screen that a page is on: dark or light, wide or narrow, and that the app works where it takes long."""

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event

import altair as alt
import marimo as mo

from planner.apps import pages

WIDE_CHART, NARROW_CHART = 590, 342
"""Widths of a chart [px] beside another one, and on a narrow screen."""

MOMENT = 0.4
"""What takes longer than this [s] is said to be going on."""


def is_dark() -> bool:
    """Whether the page is shown light on dark."""
    return mo.app_meta().theme == "dark"


def dress(dark: bool) -> mo.Html:
    """The look of a page's pieces and charts, once a page."""
    alt.renderers.set_embed_options(actions=False)
    return pages.show(pages.style(dark))


def watch(turned: mo.Html, narrow: bool) -> mo.Html:
    """A line that is drawn, and so makes `turned`, a mo.lazy in it, true, only on a screen of the other width."""
    return pages.show(pages.element("div", pages.control(turned), pages.Markup("&nbsp;"), class_=_OTHER[narrow]))


_OTHER = {False: "pl-narrow", True: "pl-wide"}


@contextmanager
def working(words: str) -> Iterator[None]:
    """Say, where the cell's output will be, that the app works, if what is done within takes longer than a MOMENT."""
    done = Event()

    def tell() -> None:
        if not done.wait(MOMENT):
            mo.output.replace(mo.status.spinner(title=words))

    teller = mo.Thread(target=tell, daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()
