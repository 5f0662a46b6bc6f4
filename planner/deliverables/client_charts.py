"""The charts of a plan for clients: as SVG made ahead, without tiers' names, signs or figures that only designers read,
and where each room is on the floor plan, so that it can be clicked and be shown as it would become.
"""

import re
from collections.abc import Iterator, Mapping
from math import pi, sqrt
from typing import NamedTuple, cast

import pandas as pd

from planner.charts import step_down_words
from planner.charts.finished import FinishedChart
from planner.charts.house_map import house_map
from planner.charts.room_labels import Floor, Label, coded, placed, words_of
from planner.charts.rooms import HINT, PICK_LAYER, RoomRow, room_rows
from planner.charts.step_down import step_down, step_down_places
from planner.charts.vega_lite import Datum, Spec, records
from planner.house.model import Point
from planner.planning import frames
from planner.planning.answer import Plan

BESIDE = 600
"""From this width on [px] the levels of a house stand side by side."""

_AT = re.compile(r'<g [^>]*transform="translate\(([-\d.]+),([-\d.]+)\)"')
_SIZE = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
_HEARD = re.compile(r' (?:aria-[a-z]+|role)="[^"]*"')


class Drawn(NamedTuple):
    """A chart on light paper and on dark, as SVG, so wide and high [px]."""

    light: str
    dark: str
    width: float
    height: float


class Clickable(NamedTuple):
    """A floor plan, and on it the outline of each room that is drawn [px]."""

    drawn: Drawn
    outlines: Mapping[str, tuple[Point, ...]]


def client_map(planned: Plan, width: int) -> Clickable:
    """The house with how rich each room is, the levels side by side where there is `width` [px] for that."""
    rooms, passages, openings = _plainly(frames.rooms(planned)), frames.passages(planned), frames.openings(planned)
    across = True if width >= BESIDE else None
    light, dark = (
        _alone(house_map(rooms, passages, openings, dark=on, width=width, across=across)) for on in (False, True)
    )
    drawn, (left, top) = _drawn(light, dark)
    (picked,) = (layer["data"]["values"] for layer in light["layer"] if layer.get("name") == PICK_LAYER)
    outlines = {row["properties"]["room"]: tuple((x + left, y + top) for x, y in _outline(row)) for row in picked}
    return Clickable(drawn, outlines)


class Course(NamedTuple):
    """A step-down, how it is read, the box of each room in it (left, top, right, bottom), and the middle of the row of
    each tier [px]."""

    drawn: Drawn
    reading: str
    boxes: Mapping[str, tuple[float, float, float, float]]
    rows: Mapping[int, float]


def client_step_down(planned: Plan, width: int) -> Course:
    """How the house gets plainer from the front door on, without the signs of steps."""
    rooms, steps = frames.step_down([planned]), frames.steps([planned])
    charts = [step_down(rooms, steps, plainly=True, dark=on, width=width) for on in (False, True)]
    reading = "The higher a room stands, the richer it is; lines lead from room to room."
    if step_down_words.HIDDEN in " ".join(charts[0].to_dict()["title"].get("subtitle", ())):
        reading += " A number with a plus stands for that many more rooms."
    drawn, (left, top) = _drawn(*map(_alone, charts))
    found = step_down_places(rooms, steps, plainly=True, width=width)
    boxes = {
        room: (box.x + left, box.y + top, box.x2 + left, box.y2 + top) for box in found.panels[0] for room in box.rooms
    }
    return Course(drawn, reading, boxes, {tier: (y + y2) / 2 + top for tier, (y, y2) in found.rows.items()})


def client_course(planned: Plan) -> str:
    """How the house goes from the front door to the bedrooms, in a sentence."""
    rows = cast("list[step_down_words.RoomRow]", records(frames.step_down([planned])))
    return f"{planned.house.name} {step_down_words.course(rows, plainly=True)}"


def moved_labels(
    planned: Plan, moved: Mapping[str, set[int]], outlines: Mapping[str, tuple[Point, ...]]
) -> Iterator[tuple[str, int, Label]]:
    """What is written in rooms on the plan when they have one of other tiers: the room, the tier, the label."""
    for row in room_rows(frames.rooms(planned)):
        for tier in sorted(moved.get(row["room"], ()) if row["room"] in outlines else ()):
            changed = cast("RoomRow", {**row, "tier": tier, "tier_name": ""})
            words, floor = words_of(changed, row["tier"]), Floor(outlines[row["room"]], ())
            label = placed(words, floor) or coded(words, "", floor)
            if label is not None:
                yield row["room"], tier, label


def _plainly(rows: pd.DataFrame) -> pd.DataFrame:
    """Rows of a frame whose tiers have numbers and no names."""
    return rows.assign(tier_name="")


def _alone(chart: FinishedChart) -> Spec:
    """A chart without its title and without what is told of the room that is picked."""
    found = chart.properties(title={"text": "", "offset": 0}).to_dict()
    found["layer"] = [one for one in found["layer"] if one.get("data", {}).get("values") != [{"text": HINT}]]
    return found


def _drawn(light: Spec, dark: Spec) -> tuple[Drawn, Point]:
    """A chart on both papers, and where on it its first pixel is. What is heard of its marks tells too much."""
    import vl_convert  # only here: nobody else pays for it

    day, night = (_HEARD.sub("", vl_convert.vegalite_to_svg(spec)) for spec in (light, dark))
    at, size = _AT.search(day), _SIZE.search(day)
    assert at and size, "a chart of another make"
    return Drawn(day, night, float(size[1]), float(size[2])), (float(at[1]), float(at[2]))


def _outline(row: Datum) -> list[Point]:
    """The outline of what is clicked of a room, a circle by the square about it."""
    if "geometry" in row:
        return [(x, y) for x, y in row["geometry"]["coordinates"][0][:-1]]
    x, y, half = row["x"], row["y"], sqrt(row["size"] / pi)
    return [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]
