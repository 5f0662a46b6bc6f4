"""The key of a drawing: what is too small at its scale to be dimensioned has a letter, and the key its size. In inches.

What is measured is read off the solids of a wall, whatever they are.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import chain, product

from planner.drawings.scale import Scale
from planner.drawings.scene import Box, Path, Shape, Text, bounds, rectangle, text_width, wrapped
from planner.mouldings.curves import Line, Point
from planner.units import Unit, format_length, format_size
from planner.values import immutabledict
from planner.walls.fixtures import beside_flight
from planner.walls.layout import WallLayout
from planner.walls.parts import FLAT, PANELS, RAKED, RUNS, Part, Side, called
from planner.walls.solids import Solid
from planner.walls.stairs import along_rake

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Letters of a key; I and O are left out, as they read like figures (common practice)."""

CASING = frozenset({Part.LEG, Part.UPPER_LEG, Part.HEAD})
"""Parts of a casing that are one moulding."""

EARS = frozenset({Part.EAR, Part.BLOCK})
"""What kicks out, told by its kick and its drop."""

UNTOLD = frozenset({Part.EAR_RETURN, Part.UPRIGHT, Part.RETURN, *RUNS})
"""What is told with something else, or beside the string of heights."""

FIELDS = frozenset({*PANELS, Part.WALL_PANEL, Part.BOARD, Part.BEADED_BOARD, Part.PLAIN_WAINSCOT})
"""What fills a bay, told by its height; its width is in the string along the wall."""


@dataclass(frozen=True)
class Key:
    """What has a letter: each thing by what is said of it, and what runs along the walls, in words.

    `told` is everything on each wall that has a letter, with what is said of it; `names` what elements are called in
    the strings where not by their own names.
    """

    letters: Mapping[str, str]
    runs: tuple[str, ...]
    told: Mapping[WallLayout, Sequence[tuple[str, Solid]]]
    names: Mapping[str, str] = immutabledict()

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """What is written in the key."""
        return (*(f"{letter}  {said}" for said, letter in self.letters.items()), *self.runs)

    def of(self, layout: WallLayout) -> "Key":
        """What of the key one wall needs."""
        said = {words: self.letters[words] for words, _ in self.told[layout]}
        return Key(said, tuple(_running(layout)), {layout: self.told[layout]})


def key_of(layouts: Sequence[WallLayout]) -> Key:
    """The key of some walls: a letter for each thing on them that is of one kind and size, as they are met."""
    told = {layout: tuple(_told(layout)) for layout in layouts}
    said = dict.fromkeys(words for things in told.values() for words, _ in things)
    return Key(dict(zip(said, _letters(), strict=False)), tuple(_runs(layouts)), told)


def _runs(layouts: Sequence[WallLayout]) -> Iterator[str]:
    """What runs along some walls, with its rooms where it is not the same in all of them."""
    rooms: dict[str, dict[str, dict[str, None]]] = {}
    for layout in layouts:
        for words in _running(layout):
            name = words.partition(":")[0]
            rooms.setdefault(name, {}).setdefault(words, {})[layout.room] = None
    for alike in rooms.values():
        for words, where in alike.items():
            yield f"{words} ({', '.join(where)})" if len(alike) > 1 else words


def plain_key(layouts: Sequence[WallLayout], names: Mapping[str, str]) -> Key:
    """The key for those who know no trade: nothing has a letter, and elements have plain names."""
    return Key({}, (), dict.fromkeys(layouts, ()), names)


def widths(layout: WallLayout, key: Key) -> dict[tuple[float, float], str]:
    """The letters of what stands upright on a wall, by where it begins and ends [in]."""
    standing = ((said, s) for said, s in key.told[layout] if s.height > s.width and s.part not in FIELDS)
    return {(s.x0, s.x1): key.letters[said] for said, s in standing}


def tags(layout: WallLayout, key: Key, scale: Scale, names: Iterable[Shape] = ()) -> Iterator[Shape]:
    """A letter on or beside one of each thing that a wall shows, on a patch of paper, led to where it is too small;
    clear of `names` that stand there."""
    size = scale.type("small")
    taken: list[Box] = [bounds((name,)) for name in names]
    for said, solids in _alike(key.told[layout]).items():
        letter = key.letters[said]
        half = text_width(letter, size) / 2 + 0.15 * size
        places = chain(*(_within(s, half, size) for s in solids), *(_beside(s, half, size) for s in solids))
        free = (place for place in places if _is_free(place, half, size, taken, layout))
        (x, y), foot = next(free, None) or next(iter(_beside(solids[0], half, size)))
        taken.append(box := _box((x, y), half, size))
        if foot is not None:
            taken.append(_led((x, y), foot))
            yield Path((Line((x, y), foot),), "dimension")
        yield rectangle(box[0], box[1], 2 * half, box[3] - box[1], "fine", "paper", line=False)
        yield Text(x, y - 0.3 * size, letter, size, "middle", bold=True)


def written(key: Key, x: float, y: float, width: float, scale: Scale) -> list[Shape]:
    """The key from its upper left corner, in as many columns as its width allows [in]."""
    size = scale.type("small")
    if not key.lines:
        return []
    widest = max(text_width(line, size) for line in key.lines)
    columns = max(1, int((width + 2 * size) / (widest + 2 * size)))
    lines = [part for line in key.lines for part in (wrapped(line, width, size) if columns == 1 else [line])]
    rows = -(-len(lines) // columns)
    pitch = (width + 2 * size) / columns
    return [Text(x + n // rows * pitch, y - (n % rows + 0.8) * 1.35 * size, line, size) for n, line in enumerate(lines)]


def _told(layout: WallLayout) -> Iterator[tuple[str, Solid]]:
    """Everything on a wall that has a place in a key, with what is said of it; wainscot that rakes with its stair is
    that of the level wall, between a skirt and a rail that are told."""
    for solid in layout.solids:
        if solid.part not in UNTOLD and not (solid.element == "wainscot" and solid.outline):
            yield _said(solid, layout), solid


def _said(s: Solid, layout: WallLayout) -> str:
    """What is said of a thing: its name, what is seen of it from the room, and how far it stands off the wall."""
    unit = layout.unit
    if s.part in RAKED:
        long, wide = along_rake(s)
        off = f"{format_size(s.projection, unit)} off the wall"
        return f"{_name(s)} {format_size(wide, unit)} wide, {format_length(long, unit)} up the rake, {off}"
    if s.part in EARS:
        return _words("{}: kick {}, drop {}", _name(s), s.width, _drop(s, layout), unit)
    if s.part in FIELDS:
        return _words("{} {} high", _name(s), s.height, 0.0, unit)
    if s.part in FLAT:
        return _words("{} {} thick, {} off the wall", _name(s), s.height, s.projection, unit)
    return _words("{} {}, {} off the wall", _name(s), min(s.width, s.height), s.projection, unit)


@lru_cache(maxsize=4096)
def _words(form: str, name: str, one: float, other: float, unit: Unit) -> str:
    return form.format(name, format_size(one, unit), format_size(other, unit))


def _name(s: Solid) -> str:
    """A thing's name without the side that it stands on."""
    if s.part in CASING:
        return s.element
    return f"{s.element} block" if s.part is Part.BLOCK else called(s.part, form=s.form, element=s.element)


def _drop(s: Solid, layout: WallLayout) -> float:
    """From the top of the head down to the underside of the ears of an opening [in]."""
    head = [o.y1 for o in layout.solids if o.opening == s.opening and o.part is Part.HEAD]
    around = (Part.UPRIGHT, Part.UPPER_LEG)
    ears = [o.y0 for o in layout.solids if o.opening == s.opening and o.part in around]
    return max(head, default=s.y1) - min(ears, default=s.y0)


def _running(layout: WallLayout) -> Iterator[str]:
    """What runs along a wall: how high it is and how far it reaches; a cornice drops and reaches. Then what stands
    before it."""
    unit = layout.unit
    for element in layout.package.elements:
        if element.element not in RUNS:
            continue
        placed = layout.sections.get(element.element, ())
        reach = max((p.reach for p in placed), default=element.projection)
        how = ("drop", "reach") if element.element == "crown" else ("height", "reach")
        yield f"{element.element}: {how[0]} {format_size(element.size, unit)}, {how[1]} {format_size(reach, unit)}"
    for flight in (up.flight for up in layout.stairs):
        steps = f"{flight.risers} risers of {format_size(flight.rise, unit)}, run {format_size(flight.run, unit)}"
        place = f"first riser {format_length(flight.offset, unit)} from the left end, up to the {flight.up}"
        place += f" from a landing {format_length(flight.foot, unit)} up" if flight.foot else ""
        yield f"{flight.name}: {place}, {steps}, rake {flight.angle:.1f}°"
    for o in (o for o in layout.obstacles if not o.turned):
        f, above = o.fixture, "up" if beside_flight(o, layout.stairs) is None else "above the nosings"
        place = f"{format_length(f.offset, unit)} from the left end, {format_length(f.width, unit)} wide"
        bottom, top, depth = (format_length(length, unit) for length in (f.bottom, f.top, f.depth))
        yield f"{f.name}: {place}, {bottom} to {top} {above}, {depth} deep"


def _alike(told: Iterable[tuple[str, Solid]]) -> dict[str, list[Solid]]:
    """The things on a wall that have one letter, the largest of them first."""
    found: dict[str, list[Solid]] = {}
    for said, solid in told:
        found.setdefault(said, []).append(solid)
    return {said: sorted(solids, key=lambda s: -s.width * s.height)[:3] for said, solids in found.items()}


def _letters() -> Iterator[str]:
    """A, B, … Z, AA, AB, …"""
    yield from LETTERS
    yield from map("".join, product(LETTERS, repeat=2))


Place = tuple[Point, Point | None]
"""Where a letter stands, and the point that it is led to, None where it stands on what it names [in]."""


def _within(s: Solid, half: float, size: float) -> Iterable[Place]:
    """Places on a thing itself, for a letter half so wide [in]; none where the letter would cover it."""
    if s.width < 2 * half + 0.3 * size or s.height < 1.5 * size or s.part in EARS | RAKED:
        return ()
    if s.height > s.width:
        return [(((s.x0 + s.x1) / 2, s.y0 + s.height * part), None) for part in (0.5, 0.35, 0.65, 0.2, 0.8)]
    return [((s.x0 + s.width * part, (s.y0 + s.y1) / 2), None) for part in (0.5, 0.3, 0.7, 0.15, 0.85)]


def _beside(s: Solid, half: float, size: float) -> Iterable[Place]:
    """Places beside a thing, nearer ones first: away from its opening, or else over it, then on the other side."""
    if s.part in RAKED:
        (ax, ay), (bx, by) = s.outline[0], s.outline[-1]
        for part, off in product((0.5, 0.35, 0.65, 0.2, 0.8), (1.3, -1.6)):
            x, y = ax + (bx - ax) * part, ay + (by - ay) * part
            yield (x, y + off * size), (x, y)
        return
    tall = s.height > s.width
    first = 1 if (tall and s.side is Side.RIGHT) or not tall else -1
    for side, off, part in product((first, -first), (1.1, 2.0, 3.0), (0.5, 0.3, 0.7, 0.15)):
        x, y = s.x0 + s.width * part, s.y0 + s.height * part
        if tall:
            edge = s.x1 if side > 0 else s.x0
            yield (edge + side * (off * size + half), y), ((s.x0 + s.x1) / 2, y)
        else:
            yield (x, (s.y1 if side > 0 else s.y0) + side * off * size), (x, (s.y0 + s.y1) / 2)


def _box(at: Point, half: float, size: float) -> Box:
    x, y = at
    return Box(x - half, y - 0.6 * size, x + half, y + 0.6 * size)


def _led(at: Point, foot: Point) -> Box:
    """What a leader takes."""
    return Box(min(at[0], foot[0]), min(at[1], foot[1]), max(at[0], foot[0]), max(at[1], foot[1]))


def _is_free(place: Place, half: float, size: float, taken: Sequence[Box], layout: WallLayout) -> bool:
    """Whether a letter and its leader lie on the wall and clear of what is taken."""
    at, foot = place
    x0, y0, x1, y1 = _box(at, half, size)
    if x0 < 0 or y0 < 0 or x1 > layout.length or y1 > layout.ceiling:
        return False
    if foot is not None:
        a0, b0, a1, b1 = _led(at, foot)
        if any(a0 < right and left < a1 and b0 < top and low < b1 for left, low, right, top in taken):
            return False
    return not any(x0 < right and left < x1 and y0 < top and low < y1 for left, low, right, top in taken)
