"""What the apps hear of what a browser sends."""

import json

import pytest
from starlette.requests import ClientDisconnect

from planner.server.heard import in_letters, unheard, whole
from tests.loops import run


def test_what_a_page_sends_reaches_the_app_whole():
    parts = [{"type": "http.request", "body": part, "more_body": part != b"c"} for part in (b"a", b"b", b"c")]
    rest = [{"type": "http.disconnect"}]

    async def receive():
        return (parts or rest).pop(0)

    async def taken():
        again = await whole(receive, 3)
        return [await again(), await again()]

    message, after = run(taken())
    assert (message["body"], message["more_body"], after["type"]) == (b"abc", False, "http.disconnect")


def test_a_browser_that_goes_before_all_is_said_has_said_nothing():
    parts = [{"type": "http.request", "body": b"a", "more_body": True}, {"type": "http.disconnect"}]

    async def receive():
        return parts.pop(0)

    with pytest.raises(ClientDisconnect):
        run(whole(receive, 3))


def test_nothing_is_heard_over_a_websocket_but_that_it_ends():
    kinds = ["connect", "receive", "receive", "disconnect"]

    async def receive():
        return {"type": f"websocket.{kinds.pop(0)}"}

    async def heard():
        ends = unheard(receive)
        return [(await ends())["type"], (await ends())["type"]]

    assert run(heard()) == ["websocket.connect", "websocket.disconnect"]


@pytest.mark.parametrize(
    "text", ["plain", "\U0001f600", "\\ud83d", 'a "quoted" \n line', "\\\\u", "\ufffd", "\U0001f600\\udc00"]
)
@pytest.mark.parametrize("ascii_only", [True, False])
def test_whole_letters_are_heard_as_they_were_said(text, ascii_only):
    said = json.dumps({"said": text, text: 1}, ensure_ascii=ascii_only).encode()
    heard = json.loads(in_letters(said))
    assert heard == {"said": text, text: 1}


@pytest.mark.parametrize("half", ["\ud83d", "\ude00", "\ude00\ud83d", "\ud83d\ud83d"])
def test_half_a_letter_is_heard_as_one_that_is_not_known(half):
    said = json.dumps({"said": f"a {half} \U0001f600"}).encode()
    assert json.loads(in_letters(said)) == {"said": "a " + "\ufffd" * len(half) + " \U0001f600"}
