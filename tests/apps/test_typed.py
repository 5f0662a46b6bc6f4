"""What was typed and not used is there again for the same visitor, and for no other."""

import pytest

from planner.apps import typed
from planner.apps.typed import typed_again


@pytest.fixture(autouse=True)
def nobody_yet(monkeypatch):
    monkeypatch.setattr(typed, "_kept", type(typed._kept)())


def test_each_visitor_finds_what_that_visitor_typed():
    typed_again("ada", "house").into("Library")("we read")
    assert typed_again("ada", "house").text("Library") == "we read"
    assert typed_again("bob", "house").text("Library") == typed_again("ada", "barn").text("Library") == ""


def test_of_too_many_visitors_those_not_seen_for_longest_are_forgotten(monkeypatch):
    monkeypatch.setattr(typed, "MOST_KEPT", 2)
    for visitor in ("ada", "bob", "ada", "cleo"):
        typed_again(visitor).into("Library")(visitor)
    assert typed_again("ada").text("Library") == "ada" and typed_again("bob").text("Library") == ""
