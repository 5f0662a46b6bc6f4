"""The papers from the command line: told as they are made, written whole, refused in words."""

import json
import shutil

import pytest

from planner import demo_house
from planner.cli import PAPER
from planner.deliverables.papers import SIZES
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


def test_papers_of_a_plan_with_failing_checks_are_written_and_end_in_code_1(house, tmp_path):
    rows = (house / "openings.csv").read_text("utf-8")
    there, too_near = (f"Powder room door,door,Stair Hall,Powder Room,2,{at}," for at in ('"1\'-4"""', "1"))
    assert there in rows
    (house / "openings.csv").write_text(rows.replace(there, too_near), "utf-8")
    done = run("deliver", house, "--out", tmp_path / "papers", "--paper", "a3")
    assert done.exit_code == 1
    assert "failing check" in done.stderr and "Wrote " in done.stdout
    assert "cannot be built so" in (tmp_path / "papers" / "job-note.txt").read_text("utf-8")
    assert json.loads((tmp_path / "papers" / "papers.json").read_text("utf-8"))["paper"] == "A3"


def test_a_paper_that_was_written_in_is_told_with_code_2(house, tmp_path):
    out = tmp_path / "papers"
    assert run("deliver", house, "--out", out, "--date", "2030-01-31").exit_code == 0
    (out / "job-note.txt").write_text("marked up on site")
    again = run("deliver", house, "--out", out, "--date", "2030-02-01")
    assert again.exit_code == 2 and "job-note.txt: was changed since it was written" in again.stderr
    assert (out / "job-note.txt").read_text() == "marked up on site"
    assert "2030-01-31" in (out / "papers.json").read_text("utf-8")


def test_the_command_offers_every_size_of_paper():
    """The command names them itself, so that it loads nothing that makes papers before it is asked for some."""
    assert list(PAPER.choices) == list(SIZES)
