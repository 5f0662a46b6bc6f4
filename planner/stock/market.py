"""What a choice is made from: the offers of all items, those left out that cannot be of use, and what they come to at
least.

The fewest profiles outweigh whatever prices may differ by: a choice comes to its cents and, for each different profile
that it takes, to a weight that is more than all cents together can differ.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from math import ceil, inf
from typing import Any, TypeAlias

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_array

from planner.stock.arrays import Floats, Truths, Whole, Words, distinct, packed, unpacked
from planner.stock.program import SIZES, UNREAD, Rules, Size

MOST_OFFERS = 6_000
"""How many offers of all items together are weighed."""
MOST_CENTS = 10**8
"""What is dearer counts as dear as this."""
GRAIN = 64
"""Parts of a cent that shares are whole numbers of, so that their sums are exact in whatever order they are added."""


@dataclass(frozen=True)
class Offers:
    """What an item may be bought as, a row each.

    `codes` are the numbers of its profiles, -1 for none; `cents` its price, `misses` by how much it misses, in
    sixteenths, `giving` how many elements must be made to order: each for all packages that share the item. Sizes
    are inches; `roles` are those of the roles that rules read (program.Size).
    """

    codes: Whole
    cents: Whole
    misses: Whole
    giving: Whole
    height: Floats
    projection: Floats
    roles: Mapping[str, Floats] = field(default_factory=dict)

    def measures(self, size: Size) -> Floats:
        """What each measures in a size [in]."""
        return self.roles[size] if size in self.roles else np.asarray(getattr(self, size))

    def __len__(self) -> int:
        return len(self.cents)


@dataclass(frozen=True)
class Lot:
    """The offers of an item that are still weighed.

    Parameters
    ----------
    rows : which rows of Offers they are.
    uses : the profiles that each takes, beside those that every choice takes.
    cents : what each costs more than the cheapest.
    misses, giving : as in Offers.
    size : which of the sizes that rules read it is.
    """

    rows: Whole
    uses: Truths
    cents: Floats
    misses: Whole
    giving: Whole
    size: Whole

    def __len__(self) -> int:
        return len(self.rows)

    def some(self, which: Whole) -> "Lot":
        """Some of the offers, in the order given."""
        return Lot(*(getattr(self, column.name)[which] for column in fields(self)))

    @cached_property
    def words(self) -> Words:
        """The profiles that each takes, as bits."""
        return packed(self.uses)

    @cached_property
    def may_use(self) -> Truths:
        """The profiles that any of them takes."""
        return np.asarray(self.uses.any(axis=0))

    def alone(self, share: Floats) -> Floats:
        """What each comes to by its cents and the shares of its profiles alone."""
        return np.asarray(self.cents + self.uses @ share, dtype=np.float64)


Agreement: TypeAlias = tuple[int, int, Truths]
"""Two items, the lower and the higher, and by which sizes of the two, in rows and columns, a rule is kept."""


@dataclass(frozen=True)
class Chosen:
    """A row of Offers for each item, and what they come to."""

    rows: tuple[int, ...]
    cost: float


@dataclass(frozen=True)
class Market:
    """What is weighed.

    Parameters
    ----------
    lots : the offers of each item.
    shares : what of each profile's weight falls on each item that may take it.
    weight : what a profile counts. [cents]
    taken : how many profiles every choice takes.
    misses, giving : what all may miss, in sixteenths, and how much may give way.
    orders, steps : by which sizes rules are kept; of each step one pair must keep it, or it gives way.
    complete : whether this is all that was offered.
    """

    lots: tuple[Lot, ...]
    shares: Floats
    weight: float
    taken: int
    misses: int
    giving: int
    orders: tuple[Agreement, ...]
    steps: tuple[tuple[Agreement, ...], ...]
    complete: bool

    @property
    def agreements(self) -> tuple[Agreement, ...]:
        """Every pair of items whose sizes a rule reads."""
        return (*self.orders, *(pair for step in self.steps for pair in step))

    @cached_property
    def sized(self) -> tuple[int, ...]:
        """The items whose sizes a rule reads."""
        return tuple(sorted({item for low, high, _ in self.agreements for item in (low, high)}))

    @cached_property
    def bounds(self) -> tuple["Bound", ...]:
        """What each item adds at least."""
        return tuple(_bound(lot, share) for lot, share in zip(self.lots, self.shares, strict=True))

    def chosen(self, rows: Sequence[int]) -> Chosen:
        """A choice by its rows."""
        places = [int(np.flatnonzero(lot.rows == row)[0]) for lot, row in zip(self.lots, rows, strict=True)]
        used = np.any([lot.uses[at] for lot, at in zip(self.lots, places, strict=True)], axis=0)
        cents = sum(float(lot.cents[at]) for lot, at in zip(self.lots, places, strict=True))
        return Chosen(tuple(rows), cents + self.weight * int(used.sum()))

    def fewest(self, cost: float) -> int:
        """How many profiles a choice takes at least that comes to so much or more."""
        return self.taken + max(ceil((cost - (self.weight - 1)) / self.weight), 0)

    def below(self, best: float) -> "Market | None":
        """The market without offers that no choice takes that comes to less than the best; None where none does."""
        alone = [lot.alone(share) for lot, share in zip(self.lots, self.shares, strict=True)]
        spare = best - 1 - sum(float(costs.min()) for costs in alone)
        if spare < 0:
            return None
        lots = (lot.some(np.flatnonzero(c - c.min() <= spare)) for lot, c in zip(self.lots, alone, strict=True))
        return replace(self, lots=tuple(lots))


@dataclass(frozen=True)
class Bound:
    """What an item adds to a choice at least: its cheapest offer alone, less the shares of profiles in use already.

    `profiles` are those of which it has a share, `mask` the same as bits, `saved` what each offer saves by each.
    """

    profiles: Truths
    mask: Words
    alone: Floats
    saved: Floats

    def adds(self, used: Words) -> Floats:
        """What the item adds to each choice, by the profiles that it has in use."""
        if not self.profiles.any():
            return np.full(len(used), self.alone.min())
        first, which = distinct(*(used & self.mask).T)
        in_use = unpacked(used[first], len(self.profiles))[:, self.profiles]
        return np.asarray((self.alone - in_use @ self.saved.T).min(axis=1)[which])


def market_of(offers: Sequence[Offers], rules: Rules, misses: int, giving: int, first: Sequence[int]) -> Market:
    """The market of some offers, which may miss and give way so much in all; the `first` rows are always among them."""
    kept = _popular(offers, first)
    numbers = np.unique(np.concatenate([of.codes[rows].ravel() for of, rows in zip(offers, kept, strict=True)]))
    numbers = numbers[numbers >= 0]
    lots, sizes = [], []
    for at, (of, rows) in enumerate(zip(offers, kept, strict=True)):
        size, measures = _sizes(of, rows, rules.sizes_read(at))
        sizes.append(measures)
        uses = np.asarray((of.codes[rows][:, :, None] == numbers).any(axis=1))
        cents = of.cents[rows].astype(np.float64)
        lots.append(Lot(rows, uses, cents - cents.min(), of.misses[rows], of.giving[rows], size))
    weight = 1.0 + sum(float(lot.cents.max()) for lot in lots)
    orders, steps = _agreements(rules, sizes)
    lots, taken = _reduced(lots, first)
    return Market(
        lots=tuple(lots),
        shares=_shares(lots, weight),
        weight=weight,
        taken=taken,
        misses=misses,
        giving=giving - UNREAD * sum(not step for step in rules.steps),  # what nothing can show stays unread
        orders=orders,
        steps=steps,
        complete=all(len(rows) == len(of) for rows, of in zip(kept, offers, strict=True)),
    )


# Which offers are weighed


def _popular(offers: Sequence[Offers], first: Sequence[int]) -> list[Whole]:
    """The rows that are weighed: all, or, where they are too many, those whose profiles most items may take."""
    share = _share([len(of) for of in offers], MOST_OFFERS)
    users = np.zeros(max(int(of.codes.max(initial=0)) for of in offers) + 2)
    for of in offers:
        users[np.unique(of.codes)] += 1
    users[-1] = inf  # no profile, numbered -1
    kept = []
    for of, row in zip(offers, first, strict=True):
        order = np.arange(len(of))
        if len(of) > share:
            order = np.lexsort((of.cents, (1 / users[of.codes]).sum(axis=1)))[:share]
        kept.append(np.union1d(order, [row]))
    return kept


def _share(counts: Sequence[int], most: int) -> int:
    """How many of each there may be, so that they come to no more than so many in all.

    >>> _share([10, 500, 1000], 1010)
    500
    """
    left = most
    for at, count in enumerate(sorted(counts)):
        share = left // (len(counts) - at)
        if count > share:
            return share
        left -= count
    return max(counts)


def _sizes(offers: Offers, rows: Whole, read: Sequence[Size]) -> tuple[Whole, dict[Size, Floats]]:
    """Which size each offer is, of those that rules read, and what these measure [in]."""
    columns = [offers.measures(size)[rows].round(6) for size in read] or [np.zeros(len(rows))]
    first, which = distinct(*columns)
    return which, {size: offers.measures(size)[rows][first] for size in (*SIZES, *offers.roles)}


def _agreements(
    rules: Rules, sizes: Sequence[dict[Size, Floats]]
) -> tuple[tuple[Agreement, ...], tuple[tuple[Agreement, ...], ...]]:
    """The orders, and the pairs of each step, by which sizes keep them; without those that all sizes keep."""
    orders = tuple(
        (low, high, kept)
        for low, high, size in rules.orders
        if not (kept := rules.ordered(size, sizes[low][size][:, None], sizes[high][size][None, :])).all()
    )
    steps = (
        tuple((low, high, rules.reads(sizes[low]["height"][:, None], sizes[high]["height"])) for low, high in step)
        for step in rules.steps
        if step
    )
    return orders, tuple(step for step in steps if not any(read.all() for _, _, read in step))


def _reduced(lots: list[Lot], first: Sequence[int]) -> tuple[list[Lot], int]:
    """The lots without the profiles that every choice takes, and how many these are; and without offers that others
    beat whatever else is chosen."""
    taken = 0
    while True:
        users = np.sum([lot.may_use for lot in lots], axis=0)
        lots = [_unbeaten(lot, users - lot.may_use > 0, row) for lot, row in zip(lots, first, strict=True)]
        forced = np.any([lot.uses.all(axis=0) for lot in lots], axis=0)
        if not forced.any():
            return lots, taken
        taken += int(forced.sum())
        lots = [replace(lot, uses=lot.uses[:, ~forced]) for lot in lots]


def _unbeaten(lot: Lot, shared: Truths, first: int) -> Lot:
    """Of the offers that take the same of the profiles that others may take too, and are as large, the one that takes
    fewest others, then the cheapest."""
    own = (lot.uses & ~shared).sum(axis=1)
    _, same = distinct(*packed(lot.uses & shared).T, lot.size, lot.misses, lot.giving)
    order = np.lexsort((lot.cents, own, same))
    leads = order[np.diff(same[order], prepend=-1) > 0]
    return lot.some(np.union1d(leads, np.flatnonzero(lot.rows == first)))


# What they come to at least


def _shares(lots: Sequence[Lot], weight: float) -> Floats:
    """What of each profile's weight falls on each item that may take it.

    Notes
    -----
    So long as the shares of no profile come to more than its weight, all items together come to no less than the sum
    of what each comes to alone. The shares that make that sum greatest are the duals of the program without whole
    numbers: least cents and weights of profiles, one offer for each item, and each profile taken that an offer takes.
    """
    counts = [len(lot) for lot in lots]
    offers, profiles = sum(counts), lots[0].uses.shape[1]
    shares = np.zeros((len(lots), profiles))
    if not profiles:
        return shares
    starts = np.cumsum([0, *counts])
    pairs = np.argwhere([lot.may_use for lot in lots])
    place = np.full(shares.shape, -1)
    place[pairs[:, 0], pairs[:, 1]] = np.arange(len(pairs))
    rows, columns = [np.arange(len(pairs))], [offers + pairs[:, 1]]
    for at, lot in enumerate(lots):
        offer, profile = np.nonzero(lot.uses)
        rows.append(place[at, profile])
        columns.append(starts[at] + offer)
    values = np.repeat([-1.0, 1.0], [len(pairs), sum(map(len, rows[1:]))])
    width = offers + profiles
    linked: Any = csr_array((values, (np.concatenate(rows), np.concatenate(columns))), shape=(len(pairs), width))
    of_item = (np.repeat(np.arange(len(lots)), counts), np.arange(offers))
    one: Any = csr_array((np.ones(offers), of_item), shape=(len(lots), width))
    cost = np.concatenate([*(lot.cents for lot in lots), np.full(profiles, weight)])
    solved: Any = linprog(cost, linked, np.zeros(len(pairs)), one, np.ones(len(lots)), bounds=(0, None), method="highs")
    if solved.status == 0:
        shares[pairs[:, 0], pairs[:, 1]] = np.maximum(-solved.ineqlin.marginals, 0.0)
    fair = shares * np.minimum(weight / np.maximum(shares.sum(axis=0), weight), 1.0)
    return np.asarray(np.floor(fair * GRAIN) / GRAIN)


def _bound(lot: Lot, share: Floats) -> Bound:
    """The bound of an item; of offers that take the same of the profiles that it has a share of, only the cheapest
    counts."""
    profiles = lot.may_use & (share > 0)
    order = np.argsort(lot.cents, kind="stable")
    first, _ = distinct(*packed(lot.uses[order][:, profiles]).T, np.zeros(len(lot)))
    cheapest = lot.some(order[first])
    saved = cheapest.uses[:, profiles] * share[profiles]
    return Bound(profiles, packed(profiles[None, :]), cheapest.alone(share), saved)
