"""A scene as DXF: in real inches or millimetres, a layer for each line weight, arcs as arcs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from io import StringIO
from itertools import pairwise
from math import radians, tan

from ezdxf import units
from ezdxf._options import options
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace
from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS

from planner.drawings.scene import AS_DRAWN, LAYERS, Dimension, Group, Path, Polygon, Scene, Text, flat
from planner.look import theme
from planner.look.paint import colour
from planner.mouldings.curves import EllipseArc, Line, Placement, Segment, points
from planner.units import INCHES_IN, METRIC

MM_PER_POINT = 25.4 / 72
CAPITALS = 0.72
"""Height of capitals, which DXF measures, over the type's size."""
ALIGNMENT = {
    "start": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "end": TextEntityAlignment.RIGHT,
}


def document(scene: Scene) -> Drawing:
    """The scene as an ezdxf document, in inches, or in millimetres where its house is metric."""
    doc, metric = new("R2010", setup=["dimstyles"]), scene.unit in METRIC
    doc.units = units.MM if metric else units.IN
    doc.header["$MEASUREMENT"] = int(metric)
    steps = theme.thinned(scene.scale) if scene.scale else 0
    for layer, line in LAYERS.items():
        doc.layers.add(layer.upper(), color=7, lineweight=_weight(theme.pixels(line, steps)))
    space = doc.modelspace()
    whole = Group(scene.shapes, Placement(scale=1 / INCHES_IN["mm"]) if metric else AS_DRAWN)
    for shape in flat((whole,)):
        if isinstance(shape, Path):
            _path(space, shape)
        elif isinstance(shape, Text):
            _text(space, shape)
        else:
            _dimension(space, shape)
    return doc


def dxf(scene: Scene) -> str:
    """The scene as the text of a DXF file, in inches, or in millimetres where its house is metric.

    Parameters
    ----------
    scene : what is drawn.

    Examples
    --------
    >>> from planner.drawings.scene import rectangle
    >>> dxf(Scene((rectangle(0, 0, 2, 1),), "a box")).split()[:2]
    ['0', 'SECTION']
    """
    stream = StringIO()
    with _undated():
        document(scene).write(stream)
    return stream.getvalue()


@contextmanager
def _undated() -> Iterator[None]:
    """While this lasts, files say nothing of when they were written, so that equal drawings give equal files."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _weight(pixels: float) -> int:
    """The width of a line [px] as the nearest that the format knows [1/100 mm]."""
    wanted = pixels / theme.PIXELS_PER_POINT * MM_PER_POINT * 100
    return min(VALID_DXF_LINEWEIGHTS, key=lambda known: abs(known - wanted))


def _path(space: Modelspace, path: Path) -> None:
    if path.fill and path.fill != "paper":
        hatch = space.add_hatch(dxfattribs={"layer": "SHADE"})
        red, green, blue = bytes.fromhex(colour(path.fill)[1:])
        hatch.rgb = (red, green, blue)
        for run in _runs(path.sides):
            hatch.paths.add_polyline_path(_bulged(run), is_closed=True)
    if not path.line:
        return
    where = {"layer": path.layer.upper()}
    for polygon in (s for s in path.segments if isinstance(s, Polygon)):
        space.add_lwpolyline(polygon.corners, close=True, dxfattribs=where)
    segments = [s for s in path.segments if not isinstance(s, Polygon)]
    if len(segments) > 1 and _joined(segments) and not _elliptic(segments):
        corners = _bulged(segments)
        if not path.closed:
            corners.append((*segments[-1].end, 0.0))
        space.add_lwpolyline(corners, format="xyb", close=path.closed, dxfattribs=where)
        return
    for segment in segments:
        _segment(space, segment, where)


def _segment(space: Modelspace, s: Segment, where: dict[str, str]) -> None:
    if isinstance(s, Line):
        space.add_line(s.start, s.end, dxfattribs=where)
        return
    first, last = (s.first, s.last) if s.ccw else (s.last, s.first)
    if not isinstance(s, EllipseArc):
        space.add_arc(s.center, s.radius, first, last, dxfattribs=where)
        return
    turned = s.ry > s.rx
    long = EllipseArc((0.0, 0.0), s.rx, s.ry, 0, 90, rotation=s.rotation).at(90.0 if turned else 0.0)
    ratio = min(s.rx, s.ry) / max(s.rx, s.ry)
    shift = -90.0 if turned else 0.0
    space.add_ellipse(s.center, long, ratio, radians(first + shift), radians(last + shift), dxfattribs=where)


def _text(space: Modelspace, text: Text) -> None:
    entity = space.add_text(
        _plain(text.text),
        height=text.size * CAPITALS,
        rotation=text.rotation,
        dxfattribs={"layer": text.layer.upper()},
    )
    entity.set_placement((text.x, text.y), align=ALIGNMENT[text.anchor])


def _dimension(space: Modelspace, d: Dimension) -> None:
    style = {"dimtxt": d.size * CAPITALS, "dimtsz": d.size * 0.35, "dimexo": d.size * 0.35, "dimexe": d.size * 0.45}
    space.add_aligned_dim(
        d.a,
        d.b,
        d.offset,
        text=_plain(d.text) or " ",
        override={**style, "dimtad": 1, "dimgap": d.size * 0.3, "dimclrd": 256, "dimclre": 256, "dimclrt": 256},
        dxfattribs={"layer": "DIMENSION"},
    ).render()


def _bulged(segments: Sequence[Segment]) -> list[tuple[float, float, float]]:
    """Corners with the bulge of the segment that leaves each; an elliptic arc becomes short lines."""
    corners = []
    for s in segments:
        if isinstance(s, EllipseArc):
            corners += [(*p, 0.0) for p in points([s])[:-1]]
        else:
            corners.append((*s.start, 0.0 if isinstance(s, Line) else tan(radians(s.sweep) / 4)))
    return corners


def _runs(segments: Sequence[Segment]) -> list[list[Segment]]:
    """Chains of segments that begin where the last ended."""
    runs: list[list[Segment]] = []
    for s in segments:
        if runs and _joined([runs[-1][-1], s]):
            runs[-1].append(s)
        else:
            runs.append([s])
    return runs


def _joined(segments: Sequence[Segment]) -> bool:
    return all(abs(a.end[0] - b.start[0]) + abs(a.end[1] - b.start[1]) < 1e-6 for a, b in pairwise(segments))


def _elliptic(segments: Sequence[Segment]) -> bool:
    return any(isinstance(s, EllipseArc) for s in segments)


def _plain(text: str) -> str:
    """Text without the control codes of the format."""
    return " ".join(text.replace("%%", "% %").replace("^", "").split())
