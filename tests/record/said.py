"""One entry of every kind, and an answer file as a page writes it."""

import hmac
import json
from datetime import UTC, datetime, timedelta
from itertools import count
from uuid import UUID

from planner.record.entries import Answer, Decision, ElementWish, Remark, Reply, Vote

START = datetime(2030, 5, 1, 12, tzinfo=UTC)
SEEN = "1a2b3c4d5e6f7788"


def at(minutes):
    """A time, so many minutes after the first."""
    return (START + timedelta(minutes=minutes)).isoformat(timespec="microseconds")


def ids():
    """Ids that differ, always the same ones."""
    return (UUID(int=number).hex for number in count(1))


def sealed(content, secret):
    """An answer file with its digest under a page's secret, as the README says how that is made."""
    text = json.dumps(
        {k: v for k, v in content.items() if k != "digest"}, sort_keys=True, separators=(",", ":"), ensure_ascii=False
    )
    return {
        **content,
        "digest": hmac.new(bytes.fromhex(secret), text.encode("utf-8", "surrogatepass"), "sha256").hexdigest(),
    }


ANSWER = Answer(
    who="Ada Bell",
    alternative="formal",
    room="Library",
    answer="more",
    remark="née\n🙂",
    wishes=(ElementWish("chair rail", False), ElementWish("crown", True)),
    fingerprint=SEEN,
    time=at(0),
    id="a" * 32,
)
REPLY = Reply(
    who="Bert", alternative="formal", room="Library", to=ANSWER.id, word="yes", taken="range", time=at(1), id="b" * 32
)
VOTE = Vote(who="Cy", alternative="formal", vote="for", fingerprint=SEEN, time=at(2), id="c" * 32)
REMARK = Remark(who="Cy", alternative="formal", remark="dear, and worth it", time=at(3), id="d" * 32)
DECISION = Decision(
    who="Bert",
    alternative="formal",
    copy="reviews/decided/2030-05-01 formal eeeeeeee",
    house="1" * 16,
    intent="2" * 16,
    stock="",
    library="4" * 16,
    title="Formal",
    fingerprint=SEEN,
    time=at(4),
    id="e" * 32,
)
ALL = (ANSWER, REPLY, VOTE, REMARK, DECISION)


def answer_file(page, *answers, **changes):
    """What a page writes: answers as they are given, each with what it says otherwise, and what the file does."""
    (name, shown), named = next(iter(page.alternatives.items())), ids()
    said = [
        {
            "id": next(named),
            "time": page.time,
            "alternative": name,
            "fingerprint": shown.fingerprint,
            "room": "Library",
            "answer": "more",
            "remark": "",
            "wishes": [],
            **answer,
        }
        for answer in answers
    ]
    content = {"format": 1, "house": page.house, "sent": page.id, "id": "f" * 32, "who": "Ada Bell", "answers": said}
    return sealed({**content, **changes}, page.secret)
