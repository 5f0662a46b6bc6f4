"""What controls are told while the page is at work: every press counts, and for what it was pressed."""

import threading
from collections import deque
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from typing import Any, TypeVar
from uuid import uuid4

import marimo as mo
from marimo._runtime.context import ContextNotInitializedError, get_context

MOST_AT_ONCE = 100
"""No hand presses more often while a page is at work; who says so is not believed."""

STILL_HEARD = 12
"""Of so many builds of controls each is heard while later ones take its place on the page."""

STILL_GIVEN = 4
"""Of so many builds of ways to take something away each still gives it while later ones take its place on the page."""

Built = TypeVar("Built")

_PAGE = threading.local()


class Steps(mo.ui.button):
    """A button that does a step with each press.

    The framework hands on only the last of what one control was told while the page was at work: here the count of
    presses, so that those between are known.
    """

    def __init__(self, label: str, step: Callable[[], object], *, disabled: bool = False):
        self._step, self._counted = step, 0
        super().__init__(label=label, on_click=lambda _: step(), disabled=disabled)

    def _convert_value(self, value: Any) -> Any:
        if not isinstance(value, int):
            return None  # no button says this
        counted, self._counted = self._counted, value
        presses = self._counted - counted if self._counted > counted else self._counted  # a new page counts anew
        for _ in range(min(presses, MOST_AT_ONCE) - 1):
            self._step()
        return super()._convert_value(value)


class Anew:
    """Builds controls anew in the place of others, under names that none has had.

    By itself the framework calls controls by their places in a cell. Then what was told to one of them while the page
    was at work would reach the one that has taken its place, and an answer would be kept of another room than that on
    show. Here the controls that stood there before hear it themselves.
    """

    def __init__(self, still_heard: int = STILL_HEARD) -> None:
        self._heard = deque[object](maxlen=still_heard)

    def __call__(self, build: Callable[[], Built]) -> Built:
        """What is built; within, controls are made."""
        with _named(uuid4().hex):
            built = build()
        self._heard.append(built)
        return built


def lingering(build: Callable[[], Built]) -> Built:
    """What is built, of which a page still has what it asks for when another build has just taken its place.

    By itself the framework forgets a control as soon as its cell runs again: a file that was asked for while the page
    was at work never came. Every page has a thread of its own, which keeps what was built in it last.
    """
    if not hasattr(_PAGE, "lately"):
        _PAGE.lately = Anew(STILL_GIVEN)
    built: Built = _PAGE.lately(build)
    return built


def _named(prefix: str) -> AbstractContextManager[None]:
    """Within, the names of controls begin like this; outside of a page they have none."""
    try:
        return get_context().provide_ui_ids(prefix)
    except ContextNotInitializedError:
        return nullcontext()
