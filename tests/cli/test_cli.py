"""The command line as a user meets it: exit codes, messages, tables that fit the terminal."""

import json
import shutil

import pytest
from click.testing import CliRunner, Result

from planner import demo_house, write_style
from planner.cli import main


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


def test_faults_of_the_stock_are_told_by_row(house):
    lines = (house / "stock.csv").read_text().splitlines()
    lines[1] = lines[1].replace(",", ",no such role and ", 1)
    (house / "stock.csv").write_text("\n".join(lines))
    result = run("plan", house)
    assert result.exit_code == 2
    assert "stock.csv row 2" in result.output


@pytest.mark.parametrize("blank", [[], ["--blank"]])
def test_a_new_house_is_whole_and_never_overwrites(tmp_path, blank):
    made = tmp_path / "mine"
    assert run("new", made, *blank).exit_code == 0
    assert run("check", made).exit_code == 0
    assert run("plan", made).exit_code == 0
    before = {path: path.read_bytes() for path in made.rglob("*") if path.is_file()}
    assert run("new", made, *blank).exit_code == 2
    assert {path: path.read_bytes() for path in made.rglob("*") if path.is_file()} == before


def test_missing_houses_and_alternatives_are_named(house, tmp_path):
    assert run("plan", tmp_path / "nowhere").exit_code == 2
    result = run("plan", house, "--alternative", "formall")
    assert result.exit_code == 2
    assert "formal" in result.output
    assert run("open", tmp_path / "nowhere").exit_code == 2


def test_help_names_every_command():
    output = run("--help").output
    for command in ("open", "review", "compare", "plan", "check", "new"):
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
