"""A finished Vega-Lite specification as an Altair chart.

The charts are drawn anew at every change of a plan, so their price is felt. They are put together as plain Vega-Lite
and shown as they stand. To say the same in Altair's own words (`alt.Chart(rows).mark_rect().encode(...)`) takes 16 to
89 times as long, from the rows of the plan to the chart's dict; 10 to 55 times where the dict goes out unchecked, as
the apps ask for it; and 6 to 36 times with all of Altair's checks switched off. As the apps ask for it that is 40 to
240 ms more a chart, for the floor plan the most, for sizes and tiers side by side the least, and too much for each:
weights are moved with the importance in view, and sizes are drawn once for each ceiling.

Measured by tests/benchmarks/bench_charts.py for the demo house: the lowest and the highest ratio of all charts in three
runs on a shared machine, each time the best of nine, of the finished charts the best of sixty.
"""

from collections.abc import Iterable
from typing import Any

import altair as alt

from planner.charts.vega_lite import Spec


class FinishedChart(alt.LayerChart):
    """A chart that shows, saves and writes a specification of layers as it was given.

    Its title, and what is `described` beyond that, is its description, which those who hear the page are told. Parts of
    it are replaced by `properties`.
    Altair's other methods that change the whole, e.g. `configure_axis`, give a chart of Altair's own; those that reach
    into layers, e.g. `interactive`, fail, for the layers are no charts.
    Nothing is checked against the schema on the way out; the tests check every chart.
    """

    _specification: Spec
    _described: str

    def __init__(self, specification: Spec, described: str = "") -> None:
        super().__init__()
        words = [_words(specification.get("title", "")), described]
        specification = {"description": ". ".join(filter(None, words)), **specification}
        for name, value in specification.items():
            self[name] = value
        object.__setattr__(self, "_described", described)
        object.__setattr__(self, "_specification", {"$schema": alt.SCHEMA_URL, **specification})

    def properties(self, **parts: Any) -> "FinishedChart":
        """The chart with some parts of its specification replaced, e.g. its title, and with that its description."""
        plain = {k: v.to_dict() if isinstance(v, alt.SchemaBase) else v for k, v in parts.items()}
        anew = {"description"} if "title" in plain else set()
        kept = {name: part for name, part in self._specification.items() if name not in anew}
        return FinishedChart({**kept, **plain}, self._described)

    def copy(self, deep: bool | Iterable[Any] = True, ignore: list[str] | None = None) -> Any:
        """Itself, since it never changes; as Altair's own chart where only a part is copied, which is to change it."""
        if deep is True:
            return self
        return alt.LayerChart.from_dict(self._specification, validate=False)

    def to_dict(self, validate: bool = True, *, format: str = "vega-lite", **options: Any) -> Spec:
        """The specification, made anew; as Vega where `format` asks for it."""
        if format == "vega-lite":
            anew: Spec = _anew(self._specification)
            return anew
        compiled: Spec = self.copy(deep=False).to_dict(format=format, **options)
        return compiled


_PLAIN = {str, float, int, bool, type(None)}


def _anew(part: Any) -> Any:
    """A part of a specification that shares nothing that could be written into."""
    if isinstance(part, dict):
        return {name: inner if type(inner) in _PLAIN else _anew(inner) for name, inner in part.items()}
    if isinstance(part, list | tuple):
        return [inner if type(inner) in _PLAIN else _anew(inner) for inner in part]
    return part


def _words(title: Any) -> str:
    """The words of a title, whose lines are wrapped.

    >>> _words({"text": ["Tier by", "room"], "subtitle": "click a room"})
    'Tier by room. click a room'
    """
    parts = [title.get("text", ""), title.get("subtitle", "")] if isinstance(title, dict) else [title]
    lines = (part if isinstance(part, str) else " ".join(part) for part in parts)
    return ". ".join(line for line in lines if line)
