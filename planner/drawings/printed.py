"""Shapes as SVG for paper: in ink on nothing, exactly as large as their scale says. Lengths in inches."""

from collections.abc import Iterable

from planner.drawings.scale import Scale
from planner.drawings.scene import FILLS, LAYERS, Box, Shape
from planner.drawings.svg import body
from planner.look import theme
from planner.look.paint import colour, ink
from planner.mouldings.curves import Placement

MOST_THINNED = 1
"""By so many steps of root two lines are thinned on paper at most: the thinnest is then 0.09 mm wide, and prints."""


def printed(shapes: Iterable[Shape], box: Box, scale: Scale) -> str:
    """Shapes as an SVG document of just their box, what lies outside it cut off.

    Parameters
    ----------
    shapes : what is drawn, laid out for the scale.
    box : the part that is shown. [in]
    scale : that it is printed at; a pixel of the document is 1/96 in of paper.

    Examples
    --------
    >>> from planner.drawings.scene import rectangle
    >>> printed([rectangle(0, 0, 24, 12)], Box(0, 0, 24, 12), Scale(24, "in"))[:76]
    '<svg xmlns="http://www.w3.org/2000/svg" width="96" height="48" viewBox="0 0 '
    """
    wide, high = (box.x1 - box.x0) * scale.pixels, (box.y1 - box.y0) * scale.pixels
    drawn = body(shapes, Placement(-box.x0 * scale.pixels, -box.y1 * scale.pixels, scale=scale.pixels))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.8g}" height="{high:.8g}" '
        f'viewBox="0 0 {wide:.8g} {high:.8g}" font-family="{theme.PRINT_FONT}" stroke-linejoin="round" '
        f'stroke-linecap="round"><style>{_style(scale)}</style>\n{drawn}\n</svg>\n'
    )


def _style(scale: Scale) -> str:
    """Widths of lines for a scale, inks and fills; the paper itself is left bare but where it covers something."""
    steps = min(theme.thinned(scale.pixels), MOST_THINNED)
    lines = (
        f".l-{layer}{{stroke:{ink(layer)};stroke-width:{theme.pixels(line, steps):.3g}px}}"
        f".t-{layer}{{fill:{ink(layer)}}}"
        for layer, line in LAYERS.items()
    )
    fills = (f".f-{fill}{{fill:{'#ffffff' if fill == 'paper' else colour(fill)}}}" for fill in FILLS)
    return "".join(("path{fill:none}", *lines, *fills))
