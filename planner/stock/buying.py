"""What to buy: of all that misses as little, the fewest different profiles, and of those what costs least.

The items are bought one after the other, many choices side by side. A choice that cannot come to less than the best one
known is dropped. Where too many are left, the most hopeful are carried on, and the least that those left out could come
to bounds how good the answer is.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from math import ceil, inf

import numpy as np

from planner.stock.arrays import Floats, Truths, Whole, Words, distinct, packed, unpacked
from planner.stock.market import Chosen, Market, Offers, market_of
from planner.stock.program import UNREAD, Rules

MOST_CHOICES = (30, 200, 1_200, 4_000)
"""How many choices are carried on from item to item, in one attempt after the other, each with what the last found."""
UNPROVABLE = (60,)
"""How many where not all offers are weighed, so that nothing can be proved."""
MOST_WORK = 4_000_000
"""How many choices times offers of all items an attempt may be worth."""
FEW_CHOICES, HOPEFUL = 60, 4
"""By how many profiles a choice may be from its proof for another attempt to be worth it after one with more than a few
choices."""
MOST_PAIRS = 24
"""How many pairs of a choice and an offer of the next item are looked into for each choice that is carried on."""


@dataclass(frozen=True)
class Bought:
    """The offer of each item; that no choice takes fewer profiles than `fewest`; whether none is proved better."""

    rows: tuple[int, ...]
    fewest: int
    proved: bool


def buy(
    offers: Sequence[Offers],
    rules: Rules,
    misses: int,
    giving: int,
    first: Sequence[int],
    *,
    complete: bool = True,
    thorough: bool = True,
) -> Bought:
    """The offers that take the fewest profiles, then cost least, and keep the rules.

    Parameters
    ----------
    offers : what each item may be bought as.
    rules : what must hold between their sizes.
    misses, giving : what all may miss, in sixteenths, and how much may give way (program.Fit).
    first : offers that keep all that, to begin with.
    complete : whether the offers are all that there are, so that what is found among them may be proved.
    thorough : whether a proof is worth the work.
    """
    market = market_of(offers, rules, misses, giving, first)
    provable = complete and market.complete and thorough
    best, bound = market.chosen(first), 0.0
    for most in MOST_CHOICES if provable else UNPROVABLE:
        below = market.below(best.cost)
        if below is None:
            bound = best.cost
            break
        if most * sum(map(len, below.lots)) > MOST_WORK:
            break
        found, least = _least(below, best.cost, most)
        best, bound = found or best, max(bound, least)
        if bound >= best.cost or (most > FEW_CHOICES and best.cost - bound > HOPEFUL * market.weight):
            break
    return Bought(
        rows=best.rows,
        fewest=market.fewest(min(bound, best.cost)) if provable else 0,
        proved=provable and bound >= best.cost,
    )


@dataclass(frozen=True)
class _Choices:
    """Choices for the items that are bought already, side by side.

    Parameters
    ----------
    used : the profiles that each takes, of those that items to come may take too.
    cost : what each comes to.
    least : what each of the items to come adds at least.
    misses, giving : by how much each misses so far, and how much of it gives way.
    size : the sizes of the items that rules read (Market.sized), -1 of one that none reads any more.
    read : which steps read already.
    """

    used: Words
    cost: Floats
    least: Floats
    misses: Whole
    giving: Whole
    size: Whole
    read: Truths

    def __len__(self) -> int:
        return len(self.cost)

    def some(self, which: Whole) -> "_Choices":
        """Some of the choices, in the order given."""
        return _Choices(*(getattr(self, field.name)[which] for field in fields(self)))


@dataclass(frozen=True)
class _Turn:
    """The item that is bought next, those before it and those to come."""

    item: int
    before: frozenset[int]
    to_come: tuple[int, ...]


def _least(market: Market, best: float, most: int) -> tuple[Chosen | None, float]:
    """The choice that comes to least, None where none that is found comes to less than the best one known; and what
    any comes to at least."""
    order = _order(market)
    choices = _begun(market, order)
    trail: list[tuple[Whole, Whole]] = []
    limit, left_out = best - 1, inf
    for step, item in enumerate(order):
        if not len(choices):
            break
        turn = _Turn(item, frozenset(order[:step]), tuple(order[step + 1 :]))
        parent, offer, beyond = _pairs(market, choices, turn, limit, MOST_PAIRS * most)
        left_out = min(left_out, beyond)
        grown, kept, anew = _grown(market, choices, turn, parent, offer)
        choices, which, beyond = _carried(market, grown, anew, turn, limit, most)
        left_out = min(left_out, beyond)
        trail.append((parent[kept[which]], offer[kept[which]]))
    found = Chosen(_rows(market, order, trail), float(choices.cost[0])) if len(choices) else None
    cost = found.cost if found else best
    return found, cost if left_out == inf else min(cost, ceil(left_out))


def _order(market: Market) -> list[int]:
    """The order in which items are bought: next is always the one after which the choices have least in common with
    the items to come, so that few need be told apart. What there is no choice about is left out."""
    left = [at for at, lot in enumerate(market.lots) if len(lot) > 1 or lot.may_use.any() or at in market.sized]
    uses = np.array([lot.may_use for lot in market.lots])
    users = uses.sum(axis=0)
    order: list[int] = []
    bought = np.zeros(uses.shape[1], dtype=bool)
    while left:
        in_common = ((bought | uses[left]) & (users - uses[left] > 0)).sum(axis=1).tolist()
        _, _, item = min(zip(in_common, (len(market.lots[at]) for at in left), left, strict=True))
        order.append(item)
        left.remove(item)
        bought |= uses[item]
        users = users - uses[item]
    return order


def _begun(market: Market, order: Sequence[int]) -> _Choices:
    """The one choice before any item is bought but those that are not in the order; none if these miss too much."""
    settled = [market.lots[at] for at in sorted(set(range(len(market.lots))) - set(order))]
    begun = _Choices(
        used=packed(np.zeros((1, market.shares.shape[1]), dtype=bool)),
        cost=np.array([sum(float(lot.cents[0]) for lot in settled)]),
        least=np.array([[bound.alone.min() for bound in market.bounds]]),
        misses=np.array([sum(int(lot.misses[0]) for lot in settled)]),
        giving=np.array([sum(int(lot.giving[0]) for lot in settled)]),
        size=np.full((1, len(market.sized)), -1),
        read=np.zeros((1, len(market.steps)), dtype=bool),
    )
    return begun.some(np.flatnonzero((begun.misses <= market.misses) & (begun.giving <= market.giving)))


def _pairs(market: Market, choices: _Choices, turn: _Turn, limit: float, most: int) -> tuple[Whole, Whole, float]:
    """The choices and the offers of the next item that together may come to no more than a limit, at most so many of
    the most hopeful; and what those left out come to at least.

    A profile that is taken anew may spare the items to come their shares of it, but no more. What an offer adds is the
    same for all choices that take the same of the profiles that the item may take.
    """
    lot, to_come = market.lots[turn.item], list(turn.to_come)
    profiles = np.flatnonzero(lot.may_use)
    new = lot.uses[:, profiles] * (market.weight - market.shares[to_come].sum(axis=0))[profiles]
    first, kind_of = distinct(*(choices.used & packed(lot.may_use[None, :])).T, np.zeros(len(choices)))
    in_use = unpacked(choices.used[first], len(lot.may_use))[:, profiles]
    adds = (lot.cents + new.sum(axis=1)) - in_use @ new.T
    so_far = choices.cost + choices.least[:, to_come].sum(axis=1)
    room = np.full(len(first), -inf)
    np.maximum.at(room, kind_of, limit - so_far)
    kinds, offers = np.nonzero(adds <= room[:, None])
    choice, offer = _each(kinds, offers, kind_of)
    least = so_far[choice] + adds[kind_of[choice], offer]
    hopeful = np.flatnonzero(least <= limit)
    order = hopeful[np.lexsort((offer[hopeful], choice[hopeful], least[hopeful]))]
    beyond = float(least[order[most]]) if len(order) > most else inf
    return choice[order[:most]], offer[order[:most]], beyond


def _each(kinds: Whole, offers: Whole, kind_of: Whole) -> tuple[Whole, Whole]:
    """Of pairs of a kind of choice and an offer, the pairs of a choice of that kind and the offer."""
    by_kind = np.argsort(kind_of, kind="stable")
    counts = np.bincount(kind_of, minlength=1)
    starts, many = np.cumsum(counts) - counts, counts[kinds]
    within = np.arange(many.sum()) - np.repeat(np.cumsum(many) - many, many)
    return by_kind[np.repeat(starts[kinds], many) + within], np.repeat(offers, many)


def _grown(
    market: Market, choices: _Choices, turn: _Turn, parent: Whole, offer: Whole
) -> tuple[_Choices, Whole, Words]:
    """The choices that pairs of a choice and an offer make, which pairs these are, and what profiles they take anew.

    They keep the rules so far; of those that are alike for all items to come only the one that costs least is kept.
    """
    lot, to_come = market.lots[turn.item], [market.lots[at] for at in turn.to_come]
    agree, read, unread, size = _kept(market, turn, choices.size[parent], choices.read[parent], lot.size[offer])
    misses = choices.misses[parent] + lot.misses[offer]
    giving = choices.giving[parent] + lot.giving[offer] + UNREAD * unread
    agree &= misses + sum(int(lot.misses.min()) for lot in to_come) <= market.misses
    agree &= giving + sum(int(lot.giving.min()) for lot in to_come) <= market.giving
    used, takes = choices.used[parent], lot.words[offer]
    anew = takes & ~used
    cost = choices.cost[parent] + lot.cents[offer] + market.weight * np.bitwise_count(anew).sum(axis=1)
    may_use = np.any([lot.may_use for lot in to_come] or [np.zeros_like(lot.may_use)], axis=0)
    used = (used | takes) & packed(may_use[None, :])
    pairs = np.flatnonzero(agree)
    pairs = pairs[np.lexsort((offer[pairs], parent[pairs], cost[pairs]))]
    first, _ = distinct(*(column[pairs] for column in (*used.T, *read.T, *size.T, misses, giving)))
    pairs = pairs[np.sort(first)]
    least = choices.least[parent[pairs]]
    grown = _Choices(used[pairs], cost[pairs], least, misses[pairs], giving[pairs], size[pairs], read[pairs])
    return grown, pairs, anew[pairs]


def _kept(market: Market, turn: _Turn, size: Whole, read: Truths, own: Whole) -> tuple[Truths, Truths, Whole, Whole]:
    """Whether the sizes of the items bought so far agree, which steps read by them, how many cannot any more, and the
    sizes that rules may still read; `own` are the sizes of the next item."""
    agree, unread = np.ones(len(size), dtype=bool), np.zeros(len(size), dtype=np.int64)
    column = {item: at for at, item in enumerate(market.sized)}
    bought = turn.before | {turn.item}
    if turn.item in column:
        size[:, column[turn.item]] = own
    for low, high, kept in market.orders:
        if turn.item in (low, high) and {low, high} <= bought:
            agree &= kept[size[:, column[low]], size[:, column[high]]]
    for at, step in enumerate(market.steps):
        for low, high, reads in step:
            if turn.item in (low, high) and {low, high} <= bought:
                read[:, at] |= reads[size[:, column[low]], size[:, column[high]]]
        items = {item for low, high, _ in step for item in (low, high)}
        if turn.item in items <= bought:
            unread += ~read[:, at]
    still = {at for low, high, _ in market.agreements if {low, high} & set(turn.to_come) for at in (low, high)}
    size[:, [column[item] for item in column if item not in still]] = -1
    return agree, read, unread, size


def _carried(
    market: Market, grown: _Choices, anew: Words, turn: _Turn, limit: float, most: int
) -> tuple[_Choices, Whole, float]:
    """The choices that may come to no more than a limit, at most so many of the most hopeful, which they are, and what
    those left out come to at least."""
    least = grown.least
    for at in turn.to_come:
        spared = np.flatnonzero((anew & market.bounds[at].mask).any(axis=1))
        if len(spared):
            least[spared, at] = market.bounds[at].adds(grown.used[spared])
    whole = grown.cost + least[:, list(turn.to_come)].sum(axis=1)
    order = np.argsort(whole, kind="stable")
    order = order[whole[order] <= limit]
    beyond = float(whole[order[most]]) if len(order) > most else inf
    return replace(grown, least=least).some(order[:most]), order[:most], beyond


def _rows(market: Market, order: Sequence[int], trail: Sequence[tuple[Whole, Whole]]) -> tuple[int, ...]:
    """The rows of the first choice at the end of a trail of parents and offers."""
    found, at = {item: int(lot.rows[0]) for item, lot in enumerate(market.lots)}, 0
    for item, (parent, offer) in zip(reversed(order), reversed(trail), strict=True):
        found[item] = int(market.lots[item].rows[offer[at]])
        at = int(parent[at])
    return tuple(found.values())
