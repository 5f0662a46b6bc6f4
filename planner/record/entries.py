"""What the record holds: each entry says who said it, when (UTC, in ISO 8601), of which alternative, and on which
fingerprint of what that was planned from ("" where nobody knows).

An entry is frozen and compares by what it says. Its `id` is its own, so that it is found again, and is there once
however often it comes. What nobody can read as an entry is refused with the place of the fault (msgspec).
"""

import json
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any, Literal, TypeAlias, get_args
from uuid import uuid4

import msgspec

from planner.files.problems import Problem
from planner.intent.renamed import moment
from planner.record.fingerprint import Fingerprints
from planner.values import as_kind

Choice: TypeAlias = Literal["keep", "more", "less"]
KEEP, MORE, LESS = ANSWERS = get_args(Choice)
"""What a client may say of a room: as it is, a little richer, a little plainer."""

Way: TypeAlias = Literal["pin", "range", "rule"]
PIN, RANGE, RULE = WAYS = get_args(Way)
"""How an answer is taken into an alternative: as a pinned tier, a range of tiers, or trim rules."""

Stand: TypeAlias = Literal["for", "against", "withdrawn"]
FOR, AGAINST, WITHDRAWN = VOTES = get_args(Stand)
"""What a vote may say of an alternative."""

LONGEST_REMARK = 2_000
"""A remark or a word to somebody has no more characters than this."""

LONGEST_NAME = 200
"""A person's name has no more characters than this."""

MOST_WISHES = 100
"""An answer has no more single wishes than this."""


def now() -> str:
    """This moment, as entries say it."""
    return datetime.now(UTC).isoformat(timespec="microseconds")


def new_id() -> str:
    """An id that nothing else has: 32 hexadecimal digits."""
    return uuid4().hex


class Entry(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """What every entry says. An `alternative` goes by its file's name, "" is the house as it stands."""

    who: str
    alternative: str
    fingerprint: str = ""
    time: str = msgspec.field(default_factory=now)
    id: str = msgspec.field(default_factory=new_id)


class ElementWish(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A client's single wish in a room: an element of trim is to be there, or not to be.

    >>> ElementWish("chair rail", False).words
    'no chair rail'
    """

    element: str
    wanted: bool

    @property
    def words(self) -> str:
        """The wish in words."""
        return self.element if self.wanted else f"no {self.element}"


class Answer(Entry, frozen=True, kw_only=True, tag_field="kind", tag="answer"):
    """What a client said of one room: one of ANSWERS or "" for mere words or wishes. `sent` is the id of the page that
    it came back from, "" where it was said in an app. One that says nothing takes back what was said before.

    >>> Answer(who="Ada", alternative="formal", room="Library", answer="more").answer
    'more'
    """

    who: str = msgspec.field(name="reviewer")
    room: str
    answer: Literal["", "keep", "more", "less"] = ""
    remark: str = ""
    wishes: tuple[ElementWish, ...] = ()
    sent: str = ""

    @property
    def takes_back(self) -> bool:
        """Whether it says nothing, and so takes back what the same person said of the room before."""
        return not (self.answer or self.remark.strip() or self.wishes)


class Reply(Entry, frozen=True, kw_only=True, tag_field="kind", tag="reply"):
    """What the designer did with a client's answer: `word` is for the client to see, `taken` says how the answer was
    taken into the alternative, one of WAYS, or "" where it was not.

    >>> Reply(who="Bert", alternative="formal", room="Library", to="a1", word="with pleasure", taken="range").taken
    'range'
    """

    room: str
    to: str
    word: str = ""
    taken: Literal["", "pin", "range", "rule"] = ""


class Vote(Entry, frozen=True, kw_only=True, tag_field="kind", tag="vote"):
    """A team member's vote on an alternative, one of VOTES; the later of one person's holds.

    >>> Vote(who="Ada", alternative="formal", vote="for").vote
    'for'
    """

    vote: Stand


class Remark(Entry, frozen=True, kw_only=True, tag_field="kind", tag="remark"):
    """A team member's remark on an alternative; each stands beside the others.

    >>> Remark(who="Ada", alternative="formal", remark="dear, and worth it").remark
    'dear, and worth it'
    """

    remark: str


class Decision(Entry, frozen=True, kw_only=True, tag_field="kind", tag="decision"):
    """That an alternative is what will be built. `copy` is the folder in the house's own where it is locked, as it was
    and with the house as it was; `house`, `intent`, `stock` and `library` are the fingerprints of what it was planned
    from.
    """

    copy: str
    house: str
    intent: str
    stock: str
    library: str
    title: str = ""
    remark: str = ""

    @property
    def fingerprints(self) -> Fingerprints:
        """Those of what was decided on."""
        return Fingerprints(self.house, self.intent, self.stock, self.library)


AnyEntry: TypeAlias = Answer | Reply | Vote | Remark | Decision

LENGTHS = {"who": LONGEST_NAME, "title": LONGEST_NAME, "remark": LONGEST_REMARK, "word": LONGEST_REMARK}
CALLED = {"who": "the name", "title": "the title", "remark": "the remark", "word": "the word"}


def too_long(entry: Entry) -> Iterator[Problem]:
    """What of an entry is longer than anybody needs."""
    for field, most in LENGTHS.items():
        text = getattr(entry, field, "")
        if len(text) > most:
            yield Problem(CALLED[field], None, None, f"has {len(text):,} characters", f"keep it to {most:,}")
    if isinstance(entry, Answer) and len(entry.wishes) > MOST_WISHES:
        yield Problem("the answer", None, None, f"has {len(entry.wishes):,} wishes", f"keep it to {MOST_WISHES}")


def entry_of(values: Mapping[str, Any]) -> AnyEntry:
    """An entry from what a line of the record says; one of before there were kinds is an answer, one without an id has
    that of its words. Raises ValueError, in words, where it is none."""
    if "time" not in values:
        raise ValueError("it says no time")
    id_of_words = {} if "id" in values else {"id": _id_of(values)}
    found: AnyEntry = as_kind({"kind": "answer", **id_of_words, **values}, AnyEntry)
    moment(found.time)
    return found


def values_of(entry: Entry) -> dict[str, Any]:
    """What a line of the record says of an entry."""
    found: dict[str, Any] = msgspec.to_builtins(entry)
    return found


def person(who: str) -> str:
    """Who is meant by a name, however it is spelled in capitals and blanks.

    >>> person(" Ada  BELL") == person("Ada Bell")
    True
    """
    return " ".join(who.split()).casefold()


def _id_of(values: Mapping[str, Any]) -> str:
    return sha256(json.dumps(values, sort_keys=True).encode()).hexdigest()[:32]
