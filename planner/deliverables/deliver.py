"""All papers of a plan, made one after another and written together: all of them or none.

A list of them is written beside them. By it the next run knows its former papers, takes the place of those and of
nothing else, and removes those that it makes no more.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import Any

import msgspec

from planner.deliverables.letters import without_shape
from planner.deliverables.note_papers import note_papers
from planner.deliverables.papers import SIZES, Paper, PaperSize, Stamp, is_paper_name, stamp_of, usual_size
from planner.deliverables.sheets.drawn_papers import drawn_papers
from planner.deliverables.sheets.noted_sheets import noted_papers
from planner.deliverables.table_papers import table_papers
from planner.deliverables.workbook import workbook_papers
from planner.files.problems import HouseFault, Problem, choose, raise_errors
from planner.files.storage import replace_files, seen
from planner.planning.answer import Plan

Maker = Callable[[Plan, Stamp, PaperSize], Iterator[Paper]]
"""Makes some of the papers of a plan, one after another; it is given the stamp that each of them carries, and the paper
that drawings and pages are made on."""

MAKERS: tuple[Maker, ...] = (note_papers, drawn_papers, workbook_papers, table_papers)
"""All that makes papers, in the order in which they are told."""

LIST = "papers.json"
"""The list of the papers that stand beside it."""


@dataclass(frozen=True)
class Delivered:
    """What was written: where, with which stamp, on which paper, the papers themselves, and the letters of names that
    stand as empty boxes in those that are PDF."""

    folder: Path
    stamp: Stamp
    size: PaperSize
    papers: tuple[Paper, ...]
    unshown: tuple[str, ...] = ()


def deliver(
    plan: Plan,
    out: str | Path,
    day: date,
    size: str = "",
    told: Callable[[Paper], None] | None = None,
    notes: str | Path = "",
) -> Delivered:
    """Make all papers of a plan and write them into a folder, all of them or none.

    Parameters
    ----------
    plan : a plan that exists.
    out : the folder; it is made where it is not there. Former papers in it are replaced.
    day : the date that the papers carry.
    size : of the paper for drawings, "ANSI B" or "A3"; that of the house's unit where blank.
    told : is called with each paper as soon as it is made.
    notes : the folder of the house, whose notes and photographs then go on a paper too.

    Raises
    ------
    HouseFault : no plan exists, no paper has that size, something that is no former paper or was changed since stands
        in the place of one, or the folder cannot be written; then all in it is as it was.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> from planner import demo_house, plan, read_house
    >>> done = deliver(plan(read_house(demo_house())[0]), mkdtemp(), date(2030, 1, 31))
    >>> done.stamp.house, done.stamp.alternative, (done.folder / "tables" / "rooms.csv").is_file()
    ('Thornapple House', 'as it stands', True)
    """
    if not plan.feasible:
        message = f"no plan keeps every rule: {' '.join(plan.conflicts)}"
        raise HouseFault([Problem("the plan", None, None, message, "change a wish")])
    if size and size not in SIZES:
        raise HouseFault([Problem("the papers", None, None, f"no paper is of size {size!r}", choose(size, SIZES))])
    folder, stamp, paper = Path(out), stamp_of(plan, day), SIZES[size] if size else usual_size(plan.house.unit)
    made: list[Paper] = []
    for each in papers(plan, stamp, paper, notes=notes):
        made.append(each)
        if told is not None:
            told(each)
    done = Delivered(folder, stamp, paper, tuple(made), without_shape(plan))
    _replace(folder, {each.name: each.data for each in made} | {LIST: _list_text(done).encode()})
    return done


def papers(
    plan: Plan, stamp: Stamp, size: PaperSize, makers: Iterable[Maker] = (), notes: str | Path = ""
) -> Iterator[Paper]:
    """The papers of a plan, each as soon as it is made; `makers` are MAKERS where none are given, and with the folder
    of the house for its `notes` one more.

    Raises
    ------
    ValueError : two have the same name.
    """
    names, every = {LIST}, [*(makers or MAKERS)]
    if notes:
        every.append(partial(noted_papers, folder=Path(notes)))
    for maker in every:
        for paper in maker(plan, stamp, size):
            if paper.name.casefold() in names:
                raise ValueError(f"there are two papers called {paper.name!r}")
            names.add(paper.name.casefold())
            yield paper


def delivered_object(done: Delivered) -> dict[str, Any]:
    """What was written as a JSON object; the README documents its keys."""
    stamp = done.stamp
    return {
        "format": 1,
        "house": stamp.house,
        "alternative": stamp.alternative,
        "date": stamp.day.isoformat(),
        "fingerprint": stamp.fingerprint,
        "paper": done.size.name,
        "unshown": list(done.unshown),
        "papers": [
            {"name": p.name, "title": p.title, "bytes": len(p.data), "sha256": _digest(p.data)} for p in done.papers
        ],
    }


def delivered_text(done: Delivered) -> str:
    """The JSON text of what was written, and where."""
    return json.dumps(delivered_object(done) | {"folder": str(done.folder)}, ensure_ascii=False, indent=1)


def _list_text(done: Delivered) -> str:
    return json.dumps(delivered_object(done), ensure_ascii=False, indent=1)


class _Listed(msgspec.Struct, frozen=True):
    """A paper of a former run."""

    name: str
    sha256: str


class _List(msgspec.Struct, frozen=True):
    """The papers of a former run."""

    papers: tuple[_Listed, ...]


def _replace(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write files in the place of those of a former run, which are removed where they are made no more."""
    before = seen(folder, [LIST])
    former = _former(before[LIST])
    before |= seen(folder, dict.fromkeys((*contents, *former)))
    raise_errors(
        Problem(
            name,
            None,
            None,
            "was changed since it was written" if name in former else "is none of the planner's papers",
            "move it to another place, or name another folder",
        )
        for name in contents
        if name != LIST and (data := before[name]) is not None and former.get(name) != _digest(data)
    )
    gone = {
        name: None
        for name, digest in former.items()
        if name not in contents and (data := before[name]) is not None and _digest(data) == digest
    }
    replace_files(folder, {**contents, **gone}, expected=before)


def _former(data: bytes | None) -> dict[str, str]:
    """The papers of a former run with the digest of what was written. Raises HouseFault where the list is none."""
    if data is None:
        return {}
    try:
        found = msgspec.json.decode(data, type=_List).papers
    except (msgspec.DecodeError, RecursionError):
        remedy = "move it to another place, or name another folder"
        raise HouseFault([Problem(LIST, None, None, "is no list of the planner's papers", remedy)]) from None
    return {paper.name: paper.sha256 for paper in found if is_paper_name(paper.name)}


def _digest(data: bytes) -> str:
    return sha256(data).hexdigest()
