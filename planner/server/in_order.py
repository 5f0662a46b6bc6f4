"""What a page is told while it is at work is done in the order in which it was told.

Marimo 0.25 makes one of all that controls were told meanwhile: each has its last value, and its place is that of the
first. Of two answers that are pressed in turn, one of them twice, the other would be done last and hold.
"""

from collections.abc import Iterable, Iterator, Sequence
from importlib import import_module
from typing import Any


def turns(told: Iterable[tuple[str, Any]]) -> Iterator[dict[str, Any]]:
    """The values that controls were told, by their names, in as few turns as keep the order.

    What one control is told without another between is one value, the last: so is a text that is being written.

    >>> list(turns([("a", 1), ("a", 2), ("b", 1)]))
    [{'a': 2, 'b': 1}]
    >>> list(turns([("a", 1), ("b", 1), ("a", 2)]))
    [{'a': 1, 'b': 1}, {'a': 2}]
    """
    turn: dict[str, Any] = {}
    for name, value in told:
        if name in turn and name != next(reversed(turn)):
            yield turn
            turn = {}
        turn[name] = value
    if turn:
        yield turn


def do_in_order() -> None:
    """From now on pages of this process do what they are told in its order."""
    try:
        requests = import_module("marimo._runtime.utils.set_ui_element_request_manager")
        command = requests.UpdateUIElementCommand
        _ = requests._merge_ui_commands
    except (ImportError, AttributeError):  # another marimo, which may have an order of its own
        return

    def merged(commands: Sequence[Any]) -> list[Any]:
        told = [each for one in commands for each in one.ids_and_values]
        return [
            command(list(turn), list(turn.values()), token=commands[-1].token, request=commands[-1].request)
            for turn in turns(told)
        ]

    setattr(requests, "_merge_ui_commands", merged)  # noqa: B010  # known by its name alone
