"""What the apps hear of what a browser sends: all that it says, in whole letters, and of a websocket nothing."""

import re

from starlette.requests import ClientDisconnect
from starlette.types import Message, Receive

LETTERS = re.compile(
    rb"(?P<whole>\\u[dD][89abAB][0-9a-fA-F]{2}\\u[dD][c-fC-F][0-9a-fA-F]{2})"
    rb"|(?P<half>\\u[dD][89a-fA-F][0-9a-fA-F]{2})"
    rb"|\\."
)
"""What JSON writes with a backslash: a letter in two halves, one half alone, anything else (RFC 8259, section 7)."""

NO_LETTER = rb"\ufffd"
"""What stands for half a letter, which is no text: the sign for what is not known (Unicode, U+FFFD)."""


async def whole(receive: Receive, most: int) -> Receive | None:
    """What a browser sends with what it asks, once all of it has come; None where that is more than `most` [bytes].

    Raises
    ------
    ClientDisconnect : the browser has gone before that.
    """
    body, more = bytearray(), True
    while more:
        message = await receive()
        if message["type"] == "http.disconnect":
            raise ClientDisconnect
        body += message.get("body", b"")
        if len(body) > most:
            return None
        more = message.get("more_body", False)
    waiting: list[Message] = [{"type": "http.request", "body": in_letters(bytes(body)), "more_body": False}]

    async def again() -> Message:
        return waiting.pop() if waiting else await receive()

    return again


def in_letters(said: bytes) -> bytes:
    r"""What is said in JSON, with NO_LETTER for each half of a letter; the framework hears nothing of a text with one.

    Half a letter is what a field's limit, or a deletion, leaves of one that is written in two parts.

    >>> in_letters(rb'{"said": "\ud83d\ude00 \ud83d \\ud83d"}')
    b'{"said": "\\ud83d\\ude00 \\ufffd \\\\ud83d"}'
    """
    return LETTERS.sub(lambda found: NO_LETTER if found["half"] else found[0], said)


def unheard(receive: Receive) -> Receive:
    """A websocket of which nothing is heard but that it opens and ends: what pages do, they ask for."""

    async def ends() -> Message:
        while (message := await receive())["type"] == "websocket.receive":
            pass
        return message

    return ends
