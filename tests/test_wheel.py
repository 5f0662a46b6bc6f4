"""The project as a wheel: notebooks and demo house inside it, working outside its checkout."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

from planner.deliverables.web_page import SCRIPTS

ROOT = Path(__file__).parent.parent


def test_the_wheel_works_outside_the_checkout(tmp_path):
    built = tmp_path / "dist"
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(built)]
    made = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert made.returncode == 0, made.stderr
    (wheel,) = built.glob("*.whl")
    site = tmp_path / "site"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(site)
    for file in (
        "_notebooks/design.py",
        "_demo_house/rooms.csv",
        "_demo_house/stock.csv",
        "library/uses.toml",
        "apps/board/board.js",
        "apps/board/board.css",
        "apps/look.css",
        *(f"deliverables/page/{name}" for name in ("page.html", "page.css", *SCRIPTS)),
        "deliverables/typst_templates/drawing_set.typ",
        "deliverables/typst_templates/job_note.typ",
        "library/job.toml",
        "py.typed",
    ):
        assert (site / "planner" / file).is_file(), file
    script = (
        "import planner; from planner.cli import main; from pathlib import Path;"
        "assert Path(planner.__file__).is_relative_to(Path.cwd()), planner.__file__;"
        "assert planner.demo_house().is_relative_to(Path.cwd());"
        "assert planner.bundled('notebooks').joinpath('review.py').is_file();"
        "from planner.apps.board.board import Board; assert 'export default' in Board._esm and '.bd' in Board._css;"
        "main(['new', 'mine'], standalone_mode=False); main(['plan', 'mine'])"
    )
    environment = {**os.environ, "PYTHONPATH": str(site)}
    ran = subprocess.run([sys.executable, "-c", script], cwd=site, env=environment, capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    assert "proved best" in ran.stdout
