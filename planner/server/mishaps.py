"""What goes wrong between a page and the framework stays between them: its trace is nothing for the terminal.

Whoever is let in may send what no page sends, and browsers go while they are being answered. The framework tells the
browser, and raises the same again for whoever runs the server.
"""

import io
import logging
import sys
from typing import TextIO

import msgspec
from starlette.requests import ClientDisconnect
from starlette.types import ASGIApp, Receive, Scope, Send
from starlette.websockets import WebSocketDisconnect, WebSocketDisconnected

from planner.terminal import shown

FORESEEN = (
    *(msgspec.MsgspecError, UnicodeError, RecursionError, AssertionError),  # sent what no page sends
    *(ClientDisconnect, WebSocketDisconnect, WebSocketDisconnected),  # gone
)
"""What follows from what a browser does; it is told there, where anybody is."""


class Mishaps:
    """Ends what goes wrong in answering one request; what nobody foresaw is told in one line."""

    def __init__(self, app: ASGIApp):
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        try:
            await self._app(scope, receive, send)
        except FORESEEN:
            pass
        except Exception as error:
            line = f"{scope['path']} was not answered ({type(error).__name__}: {error})"
            print(shown(line), file=sys.stderr)


class Lines(io.TextIOBase):
    """What a server's apps write to its terminal, of which that finds nothing to do but to show it; of a trace stands
    there what went wrong, and not where.

    The framework writes a trace for every value that a control cannot have, with that value in it as it came.

    Parameters
    ----------
    terminal : where it is written.
    """

    TRACE = "Traceback (most recent call last):"

    def __init__(self, terminal: TextIO):
        self._terminal = terminal

    def write(self, text: str) -> int:
        """Write some lines."""
        whole = text
        if self.TRACE in text:
            whole = text.rstrip().rpartition("\n")[2] + "\n"
        self._terminal.write("\n".join(map(shown, whole.split("\n"))))
        return len(text)

    def flush(self) -> None:
        """Have it shown."""
        self._terminal.flush()

    def fileno(self) -> int:
        """The number of the file."""
        return self._terminal.fileno()


def quieten() -> None:
    """From now on asyncio says in this process only what is wrong with the server, not which browsers have gone."""
    logging.getLogger("asyncio").setLevel(logging.ERROR)
