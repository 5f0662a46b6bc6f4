"""The step-down read back from its picture: every room once, by its steps across and its tier down."""

from itertools import combinations, pairwise, product
from pathlib import Path
from xml.etree import ElementTree

import pandas as pd
import pytest
import vl_convert

from planner import Intent, Plan, charts, plan, read_house
from planner.charts.parts import MOST_ROOMS
from planner.look import theme
from planner.planning import frames
from tests.charts.reading import extent, layers, lines, words
from tests.random_houses import random_house

SIZES = {"desk": (590, 330), "phone": (342, 340), "free": (720, None)}
PRACTICE = sorted(p.parent for p in (Path(__file__).parents[1] / "practice").glob("*/*/house.toml"))
RANDOM = [(1, 1), (2, 1), (9, 1), (9, 2), (25, 1), (25, 2), (60, 1), (60, 2), (300, 1)]


def drawn(plans: list[Plan], size: str = "free", **options) -> charts.FinishedChart:
    width, height = SIZES[size]
    return charts.step_down(
        frames.step_down(plans), frames.steps(plans), **{"width": width, "height": height} | options
    )


class Seen:
    """A picture read back: `boxes` with the rooms that their tooltips list, and which `box_of` a room is; `links`, the
    lines from box to box; `frames` round boxes; `rules`, the lines right across; `marks`; `words`.
    """

    def __init__(self, chart: charts.FinishedChart, planned: Plan | None = None, size: str = "free") -> None:
        self.chart, self.planned, self.size = chart, planned, size
        self.spec = chart.to_dict()
        (blocks,) = layers(chart, "rect")
        self.boxes = [row | {"rooms": row["said"]["room"].split(", ")} for row in blocks["data"]["values"]]
        self.box_of = {room: box for box in self.boxes for room in box["rooms"]}
        drawn = lines(chart)
        faint = {theme.LIGHT.faint, theme.DARK.faint}
        self.rules = [line for line in drawn if line["stroke"] in faint]
        self.frames = [line for line in drawn if line["at"][0] == line["at"][-1]]
        self.links = [line for line in drawn if line not in self.rules and line not in self.frames]
        self.marks = [row for layer in layers(chart, "point") for row in layer["data"]["values"]]
        self.words = [word for word in words(chart) if "weight" in word]  # the halo of a word has none

    def ends(self, start: str, end: str) -> tuple[dict, dict]:
        """The boxes of two rooms, the one that is nearer the entry or stands higher first."""
        one, other = sorted((self.box_of[start], self.box_of[end]), key=lambda box: (box["x"], box["y"]))
        return one, other

    def inside(self, box: dict) -> list[dict]:
        found = [w for w in self.words if box["x"] < w["x"] < box["x2"] and box["y"] < w["y"] < box["y2"]]
        return sorted(found, key=lambda word: word["y"])


def joins(line: dict, start: dict, end: dict) -> bool:
    """Whether a line goes from the right side of a box to the side of another, each half its height up."""
    (x0, y0), (x1, y1) = line["at"][0], line["at"][-1]
    far = end["x2"] if start["x"] == end["x"] else end["x"]
    places = (start["x2"], (start["y"] + start["y2"]) / 2, far, (end["y"] + end["y2"]) / 2)
    return (x0, y0, x1, y1) == pytest.approx(places, abs=0.02)


@pytest.fixture(scope="module", params=["demo", *PRACTICE, *RANDOM], ids=lambda p: getattr(p, "name", str(p)))
def any_plan(request, planned) -> Plan:
    if request.param == "demo":
        return planned
    if isinstance(request.param, Path):
        return plan(read_house(request.param)[0])
    return plan(random_house(*request.param), integrated=False)


@pytest.fixture(scope="module", params=SIZES)
def seen(request, any_plan) -> Seen:
    return Seen(drawn([any_plan], request.param), any_plan, request.param)


def test_every_room_is_drawn_once_by_its_steps_across_and_its_tier_down(seen):
    planned = seen.planned
    assert sorted(room for box in seen.boxes for room in box["rooms"]) == sorted(planned.by_name)
    columns: dict[int, set[float]] = {}
    rows: dict[int, list[dict]] = {}
    for box in seen.boxes:
        ((depth, tier),) = {(planned.by_name[room].depth, planned.by_name[room].tier) for room in box["rooms"]}
        columns.setdefault(depth, set()).add(box["x"])
        rows.setdefault(tier, []).append(box)
        assert box["said"]["tier"] == f"{tier} {planned.tier_names[tier - 1]}"
        assert box["said"]["steps"].split()[0] == str(depth)
        assert box["fill"] == theme.ramp(len(planned.tier_names))[tier - 1]
    assert all(len(lefts) == 1 for lefts in columns.values())
    lefts = [min(columns[depth]) for depth in sorted(columns)]
    assert lefts == sorted(set(lefts))
    for better, plainer in pairwise(sorted(rows, reverse=True)):
        assert max(box["y2"] for box in rows[better]) < min(box["y"] for box in rows[plainer])


def test_every_passage_between_two_boxes_is_one_line(seen):
    wanted = {}
    for p in seen.planned.passages:
        start, end = seen.ends(p.start, p.end)
        if start is not end:
            wanted[start["x"], start["y"], end["x"], end["y"]] = (start, end)
    for start, end in wanted.values():
        assert sum(joins(line, start, end) for line in seen.links) == 1
    assert len(seen.links) == len(wanted)


def test_no_two_words_touch_and_none_is_cut_off(seen):
    width, _ = SIZES[seen.size]
    extents = [extent(word) for word in seen.words]
    for west, north, east, south in extents:
        assert 0 <= west < east <= width - 8
        assert 0 <= north < south <= seen.spec["height"]
    assert not any(_overlap(one, other) for one, other in combinations(extents, 2))
    blocks = [(box["x"], box["y"], box["x2"], box["y2"]) for box in seen.boxes]
    assert not any(_overlap(one, other) for one, other in combinations(blocks, 2))
    for (w0, n0, e0, s0), block in product(extents, blocks):
        w1, n1, e1, s1 = block
        assert not _overlap((w0, n0, e0, s0), block) or (w1 <= w0 and n1 <= n0 and e0 <= e1 and s0 <= s1)


@pytest.mark.parametrize("size", SIZES)
def test_names_that_hurt_keep_to_their_boxes(odd, size):
    seen = Seen(drawn([odd], size))
    assert not any(_overlap(one, other) for one, other in combinations(map(extent, seen.words), 2))
    for box in seen.boxes:
        assert seen.inside(box)
        for west, north, east, south in map(extent, seen.inside(box)):
            assert box["x"] <= west < east <= box["x2"]
            assert box["y"] <= north < south <= box["y2"]


def _overlap(one: tuple, other: tuple) -> bool:
    (w0, n0, e0, s0), (w1, n1, e1, s1) = one, other
    return w0 < e1 and w1 < e0 and n0 < s1 and n1 < s0


def test_a_box_has_its_rooms_name_or_how_many_there_are(seen):
    for box in seen.boxes:
        inside = seen.inside(box)
        text, number = " ".join(word["text"] for word in inside), str(len(box["rooms"]))
        assert text in (f"+{number}", number) or [text] == box["rooms"]
        assert all(theme.contrast(box["fill"], word["ink"]) > 4.5 for word in inside)


def test_every_marked_step_has_its_sign_on_its_line_and_no_other_has(seen):
    steps, wanted = frames.steps([seen.planned]), set()
    for step in steps[steps["step"].isin(["abrupt", "rises"])].itertuples():
        start, end = seen.ends(step.start, step.end)
        if start is end:
            continue
        (line,) = (line for line in seen.links if joins(line, start, end))
        assert line["stroke"] == theme.LIGHT.alarm
        shape = theme.STEPS[step.step].shape
        on = [mark for mark in seen.marks if mark["shape"] == shape and _distance(mark, line["at"]) < 0.1]
        assert on and all(mark["fill"] == theme.LIGHT.alarm for mark in on)
        wanted.add((start["x"], start["y"], end["x"], end["y"], shape))
    assert len(seen.marks) == len(wanted)


def _distance(mark: dict, points: list) -> float:
    """From a mark to the nearest of a line's pieces."""

    def to(a, b):
        (x0, y0), (x1, y1) = a, b
        long2 = (x1 - x0) ** 2 + (y1 - y0) ** 2
        along = max(0.0, min(1.0, ((mark["x"] - x0) * (x1 - x0) + (mark["y"] - y0) * (y1 - y0)) / long2))
        return ((mark["x"] - x0 - along * (x1 - x0)) ** 2 + (mark["y"] - y0 - along * (y1 - y0)) ** 2) ** 0.5

    return min(to(a, b) for a, b in pairwise(points))


def test_a_chart_is_no_wider_and_no_higher_than_asked(seen):
    width, height = SIZES[seen.size]
    picture = ElementTree.fromstring(vl_convert.vegalite_to_svg(seen.spec))
    assert float(picture.get("width")) <= width
    assert height is None or float(picture.get("height")) <= height


def test_the_demo_house_is_named_room_by_room_on_a_desk(planned):
    assert all(len(box["rooms"]) == 1 for box in Seen(drawn([planned], "desk")).boxes)


PICKED = [(None, "Guest Bedroom"), ("No Such Room", "Guest Bedroom"), ("Principal Bath", "Principal Bath")]


@pytest.mark.parametrize(("picked", "end"), PICKED)
@pytest.mark.parametrize("dark", [False, True])
def test_the_picked_walk_is_strong(planned, picked, end, dark):
    seen, ink = Seen(drawn([planned], picked=picked, dark=dark)), theme.palette(dark).ink
    walk = [end]
    while before := planned.before[walk[0]]:
        walk.insert(0, before)
    strong = [line for line in seen.links if line["stroke"] == ink]
    weaker = max(line["weight"] for line in seen.links if line not in strong)
    assert len(strong) == len(walk) - 1
    for start, far in pairwise(walk):
        (line,) = (line for line in strong if joins(line, seen.box_of[start], seen.box_of[far]))
        assert line["weight"] > 1.5 * weaker
    corners = sorted((*line["at"][0], *line["at"][2]) for line in seen.frames)
    wanted = sorted(tuple(seen.box_of[room][side] for side in ("x", "y", "x2", "y2")) for room in walk)
    assert corners == [pytest.approx(sides, abs=0.02) for sides in wanted]
    tiers = [str(planned.by_name[room].tier) for room in walk]
    said = " ".join(seen.spec["title"]["subtitle"])
    assert f"Heavy line: the walk to {end} ({', '.join(tiers)})" in said


@pytest.mark.parametrize(("picked", "said"), [("Drawing Room", " (4 all the way)"), ("Entry Hall", None)])
def test_a_walk_on_one_tier_is_told_so_and_the_entry_has_none(planned, picked, said):
    told = " ".join(Seen(drawn([planned], picked=picked)).spec["title"]["subtitle"])
    assert (f"Heavy line: the walk to {picked}{said}" in told) if said else ("Heavy line" not in told)


def test_a_client_is_told_of_the_walk_without_signs_and_tiers(planned):
    told = " ".join(Seen(drawn([planned], picked="Library", plainly=True)).spec["title"]["subtitle"])
    assert "Heavy line: the walk to Library" in told and not any(sign in told for sign in ("tier", "→", "("))


def test_columns_and_rows_have_their_steps_and_tiers_written(planned):
    seen = Seen(drawn([planned]))
    at = {word["text"]: word for word in seen.words}
    for box in seen.boxes:
        steps = box["said"]["steps"].removesuffix(" from the entry")
        assert at["entry" if steps == "0 steps" else steps]["x"] == box["x"]
    rules = sorted(line["at"][0][1] for line in seen.rules)
    for tier, (north, south) in zip("4321", pairwise([0.0, *rules]), strict=True):
        assert north < at[tier]["y"] < south
        assert all(north < box["y"] < box["y2"] < south for box in seen.boxes if box["said"]["tier"][0] == tier)
    assert {"Principal", "Family", "Chamber", "Service", "Tier"} <= set(at)


def test_a_tooltip_says_where_a_room_is_reached_from_and_how_that_step_reads(planned):
    of = Seen(drawn([planned])).box_of
    assert of["Entry Hall"]["said"]["reached"] == "by the front door"
    assert of["Stair Hall"]["said"]["reached"] == "from Entry Hall, clear"
    assert of["Butler's Pantry"]["said"]["reached"] == "from Dining Room, abrupt"
    assert of["Kitchen"]["said"]["reached"] == "from Family Room, even"


def test_walks_to_other_bedrooms_are_stronger_than_what_no_walk_uses(planned):
    seen = Seen(drawn([planned]))
    weights: dict[bool, set[float]] = {True: set(), False: set()}
    for step in frames.steps([planned]).itertuples():
        (line,) = (line for line in seen.links if joins(line, *seen.ends(step.start, step.end)))
        if line["stroke"] == theme.LIGHT.soft:
            weights[step.walked].add(line["weight"])
    assert min(weights[True]) > 1.5 * max(weights[False])


def test_marked_steps_have_a_word_and_are_named_under_the_title(planned):
    seen = Seen(drawn([planned]))
    assert [word["text"] for word in seen.words if word["ink"] == theme.LIGHT.alarm] == ["abrupt"]
    assert "■ abrupt: Dining Room to Butler's Pantry" in " ".join(seen.spec["title"]["subtitle"])


def test_the_description_says_all_of_it(planned):
    said = drawn([planned], "phone").to_dict()["description"]
    for room in planned.rooms:
        assert f"{room.room.name} tier {room.tier}" in said
    assert "Abrupt: Dining Room to Butler's Pantry" in said
    assert "The heavy line: Entry Hall tier 4, Stair Hall tier 3, Upper Hall tier 3, Guest Bedroom tier 2" in said
    assert "other entries: Mud Room" in said
    assert "+3: " not in said
    large = plan(random_house(300, 1), integrated=False)
    assert "1 step from the entry: 2 rooms of tier 4, 1 room of tier 3" in drawn([large]).to_dict()["description"]


@pytest.fixture(scope="module", params=[2, 3, 4, 6])
def several(request, planned) -> list[Plan]:
    grades = ["cottage", "house", "great house"]
    wishes = [Intent(title=f"{grade} {i}", grade=grade) for i in (1, 2) for grade in grades]
    return [plan(planned.house, wish) for wish in wishes[: request.param]]


@pytest.mark.parametrize("width", [390, 1200])
def test_alternatives_stand_in_panels_on_the_same_axes(several, width):
    seen = Seen(drawn(several, width=width))
    bold = [word for word in seen.words if word["weight"] == "bold" and not word["text"].isdigit()]
    heads = {word["text"]: (word["x"], word["y"]) for word in bold}
    assert list(heads) == [planned.intent.title for planned in several]
    columns: dict[int, set[tuple[float, float]]] = {}
    rows: dict[int, list[tuple[float, float]]] = {}
    for planned, (left, top), those in zip(
        several, heads.values(), _by_panel(seen.boxes, list(heads.values())), strict=True
    ):
        assert sorted(room for box in those for room in box["rooms"]) == sorted(planned.by_name)
        for box in those:
            room = planned.by_name[box["rooms"][0]]
            columns.setdefault(room.depth, set()).add((round(box["x"] - left, 2), round(box["x2"] - left, 2)))
            rows.setdefault(room.tier, []).append((box["y"] - top, box["y2"] - top))
    assert all(len(places) == 1 for places in columns.values())
    for better, plainer in pairwise(sorted(rows, reverse=True)):
        assert max(south for _, south in rows[better]) < min(north for north, _ in rows[plainer])
    assert not any(_overlap(one, other) for one, other in combinations(map(extent, seen.words), 2))


def _by_panel(boxes: list[dict], corners: list[tuple[float, float]]) -> list[list[dict]]:
    """The boxes of each panel: those below and right of its corner and of no later one."""
    found: list[list[dict]] = [[] for _ in corners]
    for box in boxes:
        found[max(i for i, (x, y) in enumerate(corners) if x <= box["x"] and y <= box["y"])].append(box)
    return found


def test_a_house_too_large_is_drawn_in_part_and_says_so():
    seen = Seen(drawn([plan(random_house(1_200, 1), integrated=False)], "desk"))
    assert sum(len(box["rooms"]) for box in seen.boxes) == MOST_ROOMS
    assert "Drawn are the 300 of 1,200 rooms that are nearest the entry." in [word["text"] for word in seen.words]
    assert len(seen.chart.to_json(indent=None)) < 400_000


def test_a_house_too_deep_is_drawn_as_deep_as_there_is_room():
    chain = [(f"Room {i}", f"Room {i - 1}" if i else "", i, 2) for i in range(60)]
    seen = Seen(charts.step_down(*_frames(chain), width=342))
    rooms = [room for box in seen.boxes for room in box["rooms"]]
    assert 8 < len(rooms) < 30
    assert rooms == [f"Room {i}" for i in range(len(rooms))]
    said = " ".join(word["text"] for word in seen.words)
    assert f"Drawn are the {len(rooms)} of 60 rooms up to {len(rooms) - 1} steps from the entry." in said


def _frames(
    rooms: list[tuple[str, str, int, int]],
    *,
    bedrooms=(),
    steps=(),
    house="Elm House",
    entry=True,
    title="a",
    walked=(),
) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Frames of rooms (name, room before, depth, tier); `steps` are those that are not clear, by where they lead to."""
    rows = [
        {"alternative": title, "house": house, "room": name, "level": "Ground", "entry": entry and not before}
        | {"enters": not before, "bedroom": name in bedrooms, "depth": depth, "before": before}
        | {"tier": tier, "tier_name": "Family", "tiers": 5}
        for name, before, depth, tier in rooms
    ]
    told = steps or {}
    joined = [
        {"alternative": title, "start": before, "end": name, "step": told.get(name, "clear"), "walked": name in walked}
        for name, before, _, _ in rooms
        if before
    ]
    return pd.DataFrame(rows, columns=frames.STEP_DOWN), pd.DataFrame(joined, columns=frames.STEPS)


HOUSE = [("Hall", "", 0, 4), ("Landing", "Hall", 1, 3), ("Blue Room", "Landing", 2, 2), ("Pantry", "Hall", 1, 1)]
RISING = [("Hall", "", 0, 2), ("Landing", "Hall", 1, 2), ("Blue Room", "Landing", 2, 3)]
LEVEL = [("Hall", "", 0, 2), ("Blue Room", "Hall", 1, 2)]
TWO = [*HOUSE, ("Red Room", "Hall", 1, 3), ("Attic", "Blue Room", 3, 2)]
BEDROOM = {"bedrooms": ["Blue Room"], "walked": ["Landing", "Blue Room"]}
SEVERAL = {"bedrooms": ["Blue Room", "Red Room", "Attic"]}

BLUE = {"bedrooms": ["Blue Room"]}
NO_BEDROOM = "has no bedroom; its rooms go from tier 4 to 1, up to two steps from the entry"
BEDROOM_AT_ENTRY = "has no bedroom beyond its entry; its rooms go from tier 4 to 1, up to two steps from the entry"
FROM_THREE = [("Hall", "", 0, 3), *TWO[1:]]
BOTH_WAYS = [("Hall", "", 0, 2), ("A", "Hall", 1, 3), ("B", "A", 2, 1)]
DOWN = "steps down from 4 to 2 in two steps"

TITLES = [
    (HOUSE, BEDROOM, {}, f"{DOWN}; no step is abrupt"),
    (LEVEL, BLUE, {}, "stays at 2 over one step; no step is abrupt"),
    (RISING, BLUE, {"Blue Room": "rises"}, "rises from 2 to 3 in two steps; no step is abrupt, but one rises"),
    (HOUSE, BEDROOM, {"Landing": "abrupt"}, f"{DOWN}; one step is abrupt"),
    (HOUSE, BEDROOM, {"Landing": "abrupt", "Pantry": "abrupt"}, f"{DOWN}; two steps are abrupt"),
    (HOUSE, BEDROOM, {"Pantry": "abrupt"}, f"{DOWN}; one step off these walks is abrupt"),
    (HOUSE, BEDROOM, {"Landing": "abrupt", "Pantry": "rises"}, f"{DOWN}; one step is abrupt and one rises"),
    (HOUSE, {}, {}, f"{NO_BEDROOM}; no step is abrupt"),
    (HOUSE, {"bedrooms": ["Hall"]}, {}, f"{BEDROOM_AT_ENTRY}; no step is abrupt"),
    (HOUSE[:1], {}, {}, "is one room, of tier 4, and has nothing to step down to"),
    (TWO, SEVERAL, {}, "steps down from 4 to 3 and 2 in one to three steps; no step is abrupt"),
    (FROM_THREE, SEVERAL, {}, "stays at 3 or steps down to 2 in one to three steps; no step is abrupt"),
    (BOTH_WAYS, {"bedrooms": "AB"}, {}, "leads from 2 to 3 and 1 in one or two steps; no step is abrupt"),
    (HOUSE, {"entry": False}, {}, "has no entry"),
]


@pytest.mark.parametrize(("rooms", "options", "steps", "said"), TITLES, ids=[title[-1] for title in TITLES])
def test_the_title_says_the_finding(rooms, options, steps, said):
    title = charts.step_down(*_frames(rooms, steps=steps, **options)).to_dict()["title"]
    assert " ".join(title["text"]) == f"Elm House {said}"


def test_without_rooms_there_is_nothing_to_draw():
    assert charts.step_down(*_frames([])).to_dict()["title"]["text"] == ["There is no step-down to draw"]


def test_several_entries_leave_the_title_and_are_told_to_those_who_hear_it(planned):
    said = drawn([planned]).to_dict()
    assert len(planned.house.entries) == 2
    assert " ".join(said["title"]["text"]) == (
        "Thornapple House steps down from 4 to 2 in three steps; one step off these walks is abrupt"
    )
    assert "Steps are counted from where guests come in; other entries: Mud Room" in said["description"]


ABRUPT = {"Landing": "abrupt"}
COMPARED = [
    ([4, 4], [{}, {}], f"{DOWN} in all two alternatives; no step is abrupt"),
    ([4, 3], [{}, {}], "steps down by one or two tiers, the most in plan 1; no step is abrupt"),
    ([3, 5], [{}, ABRUPT], "steps down by one to three tiers, the most in plan 2; there are abrupt steps in plan 2"),
    ([2, 1], [{}, {}], "steps down in none of its two alternatives; no step is abrupt"),
    ([4, 4], [ABRUPT, ABRUPT], f"{DOWN} in all two alternatives; there are abrupt steps in each"),
]


@pytest.mark.parametrize(("tiers", "steps", "said"), COMPARED, ids=[said for _, _, said in COMPARED])
def test_the_title_of_a_comparison_says_the_finding(tiers, steps, said):
    each = [
        _frames([("Hall", "", 0, tier), *HOUSE[1:]], **BEDROOM, steps=those, title=f"plan {i}")
        for i, (tier, those) in enumerate(zip(tiers, steps, strict=True), 1)
    ]
    rooms, joined = (pd.concat(part, ignore_index=True) for part in zip(*each, strict=True))
    assert " ".join(charts.step_down(rooms, joined).to_dict()["title"]["text"]) == f"Elm House {said}"


PLAIN = [
    (HOUSE, "gets plainer from the front door to the bedrooms, from 4 to 2 in two steps"),
    (RISING, "gets richer from the front door to the bedrooms, from 2 to 3 in two steps"),
    (LEVEL, "is as rich in the bedrooms as at the front door, 2"),
]


@pytest.mark.parametrize(("rooms", "said"), PLAIN)
def test_clients_are_told_in_plain_words(rooms, said):
    chart = charts.step_down(*_frames(rooms, **BEDROOM), plainly=True).to_dict()
    assert " ".join(chart["title"]["text"]) == f"Elm House {said}"
    assert " ".join(chart["title"]["subtitle"]).startswith("The higher a room stands, the richer it is;")


def test_clients_see_no_names_of_tiers_and_no_signs(planned):
    rooms, steps = frames.step_down([planned]), frames.steps([planned])
    assert {"abrupt"} <= set(steps["step"])
    plain, told = (str(charts.step_down(rooms, steps, plainly=on).to_dict()) for on in (True, False))
    hidden = {"abrupt", *rooms["tier_name"]} - {word for room in rooms["room"] for word in room.split()}
    assert {"abrupt", "Chamber", "Service"} <= hidden
    assert [word for word in hidden if word not in told or word in plain] == []
