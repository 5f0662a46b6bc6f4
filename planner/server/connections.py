"""How long and for how many browsers the server waits: whoever sends nothing and reads nothing is let go.

A connection that asks nothing costs nobody else anything but its place, and places are what the system has few of.
"""

import asyncio
import sys
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol
from uvicorn.protocols.websockets.websockets_sansio_impl import WebSocketsSansIOProtocol

PATIENCE = 30.0
"""Seconds after which it is looked again whether a browser that is waited for has gone on."""

LEAST = 30_000
"""What it sends between two looks if it is there [bytes], unless it has said all that it had to say: a slow line brings
that, and who sends a byte now and then does not."""

LONGEST_FRAME = 65_536
"""What a page says over its websocket [bytes], which is nothing that anybody hears."""

FILES = 16_384
"""Files and connections that the process asks the system to let it have open at a time."""


def most_connections(files: int | None = None) -> int:
    """Connections that there may be at a time: of the places that the system gives, a quarter.

    Each session takes three more. The system gives as many as it lets a process have, where that is more than it gives
    to begin with.

    >>> most_connections(1024)
    256
    """
    return (files or _places()) // 4


def _places() -> int:
    if sys.platform == "win32":  # it has no such limit
        return FILES
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = FILES if hard == resource.RLIM_INFINITY else min(hard, FILES)
    if soft != resource.RLIM_INFINITY and soft < wanted:
        try:
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
        except (OSError, ValueError):  # some systems have a lower limit than they tell
            wanted = soft
    return wanted


class Connection(H11Protocol):
    """A browser's connection: let go where what it is to send or to read does not come on, and where others need its
    place.

    uvicorn itself waits without end for a request to be whole.
    """

    def connection_made(self, transport: Any) -> None:
        """Begin to wait for a request."""
        super().connection_made(transport)
        self._since, self._came, self._unread = self.loop.time(), 0, 0
        self._look: asyncio.TimerHandle = self.loop.call_later(PATIENCE, self._looked)
        self._make_room()

    def connection_lost(self, exc: Exception | None) -> None:
        """The browser has gone."""
        self._look.cancel()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Some of a request has come."""
        self._came += len(data)
        super().data_received(data)

    def on_response_complete(self) -> None:
        """What was asked is answered: it is the browser's turn from now on."""
        self._since = self.loop.time()
        super().on_response_complete()

    @property
    def waits(self) -> bool:
        """Whether it is the browser's turn: to ask something, or to send the rest of it."""
        return self.cycle is None or self.cycle.response_complete or self.cycle.more_body

    def _looked(self) -> None:
        """Go on waiting only for a browser that has gone on."""
        if self.transport.get_protocol() is not self:  # it has become a websocket, which asks whether a page is there
            return
        unread = self.transport.get_write_buffer_size()
        is_late = self.waits and self._came < LEAST and self.loop.time() - self._since >= PATIENCE
        if is_late or (unread and unread == self._unread):
            self.transport.abort()
            return
        self._came, self._unread = 0, unread
        self._look = self.loop.call_later(PATIENCE, self._looked)

    def _make_room(self) -> None:
        """Where there are too many, the one goes that has been waited for the longest."""
        if self.limit_concurrency is None or len(self.connections) < self.limit_concurrency:
            return
        others = [each for each in self.connections if isinstance(each, Connection) and each is not self]
        waiting = [each for each in others if each.waits and not each.transport.is_closing()]
        if waiting:
            min(waiting, key=lambda each: each._since).transport.abort()


class Socket(WebSocketsSansIOProtocol):
    """A page's websocket. uvicorn holds one open for good whose head is longer than it reads, and cannot end then."""

    def data_received(self, data: bytes) -> None:
        """Something has come; what is no beginning of a websocket is answered and closed."""
        super().data_received(data)
        if self.conn.handshake_exc is not None and not self.close_sent:
            self.close_sent = True
            self.transport.write(b"".join(self.conn.data_to_send()))
            self.transport.close()
