"""Notes and photographs as pages show them: what is there today beside what is planned."""

import base64
from collections.abc import Iterable
from pathlib import Path

from planner.apps import pages
from planner.deliverables.room_notes import Noted, Photograph, best_wall, room_notes
from planner.drawings.elevation import elevation
from planner.drawings.scale import largest, scales
from planner.drawings.scene import Scene
from planner.house.model import House
from planner.planning.answer import Plan

LARGE, SMALL = 640, 240
"""Longest sides of a photograph beside a drawing, sharp on finer screens too, and of one in a list [px]."""

BESIDE, DRAWING = 420, 340
"""How long a photograph is shown beside a drawing, and how wide that may be [px]."""


def photograph(shown: Photograph, of: str, longest: int) -> pages.Markup:
    """A photograph in the page itself, no larger than `longest` [px]."""
    address = f"data:image/jpeg;base64,{base64.b64encode(shown.jpeg).decode()}"
    style = f"max-width: min(100%, {longest}px); max-height: {longest}px; height: auto; display: block"
    return pages.element("img", src=address, alt=f"Photograph of {of}: {shown.name}", style=style)


def listed(found: Iterable[Noted], client: bool = False) -> pages.Markup:
    """Notes one below the other, each with its words and small photographs; those that the client is shown are marked,
    where it is not the client who looks."""
    shown = []
    for noted in found:
        mark = [pages.element("span", " · for the client", class_="pl-hint")] if noted.note.for_client else []
        words = [pages.element("p", line) for line in noted.note.words.split("\n") if line.strip()]
        pictures = [photograph(one, noted.title, SMALL) for one in noted.photographs]
        beside = [pages.element("div", *pictures, style=pages.SIDE_BY_SIDE)] if pictures else []
        head = pages.element("h4", noted.title, *([] if client else mark), class_="pl-head")
        shown.append(pages.element("div", head, *words, *beside, class_="pl-noted"))
    return pages.Markup("".join(shown))


def room(folder: Path, house: House, name: str, client: bool = False) -> pages.Markup:
    """What is noted of a room and its openings, for a page that only shows it; blank where nothing is."""
    found = room_notes(folder, house, name, SMALL, client)
    if not found:
        return pages.Markup("")
    title = "What your designer notes" if client else "What is there today"
    return pages.element("section", pages.heading(title), listed(found, client), aria_label=title)


def beside(noted: Noted, planned: Plan, dark: bool) -> pages.Markup:
    """The first photograph of a note beside the drawing of the wall that it is most likely of; blank without one."""
    if not noted.photographs or not planned.feasible:
        return pages.Markup("")
    layout = best_wall(planned.walls[noted.note.room], noted.note.opening)
    both = (
        ("Today", photograph(noted.photographs[0], noted.title, BESIDE)),
        (f"Planned: wall {layout.wall}", pages.drawing(wall(planned, noted), dark)),
    )
    figures = [
        pages.element("figure", pages.element("figcaption", words), shown, style="flex: 1 1 20rem; min-width: 0")
        for words, shown in both
    ]
    return pages.element("div", *figures, style="display: flex; flex-wrap: wrap; gap: 1rem; align-items: start")


def wall(planned: Plan, noted: Noted) -> Scene:
    """The wall that a note is most likely of, without dimensions, as large as stands beside a picture."""
    layout = best_wall(planned.walls[noted.note.room], noted.note.opening)
    scale = largest(scales("walls", layout.unit), lambda scale: layout.length * scale.pixels, DRAWING)
    return elevation(layout, dimensions=False, scale=scale)
