"""A house in a folder that may be read and not written, for a process that the system holds to that."""

import json
import os
import shutil
import subprocess
import sys

import pytest

from planner import demo_house
from planner.record.entries import KEEP
from planner.record.keeping import open_session, say
from tests.house.conftest import state

WITHOUT_RIGHTS = ["setpriv", "--bounding-set=-all", "--inh-caps=-all"]
"""Runs a command as a user whom rights hold; root has no more than its owner's then."""


@pytest.fixture
def held():
    """What a command begins with so that the system holds it to what it may."""
    if os.geteuid():
        return []
    tried = shutil.which(WITHOUT_RIGHTS[0]) and subprocess.run([*WITHOUT_RIGHTS, "true"], capture_output=True)
    if not tried or tried.returncode:
        pytest.skip("the tests run as root, and setpriv cannot take its rights away here")
    return WITHOUT_RIGHTS


@pytest.fixture
def house(tmp_path):
    """The demo house with an answer, in which nothing may be written."""
    folder = shutil.copytree(demo_house(), tmp_path / "house")
    say(open_session(folder, "Bert"), "Bert", "measured", "Library", KEEP)
    inside = [folder, *folder.rglob("*")]
    for path in inside:
        path.chmod(0o555 if path.is_dir() else 0o444)
    yield folder
    for path in inside:
        path.chmod(0o755 if path.is_dir() else 0o644)


def run(held, *command, timeout=None):
    return subprocess.run([*held, sys.executable, *map(str, command)], capture_output=True, text=True, timeout=timeout)


def test_what_cannot_be_written_is_told_and_nothing_is_called_kept(held, house):
    before = state(house)
    done = run(held, "-m", "tests.apps.reading_only", house)
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert "written" not in told
    for act in ("change", "save", "save as", "tables", "save tables"):
        assert "cannot be written (Permission denied)" in told[act], act
    assert "not kept as a draft: cannot be written (Permission denied)" in told["headline"]
    assert "not saved: cannot be written (Permission denied)" in told["saved?"]
    assert told["send"].startswith("The word was not sent, and is still in the field: ")
    assert told["decide"].startswith("It was not decided. ")
    for act in ("send", "decide"):
        assert "Permission denied" in told[act], act
    assert told["answer"].startswith("Your answer on Library was not kept: it could not be kept (Permission denied).")
    assert "Traceback" not in done.stderr and state(house) == before


@pytest.mark.parametrize("command", [("check",), ("plan", "--alternative", "measured")])
def test_what_only_reads_does_so_as_ever(held, house, command):
    before, name = state(house), command[0]
    done = run(held, "-c", "from planner.cli import main; main()", name, house, *command[1:])
    assert done.returncode in (0, 1) and done.stderr == "", done.stderr
    assert done.stdout and "Traceback" not in done.stdout and state(house) == before


@pytest.mark.parametrize("command", ["check", "plan", "history", "open"])
def test_a_folder_whose_files_may_be_named_but_not_opened_is_told_once_and_no_broken_write_is(held, house, command):
    house.chmod(0o444)
    done = run(held, "-c", "from planner.start import main; main()", command, house, timeout=60)
    house.chmod(0o755)
    assert done.returncode == 2 and not done.stdout
    (line,) = done.stderr.splitlines()
    assert line.startswith(f"{house}: cannot be ") and "(Permission denied); give yourself the right" in line
