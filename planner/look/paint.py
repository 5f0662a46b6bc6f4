"""Colours of what is drawn: the ink of a line, and fills as paper with some ink in it."""

from planner.look import theme

INK_IN_FILL = {"paper": 0.0, "wood": 0.10, "wall": 0.05, "light": 0.03, "mid": 0.08, "dark": 0.17}
"""How much ink is mixed into the paper of each fill, 0 to 1."""


def colour(fill: str, dark: bool = False) -> str:
    """The #rrggbb of a fill: paper with some ink in it."""
    look, share = theme.palette(dark), INK_IN_FILL[fill]
    channels = (
        round(int(look.paper[i : i + 2], 16) * (1 - share) + int(look.ink[i : i + 2], 16) * share) for i in (1, 3, 5)
    )
    return "#" + "".join(f"{c:02x}" for c in channels)


def ink(layer: str, dark: bool = False) -> str:
    """The #rrggbb that a layer's lines are drawn in."""
    look = theme.palette(dark)
    return look.soft if layer in ("dimension", "fine", "shade") else look.ink
