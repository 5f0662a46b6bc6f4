"""What stands round an opening: casing, ears, plinth blocks, stool, apron, what crowns it. All lengths are inches."""

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Literal, NamedTuple

from planner.library import Library
from planner.trim.packages import Element, Package
from planner.values import Kept
from planner.walls import casings, chimneypieces, crossettes, heads, leaves
from planner.walls.casings import Frame
from planner.walls.leaves import Pane
from planner.walls.parts import Part, Side
from planner.walls.solids import TOUCH, Solid

DOORS = ("door", "double door", "pocket door")
"""Kinds of opening that have leaves."""

CASED = (*DOORS, "cased opening")
"""Kinds of opening that have a casing with legs, head and whatever a tier sets upon it."""

UNCASED = ("open", "stair")
"""Kinds of opening that have no casing: the trim of the wall stops or turns at their edges."""

LET_IN_BLOCK = "let-in block"
"""The form of a crossette that is made by a block behind the leg."""

BROKEN = "broken outer moulding"
"""The form of a crossette of which only the outer moulding goes round the ear; of any other all that is mitred does."""

TURNED = frozenset({"rosettes", "bull's-eyes"})
"""Enrichments that are turned or carved on corner blocks."""

AT_THE_RAIL = 1 / 16
"""A window whose sill is nearer than this to the top of a wainscot's rail [in] has the rail for its stool."""


class Aperture(NamedTuple):
    """An opening where it stands on a wall, seen from inside the room.

    `x0` and `x1` are its jambs from the wall's left end, `y0` its sill (0 for a door), `y1` its head [in]; `other` is
    the room beyond, "outside" or ""; `leaf` and `lights` are what the house says of what hangs in it, else "".
    """

    name: str
    kind: str
    x0: float
    x1: float
    y0: float
    y1: float
    other: str = ""
    leaf: str = ""
    lights: str = ""

    @property
    def is_open(self) -> bool:
        """Whether it has a width and a height above the floor."""
        return self.x1 > self.x0 and self.y1 > max(self.y0, 0.0)


@dataclass(frozen=True)
class Surround(Kept):
    """What stands round one opening, as solids on the wall, and what hangs in it."""

    aperture: Aperture
    solids: tuple[Solid, ...]
    filling: tuple[Pane, ...] = ()

    __hash__ = Kept.__hash__

    @cached_property
    def top(self) -> float:
        """Upper edge of whatever stands highest [in]."""
        return max([self.aperture.y1, *(s.y1 for s in self.solids)])

    @cached_property
    def bottom(self) -> float:
        """Lower edge of whatever hangs lowest [in]."""
        return min([self.aperture.y0, *(s.y0 for s in self.solids)])

    @cached_property
    def left(self) -> float:
        """Outermost edge on the left [in]."""
        return min([self.aperture.x0, *(s.x0 for s in self.solids)])

    @cached_property
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


def crowning_of(kind: str, package: Package) -> Element | None:
    """What stands on the head of a kind of opening: an overdoor, over a window its share of it."""
    if kind == "window":
        return package.element("window head")
    return package.element("overdoor") if kind in CASED else None


def surround(opening: Aperture, package: Package, library: Library, rail_top: float | None = None) -> Surround:
    """What stands round an opening in a room of a package.

    Parameters
    ----------
    opening : where it stands on the wall.
    package : the room's trim; its period sets joints and plinth blocks.
    library : what the trade knows.
    rail_top : top of the rail on the room's walls above the floor, None where there is none. [in]

    Returns
    -------
    A surround; without solids where the tier cases no such opening, or where the opening has no width or height.
    """
    if not opening.is_open:
        return Surround(opening, ())
    package = package.at(opening.name)
    casing = casing_of(opening.kind, package)
    solids = _round(opening, package, library, casing, rail_top) if casing is not None else ()
    return Surround(opening, solids, filling(opening, package, library))


def hung(a: Aperture, package: Package) -> str:
    """What hangs in an opening, as the house says it, else as the room's tier has it: the kind of a door's leaf, or the
    lights of a window's upper and lower sash; "" for nothing."""
    if a.kind in DOORS:
        leaf = package.element("door leaf")
        return a.leaf or (leaf.form if leaf is not None else "")
    if a.kind != "window" or a.lights:
        return a.lights
    sash = package.element("sash")
    lights = sash.form if sash is not None else "1/1"
    # What is wider than high is no pair of hung sashes.
    return lights.partition("/")[0] if a.x1 - a.x0 >= a.y1 - a.y0 else lights


def filling(a: Aperture, package: Package, library: Library) -> tuple[Pane, ...]:
    """The leaves and sashes that hang in an opening."""
    edges, name = (a.y0, a.y1), hung(a, package)
    if a.kind in DOORS:
        half = (a.x0 + a.x1) / 2
        pairs = [(a.x0, a.x1)] if a.kind == "door" else [(a.x0, half), (half, a.x1)]
        return tuple(pane for x0, x1 in pairs for pane in leaves.leaf(x0, x1, *edges, name, library))
    if a.kind != "window":
        return ()
    return tuple(leaves.sashes(a.x0, a.x1, *edges, library.lights_of(name) or ()))


def _round(
    a: Aperture, package: Package, library: Library, casing: Element, rail_top: float | None
) -> tuple[Solid, ...]:
    """What stands round an opening that is cased, by its kind."""
    if a.kind == "window":
        return _window(a, package, library, casing, rail_top)
    if a.kind == "fireplace":
        clear = library.surrounds.hearth.clear
        frame = _frame(a, casing, package.element("backband"), 0.0, clear)
        return chimneypieces.chimneypiece(frame, joint(package, library, a.kind), package, library)
    return _doorway(a, package, library, casing)


def reach_above(opening: Aperture, package: Package, library: Library, crowned: bool = True) -> float:
    """Upper edge of what stands round an opening [in], with or without what crowns its head; found without laying it
    out. What is set on a chimney breast above the shelf keeps below the crown by itself and is not counted."""
    return _reach_above(opening.kind, opening.y1, package.at(opening.name), library, crowned)


@lru_cache(maxsize=1024)
def _reach_above(kind: str, head: float, package: Package, library: Library, crowned: bool) -> float:
    """As `reach_above`, by the height of the opening's head [in]; kept, as a house has few of them."""
    casing, rules = casing_of(kind, package), library.surrounds
    if casing is None:
        return head
    if kind == "fireplace":
        mantel = head + rules.hearth.clear + chimneypieces.surround_height(casing, package, library)
        return mantel + chimneypieces.height_above(package)
    top = _head_top(kind, head, casing, package, library)
    crowning = _crowning(kind, head, casing, package, library) if crowned else None
    if crowning is None:
        return top
    past = casings.past_casing(casing.size, _block(crowning))[1]
    return top + past + sum(height for _, height in crowning.parts)


def joint(package: Package, library: Library, kind: str = "door") -> Literal["mitred", "butted", "blocked corners"]:
    """How legs and head of a kind of opening meet: as what crowns it asks, else as the period has it."""
    over = crowning_of(kind, package)
    asked = (row.joint for row in library.surrounds.joints if over is not None and row.overdoor == over.form)
    return next(asked, library.style(package.style).casing.joint)


def _head_top(kind: str, head: float, casing: Element, package: Package, library: Library) -> float:
    """Upper edge of the head casing of an opening whose head is so high above the floor [in]."""
    higher = library.surrounds.butted_head.higher if joint(package, library, kind) == "butted" else 0.0
    return head + library.surrounds.reveal.inches + casing.size + higher


def _crowning(kind: str, head: float, casing: Element, package: Package, library: Library) -> Element | None:
    """What crowns an opening; a window whose head [in] comes too near to the crown goes without parts upon it."""
    over, crown = crowning_of(kind, package), package.element("crown")
    if over is None or crown is None or kind != "window" or not over.parts:
        return over
    top = _head_top(kind, head, casing, package, library) + sum(height for _, height in over.parts)
    return over if top + library.surrounds.apart.inches <= package.ceiling - crown.size else None


def _doorway(a: Aperture, package: Package, library: Library, casing: Element) -> tuple[Solid, ...]:
    """Plinth blocks, legs and head with their ears, and what crowns them."""
    reveal = library.surrounds.reveal.inches
    x0, x1, head = a.x0 - reveal, a.x1 + reveal, a.y1 + reveal
    plinth = package.element("plinth block")
    solids: tuple[Solid, ...] = ()
    foot = 0.0
    if plinth is not None and plinth.size < head:
        foot, rule = plinth.size, library.style(package.style).plinth
        out = casing.size + (rule.proud if rule is not None else 0.0)
        block = Solid(Part.PLINTH_BLOCK, "plinth block", x0 - out, x0, 0.0, foot, plinth.projection, Side.LEFT)
        block = block._replace(opening=a.name, decorated=rule is not None and rule.decorated)
        solids = (block, block._replace(x0=x1, x1=x1 + out, side=Side.RIGHT))
    return solids + _cased(a, package, library, casing, foot)


def _window(
    a: Aperture, package: Package, library: Library, casing: Element, rail_top: float | None
) -> tuple[Solid, ...]:
    """Legs and head that stand on the stool, and the apron under it.

    In a wainscoted room there is no apron, and where the rail's top is at the sill, the rail is the stool.
    """
    reveal, horn = library.surrounds.reveal.inches, library.surrounds.stool.horn
    left, right = a.x0 - reveal - casing.size, a.x1 + reveal + casing.size
    solids: tuple[Solid, ...] = ()
    stool, apron, base = (package.element(e) for e in ("stool", "apron", "base"))
    wainscoted = package.element("wainscot") is not None
    capped = wainscoted and rail_top is not None and abs(a.y0 - rail_top) < AT_THE_RAIL
    # A window down to the floor is cased like a door.
    if stool is not None and a.y0 >= stool.size and not capped:
        under, ends = a.y0 - stool.size, (left - horn, right + horn)
        solids += (Solid(Part.STOOL, "stool", *ends, under, a.y0, stool.projection, opening=a.name),)
        if not wainscoted and apron is not None and under - apron.size >= (base.size if base is not None else 0.0):
            foot = under - apron.size
            solids += (Solid(Part.APRON, "apron", left, right, foot, under, apron.projection, opening=a.name),)
    return solids + _cased(a, package, library, casing, a.y0)


def _cased(a: Aperture, package: Package, library: Library, casing: Element, foot: float) -> tuple[Solid, ...]:
    """Legs and head of a door or a window that stand at `foot`, and what crowns them."""
    solids = _legs_and_head(a, package, library, casing, foot)
    over = _crowning(a.kind, a.y1, casing, package, library)
    if over is None or not over.parts:
        return solids
    top = _head_top(a.kind, a.y1, casing, package, library)
    under = [s for s in solids if s.y1 > top - TOUCH]
    ends = min(s.x0 for s in under), max(s.x1 for s in under)
    return solids + heads.crowned(over, casing, ends, top, a.name)


def _legs_and_head(a: Aperture, package: Package, library: Library, casing: Element, foot: float) -> tuple[Solid, ...]:
    """Legs and head, joined as the period and what crowns them ask, with their ears."""
    reveal, rules = library.surrounds.reveal.inches, library.surrounds
    bare, banded = (_frame(a, casing, band, foot, reveal) for band in (None, package.element("backband")))
    match joint(package, library, a.kind):
        case "butted":
            return casings.butted(bare, rules.butted_head)
        case "blocked corners":
            over = crowning_of(a.kind, package)
            return casings.blocked_corners(
                bare, _block(over), over.element if over is not None else "casing", turned(over)
            )
    ears = package.element("crossette")
    if ears is None:
        return casings.plain(banded)
    door = package.element("casing") or casing
    asked = ears.size * min(casing.size / door.size, 1.0)
    plain, face = bare if ears.form == LET_IN_BLOCK else banded, casing.ground + casing.thickness
    solids, frame = _eared(a, plain, ears.form, asked, face, library)
    return solids + (crossettes.rosettes(frame) if "rosettes" in ears.enrichments else ())


def _eared(
    a: Aperture, plain: Frame, form: str, kick: float, face: float, library: Library
) -> tuple[tuple[Solid, ...], Frame]:
    """Legs and head with ears of a form that stand out by about `kick` [in], and their frame; without ears where there
    is no room for them.

    Where no ear of the whole moulding drops little enough, only the outer moulding breaks. `face` is how far the casing
    beside the opening stands off the wall [in].
    """
    rule, frame = library.surrounds.crossette, plain
    if form == BROKEN or (form != LET_IN_BLOCK and 2 * frame.mitred >= rule.drop_most):
        frame = crossettes.outer_moulding(frame, face, rule)
    drop = max(crossettes.drop(a.x1 - a.x0, frame.mitred, rule), frame.width)
    if not 2 * frame.mitred < drop < frame.top - frame.y0:
        return casings.plain(plain), plain
    frame = replace(frame, kick=crossettes.kick(kick, rule), drop=drop)
    return (crossettes.kicked(frame, rule.lap) if form == LET_IN_BLOCK else crossettes.eared(frame)), frame


def turned(blocks: Element | None) -> bool:
    """Whether corner blocks have a turned or a carved face."""
    return blocks is not None and not TURNED.isdisjoint(blocks.enrichments)


def _block(crowning: Element | None) -> float:
    """How wide corner blocks are [in], 0 where what crowns the opening is none or is built up of parts."""
    return crowning.size if crowning is not None and not crowning.parts else 0.0


def _frame(a: Aperture, casing: Element, backband: Element | None, foot: float, reveal: float) -> Frame:
    """The casing of an opening from `foot` up, with a backband or none; it stands back from the jambs by `reveal`."""
    return Frame(
        a.x0 - reveal,
        a.x1 + reveal,
        foot,
        a.y1 + reveal,
        casing.size,
        band=min(_band(casing, backband), casing.size) if backband is not None else 0.0,
        face=casing.projection if backband is None else casing.ground + casing.thickness,
        band_face=max(backband.projection, casing.projection) if backband is not None else 0.0,
        opening=a.name,
    )


def _band(casing: Element, backband: Element) -> float:
    """Width of the backband round a casing [in]: of the one that its stock has, which at windows is not the doors'."""
    own = (p.profile.height for p in casing.assembly.pieces if p.part == "backband") if casing.assembly else ()
    return next(iter(own), backband.size)
