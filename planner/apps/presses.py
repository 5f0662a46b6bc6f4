"""Buttons whose every press counts."""

from collections.abc import Callable
from typing import Any

import marimo as mo


class Steps(mo.ui.button):
    """A button that does a step with each press.

    The framework hands on only the last of what one control was told while the page was at work: here the count of
    presses, so that those between are known.
    """

    def __init__(self, label: str, step: Callable[[], object]):
        self._step, self._counted = step, 0
        super().__init__(label=label, on_click=lambda _: step())

    def _convert_value(self, value: Any) -> Any:
        counted, self._counted = self._counted, int(value)
        presses = self._counted - counted if self._counted > counted else self._counted  # a new page counts anew
        for _ in range(presses - 1):
            self._step()
        return super()._convert_value(value)
