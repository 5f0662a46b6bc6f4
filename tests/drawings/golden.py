"""Golden drawings: six periods by four drawings of the demo house, kept as SVG and compared by their geometry.

`python -m tests.drawings.golden` writes them anew. What is compared is primitives with their places: straight lines,
arcs, the outlines of fills, and lines of text, whatever the order in which they were drawn and the paths that they were
gathered in. A place may differ by 1/64 in of what is drawn.
"""

import re
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from html import escape
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

from planner import Intent, demo_house, plan, read_house, read_stock, standard
from planner.drawings.ladder import ladder
from planner.drawings.page import room_sheet
from planner.drawings.svg import svg

FOLDER = Path(__file__).with_suffix("")
"""Where they are kept."""

KINDS = ("ladder", "best room", "bedroom", "kitchen")
"""What is drawn of the demo house in each period, with the demo's stock."""

TOLERANCE = 1 / 64
"""How far a place may be off [in]."""

ROUNDING = 0.01
"""To what places are written [px]."""

Place = tuple[float, float]
"""A point on the page [px]."""

_TOKEN = re.compile(r"([MLHVAZ])|(-?[\d.]+(?:e-?\d+)?)")
_SVG = "{http://www.w3.org/2000/svg}"


class Primitive(NamedTuple):
    """One thing drawn: its kind, what it looks like or says, and its places and sizes [px]."""

    kind: str
    look: str
    at: tuple[float, ...]


class Difference(NamedTuple):
    """What two drawings have in common, what is gone from the first, and what the second has more."""

    same: tuple[Primitive, ...]
    gone: tuple[Primitive, ...]
    added: tuple[Primitive, ...]

    def __bool__(self) -> bool:
        return bool(self.gone or self.added)


def names() -> list[tuple[str, str]]:
    """Period and kind of every golden drawing."""
    return [(style, kind) for style in standard().style_names for kind in KINDS]


def file(style: str, kind: str) -> Path:
    """Where a golden drawing is kept."""
    return FOLDER / f"{style} {kind}.svg".replace(" ", "_")


def drawn(style: str, kind: str) -> str:
    """A golden drawing as it is drawn today."""
    planned = _planned(style)
    if kind == "ladder":
        tallest = max(room.ceiling for room in planned.house.rooms)
        packages = {planned.standing[package]: planned.sections[package] for package in planned.ladder(tallest)[::-1]}
        return svg(ladder([*packages], packages))
    return svg(room_sheet(planned.walls[_room(style, kind)]))


def primitives(document: str) -> tuple[Primitive, ...]:
    """What an SVG document draws."""
    found: list[Primitive] = []
    for node, about in _nodes(ElementTree.fromstring(document)):
        if node.tag == f"{_SVG}path":
            found += _of_path(node, about)
        elif node.tag == f"{_SVG}text":
            turn = [float(n) for n in re.findall(r"-?[\d.]+", node.get("transform", ""))[:1]]
            look = "|".join(
                (node.get("class", ""), node.get("text-anchor", ""), node.get("font-weight", ""), node.text or "")
            )
            place = (float(node.get(name, 0)) for name in ("x", "y", "font-size"))
            found.append(Primitive("text", look, (*place, *turn)))
    return tuple(found)


def difference(old: Iterable[Primitive], new: Iterable[Primitive], tolerance: float) -> Difference:
    """What two drawings have in common within a tolerance [px], and what only one of them has."""
    before, after = Counter(old), Counter(new)
    same = list((before & after).elements())
    gone, added = [], list((after - before).elements())
    for one in (before - after).elements():
        other = next((o for o in added if _alike(one, o, tolerance)), None)
        if other is None:
            gone.append(one)
        else:
            added.remove(other)
            same.append(one)
    return Difference(tuple(same), tuple(gone), tuple(added))


def tolerance(document: str) -> float:
    """How far a place on a golden drawing may be off [px], what writing it rounds included."""
    words = ElementTree.fromstring(document).itertext()
    (_, ratio) = next(m.groups() for m in (re.search(r"\((\d+) : (\d+)\)", w) for w in words) if m)
    return TOLERANCE * 96 / float(ratio) + ROUNDING


def picture(found: Difference, document: str) -> str:
    """A difference to look at: light grey the same, green and heavy what is added, red and dashed what is gone."""
    root = ElementTree.fromstring(document)
    looks = (("#c9c9c9", "0.7", ""), ("#b3261e", "1.6", ' stroke-dasharray="5 3"'), ("#0a7d32", "2.2", ""))
    body = "\n".join(
        f'<g fill="none" stroke="{colour}" stroke-width="{width}"{dashes}>'
        + "".join(_shown(p, colour) for p in several)
        + "</g>"
        for (colour, width, dashes), several in zip(looks, found, strict=True)
    )
    wide, tall = float(root.get("width", 0)), float(root.get("height", 0))
    said = f"{len(found.gone)} gone (red, dashed), {len(found.added)} added (green, heavy)"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{tall + 24}" font-family="sans-serif">'
        f'<rect width="100%" height="100%" fill="#ffffff"/>\n{body}\n'
        f'<text x="12" y="{tall + 14}" font-size="14">{said}</text></svg>\n'
    )


def write() -> None:
    """Write every golden drawing anew, and say which of them have changed."""
    FOLDER.mkdir(exist_ok=True)
    for style, kind in names():
        path, document = file(style, kind), drawn(style, kind)
        before = path.read_text("utf-8") if path.exists() else ""
        new = "new" if not before else "changed" if before != document else "as it was"
        path.write_text(document, "utf-8")
        print(f"{path.name}: {new}")
    known = {file(*name) for name in names()}
    for path in FOLDER.glob("*.svg"):
        if path not in known:
            path.unlink()
            print(f"{path.name}: gone")


@cache
def _planned(style: str):
    house, _ = read_house(demo_house())
    return plan(house, Intent(style=style), read_stock(demo_house(), house.unit))


def _room(style: str, kind: str) -> str:
    """The room of a kind: the best is that of the highest tier, then of the most importance."""
    rooms = _planned(style).rooms
    if kind == "best room":
        return max(rooms, key=lambda r: (r.tier, r.importance, r.room.name)).room.name
    return next(r.room.name for r in rooms if kind in r.room.name.lower())


def _nodes(node: ElementTree.Element, about: Place = (0.0, 0.0)) -> Iterator[tuple[ElementTree.Element, Place]]:
    """A node and all within it, each with the place on the page that it is written about; texts stand on the page."""
    moved = re.fullmatch(r"translate\((\S+) (\S+)\)", node.get("transform", ""))
    if moved:
        about = (about[0] + float(moved[1]), about[1] + float(moved[2]))
    yield node, about
    for inner in node:
        yield from _nodes(inner, about)


def _of_path(node: ElementTree.Element, about: Place) -> Iterator[Primitive]:
    """The lines and arcs that a path is drawn with, and the outlines that it fills."""
    classes = node.get("class", "").split()
    stroke, fill = ([c for c in classes if c.startswith(letter)] for letter in ("l-", "f-"))
    for steps in _runs(node.get("d", ""), about):
        if fill and len(steps) > 1:
            corners = sorted({p for step in steps for p in step[:2]})
            yield Primitive("fill", fill[0], tuple(c for p in corners for c in p))
        for a, b, bend in steps if stroke else ():
            yield Primitive("arc" if bend else "line", stroke[0], (*min(a, b), *max(a, b), *bend[:3]))


Step = tuple[Place, Place, tuple[float, ...]]
"""A step of a path: from where to where, and for an arc its half axes, turn, and flags."""


def _runs(track: str, about: Place) -> Iterator[list[Step]]:
    """The runs of a path's d attribute, which is written about a place."""
    dx, dy = about
    steps: list[Step] = []
    words = [(letter, number) for letter, number in _TOKEN.findall(track)]
    at = start = (0.0, 0.0)
    i, command = 0, ""
    while i < len(words):
        if words[i][0]:
            command, i = words[i][0], i + 1
        if command == "M" and steps:
            yield steps
            steps = []
        count = {"M": 2, "L": 2, "H": 1, "V": 1, "A": 7, "Z": 0}[command]
        numbers = [float(number) for _, number in words[i : i + count]]
        i += count
        if command == "Z":
            to, bend = start, ()
        elif command in "HV":
            to, bend = ((numbers[0] + dx, at[1]) if command == "H" else (at[0], numbers[0] + dy)), ()
        else:
            to, bend = (numbers[-2] + dx, numbers[-1] + dy), tuple(numbers[:-2])
        if command == "M":
            start = to
        elif to != at:
            steps.append((at, to, bend))
        at = to
    if steps:
        yield steps


def _alike(one: Primitive, other: Primitive, tolerance: float) -> bool:
    return (
        one[:2] == other[:2]
        and len(one.at) == len(other.at)
        and all(abs(a - b) <= tolerance for a, b in zip(one.at, other.at, strict=True))
    )


def _shown(p: Primitive, colour: str) -> str:
    if p.kind == "text":
        x, y, size, *turn = p.at
        turned = f' transform="rotate({turn[0]} {x} {y})"' if turn else ""
        words, anchor = escape(p.look.split("|", 3)[3]), p.look.split("|")[1]
        return (
            f'<text x="{x}" y="{y}" font-size="{size}" text-anchor="{anchor}" fill="{colour}" stroke="none"{turned}>'
            f"{words}</text>"
        )
    if p.kind == "fill":
        xs, ys = p.at[::2], p.at[1::2]
        box = f'x="{min(xs)}" y="{min(ys)}" width="{max(xs) - min(xs)}" height="{max(ys) - min(ys)}"'
        return f'<rect {box} fill="{colour}" fill-opacity="0.05" stroke="none"/>'
    x0, y0, x1, y1 = p.at[:4]
    return f'<path d="M{x0} {y0}L{x1} {y1}"/>'


if __name__ == "__main__":
    sys.exit(write())
