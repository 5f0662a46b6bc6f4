"""What is installed is listed once in a process that serves."""

from importlib import metadata

import pytest
from marimo._runtime.executor.evaluator import resolve_executor

from planner.server.installed import look_up_once


def test_many_runs_list_what_is_installed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    registry = pytest.importorskip("marimo._entrypoints.registry")
    monkeypatch.setattr(registry, "entry_points", registry.entry_points)  # put back afterwards
    asked = list[object]()
    listed = metadata.distributions
    monkeypatch.setattr(metadata, "distributions", lambda **how: asked.append(how) or listed(**how))
    look_up_once()
    for _ in range(3):
        resolve_executor()
    assert len(asked) == 1
