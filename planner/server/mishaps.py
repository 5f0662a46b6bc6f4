"""What goes wrong between a page and the framework stays between them: its trace is nothing for the terminal.

Whoever is let in may send what no page sends, and browsers go while they are being answered. The framework tells the
browser, and raises the same again for whoever runs the server.
"""

import logging
import sys

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


def quieten() -> None:
    """From now on asyncio says in this process only what is wrong with the server, not which browsers have gone."""
    logging.getLogger("asyncio").setLevel(logging.ERROR)
