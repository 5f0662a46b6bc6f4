"""What an element can be built of: a search over the stock whose work is bounded. All lengths are inches."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf
from typing import Any

import numpy as np

from planner.library import Library
from planner.mouldings.assembly import Assembly
from planner.stock.arrays import Floats, Whole, distinct
from planner.stock.built_ups import RIPPED_TO, SUM_NOISE, Target, assemble, is_sound
from planner.stock.laying import Laid, Stack, laid, stacks_of
from planner.stock.program import ABSENT, SIZES, Size
from planner.stock.stock import Stock

FEW_UNFINISHED = 64
"""How many unfinished assemblies the first, narrow search carries on; it only finds a bound for the full one."""
MOST_DRAFTS = 20_000
"""How many of the assemblies that it finds a search keeps."""
MOST_GLANCED = 20
"""How many assemblies a glance holds against the rules of the mouldings."""
WIDER = (0.0625, 0.25, 1.0, 4.0, inf)
"""How far beyond the nearest assembly `best` looks, until it has found as many as are wanted [in]."""


@dataclass(frozen=True, eq=False)
class Drafts:
    """What a search found: assemblies that fit together, a row each, the best first; their soundness is not asked yet.

    Parameters
    ----------
    target : what was searched for.
    stacks : the built-ups that serve it.
    stack : which of them each row is.
    options : for each layer of its built-up which of the profiles on its shelf; -1 beyond the last layer.
    codes : the numbers of their codes (Stock.numbers); -1 for plain wall and beyond the last layer.
    height, projection, deviation, price : as in Assembly.
    beyond : whatever is not here misses the target by at least this. [in]
    looked_at : how many assemblies, unfinished ones too, were looked at.
    """

    target: Target
    stacks: tuple[Stack, ...]
    stack: Whole
    options: Whole
    codes: Whole
    height: Floats
    projection: Floats
    deviation: Floats
    price: Floats
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

    def measures(self, size: Size) -> Floats:
        """What each measures in a size [in]; ABSENT for a role that it has no profile of."""
        if size in SIZES:
            return np.asarray(getattr(self, size))
        found = np.zeros(len(self))
        for number, stack in enumerate(self.stacks):
            mine = np.flatnonzero(self.stack == number)
            for at, shelf in enumerate(stack.shelves):
                heights = np.array([p.height if p and p.role == size else 0.0 for p in shelf.profiles])
                if heights.any():
                    found[mine] += heights[self.options[mine, at]]
        return np.where(found > 0, found, ABSENT)

    def some(self, rows: Whole) -> "Drafts":
        """Some rows, in the order given."""
        columns: dict[str, Any] = {name: getattr(self, name)[rows] for name in _COLUMNS}
        return replace(self, **columns)

    def joined(self, other: "Drafts") -> "Drafts":
        """What was found in two searches for the same target; `beyond` is the greater.

        A built-up of which one of them could not choose anything may be missing there.
        """
        known = {stack.way.name: stack for stack in (*self.stacks, *other.stacks)}
        place = {name: at for at, name in enumerate(known)}
        layers = max(self.options.shape[1], other.options.shape[1])
        parts = [_renumbered(drafts, place, layers) for drafts in (self, other)]
        columns: dict[str, Any] = {name: np.concatenate([part[name] for part in parts]) for name in _COLUMNS}
        columns |= {"beyond": max(self.beyond, other.beyond), "looked_at": self.looked_at + other.looked_at}
        both = replace(self, stacks=tuple(known.values()), **columns)
        first, _ = distinct(*both.options.T[::-1], both.stack)
        return _ranked(both.some(first))


def _renumbered(drafts: Drafts, place: Mapping[str, int], layers: int) -> dict[str, Any]:
    """The columns of drafts with their built-ups numbered anew by name, and as many layers as are asked for."""
    columns: dict[str, Any] = {name: getattr(drafts, name) for name in _COLUMNS}
    numbers = np.array([place[stack.way.name] for stack in drafts.stacks], dtype=np.int64)
    wider = ((0, 0), (0, layers - drafts.options.shape[1]))
    padded = {name: np.pad(columns[name], wider, constant_values=-1) for name in ("options", "codes")}
    return columns | padded | {"stack": numbers[drafts.stack]}


_COLUMNS = ("stack", "options", "codes", "height", "projection", "deviation", "price")


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
    make so many. None of them breaks a rule of the mouldings. Of a stock so large that the search leaves something out
    (Drafts.beyond), what it left out may be nearer.
    """
    found: tuple[Assembly, ...] = ()
    for allowance in WIDER:
        found = tuple(_first_sound(search(target, stock, library, allowance), count, library))
        if len(found) >= count:
            break
    return found


def within(target: Target, stock: Stock, library: Library, allowance: float) -> tuple[Assembly, ...]:
    """Every assembly that misses a target by at most `allowance` [in] more than the best one does, best first.

    Of a large stock, those that the search keeps (MOST_DRAFTS).
    """
    for reach in (allowance, inf):  # the search goes by what is nearest, sound or not
        drafts = search(target, stock, library, reach)
        nearest = next(_first_sound(drafts, 1, library), None)
        if nearest is not None:
            break
    else:
        return ()
    limit = nearest.deviation + allowance
    if drafts.beyond < limit:
        drafts = search(target, stock, library, limit - float(drafts.deviation.min()))
    near = np.flatnonzero(drafts.deviation <= limit + SUM_NOISE).tolist()
    return tuple(a for a in (drafts.assembly(row, library) for row in near) if is_sound(a))


def _first_sound(drafts: Drafts, count: int, library: Library) -> Iterator[Assembly]:
    """The first so many drafts that break no rule of the mouldings."""
    for row in range(len(drafts)):
        if count == 0:
            return
        assembly = drafts.assembly(row, library)
        if is_sound(assembly):
            count -= 1
            yield assembly


def glance(target: Target, stock: Stock, library: Library) -> Assembly | None:
    """What a narrow search finds nearest to a target, None where it finds nothing sound; cheap, and not exact."""
    stacks = stacks_of(target, stock, library, None)
    found = [laid(stack, target, library, inf, FEW_UNFINISHED) for stack in stacks]
    drafts = _drafts(target, stacks, found, inf)
    return next(_first_sound(drafts.some(np.arange(min(len(drafts), MOST_GLANCED))), 1, library), None)


@lru_cache(maxsize=256)
def search(
    target: Target, stock: Stock, library: Library, allowance: float, only: frozenset[str] | None = None
) -> Drafts:
    """Every assembly that misses a target by at most `allowance` more than the nearest does, sound or not. [in]

    Where codes are given, `only` of profiles of these. The work is bounded by numbers of assemblies alone, so that the
    answer is the same wherever it is asked.
    """
    stacks = stacks_of(target, stock, library, only)
    nearest = inf
    for stack in stacks:
        if stack.count > FEW_UNFINISHED and allowance < inf:
            narrow = laid(stack, target, library, inf, FEW_UNFINISHED)
            nearest = min(nearest, float(narrow.deviation.min(initial=inf)))
    found = []
    for stack in stacks:
        found.append(laid(stack, target, library, nearest + allowance))
        nearest = min(nearest, float(found[-1].deviation.min(initial=inf)))
    return _drafts(target, stacks, found, nearest + allowance)


def _drafts(target: Target, stacks: tuple[Stack, ...], found: Sequence[Laid], limit: float) -> Drafts:
    """All that was found within a limit [in], or as much as is kept of it."""
    layers = max((len(stack.layers) for stack in stacks), default=0)
    which = np.repeat(np.arange(len(found)), [len(one.deviation) for one in found])
    options, price = np.full((len(which), layers), -1, dtype=np.int64), np.zeros(len(which))
    codes = options.copy()
    for k, (stack, one) in enumerate(zip(stacks, found, strict=True)):
        mine = which == k
        for i, shelf in enumerate(stack.shelves):
            options[mine, i] = one.options[:, i]
            codes[mine, i] = shelf.code[one.options[:, i]]
            price[mine] += shelf.price[one.options[:, i]]
    height, projection, deviation = (
        np.concatenate([getattr(one, name) for one in found] or [np.zeros(0)])
        for name in ("height", "projection", "deviation")
    )
    beyond, looked_at = min([limit, *(one.beyond for one in found)]), sum(one.looked_at for one in found)
    drafts = Drafts(target, stacks, which, options, codes, height, projection, deviation, price, beyond, looked_at)
    return _ranked(_fewer(drafts.some(np.flatnonzero(deviation <= limit + SUM_NOISE))))


def _fewer(drafts: Drafts) -> Drafts:
    """The same, but of very many only the nearest, and the nearest of each size of the rest."""
    if len(drafts) <= MOST_DRAFTS:
        return drafts
    half = MOST_DRAFTS // 2
    order = np.argsort(drafts.deviation, kind="stable")
    sizes = [(size[order[half:]] / RIPPED_TO).round() for size in (drafts.height, drafts.projection)]
    first, _ = distinct(*sizes)
    kept = np.zeros(len(drafts), dtype=bool)
    kept[order[:half]] = True
    kept[order[half + np.sort(first)[:half]]] = True
    beyond = min(drafts.beyond, float(drafts.deviation[~kept].min()))
    return replace(drafts.some(np.flatnonzero(kept)), beyond=beyond)


def _ranked(drafts: Drafts) -> Drafts:
    """The same by deviation, then number of profiles, price and codes."""
    different = (np.diff(np.sort(drafts.codes, axis=1), axis=1, prepend=-1) > 0).sum(axis=1)
    by_code = drafts.codes.T[::-1]
    return drafts.some(np.lexsort((*by_code, drafts.price.round(6), different, drafts.deviation.round(6))))
