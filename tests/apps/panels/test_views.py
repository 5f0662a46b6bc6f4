"""Each tab shows what the plan says."""

import html
import re
from collections import Counter
from dataclasses import replace
from types import SimpleNamespace

from planner import charts
from planner.apps.panels import checks, importance, one_room, packages, walls
from planner.drawings.page import room_sheet
from planner.house.notes import Note, change_note
from planner.units import format_length


def test_one_room_has_its_reasons_and_a_way_to_every_tier_that_it_can_have(planned, changes):
    pins = one_room.pins(planned, "Library", changes)
    ways = planned.what_if("Library")
    assert list(pins) == [way.tier for way in ways if way.moves is not None]
    text = one_room.view(planned, "Library", pins).text
    assert f"Library: tier {planned.by_name['Library'].tier}" in text
    assert text.count("<marimo-button") == len(pins) and text.count("no plan") == len(ways) - len(pins)
    pins[2]._update(1)
    assert changes.desk.intent.rooms["Library"].tier == 2


def test_the_passages_of_a_room_say_what_both_rooms_have(planned, changes):
    text = one_room.view(planned, "Stair Hall", {}).text
    shared = next(p.shared for p in planned.passages if (p.start, p.end) == ("Entry Hall", "Stair Hall"))
    assert "Both rooms have" in text and shared and "; ".join(shared) in text


def test_a_room_s_sheet_is_taken_away_as_it_is_drawn(planned):
    files = {control._args.args["filename"]: control._data() for control in walls.downloads(planned, "Library")}
    assert list(files) == [f"thornapple-house_as-the-house-stands_library_walls.{end}" for end in ("svg", "dxf", "png")]
    as_svg, as_dxf, as_png = files.values()
    assert as_svg.startswith(b"<svg ") and b"Library, wall" in as_svg
    assert as_dxf.startswith(b"  0\nSECTION") and as_png.startswith(b"\x89PNG")


def test_a_room_s_sheet_is_drawn_when_it_is_asked_for(planned, monkeypatch):
    drawn = []
    monkeypatch.setattr(walls, "paper", lambda planned, room: drawn.append(room) or room_sheet(planned.walls[room]))
    as_svg, *_ = walls.downloads(planned, "Library")
    assert drawn == []
    assert as_svg._data().startswith(b"<svg ") and drawn == ["Library"]


def test_walls_tell_every_piece_and_meeting(planned):
    text = walls.view(planned, "Library", [], False, 590).text
    rows = re.findall(r"<tr>", text)
    assert len(rows) > len(planned.pieces["Library"])
    assert "How the trim of both rooms meets" in text


def test_packages_name_the_rooms_that_have_them(planned, folder):
    titles = list(packages.sheets(planned, False, folder))
    for package, title in zip(planned.packages, titles, strict=True):
        rooms = ", ".join(room.room.name for room in planned.rooms if room.package == package)
        assert title == f"{package.tier} {package.label}: {rooms}"
    ceilings = {package.ceiling for package in planned.packages}
    assert packages.view(planned, False, 590).text.count("<summary>Under ") == len(ceilings)
    sheet = packages.sheet(planned, planned.packages[0], False, folder).text
    assert sheet.count("<svg") > 3 and "Put together as" in sheet and "What is there today" not in sheet
    having = planned.rooms[0].room.name
    change_note(folder, Note(having), Note(having, words="The cornice is whole."))
    assert "The cornice is whole." in packages.sheet(planned, planned.package_of[having], False, folder).text


def test_the_tiers_have_their_rails_where_the_story_poles_have_them(planned):
    """Side by side they are drawn as they stand on the walls: rails with the stools of the windows."""
    drawn = html.unescape(packages.view(planned, False, 590).text).replace("\u00a0", " ")
    tops = {
        format_length(mark.height, "in")
        for pole in planned.story_poles.values()
        for mark in pole.marks
        if mark.name == "top of chair rail"
    }
    assert set(re.findall(r">at (\d[^<]+)<", drawn)) == tops
    assert tops - {
        format_length(p.element("chair rail").top, "in") for p in planned.packages if p.element("chair rail")
    }


def test_checks_that_ask_for_the_same_are_told_once_with_all_their_places(planned):
    kinds = checks.kinds(planned.checks)
    alike = [some for kind in kinds for some in kind]
    assert Counter(check for some in alike for check in some) == Counter(planned.checks)
    assert len({(some[0].severity, some[0].rule, some[0].remedy, some[0].source) for some in alike}) == len(alike)
    text = checks.view(planned).text
    assert text.count("<details") == len({(check.severity, check.rule) for check in planned.checks})
    assert all(text.count(html.escape(some[0].remedy)) == 1 for some in alike)
    windows = next(some for some in alike if some[0].rule == "escape window")
    assert text.count("May be the emergency escape of this room") == 1 < len(windows)
    assert all(html.escape(f"{check.room}, {check.opening}") in text for check in windows)


def test_of_very_many_places_the_first_are_listed(planned):
    one = next(check for check in planned.checks if check.rule == "escape window")
    many = [replace(one, room=f"Room {i}") for i in range(checks.MOST_PLACES + 5)]
    text = checks.told([many])
    assert "Room 59," in text and "Room 60," not in text and "and 5 more places" in text
    apart = checks.told([[replace(check, remedy=f"Do {check.room}")] for check in many])
    assert "Do Room 59<" in apart and "Room 60" not in apart and "and 5 more places" in apart


def test_of_very_many_rooms_the_walls_of_the_highest_tiers_are_looked_at_and_the_page_says_so(planned, monkeypatch):
    monkeypatch.setattr(checks, "MOST_LAID_OUT", 3)
    looked_at = checks.laid_out(planned)
    assert {planned.by_name[room].tier for room in looked_at} == {max(room.tier for room in planned.rooms)}
    found = planned.checks_of(looked_at)
    left = [check for check in planned.checks if check not in found]
    assert left and not {check.room for check in left} & set(looked_at)
    assert [check for check in planned.checks if check in found] == list(found)
    text = checks.view(planned).text
    assert "walls here in the 3 rooms of the highest tiers; the table of checks looks at those of the other 22" in text
    monkeypatch.undo()
    assert planned.checks_of(checks.laid_out(planned)) == planned.checks
    assert "of the highest tiers" not in checks.view(planned).text


def test_only_so_many_places_stand_unfolded(planned):
    one = replace(planned.checks[0], severity="error")
    few = [replace(one, rule=rule, room=f"Room {i}") for rule in "ab" for i in range(checks.MOST_UNFOLDED - 1)]
    text = checks.view(SimpleNamespace(notes=(), rooms=(), checks_of=lambda _: few)).text
    assert text.count("<details") == 2 and text.count(" open=") == 1


def test_charts_that_are_folded_away_are_drawn_when_they_are_looked_at(planned, monkeypatch):
    drawn = []
    for chart in ("importance", "room_graph", "element_sizes"):
        monkeypatch.setattr(charts, chart, lambda *_, chart=chart, **__: drawn.append(chart))
    text = importance.view(planned, False, 590).text + packages.view(planned, False, 590).text
    ceilings = {package.ceiling for package in planned.packages}
    assert drawn == [] and text.count("<marimo-lazy") == 2 + len(ceilings)
