"""The command line as a user meets it: exit codes, messages, tables that fit the terminal."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from planner import demo_house, read_house, write_style
from planner.cli import main
from tests.metric import INCHES


def run(*arguments: object) -> Result:
    result = CliRunner().invoke(main, [str(a) for a in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert "Traceback" not in result.output
    return result


@pytest.fixture
def house(tmp_path):
    return shutil.copytree(demo_house(), tmp_path / "house")


@pytest.mark.parametrize("alternative", ["measured", "formal", "easy"])
def test_the_demo_house_plans_and_its_table_fits_80_columns(house, alternative):
    result = run("plan", house, "--alternative", alternative)
    assert result.exit_code == 0
    assert max(map(len, result.output.splitlines())) <= 80
    for room in ("Entry Hall", "Linen Closet", "Principal Bedroom"):
        assert room in result.output


def test_json_is_one_object_with_the_promised_keys(house):
    found = json.loads(run("plan", house, "--json").output)
    promised = "format house alternative objective optimal budget sets tiers rooms passages packages checks"
    assert {*promised.split(), "takeoff", "cost"} <= set(found)
    assert found["format"] == 1
    rooms = "room level use depth integration factors importance target weight lowest highest pinned tier package"
    assert set(f"{rooms} ceiling trim_share members cost tier_costs reasons".split()) <= set(found["rooms"][0])
    assert {p["package"] for p in found["packages"]} == {r["package"] for r in found["rooms"]}
    assert all(e["profiles"] or e["size"] > 0 for p in found["packages"] for e in p["elements"])


def test_proposals_are_told_where_they_are_asked_for(house):
    told = run("plan", house, "--proposals")
    assert told.exit_code == 0
    assert "1. The cheapest that still steps down. Costs " in told.output
    assert max(map(len, told.output.splitlines())) <= 80
    assert "The cheapest that still steps down" not in run("plan", house).output
    plain, asked = (json.loads(run("plan", house, "--json", *more).output) for more in ((), ("--proposals",)))
    assert asked.keys() - plain.keys() == {"proposals", "not_proposed", "frontier"}
    moved = {(m["room"], m["from"]) for p in asked["proposals"] for m in p["moves"]}
    tiers = {room["room"]: room["tier"] for room in plain["rooms"]}
    assert moved and all(tiers[room] == tier for room, tier in moved)
    assert plain["cost"]["index"]["total"] in [point["cost"] for point in asked["frontier"]["points"]]


def test_what_the_solver_prints_by_itself_does_not_stand_in_the_object(house):
    """Under this budget the solver prints a line that nothing asked for."""
    (house / "alternatives" / "limited.toml").write_text('title = "Limited"\ngrade = "great house"\nbudget = 164.7\n')
    told = subprocess.run(
        [sys.executable, "-c", "from planner.cli import main; main()", "plan", house, "-a", "limited", "--json"],
        capture_output=True,
        text=True,
    )
    assert json.loads(told.stdout)["budget"] == 164.7


def test_wishes_that_conflict_end_in_words_and_code_1(house):
    (house / "alternatives" / "clash.toml").write_text(
        'title = "Clash"\n[rooms."Entry Hall"]\ntier = 4\n[rooms."Drawing Room"]\ntier = 1\n'
    )
    result = run("plan", house, "--alternative", "clash")
    assert result.exit_code == 1
    assert "Entry Hall: pinned to tier 4." in result.output
    assert "Drawing Room: pinned to tier 1." in result.output


@pytest.mark.parametrize("command", [("check",), ("plan", "--alternative", "easy")])
def test_alternatives_that_are_no_folder_are_told_with_code_2(house, command):
    shutil.rmtree(house / "alternatives")
    (house / "alternatives").write_text("not a folder")
    result = run(command[0], house, *command[1:])
    assert result.exit_code == 2
    assert "alternatives" in result.output
    (house / "alternatives").unlink()
    (house / "alternatives").symlink_to(house / "alternatives")
    assert run(command[0], house, *command[1:]).exit_code == 2


def test_a_faulty_house_ends_in_its_faults_and_code_2(house):
    text = (house / "rooms.csv").read_text()
    (house / "rooms.csv").write_text(text.replace("17 ft", "seventeen", 1))
    for command in ("plan", "check"):
        result = run(command, house)
        assert result.exit_code == 2
        assert "rooms.csv row 6, length" in result.output


def test_faults_of_every_alternative_are_told_by_check(house):
    (house / "alternatives" / "odd.toml").write_text('[rooms."No Such Room"]\ntier = 9\n')
    result = run("check", house)
    assert result.exit_code == 2
    assert "odd.toml" in result.output and "No Such Room" in result.output


def test_faults_of_notes_are_told_by_check_and_hold_up_no_plan(house):
    (house / "notes").mkdir()
    (house / "notes" / "notes.csv").write_text("room,note,pictures\nLibary,damp,\nKitchen,,torn.jpg\n")
    (house / "notes" / "torn.jpg").write_bytes(b"torn")
    result = run("check", house)
    assert result.exit_code == 2
    assert 'notes/notes.csv row 2, room: there is no room "Libary"; write "Library"' in result.output
    assert "notes/torn.jpg: is no picture that can be read" in result.output
    assert run("plan", house).exit_code != 2


def test_faults_of_the_stock_are_told_by_row(house):
    lines = (house / "stock.csv").read_text().splitlines()
    lines[1] = lines[1].replace(",", ",no such role and ", 1)
    (house / "stock.csv").write_text("\n".join(lines))
    result = run("plan", house)
    assert result.exit_code == 2
    assert "stock.csv row 2" in result.output


@pytest.mark.parametrize("blank", [[], ["--blank"], ["--unit", "mm"], ["--blank", "--unit", "mm"], ["--unit", "ft"]])
def test_a_new_house_is_whole_and_never_overwrites(tmp_path, blank):
    made = tmp_path / "mine"
    assert run("new", made, *blank).exit_code == 0
    assert run("check", made).exit_code == 0
    assert run("plan", made).exit_code == 0
    before = {path: path.read_bytes() for path in made.rglob("*") if path.is_file()}
    assert run("new", made, *blank).exit_code == 2
    assert {path: path.read_bytes() for path in made.rglob("*") if path.is_file()} == before


def test_a_new_house_begins_in_the_unit_that_is_asked_for(tmp_path):
    assert run("new", tmp_path / "mine", "--blank", "--unit", "mm").exit_code == 0
    (hall,) = read_house(tmp_path / "mine")[0].rooms
    sides = [length * 25.4 for length in (hall.length, hall.width, hall.ceiling)]
    assert sides == pytest.approx([100 * round(side / 100) for side in sides])
    assert run("new", tmp_path / "copy", "--unit", "mm").exit_code == 0
    assert [line for line in run("plan", tmp_path / "copy").output.splitlines() if INCHES.search(line)] == []
    refused = run("new", tmp_path / "other", "--unit", "yd")
    assert refused.exit_code == 2 and "mm" in refused.output and not (tmp_path / "other").exists()


def test_missing_houses_and_alternatives_are_named(house, tmp_path):
    assert run("plan", tmp_path / "nowhere").exit_code == 2
    result = run("plan", house, "--alternative", "formall")
    assert result.exit_code == 2
    assert "formal" in result.output
    assert run("open", tmp_path / "nowhere").exit_code == 2


HOSTILE = "Lib\u202erary\u200f"
"""A room whose name, written raw, would be read backwards."""


def renamed(house, name):
    """The house with a room under another name."""
    for path in [*house.glob("*.csv"), *house.glob("alternatives/*.toml")]:
        path.write_text(path.read_text("utf-8").replace("Library", name), "utf-8")


@pytest.mark.parametrize("options", [[], ["--json"]])
def test_names_reach_the_terminal_with_their_marks_written_out(house, options):
    renamed(house, HOSTILE)
    output = run("plan", house, *options).output
    assert not set(output) & {"\u202e", "\u200f"}
    assert "Lib\\u202erary" in output
    if options:
        assert HOSTILE in [room["room"] for room in json.loads(output)["rooms"]]


def test_faults_and_addresses_reach_the_terminal_with_their_escapes_written_out(house, tmp_path):
    (house / "alternatives" / "o\x1b[2Jdd.toml").write_text('style = "ge\u202eorgian"\n')
    (house / "rooms.csv").write_text((house / "rooms.csv").read_text().replace("17 ft", "\x1b]0;x\x07\u2066", 1))
    strange = tmp_path / "nowhere\x1b[2J\n\u202e"
    for arguments in (["check", house], ["plan", house], ["plan", house, "--alternative", "\x1b[2J\u202e"]):
        assert run(*arguments).exit_code == 2
    for arguments in (
        ["check", strange],
        ["open", strange],
        ["plan", house, strange],
        ["\x1b[2J"],
        ["plan", "--\x1b[2J"],
    ):
        result = run(*arguments)
        assert result.exit_code == 2
        assert not set(result.output) & {"\x1b", "\x07", "\u202e", "\u2066"}


@pytest.mark.parametrize("command", ["open", "review", "compare", "serve"])
def test_a_house_behind_a_closed_folder_is_told_to_be_unreadable(house, command, monkeypatch):
    def closed(self, *given, **named):
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "stat", closed)
    result = run(command, house)
    assert result.exit_code == 2
    assert f"{house}: cannot be read (Permission denied)" in result.output


def test_addresses_that_no_browser_can_find_are_refused(house):
    result = run("serve", house, "--bind", "0.0.0.0")
    assert result.exit_code == 2
    assert "--name" in result.output
    result = run("serve", house, "--bind", "192.0.2.1")
    assert result.exit_code == 2
    assert "192.0.2.1" in result.output


def test_help_names_every_command():
    output = run("--help").output
    for command in ("open", "review", "compare", "serve", "plan", "check", "new", "deliver"):
        assert command in output
        assert run(command, "--help").exit_code == 0


def test_a_houses_own_style_is_planned_with_and_its_faults_are_told(house):
    write_style(house, "own", "georgian", [{"element": "chair rail", "form": "none"}])
    (house / "alternatives" / "mine.toml").write_text('style = "own"\n')
    planned = json.loads(run("plan", house, "--alternative", "mine", "--json").output)
    assert {p["style"] for p in planned["packages"]} == {"own"}
    assert run("check", house).exit_code == 0

    (house / "styles" / "own.toml").write_text('based_on = "georgian"\nratio = 9\n')
    checked = run("check", house)
    assert checked.exit_code == 2
    assert checked.output.count("styles/own.toml, ratio: 9 is out of range") == 1
    assert 'alternatives/mine.toml, style: "own" is not known' in checked.output
    assert run("plan", house).exit_code == 0
    refused = run("plan", house, "--alternative", "mine")
    assert refused.exit_code == 2 and "styles/own.toml, ratio" in refused.output


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("buffered", ["", "1"])
@pytest.mark.parametrize("command", ["check", "plan", "plan --json", "history", "--help"])
def test_output_that_has_no_room_is_told_in_words_and_with_code_2(house, command, buffered):
    with open("/dev/full", "w") as full:
        told = subprocess.run(
            [sys.executable, "-c", "from planner.cli import main; main()", *command.split(), str(house)],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": buffered},
        )
    assert told.stderr == "What is printed cannot be written (No space left on device); make room where it goes\n"
    assert told.returncode == 2


def test_a_command_whose_output_is_closed_does_its_work(house):
    told = subprocess.run(
        ["/bin/sh", "-c", '"$0" "$@" >&-', sys.executable, "-c", "from planner.cli import main; main()", "plan", house],
        stderr=subprocess.PIPE,
        text=True,
    )
    assert (told.returncode, told.stderr) == (0, "")
