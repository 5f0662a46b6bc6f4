"""Folders broken at random raise nothing but the project's own faults, and are as they were after having been read."""

import random
import shutil

import pytest

from planner import demo_house
from planner.record.decisions import decide
from planner.record.entries import KEEP
from planner.record.keeping import open_session, say
from tests.house.conftest import state
from tests.house.mutated import looked_at, mutate


@pytest.mark.parametrize("number", range(5_000, 5_016))
def test_a_folder_broken_at_random_is_read_or_told_and_not_touched(tmp_path, number):
    """Short; the long one is tests/benchmarks/soak_folders.py."""
    folder = shutil.copytree(demo_house(), tmp_path / f"house {number}")
    say(open_session(folder, "Ada"), "Ada", "measured", "Library", KEEP)
    decide(folder, "Bert", "measured")
    mutate(folder, random.Random(number))
    before = state(folder)
    assert looked_at(folder)[1] == []
    assert state(folder) == before
