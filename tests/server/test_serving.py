"""The server with the real apps behind it, in a process of its own."""

import asyncio
import http.client
import json
import shutil
import signal
import socket
import subprocess
import sys
from contextlib import suppress
from functools import reduce
from itertools import permutations, product
from urllib.parse import urlsplit

import marimo
import pytest
from websockets.exceptions import InvalidStatus
from websockets.sync.client import connect

from planner import HouseFault, bundled, demo_house, share_page
from planner.record.keeping import open_session, say
from planner.server import keys
from planner.server.doors import CLIENT, DESIGNER, DOORS, FULL, NO_KEY, NO_WAY
from planner.server.serving import LOOPBACK, hosts, listening
from tests.loops import run
from tests.serving import Page, Served, asked, come_in, first_run

REFUSALS = {refusal.words.encode() for refusal in (NO_KEY, NO_WAY, FULL)} | {b"Invalid host header"}


PARTS = {"{path:path}": "assets/index.js", "{filename_and_length:path}": "9-a.csv", "{filepath:path}": "a"}
"""What stands in an address where the framework leaves a part open."""


def below(path, routes):
    """Every address of some routes and of those below them, with the methods that it takes."""
    for route in routes:
        there = reduce(lambda path, part: path.replace(*part), PARTS.items(), f"{path}{route.path}")
        if inner := getattr(route, "routes", None):
            yield from below(there, inner)
        else:
            yield from ((method, there) for method in sorted(getattr(route, "methods", None) or ["SOCKET"]))


def addresses(app):
    """Every address that the framework answers at for an app."""
    notebook = str(bundled("notebooks") / f"{app}.py")
    built = marimo.create_asgi_app(quiet=True).with_app(path=f"/{app}", root=notebook).build()
    return list(below("", built.routes))


def answered(netloc, method, path, **headers):
    """Whether there is an answer that is more than a refusal."""
    if method == "SOCKET":
        host = headers.pop("Host", netloc)
        try:
            with connect(
                f"ws://{host}{path}", sock=socket.create_connection(netloc.split(":")), additional_headers=headers
            ):
                return True
        except InvalidStatus:
            return False
    status, _, body = asked(netloc, method, path, **headers)
    return status < 400 or (body not in REFUSALS and method != "HEAD")


@pytest.fixture(scope="module")
def at(served):
    """Where the server is."""
    return urlsplit(served.url).netloc


@pytest.fixture(scope="module")
def held(served):
    """By role, what a browser holds that has come in by its door, and its address."""
    return {line.split()[0]: (come_in(line.split()[1]), line.split()[1]) for line in served.said if "key=" in line}


def test_each_role_has_an_address_of_its_own_that_opens_its_app(served, held):
    assert [urlsplit(url).path for url in served.urls] == [f"/{door.app}" for door in DOORS]
    assert list(held) == [door.role for door in DOORS]
    assert len({urlsplit(url).query for url in served.urls}) == len(DOORS)


@pytest.mark.parametrize("door", DOORS, ids=lambda door: door.role)
def test_nothing_is_answered_without_key_origin_and_host(at, held, door):
    cookie, _ = held[door.role]
    own, socket_path = f"http://{at}", f"/{door.app}/ws?session_id=s_1"
    assert answered(at, "GET", f"/{door.app}/", Cookie=cookie)
    assert answered(at, "SOCKET", socket_path, Cookie=cookie, Origin=own)
    wrong = [
        {"Origin": own},
        {"Origin": own, "Cookie": cookie.replace("=", "=x")},
        {"Origin": own, "Authorization": "Bearer x"},
        {"Origin": "http://evil.example", "Cookie": cookie},
        {"Origin": "null", "Cookie": cookie},
        {"Origin": own, "Cookie": cookie, "Host": "evil.example"},
        {"Origin": "http://evil.example", "Cookie": cookie, "Host": "evil.example"},
    ]
    every = [*addresses("design"), *addresses("review"), *addresses("compare"), ("GET", "/"), ("GET", "/health")]
    every += [("SOCKET", socket_path), ("GET", f"/{door.app}/?access_token=x"), ("GET", f"/{door.app}/?key=x")]
    requests = list(product(every, wrong))
    assert len(requests) > 1000
    assert [(asking, headers) for asking, headers in requests if answered(at, *asking, **headers)] == []


@pytest.mark.parametrize("door", DOORS, ids=lambda door: door.role)
def test_whatever_changes_something_says_where_it_comes_from(at, held, door):
    cookie, _ = held[door.role]
    silent = [asking for asking in addresses(door.app) if asking[0] not in ("GET", "HEAD")]
    assert silent
    assert [asking for asking in silent if answered(at, *asking, Cookie=cookie)] == []


@pytest.mark.parametrize(("own", "other"), [*permutations(DOORS, 2)], ids=lambda door: door.role)
def test_one_s_key_opens_none_of_another_s_addresses(at, held, own, other):
    cookie, url = held[own.role]
    key = urlsplit(url).query
    name = next(part for part in cookie.split("; ") if part.startswith(f"planner-{own.role}"))
    forged = f"{cookie}; {name.replace(f'planner-{own.role}', f'planner-{other.role}')}"
    every = [
        *addresses(other.app),
        ("SOCKET", f"/{other.app}/ws?session_id=s_1"),
        ("SOCKET", f"/{own.app}/../{other.app}/ws?session_id=s_1"),
    ]
    every += [("GET", f"/{other.app}{end}?{key}") for end in ("", "/")] + [
        ("GET", f"/{own.app}/..%2f{other.app}/?{key}")
    ]
    for given in (cookie, forged):
        assert [a for a in every if answered(at, *a, Cookie=given, Origin=f"http://{at}")] == []


@pytest.fixture(scope="module")
def recorded(served_house):
    """Words that are in the record and in a page that lies in the house, and where these are."""
    shared = share_page(served_house, served_house / "page.html", ["easy"])
    say(open_session(served_house, "Ada", "1234"), "Ada", "", "Library", "more", "for nobody else")
    files = [path.relative_to(served_house).as_posix() for path in (served_house / "reviews").iterdir()]
    assert len(files) == 2
    yield [shared.sending.secret, shared.sending.id, "for nobody else"], [*files, "page.html", f"..{shared.file}"]
    shared.file.unlink()
    shutil.rmtree(served_house / "reviews")


WAYS = ("", "@file/", "assets/", "public/", "files/", "api/files/", "../", "..%2f", "%2e%2e/", "/")
"""Where somebody may look for what lies in a house."""


@pytest.mark.parametrize("door", DOORS, ids=lambda door: door.role)
def test_the_record_and_pages_that_were_sent_leave_by_no_door(at, held, recorded, door):
    (hidden, files), (cookie, _) = recorded, held[door.role]
    for before, way, file in product((f"/{door.app}/", "/"), WAYS, files):
        path = f"{before}{way}{file.replace(' ', '%20')}"
        body = asked(at, "GET", path, Cookie=cookie, Origin=f"http://{at}")[2].decode("utf-8", "replace")
        assert [words for words in hidden if words in body] == [], path


def test_the_client_chooses_no_house_and_no_file(at, held):
    cookie, _ = held["client"]
    plain = asked(at, "GET", "/review/", Cookie=cookie)[2]
    for query in ("house=/etc", "file=/etc/passwd", "file=design.py", "--house=/etc", "key_=x"):
        assert asked(at, "GET", f"/review/?{query}", Cookie=cookie)[2] == plain


@pytest.fixture(scope="module")
def reviewing(tmp_path_factory):
    """A house, and the client's app alone served on it."""
    house = shutil.copytree(demo_house(), tmp_path_factory.mktemp("reviewing") / "house")
    served = Served("review", house)
    yield house, served
    served.kill()


def test_a_client_is_shown_what_was_said_in_the_same_browser_and_nothing_else(reviewing):
    house, served = reviewing
    mine, other = come_in(served.url), come_in(served.url)
    secret = dict(part.split("=", 1) for part in other.split("; "))[keys.VISITOR]
    say(open_session(house, "Ruprecht", keys.mark(secret)), "Ruprecht", "", "Library", "more", "a darker green")
    say(open_session(house, "Ottilie"), "Ottilie", "", "Dining Room", "less", "said before there were marks")
    (house / "reviews" / "2026-01-01 Kunigunde torn.jsonl").write_text("{")
    told = {browser: json.dumps(list(first_run(served.url, browser))) for browser in (mine, other)}
    assert "a darker green" in told[other] and "a darker green" not in told[mine]
    for words in ("said before there were marks", "Kunigunde"):
        assert words not in told[mine] and words not in told[other]


def test_only_the_app_that_was_asked_for_is_there(reviewing):
    (url,) = reviewing[1].urls
    at = urlsplit(url)
    assert at.path == f"/{CLIENT.app}" and "not encrypted" not in "".join(reviewing[1].said)
    assert asked(at.netloc, "GET", f"/{DESIGNER.app}?{at.query}")[0] == 403


def test_it_ends_quietly_when_it_is_stopped(tmp_path):
    served = Served("open", shutil.copytree(demo_house(), tmp_path / "house"))
    run = first_run(served.url, come_in(served.url))
    next(run)
    served.process.send_signal(signal.SIGINT)
    said, fault = served.process.communicate(timeout=60)
    assert (served.process.returncode, said, fault) == (0, "", "")
    run.close()


BAD = [b"", b"{", b"[]", b"\xff", b"[" * 100_000, b"{}" * 600_000]
BAD += [b'{"objectIds":["a"],"values":[' + b"[" * 100_000 + b"]" * 100_000 + b"]}", b'{"objectIds":["a"],"values":[]}']
"""What no page sends."""


def test_what_no_page_sends_is_refused_and_no_matter_of_the_terminal_s(tmp_path):
    served = Served("serve", shutil.copytree(demo_house(), tmp_path / "house"))
    for url in served.urls:
        at, held = urlsplit(url), come_in(url)
        own = {"Cookie": held, "Origin": f"http://{at.netloc}"}
        way, page = f"{at.path}/api/kernel/set_ui_element_value", f"ws://{at.netloc}{at.path}/ws?session_id=s_1"
        for said in (b"\xff", "text"):
            with connect(page, additional_headers=own, max_size=None) as socket_of_page:
                socket_of_page.recv()
                socket_of_page.send(said)
        for body in BAD:
            connection = http.client.HTTPConnection(at.netloc, timeout=60)
            with suppress(ConnectionError):  # the answer may be lost on one that goes on sending
                connection.request("POST", way, body, own | {"Marimo-Session-Id": "s_1"})
                assert connection.getresponse().status in (400, 413, 500)
            connection.close()
        with socket.create_connection((at.hostname, at.port)) as left:
            head = "".join(f"{name}: {value}\r\n" for name, value in own.items())
            head = f"POST {way} HTTP/1.1\r\nHost: {at.netloc}\r\nMarimo-Session-Id: s_1\r\n{head}"
            left.sendall(f"{head}Content-Length: 9\r\n\r\n{{".encode())
        assert asked(at.netloc, "GET", f"{at.path}/health", **own)[0] == 200
    served.process.send_signal(signal.SIGINT)
    _, fault = served.process.communicate(timeout=60)
    assert (served.process.returncode, fault) == (0, "")


def test_what_no_control_can_be_set_to_does_nothing_to_the_terminal(tmp_path):
    served = Served("compare", shutil.copytree(demo_house(), tmp_path / "house"))
    page = Page(served.url)
    page.set("Alternatives (2 to 6)", ["\x1b[2J\u202e"])
    fault = served.process.stderr.readline() + served.process.stderr.readline()
    served.process.send_signal(signal.SIGINT)
    fault += served.process.communicate(timeout=60)[1]
    assert "\\x1b[2J\\u202e" in fault and "Traceback" not in fault
    assert "\x1b" not in fault and "\u202e" not in fault


def test_small_answers_leave_at_once():
    delays = []

    async def connected(_, writer):
        delays.append(not writer.get_extra_info("socket").getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
        writer.close()

    async def connect_once():
        with listening(LOOPBACK, 0) as listener:
            async with await asyncio.start_server(connected, sock=listener):
                reader, writer = await asyncio.open_connection(*listener.getsockname())
                await reader.read()
                writer.close()

    run(connect_once())
    assert delays == [False]


def test_a_taken_port_is_told(tmp_path):
    house = shutil.copytree(demo_house(), tmp_path / "house")
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        command = [sys.executable, "-c", "from planner.cli import main; main()", "open", str(house), "--port", port]
        ended = subprocess.run([*command, "--headless"], capture_output=True, text=True, timeout=60)
    assert ended.returncode == 2
    assert f"--port: {port} at 127.0.0.1 cannot be had (Address already in use)" in ended.stderr


def test_what_others_can_reach_is_told_to_be_unencrypted(tmp_path):
    house = shutil.copytree(demo_house(), tmp_path / "house")
    served = Served("serve", house, "--bind", "0.0.0.0", "--name", "plans.example")
    try:
        assert "not encrypted" in "".join(served.said)
        first = urlsplit(served.url)
        assert first.hostname == "plans.example"
        netloc = f"127.0.0.1:{first.port}"
        for host, status in (("plans.example", 303), ("127.0.0.1", 303), ("evil.example", 400)):
            assert asked(netloc, "GET", f"{first.path}?{first.query}", Host=host)[0] == status
    finally:
        served.kill()


@pytest.mark.parametrize(
    "name", ["a*b", "*", "*.example", "", "plans.example:80", "a1:80", "a b", "http://x", "ü.example", ".."]
)
def test_a_name_that_is_none_or_stands_for_many_is_told(name):
    with pytest.raises(HouseFault, match=r"--name: .* is no name of a machine"):
        hosts(LOOPBACK, [name])


@pytest.mark.parametrize("bind", ["a*b", "*", "", "a b", "::x", "a\udcff", ".."])
def test_an_address_to_listen_at_that_is_none_is_told(bind):
    with pytest.raises(HouseFault, match=r"--bind: .* is no name of a machine"):
        hosts(bind, [])


def test_names_that_browsers_ask_by_are_taken():
    for name in ("plans.example", "PLANS-2", "192.0.2.1", "[::1]", "localhost"):
        assert hosts(LOOPBACK, [name])[0] == name
    assert hosts("::1", [])[0] == "[::1]" and hosts("::", ["plans.example"])[0] == "plans.example"
