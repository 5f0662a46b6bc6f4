"""Pages that were sent to clients: what each was about, and the secret in it by which an answer file that comes back is
told from one that was damaged, edited or made for another house."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from secrets import token_hex
from typing import Any

import msgspec

from planner.files.journal import is_there
from planner.files.json_lines import append_record, read_records, tell_lines
from planner.files.problems import Problem
from planner.intent.renamed import moment
from planner.record.entries import new_id, now
from planner.record.keeping import SENT
from planner.record.states import read_state
from planner.values import as_kind


class SentAlternative(msgspec.Struct, frozen=True):
    """An alternative as a page shows it: its title, and the fingerprint of what it was planned from."""

    title: str
    fingerprint: str


class Sending(msgspec.Struct, frozen=True, kw_only=True):
    """A page that was sent: who made it, to whom where that is told, and when (UTC, in ISO 8601), the house's name, its
    rooms as they were called, the alternatives by the names of their files, and the secret that is in the page.
    """

    id: str = msgspec.field(default_factory=new_id)
    time: str = msgspec.field(default_factory=now)
    who: str = ""
    to: str = ""
    house: str
    alternatives: Mapping[str, SentAlternative]
    rooms: tuple[str, ...]
    secret: str = msgspec.field(default_factory=lambda: token_hex(32))


def new_sending(house: str | Path, alternatives: Iterable[str], who: str = "", to: str = "") -> Sending:
    """Note in the record that a page is sent; it is on the disk when this returns.

    Parameters
    ----------
    house : the folder of the house.
    alternatives : those in the page, by the names of their files, "" for the house as it stands.
    who : the person who sends it.
    to : the person whom it is sent to.

    Returns
    -------
    What the page must know to write answers that are taken: its `id`, the `house`'s name, the fingerprints of the
    `alternatives`, and the `secret` by which it seals the file.

    Raises
    ------
    HouseFault : the house or an alternative is faulty, or nothing can be written.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import demo_house, new_house
    >>> house = Path(mkdtemp()) / "house"
    >>> new_house(house, demo_house())
    >>> sent = new_sending(house, ["formal"], "Bert")
    >>> sent.house, sent.alternatives["formal"].title, sendings(house)[0] == sent
    ('Thornapple House', 'Formal: dressed for company', True)
    """
    folder = Path(house)
    states = {name: read_state(folder, name) for name in alternatives}
    first = next(iter(states.values())).house if states else read_state(folder, "").house
    sending = Sending(
        who=who,
        to=to,
        house=first.name,
        alternatives={n: SentAlternative(s.intent.title, s.fingerprints.whole) for n, s in states.items()},
        rooms=tuple(first.by_name),
    )
    append_record(folder / SENT, _values(sending))
    return sending


def sendings(house: Path, problems: list[Problem] | None = None) -> tuple[Sending, ...]:
    """Every page that was sent, earliest first; lines that cannot be read are told and passed over."""
    told = problems if problems is not None else list[Problem]()
    if not is_there(house / SENT):
        return ()
    found, faults = list[Sending](), dict[int, str]()
    for record in read_records(house / SENT, told):
        try:
            sending: Sending = as_kind(record.values, Sending)
            moment(sending.time)
            bytes.fromhex(sending.secret)
            found.append(sending)
        except ValueError as error:
            faults[record.line] = f"is no page that was sent ({error})"
    tell_lines(house / SENT, faults, told)
    return tuple(sorted(found, key=lambda sending: moment(sending.time)))


def _values(sending: Sending) -> dict[str, Any]:
    values: dict[str, Any] = msgspec.to_builtins(sending)
    return values
