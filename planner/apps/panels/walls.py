"""The tab of walls: every wall of one room to scale, and every piece on it."""

import marimo as mo

from planner.apps import pages, screen, tables
from planner.drawings.dxf import dxf
from planner.drawings.elevation import heading
from planner.drawings.page import room_sheet, sheets_for
from planner.drawings.scene import Scene
from planner.drawings.svg import png, svg
from planner.planning import frames
from planner.planning.answer import Plan
from planner.units import counted


def paper(planned: Plan, room: str) -> Scene:
    """All walls of a room as they go on paper."""
    return room_sheet(planned.walls[room])


def downloads(planned: Plan, room: str) -> list[mo.download]:
    """The room's walls to take away: to look at, for CAD, and as a picture; drawn when one is asked for."""

    def named(ending: str) -> str:
        return tables.named(planned, room, "walls", ending=ending)

    return [
        mo.download(lambda: svg(paper(planned, room)).encode(), named(".svg"), label="SVG"),
        mo.download(lambda: dxf(paper(planned, room)).encode(), named(".dxf"), label="DXF"),
        mo.download(lambda: png(paper(planned, room), scale=1.0), named(".png"), label="PNG"),
    ]


def view(planned: Plan, room: str, downloads: list[mo.download], dark: bool, width: int) -> mo.Html:
    """Every wall, how the room's trim meets that of its neighbours, and every piece on them."""
    return mo.vstack(
        [
            pages.show(*_walls(planned, room, dark, screen.page(width))),
            mo.hstack(downloads, justify="start"),
            pages.show(_meetings(planned, room), *_pieces(planned, room)),
        ],
        gap=1.5,
    )


def _walls(planned: Plan, room: str, dark: bool, page: int) -> list[pages.Markup]:
    """The walls of a room, all at one scale, each folded under what it is called but the first."""
    walls = planned.walls[room]
    sheets = sheets_for(walls, page)
    return [
        pages.folded(heading(wall), pages.drawing(sheet, dark), unfolded=wall is walls[0])
        for wall, sheet in zip(walls, sheets, strict=True)
    ]


def _meetings(planned: Plan, room: str) -> pages.Markup:
    rows = [
        [row[name] for name in ("other", "opening", "kind", "head_text", "words")]
        for row in frames.meetings(planned, room).to_dict("records")
    ]
    columns = ["To", "Through", "Kind", "Heads at", "How the trim of both rooms meets"]
    title = "How the trim of both rooms meets at its passages"
    return pages.folded(title, pages.table(columns, rows, label=title)) if rows else pages.Markup("")


def _pieces(planned: Plan, room: str) -> list[pages.Markup]:
    """Two tables: what is seen on the walls, and the boards behind it."""
    frame = frames.pieces(planned, room)
    columns = {"Wall, and opening": "place", "Piece": "piece", "Count": "count", "Length": "length_text"}
    columns |= {"Width": "width_text", "Depth": "depth_text", "Cuts": "cuts", "Note": "note"}
    frame["place"] = (frame["wall"] + ", " + frame["opening"].fillna("")).str.removesuffix(", ")
    tables = []
    for behind, caption in ((False, "Every piece on its walls"), (True, "The boards behind them")):
        rows = frame.loc[frame["behind"] == behind, list(columns.values())].to_numpy().tolist()
        if rows:
            numbers = ["Count", "Length", "Width", "Depth"]
            title = f"{caption}: {counted(len(rows), 'row')}"
            tables.append(pages.folded(title, pages.table(list(columns), rows, numbers=numbers, label=caption)))
    return tables
