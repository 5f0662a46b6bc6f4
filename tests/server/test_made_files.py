"""Files that pages make, behind the designer's door of the real framework."""

from multiprocessing import shared_memory
from urllib.parse import urlsplit

import pytest
from starlette.testclient import TestClient

from planner.server.made_files import GONE, MadeFiles, made_files
from tests.server.conftest import CONTENT
from tests.serving import Served, asked, come_in


@pytest.fixture
def client(app):
    made_files().store("1-abc.csv", b"room,tier")
    yield TestClient(MadeFiles(app), base_url="http://127.0.0.1")
    made_files().remove("1-abc.csv")


def test_what_a_page_has_made_is_asked_for_by_its_length_and_name(client):
    assert CONTENT in client.get("/design/@file/9-1-abc.csv").text
    assert CONTENT in client.get("/design/").text


@pytest.mark.parametrize(
    "asking", ["8-1-abc.csv", "99999999999-1-abc.csv", "%C2%B2-1-abc.csv", "9-abc.csv", "9-", "x", "9-.."]
)
def test_what_no_page_has_made_is_told_to_be_gone(client, app, asking):
    answer = client.get(client.base_url.copy_with(raw_path=f"/design/@file/{asking}".encode()))
    assert (answer.status_code, answer.text) == (404, GONE)
    assert app.asked == []


def test_what_other_programs_share_in_memory_is_not_to_be_had(served_house):
    other = shared_memory.SharedMemory(create=True, size=64)
    other.buf[:6] = b"secret"
    served = Served("open", served_house)
    try:
        at, held = urlsplit(served.url).netloc, come_in(served.url)
        for name in (other.name, "nothing", "a" * 300, ".."):
            status, _, body = asked(at, "GET", f"/design/@file/6-{name}", Cookie=held)
            assert (status, body.decode()) == (404, GONE)
    finally:
        served.process.terminate()
        _, complaints = served.process.communicate(timeout=60)
        other.close()
        other.unlink()
    assert complaints == ""
