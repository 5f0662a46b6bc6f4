"""Each app runs from top to bottom without a browser, on a sound house and on a broken one."""

import shutil
import subprocess
import sys

import pytest

from planner import bundled, demo_house

APPS = ("design", "review", "compare")


def run(app, folder, *arguments):
    """Run an app as a script and write what it shows to a page."""
    page = folder.parent / f"{app}.html"
    command = [sys.executable, "-m", "marimo", "export", "html", str(bundled("notebooks") / f"{app}.py")]
    command += ["-o", str(page), "--no-include-code", "--", "--house", str(folder), *arguments]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr
    return page.read_text("utf-8")


@pytest.fixture
def folder(tmp_path):
    return shutil.copytree(demo_house(), tmp_path / "house")


@pytest.mark.parametrize("app", APPS)
def test_an_app_runs_as_a_script(app, folder):
    script = [sys.executable, str(bundled("notebooks") / f"{app}.py"), "--", "--house", str(folder)]
    done = subprocess.run(script, capture_output=True, text=True, timeout=300, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("app", APPS)
def test_a_broken_house_is_told_instead_of_a_blank_page(app, folder):
    (folder / "rooms.csv").write_text("room,level\nHall,Ground\n", "utf-8")
    shown = run(app, folder)
    assert "This house cannot be planned yet" in shown
    assert "rooms.csv" in shown and "the column is missing" in shown
