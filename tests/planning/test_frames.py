"""The frames agree with the plan that they are of."""

from dataclasses import replace
from itertools import pairwise

import pytest

from planner import Intent, Plan, Wish, demo_house, plan, read_house, read_stock
from planner.house.model import House, Opening, Room
from planner.planning import frames
from planner.units import format_length, parse_length


def test_rooms_say_what_the_plan_says(planned):
    frame = frames.rooms(planned).set_index("room")
    assert set(frame.index) == set(planned.by_name)
    for name, room in planned.by_name.items():
        row = frame.loc[name]
        assert (row.tier, row.depth, row.importance) == (room.tier, room.depth, room.importance)
        assert row.tier_name == planned.tier_names[room.tier - 1]
        assert parse_length(row.ceiling_text) == pytest.approx(room.room.ceiling, abs=1 / 32)
        assert row.area == pytest.approx(room.room.area / 144)
    assert list(frame.index[frame.entry]) == [planned.house.entries[0]]


def test_contributions_sum_to_the_importance(planned):
    sums = frames.factors(planned).groupby("room")["contribution"].sum()
    for name, room in planned.by_name.items():
        assert sums[name] == pytest.approx(room.importance, abs=1e-9)


def test_the_step_down_has_every_room_once_and_walks_back_to_the_entry(planned):
    frame = frames.step_down([planned]).set_index("room")
    joined = {frozenset((p.start, p.end)) for p in planned.passages}
    assert set(frame.index) == set(planned.by_name) and frame.index.is_unique
    assert list(frame.index[frame["entry"]]) == [planned.house.entries[0]]
    assert set(frame.index[frame["enters"]]) == set(planned.house.entries)
    assert sorted(frame.index[frame["bedroom"]]) == [route.room for route in planned.routes]
    for name, row in frame.iterrows():
        assert (row["depth"], row["tier"]) == (planned.by_name[name].depth, planned.by_name[name].tier)
        if row["before"]:
            assert frozenset((row["before"], name)) in joined
            assert row["depth"] - frame.loc[row["before"], "depth"] in (0, 1)
        else:
            assert row["entry"]
    for route in planned.routes:
        assert [frame.loc[room, "before"] for room in route.rooms] == ["", *route.rooms[:-1]]


def test_steps_tell_those_that_walks_to_bedrooms_use(planned):
    frame = frames.steps([planned])
    walked = {frozenset(pair) for route in planned.routes for pair in pairwise(route.rooms)}
    assert len(frame) == len(planned.passages)
    assert {frozenset((s.start, s.end)) for s in frame[frame["walked"]].itertuples()} == walked
    assert list(frame["step"]) == list(frames.passages(planned)["step"])


def test_alternatives_are_told_apart_by_their_titles(planned):
    rooms, steps = frames.step_down([planned, planned]), frames.steps([planned, planned])
    titles = ["as it stands (1)", "as it stands (2)"]
    assert list(dict.fromkeys(rooms["alternative"])) == list(dict.fromkeys(steps["alternative"])) == titles
    assert (len(rooms), len(steps)) == (2 * len(planned.rooms), 2 * len(planned.passages))


def test_a_rise_is_told_only_away_from_the_entry(planned):
    for row in frames.passages(planned).to_dict("records"):
        rising = row["difference"] > 0 and row["rise"] == row["rise"] and row["rise"] is not None
        assert row["step"] == ("abrupt" if row["reads"] == "abrupt" else "rises" if rising else row["reads"])


def test_a_rise_to_which_company_is_led_on_is_meant_and_not_told():
    """Up to a drawing room and no farther; the same rise into a room that asks for no more display is told."""
    uses = {"Hall": "entry hall", "Landing": "upper hall", "Salon": "drawing room", "Bedroom": "bedroom"}
    rooms = tuple(Room(name, "Ground", use, 180, 180, 120) for name, use in uses.items())
    doors = (("Hall", "Landing", "stair"), ("Landing", "Salon", "door"), ("Salon", "Bedroom", "door"))
    openings = tuple(Opening(f"D{n}", kind, a, b) for n, (a, b, kind) in enumerate(doors))
    house = House("Upstairs", ("Hall",), rooms, openings, grade="great house")
    risen = plan(house, Intent(rooms={"Landing": Wish(tier=3), "Salon": Wish(tier=5)}))
    step = frames.passages(risen).set_index("end")
    assert risen.by_name["Salon"].tier > risen.by_name["Landing"].tier
    assert step.loc["Salon", "step"] == step.loc["Salon", "reads"] != "rises"
    plain = replace(risen, passages=tuple(replace(p, leads_on=False) for p in risen.passages))
    assert frames.passages(plain).set_index("end").loc["Salon", "step"] in ("rises", "abrupt")


def test_elements_are_those_of_the_packages(planned):
    frame = frames.elements(planned)
    assert len(frame) == sum(len(package.elements) for package in planned.packages)
    for row in frame.to_dict("records"):
        assert parse_length(row["size_text"]) == pytest.approx(row["size"], abs=1 / 32)


def test_openings_stand_on_their_rooms_edges(planned):
    frame = frames.openings(planned)
    assert frame["main"].sum() == 1
    for row in frame.to_dict("records"):
        walls = planned.house.by_name[row["room"]].walls
        middle = ((row["x1"] + row["x2"]) / 2, (row["y1"] + row["y2"]) / 2)
        assert min(_distance(middle, wall.left, wall.right) for wall in walls) < 0.01


def test_compare_marks_just_the_rooms_that_differ(alternatives):
    frame = frames.compare(alternatives)
    one, other = (p.by_name for p in alternatives)
    differing = {name for name in one if one[name].tier != other[name].tier}
    assert differing
    assert set(frame.loc[frame["differs"], "room"]) == differing


def test_alternatives_of_one_title_are_numbered(planned):
    assert frames.alternative_titles([planned, planned]) == ["as it stands (1)", "as it stands (2)"]


def test_a_plan_that_does_not_exist_gives_empty_frames(planned):
    entry = planned.house.entries[0]
    beside = next(p.end for p in planned.passages if p.start == entry and p.limit == 1)
    none = plan(planned.house, Intent(rooms={entry: Wish(tier=1), beside: Wish(tier=5)}))
    assert not none.feasible
    for frame in (frames.rooms, frames.passages, frames.elements, frames.factors):
        assert frame(none).empty
        assert list(frame(none).columns) == list(frame(planned).columns)
    for frame in (frames.step_down, frames.steps):
        assert frame([none]).empty
        assert list(frame([none]).columns) == list(frame([planned]).columns)
        assert frame([none, planned])["alternative"].nunique() == 1
    assert frames.compare([none, replace(planned)])["room"].nunique() == len(planned.rooms)


def _distance(point, left, right) -> float:
    (px, py), (x0, y0), (x1, y1) = point, left, right
    length2 = (x1 - x0) ** 2 + (y1 - y0) ** 2
    along = max(0.0, min(1.0, ((px - x0) * (x1 - x0) + (py - y0) * (y1 - y0)) / length2))
    return ((px - x0 - along * (x1 - x0)) ** 2 + (py - y0 - along * (y1 - y0)) ** 2) ** 0.5


@pytest.fixture(scope="module")
def stocked() -> Plan:
    house, _ = read_house(demo_house())
    return plan(house, stock=read_stock(demo_house(), house.unit))


def test_pieces_are_those_of_the_plan_with_their_sizes_in_words(stocked):
    frame = frames.pieces(stocked, "Library")
    assert len(frame) == len(stocked.pieces["Library"]) > 20
    assert set(frame["wall"]) == {wall.wall for wall in stocked.walls["Library"]}
    heads = frame[frame["piece"] == "head"]
    openings = {a.name for wall in stocked.walls["Library"] for a in wall.apertures}
    assert set(heads["opening"]) <= openings and len(heads) >= 3
    assert (heads["length"] > 30).all() and heads["length_text"].str.contains('"').all()
    blocks = frame[frame["piece"] == "blocking"]
    assert blocks["behind"].all() and (blocks["count"] > 1).any() and (frame[~frame["behind"]]["count"] == 1).all()


def test_meetings_name_the_room_beyond_and_the_line_of_the_heads(stocked):
    frame = frames.meetings(stocked, "Stair Hall")
    ends = ({p.start, p.end} for p in stocked.passages)
    beyond = {room for pair in ends if "Stair Hall" in pair for room in pair - {"Stair Hall"}}
    assert not frame.empty and set(frame["other"]) <= beyond
    assert frame["words"].str.startswith("Both faces keep one head line").all()
    row = frame.iloc[0]
    assert row["head_text"] == format_length(stocked.meetings[row["opening"]].head, "in")


def test_what_stock_builds_is_listed_with_the_next_best(stocked):
    package = stocked.by_name["Entry Hall"].package
    frame = frames.built(stocked, package).set_index("element")
    bought = {e.element for e in package.elements if e.assembly is not None}
    assert {"base", "crown", "casing"} <= set(frame.index) <= bought
    for element, row in frame.iterrows():
        chosen, second = package.element(element).assembly, stocked.runners_up[package][element]
        assert row["profiles"] == ", ".join(chosen.profiles) and row["price"] == chosen.price_per_foot
        assert row["runner_up"] == (", ".join(second.profiles) if second else "")
        if second is not None:
            assert second.profiles != chosen.profiles and row["runner_up_price"] == second.price_per_foot
    assert frame["runner_up"].astype(bool).any()
