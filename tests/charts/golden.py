"""Golden charts: the two that show a house at a glance, kept as SVG for whoever reads about the planner first.

`python -m tests.charts.golden` writes them anew. What is compared is what they say and how much of what colour they
show, so that neither the version of what draws them nor the type at hand makes a difference.
"""

from collections import Counter
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import vl_convert

from planner import Plan, charts, demo_house, frames, plan, read_house, read_stock
from planner.charts.finished import FinishedChart

FOLDER = Path(__file__).with_suffix("")
"""Where they are kept."""

WIDTH = 880
"""How wide they are drawn [px]."""

KINDS = ("floor plan", "step-down")


def file(kind: str) -> Path:
    """Where a golden chart is kept."""
    return FOLDER / f"{kind}.svg".replace(" ", "_").replace("-", "_")


def drawn(kind: str) -> str:
    """A golden chart as it is drawn today."""
    svg: str = vl_convert.vegalite_to_svg(_chart(kind).to_dict())
    return svg


def said(document: str) -> Counter[str]:
    """The words of a chart, and the colours that its shapes are filled with, each as often as it is there."""
    nodes = list(ElementTree.fromstring(document).iter())
    words = (node.text or "" for node in nodes if node.tag.endswith("text"))
    return Counter(words) + Counter(node.get("fill", "") for node in nodes if node.tag.endswith("path"))


def _chart(kind: str) -> FinishedChart:
    planned = _planned()
    if kind == "floor plan":
        rooms, openings = frames.rooms(planned), frames.openings(planned)
        return charts.floor_plan(rooms, openings, clicked=False, across=True, width=WIDTH)
    return charts.step_down(frames.step_down([planned]), frames.steps([planned]), width=WIDTH)


@cache
def _planned() -> Plan:
    house, _ = read_house(demo_house())
    return plan(house, stock=read_stock(demo_house(), house.unit))


def write() -> None:
    """Keep all of them as they are drawn today."""
    FOLDER.mkdir(exist_ok=True)
    for kind in KINDS:
        file(kind).write_text(drawn(kind), "utf-8")


if __name__ == "__main__":
    write()
