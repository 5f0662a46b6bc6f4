"""The floor plan is to scale and says what the plan says, room by room and opening by opening."""

from dataclasses import replace
from itertools import pairwise
from math import dist, pi
from xml.etree import ElementTree

import pandas as pd
import pytest
import vl_convert

from planner import Plan, charts, plan
from planner.charts.label_box import contains, label_box
from planner.charts.opening_signs import LEAST_LEAF
from planner.charts.rooms import HINT, PICK_LAYER, READOUT
from planner.look import theme
from planner.planning import frames
from tests.charts.reading import layers, lines, picked, rows, told, words, written
from tests.laid_out_houses import laid_out_house

SQUARE = {"level": "Ground", "entry": False, "unit": "in"}
SQUARE |= {"length_text": "10'", "width_text": "10'", "ceiling_text": "9'"}
SQUARE |= {"depth": 0, "importance": 0.5, "tier": 2, "tier_name": "Chamber", "tiers": 5}
WIDTH = 268
"""A sheet this wide draws one room of 120 in at 2 px/in, its north-west corner at 10, 10."""

WALLS = {
    "S": {"x1": 80.0, "y1": 0.0, "x2": 40.0, "y2": 0.0},
    "W": {"x1": 0.0, "y1": 40.0, "x2": 0.0, "y2": 80.0},
    "N": {"x1": 40.0, "y1": 120.0, "x2": 80.0, "y2": 120.0},
    "E": {"x1": 120.0, "y1": 80.0, "x2": 120.0, "y2": 40.0},
}
"""An opening of 40 in in each wall, from its left jamb to its right one, seen from inside."""


def square(name: str = "Hall", west: float = 0.0, south: float = 0.0, side: float = 120.0, **more) -> dict:
    corners = ((west, south), (west, south + side), (west + side, south + side), (west + side, south))
    return {"room": name, "outline": corners, **SQUARE, **more}


def one_room(**opening) -> charts.FinishedChart:
    """A plan of one room with one opening."""
    opening = {"kind": "door", "room": "Hall", "main": False} | opening
    return charts.floor_plan(pd.DataFrame([square()]), pd.DataFrame([opening]), width=WIDTH)


def signs(chart: charts.FinishedChart) -> list[dict]:
    """Lines but for the scale bar, the only one with four corners, from where the levels begin."""
    return [line | {"at": raised(line["at"])} for line in lines(chart) if len(line["at"]) != 4]


def raised(line: list[list[float]]) -> list[list[float]]:
    """Places on the sheet from where the levels begin, below the line that tells of the picked room."""
    return [[x, round(y - READOUT, 2)] for x, y in line]


def gaps(chart: charts.FinishedChart) -> list[list[list[float]]]:
    """The lines that take a wall away."""
    bare = [layer for layer in layers(chart, "geoshape") if layer["mark"].get("stroke") == theme.LIGHT.paper]
    lines = [line for layer in bare for row in layer["data"]["values"] for line in row["geometry"]["coordinates"]]
    return [raised(line) for line in lines]


def pick_layer(chart: charts.FinishedChart) -> dict:
    """The layer that is clicked."""
    (found,) = (layer for layer in chart.to_dict()["layer"] if layer.get("name") == PICK_LAYER)
    return found


def shapes(chart: charts.FinishedChart) -> dict[str, dict]:
    """Each room's shape, from where the levels begin."""
    found = {}
    for row in pick_layer(chart)["data"]["values"]:
        rings = [raised(ring) for ring in row["geometry"]["coordinates"]]
        found[row["properties"]["room"]] = row | {"geometry": {"coordinates": rings}}
    return found


def labels(chart: charts.FinishedChart) -> list[dict]:
    """Rows of text, from where the levels begin."""
    return [row | {"y": round(row["y"] - READOUT, 2)} for row in words(chart) if "y" in row]


@pytest.fixture(scope="module")
def demo(planned) -> charts.FinishedChart:
    return charts.floor_plan(frames.rooms(planned), frames.openings(planned), width=390)


def test_it_is_to_scale_and_labels_lie_inside(planned, demo):
    scales = set()
    for name, shape in shapes(demo).items():
        xs = [x for x, _ in shape["geometry"]["coordinates"][0]]
        corners = [x for x, _ in planned.by_name[name].room.corners]
        scales.add(round((max(xs) - min(xs)) / (max(corners) - min(corners)), 2))
        assert min(xs) >= 0
        assert max(xs) <= 390
    assert max(scales) - min(scales) <= 0.011
    for planned_room in planned.rooms:
        box = label_box(planned_room.room.corners)
        room = planned_room.room
        assert 0 < box.width * box.height <= room.area + 1e-6
        assert contains(room.corners, (box.x, box.y))


def test_north_is_up_and_east_right():
    rooms = pd.DataFrame([square("Hall"), square("North", south=120.0), square("East", west=120.0)])
    at = {name: s["geometry"]["coordinates"][0][0] for name, s in shapes(charts.floor_plan(rooms, width=508)).items()}
    assert at == {"Hall": [10, 490], "North": [10, 250], "East": [250, 490]}
    for shape in shapes(charts.floor_plan(rooms)).values():
        ring = shape["geometry"]["coordinates"][0]
        assert (len(ring), ring[0]) == (5, ring[-1])


def test_the_scale_bar_is_as_long_as_it_says():
    chart = one_room(**WALLS["S"])
    (said,) = (row["text"] for row in words(chart) if row["text"].endswith(" ft"))
    ((x0, _), _, _, (x1, _)) = next(line["at"] for line in lines(chart) if len(line["at"]) == 4)
    assert (said, x1 - x0) == ("2 ft", 48)
    wide = charts.floor_plan(pd.DataFrame([square(side=1200.0)]), width=WIDTH)
    assert "20 ft" in {row["text"] for row in words(wide)}
    metric = charts.floor_plan(pd.DataFrame([square(unit="cm")]), width=WIDTH)
    ((x0, _), _, _, (x1, _)) = next(line["at"] for line in lines(metric) if len(line["at"]) == 4)
    assert "1 m" in {row["text"] for row in words(metric)}
    assert x1 - x0 == pytest.approx(2 * 1000 / 25.4, abs=0.1)


def test_a_click_or_a_tap_picks_a_room(planned, demo):
    (param,) = demo.to_dict()["params"]
    assert param["name"] == charts.PICK
    assert param["select"] == {"type": "point", "fields": [charts.PICK_FIELD], "on": "click, touchend"}
    (layer,) = (each for each in demo.to_dict()["layer"] if each.get("name") in param["views"])
    assert [row["properties"]["room"] for row in layer["data"]["values"]] == list(planned.by_name)


def test_a_picked_room_and_the_selected_one_are_outlined(planned):
    rooms = frames.rooms(planned)
    chart = charts.floor_plan(rooms, selected="Library")
    width = pick_layer(chart)["encoding"]["strokeWidth"]
    (condition,) = width["condition"]
    assert (width["value"], condition["param"], condition["empty"]) == (0, charts.PICK, False)
    assert condition["value"] > 3 * layers(chart, "geoshape")[0]["mark"]["strokeWidth"]
    assert picked(chart) == ["Library"]
    assert picked(charts.floor_plan(rooms)) == picked(charts.floor_plan(rooms, selected="Barn")) == []
    drawn = ElementTree.fromstring(vl_convert.vegalite_to_svg(chart.to_dict()))
    strong = [e for e in drawn.iter() if float(e.get("stroke-width", 0)) == pytest.approx(condition["value"])]
    assert len(strong) == 1


def test_what_is_clicked_lies_above_all_that_is_drawn(demo):
    """Else a click on a name, a door or a gap in a wall would pick nothing."""
    names = [layer.get("name") for layer in demo.to_dict()["layer"]]
    kinds = [layer["mark"]["type"] for layer in demo.to_dict()["layer"]]
    assert kinds[names.index(PICK_LAYER) :] == ["geoshape", "text", "text"]
    assert pick_layer(demo)["mark"]["fill"] == "transparent"


def test_the_picked_room_is_told_without_hovering(planned):
    def lines(chart: charts.FinishedChart) -> list[str]:
        drawn = ElementTree.fromstring(vl_convert.vegalite_to_svg(chart.to_dict()))
        return [e.text for e in drawn.iter() if e.text and e.get("opacity") != "0"]

    rooms = frames.rooms(planned)
    small = {"width": 342, "height": 300}
    none, linen = charts.floor_plan(rooms, **small), charts.floor_plan(rooms, selected="Linen Closet", **small)
    assert told(none) == {
        name: f"{name}: {r.tier} {planned.tier_names[r.tier - 1]}" for name, r in planned.by_name.items()
    }
    assert HINT in lines(none)
    assert "Linen Closet: 1 Service" not in lines(none)
    assert HINT not in lines(linen)
    assert "Linen Closet: 1 Service" in lines(linen)


def test_the_code_of_a_picked_room_is_told_with_its_name(planned):
    chart = charts.floor_plan(frames.rooms(planned), width=390)
    codes = {row["text"] for row in words(chart)}
    coded = {room: text.split(", ")[0] for room, text in told(chart).items() if f", {room}: " in text}
    assert len(coded) > 2
    assert set(coded.values()) < codes


def test_it_shows_the_plans_own_tiers(planned):
    cottage = plan(planned.house, replace(planned.intent, grade="cottage"))
    assert _tiers(planned) != _tiers(cottage)
    for one in (planned, cottage):
        assert _tiers(one) == {name: f"{r.tier} {one.tier_names[r.tier - 1]}" for name, r in one.by_name.items()}


def _tiers(planned: Plan) -> dict[str, str]:
    drawn = shapes(charts.floor_plan(frames.rooms(planned)))
    return {name: shape["properties"]["tier"] for name, shape in drawn.items()}


@pytest.mark.parametrize("dark", [False, True])
def test_rooms_have_their_tiers_colours_and_the_legend_says_which(planned, dark):
    chart, ramp = charts.floor_plan(frames.rooms(planned), dark=dark), theme.ramp(len(planned.tier_names), dark)
    for name, shape in shapes(chart).items():
        assert shape["properties"]["fill"] == ramp[planned.by_name[name].tier - 1]
    squares = [row for row in rows(chart) if row.get("shape") == "square"]
    tiers = sorted({r.tier for r in planned.rooms}, reverse=True)
    assert [row["fill"] for row in squares] == [ramp[tier - 1] for tier in tiers]
    for row, tier in zip(squares, tiers, strict=True):
        beside = [w["text"] for w in words(chart) if w["y"] == row["y"] and 0 < w["x"] - row["x"] < 15]
        assert beside == [f"{tier} {planned.tier_names[tier - 1]}"]


def test_tooltips_tell_tier_importance_and_sizes(planned, demo):
    said, room = shapes(demo)["Entry Hall"]["properties"], planned.by_name["Entry Hall"]
    assert said["importance"] == round(room.importance, 2)
    assert (said["size"], said["ceiling"]) == ("12'-0\" by 11'-0\"", "10'-0\"")
    channels = pick_layer(demo)["encoding"]["tooltip"]
    assert [channel["title"] for channel in channels] == ["room", "tier", "importance", "size", "ceiling"]


def test_rooms_without_an_outline_are_named_below_the_plan(planned):
    rooms = frames.rooms(planned)
    left_out = rooms["room"].iloc[2]
    rooms.at[2, "outline"] = ()
    chart = charts.floor_plan(rooms, frames.openings(planned))
    assert f"Withoutanoutline:{''.join(left_out.split())}" in written(chart)
    assert left_out not in shapes(chart)
    assert "Without" not in written(charts.floor_plan(frames.rooms(planned)))


def test_a_house_without_outlines_says_so(planned):
    rooms = frames.rooms(planned)
    rooms["outline"] = [()] * len(rooms)
    assert "hasanoutline" in written(charts.floor_plan(rooms))


def test_one_level_is_drawn_alone(planned):
    for level in planned.house.levels:
        chart = charts.floor_plan(frames.rooms(planned), frames.openings(planned), level=level)
        assert chart.to_dict()["title"]["text"][0].startswith(f"{level}: ")
        on_level = {room.name for room in planned.house.rooms if room.level == level}
        assert set(shapes(chart)) == on_level
        assert level not in {row["text"] for row in words(chart)}
        openings = frames.openings(planned)
        assert len(gaps(chart)) == (openings["room"].isin(on_level) & (openings["kind"] != "fireplace")).sum() > 0
        corners = {tuple(p) for shape in shapes(chart).values() for p in shape["geometry"]["coordinates"][0]}
        (west, east), (north, south) = ((min(each), max(each)) for each in zip(*corners, strict=True))
        assert all(west <= x <= east and north <= y <= south for gap in gaps(chart) for x, y in gap)


@pytest.mark.parametrize("height", [340, 420, 480])
def test_the_arrow_to_the_north_is_clear_of_the_tiers(height):
    """However long the shortest bar is: a single small room fills the sheet."""
    rooms = pd.DataFrame([square(side=3700 / 25.4) | {"unit": "mm"}])
    chart = charts.floor_plan(rooms, pd.DataFrame(), width=620, height=height)
    (north,) = (row for row in words(chart) if row["text"] == "↑ N")
    (named,) = (row for row in words(chart) if row["text"] == "2 Chamber" and row["y"] > north["y"] - 12)
    swatch = named["x"] - 11 - 6
    assert north["x"] + theme.text_width("↑ N", theme.TEXT["label"]) <= swatch


@pytest.mark.parametrize("across", [False, True])
def test_levels_stand_apart_each_under_its_name(across):
    rooms = pd.DataFrame([square("Hall"), square("Landing", level="Upper", side=60.0)])
    chart = charts.floor_plan(rooms, across=across, width=528)
    (x0, y0, w0, h0), (x1, y1, w1, h1) = (_box(s) for s in shapes(chart).values())
    assert w1 == pytest.approx(w0 / 2, abs=0.1)
    if across:
        assert (y1, x1) == (y0, pytest.approx(x0 + w0 + 20, abs=0.1))
        assert x1 + w1 == pytest.approx(510, abs=0.1)
    else:
        assert (x1, y1) == (x0, y0 + h0 + 40)
        assert x0 + w0 == 510
    (north,) = (row for row in labels(chart) if row["text"] == "↑ N")
    assert north["y"] > max(y0 + h0, y1 + h1) + 10
    heads = {row["text"]: row for row in labels(chart) if row["text"] in ("Ground", "Upper")}
    assert (heads["Ground"]["x"], heads["Upper"]["x"]) == (x0, x1)
    assert (heads["Ground"]["y"] - y0, heads["Upper"]["y"] - y1) == (-22, -22)
    assert chart.to_dict()["height"] > north["y"] + 20


def _box(shape: dict) -> tuple[float, float, float, float]:
    xs, ys = zip(*shape["geometry"]["coordinates"][0], strict=True)
    return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


@pytest.mark.parametrize(
    ("name", "side", "texts", "size"),
    [
        ("Conservatory", 48.0, ["2 Chamber", "Conservatory"], 13),
        ("Conservatory", 44.0, ["2 Chamber", "Conservatory"], 12),
        ("Conservatory", 38.0, ["2 Chamber", "Conservatory"], 10),
        ("Conservatory", 36.0, ["2 Chamber", "Conservatory"], 10),
        ("Conservatory", 30.0, ["2a"], 12),
        ("Closet", 21.0, ["2", "Closet"], 11),
        ("Closet", 7.5, ["2a"], 12),
        ("Closet", 6.5, ["2a"], 10),
        ("Closet", 6.0, ["2"], 12),
        ("Closet", 2.0, [], 0),
    ],
)
def test_labels_shrink_before_they_give_way_to_a_key(name, side, texts, size):
    """In the largest type that holds the name, with the tier's number alone where its name is too long; where a key
    does not fit either there is the tier alone, or nothing.
    """
    rooms = [square(), square(name, west=120.0, side=side)]
    chart = charts.floor_plan(pd.DataFrame(rooms), width=round(2 * (120 + side)) + 28)
    inside = [row for row in labels(chart) if row["x"] == 250 + side]
    assert [(row["text"], row["size"]) for row in inside] == [(text, size) for text in texts]
    middle = sum(row["y"] for row in inside) / max(1, len(inside))
    assert not inside or middle == pytest.approx(250 - side, abs=0.1)
    assert (f"{name},Chamber" in written(chart)) is (texts == ["2a"])


def test_a_room_too_low_for_its_label_gets_a_key():
    low = square() | {"outline": ((0.0, 120.0), (0.0, 131.0), (120.0, 131.0), (120.0, 120.0)), "room": "Passage"}
    chart = charts.floor_plan(pd.DataFrame([square(), low]), width=WIDTH)
    assert [row["text"] for row in labels(chart) if (row["x"], row["y"]) == (130, 21)] == ["2a"]
    assert "Passage,Chamber" in written(chart)


def test_the_tier_stands_above_the_name_in_bold():
    chart = charts.floor_plan(pd.DataFrame([square()]), width=WIDTH)
    bold = {row["text"] for row in words(chart) if row["weight"] == "bold"}
    assert bold == {"2 Chamber", "↑ N"}
    tier, name = (next(row for row in words(chart) if row["text"] == text) for text in ("2 Chamber", "Hall"))
    assert name["y"] - tier["y"] == pytest.approx(1.2 * 13)
    assert tier["ink"] == name["ink"] == theme.text_on(theme.ramp(5)[1])


def test_keys_stand_before_their_names(planned):
    chart = charts.floor_plan(frames.rooms(planned), width=390)
    by_place = [row for row in words(chart) if row["y"] > max(r["y"] for r in words(chart) if r["text"] == "↑ N")]
    keys = [row for row in by_place if row["text"][:1].isdigit() and row["text"][1:].isalpha()]
    assert len(keys) >= 3
    for key in keys:
        name = next(r for r in by_place if r["y"] == key["y"] and r["x"] == key["x"] + 26)
        room = planned.by_name[name["text"].split(",")[0]]
        assert key["text"].startswith(str(room.tier))
        assert planned.tier_names[room.tier - 1] in name["text"]
        assert sum(row["text"] == key["text"] for row in words(chart)) == 2


def test_the_entry_is_marked():
    chart = charts.floor_plan(pd.DataFrame([square(entry=True)]))
    assert "Hallentry" in written(chart)
    named = charts.floor_plan(pd.DataFrame([square("Entry Hall", entry=True)]))
    assert "Hallentry" not in written(named)
    small = charts.floor_plan(pd.DataFrame([square(), square("Porch", west=120.0, side=10.0, entry=True)]), width=268)
    assert "Porch,Chamber,entry" in written(small)


def test_a_door_opens_into_the_room_from_its_left_jamb():
    leaf, arc = signs(one_room(kind="door", **WALLS["S"]))
    assert leaf["at"] == [[170, 250], [170, 170]]
    assert arc["at"][0] == pytest.approx([90, 250])
    assert arc["at"][-1] == pytest.approx([170, 170])
    assert all(dist(point, leaf["at"][0]) == pytest.approx(80, abs=0.01) for point in arc["at"])
    assert sum(dist(a, b) for a, b in pairwise(arc["at"])) == pytest.approx(80 * pi / 2, rel=0.01)
    assert leaf["weight"] == theme.pixels("dimension")
    assert leaf["stroke"] == theme.text_on(theme.ramp(5)[1])


@pytest.mark.parametrize("wall", WALLS)
def test_door_leaves_lie_inside_the_room(wall):
    for kind in ("door", "double door"):
        for line in signs(one_room(kind=kind, **WALLS[wall])):
            assert all(10 - 1e-6 <= c <= 250 + 1e-6 for point in line["at"] for c in point)


def test_a_double_door_has_two_leaves_that_meet():
    left, right, left_arc, right_arc = signs(one_room(kind="double door", **WALLS["S"]))
    assert (left["at"], right["at"]) == ([[170, 250], [170, 210]], [[90, 250], [90, 210]])
    assert left_arc["at"][0] == pytest.approx([130, 250]) == right_arc["at"][0]


def test_a_leaf_too_small_to_see_is_left_out():
    narrow = {"x1": 60.0, "x2": 60.0 - LEAST_LEAF / 2 + 0.5, "y1": 0.0, "y2": 0.0}
    assert signs(one_room(kind="door", **narrow)) == []
    assert len(signs(one_room(kind="door", **narrow | {"x2": 60.0 - LEAST_LEAF / 2}))) == 2


def test_windows_pocket_doors_and_fireplaces_have_their_signs():
    panes = signs(one_room(kind="window", **WALLS["N"]))
    assert [pane["at"] for pane in panes] == [[[90, 8.5], [170, 8.5]], [[90, 11.5], [170, 11.5]]]
    (pocket,) = signs(one_room(kind="pocket door", **WALLS["N"]))
    assert pocket["at"] == [[90, 10], [130, 10]]
    (hearth,) = signs(one_room(kind="fireplace", **WALLS["N"]))
    assert hearth["at"] == [[90, 13], [170, 13]]
    assert hearth["weight"] == 3 * theme.pixels("cut")


def test_openings_are_gaps_in_the_wall_but_for_fireplaces():
    for kind in ("door", "window", "cased opening", "open", "pocket door"):
        gap = layers(one_room(kind=kind, **WALLS["E"]), "geoshape")[1]
        assert gap["mark"]["stroke"] == theme.LIGHT.paper
        assert gap["mark"]["strokeWidth"] > theme.pixels("cut")
        assert gaps(one_room(kind=kind, **WALLS["E"])) == [[[250, 90], [250, 170]]]
    assert signs(one_room(kind="cased opening", **WALLS["E"])) == []
    assert gaps(one_room(kind="fireplace", **WALLS["E"])) == []


def test_an_opening_of_no_width_or_of_no_room_drawn_is_left_out():
    assert signs(one_room(kind="window", x1=40.0, y1=0.0, x2=40.0, y2=0.0)) == []
    assert signs(one_room(kind="window", room="Attic", **WALLS["S"])) == []


@pytest.mark.parametrize(
    ("wall", "at", "angle"), [("S", (130, 255.5), 0), ("W", (4.5, 130), 90), ("N", (130, 4.5), 180)]
)
def test_the_guests_entry_points_into_the_house(wall, at, angle):
    (mark,) = (r for r in rows(one_room(main=True, **WALLS[wall])) if r.get("shape") == "triangle-up")
    assert ((mark["x"], mark["y"] - READOUT), mark["angle"]) == (at, angle)
    assert not any(r.get("shape") == "triangle-up" for r in rows(one_room(main=False, **WALLS[wall])))


def test_the_entry_on_the_east_points_west():
    (mark,) = (r for r in rows(one_room(main=True, **WALLS["E"])) if r.get("shape") == "triangle-up")
    assert ((mark["x"], mark["y"] - READOUT), mark["angle"]) == ((255.5, 130), 270)


MOVED = {"Library": 4, "Mud Room": 1, "Linen Closet": 2, "Dressing Room": 1, "Kitchen": 2}
"""Tiers that rooms of the demo house may have had; the Library's and the Kitchen's have room to say so."""


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize(("width", "height"), [(590, 470), (342, 300), (342, 200), (1000, 300), (300, 900)])
@pytest.mark.parametrize("moved", [None, MOVED])
def test_it_keeps_within_its_height(planned, width, height, moved, dark):
    chart = _whole(planned, width=width, height=height, moved=moved, dark=dark)
    picture = ElementTree.fromstring(vl_convert.vegalite_to_svg(chart.to_dict()))
    assert float(picture.get("height")) <= height
    assert float(picture.get("width")) <= width
    text = written(chart)
    assert all(said in text for said in ("↑N", "ft", "4Principal", "1Service", "Ground", "Upper"))
    assert len(shapes(chart)) == len(planned.rooms)


def _whole(planned: Plan, **options) -> charts.FinishedChart:
    return charts.floor_plan(frames.rooms(planned), frames.openings(planned), **options)


def test_levels_stand_as_they_are_largest_all_at_one_scale(planned):
    def sides(chart: charts.FinishedChart, room: str) -> float:
        return _box(shapes(chart)[room])[2] / planned.by_name[room].room.length

    beside = _whole(planned, width=590, height=470)
    below = _whole(planned, width=342, height=900)
    for chart, others in ((beside, {"across": False}), (below, {"across": True})):
        ground, upper = sides(chart, "Kitchen"), sides(chart, "Principal Bedroom")
        assert ground == pytest.approx(upper, rel=0.01)
        spec = chart.to_dict()
        forced = _whole(planned, width=spec["width"] + 8, height=470 if chart is beside else 900, **others)
        assert sides(forced, "Kitchen") < ground
    assert shapes(beside)["Kitchen"]["geometry"]["coordinates"][0][0][1] < 200
    tops = {
        level: min(_box(s)[1] for n, s in shapes(below).items() if planned.by_name[n].room.level == level)
        for level in planned.house.levels
    }
    assert tops["Upper"] > tops["Ground"] + 200


def test_what_codes_stand_for_is_told_as_far_as_it_fits(planned):
    def keyed(**options) -> tuple[set[str], set[str]]:
        """The codes in rooms, and those whose key is told."""
        found = words(_whole(planned, **options))
        codes = {
            r["text"] for r in found if r["weight"] == "bold" and r["text"][:1].isdigit() and r["text"][1:].isalpha()
        }
        return {r["text"] for r in found if r["align"] == "center"} & codes, {
            r["text"] for r in found if r["align"] == "left"
        } & codes

    inside, below = keyed(width=590, height=470)
    assert inside == below
    assert len(inside) > 5
    inside, below = keyed(width=590, height=380)
    assert len(inside) / 2 <= len(below) < len(inside)
    assert "more:pickaroomforitsname" in written(_whole(planned, width=590, height=380))
    assert keyed(width=342, height=300) == (set(), set())
    assert keyed(width=590, keys=False) == (set(), set())


def test_rooms_that_moved_are_marked_by_shape_and_words(planned):
    chart = _whole(planned, width=590, moved=MOVED | {"Dining Room": planned.by_name["Dining Room"].tier, "Barn": 1})
    inside = [row["text"] for row in words(chart) if row["align"] == "center"]
    assert [text for text in inside if "from" in text] == ["▼ from 4", "▲ from 2"]
    assert sorted(text for text in inside if text[0].isdigit() and text[-1] in "▲▼") == ["1a▼", "2▲", "2▲"]
    chips = [layer for layer in layers(chart, "geoshape") if layer["mark"].get("fill") == theme.LIGHT.paper]
    assert len(chips[0]["data"]["values"][0]["geometry"]["coordinates"]) == len(MOVED)
    said = {
        name: shape["properties"]["tier"]
        for name, shape in shapes(chart).items()
        if "from" in shape["properties"]["tier"]
    }
    assert said["Library"] == "3 Family, down from 4"
    assert said["Kitchen"] == "3 Family, up from 2"
    assert set(said) == set(MOVED)
    assert "Library is 3 Family, down from 4" in chart.to_dict()["description"]
    assert told(chart)["Library"] == "Library: 3 Family, down from 4"
    assert not any("from" in row["text"] for row in words(_whole(planned)))


def test_a_room_too_small_for_any_mark_says_that_it_moved():
    rooms = pd.DataFrame([square(), square("Niche", west=120.0, side=4.0)])
    chart = charts.floor_plan(rooms, width=276, moved={"Niche": 4})
    assert [row["text"] for row in labels(chart) if row["x"] == 254] == ["▼"]


def test_a_plan_of_very_many_rooms_has_tiers_and_no_codes():
    house = laid_out_house(300, seed=4, levels=3)
    planned = plan(house)
    chart = _whole(planned, width=590, height=470)
    inside = [row["text"] for row in words(chart) if row["align"] == "center"]
    assert len(inside) > 0.9 * len(house.rooms)
    assert set(inside) <= {"1", "2", "3", "4"}
    level = _whole(planned, width=590, height=470, level="Level 1")
    named = [row for row in words(level) if row["align"] == "center" and not row["text"][0].isdigit()]
    assert len(named) > 40
