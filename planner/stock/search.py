"""Built-ups: what an element is made of, found by exact search over the stock. All lengths are inches.

How an element may be built up is in library/built_ups.toml. A built-up is a stack of pieces on the wall; the profiles
that each piece may be made from multiply to many assemblies, and the search keeps those nearest to the target.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache
from math import floor, inf, prod

import numpy as np

from planner.library import table
from planner.mouldings.members import Member, Profile
from planner.mouldings.soundness import faults
from planner.stock.stock import Stock, price_per_foot

CUT = 1 / 16
"""Boards are ripped and plain wall is left to this [in]."""

BEAM = 64
"""How many unfinished assemblies the first, narrow search keeps; it only finds a bound for the full one."""
FINALISTS = 8
"""How many assemblies it then puts together."""

CLOSE = 1e-9


@dataclass(frozen=True)
class Target:
    """What an element asks of the stock.

    Parameters
    ----------
    role : the element, e.g. "base", "crown", "overdoor".
    height : on the wall, or across the face for what goes round an opening [in].
    projection : from the wall [in].
    form : how it is composed, a form of library/forms.toml; any where blank.
    parts : names and heights [in] of what it is composed of.
    within : names and heights [in] of other elements that are counted within this one, e.g. a casing's backband.
    """

    role: str
    height: float
    projection: float
    form: str = ""
    parts: tuple[tuple[str, float], ...] = ()
    within: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Placed:
    """A piece in its place: the foot of its back is at (x, y), x out from the wall and y up from the foot of the whole.

    A `turned` board lies on its flat. `cut` is the width that a piece is ripped to, None where it is used as it comes;
    `part` is the part of the whole that it makes up. [in]
    """

    profile: Profile
    x: float
    y: float
    turned: bool = False
    cut: float | None = None
    part: str = ""

    @cached_property
    def section(self) -> Profile:
        """The profile as it stands there: ripped, and a turned board on its flat."""
        if self.turned:
            member = replace(self.profile.members[0], height=self.height, projection=self.projection)
            return replace(self.profile, height=self.height, projection=self.projection, members=(member,))
        return _ripped(self.profile, self.cut) if self.cut else self.profile

    @property
    def height(self) -> float:
        """How much of the height it takes [in]."""
        return self.profile.projection if self.turned else self.cut or self.profile.height

    @property
    def projection(self) -> float:
        """How deep it is, from its back to its face [in]."""
        return (self.cut or self.profile.height) if self.turned else self.profile.projection

    @property
    def top(self) -> float:
        """Its upper edge above the foot of the whole [in]."""
        return self.y + self.height

    @property
    def reach(self) -> float:
        """How far it reaches from the wall [in]."""
        return self.x + self.projection


@dataclass(frozen=True)
class Assembly:
    """An element made of stock: its pieces, from the bottom up, and what stands before them.

    `height` is of the whole [in]; `projection` is from the wall, a shoe not counted [in]; `thickness` is of the
    thickest piece [in]; `price_per_foot` is in the house's currency; `deviation` is from the target, as
    library/built_ups.toml weighs it [in]; `built_up` names the way it is put together.
    """

    role: str
    built_up: str
    pieces: tuple[Placed, ...]
    height: float
    projection: float
    thickness: float
    price_per_foot: float
    deviation: float

    @cached_property
    def profiles(self) -> tuple[str, ...]:
        """Codes of its profiles, each once, in the order of the pieces."""
        return tuple(dict.fromkeys(p.profile.code for p in self.pieces))

    @cached_property
    def members(self) -> tuple[Member, ...]:
        """What shows of it, from the bottom up; projections are from the wall. Plain wall within it is left out."""
        return tuple(m for run in _runs(self.pieces) for m in run)

    @cached_property
    def parts(self) -> tuple[tuple[str, float], ...]:
        """Its parts and their heights [in], from the bottom up; plain wall is the part "wall"."""
        found: dict[str, float] = {}
        at = 0.0
        for p in stacked(self.pieces):
            if p.y > at + CLOSE:
                found["wall"] = p.y - at
            found[p.part] = found.get(p.part, 0.0) + p.height
            at = p.top
        return tuple(found.items())


@dataclass(frozen=True)
class Piece:
    """A piece of a built-up, as a row of library/built_ups.toml says."""

    part: str
    roles: tuple[str, ...] = ()
    stand: str = "on"
    rip: bool = False
    fill: bool = False
    turned: bool = False
    gap: tuple[float, float] | None = None
    past: float | None = None
    short: float | None = None
    least: float = 0.0
    holds: tuple[tuple[str, int], ...] = ()
    only: tuple[str, ...] = ()
    mirrored: bool = False
    if_within: bool = False

    def suits(self, profile: Profile) -> bool:
        """Whether it may be made from a profile of the right role."""
        kinds = [m.kind for m in profile.members]
        return (
            all(kinds.count(kind) == count for kind, count in self.holds)
            and (not self.only or set(kinds) <= set(self.only))
            and (not self.mirrored or (len(kinds) > 1 and kinds == kinds[::-1]))
            and (not (self.rip or self.turned) or profile.height >= self.least)
        )


@dataclass(frozen=True)
class BuiltUp:
    """A way to put an element together, a row of library/built_ups.toml."""

    name: str
    elements: tuple[str, ...]
    forms: tuple[str, ...]
    pieces: tuple[Piece, ...]
    source: str
    reach: bool = True
    planted: bool = False
    height: float = 0.0


def best(target: Target, stock: Stock, count: int = 2) -> tuple[Assembly, ...]:
    """The assemblies of stock that come nearest to a target: the best, then the runners-up.

    Parameters
    ----------
    target : what is wanted.
    stock : what can be bought.
    count : how many are wanted.

    Returns
    -------
    At most `count` assemblies by deviation, then by number of profiles, price and codes; fewer where the stock does not
    make so many. None of them breaks a rule of the mouldings that none of its profiles breaks alone.
    """
    for allowance in (0.0625, 0.5, 4.0, inf):
        found = within(target, stock, allowance)
        if len(found) >= count:
            break
    return found[:count]


@lru_cache(maxsize=4096)
def within(target: Target, stock: Stock, allowance: float) -> tuple[Assembly, ...]:
    """Every assembly that misses a target by at most `allowance` [in] more than the best one does, best first."""
    reach = allowance
    while True:
        drafts = sorted(_drafts(target, stock, reach), key=lambda a: a.deviation)
        sound = [a for a in drafts if _is_sound(a)]
        least = drafts[0].deviation if drafts else 0.0
        # The search bounds by the best draft; where that breaks a rule, look as far beyond the best that does not.
        if not drafts or reach == inf or (sound and sound[0].deviation + allowance <= least + reach + CLOSE):
            break
        reach = sound[0].deviation - least + allowance + CLOSE if sound else (inf if reach > 8 else reach * 4 + 1)
    limit = sound[0].deviation + allowance + CLOSE if sound else 0.0
    return tuple(sorted((a for a in sound if a.deviation <= limit), key=_rank))


def _rank(a: Assembly) -> tuple:
    """Order of assemblies: nearest to the target, then fewest profiles, then price; codes so that the order is one."""
    return (round(a.deviation, 6), len(a.profiles), round(a.price_per_foot, 6), a.profiles)


@cache
def built_ups() -> tuple[BuiltUp, ...]:
    """Every way to put an element together."""
    return tuple(
        BuiltUp(
            **row
            | {
                "elements": tuple(row["elements"]),
                "forms": tuple(row["forms"]),
                "pieces": tuple(Piece(**{k: _frozen(v) for k, v in p.items()}) for p in row["pieces"]),
            }
        )
        for row in table("built_ups")["built_up"]
    )


def ways(role: str, form: str = "") -> tuple[BuiltUp, ...]:
    """The built-ups of an element in a form, or in any."""
    return tuple(b for b in built_ups() if role in b.elements and (not form or form in b.forms))


def stacked(pieces: tuple[Placed, ...]) -> tuple[Placed, ...]:
    """The pieces that stand on one another, without what stands before them."""
    return tuple(p for i, p in enumerate(pieces) if not i or p.y > CLOSE)


def deviation(target: Target, height: float, projection: float | None, parts: Mapping[str, float]) -> float:
    """How far something built misses a target [in], weighed as library/built_ups.toml says.

    `projection` is None where it is not compared; of `parts` only those count that the target names.
    """
    weigh = table("built_ups")["deviation"]
    asked = dict(target.parts + target.within)
    off = weigh["height"] * abs(height - target.height)
    if projection is not None:
        off += weigh["projection"] * abs(projection - target.projection)
    return off + weigh["part"] * sum(abs(parts[name] - asked[name]) for name in parts if name in asked)


def cut_to(asked: float, least: float, most: float) -> float:
    """The width nearest to what is asked that a board is ripped to: a multiple of CUT, or its whole width [in]."""
    ripped = max(floor(asked / CUT + 0.5) * CUT, -floor(-least / CUT) * CUT)
    return min(ripped, most)


def assemble(
    way: BuiltUp, pieces: tuple[Piece, ...], chosen: tuple[Profile | None, ...], target: Target
) -> Assembly | None:
    """The built-up made from one profile for each piece (None for plain wall), or None where they do not fit together.

    Every cut is set first: a piece with a part of its own to that part's height, a turned board to the projection; then
    the piece that fills takes what is left of the height.
    """
    asked = dict(target.parts + target.within)
    heights = [
        0.0 if piece.fill or piece.gap else _height(piece, profile, asked)
        for piece, profile in zip(pieces, chosen, strict=True)
    ]
    rest = target.height - sum(h for h, piece in zip(heights, pieces, strict=True) if piece.stand != "before")
    for i, (piece, profile) in enumerate(zip(pieces, chosen, strict=True)):
        if piece.fill or piece.gap:
            heights[i] = cut_to(rest, *_bounds(piece, profile))
    placed: list[Placed] = []
    y = 0.0
    for piece, profile, height in zip(pieces, chosen, heights, strict=True):
        if profile is None:
            y += height
            continue
        below = placed[-1] if placed else None
        cut = None
        if piece.turned:
            cut = _projection(piece, profile, target)
        elif piece.rip and height < profile.height - CLOSE:
            cut = height
        before = piece.stand == "before"
        x = _stand(piece, profile, _projection(piece, profile, target), below, placed)
        put = Placed(profile, x, 0.0 if before else y, piece.turned, cut, piece.part)
        if below is not None and not _clears(piece, put, below):
            return None
        placed.append(put)
        y += 0.0 if before else height
    parts: dict[str, float] = {}
    for piece, height in zip(pieces, heights, strict=True):
        parts[piece.part] = parts.get(piece.part, 0.0) + height
    reach = max(p.reach for p in stacked(tuple(placed)))
    return Assembly(
        role=target.role,
        built_up=way.name,
        pieces=tuple(placed),
        height=y,
        projection=reach,
        thickness=max(p.profile.thickness for p in placed),
        price_per_foot=sum(price_per_foot(p.profile) for p in placed),
        deviation=deviation(target, y, reach if way.reach else None, parts),
    )


# The search


def _drafts(target: Target, stock: Stock, allowance: float) -> list[Assembly]:
    """Assemblies of every built-up that fit together and come within the allowance of the best; rules not yet asked."""
    found: list[Assembly] = []
    tables = []
    for way in ways(target.role, target.form):
        pieces = tuple(p for p in way.pieces if not p.if_within or p.part in dict(target.within))
        options = [_options(piece, stock) for piece in pieces]
        if all(options):
            tables.append((way, pieces, options))
    bound = inf
    for way, pieces, options in tables:
        if allowance < inf and prod(map(len, options)) > BEAM:
            found_here = (
                assemble(way, pieces, c, target) for c in _combinations(way, pieces, options, target, inf, BEAM)
            )
            bound = min([bound, *(a.deviation for a in found_here if a is not None)])
    for way, pieces, options in tables:
        for chosen in _combinations(way, pieces, options, target, bound + allowance, None):
            assembly = assemble(way, pieces, chosen, target)
            if assembly is not None and assembly.deviation <= bound + allowance + CLOSE:
                found.append(assembly)
                bound = min(bound, assembly.deviation)
    return [a for a in found if a.deviation <= bound + allowance + CLOSE]


def _options(piece: Piece, stock: Stock) -> tuple[Profile | None, ...]:
    """What a piece may be made from; plain wall is made from nothing."""
    if piece.gap:
        return (None,)
    return tuple(p for role in piece.roles for p in stock.by_role.get(role, ()) if piece.suits(p))


def _combinations(
    way: BuiltUp,
    pieces: tuple[Piece, ...],
    options: list[tuple[Profile | None, ...]],
    target: Target,
    limit: float,
    beam: int | None,
) -> list[tuple[Profile | None, ...]]:
    """Combinations of profiles whose deviation may be within a limit, found piece by piece.

    An unfinished combination is dropped once the height and the projection that it can still come to, and the parts
    that it has finished, miss the target by more than the limit. With a `beam` only so many of the best are carried.
    """
    weigh, asked = table("built_ups")["deviation"], dict(target.parts + target.within)
    order = sorted(range(len(pieces)), key=lambda i: bool(pieces[i].fill or pieces[i].gap))
    spans = [_spans(pieces[i], options[i], asked) for i in range(len(pieces))]
    chosen = np.zeros((1, 0), dtype=np.intp)
    low = high = np.zeros(1)
    heights: dict[str, tuple[np.ndarray, np.ndarray]] = {}
    for step, i in enumerate(order):
        count, width = len(chosen), len(options[i])
        chosen = np.hstack([np.repeat(chosen, width, axis=0), np.tile(np.arange(width), count)[:, None]])
        spread = lambda a, width=width: np.repeat(a, width)  # noqa: E731
        own_low, own_high = (np.tile(a, count) for a in spans[i])
        low, high = spread(low), spread(high)
        heights = {name: (spread(a), spread(b)) for name, (a, b) in heights.items()}
        if pieces[i].stand != "before":
            low, high = low + own_low, high + own_high
        part = pieces[i].part
        before = heights.get(part, (0.0, 0.0))
        heights[part] = (before[0] + own_low, before[1] + own_high)
        left = [j for j in order[step + 1 :] if pieces[j].stand != "before"]
        miss = weigh["height"] * _outside(
            target.height, low + sum(spans[j][0].min() for j in left), high + sum(spans[j][1].max() for j in left)
        )
        open_parts = {pieces[j].part for j in order[step + 1 :]}
        for name, (a, b) in heights.items():
            if name in asked and name not in open_parts:
                miss = miss + weigh["part"] * _outside(asked[name], a, b)
        keep = np.flatnonzero(miss <= limit + CLOSE)
        if beam is not None and step + 1 < len(order):
            keep = keep[np.argsort(miss[keep], kind="stable")[:beam]]
        chosen, low, high = chosen[keep], low[keep], high[keep]
        heights = {name: (a[keep], b[keep]) for name, (a, b) in heights.items()}
        misses = miss[keep]
    chosen = chosen[:, np.argsort(order)]
    reach, clear = _reaches(pieces, options, target, chosen)
    if way.reach:
        misses = misses + weigh["projection"] * np.abs(reach - target.projection)
    keep = np.flatnonzero(clear & (misses <= limit + CLOSE))
    if beam is not None:
        keep = keep[np.argsort(misses[keep], kind="stable")[:FINALISTS]]
    chosen = chosen[keep]
    return [tuple(options[i][k] for i, k in enumerate(row)) for row in chosen.tolist()]


def _reaches(
    pieces: tuple[Piece, ...], options: list[tuple[Profile | None, ...]], target: Target, chosen: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """How far each combination reaches from the wall [in], and whether each of its pieces clears the one below it.

    The same as `_stand` and `_clears` say of one piece, for all combinations at once.
    """
    reach, below, clear = np.zeros(len(chosen)), None, np.ones(len(chosen), dtype=bool)
    proud = table("built_ups")["face"]["proud"]
    for i, piece in enumerate(pieces):
        if piece.gap or piece.stand == "before":
            continue
        own = np.array([_projection(piece, p, target) for p in options[i]])[chosen[:, i]]
        x = np.zeros(len(chosen))
        if piece.stand == "face":
            x = np.maximum(below - np.array([p.members[0].projection for p in options[i]])[chosen[:, i]] + proud, 0.0)
        elif piece.stand == "flush":
            x = np.maximum(below - own, 0.0)
        if piece.past is not None and below is not None:
            clear &= x + own >= below + piece.past - CLOSE
        if piece.short is not None and below is not None:
            clear &= x + own <= below - piece.short + CLOSE
        below = x + own
        reach = np.maximum(reach, below)
    return reach, clear


def _spans(
    piece: Piece, options: tuple[Profile | None, ...], asked: Mapping[str, float]
) -> tuple[np.ndarray, np.ndarray]:
    """Least and greatest height that a piece may take, for each profile that it may be made from [in]."""
    if piece.fill or piece.gap:
        bounds = [_bounds(piece, profile) for profile in options]
        return np.array([b[0] for b in bounds]), np.array([b[1] for b in bounds])
    fixed = np.array([_height(piece, profile, asked) for profile in options])
    return fixed, fixed


def _outside(asked: float, low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """How far what is asked lies outside a span [in]."""
    return np.maximum(np.maximum(low - asked, asked - high), 0.0)


# One piece


def _height(piece: Piece, profile: Profile, asked: Mapping[str, float]) -> float:
    """Height of a piece that does not fill [in]."""
    if piece.turned:
        return profile.projection
    if piece.rip and piece.part in asked:
        return cut_to(asked[piece.part], *_bounds(piece, profile))
    return profile.height


def _projection(piece: Piece, profile: Profile, target: Target) -> float:
    """How deep a piece is, back to face [in]; a turned board is ripped to the target's projection."""
    return cut_to(target.projection, 1.0, profile.height) if piece.turned else profile.projection


def _bounds(piece: Piece, profile: Profile | None) -> tuple[float, float]:
    """Least and greatest height that a piece may be cut to [in]."""
    if profile is None:
        return piece.gap
    if not piece.rip:
        return profile.height, profile.height
    flat = _flat_edge(profile)
    if flat is None:
        return profile.height, profile.height
    fixed = profile.height - profile.members[flat].height
    return max(piece.least, fixed + table("built_ups")["rip"]["least"]), profile.height


def _flat_edge(profile: Profile) -> int | None:
    """Which member a profile is ripped through: the higher of its first and last where that is flat, else None."""
    edges = [i for i in {0, len(profile.members) - 1} if profile.members[i].kind in ("fascia", "plain edge")]
    return max(edges, key=lambda i: profile.members[i].height, default=None)


def _ripped(profile: Profile, width: float) -> Profile:
    """A profile ripped to a width [in]."""
    flat = _flat_edge(profile)
    members = list(profile.members)
    members[flat] = replace(members[flat], height=members[flat].height - (profile.height - width))
    return replace(profile, height=width, members=tuple(members))


def _stand(piece: Piece, profile: Profile, projection: float, below: Placed | None, placed: list[Placed]) -> float:
    """How far out from the wall the back of a piece so deep stands [in]."""
    match piece.stand:
        case "face":
            return max(below.reach - profile.members[0].projection + table("built_ups")["face"]["proud"], 0.0)
        case "flush":
            return max(below.reach - projection, 0.0)
        case "before":
            return placed[0].reach
    return 0.0


def _clears(piece: Piece, put: Placed, below: Placed) -> bool:
    """Whether a piece reaches as far past the one below it, or stays as far behind it, as it must."""
    past = piece.past is None or put.reach >= below.reach + piece.past - CLOSE
    return past and (piece.short is None or put.reach <= below.reach - piece.short + CLOSE)


# The rules of the mouldings


def _is_sound(assembly: Assembly) -> bool:
    """Whether the pieces together break no rule that they do not break alone."""
    return all(_run_is_sound(run, assembly.role) for run in _runs(assembly.pieces))


@lru_cache(maxsize=65536)
def _run_is_sound(members: tuple[Member, ...], role: str) -> bool:
    role = "cornice" if any(m.kind == "corona" for m in members) else role
    height, reach = sum(m.height for m in members), max(m.projection for m in members)
    return not faults(Profile("", role, "", height, reach, reach, members))


def _runs(pieces: tuple[Placed, ...]) -> tuple[tuple[Member, ...], ...]:
    """Members from the bottom up, their projections from the wall, broken where plain wall shows between."""
    runs: list[list[Member]] = []
    at = -1.0
    for p in stacked(pieces):
        if abs(p.y - at) > CLOSE:
            runs.append([])
        runs[-1] += [replace(m, projection=m.projection + p.x) if p.x else m for m in p.section.members]
        at = p.top
    return tuple(map(tuple, runs))


def _frozen(value: object) -> object:
    """A value of a table that can be part of a frozen row."""
    if isinstance(value, dict):
        return tuple(value.items())
    return tuple(value) if isinstance(value, list) else value
