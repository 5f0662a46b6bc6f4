"""What an element can be built of: a bounded search over the stock. All lengths are inches.

The profiles that each layer of a built-up may be made from multiply to many assemblies. The search lays layer upon
layer, all assemblies side by side as arrays, and drops an unfinished one once what it can still come to misses the
target by too much. Where so many are left that the work would have no end, it keeps those that may come nearest, and
says by how much everything that it left out misses at least.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import inf, prod
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from planner.library import Library
from planner.library.shop_rows import BuiltUp, Layer
from planner.mouldings.assembly import Assembly
from planner.mouldings.members import Profile
from planner.stock.built_ups import (
    FLAT_LEAST,
    RIPPED_TO,
    SUM_NOISE,
    Target,
    assemble,
    bounds_of,
    is_sound,
    layers_of,
    options_of,
)
from planner.stock.stock import Stock, price_per_foot

Floats: TypeAlias = npt.NDArray[np.float64]
Whole: TypeAlias = npt.NDArray[np.int64]
Truths: TypeAlias = npt.NDArray[np.bool_]

MOST_UNFINISHED = 200_000
"""How many unfinished assemblies of one built-up are looked at side by side."""
FEW_UNFINISHED = 64
"""How many the first, narrow search carries on from layer to layer; it only finds a bound for the full one."""
MOST_DRAFTS = 20_000
"""How many of the assemblies that it finds a search keeps."""
ALLOWANCES = (0.0625, 0.25, 1.0, 4.0, inf)
"""How far beyond the nearest assembly `best` looks, until it has found as many as are wanted [in]."""


@dataclass(frozen=True)
class Drafts:
    """What a search found: assemblies that fit together, a row each, the best first; their soundness is not asked yet.

    Parameters
    ----------
    target : what was searched for.
    stacks : the built-ups that serve it.
    stack : which of them each row is.
    options : for each layer of its built-up which of the profiles that it may be made from; -1 beyond the last layer.
    height, projection, deviation, price : as in Assembly.
    codes : the numbers of its profiles' codes (Stock.numbers), layer by layer; -1 for plain wall and beyond the last.
    beyond : whatever is not here misses the target by at least this. [in]
    looked_at : how many assemblies, unfinished ones too, were looked at.
    """

    target: Target
    stacks: tuple["_Stack", ...]
    stack: Whole
    options: Whole
    height: Floats
    projection: Floats
    deviation: Floats
    price: Floats
    codes: Whole
    beyond: float
    looked_at: int

    def __len__(self) -> int:
        return len(self.stack)

    def assembly(self, row: int, library: Library) -> Assembly:
        """The assembly of a row."""
        stack = self.stacks[self.stack[row]]
        chosen = [shelf.profiles[k] for shelf, k in zip(stack.shelves, self.options[row].tolist(), strict=False)]
        built = assemble(stack.way, stack.layers, chosen, self.target, library)
        if built is None:
            raise AssertionError(f"what was found for {self.target} does not fit together: {chosen}")
        return built

    def joined(self, other: "Drafts") -> "Drafts":
        """What was found in two searches for the same target."""
        rows = np.concatenate([np.column_stack([d.stack, d.options]) for d in (self, other)])
        _, first = np.unique(rows, axis=0, return_index=True)
        columns: dict[str, Any] = {
            name: np.concatenate([getattr(self, name), getattr(other, name)])[first] for name in _COLUMNS
        }
        looked_at = self.looked_at + other.looked_at
        return _ranked(replace(self, **columns, beyond=max(self.beyond, other.beyond), looked_at=looked_at))


_COLUMNS = ("stack", "options", "height", "projection", "deviation", "price", "codes")


def best(target: Target, stock: Stock, library: Library, count: int = 2) -> tuple[Assembly, ...]:
    """The assemblies of stock that come nearest to a target: the best, then the runners-up.

    Parameters
    ----------
    target : what is wanted.
    stock : what can be bought.
    library : how it may be built, and how what is built is judged.
    count : how many are wanted.

    Returns
    -------
    At most `count` assemblies by deviation, then by number of profiles, price and codes; fewer where the stock does not
    make so many. None of them breaks a rule of the mouldings. In a stock so large that the search leaves something
    out, what it left out is no nearer than its bound says, but may be nearer than these.
    """
    found: tuple[Assembly, ...] = ()
    for allowance in ALLOWANCES:
        found = tuple(_first_sound(search(target, stock, library, allowance), count, library))
        if len(found) >= count:
            break
    return found


def within(target: Target, stock: Stock, library: Library, allowance: float) -> tuple[Assembly, ...]:
    """Every assembly that misses a target by at most `allowance` [in] more than the best one does, best first.

    In a large stock, only as many as the search looks at (MOST_UNFINISHED).
    """
    for reach in (allowance, inf):  # the search goes by what is nearest, sound or not
        drafts = search(target, stock, library, reach)
        nearest = next(iter(_first_sound(drafts, 1, library)), None)
        if nearest is not None:
            break
    else:
        return ()
    limit = nearest.deviation + allowance
    if drafts.beyond < limit:
        drafts = search(target, stock, library, limit - float(drafts.deviation.min()))
    near = np.flatnonzero(drafts.deviation <= limit + SUM_NOISE).tolist()
    return tuple(a for a in (drafts.assembly(row, library) for row in near) if is_sound(a))


def _first_sound(drafts: Drafts, count: int, library: Library) -> Iterable[Assembly]:
    found = 0
    for row in range(len(drafts)):
        if found == count:
            return
        assembly = drafts.assembly(row, library)
        if is_sound(assembly):
            found += 1
            yield assembly


@lru_cache(maxsize=1024)
def search(target: Target, stock: Stock, library: Library, allowance: float) -> Drafts:
    """Every assembly that misses a target by at most `allowance` more than the nearest does, sound or not. [in]

    The work is bounded by numbers of assemblies alone, so that the answer is the same wherever it is asked.
    """
    stacks = tuple(
        stack
        for way in library.built_ups(target.role, target.form)
        if all((stack := _stacked(way, target, stock, library)).widths)
    )
    bound = inf
    for stack in stacks:
        if prod(stack.widths) > FEW_UNFINISHED and allowance < inf:
            narrow = _laid(stack, target, library, inf, FEW_UNFINISHED)
            bound = min([bound, *narrow.deviation.tolist()])
    laid = []
    for stack in stacks:
        laid.append(_laid(stack, target, library, bound + allowance, None))
        bound = min([bound, *laid[-1].deviation.tolist()])
    return _drafts(target, stacks, laid, bound + allowance)


# The stock as a built-up's layers see it


@dataclass(frozen=True)
class _Shelf:
    """What a layer may be made from, the cheapest first; sizes as arrays [in]. Plain wall is made from nothing."""

    profiles: tuple[Profile | None, ...]
    height: Floats
    projection: Floats
    foot: Floats
    least: Floats
    most: Floats
    price: Floats
    code: Whole


@dataclass(frozen=True)
class _Stack:
    """A built-up as a target asks for it: its layers, what each may be made from, and how high and deep that is [in].

    `low` and `high` bound the height of what fills; `filled` says which layer that is, None where none does.
    """

    way: BuiltUp
    layers: tuple[Layer, ...]
    shelves: tuple[_Shelf, ...]
    low: tuple[Floats, ...]
    high: tuple[Floats, ...]
    depth: tuple[Floats, ...]

    @property
    def widths(self) -> list[int]:
        return [len(shelf.profiles) for shelf in self.shelves]

    @cached_property
    def filled(self) -> int | None:
        return next((i for i, layer in enumerate(self.layers) if layer.fill or layer.gap), None)

    @cached_property
    def order(self) -> list[int]:
        """The order in which the layers are chosen: what fills is last."""
        return sorted(range(len(self.layers)), key=lambda i: i == self.filled)


@lru_cache(maxsize=4096)
def _shelf(layer: Layer, stock: Stock, library: Library) -> _Shelf:
    profiles = options_of(layer, stock)
    bounds = [layer.gap or (0.0, 0.0) if p is None else bounds_of(layer, p, library) for p in profiles]
    return _Shelf(
        profiles=profiles,
        height=np.array([p.height if p else 0.0 for p in profiles]),
        projection=np.array([p.projection if p else 0.0 for p in profiles]),
        foot=np.array([p.members[0].projection if p else 0.0 for p in profiles]),
        least=np.array([low for low, _ in bounds]),
        most=np.array([high for _, high in bounds]),
        price=np.array([price_per_foot(p) if p else 0.0 for p in profiles]),
        code=np.array([stock.numbers[p.code] if p else -1 for p in profiles], dtype=np.int64),
    )


def _stacked(way: BuiltUp, target: Target, stock: Stock, library: Library) -> _Stack:
    layers = layers_of(way, target)
    shelves = tuple(_shelf(layer, stock, library) for layer in layers)
    low, high, depth = [], [], []
    for layer, shelf in zip(layers, shelves, strict=True):
        depth.append(_cut_to(target.projection, FLAT_LEAST, shelf.height) if layer.turned else shelf.projection)
        if layer.fill or layer.gap:
            low.append(shelf.least)
            high.append(shelf.most)
            continue
        height = shelf.projection if layer.turned else shelf.height
        if layer.rip and layer.part in target.asked:
            height = _cut_to(target.asked[layer.part], shelf.least, shelf.most)
        low.append(height)
        high.append(height)
    return _Stack(way, layers, shelves, tuple(low), tuple(high), tuple(depth))


def _cut_to(asked: float | Floats, least: float | Floats, most: Floats) -> Floats:
    """As built_ups.cut_to, for many at once."""
    cut = np.maximum(np.floor(asked / RIPPED_TO + 0.5) * RIPPED_TO, -np.floor(-least / RIPPED_TO) * RIPPED_TO)
    return np.minimum(cut, most)


# Laying layer upon layer


@dataclass(frozen=True)
class _Laid:
    """Finished assemblies of one built-up; `beyond` is what those that were left out miss by at least [in]."""

    options: Whole
    height: Floats
    projection: Floats
    deviation: Floats
    beyond: float
    looked_at: int


def _laid(stack: _Stack, target: Target, library: Library, limit: float, few: int | None) -> _Laid:
    """The assemblies of a built-up that may miss a target by no more than a limit [in], found layer by layer.

    Where they are too many, those are carried on that may come nearest, then the cheapest; with `few`, only so many.
    """
    chosen: dict[int, Whole] = {}
    price = np.zeros(1)
    miss = np.zeros(1)
    beyond, looked_at = inf, 0
    for step, i in enumerate(stack.order):
        width = stack.widths[i]
        most = max(MOST_UNFINISHED // width, 1) if few is None else few
        if len(miss) > most:
            kept = np.lexsort((price, miss))
            beyond = min(beyond, float(miss[kept[most]]))
            kept = np.sort(kept[:most])
            chosen, price = {k: at[kept] for k, at in chosen.items()}, price[kept]
        count = len(price)
        chosen = {k: np.repeat(at, width) for k, at in chosen.items()} | {i: np.tile(np.arange(width), count)}
        price = np.repeat(price, width) + np.tile(stack.shelves[i].price, count)
        sizes = _sizes(stack, chosen, target, finished=step + 1 == len(stack.order))
        height, reach, miss, fits = _judged(stack, sizes, target, library)
        looked_at += len(miss)
        keep = np.flatnonzero(fits & (miss <= limit + SUM_NOISE))
        chosen, price, miss = {k: at[keep] for k, at in chosen.items()}, price[keep], miss[keep]
        height, reach = height[keep], reach[keep]
    options = np.stack([chosen[i] for i in range(len(stack.layers))], axis=1)
    return _Laid(options, height, reach, miss, beyond, looked_at)


_Span: TypeAlias = tuple[Floats, Floats]
"""The least and the greatest that something may be, for each assembly [in]."""


@dataclass(frozen=True)
class _Sizes:
    """For each layer the spans of its height, of its depth and of the projection of its foot."""

    height: list[_Span]
    depth: list[_Span]
    foot: list[_Span]


def _sizes(stack: _Stack, chosen: dict[int, Whole], target: Target, finished: bool) -> _Sizes:
    """The spans of what is chosen, and of all that may be chosen where nothing is yet."""

    def span(i: int, low: Floats, high: Floats) -> _Span:
        if i in chosen:
            return low[chosen[i]], high[chosen[i]]
        return low.min(keepdims=True), high.max(keepdims=True)

    count = range(len(stack.layers))
    heights = [span(i, stack.low[i], stack.high[i]) for i in count]
    if finished and stack.filled is not None:
        taken = sum(
            (low for i, (low, _) in enumerate(heights) if i != stack.filled and stack.layers[i].stand != "before"),
            start=np.zeros(1),
        )
        filling = _cut_to(target.height - taken, *heights[stack.filled])
        heights[stack.filled] = (filling, filling)
    return _Sizes(
        heights,
        [span(i, stack.depth[i], stack.depth[i]) for i in count],
        [span(i, stack.shelves[i].foot, stack.shelves[i].foot) for i in count],
    )


def _judged(stack: _Stack, sizes: _Sizes, target: Target, library: Library) -> tuple[Floats, Floats, Floats, Truths]:
    """Least height and reach of each assembly, by how much it misses at least [in], and whether it may fit together.

    Where all spans are closed these are what built_ups.assemble says of one assembly, in the same steps.
    """
    weigh = library.building.deviation
    low, high = np.zeros(1), np.zeros(1)
    parts: dict[str, _Span] = {}
    for layer, (least, most) in zip(stack.layers, sizes.height, strict=True):
        if layer.stand != "before":
            low, high = low + least, high + most
        before = parts.get(layer.part, (np.zeros(1), np.zeros(1)))
        parts[layer.part] = (before[0] + least, before[1] + most)
    near, far, fits = _reach(stack, sizes, library)
    miss = weigh.height * _outside(target.height, low, high)
    if stack.way.reach:
        miss = miss + weigh.projection * _outside(target.projection, near, far)
    asked = target.asked
    off = sum((_outside(asked[name], *span) for name, span in parts.items() if name in asked), start=np.zeros(1))
    miss = miss + weigh.part * off
    low, near, miss, fits = np.broadcast_arrays(low, near, miss, fits)
    return low, near, miss, fits


def _reach(stack: _Stack, sizes: _Sizes, library: Library) -> tuple[Floats, Floats, Truths]:
    """How far each assembly reaches from the wall, at least and at most [in], and whether its layers may clear."""
    proud = library.building.face.proud
    none = np.zeros(1)
    reach, below = (none, none), None
    fits = np.ones(1, dtype=bool)
    for layer, depth, foot in zip(stack.layers, sizes.depth, sizes.foot, strict=True):
        if layer.gap or layer.stand == "before":
            continue
        back = (none, none)
        if layer.stand == "face" and below is not None:
            back = (np.maximum(below[0] - foot[1] + proud, 0.0), np.maximum(below[1] - foot[0] + proud, 0.0))
        elif layer.stand == "flush" and below is not None:
            back = (np.maximum(below[0] - depth[1], 0.0), np.maximum(below[1] - depth[0], 0.0))
        face = (back[0] + depth[0], back[1] + depth[1])
        if layer.past is not None and below is not None:
            fits = fits & (face[1] >= below[0] + layer.past - SUM_NOISE)
        if layer.short is not None and below is not None:
            fits = fits & (face[0] <= below[1] - layer.short + SUM_NOISE)
        reach, below = (np.maximum(reach[0], face[0]), np.maximum(reach[1], face[1])), face
    return *reach, fits


def _outside(asked: float, low: Floats, high: Floats) -> Floats:
    """How far what is asked lies outside a span [in]."""
    return np.maximum(np.maximum(low - asked, asked - high), 0.0)


# What was found


def _drafts(target: Target, stacks: tuple[_Stack, ...], laid: Sequence[_Laid], limit: float) -> Drafts:
    """All that was found within a limit [in], the nearest first."""
    layers = max((len(stack.layers) for stack in stacks), default=0)
    which = np.repeat(np.arange(len(laid)), [len(found.deviation) for found in laid])
    options = np.full((len(which), layers), -1, dtype=np.int64)
    codes, price = options.copy(), np.zeros(len(which))
    for k, (stack, found) in enumerate(zip(stacks, laid, strict=True)):
        mine = which == k
        for i, shelf in enumerate(stack.shelves):
            options[mine, i] = found.options[:, i]
            codes[mine, i] = shelf.code[found.options[:, i]]
            price[mine] += shelf.price[found.options[:, i]]
    height, projection, deviation = (
        np.concatenate([getattr(found, name) for found in laid] or [np.zeros(0)])
        for name in ("height", "projection", "deviation")
    )
    beyond, looked_at = min([limit, *(found.beyond for found in laid)]), sum(found.looked_at for found in laid)
    drafts = Drafts(target, stacks, which, options, height, projection, deviation, price, codes, beyond, looked_at)
    return _fewer(_ranked(_taken(drafts, np.flatnonzero(deviation <= limit + SUM_NOISE))))


def _taken(drafts: Drafts, rows: Whole) -> Drafts:
    """Some rows of drafts, in the order given."""
    return replace(drafts, **{name: getattr(drafts, name)[rows] for name in _COLUMNS})


def _ranked(drafts: Drafts) -> Drafts:
    """The same by deviation, then number of profiles, price and codes."""
    different = (np.diff(np.sort(drafts.codes, axis=1), axis=1, prepend=-1) > 0).sum(axis=1)
    by_code = drafts.codes.T[::-1]
    return _taken(drafts, np.lexsort((*by_code, drafts.price.round(6), different, drafts.deviation.round(6))))


def _fewer(drafts: Drafts) -> Drafts:
    """The same, but of very many only the nearest, and the nearest of each size of the rest."""
    if len(drafts) <= MOST_DRAFTS:
        return drafts
    half = MOST_DRAFTS // 2
    rest = np.arange(half, len(drafts))
    sizes = np.column_stack([(drafts.height[rest] / RIPPED_TO).round(), (drafts.projection[rest] / RIPPED_TO).round()])
    _, first = np.unique(sizes, axis=0, return_index=True)
    kept = np.concatenate([np.arange(half), rest[np.sort(first)][:half]])
    left_out = np.setdiff1d(rest, kept)
    nearest = min([drafts.beyond, *drafts.deviation[left_out[:1]].tolist()])
    return replace(_taken(drafts, kept), beyond=nearest)
