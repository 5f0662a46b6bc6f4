"""One scene, three ways out: SVG, DXF and PNG say the same."""

import io
import re
import struct
from dataclasses import replace
from xml.etree import ElementTree

import ezdxf
import pytest

from planner.drawings.dxf import document, dxf
from planner.drawings.ladder import ladder
from planner.drawings.scene import FILLS, LAYERS, Dimension, Group, Path, Ring, Scene, Text, circle, flat, rectangle
from planner.drawings.section import element_section
from planner.drawings.svg import MARGIN, png, svg
from planner.look import theme
from planner.mouldings.curves import Arc, EllipseArc, Line, Placement
from planner.mouldings.members import profile
from planner.mouldings.outlines import outline
from tests.drawings.golden import difference, primitives
from tests.known import parse_members
from tests.walls.trim import profiles, trim

SVG = "{http://www.w3.org/2000/svg}"
NASTY = 'Ann\'s <script>alert("1")</script> & Co\x00 %%c "❦"'


@pytest.fixture(scope="module")
def scene() -> Scene:
    moulding = outline(profile(parse_members("greek ovolo 1 x 2; fillet 1/4 x 2; cyma recta 1 x 3; fillet 1/4")))
    return Scene(
        (
            Path(moulding, "cut", True, "wood", name=NASTY),
            Group((Path(moulding, "edge", True),), Placement(10.0, 1.0, rotation=90.0, mirror=True), "turned"),
            circle((5.0, 5.0), 1.0),
            rectangle(0.0, 4.0, 2.0, 1.0, "shade", "dark", line=False),
            Dimension((0.0, 0.0), (2.5, 0.0), -1.0, 0.3, '2 1/2"'),
            Text(1.0, 3.0, NASTY, 0.3),
        ),
        NASTY,
        NASTY,
    )


@pytest.fixture(scope="module")
def drawings(scene) -> list[Scene]:
    packages = [trim(tier, style="greek revival") for tier in range(1, 6)]
    drawn = {package: profiles(package) for package in packages}
    state = [e for e in packages[-1].elements if e.element in ("crown", "base", "casing", "chair rail")]
    found = [scene, ladder(packages, drawn)]
    return found + [element_section(e, drawn[packages[-1]][e.element]) for e in state]


def test_svg_is_well_formed_and_its_text_is_text(drawings):
    for drawing in drawings:
        root = ElementTree.fromstring(svg(drawing))
        assert root.find(f"{SVG}title").text
        assert not root.findall(f".//{SVG}script")
        words = {t.text for t in root.iter(f"{SVG}text")}
        for shape in flat(drawing.shapes):
            if isinstance(shape, Text):
                assert shape.text.replace("\x00", "?") in words
            elif isinstance(shape, Dimension) and shape.text:
                assert shape.text in words


def test_svg_fits_its_box_and_lines_keep_their_width(scene):
    root = ElementTree.fromstring(svg(scene, width=400, height=300))
    assert float(root.get("width")) <= 400.01
    assert float(root.get("height")) <= 300.01
    paths = list(root.iter(f"{SVG}path"))
    known = {f"l-{layer}" for layer in LAYERS} | {f"f-{fill}" for fill in FILLS}
    assert paths
    assert all(set(p.get("class").split()) <= known for p in paths)
    assert ".drawing path{fill:none;vector-effect:non-scaling-stroke}" in root.find(f"{SVG}style").text


@pytest.mark.parametrize(("scale", "steps"), [(96.0, 0), (24.0, 0), (12.0, 1), (4.0, 2), (2.0, 2)])
def test_lines_are_thinned_with_the_scale_in_either_format(scale, steps):
    """Widths of lines at each scale: a step of root two each time that it is halved (ISO 128, from memory)."""
    drawn = Scene((rectangle(0, 0, 100, 50),), "a box", scale=scale)
    root = ElementTree.fromstring(svg(drawn))
    assert float(root.get("width")) == pytest.approx(100 * scale + 2 * MARGIN)
    assert f"w{steps}" in root.get("class").split()
    rules = dict(re.findall(rf"\.w{steps} \.l-(\w+){{stroke-width:([\d.]+)px}}", root.find(f"{SVG}style").text))
    layers = document(drawn).layers
    for layer, line in LAYERS.items():
        wanted = max(0.35, theme.LINES[line] * 4 / 3 / 2 ** (steps / 2))
        assert float(rules[layer]) == pytest.approx(wanted, abs=0.006)
        assert layers.get(layer.upper()).dxf.lineweight / 100 == pytest.approx(wanted * 25.4 / 96, abs=0.02)


def test_svg_keeps_arcs_and_every_point_lies_on_the_page(scene):
    root = ElementTree.fromstring(svg(scene))
    width, height = float(root.get("width")), float(root.get("height"))
    tracks = [p.get("d") for p in root.iter(f"{SVG}path")]
    assert any("A" in track for track in tracks)
    for track in tracks:
        for x, y in re.findall(r"[ML](-?[\d.e-]+) (-?[\d.e-]+)", track):
            assert 0 <= float(x) <= width
            assert 0 <= float(y) <= height
        assert all(0 <= float(x) <= width for x in re.findall(r"H(-?[\d.]+)", track))
        assert all(0 <= float(y) <= height for y in re.findall(r"V(-?[\d.]+)", track))


def test_dark_pages_change_ink_and_paper(scene):
    assert theme.DARK.ink in svg(scene)
    assert "prefers-color-scheme:dark" in svg(scene)


def test_dxf_passes_the_audit_in_inches_with_a_layer_for_each_weight(drawings):
    for drawing in drawings:
        doc = ezdxf.read(io.StringIO(dxf(drawing)))
        audit = doc.audit()
        assert not audit.errors
        assert not audit.fixes
        assert doc.units == ezdxf.units.IN
        for layer, line in LAYERS.items():
            steps = theme.thinned(drawing.scale) if drawing.scale else 0
            millimetres = doc.layers.get(layer.upper()).dxf.lineweight / 100
            assert millimetres == pytest.approx(theme.pixels(line, steps) * 25.4 / 96, abs=0.02)


def test_dxf_arcs_are_arcs_ellipses_ellipses_and_lengths_real():
    arc, ellipse = Arc((1.0, 2.0), 0.5, 30.0, 200.0, ccw=False), EllipseArc((0.0, 0.0), 1.0, 2.0, 0.0, 90.0)
    chain = (Line((0.0, 0.0), (1.0, 0.0)), Arc((1.0, 0.5), 0.5, 270.0, 90.0))
    drawn = Scene(
        (Path((arc,)), Path((ellipse,)), Path(chain), Dimension((0, 0), (7.5, 0), 1.0, 1.0, '7 1/2"')), "arcs"
    )
    space = document(drawn).modelspace()
    (circle_,) = space.query("ARC")
    assert {(round(p.x, 9), round(p.y, 9)) for p in (circle_.start_point, circle_.end_point)} == {
        (round(x, 9), round(y, 9)) for x, y in (arc.start, arc.end)
    }
    (conic,) = space.query("ELLIPSE")
    assert {(round(p.x, 9) + 0, round(p.y, 9) + 0) for p in (conic.start_point, conic.end_point)} == {(1, 0), (0, 2)}
    (poly,) = space.query("LWPOLYLINE")
    assert [b for *_, b in poly.get_points("xyb")] == pytest.approx([0.0, 1.0, 0.0])
    (dimension,) = space.query("DIMENSION")
    assert dimension.get_measurement() == pytest.approx(7.5)


def test_dxf_and_scene_have_the_same_bounds(scene):
    from ezdxf import bbox

    bare = Scene(tuple(s for s in scene.shapes if isinstance(s, (Path, Group))), "bare")
    box = bbox.extents(document(bare).modelspace())
    assert (box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y) == pytest.approx(bare.bounds(), abs=0.005)


@pytest.mark.parametrize("place", [Placement(), Placement(3.0, 1.0, mirror=True), Placement(3.0, 1.0, rotation=30.0)])
def test_a_rectangle_is_its_four_corners_wherever_it_stands(place):
    box = rectangle(0.0, 4.0, 2.0, 1.0, "edge", "dark")
    whole, ring, sides = (
        Scene((Group((replace(box, segments=segments),), place),), "")
        for segments in (box.segments, (Ring(box.segments[0].corners),), box.sides)
    )
    assert whole.bounds() == ring.bounds() == sides.bounds()
    assert set(primitives(svg(whole))) == set(primitives(svg(ring))) == set(primitives(svg(sides)))
    assert len(primitives(svg(whole))) == 5, "four lines and a fill"
    placed = Scene(tuple(flat(whole.shapes)), "")
    assert not difference(primitives(svg(whole)), primitives(svg(placed)), 0.02)
    (line,) = document(whole).modelspace().query("LWPOLYLINE")
    (other,) = document(ring).modelspace().query("LWPOLYLINE")
    assert line.closed and list(line.get_points()) == list(other.get_points()) and len(line) == 4


def test_png_is_a_picture_of_the_width_asked_for(scene):
    data = png(scene, width=300, scale=2.0)
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    assert struct.unpack(">I", data[16:20])[0] == pytest.approx(600, abs=2)
    assert len(set(data)) > 50
