"""No door swings through what is written in a room."""

from dataclasses import replace
from itertools import pairwise
from math import ceil, dist
from pathlib import Path

import pytest

from planner import House, Plan, charts, demo_house, plan, read_house
from planner.planning import frames
from tests.charts.reading import extent, lines, told, words
from tests.laid_out_houses import laid_out_house

PRACTICE = Path(__file__).parents[1] / "practice" / "houses"
SIZES = [{"width": 590}, {"width": 590, "height": 470}, {"width": 342}, {"width": 342, "height": 300}, {"width": 1100}]


def in_rows(house: House) -> House:
    """A house without a plan: its rooms at three quarters of their size, apart, in rows of four, with openings on walls
    in turn.
    """
    west, south, rooms = 0.0, 0.0, []
    for i, room in enumerate(house.rooms):
        if i % 4 == 0:
            west, south = 0.0, south - 400.0
        outline = tuple((west + 0.75 * x, south + 0.75 * y) for x, y in room.corners)
        rooms.append(replace(room, outline=outline, length=0.75 * room.length, width=0.75 * room.width))
        west += room.length
    openings = tuple(replace(o, wall=o.wall or "NESW"[i % 4]) for i, o in enumerate(house.openings))
    return replace(house, rooms=tuple(rooms), openings=openings)


def houses() -> dict[str, House]:
    """The demo house, the houses of practice and random ones."""
    practice = {folder.name: in_rows(read_house(folder)[0]) for folder in sorted(PRACTICE.iterdir()) if folder.is_dir()}
    chance = {f"random {seed}": laid_out_house(8 + 4 * seed, seed, 1 + seed % 3) for seed in range(8)}
    return {"demo": read_house(demo_house())[0], **practice, **chance}


@pytest.fixture(scope="module")
def plans() -> dict[str, Plan]:
    return {name: plan(house) for name, house in houses().items()}


def swings(chart: charts.FinishedChart) -> list[list[list[float]]]:
    """The lines of door leaves and of their swings, which alone are drawn in the colours of what lies on a floor."""
    return [line["at"] for line in lines(chart) if line["stroke"] in ("#000000", "#ffffff")]


def points(line: list[list[float]]) -> list[tuple[float, float]]:
    """Places along a line, a quarter of a pixel apart."""
    found = []
    for (x0, y0), (x1, y1) in pairwise(line):
        steps = ceil(dist((x0, y0), (x1, y1)) * 4) or 1
        found += [(x0 + (x1 - x0) * i / steps, y0 + (y1 - y0) * i / steps) for i in range(steps + 1)]
    return found


def crossed(chart: charts.FinishedChart) -> list[str]:
    """Words in rooms that a swing meets."""
    strokes = [point for line in swings(chart) for point in points(line)]
    boxes = [(row["text"], extent(row)) for row in words(chart) if row["align"] == "center"]
    return [
        text
        for text, (west, north, east, south) in boxes
        if any(west + 0.05 < x < east - 0.05 and north + 0.05 < y < south - 0.05 for x, y in strokes)
    ]


@pytest.mark.parametrize("moved", [False, True])
@pytest.mark.parametrize("size", SIZES)
def test_no_swing_meets_a_label(plans, size, moved):
    drawn = 0
    for name, planned in plans.items():
        before = {room: 1 + r.tier % 3 for room, r in planned.by_name.items()} if moved else None
        chart = charts.floor_plan(frames.rooms(planned), frames.openings(planned), moved=before, **size)
        assert crossed(chart) == [], name
        drawn += len(swings(chart))
    assert drawn > (100 if size["width"] >= 590 and "height" not in size else 0)


def test_the_measure_finds_what_is_crossed(plans):
    """A swing that is put through a label is found."""
    chart = charts.floor_plan(frames.rooms(plans["demo"]), frames.openings(plans["demo"]), width=590)
    spec = chart.to_dict()
    (label,) = (row for row in words(chart) if row["text"] == "Library")
    through = [[label["x"] - 40, label["y"]], [label["x"] + 40, label["y"]]]
    for layer in spec["layer"]:
        for row in layer["data"]["values"]:
            if row.get("properties", {}).get("stroke") == "#000000":
                row["geometry"]["coordinates"].append(through)
    assert crossed(charts.FinishedChart(spec)) == ["Library"]


def test_most_doors_of_the_demo_house_keep_their_swing_and_most_rooms_their_name(plans):
    """Labels give way before swings do, and both before a name becomes a code. The Linen Closet is two feet deep."""
    planned = plans["demo"]
    chart = charts.floor_plan(frames.rooms(planned), frames.openings(planned), width=590)
    leaves = {"door": 1, "double door": 2}
    hung = sum(leaves.get(o.kind, 0) for o in planned.house.openings)
    assert len(swings(chart)) == 2 * hung
    assert [text for text in told(chart).values() if ", " in text.split(":")[0]] == ["1a, Linen Closet: 1 Service"]
