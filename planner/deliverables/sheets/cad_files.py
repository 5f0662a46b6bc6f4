"""Sections and elevations for CAD, as DXF in real sizes: a file for each package, and one for each room."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.deliverables.met import met
from planner.deliverables.papers import Paper, Stamp, paper_name
from planner.drawings.dxf import dxf
from planner.drawings.page import room_sheet
from planner.drawings.scene import Box, Group, Scene, Shape, Text
from planner.drawings.section import package_sections
from planner.look import theme
from planner.mouldings.curves import Placement
from planner.planning.answer import Plan
from planner.trim.packages import Package

FOLDER = "dxf"
"""Where these files lie."""

GAP, ROW = 12.0, 150.0
"""Plain paper between two sections of a package, and about how wide a row of them is [in]."""


def cad_papers(plan: Plan, stamp: Stamp) -> Iterator[Paper]:
    """The files, each as soon as it is made; every one says at its foot what the papers say of themselves."""
    taken: set[str] = set()
    for package in plan.packages:
        data = dxf(_stamped(package_scene(plan, package), stamp))
        name = paper_name(f"{FOLDER}/packages", (package.label,), ".dxf", taken)
        yield Paper(name, f"Sections of {package.label}, for CAD", data.encode("utf-8", "replace"))
    for room, layouts in plan.walls.items():
        data = dxf(_stamped(room_sheet(layouts), stamp))
        name = paper_name(f"{FOLDER}/rooms", (room,), ".dxf", taken)
        yield Paper(name, f"Elevations of {room}, for CAD", data.encode("utf-8", "replace"))


def package_scene(plan: Plan, package: Package) -> Scene:
    """The sections of a package in rows, at one scale."""
    drawn, there = plan.sections[package], met(plan, package)
    sections = {name: placed for name, placed in drawn.items() if name in there}
    scenes = package_sections(plan.standing[package], sections, plan.library)
    shapes: list[Shape] = []
    x = y = low = right = 0.0
    for scene in scenes:
        b = scene.bounds()
        if x and x + b.x1 - b.x0 > ROW:
            x, y = 0.0, low - GAP
        shapes.append(Group(scene.shapes, Placement(x - b.x0, y - b.y1), scene.title))
        low, x = min(low, y - (b.y1 - b.y0)), x + b.x1 - b.x0 + GAP
        right = max(right, x - GAP)
    told = "; ".join(scene.title for scene in scenes)
    scale = scenes[0].scale if scenes else None
    return Scene(tuple(shapes), package.label, told, scale, Box(0.0, low, right, 0.0), package.unit)


def _stamped(scene: Scene, stamp: Stamp) -> Scene:
    """A drawing with the stamp in a line under it."""
    b = scene.bounds()
    size = theme.TEXT["label"] / (scene.scale or theme.PIXELS_PER_INCH)
    said: Sequence[str] = (scene.title, stamp.words)
    words = tuple(Text(b.x0, b.y0 - (2 + 1.5 * n) * size, text, size) for n, text in enumerate(said))
    return replace(scene, shapes=(*scene.shapes, *words), box=Box(b.x0, b.y0 - 5 * size, b.x1, b.y1))
