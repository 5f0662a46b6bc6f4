"""What money buys: cost against how far rooms are from what they ask for, with the best that each cost can have."""

from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from typing import NamedTuple, TypedDict, cast

import pandas as pd

from planner.charts.finished import FinishedChart
from planner.charts.names import short
from planner.charts.rooms import first_line
from planner.charts.sheet import message
from planner.charts.vega_lite import EDGE, QUIET, Datum, Spec, config, layer, plain_name, records, title, tooltip
from planner.look import theme
from planner.look.theme import TEXT, text_width

AXIS_ROOM = 36
"""Pixels left of the plot for the figures of its axis."""

ABOVE = 22
"""Pixels above the plot for the title of that axis."""

MARGIN = 0.1
"""Of the scales, on either side of what is drawn."""

FARTHER = 1.0
"""How far beyond the frontier's own extent, in parts of it, the scales go for other proposals."""

APART = 3
"""Pixels that a label keeps free at either end."""

MOST_OF_PLOT = (0.9, 0.6, 0.3, 0.15)
"""A label takes no more than this part of the plot's width; the next where it finds no place beside its mark then."""

ROWS = 6
"""How many rows from its mark a label may stand."""

STANDS = "the plan as it stands"
"""What the plan is called that the frontier is of, unless it has a name."""

LABELLED = {False: ("stands", "knee"), True: ("stands", "other")}
"""The kinds of marks that have labels, whether or not the others are alternatives that are compared."""

SHAPES = {"stands": "diamond", "knee": "triangle-up", "point": "circle", "other": "square"}
"""Marks of the plan as it stands, of knees, of other points of the frontier, and of proposals that are no points."""

SIZES = {"stands": 150, "knee": 110, "point": 34, "other": 60}
"""Areas of the marks [px²]."""


class PointRow(TypedDict):
    """Columns of frames.frontier that are drawn."""

    cost: float
    objective: float
    stands: bool
    knee: bool
    title: str
    gap: float


class ProposalRow(TypedDict):
    """Columns of frames.proposals that are drawn."""

    cost: float
    objective: float
    title: str


class _Scale(NamedTuple):
    """The plot: its extents in cost and objective, and its size [px]."""

    cost: tuple[float, float]
    objective: tuple[float, float]
    width: float
    height: float

    def place(self, cost: float, objective: float) -> tuple[float, float]:
        """Where a plan is drawn [px]."""
        (x0, x1), (y0, y1) = self.cost, self.objective
        return (cost - x0) / (x1 - x0) * self.width, (y1 - objective) / (y1 - y0) * self.height

    def has(self, row: Datum) -> bool:
        """Whether a plan is within."""
        (x0, x1), (y0, y1) = self.cost, self.objective
        return bool(x0 <= row["cost"] <= x1 and y0 <= row["objective"] <= y1)


class _Box(NamedTuple):
    """West, north, east and south end of what is drawn [px]."""

    west: float
    north: float
    east: float
    south: float

    def meets(self, other: "_Box") -> bool:
        """Whether two boxes have a place in common."""
        across = self.west < other.east and other.west < self.east
        return across and self.north < other.south and other.north < self.south


def frontier(
    frontier: pd.DataFrame,
    proposals: pd.DataFrame,
    *,
    stands: str = STANDS,
    cost_name: str = "Cost index",
    compared: bool = False,
    dark: bool = False,
    width: int = 720,
) -> FinishedChart:
    """Cost against objective: the frontier as a stepped line, the plan as it stands and the knees labelled.

    Parameters
    ----------
    frontier : frames.frontier.
    proposals : frames.proposals; those that are points of the frontier are drawn as such.
    stands : what the plan is called that the frontier is of.
    cost_name : what its costs are called.
    compared : the others are alternatives, all drawn and labelled however far they are.

    Notes
    -----
    Below and left of the line there is no plan, so labels stand there, where they hide none.
    """
    if frontier.empty:
        return message("What money buys", "No plan keeps every rule, so there is none to weigh.", width, dark)
    points = cast("list[PointRow]", records(frontier))
    marks = [_mark(p, "stands" if p["stands"] else "knee" if p["knee"] else "point", stands) for p in points]
    known = {(m["cost"], m["objective"]) for m in marks}
    others = [_mark(p, "other", stands) for p in cast("list[ProposalRow]", records(proposals))]
    others = [m for m in others if (m["cost"], m["objective"]) not in known]
    scale = _scale([*marks, *others], [*marks, *others] if compared else marks, width)
    far = [m for m in others if not scale.has(m)]
    drawn = [*marks, *(m for m in others if scale.has(m))]
    return FinishedChart(
        {
            "title": title(finding(points, stands), _subtitle(points, drawn, far, compared), width - 2 * EDGE),
            "width": scale.width,
            "height": scale.height,
            "padding": EDGE,
            "layer": _layers(drawn, scale, theme.palette(dark), LABELLED[compared], cost_name),
            "config": config(dark),
        },
        "; ".join(f"{m['plan']}: cost {m['price']}, {m['away']} away" for m in drawn if m["plan"]),
    )


def finding(points: Sequence[PointRow], called: str = STANDS) -> str:
    """What the first knee, or that there is none, says of the plan as it stands, in a sentence."""
    stands = next((p for p in points if p["stands"]), points[-1])
    knees = [p for p in points if p["knee"]]
    if len(points) == 1:
        return "No plan costs less, and none comes nearer to what the rooms ask for"
    if not knees:
        return "No cost stands out: each saving takes rooms about as much farther from what they ask for"
    if stands["knee"]:
        return f"{called[:1].upper()}{called[1:]} is where the money buys most"
    knee = min(knees, key=lambda p: abs(p["cost"] - stands["cost"]))
    apart = abs(knee["objective"] - stands["objective"])
    part = f"{abs(knee['cost'] - stands['cost']) / max(stands['cost'], knee['cost']):.0%}".replace("%", " %")
    if knee["cost"] < stands["cost"]:
        return f"Spending {part} less takes rooms {apart:.2f} farther from what they ask for; from there it takes more"
    return f"Spending {part} more brings rooms {apart:.2f} nearer to what they ask for; from there it brings less"


def _mark(row: PointRow | ProposalRow, kind: str, stands: str) -> Datum:
    plan = stands if kind == "stands" else row["title"]
    return {"cost": row["cost"], "objective": row["objective"], "plan": plan, "kind": kind} | {
        "price": _money(row["cost"]),
        "away": f"{row['objective']:.2f}",
        "shape": SHAPES[kind],
        "size": SIZES[kind],
    }


def _money(cost: float) -> str:
    return f"{cost:,.0f}" if cost >= 1_000 else f"{cost:,.2f}"


def _scale(every: Sequence[Datum], marks: Sequence[Datum], width: int) -> _Scale:
    """A plot for the frontier, and for what lies beyond it but not far."""

    bounds = _Scale(_extent(marks, "cost", FARTHER), _extent(marks, "objective", FARTHER), 1, 1)
    near = [m for m in every if bounds.has(m)]
    plot = width - 2 * EDGE - AXIS_ROOM - 8
    height = min(420, max(240, round(0.55 * width)))
    return _Scale(_extent(near, "cost", MARGIN), _extent(near, "objective", MARGIN), plot, height)


def _extent(rows: Sequence[Datum], of: str, more: float) -> tuple[float, float]:
    """From the least to the greatest, and on either side that part of it more; a tenth of one value that is alone."""
    low, high = min(row[of] for row in rows), max(row[of] for row in rows)
    beyond = more * ((high - low) or 0.1 * max(abs(high), 1.0))
    return low - beyond, high + beyond


def _subtitle(points: Sequence[PointRow], drawn: Sequence[Datum], far: Sequence[Datum], compared: bool) -> str:
    told = {
        "stands": "diamond: the plan that the line is of" if compared else f"diamond: {STANDS}",
        "knee": "triangles: where the money buys most",
    }
    told |= {
        "point": "dots: the best at their cost",
        "other": f"squares: other {'alternatives' if compared else 'plans that are proposed'}",
    }
    kinds = {m["kind"] for m in drawn}
    parts = ["; ".join(words for kind, words in told.items() if kind in kinds)]
    if gap := points[0]["gap"]:
        parts.append(f"plans between the dots come nearer than the cheaper one by {gap:.2f} at most")
    if far:
        listed = ", ".join(f"{short(m['plan'])} (cost {m['price']}, {m['away']} away)" for m in far)
        parts.append(f"beyond these scales: {listed}")
    return ". ".join(f"{part[0].upper()}{part[1:]}" for part in parts)


def _layers(
    drawn: Sequence[Datum], scale: _Scale, look: theme.Palette, labelled: Sequence[str], cost_name: str
) -> list[Spec]:
    x = _axis("cost", scale.cost, {"title": cost_name, "tickCount": max(3, int(scale.width / 90))})
    y = _axis("objective", scale.objective, {"title": None, "minExtent": AXIS_ROOM, "maxExtent": AXIS_ROOM})
    line = [m for m in drawn if m["kind"] != "other"]
    steps = {"type": "line", "interpolate": "step-after", "stroke": look.ink, "strokeWidth": theme.pixels("profile")}
    mark = {"type": "point", "filled": True, "opacity": 1, "stroke": look.ink, "strokeWidth": theme.pixels("edge")}
    channels = {"x": x, "y": y, "shape": plain_name("shape"), "size": plain_name("size") | {"type": "quantitative"}}
    fill = [m | {"fill": look.ink if m["kind"] in ("stands", "knee") else look.paper} for m in drawn]
    heading = [{"text": "Away from what all rooms ask for (tiers in all)"}]
    over = {"type": "text", "align": "left", "baseline": "bottom", "color": look.soft, "fontSize": TEXT["label"]}
    labels = [
        layer([m], {"type": "text", "color": look.ink, "fontSize": TEXT["label"]} | place | QUIET, said)
        for m, place in _labels(drawn, scale, labelled)
        for said in [{"x": x, "y": y, "text": {"field": "label"}}]
    ]
    return [
        layer(line, steps | QUIET, {"x": x, "y": y, "order": {"field": "cost", "type": "quantitative"}}),
        layer(fill, mark, channels | {"fill": plain_name("fill"), "tooltip": tooltip("plan", "price", "away")}),
        *labels,
        layer(
            heading,
            over | QUIET,
            {"x": {"value": -AXIS_ROOM}, "y": {"value": -ABOVE + 14}, "text": {"field": "text"}},
        ),
    ]


def _axis(field: str, extent: tuple[float, float], axis: Spec) -> Spec:
    scale = {"domain": list(extent), "nice": False, "zero": False}
    return {"field": field, "type": "quantitative", "scale": scale, "axis": axis}


def _labels(drawn: Sequence[Datum], scale: _Scale, labelled: Sequence[str]) -> list[tuple[Datum, Spec]]:
    """The labels of marks of some kinds, each beside its mark where it hides nothing."""
    taken = [_around(*scale.place(m["cost"], m["objective"])) for m in drawn]
    taken += _steps([scale.place(m["cost"], m["objective"]) for m in drawn if m["kind"] != "other"])
    placed = []
    for m in (m for kind in labelled for m in drawn if m["kind"] == kind):
        at = scale.place(m["cost"], m["objective"])
        words = [_label(m, part * scale.width) for part in MOST_OF_PLOT]
        beside = [(text, *way) for text in words for way in _beside(*at, text_width(text, TEXT["label"]))]
        far = [(words[0], *way) for way in _far(*at, text_width(words[0], TEXT["label"]), scale.width)]
        free = (way for way in [*beside, *far] if _within(way[2], scale) and not any(map(way[2].meets, taken)))
        text, place, box = next(free, beside[0])
        taken.append(box)
        placed.append((m | {"label": text}, place))
    return placed


def _label(mark: Datum, wide: float) -> str:
    """What is said of a mark, its cost in full and no wider than that [px]."""
    room = wide - text_width(f", {mark['price']}", TEXT["label"])
    return f"{first_line(short(mark['plan'] or 'where the money buys most'), room, TEXT['label'])}, {mark['price']}"


Way = tuple[Spec, _Box]
"""How a label is placed, and the box that it takes."""


def _beside(x: float, y: float, long: float) -> Iterator[Way]:
    """Places beside its mark for a label `long` px, the best first: left of it and below, right and above, each in rows
    farther off."""
    for row, (align, end, down) in product(range(ROWS), [("right", x - 10, 1), ("left", x + 10, -1)]):
        yield _way(x, y, long, align, end, down * (11 + 15 * row))


def _far(x: float, y: float, long: float, wide: float) -> Iterator[Way]:
    """Places above its mark and as far right as a plot `wide` px goes."""
    return (_way(x, y, long, "right", wide - APART, -11 - 15 * row) for row in range(ROWS))


def _way(x: float, y: float, long: float, align: str, end: float, down: float) -> Way:
    west = end - (long if align == "right" else 0)
    place = {"align": align, "baseline": "middle", "dx": round(end - x, 1), "dy": down}
    return place, _Box(west - APART, y + down - 7, west + long + APART, y + down + 7)


def _within(box: _Box, scale: _Scale) -> bool:
    return box.west >= 0 and box.east <= scale.width and box.north >= 0 and box.south <= scale.height


def _steps(places: Sequence[tuple[float, float]]) -> Iterator[_Box]:
    """The stepped line through points, the cheapest first."""
    for (x, y), (x2, y2) in pairwise(places):
        yield _Box(x, y - 2, x2, y + 2)
        yield _Box(x2 - 2, y, x2 + 2, y2)


def _around(x: float, y: float) -> _Box:
    return _Box(x - 6, y - 6, x + 6, y + 6)
