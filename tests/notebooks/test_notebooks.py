"""Each app runs from top to bottom without a browser, on a sound house and on a broken one."""

import runpy
import shutil
import subprocess
import sys

import pytest

from planner import bundled, demo_house

APPS = ("design", "review", "compare")


@pytest.fixture
def folder(tmp_path):
    return shutil.copytree(demo_house(), tmp_path / "house")


@pytest.mark.parametrize("app", APPS)
def test_an_app_runs_as_a_script(app, folder):
    script = [sys.executable, str(bundled("notebooks") / f"{app}.py"), "--", "--house", str(folder)]
    done = subprocess.run(script, capture_output=True, text=True, timeout=300, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("app", APPS)
def test_a_broken_house_is_told_instead_of_a_blank_page(app, folder, monkeypatch):
    (folder / "rooms.csv").write_text("room,level\nHall,Ground\n", "utf-8")
    notebook = bundled("notebooks") / f"{app}.py"
    monkeypatch.setattr(sys, "argv", [str(notebook), "--", "--house", str(folder)])
    outputs, _ = runpy.run_path(str(notebook))["app"].run()
    shown = "".join(output.text for output in outputs if output is not None)
    told = "rooms.csv" in shown and "the column is missing" in shown
    if app == "review":  # faults are the designer's
        assert "Your designer is not done with this house yet" in shown and not told
    else:
        assert "This house cannot be planned yet" in shown and told
