"""What is drawn of six periods is what was last looked at; a change is shown as a picture of the difference."""

import tempfile
from dataclasses import replace
from pathlib import Path
from random import Random
from xml.etree import ElementTree

import pytest

from planner.drawings.page import room_sheet
from planner.drawings.scene import Group, Scene, Text, moved
from planner.drawings.scene import Path as Shape
from planner.drawings.svg import svg
from planner.mouldings.curves import Placement
from tests.drawings import golden
from tests.drawings.golden import difference, picture, primitives, tolerance
from tests.drawings.rooms import laid_out


@pytest.mark.parametrize(("style", "kind"), golden.names(), ids=lambda word: word)
def test_a_golden_drawing_is_drawn_as_it_was(style, kind):
    """After a change that is meant, `python -m tests.drawings.golden` writes the drawings anew."""
    kept, document = golden.file(style, kind).read_text("utf-8"), golden.drawn(style, kind)
    found = difference(primitives(kept), primitives(document), tolerance(kept))
    if found:
        seen = Path(tempfile.mkdtemp(prefix="drawings-")) / golden.file(style, kind).name
        seen.write_text(picture(found, document), "utf-8")
        pytest.fail(f"{len(found.gone)} gone and {len(found.added)} added, seen in {seen}", pytrace=False)


@pytest.fixture(scope="module")
def scene():
    *_, walls = next(laid_out(7))
    return room_sheet(walls)


def moved_by(scene, by):
    """The scene with the last path of its first wall moved along the wall [in]."""
    first = next(s for s in scene.shapes if isinstance(s, Group))
    last = max(n for n, s in enumerate(first.shapes) if isinstance(s, Shape) and s.layer == "edge")
    shapes = list(first.shapes)
    shapes[last] = moved(shapes[last], Placement(by))
    return replace(scene, shapes=tuple(replace(first, shapes=tuple(shapes)) if s is first else s for s in scene.shapes))


def compared(one: Scene, other: Scene):
    before, after = svg(one), svg(other)
    return difference(primitives(before), primitives(after), tolerance(before))


def test_what_is_drawn_is_made_of_lines_arcs_fills_and_texts(scene):
    found = primitives(svg(scene))
    assert {p.kind for p in found} == {"line", "arc", "fill", "text"}
    words = {p.look.split("|")[3] for p in found if p.kind == "text"}
    assert {s.text for s in scene.shapes if isinstance(s, Text)} <= words


def test_a_sixteenth_of_an_inch_is_a_difference_and_a_hundredth_is_none(scene):
    found = compared(scene, moved_by(scene, 1 / 16))
    assert found and len(found.gone) == len(found.added)
    assert not compared(scene, moved_by(scene, 0.01))
    assert not compared(scene, scene)


def test_the_order_of_what_is_drawn_and_how_lines_are_gathered_make_no_difference(scene):
    apart = [
        replace(s, shapes=tuple(one for shape in s.shapes for one in taken_apart(shape))) if isinstance(s, Group) else s
        for s in scene.shapes
    ]
    Random(1).shuffle(apart)
    assert not compared(scene, replace(scene, shapes=tuple(apart)))


def taken_apart(shape):
    """A path of lines alone as so many paths, the last line first."""
    if isinstance(shape, Shape) and shape.fill is None and not shape.closed:
        return [replace(shape, segments=(segment,)) for segment in reversed(shape.segments)]
    return [shape]


def test_another_word_is_a_difference(scene):
    shapes = [s._replace(text=f"{s.text}!") if isinstance(s, Text) else s for s in scene.shapes]
    found = compared(scene, replace(scene, shapes=tuple(shapes)))
    assert found.gone and all(p.kind == "text" for p in (*found.gone, *found.added))


def test_the_picture_of_a_difference_tells_without_colour(scene):
    found = compared(scene, moved_by(scene, 1.0))
    root = ElementTree.fromstring(picture(found, svg(scene)))
    same, gone, added = root.findall("{http://www.w3.org/2000/svg}g")
    assert gone.get("stroke-dasharray") and not added.get("stroke-dasharray") and not same.get("stroke-dasharray")
    assert [len(list(g)) for g in (same, gone, added)] == [len(part) for part in found]
    assert float(added.get("stroke-width")) > float(same.get("stroke-width"))


def test_every_period_has_four_drawings_and_none_is_left_over():
    assert len(golden.names()) == 24
    assert {path.name for path in golden.FOLDER.glob("*.svg")} == {golden.file(*name).name for name in golden.names()}
