"""What is installed is listed once in a process that serves."""

from importlib import metadata

import pytest
from marimo._runtime.executor.evaluator import resolve_executor

from planner.server.installed import look_up_once


def test_many_runs_list_what_is_installed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    registry = pytest.importorskip("marimo._entrypoints.registry")
    for module, name in ((registry, "get_entry_points"), (metadata, "version")):
        monkeypatch.setattr(module, name, getattr(module, name))  # put back afterwards
    asked, listed, looked_up = list[object](), metadata.distributions, metadata.distribution
    monkeypatch.setattr(metadata, "distributions", lambda **how: asked.append(how) or listed(**how))
    monkeypatch.setattr(metadata, "distribution", lambda name: asked.append(name) or looked_up(name))
    look_up_once()
    for _ in range(3):
        resolve_executor()
        assert metadata.version("marimo")
    assert asked == [{}, "marimo"]
