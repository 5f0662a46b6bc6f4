"""What is drawn gets its colours from one place, without any library that charts or pictures need."""

import subprocess
import sys
from pathlib import Path

import pytest

import planner
from planner.drawings.scene import FILLS, LAYERS
from planner.look import theme
from planner.look.paint import INK_IN_FILL, colour, ink


@pytest.mark.parametrize("dark", [False, True])
def test_a_fill_lies_between_paper_and_ink_by_its_share(dark):
    look = theme.palette(dark)
    assert colour("paper", dark) == look.paper
    for fill, share in INK_IN_FILL.items():
        for i in (1, 3, 5):
            paper, inked, found = (int(c[i : i + 2], 16) for c in (look.paper, look.ink, colour(fill, dark)))
            assert found == pytest.approx(paper + share * (inked - paper), abs=0.5)


def test_every_fill_and_layer_of_a_drawing_has_its_paint():
    assert set(INK_IN_FILL) == set(FILLS)
    assert len({colour(fill) for fill in FILLS}) == len(FILLS)
    soft = {layer for layer in LAYERS if ink(layer) == theme.LIGHT.soft}
    assert soft == {"dimension", "fine", "shade"}
    assert {ink(layer) for layer in set(LAYERS) - soft} == {theme.LIGHT.ink}
    assert {ink(layer, dark=True) for layer in LAYERS} == {theme.DARK.soft, theme.DARK.ink}


@pytest.mark.parametrize(
    ("modules", "unwanted"),
    [
        ("planner, planner.look.theme, planner.look.paint", "altair vl_convert marimo ezdxf"),
        ("planner.drawings.dxf, planner.look.theme", "altair vl_convert"),
        ("planner.drawings.svg", "altair vl_convert"),
    ],
)
def test_drawings_do_without_the_libraries_of_charts(modules, unwanted):
    """A fresh interpreter, since this one has imported everything."""
    script = f"import sys, {modules}; print([name for name in {unwanted.split()} if name in sys.modules])"
    root = Path(planner.__file__).parents[1]
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=root)
    assert done.stdout.strip() == "[]"
