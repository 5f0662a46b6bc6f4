"""Tables to take away from a page: as CSV, as a workbook, or copied."""

from collections.abc import Callable, Mapping
from html import escape

import marimo as mo
import pandas as pd

from planner.apps import pages
from planner.apps.presses import lingering
from planner.deliverables.table_files import csv_bytes, pasted, xlsx_bytes
from planner.files.names import file_name
from planner.planning.answer import Plan
from planner.record.decisions import AS_IT_STANDS

CSV = "text/csv"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

TITLE = "flex: 0 0 min(100%, 16rem)"
LINES = "list-style: none; padding: 0; margin: .3rem 0; display: grid; gap: .5rem"

SEEN = """<style>.codehilite-wrapper > :last-child { opacity: 1; }
.codehilite { padding-right: 3rem; max-width: min(36rem, 78vw); }
.codehilite pre { max-height: 7rem; overflow: auto; font-size: .8rem; }</style>"""
"""The framework shows its button that copies to a mouse alone."""

Make = Callable[[], pd.DataFrame]
"""Makes a table when it is asked for."""


def named(planned: Plan, *shown: str, ending: str) -> str:
    """What a file that leaves a page is called: after the house, the alternative and what it shows."""
    title = planned.intent.title or planned.intent.name or AS_IT_STANDS
    return file_name([planned.house.name, title, *shown], ending)


def ways(tables: Mapping[str, Make], name: Callable[[str, str], str]) -> pages.Held:
    """Folded away, each table by its title with the ways to take it; it is made when one of them is taken.

    `name` gives a file's name from a title and an ending.
    """
    controls = lingering(lambda: [_ways(title, make, name) for title, make in tables.items()])
    lines = [
        pages.element(
            "li", pages.element("span", title, style=TITLE), *map(pages.control, three), style=pages.SIDE_BY_SIDE
        )
        for title, three in zip(tables, controls, strict=True)
    ]
    fold = pages.element("summary", "Copy or download the tables"), pages.element("ul", *lines, style=LINES)
    shown = pages.show(pages.element("details", *fold, class_="pl-take"))
    return pages.Held(shown, *(control for three in controls for control in three))


def _ways(title: str, make: Make, name: Callable[[str, str], str]) -> tuple[object, ...]:
    return (
        mo.download(lambda: csv_bytes(make()), name(title, ".csv"), CSV, label="CSV"),
        mo.download(lambda: xlsx_bytes(make(), title), name(title, ".xlsx"), XLSX, label="XLSX"),
        mo.Html(f"<details><summary>Copy</summary>{mo.lazy(lambda: to_copy(make())).text}</details>"),
    )


def to_copy(table: pd.DataFrame) -> mo.Html:
    """A table as text with the framework's own button that copies it, so that no script of ours is needed."""
    return mo.Html(f'{SEEN}<div class="codehilite"><pre>{escape(pasted(table))}</pre></div>')
