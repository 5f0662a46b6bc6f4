"""Built-ups laid layer upon layer from all that a stock has for them, many side by side as arrays. Lengths in inches.

An unfinished assembly is dropped once what it can still come to misses the target by too much. Where so many are left
that the work would have no end, those are carried on that may come nearest, and it is told by how much everything that
was left out misses at least. What is said of a finished one is what built_ups.assemble says of it, in the same steps.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import inf, prod
from typing import NamedTuple

import numpy as np

from planner.library import Library
from planner.library.shop_rows import BuiltUp, Layer
from planner.mouldings.members import Profile
from planner.stock.arrays import Floats, Truths, Whole
from planner.stock.built_ups import (
    FLAT_LEAST,
    RIPPED_TO,
    SUM_NOISE,
    Target,
    bounds_of,
    layers_of,
    names_of,
    options_of,
    ways_of,
)
from planner.stock.families import Taste
from planner.stock.shares import may_keep
from planner.stock.stock import Stock, price_per_foot

MOST_PROVABLE = 50_000_000
"""How many assemblies of a built-up there may be for it to be worth the work to leave none out."""
MOST_LOOKED_AT = 400_000
"""How many assemblies of such a built-up are looked at, unfinished ones too."""
FEW_LOOKED_AT = 200_000
"""How many of a built-up of which there are more."""
GRADE = 1 / 64
"""Unfinished assemblies that may miss by as many of these are as near [in]."""


# The stock as the layers of a built-up see it


@dataclass(frozen=True)
class Shelf:
    """What a layer may be made from, the cheapest first: its sizes, what it may be ripped to, its price and the number
    of its code. Plain wall is made from nothing."""

    profiles: tuple[Profile | None, ...]
    height: Floats
    projection: Floats
    foot: Floats
    least: Floats
    most: Floats
    price: Floats
    code: Whole


@dataclass(frozen=True)
class Stack:
    """A built-up as a target asks for it: its layers, and what each may be made from.

    `low` and `high` are how high that makes the layer, the bounds of it where the layer fills; `depth` is how deep;
    `open` says which of its shelf's profiles may be chosen.
    """

    way: BuiltUp
    layers: tuple[Layer, ...]
    shelves: tuple[Shelf, ...]
    low: tuple[Floats, ...]
    high: tuple[Floats, ...]
    depth: tuple[Floats, ...]
    open: tuple[Whole, ...]

    @property
    def count(self) -> int:
        """How many assemblies there are of it."""
        return prod(map(len, self.open))

    @cached_property
    def filling(self) -> int | None:
        """Which layer takes what the others leave of the height."""
        return next((i for i, layer in enumerate(self.layers) if layer.fill or layer.gap), None)

    @cached_property
    def order(self) -> tuple[int, ...]:
        """The order in which the layers are chosen: from the bottom up, what fills last."""
        return tuple(sorted(range(len(self.layers)), key=lambda i: i == self.filling))


def stacks_of(target: Target, stock: Stock, library: Library, only: frozenset[str] | None) -> tuple[Stack, ...]:
    """The built-ups of which a stock has something for every layer; `only` of profiles of these codes, if given."""
    if target.profile:
        only = frozenset({target.profile})
    stacks = (_stack(way, target, stock, library, only) for way in ways_of(target, stock, library))
    return tuple(stack for stack in stacks if stack.count)


@lru_cache(maxsize=4096)
def runs_differ(target: Target, stock: Stock, library: Library) -> bool:
    """Whether the family that runs through the house makes a difference to what a target may be made from."""
    taste = target.taste
    layers = (layer for way in ways_of(target, stock, library) for layer in way.layers)
    return any(
        _shelf(layer, taste, stock, library).profiles != _shelf(layer, taste._replace(run=""), stock, library).profiles
        for layer in (layers if taste.run else ())
    )


def _stack(way: BuiltUp, target: Target, stock: Stock, library: Library, only: frozenset[str] | None) -> Stack:
    layers = layers_of(way, target)
    shelves = tuple(_shelf(layer, target.taste, stock, library) for layer in layers)
    low, high, depth = [], [], []
    for layer, shelf in zip(layers, shelves, strict=True):
        depth.append(_cut_to(target.projection, FLAT_LEAST, shelf.height) if layer.turned else shelf.projection)
        height = shelf.projection if layer.turned else shelf.height
        if layer.rip and layer.part in target.asked:
            height = _cut_to(target.asked[layer.part], shelf.least, shelf.most)
        low.append(shelf.least if layer.fill or layer.gap else height)
        high.append(shelf.most if layer.fill or layer.gap else height)
    places = (
        [k for k, p in enumerate(shelf.profiles) if only is None or p is None or p.code in only] for shelf in shelves
    )
    open_ = tuple(np.array(places, dtype=np.int64) for places in places)
    return Stack(way, layers, shelves, tuple(low), tuple(high), tuple(depth), open_)


@lru_cache(maxsize=4096)
def _shelf(layer: Layer, taste: Taste, stock: Stock, library: Library) -> Shelf:
    profiles = options_of(layer, stock, taste)
    bounds = [layer.gap or (0.0, 0.0) if p is None else bounds_of(layer, p, library) for p in profiles]
    return Shelf(
        profiles=profiles,
        height=np.array([p.height if p else 0.0 for p in profiles]),
        projection=np.array([p.projection if p else 0.0 for p in profiles]),
        foot=np.array([p.members[0].projection if p else 0.0 for p in profiles]),
        least=np.array([low for low, _ in bounds]),
        most=np.array([high for _, high in bounds]),
        price=np.array([price_per_foot(p) if p else 0.0 for p in profiles]),
        code=np.array([stock.numbers[p.code] if p else -1 for p in profiles], dtype=np.int64),
    )


def _cut_to(asked: float | Floats, least: float | Floats, most: Floats) -> Floats:
    """As built_ups.cut_to, for many at once."""
    cut = np.maximum(np.floor(asked / RIPPED_TO + 0.5) * RIPPED_TO, -np.floor(-least / RIPPED_TO) * RIPPED_TO)
    return np.asarray(np.minimum(cut, most))


# Layer upon layer


@dataclass(frozen=True)
class Laid:
    """Finished assemblies of one built-up, a row each: for each layer which profile of its shelf it is made from.

    `beyond` is what those that were left out miss at least [in], `looked_at` how many were looked at.
    """

    options: Whole
    height: Floats
    projection: Floats
    deviation: Floats
    beyond: float
    looked_at: int


def laid(stack: Stack, target: Target, library: Library, limit: float, few: int | None = None) -> Laid:
    """The assemblies of a built-up that miss a target by no more than a limit [in].

    With `few`, only so many of the unfinished ones are carried on from layer to layer.
    """
    work = MOST_LOOKED_AT if stack.count <= MOST_PROVABLE else FEW_LOOKED_AT
    rows = _Rows({}, np.zeros(1), np.zeros(1), np.zeros(1), np.zeros(1))
    beyond, looked_at = inf, 0
    for step, layer in enumerate(stack.order):
        width = len(stack.open[layer])
        most = max((work - looked_at) // (len(stack.order) - step) // width, 1) if few is None else few
        if len(rows.miss) > most:
            kept = _hopeful(rows, most)
            beyond = min(beyond, float(np.delete(rows.miss, kept).min()))
            rows = rows.some(kept)
        looked_at += len(rows.miss) * width
        rows = _grown(stack, rows, layer, target, library, limit)
    options = np.stack([rows.chosen[layer] for layer in range(len(stack.layers))], axis=1)
    return Laid(options, rows.height, rows.reach, rows.miss, beyond, looked_at)


@dataclass(frozen=True)
class _Rows:
    """Unfinished assemblies, a row each: what is chosen for some layers, the price of it, and height, reach and what
    it misses at least."""

    chosen: Mapping[int, Whole]
    price: Floats
    height: Floats
    reach: Floats
    miss: Floats

    def some(self, which: Whole) -> "_Rows":
        """Some of the rows, in the order given."""
        chosen = {layer: options[which] for layer, options in self.chosen.items()}
        return _Rows(chosen, *(column[which] for column in (self.price, self.height, self.reach, self.miss)))


def _hopeful(rows: _Rows, most: int) -> Whole:
    """Those of many unfinished assemblies that are carried on: the nearest; of those as near, some of every price."""
    grade = np.floor(rows.miss / GRADE)
    order = np.lexsort((rows.price, grade))
    edge = grade[order[most - 1]]
    nearer, as_near = order[grade[order] < edge], order[grade[order] == edge]
    left = most - len(nearer)
    return np.sort(np.concatenate([nearer, as_near[np.arange(left) * len(as_near) // left]]))


def _grown(stack: Stack, rows: _Rows, layer: int, target: Target, library: Library, limit: float) -> _Rows:
    """The rows with each option of one more layer, those that may miss by no more than a limit [in]."""
    weigh = library.building.deviation
    options, count = stack.open[layer], len(rows.price)
    chosen = {at: np.repeat(those, len(options)) for at, those in rows.chosen.items()}
    chosen[layer] = np.tile(options, count)
    price = np.repeat(rows.price, len(options)) + stack.shelves[layer].price[chosen[layer]]
    height, parts = _heights(stack, chosen, target)
    off = weigh.height * _outside(target.height, height)
    missing = (_outside(target.asked[name], part) for name, part in parts.items())
    in_parts = weigh.part * sum(missing, start=np.zeros(1))
    may = (off + in_parts <= limit + SUM_NOISE) & _may_keep(stack, height, parts, target, library)
    near = np.flatnonzero(np.broadcast_to(may, price.shape))
    taken = {at: those[near] for at, those in chosen.items()}
    reach, fits = _reach(stack, taken, library)
    off, in_parts, low = (np.broadcast_to(a, price.shape)[near] for a in (off, in_parts, height.low))
    if stack.way.reach:
        off = off + weigh.projection * _outside(target.projection, reach)
    miss = off + in_parts
    kept = np.flatnonzero(fits & (miss <= limit + SUM_NOISE))
    return _Rows(taken, price[near], low, np.broadcast_to(reach.low, near.shape), miss).some(kept)


class _Span(NamedTuple):
    """The least and the greatest that something may be, for each row [in]; the very same array where it is settled."""

    low: Floats
    high: Floats

    @property
    def falling(self) -> "_Span":
        """As an argument by which a result falls."""
        return _Span(self.high, self.low)


def _result(function: Callable[..., Floats], *spans: _Span) -> _Span:
    """The span of what follows from others, by each of which it rises."""
    low = function(*(span.low for span in spans))
    settled = all(span.low is span.high for span in spans)
    return _Span(low, low if settled else function(*(span.high for span in spans)))


def _span(stack: Stack, chosen: Mapping[int, Whole], layer: int, low: Floats, high: Floats) -> _Span:
    """What a layer may be: as what is chosen for it, or as anything that may be."""
    if layer not in chosen:
        return _Span(low[stack.open[layer]].min(keepdims=True), high[stack.open[layer]].max(keepdims=True))
    least = low[chosen[layer]]
    return _Span(least, least if low is high else high[chosen[layer]])


def _heights(stack: Stack, chosen: Mapping[int, Whole], target: Target) -> tuple[_Span, dict[str, _Span]]:
    """The height of the whole, and of each of its parts that the target names."""
    heights = [
        _span(stack, chosen, at, low, high) for at, (low, high) in enumerate(zip(stack.low, stack.high, strict=True))
    ]
    filling = stack.filling
    if filling is not None and filling in chosen:
        taken = np.zeros(1)
        for at, (layer, height) in enumerate(zip(stack.layers, heights, strict=True)):
            taken = taken + (height.low if at != filling and layer.stand != "before" else 0.0)
        left = _cut_to(target.height - taken, *heights[filling])
        heights[filling] = _Span(left, left)
    nothing = np.zeros(1)
    whole = _Span(nothing, nothing)
    parts: dict[str, _Span] = {}
    for layer, height in zip(stack.layers, heights, strict=True):
        if layer.stand != "before":
            whole = _result(np.add, whole, height)
        for name in names_of(layer):
            parts[name] = _result(np.add, parts.get(name, _Span(nothing, nothing)), height)
    return whole, {name: part for name, part in parts.items() if name in target.asked}


def _may_keep(stack: Stack, whole: _Span, parts: Mapping[str, _Span], target: Target, library: Library) -> Truths:
    """Whether each row may be as high as its built-up is, and its cornice may keep the order's shares."""
    least, most = stack.way.whole or (0.0, inf)
    kept = (whole.high >= least - SUM_NOISE) & (whole.low <= most + SUM_NOISE)
    if target.loose or not target.shares:
        return kept
    low, high = ({name: getattr(parts[name], end) for name, _ in target.shares} for end in ("low", "high"))
    tolerance = library.building.shares.tolerance + SUM_NOISE
    return np.asarray(kept & may_keep(low, high, dict(target.shares), tolerance))


def _reach(stack: Stack, chosen: Mapping[int, Whole], library: Library) -> tuple[_Span, Truths]:
    """How far each row reaches from the wall, and whether its layers may clear one another."""
    proud, nothing = library.building.face.proud, np.zeros(1)
    reach, below = _Span(nothing, nothing), None
    fits = np.ones(1, dtype=bool)
    for at, layer in enumerate(stack.layers):
        if layer.gap or layer.stand == "before":
            continue
        depth = _span(stack, chosen, at, stack.depth[at], stack.depth[at])
        face = depth
        if layer.stand == "face" and below is not None:
            foot = _span(stack, chosen, at, stack.shelves[at].foot, stack.shelves[at].foot)
            back = _result(lambda b, f: np.maximum(b - f + proud, 0.0), below, foot.falling)
            face = _result(np.add, back, depth)
        elif layer.stand == "flush" and below is not None:
            back = _result(lambda b, d: np.maximum(b - d, 0.0), below, depth.falling)
            face = _result(np.add, back, depth)
        if layer.past is not None and below is not None:
            fits = fits & (face.high >= below.low + layer.past - SUM_NOISE)
        if layer.short is not None and below is not None:
            fits = fits & (face.low <= below.high - layer.short + SUM_NOISE)
        reach, below = _result(np.maximum, reach, face), face
    return reach, fits


def _outside(asked: float, span: _Span) -> Floats:
    """How far what is asked lies outside a span [in]."""
    return np.maximum(np.maximum(span.low - asked, asked - span.high), 0.0)
