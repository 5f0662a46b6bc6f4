"""A page to send to a client: one HTML file with a house's alternatives in it, that fetches nothing and tells nobody.

Its policy lets it load pictures that stand in it and run the scripts that stand in it, and nothing else; answers leave
it as a file that the client sends back (planner.record.returned).
"""

import base64
import hashlib
import json
from collections.abc import Iterable, Mapping
from html import escape
from importlib import resources
from pathlib import Path
from string import Template
from typing import NamedTuple

from planner.deliverables.client_words import MEASURE, TAKE_BACK
from planner.deliverables.page_facts import Facts, page_facts
from planner.files.problems import HouseFault, Problem
from planner.files.storage import replace_files
from planner.house.notes import client_note_faults
from planner.intent.folder import intent_file, list_intents
from planner.intent.model import FEWEST_TIERS, MOST_TIERS
from planner.look import theme
from planner.planning.answer import Plan
from planner.planning.pipeline import plan
from planner.record.fingerprint import fingerprint_of
from planner.record.sent import Sending, new_sending
from planner.record.states import read_state
from planner.units import counted

ENDINGS = (".html", ".htm")
"""How the name of a page ends, so that none takes the place of another kind of file."""

MOST_ALTERNATIVES = 6
"""A client looks through no more alternatives than this at once."""

MOST_ROOMS = 300
"""The rooms of all alternatives together are no more than this; each is planned a little richer and plainer."""

SCRIPTS = ("seal.js", "kept.js", "drawn.js", "page.js")
"""The scripts of the page, in the order in which they need each other."""


class Shared(NamedTuple):
    """A page that was written: where, how large [bytes], what the record notes of it, and why notes or photographs for
    the client are not in it."""

    file: Path
    size: int
    sending: Sending
    left_out: tuple[Problem, ...] = ()


def share_page(
    house: str | Path, out: str | Path, alternatives: Iterable[str] | None = None, who: str = "", to: str = ""
) -> Shared:
    """Write a page to send to a client, and note in the record that it is sent.

    Parameters
    ----------
    house : the folder of the house.
    out : the page, a file whose name ends in .html; a former one is replaced, all of it or nothing.
    alternatives : those in the page, by the names of their files, "" for the house as it stands; all of the house where
        None, or as it stands where it has none.
    who : the person who sends it, told in the page.
    to : the person whom it is sent to; the page then shows what that person has said before, under that name, and what
        the designer replied.

    Returns
    -------
    What was written. What comes back from it is read by `add_answers`.

    Raises
    ------
    HouseFault : the house or an alternative is faulty, has no plan or more rooms than a page holds, changes meanwhile,
        or the page cannot be written; then a former one is as it was.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import demo_house, new_house
    >>> house = Path(mkdtemp()) / "house"
    >>> new_house(house, demo_house())
    >>> shared = share_page(house, house.parent / "page.html", ["easy"], "Bert")
    >>> shared.size < 5_000_000, [*shared.sending.alternatives]
    (True, ['easy'])
    """
    folder, file = Path(house), Path(out)
    if file.suffix.lower() not in ENDINGS:
        raise HouseFault([Problem(file.name, None, None, "is no name of a page", "end it in .html")])
    names = tuple(dict.fromkeys(list_intents(folder) if alternatives is None else alternatives)) or ("",)
    plans = _plans(folder, names)
    sending = new_sending(folder, names, who.strip(), to.strip())
    for name, planned in plans.items():
        if sending.alternatives[name].fingerprint != fingerprint_of(planned):
            raise HouseFault([Problem(_file(name), None, None, "was changed meanwhile", "share it again")])
    data = web_page(page_facts(folder, plans, sending)).encode()
    replace_files(file.parent, {file.name: data})
    house_shown = next(iter(plans.values())).house
    return Shared(file, len(data), sending, client_note_faults(folder, house_shown))


def web_page(facts: Facts) -> str:
    """The page that shows some facts: one HTML document with its own content policy."""
    style, scripts = _style(), [_text(name) for name in SCRIPTS]
    return Template(_text("page.html")).substitute(
        policy=escape(content_policy(style, scripts)),
        title=escape(f"{facts['house']}: what do you say?"),
        measure=escape(MEASURE),
        take_back=escape(TAKE_BACK),
        style=style,
        facts=embedded(facts),
        scripts="\n".join(f"<script>{script}</script>" for script in scripts),
    )


def content_policy(style: str, scripts: Iterable[str]) -> str:
    """What a page may load and run: pictures that stand in it, this style and these scripts.

    >>> content_policy("", [""]).split("; ")[:2]
    ["default-src 'none'", 'img-src data:']
    """
    allowed = {
        "default-src": "'none'",
        "img-src": "data:",
        "style-src": _hash(style),
        "script-src": " ".join(map(_hash, scripts)),
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    return "; ".join(f"{what} {sources}" for what, sources in allowed.items())


def embedded(facts: Mapping[str, object]) -> str:
    """Facts as JSON that stands in a page as it is: no character of it ends the element that it stands in.

    >>> embedded({"room": "</script><b>"})
    '{"room":"\\\\u003c/script\\\\u003e\\\\u003cb\\\\u003e"}'
    """
    text = json.dumps(facts, ensure_ascii=False, separators=(",", ":"))
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text


def _plans(folder: Path, names: Iterable[str]) -> dict[str, Plan]:
    """The plans of alternatives. Raises HouseFault where one is none that a client can be shown."""
    names, plans, problems = tuple(names), dict[str, Plan](), list[Problem]()
    if len(names) > MOST_ALTERNATIVES:
        message = f"there are {len(names)} of them"
        remedy = f"name those to send with --alternative, at most {MOST_ALTERNATIVES}"
        raise HouseFault([Problem("alternatives", None, None, message, remedy)])
    for name in names:
        state = read_state(folder, name)
        if len(state.house.rooms) * len(names) > MOST_ROOMS:
            message = f"has {counted(len(state.house.rooms), 'room')}, to be shown {counted(len(names), 'time')}"
            remedy = f"send fewer alternatives; their rooms together are at most {MOST_ROOMS}"
            raise HouseFault([Problem("rooms.csv", None, None, message, remedy)])
        planned = plans[name] = plan(state.house, state.intent, state.stock, state.library)
        if not planned.feasible:
            message = f"no plan keeps every rule: {' '.join(planned.conflicts)}"
            problems.append(Problem(_file(name), None, None, message, "change a wish, or leave the alternative out"))
    if problems:
        raise HouseFault(problems)
    return plans


def _file(alternative: str) -> str:
    return intent_file(alternative) if alternative else "the house"


def _text(name: str) -> str:
    """A part of the page."""
    return resources.files("planner.deliverables").joinpath("page", name).read_text("utf-8")


def _style() -> str:
    """The look of the page, its colours those of all else."""
    light, dark = (_colours(on) for on in (False, True))
    night = f"@media screen and (prefers-color-scheme: dark) {{ :root {{ {dark} }} }}"
    return f":root {{ --font: {theme.FONT}; {light} }}\n{night}\n{_text('page.css')}"


def _colours(dark: bool) -> str:
    """The colours of ink and paper and of every ladder of tiers, with what is read on each."""
    look = theme.palette(dark)
    found = {name: getattr(look, name) for name in ("paper", "ink", "soft", "faint", "alarm")}
    for tiers in range(FEWEST_TIERS, MOST_TIERS + 1):
        for tier, colour in enumerate(theme.ramp(tiers, dark), 1):
            found |= {f"t{tiers}-{tier}": colour, f"on{tiers}-{tier}": theme.text_on(colour)}
    return "; ".join(f"--{name}: {colour}" for name, colour in found.items())


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
