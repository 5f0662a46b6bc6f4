"""Browsers that say nothing, little or too much, before an app that answers at once or takes its time."""

import asyncio
import socket
import time
from contextlib import contextmanager
from threading import Thread

import pytest
import uvicorn

from planner.server import connections, serving
from planner.server.serving import LOOPBACK, configured, listening

ASKING = b"GET / HTTP/1.1\r\nHost: a\r\n\r\n"
UPGRADE = b"GET / HTTP/1.1\r\nHost: a\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n"
LARGE = 20_000_000
"""More than the system holds for one who does not read it [bytes]: of what is sent some, of what has come HELD."""

HELD = 65_536
"""So much that has come is held for a browser here [bytes]; left to itself, a system may hold more than all of it."""


async def app(scope, receive, send):
    """Answers a request once it is whole: a large answer, or one that takes its time, where it is asked for."""
    while (await receive()).get("more_body"):
        pass
    if scope["path"] == "/slow":
        await asyncio.sleep(1.5)
    body = b"x" * (LARGE if scope["path"] == "/large" else 4)
    await send({"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"%d" % len(body))]})
    await send({"type": "http.response.body", "body": body})


@contextmanager
def serving_to(most=100):
    """A server for so many connections; its port, and itself."""
    with listening(LOOPBACK, 0) as listener:
        config = configured(app)
        config.limit_concurrency = most
        server = uvicorn.Server(config)
        running = Thread(target=server.run, args=[[listener]])
        running.start()
        try:
            yield listener.getsockname()[1], server
        finally:
            server.should_exit = True
            running.join()


@pytest.fixture
def port(monkeypatch):
    monkeypatch.setattr(connections, "PATIENCE", 0.4)
    with serving_to() as (port, _):
        yield port


def connected(port, *said):
    """A connection on which something has been said."""
    connection = socket.socket()
    connection.settimeout(10)
    connection.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, HELD)
    connection.connect((LOOPBACK, port))
    for words in said:
        connection.sendall(words)
    return connection


def heard(connection):
    """All that is said on a connection until it ends."""
    parts = b""
    try:
        while part := connection.recv(1 << 16):
            parts += part
    except ConnectionError:
        pass
    return parts


def is_answered(connection):
    """Whether what was asked last is answered, on a connection that goes on."""
    answer = b""
    while not answer.endswith(b"xxxx") and (part := connection.recv(1 << 16)):
        answer += part
    return answer.startswith(b"HTTP/1.1 200 ") and answer.endswith(b"xxxx")


@pytest.mark.parametrize(
    "said", [b"", b"GET / HTTP/1.1\r\nX: ", b"POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 9\r\n\r\nx"]
)
def test_who_does_not_go_on_is_let_go(port, said):
    begun = time.monotonic()
    with connected(port, said) as connection:
        assert heard(connection) == b""
    assert 0.4 <= time.monotonic() - begun < 10


def test_a_byte_now_and_then_is_not_going_on(port):
    end = time.monotonic() + 5
    with connected(port, b"GET / HTTP/1.1\r\nX: ") as connection, pytest.raises(ConnectionError):
        while time.monotonic() < end:
            connection.sendall(b"x")
            time.sleep(0.05)


def test_who_sends_much_may_take_long(port):
    with connected(port, b"POST / HTTP/1.1\r\nHost: a\r\nConnection: close\r\nContent-Length: 1000000\r\n\r\n") as slow:
        for _ in range(20):
            slow.sendall(b"x" * 50_000)
            time.sleep(0.1)
        assert heard(slow).endswith(b"xxxx")


def test_who_waits_for_an_answer_may_wait_long(port):
    with connected(port, b"GET /slow HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n") as waiting:
        assert heard(waiting).endswith(b"xxxx")


def test_who_asks_now_and_then_stays(port):
    with connected(port) as connection:
        for _ in range(6):
            connection.sendall(ASKING)
            assert is_answered(connection)
            time.sleep(0.25)


def test_who_does_not_read_is_let_go(port):
    with connected(port, b"GET /large HTTP/1.1\r\nHost: a\r\n\r\n") as connection:
        time.sleep(2)
        assert len(heard(connection)) < LARGE


def test_who_asks_comes_before_who_asks_nothing():
    with serving_to(most=8) as (port, _):
        silent = [connected(port) for _ in range(50)]
        with connected(port, ASKING) as asking:
            assert is_answered(asking)
        for connection in silent:
            connection.close()


def test_a_websocket_s_head_that_is_too_long_is_answered(port):
    with connected(port, UPGRADE + b"X: " + b"x" * 9000 + b"\r\n\r\n") as connection:
        assert heard(connection).startswith(b"HTTP/1.1 431 ")


def test_the_server_ends_whoever_has_not_gone_on(monkeypatch):
    monkeypatch.setattr(serving, "LEAVING", 1)
    monkeypatch.setattr(connections, "PATIENCE", 600)  # they are not to go before
    with serving_to() as (port, server):
        half = connected(port, b"POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 9\r\n\r\nx")
        unread = connected(port, b"GET /large HTTP/1.1\r\nHost: a\r\n\r\n")
        long = connected(port, UPGRADE + b"X: " + b"x" * 9000 + b"\r\n\r\n")
        patience = time.monotonic() + 60
        while len(server.server_state.tasks) < 2 and time.monotonic() < patience:
            time.sleep(0.01)
        assert len(server.server_state.tasks) == 2
        begun = time.monotonic()
    assert time.monotonic() - begun < 60
    for connection in (half, unread, long):
        connection.close()


def test_the_system_is_asked_for_places():
    resource = pytest.importorskip("resource")
    before = resource.getrlimit(resource.RLIMIT_NOFILE)
    if before[1] != resource.RLIM_INFINITY and before[1] < 2048:
        pytest.skip("the system gives no more")
    resource.setrlimit(resource.RLIMIT_NOFILE, (1024, before[1]))
    try:
        most = connections.most_connections()
        assert resource.getrlimit(resource.RLIMIT_NOFILE)[0] >= 4 * most > 1024
    finally:
        resource.setrlimit(resource.RLIMIT_NOFILE, before)
