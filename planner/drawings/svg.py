"""A scene as SVG, and from there as PNG."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from html import escape
from math import inf
from typing import NamedTuple

from planner.drawings.scene import FILLS, LAYERS, Box, Dimension, Group, Path, Ring, Scene, Shape, Text, moved, parts
from planner.look import theme
from planner.look.paint import colour, ink
from planner.mouldings.curves import Curve, Line, Placement

MARGIN = 12
"""Bare paper round a drawing [px]."""

UNASKED = 960
"""Width of a page that nobody has said anything of [px]."""

NOISE = 1e-6
"""Points nearer than this are one [in]."""

NOWHERE = (inf, inf)
"""No point on any page."""

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class _Axis(dict[float, str]):
    """Places along an axis of a drawing [in] as they are written on its page [px], each put into figures once."""

    def __init__(self, origin: float, scale: float):
        super().__init__()
        self._origin, self._scale = origin, scale

    def __missing__(self, at: float) -> str:
        written = self[at] = f"{self._origin + at * self._scale:.2f}"
        return written


class _Page(NamedTuple):
    """Where a figure goes that is not turned, and its places along either axis as they are written there."""

    place: Placement
    x: _Axis
    y: _Axis


def svg(scene: Scene, width: float | None = None, height: float | None = None, *, styled: bool = True) -> str:
    """The scene as an SVG document.

    Parameters
    ----------
    scene : what is drawn.
    width, height : of the page, which the drawing fits; left out, the drawing is as large as it was laid out for, or
        fits 960 where it was laid out for nothing. [px]
    styled : whether it brings its STYLE along; within a page that has that once, each of many need not.

    Notes
    -----
    Lines are thinned by a step of root two each time that the scale is halved, below three inches to the foot, and keep
    their width however large the document is shown; text stays text; on a dark page, unless inside an element of
    class "light", or inside one of class "dark", ink and paper change places.

    Examples
    --------
    >>> from planner.drawings.scene import rectangle
    >>> svg(Scene((rectangle(0, 0, 2, 1),), "a box")).startswith("<svg")
    True
    """
    left, low, right, high = scene.bounds()
    scale = _scale(scene, width, height)
    place = Placement(MARGIN - left * scale, -MARGIN - high * scale, scale=scale)
    wide, tall = (right - left) * scale + 2 * MARGIN, (high - low) * scale + 2 * MARGIN
    described = f"<desc>{_text(scene.description)}</desc>" if scene.description else ""
    style = f"<style>{STYLE}</style>\n" if styled else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing w{theme.thinned(scale)}" role="img" '
        f'aria-label="{_text(scene.title)}" '
        f'width="{_n(wide)}" height="{_n(tall)}" viewBox="0 0 {_n(wide)} {_n(tall)}" '
        f'font-family="{_text(theme.FONT)}" stroke-linejoin="round" stroke-linecap="round">\n'
        f"<title>{_text(scene.title)}</title>{described}\n{style}"
        f'<rect class="f-paper" width="100%" height="100%"/>\n{body(scene.shapes, place)}\n</svg>\n'
    )


def body(shapes: Iterable[Shape], place: Placement) -> str:
    """Shapes as they stand within an SVG document, which dresses them by their classes.

    Parameters
    ----------
    shapes : what is drawn. [in]
    place : from there to the document, upwards: its y is the negative of the document's. [px]
    """
    return "\n".join(_shapes(shapes, _page(place)))


def _scale(scene: Scene, width: float | None, height: float | None) -> float:
    """How large the scene is drawn [px/in]."""
    left, low, right, high = scene.bounds()
    if width is None and scene.scale is not None:
        return scene.scale
    scale = ((UNASKED if width is None else width) - 2 * MARGIN) / max(right - left, 1e-9)
    return scale if height is None else min(scale, (height - 2 * MARGIN) / max(high - low, 1e-9))


def png(scene: Scene, width: float | None = None, scale: float = 2.0) -> bytes:
    """The scene as a PNG picture on light paper.

    Parameters
    ----------
    scene : what is drawn.
    width : of the page; left out, as in `svg`. [px]
    scale : dots to a pixel.

    Examples
    --------
    >>> from planner.drawings.scene import rectangle
    >>> png(Scene((rectangle(0, 0, 2, 1),), "a box"))[1:4]
    b'PNG'
    """
    import vl_convert  # only here: nobody else pays for it

    return vl_convert.svg_to_png(svg(scene, width), scale=scale)


def _page(place: Placement) -> _Page:
    across = -place.scale if place.mirror else place.scale
    return _Page(place, _Axis(place.x, across), _Axis(-place.y, -place.scale))


def _shapes(shapes: Iterable[Shape], page: _Page) -> Iterator[str]:
    for shape in shapes:
        if isinstance(shape, Path):
            yield _path(shape, page)
        elif isinstance(shape, Text):
            yield _line_of_text(shape, page)
        elif isinstance(shape, Dimension):
            yield from _shapes(parts(shape), page)
        else:
            yield _group(shape, page)


def _group(group: Group, page: _Page) -> str:
    """Shapes that move together; of paths that are not turned, what is written of them wherever they stand."""
    at, name = group.placement, f"<title>{_text(group.name)}</title>" if group.name else ""
    paths = tuple(s for s in group.shapes if isinstance(s, Path))
    if len(paths) == len(group.shapes) and not at.rotation:
        within = _within(page.place, at)
        inner = _paths(paths, within.scale, within.mirror)
        return f'<g transform="translate({_n(within.x)} {_n(-within.y)})">{name}{inner}</g>'
    if at.rotation or at.mirror:
        inner = "\n".join(_shapes((moved(s, at) for s in group.shapes), page))
    else:
        inner = "\n".join(_shapes(group.shapes, _page(_within(page.place, at))))
    return f"<g>{name}{inner}</g>" if name else inner


@lru_cache(maxsize=1024)
def _paths(paths: tuple[Path, ...], scale: float, mirror: bool) -> str:
    """Paths about their origin; kept, as the same profiles are cut at both ends of every wall that they run along."""
    return "".join(_shapes(paths, _page(Placement(scale=scale, mirror=mirror))))


def _within(page: Placement, at: Placement) -> Placement:
    """Where a figure goes that is placed within another, neither of them turned."""
    x, y = page.point((at.x, at.y))
    return Placement(x, y, scale=page.scale * at.scale, mirror=page.mirror is not at.mirror)


def _path(path: Path, page: _Page) -> str:
    classes = [f"l-{path.layer}"] if path.line else []
    if path.fill:
        classes.append(f"f-{path.fill}")
    drawn = f'<path class="{" ".join(classes)}" d="{_track(path, page)}"'
    return f"{drawn}><title>{_text(path.name)}</title></path>" if path.name else f"{drawn}/>"


def _track(path: Path, page: _Page) -> str:
    """The path's d attribute on the page; a segment that does not begin where the last ended starts anew."""
    place, x, y = page
    words: list[str] = []
    at = NOWHERE
    for s in path.segments:
        if isinstance(s, Box):
            left = x[s.x0]
            words.append(f"M{left} {y[s.y0]}H{x[s.x1]}V{y[s.y1]}H{left}Z")
            at = NOWHERE
            continue
        if isinstance(s, Ring):
            words.append(f"M{'L'.join([f'{x[a]} {y[b]}' for a, b in s.corners])}Z")
            at = NOWHERE
            continue
        start, end = s.start, s.end
        if abs(start[0] - at[0]) > NOISE or abs(start[1] - at[1]) > NOISE:
            words.append(f"M{x[start[0]]} {y[start[1]]}")
        at = end
        if not isinstance(s, Line):
            words.append(f"A{_bend(s, place)} {x[end[0]]} {y[end[1]]}")
        elif end[1] == start[1]:
            words.append(f"H{x[end[0]]}")
        elif end[0] == start[0]:
            words.append(f"V{y[end[1]]}")
        else:
            words.append(f"L{x[end[0]]} {y[end[1]]}")
    return "".join([*words, "Z"] if path.closed else words)


def _bend(s: Curve, place: Placement) -> str:
    """The half axes and the turn of an arc on the page, and which way round it goes."""
    arc = place.segment(s)
    assert not isinstance(arc, Line)
    return f"{_n(arc.rx)} {_n(arc.ry)} {_n(-arc.rotation)} {int(abs(arc.sweep) > 180)} {int(arc.sweep < 0)}"


def _line_of_text(text: Text, page: _Page) -> str:
    x, y = page.x[text.x], page.y[text.y]
    turn = f' transform="rotate({_n(-text.rotation)} {x} {y})"' if text.rotation % 360 else ""
    weight = ' font-weight="600"' if text.bold else ""
    return (
        f'<text class="t-{text.layer}" x="{x}" y="{y}" font-size="{_n(text.size * page.place.scale)}" '
        f'text-anchor="{text.anchor}"{weight}{turn}>{_text(text.text)}</text>'
    )


@lru_cache(maxsize=4096)
def _n(value: float) -> str:
    return f"{round(value, 2) + 0.0:.8g}"


@lru_cache(maxsize=4096)
def _text(text: str) -> str:
    return escape(_NOT_XML.sub("?", text))


def _style() -> str:
    """Colours on light paper and on dark, and widths of lines by how often they are thinned; the same everywhere."""
    widths = "".join(
        f".w{steps} .l-{layer}{{stroke-width:{_n(theme.pixels(line, steps))}px}}"
        for steps in range(theme.MOST_THINNED + 1)
        for layer, line in LAYERS.items()
    )
    light, dark = (
        [(f".l-{layer}", "stroke", ink(layer, on)) for layer in LAYERS]
        + [(f".t-{layer}", "fill", ink(layer, on)) for layer in LAYERS]
        + [(f".f-{fill}", "fill", colour(fill, on)) for fill in FILLS]
        for on in (False, True)
    )
    day = "".join(f".drawing {name}{{{what}:{value}}}" for name, what, value in light)
    media = "".join(f".drawing:not(.light .drawing) {name}{{{what}:{value}}}" for name, what, value in dark)
    marked = "".join(f".dark .drawing {name}{{{what}:{value}}}" for name, what, value in dark)
    lines = ".drawing path{fill:none;vector-effect:non-scaling-stroke}"
    return f"{lines}{widths}{day}@media (prefers-color-scheme:dark){{{media}}}{marked}"


STYLE = _style()
"""How drawings are dressed: widths of lines, inks and fills, by day and by night."""
