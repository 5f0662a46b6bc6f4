"""Doors, before a stand-in for the framework: who is let in, and what is let through."""

import pytest
from httpx2 import Headers
from starlette.websockets import WebSocketDisconnect

from planner.server import keys
from planner.server.doors import CLIENT, DESIGNER, DOORS, TEAM
from tests.server.conftest import CONTENT

OWN = {"origin": "http://127.0.0.1"}


def read(client, address, **headers):
    """What a websocket says first, or the code that it is closed with."""
    try:
        with client.websocket_connect(f"ws://127.0.0.1{address}", headers=headers) as page:
            return page.receive_text()
    except WebSocketDisconnect as closed:
        return closed.code


@pytest.mark.parametrize("door", DOORS, ids=lambda door: door.role)
def test_the_key_in_the_address_opens_its_door_and_leaves_the_address(browse, locks, door):
    client = browse()
    answer = client.get(f"/{door.app}?key={locks[door].key}&alternative=formal%20one&session=0a&file=x")
    assert (answer.status_code, answer.headers["location"]) == (303, f"/{door.app}/?alternative=formal+one&session=0a")
    assert CONTENT in client.get(f"/{door.app}/").text


def test_cookies_are_kept_from_scripts_other_sites_and_other_doors(browse, locks):
    answer = browse().get(f"/review?key={locks[CLIENT].key}")
    visitor, passed = answer.headers.get_list("set-cookie")
    for cookie in (visitor, passed):
        assert "HttpOnly" in cookie and "SameSite=strict" in cookie
    assert visitor.startswith(f"{keys.VISITOR}=") and f"Max-Age={keys.YEAR}" in visitor
    assert passed.startswith(f"{locks[CLIENT].name}=") and "Path=/review" in passed
    assert locks[CLIENT].key not in f"{visitor}{passed}"
    assert "Secure" not in f"{visitor}{passed}"


def test_cookies_stay_on_encrypted_ways_where_the_page_came_by_one(browse, locks):
    answer = browse().get(f"https://127.0.0.1/review?key={locks[CLIENT].key}")
    assert all("Secure" in cookie for cookie in answer.headers.get_list("set-cookie"))


def test_a_link_on_another_site_leads_in_by_a_page_that_goes_on_by_itself(browse, locks):
    client = browse()
    answer = client.get(f"/review?key={locks[CLIENT].key}&alternative='><b>", headers={"sec-fetch-site": "cross-site"})
    assert answer.status_code == 200 and "set-cookie" in answer.headers
    assert "url=/review/?alternative=%27%3E%3Cb%3E'" in answer.text


@pytest.mark.parametrize("wrong", ["", "x", "é", "\ud800"])
def test_a_wrong_key_opens_nothing_not_even_to_one_who_is_in(browse, wrong):
    for client in (browse(), browse(DESIGNER)):
        answer = client.get("/design", params={"key": wrong.encode("utf-8", "surrogatepass")})
        assert answer.status_code == 403 and CONTENT not in answer.text


def test_one_door_s_key_opens_no_other(browse, locks, app):
    client = browse(CLIENT)
    name = locks[CLIENT].name
    passed = next(cookie.value for cookie in client.cookies.jar if cookie.name == name)
    for door in (DESIGNER, TEAM):
        client.cookies.set(locks[door].name, passed, path="/")
        assert client.get(f"/{door.app}?key={locks[CLIENT].key}").status_code == 403
        assert client.get(f"/{door.app}/").status_code == 403
        assert read(client, f"/{door.app}/ws?session_id=s_1", **OWN) == 4403
    assert app.asked == []


def test_a_pass_is_worth_nothing_to_another_visitor(browse, locks):
    client = browse(CLIENT)
    assert client.get("/review/").status_code == 200
    client.cookies.set(keys.VISITOR, keys.new_secret(), domain="127.0.0.1", path="/")
    assert client.get("/review/").status_code == 403


@pytest.mark.parametrize(
    "origins", [[], ["http://evil.example"], ["null"], ["http://127.0.0.1:81"], ["http://127.0.0.1"] * 2]
)
def test_websockets_and_posts_come_from_pages_of_the_server(browse, origins, app):
    client = browse(DESIGNER)
    assert read(client, "/design/ws?session_id=s_1", **OWN) == CONTENT
    seen = len(app.asked)
    headers = Headers([*(("origin", origin) for origin in origins), ("marimo-session-id", "s_1")])
    assert client.post("/design/api/kernel/set_ui_element_value", headers=headers).status_code == 403
    with (
        pytest.raises(WebSocketDisconnect),
        client.websocket_connect("ws://127.0.0.1/design/ws?session_id=s_1", headers=headers),
    ):
        pass
    assert len(app.asked) == seen


def test_a_page_that_says_it_is_asked_for_from_elsewhere_is_not_shown(browse):
    assert browse(DESIGNER).get("/design/", headers={"origin": "http://evil.example"}).status_code == 403


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "[::2]"])
def test_the_machine_answers_to_its_own_names_only(browse, host, app):
    client = browse(DESIGNER)
    assert client.get("/design/", headers={"host": host}).status_code == 400
    assert app.asked == []


@pytest.mark.parametrize("host", ["localhost:99", "[::1]:99", "127.0.0.1:99"])
def test_the_port_may_be_another_one_as_through_a_tunnel(browse, host):
    client = browse(DESIGNER)
    cookies = "; ".join(f"{cookie.name}={cookie.value}" for cookie in client.cookies.jar)
    assert client.get("/design/", headers={"host": host, "cookie": cookies}).status_code == 200


UNASKED = [
    "api/kernel/run",
    "api/kernel/read_code",
    "api/kernel/save",
    "api/files/list_files",
    "api/sessions",
    "sse",
    "ws",
]
UNASKED += ["api/version", "auth/login", "public/notes", "..%2fdesign/", "assets/..%2fx", "terminal/ws", "ws_sync"]


@pytest.mark.parametrize("address", UNASKED)
@pytest.mark.parametrize("method", ["GET", "POST", "PUT", "DELETE", "OPTIONS"])
def test_what_no_page_asks_for_is_not_there(browse, address, method, app):
    client = browse(DESIGNER)
    assert read(client, "/design/ws?session_id=s_1", **OWN) == CONTENT
    seen = len(app.asked)
    url = client.base_url.copy_with(raw_path=f"/design/{address}".encode())
    answer = client.request(method, url, headers=OWN | {"marimo-session-id": "s_1"})
    assert answer.status_code == 403
    assert len(app.asked) == seen


def test_tables_leave_by_the_designer_s_door_alone(browse):
    assert browse(DESIGNER).get("/design/@file/12-1-abc.csv").status_code == 200
    assert browse(CLIENT).get("/review/@file/12-1-abc.csv").status_code == 403
    assert browse(TEAM).get("/compare/@file/12-1-abc.csv").status_code == 403


@pytest.mark.parametrize(("door", "status"), [(DESIGNER, 200), (CLIENT, 403), (TEAM, 403)])
def test_the_drawing_board_is_behind_the_designer_s_door_alone(browse, door, status):
    client = browse(door)
    with client.websocket_connect(f"ws://127.0.0.1/{door.app}/ws?session_id=s_1", headers=OWN) as page:
        page.receive_text()
        headers = OWN | {"marimo-session-id": "s_1"}
        assert client.post(f"/{door.app}/api/kernel/set_model_value", headers=headers).status_code == status
        assert client.get(f"/{door.app}/@file/12-1-abc.js").status_code == status


def test_a_session_is_its_visitor_s_own(browse, app):
    mine, other = browse(CLIENT), browse(CLIENT)
    with mine.websocket_connect("ws://127.0.0.1/review/ws?session_id=s_1", headers=OWN) as page:
        page.receive_text()
        seen = len(app.asked)
        assert read(other, "/review/ws?session_id=s_1", **OWN) == 4403
        call = {"url": "/review/api/kernel/function_call", "headers": OWN | {"marimo-session-id": "s_1"}}
        assert other.post(**call).status_code == 403
        assert len(app.asked) == seen
        assert mine.post(**call).status_code == 200


def test_apps_are_told_role_and_visitor_and_nothing_that_the_browser_says_of_them(browse, app):
    client = browse(CLIENT)
    client.get(
        "/review/?alternative=easy&session=0a1b2c3d&file=/etc/passwd&kiosk=true&house=/&access_token=x",
        headers={"meta": "designer", "range": "bytes=0-" + "9" * 5000},
    )
    (asked,) = app.asked
    assert not {b"cookie", b"range"} & {name for name, _ in asked["headers"]}
    assert asked["query_string"] == b"alternative=easy&session=0a1b2c3d"
    visitor = next(cookie.value for cookie in client.cookies.jar if cookie.name == keys.VISITOR)
    assert asked["meta"] == {"role": "client", "visitor": keys.mark(visitor)}
    assert visitor.encode() not in b"".join(value for _, value in asked["headers"])


def test_there_is_an_end_to_sessions_and_it_is_told(browse):
    client = browse(CLIENT, most=2)
    with (
        client.websocket_connect("ws://127.0.0.1/review/ws?session_id=s_1", headers=OWN),
        client.websocket_connect("ws://127.0.0.1/review/ws?session_id=s_2", headers=OWN),
    ):
        full = client.get("/review/")
        assert full.status_code == 503 and "Too many pages are open" in full.text
        assert read(client, "/review/ws?session_id=s_3", **OWN) == 4403
        assert client.get("/review/assets/a.js").status_code == 200


@pytest.mark.parametrize(("door", "most"), [(DESIGNER, 640_000_000), (CLIENT, 1_000_000), (TEAM, 1_000_000)])
def test_a_page_may_say_what_it_has_to_say(door, most):
    assert most <= door.most < 1.01 * most + 1_000_000


def test_what_is_more_than_a_page_says_is_not_taken(browse, app):
    client = browse(CLIENT)
    assert read(client, "/review/ws?session_id=s_1", **OWN) == CONTENT
    taken, seen = [], len(app.asked)

    def pieces(number):
        for piece in range(number):
            taken.append(piece)
            yield b"x" * 100_000

    call = {"url": "/review/api/kernel/function_call", "headers": OWN | {"marimo-session-id": "s_1"}}
    assert client.post(**call, content=pieces(10)).status_code == 200
    refused = client.post(**call, content=pieces(11))
    assert (refused.status_code, refused.headers["connection"]) == (413, "close")
    assert len(app.asked) == seen + 1
