"""A server in its own process, and the apps behind their doors within this one, with a stand-in for the framework."""

import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from planner import demo_house
from planner.server.doors import DOORS, Door
from planner.server.keys import Lock
from planner.server.serving import guarded, hosts
from planner.server.sessions import MOST
from tests.serving import Served

CONTENT = "Thornapple House"
"""What nobody is to see who has not the key."""


@pytest.fixture(scope="session")
def served_house(tmp_path_factory) -> Path:
    """A copy of the demo house."""
    return shutil.copytree(demo_house(), tmp_path_factory.mktemp("served") / "house")


@pytest.fixture(scope="session")
def served(served_house) -> Iterator[Served]:
    """All apps on a house."""
    server = Served("serve", served_house)
    yield server
    server.kill()


class StandIn:
    """An app that shows its content to whoever reaches it, and keeps what it was asked."""

    def __init__(self):
        self.asked: list[dict] = []

    async def __call__(self, scope, receive, send):
        self.asked.append(dict(scope))
        if scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.accept"})
            await send({"type": "websocket.send", "text": CONTENT})
            await receive()
            return
        headers = [(b"content-type", b"text/html; charset=utf-8"), (b"access-control-allow-origin", b"*")]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": b"<script>let a = 1</script>", "more_body": True})
        await send({"type": "http.response.body", "body": CONTENT.encode()})


@pytest.fixture
def app() -> StandIn:
    return StandIn()


@pytest.fixture
def locks() -> dict[Door, Lock]:
    return {door: Lock(f"planner-{door.role}-80") for door in DOORS}


@pytest.fixture
def browse(app, locks):
    """A new browser, which has been let in by the doors that are named."""
    guard = cache(lambda most: guarded(app, locks, hosts("127.0.0.1", []), most))

    def browser(*doors: Door, most: int = MOST) -> TestClient:
        client = TestClient(guard(most), base_url="http://127.0.0.1", follow_redirects=False)
        for door in doors:
            assert client.get(f"/{door.app}?key={locks[door].key}").status_code == 303
        return client

    return browser
