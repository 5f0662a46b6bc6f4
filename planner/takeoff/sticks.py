"""What is cut: one length of one profile, with its ends and its place. All lengths are inches."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import radians, tan

from planner.takeoff.allowances import Allowances
from planner.takeoff.ends import End, end_of
from planner.takeoff.layers import Layer
from planner.takeoff.saw import Setting, Settings, settings_of
from planner.takeoff.splices import Run, Shunned, joints
from planner.units import format_length
from planner.walls.cuts import Cut, Joint
from planner.walls.layout import WallLayout
from planner.walls.parts import BEHIND
from planner.walls.piece import Place


@dataclass(frozen=True)
class Stick:
    """One length of one profile.

    Parameters
    ----------
    number : of it on the cut list, from 1.
    run : the number of the piece of the wall that it is cut for; its layers, and what it is spliced of, share it.
    layer : which profile of that piece it is, from the bottom up.
    name, element : what it is, and the element that it belongs to.
    profile : what it is cut from.
    length : finished, from long point to long point. [in]
    width, depth : finished. [in]
    ends : from the left or from the floor.
    saw : how the saw is set for each end, None for what is square.
    place : where it goes.
    note : what else is to be known.
    """

    number: int
    run: int
    layer: int
    name: str
    element: str
    profile: str
    length: float
    width: float
    depth: float
    ends: tuple[End, End]
    saw: tuple[Settings | None, Settings | None]
    place: Place
    note: str = ""


def sticks(
    layout: WallLayout, layer: Layer, run: int, allowances: Allowances, below: list[float], notes: list[str]
) -> Iterator[Stick]:
    """What a layer is cut into: itself, or what it is spliced of where it is longer than the longest that is sold.

    Parameters
    ----------
    layout : the wall that it is on.
    run : the number of its piece.
    allowances : what is left for saws, ends and fits.
    below : where the layers before it are spliced; its own joints are added.
    notes : what is to be known is added.
    """
    piece = layer.piece
    ends = tuple(end_of(cut, piece.part, piece.element) for cut in piece.ends)
    whole = Stick(
        number=0,
        run=run,
        layer=layer.number,
        name=piece.name,
        element=piece.element,
        profile=layer.stuff.name,
        length=layer.length,
        width=layer.width,
        depth=layer.depth,
        ends=(ends[0], ends[1]),
        saw=(_saw(piece.ends[0], layer), _saw(piece.ends[1], layer)),
        place=piece.place,
        note=piece.note,
    )
    places = _joints(layout, layer, whole, allowances, below, notes) if layer.spliced else ()
    if places:
        yield from _spliced(layer, whole, places, allowances)
    else:
        for _ in range(piece.count):
            yield whole


def _saw(cut: Cut, layer: Layer) -> Settings | None:
    return None if cut.joint is Joint.SQUARE else settings_of(cut, layer.spring)


def _lap(layer: Layer, allowances: Allowances) -> float:
    """By how much a scarf makes each of two pieces longer than to the middle of the joint [in]; what lies behind is
    butted."""
    return 0.0 if layer.piece.part in BEHIND else layer.depth * tan(radians(allowances.scarf)) / 2


def _joints(
    layout: WallLayout, layer: Layer, whole: Stick, allowances: Allowances, below: list[float], notes: list[str]
) -> tuple[float, ...]:
    """Where a layer is spliced along the wall [in]."""
    usable = allowances.usable(layer.stuff.longest)
    if allowances.taken(layer.length, whole.ends) <= usable:
        return ()
    place, along = whole.place, whole.place.x1 - whole.place.x0
    slope = (layer.length - layer.before - layer.after) / along
    longest = (usable - allowances.kerf - allowances.fit((End.COPE, End.SCARF)) - allowances.fit_miter) / slope
    lap = _lap(layer, allowances) / slope
    hidden = layer.piece.part in BEHIND
    around = [] if hidden else [s for s in layout.surrounds if s.solids]
    on = [(s.left, s.right) for s in around if s.bottom < place.y1 and place.y0 < s.top]
    over = [(s.left, s.right) for s in around]
    run = Run(place.x0, place.x1, longest, layer.before / slope, layer.after / slope, lap)
    found, told = joints(run, allowances.studs, allowances.corner, on, Shunned(tuple(over), frozenset(below)))
    below += found
    if told:
        at = ", ".join(format_length(x, layout.unit) for x in found[:3])
        notes.append(f"{place.room}, wall {place.wall}: the {whole.name} of {whole.profile} is spliced {told} ({at})")
    return found


def _spliced(layer: Layer, whole: Stick, places: Sequence[float], allowances: Allowances) -> Iterator[Stick]:
    """The sticks between the joints."""
    place, lap = whole.place, _lap(layer, allowances)
    slope = (layer.length - layer.before - layer.after) / (place.x1 - place.x0)
    end = End.SQUARE if layer.piece.part in BEHIND else End.SCARF
    cut = None if end is End.SQUARE else Settings(Setting(0.0, allowances.scarf))
    stops = (place.x0, *places, place.x1)
    for at, (x0, x1) in enumerate(pairwise(stops)):
        first, last = at == 0, at == len(places)
        more = (layer.before if first else lap) + (layer.after if last else lap)
        yield replace(
            whole,
            length=(x1 - x0) * slope + more,
            ends=(whole.ends[0] if first else end, whole.ends[1] if last else end),
            saw=(whole.saw[0] if first else cut, whole.saw[1] if last else cut),
            place=place._replace(x0=x0, x1=x1),
        )
