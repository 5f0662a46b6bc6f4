"""Where the elements of a package stand on the wall. Lengths in inches."""

from collections.abc import Mapping

from planner.library import Library
from planner.trim import orders
from planner.trim.spans import built_size, built_within
from planner.units import Unit

RAILED = ("plate rail", "chair rail", "wainscot")
"""Elements whose upper edge is the top of the rail."""


def standing(
    ceiling: float,
    dado: float,
    sizes: Mapping[str, float],
    heights: Mapping[str, float],
    library: Library,
    unit: Unit = "in",
) -> dict[str, tuple[float, float]]:
    """Bottom and size [in] of each element that stands on the wall; `heights` are upper edges that were said [in],
    `unit` is the house's.

    The dado, the pedestal's height, is brought into the range that practice keeps.
    """
    places = library.places
    crown_bottom = ceiling - sizes.get("crown", 0.0)
    rail_top = built_size(orders.dado(dado, places.dado.lowest, places.dado.highest), unit)
    if "plate rail" in sizes:
        plate = min(max(places.plate.of_ceiling * ceiling, places.plate.lowest), places.plate.highest)
        rail_top = built_size(plate, unit)
    rail_top = next((heights[name] for name in RAILED if name in heights and name in sizes), rail_top)
    found = {}
    for name, size in sizes.items():
        match library.element(name).place:
            case "floor":
                found[name] = (0.0, size)
            case "dado" | "plate":
                found[name] = (0.0, rail_top) if name == "wainscot" else (rail_top - size, size)
            case "field":
                bottom = rail_top + places.field.margin
                found[name] = (bottom, built_within(crown_bottom - places.field.margin - bottom, unit))
            case "frieze":
                top = heights.get(name, crown_bottom - places.frieze.of_ceiling * ceiling)
                found[name] = (top - size, size)
            case "ceiling":
                found[name] = (ceiling - size, size)
    return found
