"""Files that pages have made, as tables and drawings to take away: nothing else is behind their addresses.

As long as no page has been opened, marimo 0.25 looks for such a file in what the programs of this machine share in
memory; and it has begun to answer when it finds that there is none of that name.
"""

import sys

from marimo._runtime.virtual_file import InMemoryStorage, VirtualFileStorage, VirtualFileStorageManager
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Receive, Scope, Send

PLACE = "/@file/"
"""What stands in an address before the length of a file, a hyphen and its name."""

GONE = "This went with the page that made it. Load that page again.\n"


class MadeFiles:
    """Lets through what asks for a file only where a page has made it."""

    def __init__(self, app: ASGIApp):
        self._app, self._made = app, made_files()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        _, place, asked = scope["path"].partition(PLACE)
        if place and asked != self._address(asked.partition("-")[2]):
            await PlainTextResponse(GONE, 404)(scope, receive, send)
        else:
            await self._app(scope, receive, send)

    def _address(self, name: str) -> str | None:
        """What stands in the address of a file that has been made."""
        try:
            return f"{len(self._made.read(name, sys.maxsize))}-{name}"
        except KeyError:
            return None


def made_files() -> VirtualFileStorage:
    """Where all pages of this process keep the files that they make: in its own memory, from now on."""
    manager = VirtualFileStorageManager()
    if manager.storage is None:
        manager.storage = InMemoryStorage()
    return manager.storage
