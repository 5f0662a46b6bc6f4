"""What stands round an opening: casing, ears, plinth blocks, stool and apron, overdoor. All lengths are inches."""

from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from planner.library import table
from planner.trim.packages import Element, Package
from planner.units import format_length
from planner.walls import crossettes
from planner.walls.crossettes import Frame, Piece
from planner.walls.solids import Solid, polygon

CASED = ("door", "double door", "pocket door", "cased opening")
"""Kinds of opening that have a casing with legs, head and whatever a tier sets upon it."""

UNCASED = ("open", "stair")
"""Kinds of opening that have no casing: the trim of the wall stops or turns at their edges."""


class Aperture(NamedTuple):
    """An opening where it stands on a wall, seen from inside the room.

    `x0` and `x1` are its jambs from the wall's left end, `y0` its sill (0 for a door), `y1` its head [in]; `other` is
    the room beyond, "outside" or "".
    """

    name: str
    kind: str
    x0: float
    x1: float
    y0: float
    y1: float
    other: str = ""

    @property
    def is_open(self) -> bool:
        """Whether it has a width and a height above the floor."""
        return self.x1 > self.x0 and self.y1 > max(self.y0, 0.0)


@dataclass(frozen=True)
class Surround:
    """What stands round one opening: the pieces of wood that a joiner cuts, and all of it as solids on the wall."""

    aperture: Aperture
    solids: tuple[Solid, ...]
    pieces: tuple[Piece, ...] = ()

    @property
    def top(self) -> float:
        """Upper edge of whatever stands highest [in]."""
        return max([self.aperture.y1, *(s.y1 for s in self.solids)])

    @property
    def bottom(self) -> float:
        """Lower edge of whatever hangs lowest [in]."""
        return min([self.aperture.y0, *(s.y0 for s in self.solids)])

    @property
    def left(self) -> float:
        """Outermost edge on the left [in]."""
        return min([self.aperture.x0, *(s.x0 for s in self.solids)])

    @property
    def right(self) -> float:
        """Outermost edge on the right [in]."""
        return max([self.aperture.x1, *(s.x1 for s in self.solids)])

    def span(self, y0: float, y1: float) -> tuple[float, float] | None:
        """From where to where it takes the wall between two heights [in]; None where it does not reach them."""
        a = self.aperture
        edges = [(s.x0, s.x1) for s in self.solids if s.y0 < y1 and y0 < s.y1]
        if a.y0 < y1 and y0 < a.y1:
            edges.append((a.x0, a.x1))
        return (min(x for x, _ in edges), max(x for _, x in edges)) if edges else None


def casing_of(kind: str, package: Package) -> Element | None:
    """The casing that goes round a kind of opening; a window takes the door's where the tier has none for windows."""
    if kind in UNCASED:
        return None
    door = package.element("casing")
    return (package.element("window casing") or door) if kind == "window" else door


def surround(opening: Aperture, package: Package, style: str) -> Surround:
    """What stands round an opening in a room of a package.

    Parameters
    ----------
    opening : where it stands on the wall.
    package : the room's trim.
    style : the period, which sets joints and plinth blocks.

    Returns
    -------
    A surround; without solids where the tier cases no such opening, or where the opening has no width or height.
    """
    casing = casing_of(opening.kind, package)
    if casing is None or not opening.is_open:
        return Surround(opening, ())
    if opening.kind == "window":
        return _window(opening, package, style, casing)
    if opening.kind == "fireplace":
        return _chimneypiece(opening, casing)
    return _doorway(opening, package, style, casing)


def reach_above(opening: Aperture, package: Package, overdoor: bool = True) -> float:
    """Upper edge of what stands round an opening [in], with or without its overdoor; found without laying it out."""
    casing, rules = casing_of(opening.kind, package), table("openings_trim")
    if casing is None:
        return opening.y1
    if opening.kind == "fireplace":
        return opening.y1 + rules["hearth"]["clear"] + casing.size + rules["hearth"]["shelf"]
    top = opening.y1 + rules["reveal"]["inches"] + casing.size
    crowned = package.element("overdoor") if overdoor and opening.kind in CASED else None
    return top + sum(height for _, height in crowned.parts) if crowned is not None else top


@cache
def plinth_rule(style: str) -> dict | None:
    """The row of library/openings_trim.toml on the plinth blocks of a style, or None."""
    return next((row for row in table("openings_trim")["plinth"] if row["style"] == style), None)


@cache
def joint(style: str, overdoor: str) -> str:
    """How legs and head meet: "mitred", "butted" or "blocked corners".

    >>> joint("georgian", "frieze and cornice"), joint("craftsman", ""), joint("victorian", "corner blocks")
    ('mitred', 'butted', 'blocked corners')
    """
    for row in table("openings_trim")["joint"]:
        if row.get("overdoor", overdoor) == overdoor and row.get("style", style) == style:
            return row["joint"]
    return "mitred"


def _doorway(a: Aperture, package: Package, style: str, casing: Element) -> Surround:
    """Plinth blocks, legs and head with their ears, and the overdoor."""
    reveal = table("openings_trim")["reveal"]["inches"]
    x0, x1, head = a.x0 - reveal, a.x1 + reveal, a.y1 + reveal
    solids, foot = [], 0.0
    plinth = package.element("plinth block")
    if plinth is not None and plinth.size < head:
        foot, rule = plinth.size, plinth_rule(style)
        width = casing.size + (rule["proud"] if rule else 0.0)
        solids = [
            Solid("left plinth block", "plinth block", x0 - width, x0, 0.0, foot, plinth.projection, opening=a.name),
            Solid("right plinth block", "plinth block", x1, x1 + width, 0.0, foot, plinth.projection, opening=a.name),
        ]
    overdoor = package.element("overdoor")
    pieces, kick = _cased(x0, x1, foot, head, a, package, style, casing, overdoor)
    solids += _solids(pieces, casing, package, a.name)
    if overdoor is not None and overdoor.parts:
        left, right = x0 - casing.size - kick, x1 + casing.size + kick
        solids += _overdoor(overdoor, casing, left, right, head + casing.size, a.name)
    return Surround(a, tuple(solids), pieces)


def _window(a: Aperture, package: Package, style: str, casing: Element) -> Surround:
    """Legs and head that stand on the stool, and the apron under it."""
    rules = table("openings_trim")
    reveal, horn = rules["reveal"]["inches"], rules["stool"]["horn"]
    x0, x1, head = a.x0 - reveal, a.x1 + reveal, a.y1 + reveal
    solids = []
    stool, apron = package.element("stool"), package.element("apron")
    # A window down to the floor is cased like a door.
    if stool is not None and a.y0 >= stool.size:
        left, right = x0 - casing.size - horn, x1 + casing.size + horn
        under = a.y0 - stool.size
        solids.append(Solid("stool", "stool", left, right, under, a.y0, stool.projection, opening=a.name))
        base = package.element("base")
        if apron is not None and under - apron.size >= (base.size if base is not None else 0.0):
            sides = (x0 - casing.size, x1 + casing.size)
            solids.append(Solid("apron", "apron", *sides, under - apron.size, under, apron.projection, opening=a.name))
    pieces, _ = _cased(x0, x1, a.y0, head, a, package, style, casing, None, ears=False)
    return Surround(a, (*solids, *_solids(pieces, casing, package, a.name)), pieces)


def _chimneypiece(a: Aperture, casing: Element) -> Surround:
    """A plain chimneypiece: architrave outside the masonry slips, and a shelf."""
    rule = table("openings_trim")["hearth"]
    frame = Frame(a.x0 - rule["clear"], a.x1 + rule["clear"], 0.0, a.y1 + rule["clear"], casing.size)
    pieces = crossettes.plain(frame)
    solids = [polygon(p.name, "chimneypiece", p.outline, casing.projection, a.name) for p in pieces]
    left = frame.x0 - casing.size - rule["shelf_overhang"]
    right = frame.x1 + casing.size + rule["shelf_overhang"]
    top = frame.top + rule["shelf"]
    shelf = Solid("mantel shelf", "shelf", left, right, frame.top, top, rule["shelf_projection"], opening=a.name)
    return Surround(a, (*solids, shelf), pieces)


def _cased(
    x0: float,
    x1: float,
    foot: float,
    head: float,
    a: Aperture,
    package: Package,
    style: str,
    casing: Element,
    overdoor: Element | None,
    ears: bool = True,
) -> tuple[tuple[Piece, ...], float]:
    """The pieces of a casing, and how far its ears stand out [in]."""
    how = joint(style, overdoor.form if overdoor else "")
    if how != "mitred":
        make = crossettes.butted if how == "butted" else crossettes.blocked_corners
        return make(Frame(x0, x1, foot, head, casing.size)), 0.0
    backband = package.element("backband")
    band = min(backband.size, casing.size) if backband is not None else 0.0
    asked = package.element("crossette") if ears else None
    if asked is not None:
        by_block = asked.form == "let-in block"
        kick, mitred = crossettes.kick(asked.size), casing.size if by_block else band or casing.size
        drop = crossettes.drop(a.x1 - a.x0, mitred)
        if max(drop, casing.size) < head + casing.size - foot:
            frame = Frame(x0, x1, foot, head, casing.size, 0.0 if by_block else band, kick, max(drop, casing.size))
            return (crossettes.kicked if by_block else crossettes.eared)(frame), kick
    return crossettes.plain(Frame(x0, x1, foot, head, casing.size, band)), 0.0


def _solids(pieces: tuple[Piece, ...], casing: Element, package: Package, opening: str) -> list[Solid]:
    """The pieces of a casing as solids with their projections."""
    backband = package.element("backband")
    banded = any(p.element == "backband" for p in pieces)
    flat = casing.thickness if banded else casing.projection
    stands = {"casing": flat, "ear": flat, "corner block": casing.projection + 0.25}
    stands["backband"] = max(backband.projection, casing.projection) if backband is not None else flat
    return [polygon(p.name, p.element, p.outline, stands[p.element], opening) for p in pieces]


def _overdoor(
    overdoor: Element, casing: Element, left: float, right: float, bottom: float, opening: str
) -> list[Solid]:
    """The parts of an overdoor from the bottom up; each reaches out sideways as far as forward of the casing."""
    solids, y, last = [], bottom, len(overdoor.parts) - 1
    reach = max(0.5, overdoor.projection - casing.thickness)
    for i, (part, height) in enumerate(overdoor.parts):
        out = reach if i == last else reach / 3 if part == "fillet" else 0.0
        stands = overdoor.projection if i == last else casing.thickness + out
        solids.append(
            Solid(f"overdoor {part}", "overdoor", left - out, right + out, y, y + height, stands, opening=opening)
        )
        y += height
    return solids


class Meeting(NamedTuple):
    """How the trim of two rooms meets in a passage.

    `head` is the line that both heads keep, `near_top` and `far_top` the upper edges of what stands on either face
    above the floor [in]; `words` says the rest, one sentence each.
    """

    head: float
    near_top: float
    far_top: float
    words: tuple[str, ...]


def meeting(opening: Aperture, near: Package, far: Package, near_style: str, far_style: str | None = None) -> Meeting:
    """How the heads line up on the two faces of a passage, and where the trim of each room stops.

    Parameters
    ----------
    opening : the passage; its head and width are the same on both faces.
    near, far : packages of the two rooms.
    near_style, far_style : periods of the two rooms, one where they share it.

    References
    ----------
    Common practice; rows in library/openings_trim.toml.
    """
    faces = [surround(opening, near, near_style), surround(opening, far, far_style or near_style)]
    row = next(row for row in table("openings_trim")["meeting"] if row["kind"] == opening.kind)
    head = opening.y1 + (table("openings_trim")["reveal"]["inches"] if opening.kind in CASED else 0.0)
    tops = [face.top for face in faces]
    words = [f"Both faces keep one head line, {format_length(head)} above the floor."]
    if opening.kind in CASED and abs(tops[0] - tops[1]) > 1 / 16:
        high, low = (near, far) if tops[0] > tops[1] else (far, near)
        words.append(
            f"Above it the trim of the {high.label} face is {format_length(max(tops) - head)} high, that of the "
            f"{low.label} face {format_length(min(tops) - head)}; nobody sees both faces at once."
        )
    under = all(opening.y1 <= p.ceiling - (p.element("crown").size if p.element("crown") else 0.0) for p in (near, far))
    stops = row.get("stops_under_crown", row["stops"]) if under else row["stops"]
    words += [_sentence(row["lining"]), _sentence(stops)]
    words += _rails(near, far)
    if near.ceiling != far.ceiling and opening.kind not in ("door", "stair"):
        words.append(
            f"The ceilings differ by {format_length(abs(near.ceiling - far.ceiling))}: each crown keeps to its own "
            "ceiling and returns on itself where the wall ends."
        )
    if row["share"] and near.tier != far.tier:
        words.append(f"The two rooms must share a tier: {near.label} and {far.label} cannot change in one space.")
    return Meeting(head, tops[0], tops[1], tuple(words))


def _rails(near: Package, far: Package) -> list[str]:
    """What is to say of chair rails that only one of two rooms has."""
    rails = [package.element("chair rail") for package in (near, far)]
    if (rails[0] is None) == (rails[1] is None):
        return []
    has, lacks = (near, far) if rails[0] is not None else (far, near)
    return [f"The chair rail of the {has.label} room stops at its casing; the {lacks.label} room has none."]


def _sentence(words: str) -> str:
    """Words as a sentence."""
    return f"{words[0].upper()}{words[1:]}."
