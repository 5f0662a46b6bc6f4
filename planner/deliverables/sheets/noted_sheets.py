"""What is there today, as it was noted: words and photographs of rooms and openings beside the walls as planned.
Lengths in inches of paper."""

from base64 import b64encode
from collections.abc import Iterator, Sequence
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import NamedTuple

from PIL import Image

from planner.deliverables import letters
from planner.deliverables.papers import Paper, PaperSize, Stamp
from planner.deliverables.room_notes import Noted, Photograph, best_wall, house_notes
from planner.deliverables.sheets.frame import Frame, frame_of, wall_scales
from planner.deliverables.sheets.sheet import (
    UNDER,
    Drawn,
    Figure,
    Item,
    Sheet,
    Words,
    figure_of,
    line_height,
    lines,
    numbered,
)
from planner.deliverables.sheets.typesetting import pdf
from planner.drawings.elevation import figure
from planner.drawings.scale import Scale
from planner.planning.answer import Plan
from planner.units import counted
from planner.walls.layout import WallLayout

TITLE = "What is there today"

GAP, APART = 0.35, 0.15
"""Plain paper between two pictures side by side, and under each thing [in]."""

HIGHEST, LOWEST = 3.3, 1.9
"""A photograph beside the wall as planned is no higher than this, and one of those that follow in a row [in]."""

IN_A_ROW = 4
"""So many photographs stand in a row."""

SHARPNESS = 1200
"""The longest side of a photograph [px]: some 250 to the inch of the largest."""

MOST_PHOTOGRAPHS = 200
"""So many photographs go on paper; how many more there are is said."""


class Part(NamedTuple):
    """Something that stands on a sheet: what it takes of its height [in], what it is, as at the sheet's top, and
    whether it stays with what comes next."""

    height: float
    items: tuple[Item, ...]
    leads: bool = False


def noted_papers(plan: Plan, stamp: Stamp, size: PaperSize, *, folder: Path) -> Iterator[Paper]:
    """What is noted of the rooms of a plan, as one PDF; none where nothing is.

    Parameters
    ----------
    plan : a plan that exists.
    stamp : what every sheet carries.
    size : of the paper.
    folder : of the house, with its notes.
    """
    rooms = (room.room.name for room in plan.rooms)
    if noted := house_notes(folder, plan.house, rooms, SHARPNESS, MOST_PHOTOGRAPHS):
        frame = frame_of(size)
        sheets = numbered(noted_sheets(plan, noted, frame))
        yield Paper("notes.pdf", TITLE, pdf(sheets, stamp, frame, f"{stamp.house}, {stamp.alternative}: {TITLE}"))


def noted_sheets(plan: Plan, noted: Sequence[Noted], frame: Frame) -> Iterator[Sheet]:
    """The sheets of some notes, one below the other."""
    filled = list(_filled([*_parts(plan, noted, frame.across)], frame.down))
    for page, items in enumerate(filled, 1):
        of_them = f", {page} of {len(filled)}" if len(filled) > 1 else ""
        yield Sheet("N", f"{TITLE}{of_them}", "as noted", tuple(items))


def _filled(parts: Sequence[Part], high: float) -> Iterator[list[Item]]:
    """What stands on each sheet; what leads stays with what it leads."""
    items, y = list[Item](), 0.0
    for at, part in enumerate(parts):
        led = parts[at + 1].height if part.leads and at + 1 < len(parts) else 0.0
        if items and y + part.height + led > high:
            yield items
            items, y = [], 0.0
        items += (replace(item, y=item.y + y) for item in part.items)
        y += part.height
    if items:
        yield items


def _parts(plan: Plan, noted: Sequence[Noted], wide: float) -> Iterator[Part]:
    """Each note: its place, its words, its first photograph beside the wall as planned, and the others in rows."""
    half = (wide - GAP) / 2
    for each in noted:
        title = lines(each.title, wide, "title")
        yield Part(len(title) * line_height("title") + APART / 2, (Words(0.0, 0.0, title, "title", True),), leads=True)
        said = [line for text in each.note.words.split("\n") if text.strip() for line in lines(text, half, "note")]
        yield from (Part(line_height("note"), (Words(0.0, 0.0, (line,)),)) for line in said)
        yield Part(APART / 2, (), leads=True)
        if each.photographs:
            yield _beside(plan, each, each.photographs[0], half)
        for first in range(1, len(each.photographs), IN_A_ROW):
            yield _row(each, each.photographs[first : first + IN_A_ROW], wide)
        yield Part(2 * APART, ())
    yield from _told(noted, wide)


def _beside(plan: Plan, noted: Noted, photograph: Photograph, half: float) -> Part:
    """A photograph, and beside it the wall that it is most likely of, as planned, at a scale that is said."""
    layout = best_wall(plan.walls[noted.note.room], noted.note.opening)
    drawn = {scale: _wall(layout, scale) for scale in wall_scales(layout.unit)}
    scale = next((scale for scale, one in drawn.items() if one.width <= half and one.height <= HIGHEST), [*drawn][-1])
    today, planned = _picture(photograph, half, HIGHEST), drawn[scale]
    said = (f"As planned, {scale.words}",)
    high, at = max(today.height, planned.height), half + GAP
    items = (Drawn(0.0, 0.0, today), Drawn(at, 0.0, planned))
    under = (Words(0.0, high + UNDER, (f"Today, {photograph.name}",), "small"), Words(at, high + UNDER, said, "small"))
    return Part(high + UNDER + line_height("small") + APART, (*items, *under))


def _wall(layout: WallLayout, scale: Scale) -> Figure:
    shapes, box = figure(layout, scale)
    return figure_of(shapes, box, scale)


def _row(noted: Noted, photographs: Sequence[Photograph], wide: float) -> Part:
    """Photographs side by side, each over what it is of and its name."""
    step = (wide + GAP) / IN_A_ROW
    pictures = [_picture(one, step - GAP, LOWEST) for one in photographs]
    high = max(picture.height for picture in pictures)
    items: list[Item] = []
    for at, (one, picture) in enumerate(zip(photographs, pictures, strict=True)):
        name = lines(f"{noted.title}: {one.name}", step - GAP, "small")[:1]
        items += (Drawn(at * step, 0.0, picture), Words(at * step, high + UNDER, name, "small"))
    return Part(high + UNDER + line_height("small") + APART, tuple(items))


def _picture(photograph: Photograph, wide: float, high: float) -> Figure:
    """A photograph as large as finds room [in]."""
    with Image.open(BytesIO(photograph.jpeg)) as image:
        across, down = image.size
    held = b64encode(photograph.jpeg).decode()
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{across}" height="{down}" viewBox="0 0 {across} {down}">'
        f'<image width="{across}" height="{down}" href="data:image/jpeg;base64,{held}"/></svg>\n'
    )
    size = min(wide / across, high / down)
    return Figure(svg, across * size, down * size)


def _told(noted: Sequence[Noted], wide: float) -> Iterator[Part]:
    """What is left out, and which letters have no shape."""
    more = sum(each.left for each in noted)
    said = [f"{counted(more, 'more photograph')} in the folder of notes found no room here."] if more else []
    beyond = {letter for each in noted for letter in each.note.words if not letter.isascii()}
    boxes = letters.shapeless("".join(sorted(beyond)))
    said += (
        [f"Empty boxes stand for {counted(len(boxes), 'letter')} of these words that no font here has."]
        if boxes
        else []
    )
    for line in (line for text in said for line in lines(text, wide, "note")):
        yield Part(line_height("note"), (Words(0.0, 0.0, (line,)),))
