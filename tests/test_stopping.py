"""A command that is told to end leaves what it writes to as it was."""

import os
import signal
import subprocess
import sys

import pytest

from planner import demo_house
from planner.stopping import Alike

STOPPED = """
import os, signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # which a shell turns off for what runs in the background
import planner
from planner.cli import main
from planner.files import journal

real, told = journal._take_places, getattr(signal, sys.argv.pop())

def half_way(folder, steps, *more):
    real(folder, steps[:1], *more)
    os.kill(os.getpid(), told)
    signal.pause()

def papers(_plan, out, *_more):
    journal._take_places = half_way
    journal.write(out, {"a.txt": b"new", "b.txt": b"new"})

planner.deliver = papers
main()
"""
"""The command for papers, with two papers that are made at once, stopped when the first has taken its place."""


@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM"])
def test_papers_are_as_they_were_where_the_command_is_told_to_end(tmp_path, name):
    for paper in ("a.txt", "b.txt"):
        (tmp_path / paper).write_text("former")
    run = [sys.executable, "-c", STOPPED, "deliver", str(demo_house()), "--out", str(tmp_path), name]
    ended = subprocess.run(run, capture_output=True, text=True, timeout=300)
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"a.txt": "former", "b.txt": "former"}
    assert (ended.returncode, ended.stderr.strip()) == (1, "Aborted!")


def test_who_wants_it_otherwise_is_heard():
    heard = []
    before = signal.signal(signal.SIGTERM, lambda *_: heard.append("told"))
    try:
        with Alike():
            os.kill(os.getpid(), signal.SIGTERM)
        assert heard == ["told"]
    finally:
        signal.signal(signal.SIGTERM, before)
