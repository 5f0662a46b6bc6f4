"""The papers from the command line: told as they are made, written whole, refused in words."""

import json
import shutil

import pytest

from planner import demo_house
from tests.cli.test_cli import run


@pytest.fixture
def house(tmp_path):
    return shutil.copytree(demo_house(), tmp_path / "house")


def test_papers_are_told_as_they_are_made_and_listed_as_json(house, tmp_path):
    out = tmp_path / "papers"
    done = run("deliver", house, "--out", out, "--alternative", "formal", "--date", "2030-01-31", "--json")
    assert done.exit_code == 0
    told = json.loads(done.stdout)
    assert told["alternative"] == "Formal: dressed for company" and told["date"] == "2030-01-31"
    assert told["folder"] == str(out) and told["paper"] == "ANSI B"
    assert [line.split("  ")[0] for line in done.stderr.splitlines()] == [paper["name"] for paper in told["papers"]]
    for paper in told["papers"]:
        assert (out / paper["name"]).stat().st_size == paper["bytes"] > 0
    listed = json.loads((out / "papers.json").read_text("utf-8"))
    assert told == listed | {"folder": str(out)}


def test_what_is_wrong_is_told_with_code_2_and_nothing_is_written(house, tmp_path):
    out = tmp_path / "papers"
    for more in (["--paper", "B5"], ["--date", "31.1.2030"], ["--alternative", "formall"]):
        assert run("deliver", house, "--out", out, *more).exit_code == 2
    assert run("deliver", tmp_path / "nowhere", "--out", out).exit_code == 2
    assert run("deliver", house).exit_code == 2
    (house / "alternatives" / "clash.toml").write_text(
        'title = "Clash"\n[rooms."Entry Hall"]\ntier = 4\n[rooms."Drawing Room"]\ntier = 1\n'
    )
    result = run("deliver", house, "--out", out, "-a", "clash")
    assert result.exit_code == 1 and "Entry Hall: pinned to tier 4." in result.output
    assert not out.exists()
    out.write_text("a file")
    assert run("deliver", house, "--out", out).exit_code == 2
    assert out.read_text() == "a file"
