"""Decisions: an alternative locked, as a copy of all that it was planned from, beside the record in the house folder.

The copy is a house folder of its own, with that one alternative in it: every command and app opens it, and no edit of
the house reaches it. What is the planner's own, its library and its rules, is in no copy; of that the fingerprint
alone tells whether it is as it was.
"""

from datetime import UTC, datetime
from os.path import lexists
from pathlib import Path

from planner.files.decided import DECIDED
from planner.files.names import safe_name
from planner.files.problems import HouseFault, Problem, raise_errors, words_of
from planner.files.storage import names_in, read_bytes, replace_files, writing
from planner.house.faults import STOCK
from planner.house.folder import REVIEWS
from planner.house.parsing import ALSO, FILES
from planner.house.styles import STYLES
from planner.intent.folder import intent_file
from planner.intent.renamed import moment, names_of
from planner.record.entries import Decision, new_id
from planner.record.keeping import Record, lines_of
from planner.record.states import State, differences, read_state

AS_IT_STANDS = "as the house stands"
"""What an alternative without a name is called."""


def decide(house: str | Path, who: str, alternative: str, remark: str = "", seen: str = "") -> Decision:
    """Decide on an alternative as it is saved: it is locked, and the decision stands in the record, both or neither.

    A later decision on the same alternative supersedes this one; both stay in the record.

    Parameters
    ----------
    house : the folder of the house.
    who : the name of the person who decides.
    alternative : by the name of its file, "" for the house as it stands.
    remark : why, or on what terms.
    seen : the fingerprint of what the person has looked at; nothing is compared where it is "".

    Returns
    -------
    The decision.

    Raises
    ------
    HouseFault : the house or the alternative is faulty, is no longer what was `seen`, or nothing can be written;
        nothing was changed.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import changed_since, demo_house, new_house
    >>> house = Path(mkdtemp()) / "house"
    >>> new_house(house, demo_house())
    >>> decision = decide(house, "Ada Bell", "formal")
    >>> changed_since(house, decision)
    ()
    """
    folder, problems = Path(house), list[Problem]()
    with writing(folder):
        state = read_state(folder, alternative)
        found = state.fingerprints
        if seen not in ("", found.whole):
            message = "is no longer what was looked at"
            raise HouseFault([Problem("the house", None, None, message, "look at it again, then decide")])
        day, mark = datetime.now(UTC).strftime("%Y-%m-%d"), new_id()
        place = f"{DECIDED}/{day} {safe_name(alternative, AS_IT_STANDS)} {mark[:8]}"
        decision = Decision(
            who=who.strip(),
            alternative=alternative,
            fingerprint=found.whole,
            id=mark,
            copy=place,
            title=state.intent.title,
            remark=remark.strip(),
            **found._asdict(),
        )
        files = {name: read_bytes(folder / name, name, problems) for name in _planned_from(folder, alternative)}
        raise_errors(problems)
        line = f"{REVIEWS}/{day} {safe_name(who, 'guest')} {mark[:8]} decided.jsonl"
        copies = {f"{place}/{name}": data for name, data in files.items()}
        replace_files(folder, {**copies, line: lines_of([decision])})
    return decision


def decisions(record: Record) -> tuple[Decision, ...]:
    """The decisions that hold: of each alternative the latest.

    Parameters
    ----------
    record : of the house, as `read_record` gives it.

    Examples
    --------
    >>> from planner import demo_house, read_record
    >>> decisions(read_record(demo_house()))
    ()
    """
    found = dict[str, Decision]()
    for decision in sorted(record.decisions, key=lambda decision: moment(decision.time)):
        found.pop(decision.alternative, None)
        found[decision.alternative] = decision
    return tuple(found.values())


def decided_folder(house: str | Path, decision: Decision) -> Path:
    """The house folder in which a decision is locked, to be read and not to be changed.

    Parameters
    ----------
    house : the folder of the house.
    decision : one of its record.

    Raises
    ------
    HouseFault : the decision names no such folder.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import decide, demo_house, list_intents, new_house
    >>> house = Path(mkdtemp()) / "house"
    >>> new_house(house, demo_house())
    >>> list_intents(decided_folder(house, decide(house, "Ada Bell", "formal")))
    ('formal',)
    """
    parts = decision.copy.split("/")
    if parts[:-1] != DECIDED.split("/") or parts[-1] in ("", ".", "..") or "\0" in decision.copy:
        message, remedy = "names no copy of a decision", "take the line out of the record, or mend it"
        raise HouseFault([Problem(REVIEWS, None, None, f"a decision on {decision.alternative} {message}", remedy)])
    return Path(house) / decision.copy


def changed_since(house: str | Path, decision: Decision) -> tuple[str, ...]:
    """What has changed since a decision, in words; nothing where all is as it was decided.

    Where the copy cannot be read, or was itself changed, it says so, and which kinds of things have changed: house,
    alternative, stock, library.

    Parameters
    ----------
    house : the folder of the house.
    decision : one of its record.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import decide, demo_house, new_house
    >>> house = Path(mkdtemp()) / "house"
    >>> new_house(house, demo_house())
    >>> decision = decide(house, "Ada Bell", "formal")
    >>> rooms = house / "rooms.csv"
    >>> _ = rooms.write_text(rooms.read_text().replace(",10 ft,0 192", ",9.5 ft,0 192"))
    >>> print(*changed_since(house, decision))
    rooms.csv has changed since: the ceiling of Library was 10'-0", is 9'-6"
    """
    folder = Path(house)
    try:
        now = read_state(folder, decision.alternative)
    except HouseFault as fault:
        return (f"it cannot be read as it is now: {words_of(fault.errors)}",)
    try:
        then = read_state(decided_folder(folder, decision), decision.alternative)
    except HouseFault as fault:
        return (f"what was decided cannot be read: {words_of(fault.errors)}", *_kinds(decision, now))
    if then.fingerprints[:3] != decision.fingerprints[:3]:
        return (f"{decision.copy} is no longer what was decided", *_kinds(decision, now))
    if now.fingerprints == decision.fingerprints:
        return ()
    names, when = names_of(folder, []), moment(decision.time)
    found = tuple(differences(then, now, lambda room: names.now(room, when)))
    trade = then.library == now.library and then.fingerprints.library != decision.library
    return (*found, *((TRADE,) if trade else ())) or _kinds(decision, now)


MOST_LOOKED_AT = 50
"""Of no more decisions than this, the latest, it is looked what has changed since: each is a house to be read."""

NOT_LOOKED_AT = f"what has changed since is told of the latest {MOST_LOOKED_AT} decisions alone"


def with_changes(house: str | Path, record: Record) -> dict[Decision, tuple[str, ...]]:
    """The decisions of a record that hold, each with what has changed since, as `changed_since` tells it."""
    hold = decisions(record)
    seldom = len(hold) - MOST_LOOKED_AT
    return {
        each: (NOT_LOOKED_AT,) if number < seldom else changed_since(house, each) for number, each in enumerate(hold)
    }


TRADE = "what the planner itself knows of the trade has changed since"
KINDS = {"house": "the house", "intent": "the alternative", "stock": "the stock", "library": "what the trade knows"}


def _kinds(decision: Decision, now: State) -> tuple[str, ...]:
    """Which of the four has changed, where no more can be told."""
    then, found = decision.fingerprints._asdict(), now.fingerprints._asdict()
    return tuple(f"{words} has changed since" for kind, words in KINDS.items() if then[kind] != found[kind])


def _planned_from(folder: Path, alternative: str) -> tuple[str, ...]:
    """The files of a house folder that a plan of an alternative is made from."""
    problems: list[Problem] = []
    styles = (f"{STYLES}/{name}.toml" for name in names_in(folder, STYLES, ".toml", problems) if name[0] != ".")
    there = (name for name in (*ALSO, STOCK, *styles) if lexists(folder / name))
    raise_errors(problems)
    return (*FILES, *there, *([intent_file(alternative)] if alternative else ()))
