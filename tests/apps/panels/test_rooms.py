"""The controls of rooms show what the desk has, and only those that do not are built anew."""

import re

from planner import Wish
from planner.apps import screen
from planner.apps.panels import rooms
from planner.apps.typed import Typed
from planner.intent import edits


def values(controls):
    return tuple(control.value for control in controls)


def test_controls_show_the_wishes_of_the_desk(changes):
    changes.make("", edits.pin, "Library", 3)
    changes.make("", edits.set_range, "Kitchen", 1, 2)
    built = rooms.wishes(["Library", "Kitchen", "Stair Hall"], changes)
    assert {room: values(controls) for room, controls in built.items()} == {
        "Library": (3, None, None),
        "Kitchen": (None, 1, 2),
        "Stair Hall": (None, None, None),
    }


def test_a_control_changes_its_own_end_of_a_range(changes):
    _, lowest, highest = rooms.wishes(["Kitchen"], changes)["Kitchen"]
    lowest._update(["2"])
    highest._update(["4"])
    assert changes.desk.intent.rooms["Kitchen"] == Wish(lowest=2, highest=4)
    lowest._update([rooms.FREE])
    assert changes.desk.intent.rooms["Kitchen"] == Wish(highest=4)


def test_after_undoing_only_the_rooms_that_show_something_else_are_mended(changes):
    built = rooms.wishes(["Library", "Kitchen", "Stair Hall"], changes)
    assert rooms.mended(built, changes) == {}
    built["Library"][0]._update(["4"])
    assert rooms.mended(built, changes) == {}
    changes.undo()
    mended = rooms.mended(built, changes)
    assert {room: values(controls) for room, controls in mended.items()} == {"Library": (None, None, None)}
    changes.redo()
    assert rooms.mended(built, changes) == {}
    changes.make("", edits.set_tiers, 3)
    assert list(rooms.mended(built, changes)) == list(built)


def test_rooms_are_found_by_part_of_a_name_on_a_level(planned):
    house = planned.house
    assert rooms.found(house, "", rooms.ALL_LEVELS) == [room.name for room in house.rooms]
    assert rooms.found(house, "HALL", "Ground") == ["Entry Hall", "Stair Hall"]
    assert rooms.found(house, "no such room", rooms.ALL_LEVELS) == []


def test_the_table_has_a_row_for_each_room_with_its_tier_and_what_shares_it(changes, planned):
    built = rooms.wishes(["Family Room", "Library"], changes)
    text = rooms.view(planned, built, rooms.sharing(planned.house, changes, Typed()), 23, screen.WIDE_CHART).text
    rows = re.findall(r"<tr>(.*?)</tr>", text)[1:]
    assert [re.search(r'scope="row">(.*?)</th>', row).group(1) for row in rows] == ["Family Room", "Library"]
    assert f"<b>{planned.by_name['Family Room'].tier}</b>" in rows[0] and ">Kitchen</td>" in rows[0]
    assert rows[0].count("<marimo-dropdown") == 3
    assert "23 more rooms" in text


def test_a_phone_shows_the_tier_under_the_name_and_the_controls_beside_it(changes, planned):
    built = rooms.wishes(["Library"], changes)
    text = rooms.view(planned, built, [], 0, screen.NARROW_CHART).text
    tier = planned.by_name["Library"].tier
    name, *controls = re.search(r"<tbody><tr>(.*?)</tr>", text).group(1).split("</th>")
    assert "Library" in name and f"<b>{tier}</b>" in name
    assert controls[0].count("<td") == controls[0].count("<marimo-dropdown") == 3
    assert rooms.shown_at_once(screen.NARROW_CHART) < rooms.shown_at_once(screen.WIDE_CHART)


def test_rooms_are_made_to_share_a_tier_and_parted(changes, planned):
    chosen, join, *_ = rooms.sharing(planned.house, changes, Typed())
    group = ("Library", "Kitchen", "Stair Hall")
    chosen._update(list(group))
    join._update(1)
    assert changes.desk.intent.sets == (group,)
    *_, part = rooms.sharing(planned.house, changes, Typed())
    part._update(1)
    assert changes.desk.intent.sets == ()


def test_rooms_that_are_chosen_stay_so_until_they_share_a_tier(changes, planned):
    typed = Typed()
    rooms.sharing(planned.house, changes, typed)[0]._update(["Library"])
    chosen, join, *_ = rooms.sharing(planned.house, changes, typed)
    assert chosen.value == ["Library"]
    join._update(1)
    assert rooms.sharing(planned.house, changes, typed)[0].value == ["Library"], "one room shares with none"
    chosen._update(["Library", "Kitchen"])
    join._update(2)
    assert changes.desk.intent.sets == (("Library", "Kitchen"),)
    assert rooms.sharing(planned.house, changes, typed)[0].value == []
