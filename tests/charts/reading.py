"""How the tests make charts of a plan and read them again."""

from collections.abc import Iterator

from planner import Plan, charts
from planner.look.theme import text_width
from planner.planning import frames

SIZES = [(390, False), (390, True), (1000, False), (1000, True)]


def drawn(planned: Plan, **options) -> dict[str, charts.FinishedChart]:
    """Every chart of a plan, by name."""
    rooms, passages, twice = frames.rooms(planned), frames.passages(planned), [planned, planned]
    return {
        "floor plan": charts.floor_plan(rooms, frames.openings(planned), selected=rooms["room"][0], **options),
        "room graph": charts.room_graph(rooms, passages, selected=rooms["room"][0], **options),
        "step down": charts.step_down(frames.step_down([planned]), frames.steps([planned]), **options),
        "importance": charts.importance(frames.factors(planned), **options),
        "frontier": charts.frontier(frames.frontier(planned), frames.proposals(planned), **options),
        "cost parts": charts.cost_parts(frames.cost(planned, ["room"]), "Room", planned.house.currency, **options),
        "cost ranges": charts.cost_ranges(frames.costs(twice), **options),
        "element sizes": charts.element_sizes(frames.elements(planned), **options),
        "tier matrix": charts.tier_matrix(frames.compare(twice), differing_only=False, **options),
        "step down, compared": charts.step_down(frames.step_down(twice), frames.steps(twice), **options),
    }


def found(node: object, key: str) -> Iterator[object]:
    """What stands under a key anywhere in a specification."""
    if isinstance(node, dict):
        if key in node:
            yield node[key]
        for value in node.values():
            yield from found(value, key)
    elif isinstance(node, list):
        for value in node:
            yield from found(value, key)


def rows(chart: charts.FinishedChart) -> list[dict]:
    """All data of a chart."""
    return [row for data in found(chart.to_dict(), "values") for row in data if isinstance(row, dict)]


def words(chart: charts.FinishedChart) -> list[dict]:
    """All rows of text but for the line that tells of the picked room."""
    return [row for row in rows(chart) if "text" in row and "y" in row]


def told(chart: charts.FinishedChart) -> dict[str, str]:
    """What a chart tells of each room that is picked."""
    return {row[charts.PICK_FIELD]: row["text"] for row in rows(chart) if charts.PICK_FIELD in row}


def picked(chart: charts.FinishedChart) -> list[str]:
    """The rooms that are picked to begin with."""
    return [chosen[charts.PICK_FIELD] for param in chart.to_dict()["params"] for chosen in param.get("value", ())]


def written(chart: charts.FinishedChart) -> str:
    """All that is written on a chart, without blanks, so that wrapped lines join again."""
    return "".join("".join(str(row["text"]).split()) for row in words(chart))


def layers(chart: charts.FinishedChart, mark: str) -> list[dict]:
    """The layers of a kind of mark."""
    return [layer for layer in chart.to_dict()["layer"] if layer["mark"]["type"] == mark]


def lines(chart: charts.FinishedChart) -> list[dict]:
    """The lines of a sheet, look by look: their ends and what there is between, stroke and weight."""
    joined = [row for row in rows(chart) if "weight" in row.get("properties", {})]
    return [row["properties"] | {"at": line} for row in joined for line in row["geometry"]["coordinates"]]


def styled(chart: charts.FinishedChart, align: str, weight: str) -> list[dict]:
    """The rows of a sheet's text that are set in one way."""
    return [row for row in words(chart) if (row.get("align"), row.get("weight")) == (align, weight)]


def extent(word: dict) -> tuple[float, float, float, float]:
    """West, north, east and south end of a sheet's word [px]; letters of bold type are taken as wider by a twelfth."""
    long = text_width(word["text"], word["size"]) * (1.08 if word["weight"] == "bold" else 1)
    west = word["x"] - long * {"left": 0, "center": 0.5, "right": 1}[word["align"]]
    return west, word["y"] - word["size"] / 2, west + long, word["y"] + word["size"] / 2
