"""What an app raises while it answers, and what is told of it."""

import io
import traceback

import msgspec
import pytest
from starlette.requests import ClientDisconnect
from starlette.websockets import WebSocketDisconnected

from planner.server.mishaps import Lines, Mishaps
from tests.loops import run


def answered(error):
    """Ask something of an app that raises an error."""

    async def app(scope, receive, send):
        raise error

    run(Mishaps(app)({"type": "http", "path": "/design/"}, None, None))


@pytest.mark.parametrize(
    "error", [msgspec.DecodeError(), UnicodeDecodeError("utf-8", b"", 0, 0, ""), ClientDisconnect(), RecursionError()]
)
def test_what_a_browser_is_the_cause_of_is_told_there_alone(error, capsys):
    answered(error)
    answered(WebSocketDisconnected())
    assert capsys.readouterr() == ("", "")


def test_what_nobody_foresaw_is_one_line_for_the_terminal(capsys):
    answered(TypeError("one\nand \x1b[2J another"))
    assert capsys.readouterr().err == "/design/ was not answered (TypeError: one\\nand \\x1b[2J another)\n"


def test_of_a_trace_the_terminal_is_told_what_went_wrong_and_does_nothing_of_it():
    terminal = io.StringIO()
    lines = Lines(terminal)
    lines.write("One,\nand another \x1b[2J:\n")
    try:
        raise ValueError("of \x1b]0;x\x07")
    except ValueError:
        lines.write(traceback.format_exc())
    assert terminal.getvalue() == "One,\nand another \\x1b[2J:\nValueError: of \\x1b]0;x\\x07\n"
