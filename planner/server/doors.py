"""Who comes in: a door for each app, and no way round it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from html import escape
from typing import Any, NamedTuple
from urllib.parse import urlencode

from starlette.requests import HTTPConnection
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from planner.files.pictures import LARGEST_PICTURE
from planner.house.notes import MOST_PICTURES
from planner.server import keys
from planner.server.heard import unheard, whole
from planner.server.keys import Lock
from planner.server.sessions import Sessions

KEY = "key"
"""What an address calls the key."""

CLOSED = 4403
"""The code that a refused websocket is closed with."""


class Refusal(NamedTuple):
    """What is said, with which status, to whom nothing is shown."""

    status: int
    words: str


NO_KEY = Refusal(403, "This page opens by the whole address that the planner printed, with its key. Open it again.\n")
NO_WAY = Refusal(403, "There is nothing here.\n")
TOO_MUCH = Refusal(413, "This is more than a page may send.\n")
FULL = Refusal(503, "Too many pages are open. Close some, wait a minute, and load this page again.\n")

PAGE, SOCKET = "", "ws"
FILES = re.compile(
    r"assets/[\w.-]+|favicon\.ico|manifest\.json|logo\.png|apple-touch-icon\.png"
    r"|android-chrome-(192x192|512x512)\.png|public-files-sw\.js|health"
)
TABLES = re.compile(r"@file/[\w.-]+")
CALLS = re.compile(r"api/kernel/(set_ui_element_value|function_call)")
GESTURES = re.compile(r"api/kernel/set_model_value")
"""What the pages of an app ask for; of all else that the framework would answer, nothing can be reached."""

QUERY = {"session_id", "session", "alternative", "room", "tab"}
"""What an address may ask; questions of the framework's own, as for another file, do not reach it."""

KEPT_BACK = (b"cookie", b"if-none-match", b"range")
"""Headers that the apps are not told: what opens the door, and what asks for less than the whole."""

SAID = 1_000_000
"""What a page may say at once [bytes]: a press, a text, the rows that are chosen of a large table."""

UPLOADED = MOST_PICTURES * LARGEST_PICTURE * 4 // 3 + SAID
"""The same where photographs come in, as many as a room may have, three bytes in four letters."""

COMING_IN = "<!doctype html><meta charset=utf-8><title>Coming in</title><meta http-equiv=refresh content='0; url={}'>"


@dataclass(frozen=True)
class Door:
    """The way into one app: the `role` that it is for, and the app's name, which stands in the address.

    `tables` is whether tables, drawings and the module of the drawing board leave by it as files, which the framework
    keeps in one place for all apps, and whether gestures on that board come in; `most` is what may come in at once
    [bytes].
    """

    role: str
    app: str
    tables: bool = False
    most: int = SAID


DESIGNER, CLIENT, TEAM = (
    Door("designer", "design", tables=True, most=UPLOADED),
    Door("client", "review"),
    Door("team", "compare"),
)
DOORS = (DESIGNER, CLIENT, TEAM)


class Doors:
    """Lets through to the apps what comes from a page of this server, in a browser that has shown the door's key.

    What is let through is told, as `meta` of the request, the `role` of the door and the `visitor`'s mark; a session
    with its first page also what tells whether it has a page still, `has_page`.
    """

    def __init__(self, app: ASGIApp, locks: Mapping[Door, Lock], sessions: Mapping[Door, Sessions]):
        self._app, self._locks, self._sessions = app, locks, sessions
        self._doors = {door.app: door for door in locks}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
            return
        asked = HTTPConnection(scope)
        first, _, rest = scope["path"].removeprefix("/").partition("/")
        door = self._doors.get(first)
        if door is None or not is_own(asked):
            await refuse(asked, NO_WAY, receive, send)
        elif KEY in asked.query_params:
            await self._come_in(asked, door, rest, receive, send)
        elif (visitor := self._locks[door].visitor(asked.cookies)) is None:
            await refuse(asked, NO_KEY, receive, send)
        elif refusal := self._refusal(asked, door, rest, keys.mark(visitor)):
            await refuse(asked, refusal, receive, send)
        else:
            await self._let_through(asked, door, keys.mark(visitor), receive, send)

    async def _come_in(self, asked: HTTPConnection, door: Door, way: str, receive: Receive, send: Send) -> None:
        lock = self._locks[door]
        if asked.scope["type"] == "http" and way == PAGE and lock.fits(asked.query_params[KEY]):
            await come_in(asked, door, lock)(asked.scope, receive, send)
        else:
            await refuse(asked, NO_KEY, receive, send)

    def _refusal(self, asked: HTTPConnection, door: Door, way: str, visitor: str) -> Refusal | None:
        """Why something with the right key is not let through."""
        sessions = self._sessions[door]
        match asked.scope.get("method", "websocket"):
            case "GET" | "HEAD" if way == PAGE:
                return FULL if sessions.full else None
            case "GET" | "HEAD" if FILES.fullmatch(way) or (door.tables and TABLES.fullmatch(way)):
                return None
            case "POST" if CALLS.fullmatch(way) or (door.tables and GESTURES.fullmatch(way)):
                return None if sessions.owns(asked.headers.get("marimo-session-id", ""), visitor) else NO_WAY
            case "websocket" if way == SOCKET:
                return None if sessions.admits(asked.query_params.get("session_id", ""), visitor) else FULL
        return NO_WAY

    async def _let_through(self, asked: HTTPConnection, door: Door, visitor: str, receive: Receive, send: Send) -> None:
        kept = [(name, value) for name, value in asked.scope["headers"] if name not in KEPT_BACK]
        meta: dict[str, Any] = {"role": door.role, "visitor": visitor}
        told = {"meta": meta, "headers": kept, "query_string": cleaned(asked)}
        if asked.scope["type"] == "http":
            if (said := await whole(receive, door.most)) is None:
                await refuse(asked, TOO_MUCH, receive, send)
            else:
                await self._app({**asked.scope, **told}, said, send)
            return
        sessions, name = self._sessions[door], asked.query_params["session_id"]
        meta["has_page"] = partial(sessions.has_page, name)
        sessions.enter(name, visitor)
        try:
            await self._app({**asked.scope, **told}, unheard(receive), send)
        finally:
            sessions.leave(name)


def is_own(asked: HTTPConnection) -> bool:
    """Whether what is asked comes from a page of this server, as far as the browser says so.

    It says so of whatever changes something and of every websocket; of a page or a file it may say nothing.
    """
    origins, hosts = asked.headers.getlist("origin"), asked.headers.getlist("host")
    if not origins and asked.scope.get("method") in ("GET", "HEAD"):
        return len(hosts) == 1
    if len(origins) != 1 or len(hosts) != 1:
        return False
    scheme, _, authority = origins[0].partition("://")
    return scheme in ("http", "https") and authority.lower() == hosts[0].lower()


def cleaned(asked: HTTPConnection) -> bytes:
    """The questions of an address that the apps know."""
    known = [(name, value) for name, value in asked.query_params.multi_items() if name in QUERY]
    return urlencode(known).encode()


def come_in(asked: HTTPConnection, door: Door, lock: Lock) -> Response:
    """The visitor's cookies, and on to the page without the key in its address.

    A browser that follows a link from elsewhere sends no strict cookie to where it is sent on to, but does to where the
    page that it has come to sends it.
    """
    to = f"/{door.app}/" + (f"?{asks}" if (asks := cleaned(asked).decode()) else "")
    is_linked = asked.headers.get("sec-fetch-site", "none") in ("cross-site", "same-site")
    answer = HTMLResponse(COMING_IN.format(escape(to))) if is_linked else RedirectResponse(to, 303)
    visitor, secure = keys.visitor_among(asked.cookies), asked.url.scheme == "https"
    answer.set_cookie(keys.VISITOR, visitor, keys.YEAR, httponly=True, samesite="strict", secure=secure)
    answer.set_cookie(
        lock.name, lock.pass_for(visitor), path=f"/{door.app}", httponly=True, samesite="strict", secure=secure
    )
    return answer


async def refuse(asked: HTTPConnection, refusal: Refusal, receive: Receive, send: Send) -> None:
    """Say why nothing is there for the one who asks; a websocket is closed before it is open."""
    if asked.scope["type"] == "websocket":
        await send({"type": "websocket.close", "code": CLOSED})
    else:
        # what else is sent with it is not read
        await PlainTextResponse(refusal.words, refusal.status, {"Connection": "close"})(asked.scope, receive, send)
