"""Who says what of each room, whether they agree, and what became of it; and what the team votes."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from planner.intent.renamed import moment
from planner.record.entries import WITHDRAWN, Answer, Reply, Vote, Way, person
from planner.record.keeping import Record

RICHNESS = "richness"
"""What people contradict each other in where one would have a room richer than another would."""

Outcome = Literal["open", "answered", "taken"]


@dataclass(frozen=True)
class Voice:
    """One person's latest answer on a room, and the designer's replies to it, earliest first."""

    answer: Answer
    replies: tuple[Reply, ...] = ()

    @property
    def taken(self) -> tuple[Way, ...]:
        """The ways in which it was taken into the alternative."""
        return tuple(dict.fromkeys(reply.taken for reply in self.replies if reply.taken))

    @property
    def outcome(self) -> Outcome:
        """What became of it: taken in, answered with a word, or still open."""
        return "taken" if self.taken else "answered" if self.replies else "open"


@dataclass(frozen=True)
class RoomVoices:
    """What all say of one room."""

    room: str
    voices: tuple[Voice, ...]

    @property
    def disputed(self) -> tuple[str, ...]:
        """What two of them contradict each other in: RICHNESS, or an element that one wants and another does not."""
        said = {voice.answer.answer for voice in self.voices if voice.answer.answer}
        wishes = dict.fromkeys(wish for voice in self.voices for wish in voice.answer.wishes)
        wanted = [wish.element for wish in wishes if wish.wanted]
        unwanted = {wish.element for wish in wishes if not wish.wanted}
        return (*((RICHNESS,) if len(said) > 1 else ()), *(name for name in wanted if name in unwanted))

    @property
    def agreed(self) -> bool:
        """Whether two or more say something of it, and none contradicts another."""
        return len(self.voices) > 1 and not self.disputed

    @property
    def outcome(self) -> Outcome:
        """Open where an answer is, else answered where one was and not taken, else taken."""
        found = {voice.outcome for voice in self.voices}
        return "open" if "open" in found else "answered" if "answered" in found else "taken"


def voices(record: Record, alternative: str) -> dict[str, RoomVoices]:
    """What is said of each room of an alternative, by the rooms of which anything is: of each person the latest.

    Parameters
    ----------
    record : of the house, as `read_record` gives it.
    alternative : by the name of its file, "" for the house as it stands.

    Examples
    --------
    >>> from planner import Answer, Record
    >>> ada = Answer(who="Ada", alternative="formal", room="Library", answer="more")
    >>> bell = Answer(who="Bell", alternative="formal", room="Library", answer="less")
    >>> said = voices(Record((ada, bell)), "formal")["Library"]
    >>> said.disputed, said.outcome
    (('richness',), 'open')
    """
    replies = dict[str, tuple[Reply, ...]]()
    for reply in record.replies:
        replies[reply.to] = (*replies.get(reply.to, ()), reply)
    rooms = dict[str, list[Voice]]()
    for said in latest_of_each(record.answers, alternative):
        rooms.setdefault(said.room, []).append(Voice(said, replies.get(said.id, ())))
    return {room: RoomVoices(room, tuple(found)) for room, found in rooms.items()}


def latest_of_each(answers: Iterable[Answer], alternative: str) -> tuple[Answer, ...]:
    """Of each person and room the last answer on an alternative, where it was not taken back, in the order of their
    times."""
    found = dict[tuple[str, str], Answer]()
    for said in sorted(answers, key=lambda said: moment(said.time)):
        if said.alternative == alternative:
            key = (person(said.who), said.room)
            found.pop(key, None)
            found[key] = said
    return tuple(said for said in found.values() if not said.takes_back)


def votes(record: Record, alternative: str) -> tuple[Vote, ...]:
    """The votes on an alternative that hold: of each person the latest, where it was not withdrawn.

    Parameters
    ----------
    record : of the house, as `read_record` gives it.
    alternative : by the name of its file.

    Examples
    --------
    >>> from planner import Record, Vote
    >>> said = [Vote(who="Ada", alternative="formal", vote=vote) for vote in ("for", "against")]
    >>> [vote.vote for vote in votes(Record(tuple(said)), "formal")]
    ['against']
    """
    found = dict[str, Vote]()
    for vote in sorted(record.votes, key=lambda vote: moment(vote.time)):
        if vote.alternative == alternative:
            found.pop(person(vote.who), None)
            found[person(vote.who)] = vote
    return tuple(vote for vote in found.values() if vote.vote != WITHDRAWN)
