"""What a house gets, as tables for paper: its rooms, their trim, and what stands in and round every opening."""

from collections.abc import Iterator
from typing import Any

import pandas as pd

from planner.deliverables import tables
from planner.deliverables.met import met, met_in, round_opening
from planner.deliverables.table import Table, as_built
from planner.planning import frames
from planner.planning.answer import Plan, RoomPlan
from planner.trim.packages import Element, Package
from planner.units import INCHES_IN, format_size, section_unit
from planner.walls.both_faces import hanging
from planner.walls.layout import WallLayout, standing
from planner.walls.openings import UNCASED, Surround, hung


def rooms(plan: Plan) -> Table:
    """Every room with its tier and why it has it."""
    frame = tables.rooms(plan).drop(columns=["Pinned", "Lowest", "Highest", "Shares its tier with"])
    frame = frame.round({"Target": 2, "Importance": 2})
    return Table(
        "rooms",
        "Rooms",
        as_built(frame),
        "Every room with its tier, and why. Target is the tier that the room asks for by itself; the cost index"
        " goes by the length of the walls and the part of their height that is trimmed.",
        fast=2,
    )


def by_room(plan: Plan) -> Table:
    """Every element of every room, and what an opening has otherwise than its room."""
    found = [row for room in in_order(plan) for row in _of_room(plan, room)]
    return Table(
        "trim-by-room",
        "Trim by room",
        as_built(pd.DataFrame(found)),
        "What each room has, element by element. Size is the height on the wall; of what goes round an opening, its"
        " width. A row that names an opening holds there in the place of the room's own.",
        fast=2,
    )


def by_tier(plan: Plan) -> Table:
    """Every element of every package, with the rooms that have it."""
    there = [e.element in names for p in plan.packages for names in [met(plan, p)] for e in p.elements]
    found, exact, unit = tables.packages(plan), frames.elements(plan), section_unit(plan.house.unit)
    for heading, name in (("Size", "size"), ("Projection", "projection"), ("Above the floor", "bottom")):
        # What is rounded for a screen first would be rounded twice.
        found[f"{heading} [{unit}]"] = exact[name].astype(float) / INCHES_IN[unit]
    return Table(
        "trim-by-tier",
        "Trim by tier",
        as_built(found[there].reset_index(drop=True)).drop(columns="Source"),
        "One package for each tier and ceiling in use, the richest first, and the rooms that have it. What none of"
        " these rooms has a place for, as a mantel without a fireplace, is not in it.",
    )


def openings(plan: Plan) -> Table:
    """Every framed opening, with what hangs in it and what stands round it on both faces."""
    order = {room: at for at, room in enumerate(plan.house.by_name)}
    framed = [o for o in plan.house.openings if o.kind not in UNCASED]
    faces = {
        (layout.room, around.aperture.name): (layout, around)
        for walls in plan.walls.values()
        for layout in walls
        for around in layout.surrounds
    }
    found = [
        _opening(plan, *near, faces.get((o.other, o.name)))
        for o in sorted(framed, key=lambda o: order[o.room])
        if (near := faces.get((o.room, o.name))) is not None
    ]
    return Table(
        "openings",
        "Doors and windows",
        as_built(pd.DataFrame(found)),
        "Every framed opening, seen from inside its room. Lights are those of the upper over the lower sash. Measure"
        " each on site before anything is ordered for it.",
    )


def in_order(plan: Plan) -> list[RoomPlan]:
    """The rooms of a plan floor by floor."""
    levels = plan.house.levels
    return sorted(plan.rooms, key=lambda room: levels.index(room.room.level))


def _of_room(plan: Plan, planned: RoomPlan) -> Iterator[dict[str, Any]]:
    room, package, there = planned.room, planned.package, met_in(plan, planned.room.name)
    openings = [o.name for o in plan.house.openings_of.get(room.name, ()) if o.name in package.own]
    found = {"": standing(plan.walls[room.name]).elements}
    found |= {o: tuple(e for e in package.at(o).elements if e not in package.elements) for o in openings}
    for opening, elements in found.items():
        for element in elements:
            if element.element in there:
                yield {
                    "Level": room.level,
                    "Room": room.name,
                    "Tier": planned.tier,
                    "Tier's name": plan.tier_names[planned.tier - 1],
                    "Opening": opening,
                    "Element": element.element,
                    "Form": element.form,
                    **_sizes(plan, element),
                    "Built from": ", ".join(element.profiles),
                    "Stays": "yes" if element.stays else "",
                }


def _sizes(plan: Plan, element: Element) -> dict[str, float | None]:
    return lengths(
        plan,
        {
            "Size": element.size,
            "Projection": element.projection,
            "Above the floor": element.bottom,
            "Top above the floor": element.top,
        },
    )


def lengths(plan: Plan, inches: dict[str, float | None]) -> dict[str, float | None]:
    """Lengths [in] under headings, in the unit that the house is cut in, which each heading then names."""
    unit = section_unit(plan.house.unit)
    return {f"{heading} [{unit}]": None if x is None else x / INCHES_IN[unit] for heading, x in inches.items()}


def _opening(
    plan: Plan, layout: WallLayout, around: Surround, far: tuple[WallLayout, Surround] | None
) -> dict[str, Any]:
    a = around.aperture
    return {
        "Opening": a.name,
        "Level": plan.house.by_name[layout.room].level,
        "Room": layout.room,
        "To": a.other,
        "Kind": a.kind,
        "Wall": layout.wall,
        **lengths(
            plan,
            {
                "From the wall's left end": a.x0,
                "Width": a.x1 - a.x0,
                "Head above the floor": a.y1,
                "Sill above the floor": a.y0 if a.kind == "window" else None,
            },
        ),
        "Hangs in it": hung(a, hanging(a, layout.package, plan.package_of)),
        "Round it, in the room": _round(layout.package, around),
        "Round it, beyond": _round(far[0].package, far[1]) if far else "",
    }


def _round(package: Package, around: Surround) -> str:
    """What stands round an opening on one face, element by element, each with its size."""
    found = round_opening(package, around)
    return "\n".join(f"{e.element}: {e.form}, {format_size(e.size, package.unit)}" for e in found)
