"""What each item may be bought as, as far as it has been looked for, and how large everything is to be.

The search goes no farther for an item than it must: what is not known of it yet stands in the program as a row that
misses as little as anything unknown may, and that is of any size. Where such a row is of use, the search goes on.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import inf

import numpy as np

from planner.library import Library
from planner.stock.arrays import Floats, Truths, Whole, distinct
from planner.stock.built_ups import SUM_NOISE, Target, falls_short, is_sound
from planner.stock.laying import runs_differ
from planner.stock.program import ABSENT, SIZES, WHOLE_NOISE, Fit, Rules, Size, Sizes, beyond_least, fit
from planner.stock.search import Drafts, search
from planner.stock.stock import Stock

SIXTEENTH = 1 / 16
"""Deviations are counted in whole sixteenths of an inch, the shop's fraction: what differs by less is the same."""
FARTHEST = 4.0
"""What misses its target by so much more than the best for it does is no choice at all [in]."""
ALLOWANCES = (0.0625, 0.25, 1.0, FARTHEST, inf)
"""How far beyond the nearest assembly of a target the search looks, until it need not look farther [in]."""
FEW_ASSEMBLIES = 10_000
"""Of how many assemblies that there may be of an item all are looked for at once, if any must."""
MOST_DOUBTED = 500
"""How many assemblies of an item are held against the rules of the mouldings in one turn."""
MOST_SIZES = 240
"""How many sizes of an item the program weighs."""

ON_COUNTER = 20
"""How many profiles of each role are laid out where the stock is too large."""

UNKNOWN, TO_ORDER = -1, -2
"""Instead of a row of drafts: what is not known yet; what is made to order as the target asks."""


@dataclass(frozen=True)
class Item:
    """What is to be bought for one target: the packages, by number, whose elements ask for it, and what it asks."""

    target: Target
    packages: tuple[int, ...]
    thickness: float


# What is known of an item


@dataclass(frozen=True, eq=False)
class Known:
    """What is known of what an item may be built of.

    Parameters
    ----------
    item : the item.
    drafts : what was found, the nearest first.
    farther : the allowances that the search has not gone to yet. [in]
    ruled_out : whether each draft is known to break a rule of the mouldings.
    nearest : by how much the nearest sound one misses, None where none is known. [in]
    """

    item: Item
    drafts: Drafts
    farther: tuple[float, ...]
    ruled_out: Truths
    nearest: float | None

    @cached_property
    def misses(self) -> Whole:
        """By how much each draft misses, in sixteenths."""
        return sixteenths(self.drafts.deviation)

    @cached_property
    def usable(self) -> Whole:
        """The drafts that may be chosen."""
        if self.nearest is None:
            return np.zeros(0, dtype=np.int64)
        near = self.drafts.deviation <= self.nearest + FARTHEST + SUM_NOISE
        return np.flatnonzero(near & ~self.ruled_out)

    @property
    def unknown(self) -> int | None:
        """What is not known misses by at least so many sixteenths; None where it is too far off to be a choice."""
        beyond = self.drafts.beyond
        if beyond == inf or (self.nearest is not None and beyond > self.nearest + FARTHEST):
            return None
        return int(sixteenths(np.array([beyond]))[0])


def sixteenths(deviation: Floats) -> Whole:
    """Deviations [in] in whole sixteenths, halves up."""
    return np.floor(deviation / SIXTEENTH + 0.5).astype(np.int64)


def known_of(item: Item, stock: Stock, library: Library) -> Known:
    """What the shortest search finds for an item.

    Where nothing sound can be had, it does without its enrichments, or else without the order's shares. Another family
    serves where the item's own has nothing sound, or the house's falls short where another does not.
    """
    asked = item.target if runs_differ(item.target, stock, library) else replace(item.target, run="")
    yielding = (asked, replace(asked, enrichments=()), replace(asked, loose=True))
    for target in dict.fromkeys((*yielding, replace(asked, enrichments=(), loose=True))):
        own = _searched(replace(item, target=target), ALLOWANCES, None, stock, library)
        if (target.run or target.family) and (own.nearest is None or (target.run and _is_short(own, library))):
            free = replace(target, run="", family=target.family if own.nearest is not None else "")
            other = _searched(replace(item, target=free), ALLOWANCES, None, stock, library)
            if other.nearest is not None and (own.nearest is None or not _is_short(other, library)):
                return other
        if own.nearest is not None:
            return own
    return own


def _is_short(known: Known, library: Library) -> bool:
    """Whether the nearest sound draft of an item falls short of its target."""
    row = int(np.flatnonzero(~known.ruled_out)[0])
    return any(falls_short(known.item.target, known.drafts.assembly(row, library), library))


def _searched(
    item: Item, allowances: tuple[float, ...], before: Drafts | None, stock: Stock, library: Library
) -> Known:
    """What a search within the first of some allowances finds; where nothing of it is sound, within the next."""
    allowance, *rest = allowances
    drafts = search(item.target, stock, library, allowance)
    ended = len(drafts) == 0 or drafts.beyond < drafts.deviation.min() + allowance
    farther = () if ended else tuple(rest)
    drafts = drafts if before is None else drafts.joined(before)
    ruled_out = np.zeros(len(drafts), dtype=bool)
    for row in range(min(len(drafts), MOST_DOUBTED)):
        if is_sound(drafts.assembly(row, library)):
            return Known(item, drafts, farther, ruled_out, float(drafts.deviation[row]))
        ruled_out[row] = True
    if farther and len(drafts) <= MOST_DOUBTED:
        return _searched(item, farther, drafts, stock, library)
    return Known(item, drafts, (), ruled_out, None)


def _farther(known: tuple[Known, ...], which: Collection[int], stock: Stock, library: Library) -> tuple[Known, ...]:
    """The same with more known of some items, where there is more to look for; of few assemblies at once all."""
    found = []
    for at, one in enumerate(known):
        if at in which and one.farther:
            few = sum(stack.count for stack in one.drafts.stacks) <= FEW_ASSEMBLIES
            allowances = tuple(a for a in one.farther if a >= FARTHEST) if few else one.farther
            one = _searched(one.item, allowances, one.drafts, stock, library)
        found.append(one)
    return tuple(found)


# How large everything is to be


@dataclass(frozen=True)
class Settled:
    """How large everything is to be.

    Parameters
    ----------
    known : what is known of each item.
    drafts : which of its drafts each item takes, or TO_ORDER.
    giving, misses : how much gives way (Fit.giving), and by how much all miss, in sixteenths.
    bound : what all miss at least, in sixteenths, whatever is not known.
    yielding : whether rules had to give way.
    proved : whether it is proved that no sizes give way less, or as much and miss less.
    useful : for each item the drafts, and TO_ORDER, that may stand in a choice that misses as little.
    loose : the items of which something unknown may be of use.
    """

    known: tuple[Known, ...]
    drafts: tuple[int, ...]
    giving: int
    misses: int
    bound: int
    yielding: bool
    proved: bool
    useful: tuple[Whole, ...]
    loose: frozenset[int]


def settle(
    items: Sequence[Item], rules: Rules, stock: Stock, library: Library, before: Settled | None = None
) -> Settled:
    """The sizes that keep the rules and miss least, looked for no farther than needed; what was known before, under
    other rules, is known still.

    Where the stock is too large to know all that is of use, it is then looked for among the profiles that most of what
    is known takes, so that items are known to share them.
    """
    known = before.known if before and not before.loose else (known_of(item, stock, library) for item in items)
    settled = _settle(tuple(known), rules, stock, library)
    if not settled.loose:
        return settled
    again = _settle(_laid_out(settled, stock, library), rules, stock, library)
    return replace(again, loose=settled.loose)


def _settle(known: tuple[Known, ...], rules: Rules, stock: Stock, library: Library) -> Settled:
    """Every turn rules out what is unsound, or goes farther for some items, or lets rules give way, or is the last."""
    yielding, sure = False, True
    while True:
        attempt = _attempt(known, rules, yielding)
        if attempt is None:
            yielding = True
            continue
        if attempt.found is not None:
            sound = _ruled_out(known, attempt.tables, attempt.found, library)
            if sound != known:
                known = sound
                continue
        settled = _settled(known, attempt, rules, yielding, sure) if attempt.proved else None
        farther = _farther(known, settled.loose if settled else attempt.unknown, stock, library)
        if farther != known:
            known = farther
        elif attempt.found is not None:
            return settled or _settled(known, attempt, rules, yielding, sure)
        else:
            yielding, sure = True, False


def _laid_out(settled: Settled, stock: Stock, library: Library) -> tuple[Known, ...]:
    """What is known of each item; of those of which not all is known what can be built of some profiles only."""
    only = _counter(settled, stock)
    known = []
    for at, (one, draft) in enumerate(zip(settled.known, settled.drafts, strict=True)):
        if at in settled.loose and draft >= 0:
            found = search(one.item.target, stock, library, ALLOWANCES[0], only)
            drafts = replace(found.joined(one.drafts.some(np.array([draft]))), beyond=one.drafts.beyond)
            one = replace(one, drafts=drafts, farther=(), ruled_out=np.zeros(len(drafts), dtype=bool))
        known.append(one)
    return tuple(known)


def _counter(settled: Settled, stock: Stock) -> frozenset[str]:
    """Of each role the profiles that most of what is of use takes, each item counted alike; and all that is taken."""
    counts = np.zeros(len(stock.numbers))
    taken = set()
    for one, rows, draft in zip(settled.known, settled.useful, settled.drafts, strict=True):
        codes = one.drafts.codes[rows[rows >= 0]]
        numbers, often = np.unique(codes[codes >= 0], return_counts=True)
        counts[numbers] += often / max(len(codes), 1)
        taken |= set(one.drafts.codes[draft].tolist()) if draft >= 0 else set()
    found = set()
    for profiles in stock.by_role.values():
        most = sorted(profiles, key=lambda p: (-counts[stock.numbers[p.code]], p.code))
        found |= {p.code for p in most[:ON_COUNTER] if counts[stock.numbers[p.code]] > 0}
    return frozenset(found | {code for code, number in stock.numbers.items() if number in taken})


@dataclass(frozen=True)
class _Table:
    """The sizes that an item may have, a row each, and for each the draft that misses least, TO_ORDER or UNKNOWN.

    `row_of` is the row of each usable draft; UNKNOWN is the last row, if any.
    """

    sizes: Sizes
    drafts: Whole
    row_of: Whole

    @property
    def known(self) -> Sizes:
        """The sizes without what is not known."""
        count = int((self.drafts != UNKNOWN).sum())
        low = {size: values[:count] for size, values in self.sizes.low.items()}
        return Sizes(low, low, self.sizes.misses[:count], self.sizes.to_order[:count])


@dataclass(frozen=True)
class _Attempt:
    """The sizes that miss least if what is not known were of any size, the items of which that needs what is not known,
    and the sizes of what is known that miss least, None where none keep the rules."""

    tables: tuple[_Table, ...]
    ideal: Fit
    unknown: frozenset[int]
    found: Fit | None

    @property
    def proved(self) -> bool:
        """Whether nothing that is not known makes the sizes give way less, or miss less."""
        found, ideal = self.found, self.ideal
        return found is not None and (found.giving, found.misses) <= (ideal.giving, ideal.bound)


def _attempt(known: Sequence[Known], rules: Rules, yielding: bool) -> _Attempt | None:
    """None where no sizes at all keep the rules."""
    tables = tuple(_table(one, rules.sizes_read(at), yielding) for at, one in enumerate(known))
    ideal = fit([table.sizes for table in tables], rules, yielding)
    if ideal is None:
        return None
    unknown = frozenset(at for at, (t, k) in enumerate(zip(tables, ideal.rows, strict=True)) if t.drafts[k] == UNKNOWN)
    found = fit([table.known for table in tables], rules, yielding) if unknown else ideal
    return _Attempt(tables, ideal, unknown, found)


@lru_cache(maxsize=256)
def _table(known: Known, read: tuple[Size, ...], yielding: bool) -> _Table:
    """The sizes of an item that rules read. Of very many some are kept, and the rest counts as not known."""
    sizes = tuple(dict.fromkeys((*SIZES, *read)))
    best, size_of = _sized(known, read)
    kept = _spread(known.misses[best])
    measures = np.array([known.drafts.measures(size)[best[kept]] for size in sizes])
    columns = [(measures, measures, best[kept], known.misses[best[kept]])]
    if yielding or not len(kept):
        asked = np.array([[getattr(known.item.target, size, ABSENT)] for size in sizes])
        columns.append((asked, asked, np.array([TO_ORDER]), np.array([0])))
    unknown = [*known.misses[np.delete(best, kept)].tolist(), *([] if known.unknown is None else [known.unknown])]
    if unknown:
        least, most = np.zeros((len(sizes), 1)), np.full((len(sizes), 1), inf)
        columns.append((least, most, np.array([UNKNOWN]), np.array([min(unknown)])))
    low, high, draft_of, misses = (np.concatenate(part, axis=-1) for part in zip(*columns, strict=True))
    row_of_size = np.full(len(best), len(draft_of) - 1)
    row_of_size[kept] = np.arange(len(kept))
    return _Table(
        sizes=Sizes(
            low=dict(zip(sizes, low, strict=True)),
            high=dict(zip(sizes, high, strict=True)),
            misses=misses,
            to_order=(draft_of == TO_ORDER) & (len(best) > 0),
        ),
        drafts=draft_of,
        row_of=row_of_size[size_of],
    )


def _sized(known: Known, read: tuple[Size, ...]) -> tuple[Whole, Whole]:
    """For each size that the rules read the draft that misses least, and for each usable draft which size it has."""
    usable = known.usable
    nearest_first = np.argsort(known.misses[usable], kind="stable")
    columns = [known.drafts.measures(size)[usable].round(6) for size in read] or [np.zeros(len(usable))]
    first, of_nearest = distinct(*(column[nearest_first] for column in reversed(columns)))
    size_of = np.zeros(len(usable), dtype=np.int64)
    size_of[nearest_first] = of_nearest
    return usable[nearest_first[first]], size_of


def _spread(misses: Whole) -> Whole:
    """Which of many sizes, in their order, are weighed: of each number of sixteenths some, from the least to the
    greatest."""
    if len(misses) <= MOST_SIZES:
        return np.arange(len(misses))
    numbers = np.unique(misses)
    share = max(MOST_SIZES // len(numbers), 2)
    kept = []
    for number in numbers:
        same = np.flatnonzero(misses == number)
        kept.append(same[np.unique(np.linspace(0, len(same) - 1, min(len(same), share)).round().astype(np.int64))])
    return np.sort(np.concatenate(kept))


def _ruled_out(known: tuple[Known, ...], tables: Sequence[_Table], found: Fit, library: Library) -> tuple[Known, ...]:
    """The same, with more ruled out of the items whose draft is unsound."""
    return tuple(
        one if (draft := int(table.drafts[k])) < 0 or _is_sound(one, draft, library) else _held(one, table, library)
        for one, table, k in zip(known, tables, found.rows, strict=True)
    )


def _is_sound(known: Known, draft: int, library: Library) -> bool:
    return is_sound(known.drafts.assembly(draft, library))


def _held(known: Known, table: _Table, library: Library) -> Known:
    """The same, held against the rules of the mouldings: of each size the drafts that come before the first sound one
    are ruled out."""
    ruled_out, doubted = known.ruled_out.copy(), 0
    for row in np.flatnonzero(table.drafts >= 0).tolist():
        same = known.usable[table.row_of == row]
        for draft in same[np.argsort(known.misses[same], kind="stable")].tolist():
            if doubted == MOST_DOUBTED or _is_sound(known, draft, library):
                break
            ruled_out[draft] = True
            doubted += 1
    return replace(known, ruled_out=ruled_out)


def _settled(known: tuple[Known, ...], attempt: _Attempt, rules: Rules, yielding: bool, sure: bool) -> Settled:
    """What an attempt that found sizes comes to."""
    tables, found = attempt.tables, attempt.found or attempt.ideal
    least, raises = beyond_least([table.sizes for table in tables], rules, yielding, found.giving)
    spare = found.misses - least + WHOLE_NOISE
    useful, loose = [], set(attempt.unknown)
    for at, (one, table, raised, k) in enumerate(zip(known, tables, raises, found.rows, strict=True)):
        slack = np.floor((spare - raised) / rules.shares[at])  # what each row may miss more than its best
        most = np.where(raised <= spare, table.sizes.misses + slack, -1)
        drafts = one.usable[one.misses[one.usable] <= most[table.row_of]]
        made = np.flatnonzero((table.drafts == TO_ORDER) & (raised <= spare))
        useful.append(np.union1d(drafts, table.drafts[[*made, k]]))
        if table.drafts[-1] == UNKNOWN and (raised[-1] <= spare or not len(one.usable)):
            loose.add(at)
    return Settled(
        known=known,
        drafts=tuple(int(table.drafts[k]) for table, k in zip(tables, found.rows, strict=True)),
        giving=found.giving,
        misses=found.misses,
        bound=min(attempt.ideal.bound, found.misses),
        yielding=yielding,
        proved=attempt.proved and sure,
        useful=tuple(useful),
        loose=frozenset(loose),
    )
