"""What stands round an opening: casing, ears, plinth blocks, stool and apron, overdoor. All lengths are inches."""

from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from planner.library import Library
from planner.trim.packages import Element, Package
from planner.walls import casings, crossettes
from planner.walls.casings import Frame
from planner.walls.parts import Part, Side
from planner.walls.solids import Solid

DOORS = ("door", "double door", "pocket door")
"""Kinds of opening that have leaves."""

CASED = (*DOORS, "cased opening")
"""Kinds of opening that have a casing with legs, head and whatever a tier sets upon it."""

UNCASED = ("open", "stair")
"""Kinds of opening that have no casing: the trim of the wall stops or turns at their edges."""

LET_IN_BLOCK = "let-in block"
"""The form of a crossette that is made by a block behind the leg; any other is mitred round its ear."""

REACH = 0.5
"""The least that the top of an overdoor reaches out sideways [in], common practice."""

FILLET = 3
"""By how many times that is more than a fillet under it reaches out; common practice."""


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
    """What stands round one opening, as solids on the wall."""

    aperture: Aperture
    solids: tuple[Solid, ...]

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


def surround(opening: Aperture, package: Package, library: Library) -> Surround:
    """What stands round an opening in a room of a package.

    Parameters
    ----------
    opening : where it stands on the wall.
    package : the room's trim; its period sets joints and plinth blocks.
    library : what the trade knows.

    Returns
    -------
    A surround; without solids where the tier cases no such opening, or where the opening has no width or height.
    """
    package = package.at(opening.name)
    casing = casing_of(opening.kind, package)
    if casing is None or not opening.is_open:
        return Surround(opening, ())
    if opening.kind == "window":
        return Surround(opening, _window(opening, package, library, casing))
    if opening.kind == "fireplace":
        return Surround(opening, _chimneypiece(opening, library, casing))
    return Surround(opening, _doorway(opening, package, library, casing))


def reach_above(opening: Aperture, package: Package, library: Library, overdoor: bool = True) -> float:
    """Upper edge of what stands round an opening [in], with or without its overdoor; found without laying it out."""
    package = package.at(opening.name)
    casing, rules = casing_of(opening.kind, package), library.surrounds
    if casing is None:
        return opening.y1
    if opening.kind == "fireplace":
        return opening.y1 + rules.hearth.clear + casing.size + rules.hearth.shelf
    top = opening.y1 + rules.reveal.inches + casing.size
    crowned = package.element("overdoor") if overdoor and opening.kind in CASED else None
    if crowned is None:
        return top
    past = casings.past_casing(casing.size, _block(crowned))[1]
    return top + past + sum(height for _, height in crowned.parts)


def joint(package: Package, library: Library, overdoor: bool = True) -> Literal["mitred", "butted", "blocked corners"]:
    """How legs and head of a package meet: as its overdoor asks, where there is one, else as its period has it."""
    over = package.element("overdoor") if overdoor else None
    asked = (row.joint for row in library.surrounds.joints if over is not None and row.overdoor == over.form)
    return next(asked, library.style(package.style).casing.joint)


def _doorway(a: Aperture, package: Package, library: Library, casing: Element) -> tuple[Solid, ...]:
    """Plinth blocks, legs and head with their ears, and the overdoor."""
    reveal = library.surrounds.reveal.inches
    x0, x1, head = a.x0 - reveal, a.x1 + reveal, a.y1 + reveal
    plinth, overdoor = package.element("plinth block"), package.element("overdoor")
    solids: tuple[Solid, ...] = ()
    foot = 0.0
    if plinth is not None and plinth.size < head:
        foot, rule = plinth.size, library.style(package.style).plinth
        out = casing.size + (rule.proud if rule is not None else 0.0)
        block = Solid(Part.PLINTH_BLOCK, "plinth block", x0 - out, x0, 0.0, foot, plinth.projection, Side.LEFT)
        block = block._replace(opening=a.name, decorated=rule is not None and rule.decorated)
        solids = (block, block._replace(x0=x1, x1=x1 + out, side=Side.RIGHT))
    cased, kick = _cased(a, package, library, casing, foot)
    solids += cased
    if overdoor is not None and overdoor.parts:
        left, right = x0 - casing.size - kick, x1 + casing.size + kick
        solids += _overdoor(overdoor, casing, left, right, head + casing.size, a.name)
    return solids


def _window(a: Aperture, package: Package, library: Library, casing: Element) -> tuple[Solid, ...]:
    """Legs and head that stand on the stool, and the apron under it."""
    reveal, horn = library.surrounds.reveal.inches, library.surrounds.stool.horn
    left, right = a.x0 - reveal - casing.size, a.x1 + reveal + casing.size
    solids: tuple[Solid, ...] = ()
    stool, apron, base = (package.element(e) for e in ("stool", "apron", "base"))
    # A window down to the floor is cased like a door.
    if stool is not None and a.y0 >= stool.size:
        under, ends = a.y0 - stool.size, (left - horn, right + horn)
        solids += (Solid(Part.STOOL, "stool", *ends, under, a.y0, stool.projection, opening=a.name),)
        if apron is not None and under - apron.size >= (base.size if base is not None else 0.0):
            foot = under - apron.size
            solids += (Solid(Part.APRON, "apron", left, right, foot, under, apron.projection, opening=a.name),)
    return solids + _cased(a, package, library, casing, a.y0)[0]


def _chimneypiece(a: Aperture, library: Library, casing: Element) -> tuple[Solid, ...]:
    """A plain chimneypiece: architrave outside the masonry slips, and a shelf."""
    rule = library.surrounds.hearth
    frame = Frame(
        a.x0 - rule.clear,
        a.x1 + rule.clear,
        0.0,
        a.y1 + rule.clear,
        casing.size,
        face=casing.projection,
        opening=a.name,
    )
    left = frame.x0 - casing.size - rule.shelf_overhang
    right = frame.x1 + casing.size + rule.shelf_overhang
    top = frame.top + rule.shelf
    shelf = Solid(Part.MANTEL_SHELF, "shelf", left, right, frame.top, top, rule.shelf_projection, opening=a.name)
    return (*casings.plain(frame), shelf)


def _cased(
    a: Aperture, package: Package, library: Library, casing: Element, foot: float
) -> tuple[tuple[Solid, ...], float]:
    """Legs and head of a door or a window that stand at `foot`, and how far their ears stand out [in]."""
    crowned = a.kind in CASED
    reveal, rule = library.surrounds.reveal.inches, library.surrounds.crossette
    bare, banded = (_frame(a, casing, band, foot, reveal) for band in (None, package.element("backband")))
    match joint(package, library, crowned):
        case "butted":
            return casings.butted(bare), 0.0
        case "blocked corners":
            return casings.blocked_corners(bare, _block(package.element("overdoor") if crowned else None)), 0.0
    ears = package.element("crossette") if crowned else None
    if ears is not None:
        by_block = ears.form == LET_IN_BLOCK
        frame = bare if by_block else banded
        drop = max(crossettes.drop(a.x1 - a.x0, frame.mitred, rule), frame.width)
        if drop < frame.top - frame.y0:
            frame = replace(frame, kick=crossettes.kick(ears.size, rule), drop=drop)
            return crossettes.kicked(frame, rule.lap) if by_block else crossettes.eared(frame), frame.kick
    return casings.plain(banded), 0.0


def _block(overdoor: Element | None) -> float:
    """How wide corner blocks are [in], 0 where the overdoor is none or is built up of parts."""
    return overdoor.size if overdoor is not None and not overdoor.parts else 0.0


def _frame(a: Aperture, casing: Element, backband: Element | None, foot: float, reveal: float) -> Frame:
    """The casing of an opening from `foot` up, with a backband or none; it stands back from the jambs by `reveal`."""
    return Frame(
        a.x0 - reveal,
        a.x1 + reveal,
        foot,
        a.y1 + reveal,
        casing.size,
        band=min(backband.size, casing.size) if backband is not None else 0.0,
        face=casing.projection if backband is None else casing.ground + casing.thickness,
        band_face=max(backband.projection, casing.projection) if backband is not None else 0.0,
        opening=a.name,
    )


def _overdoor(
    overdoor: Element, casing: Element, left: float, right: float, bottom: float, opening: str
) -> tuple[Solid, ...]:
    """The parts of an overdoor from the bottom up; each reaches out sideways as far as forward of the casing."""
    solids, y, last = [], bottom, len(overdoor.parts) - 1
    face = casing.ground + casing.thickness
    reach = max(REACH, overdoor.projection - face)
    for i, (part, height) in enumerate(overdoor.parts):
        out = reach if i == last else reach / FILLET if part == "fillet" else 0.0
        stands = overdoor.projection if i == last else face + out
        ends = (left - out, right + out)
        solids.append(Solid(Part.OVERDOOR, "overdoor", *ends, y, y + height, stands, form=part, opening=opening))
        y += height
    return tuple(solids)
