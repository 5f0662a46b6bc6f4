"""What the browser is told of every answer."""

import base64
import hashlib

import pytest

from planner.server.doors import CLIENT, DOORS
from planner.server.policy import HEADERS, content_policy
from tests.server.conftest import CONTENT


@pytest.mark.parametrize(
    "address", ["/", "/review/", "/review/assets/a.js", "/review/sse", "/design/", "/review?key=x"]
)
@pytest.mark.parametrize("host", ["127.0.0.1", "evil.example"])
def test_every_answer_has_the_headers(browse, address, host):
    headers = browse(CLIENT).get(address, headers={"host": host}).headers
    for name in HEADERS:
        assert len(headers.get_list(name)) == 1
    assert headers["x-content-type-options"] == "nosniff" and headers["referrer-policy"] == "same-origin"
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert not [name for name in headers if name.startswith("access-control")]


def test_a_page_runs_the_scripts_that_it_left_with_and_no_others(browse):
    answer = browse(CLIENT).get("/review/")
    assert answer.text == f"<script>let a = 1</script>{CONTENT}"
    own = base64.b64encode(hashlib.sha256(b"let a = 1").digest()).decode()
    scripts = answer.headers["content-security-policy"].split("script-src ")[1].split(";")[0]
    assert scripts == f"'self' 'sha256-{own}'"


def test_no_app_makes_scripts_of_text(browse):
    for door in DOORS:
        policy = browse(door).get(f"/{door.app}/").headers["content-security-policy"]
        assert "script-src" in policy and "unsafe-eval" not in policy


def test_scripts_of_a_page_are_told_from_those_that_it_loads():
    policy = content_policy(b'<SCRIPT data-a="1">\nb\n</SCRIPT><script type=module src="./c.js"></script>')
    assert policy.count("sha256-") == 1
    assert base64.b64encode(hashlib.sha256(b"\nb\n").digest()).decode() in policy


def test_only_the_framework_s_files_stay_in_the_browser(browse):
    client = browse(CLIENT)
    assert client.get("/review/").headers["cache-control"] == "no-store"
    assert "cache-control" not in client.get("/review/assets/a.js").headers
