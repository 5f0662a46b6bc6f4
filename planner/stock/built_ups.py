"""How a built-up is put together from given profiles, layer upon layer, and by how much it then misses its target.

How an element may be built up is in library/built_ups.toml. All lengths are inches.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import floor

from planner.library import Library
from planner.library.shop_rows import BuiltUp, Layer
from planner.mouldings.assembly import Assembly, Placed, flat_edge, ripped, runs, stacked, turned
from planner.mouldings.members import Member, Profile
from planner.mouldings.soundness import faults
from planner.stock.families import PLAIN, Taste, moulded, preferred
from planner.stock.shares import missed, order_shares
from planner.stock.stock import Stock, price_per_foot
from planner.trim.packages import Element, Package
from planner.values import immutabledict

RIPPED_TO = 1 / 16
"""Boards are ripped and plain wall is left to this [in]."""
FLAT_LEAST = 1.0
"""The narrowest board that is laid on its flat [in]."""
SUM_NOISE = 1e-9
"""What the same sizes may differ by when they are added up in another order [in]."""
CORNICE = "cornice"
"""The part of a form that the order's shares are of."""
ANY = Taste()
"""No taste at all."""


@dataclass(frozen=True)
class Target:
    """What an element asks of the stock.

    Parameters
    ----------
    role : the element, e.g. "base", "crown", "overdoor".
    height : on the wall, or across the face for what goes round an opening. [in]
    projection : from the wall. [in]
    form : how it is composed, a form of the library; any where blank.
    parts : names and heights of what it is composed of. [in]
    within : names and heights of other elements that are counted within this one, e.g. a casing's backband. [in]
    profile : code of the one profile that it is; any where blank.
    family : the design family that each layer is of, where the stock has any that suits it; any where blank.
    curves : how its curves are drawn, "roman" or "greek", where the stock has any that suit, or "plain" where its
        period has few (families.Taste); any way where blank.
    run : the design family that runs through the house; another serves where that one has nothing that suits.
    enrichments : what it carries; it is built so where that can be had, and never with anything else.
    shares : the groups of its cornice's members, and the order's share of each, 0 to 1.
    loose : whether its cornice need not keep these shares.
    """

    role: str
    height: float
    projection: float
    form: str = ""
    parts: tuple[tuple[str, float], ...] = ()
    within: tuple[tuple[str, float], ...] = ()
    profile: str = ""
    family: str = ""
    curves: str = ""
    run: str = ""
    enrichments: tuple[str, ...] = ()
    shares: tuple[tuple[str, float], ...] = ()
    loose: bool = False

    @cached_property
    def asked(self) -> immutabledict[str, float]:
        """The height that is asked of each part, of what is within, and of each group of its cornice's members [in]."""
        named = dict(self.parts + self.within)
        return immutabledict(named | {group: share * named.get(CORNICE, 0.0) for group, share in self.shares})

    @property
    def taste(self) -> Taste:
        """What it asks of the looks of its profiles."""
        return Taste(self.family, self.curves, self.run)


def target_of(package: Package, element: Element, library: Library) -> Target | None:
    """What an element of a package asks of the stock, None where it is not bought by the foot, or stays."""
    if element.stays:
        return None
    if element.locked:
        return Target(element.element, element.target, element.depth, element.form, profile=element.locked)
    found = library.built_ups(element.element, element.form)
    if not found:
        bought = element.element not in library.building.not_bought and library.built_ups(element.element)
        return Target(element.element, element.target, element.depth, element.form) if bought else None
    period = library.style(package.style)
    curves = period.curves if period.from_order else PLAIN
    if found[0].planted:
        planted = found[0].height, element.depth, element.form
        return Target(element.element, *planted, family=element.family, curves=curves)
    inner = tuple((e.element, e.size) for e in package.elements if library.element(e.element).within == element.element)
    asked = element.target, element.depth - element.board, element.form, element.parts, inner
    shared = any(layer.group for way in found for layer in way.layers)
    return Target(
        element.element,
        *asked,
        family=element.family,
        curves=curves,
        enrichments=tuple(sorted({name for way in found for name in way.enriched} & set(element.enrichments))),
        shares=tuple(order_shares(package.order, library).items()) if shared else (),
    )


def ways_of(target: Target, stock: Stock, library: Library) -> tuple[BuiltUp, ...]:
    """How a target may be put together: in one piece, where it is one profile; as what it carries asks, if anything."""
    if not target.profile:
        ways = library.built_ups(target.role, target.form)
        serving = [way for way in ways if set(way.enriched) <= set(target.enrichments)]
        most = max((len(way.enriched) for way in serving), default=0)
        return tuple(way for way in serving if len(way.enriched) == most)
    roles = tuple(profile.role for profile in stock.profiles if profile.code == target.profile)
    return (BuiltUp("one profile", (target.role,), (target.form,), (Layer("", roles),), "the designer's rule"),)


def layers_of(way: BuiltUp, target: Target) -> tuple[Layer, ...]:
    """The layers of a built-up that a target asks for, from the bottom up."""
    return tuple(layer for layer in way.layers if not layer.if_within or layer.part in target.asked)


def options_of(layer: Layer, stock: Stock, taste: Taste = ANY) -> tuple[Profile | None, ...]:
    """What a layer may be made from, the cheapest first: of what suits a taste where any does; plain wall is made from
    nothing."""
    if layer.gap:
        return (None,)
    found: Sequence[Profile] = [p for role in layer.roles for p in stock.by_role.get(role, ()) if suits(layer, p)]
    found = moulded(found, taste) if layer.moulded and taste.curves else found
    return tuple(sorted(preferred(found, taste), key=lambda p: (round(price_per_foot(p), 6), p.code)))


def suits(layer: Layer, profile: Profile) -> bool:
    """Whether a layer may be made from a profile of the right role."""
    kinds = [m.kind for m in profile.members]
    return (
        all(kinds.count(kind) == count for kind, count in layer.holds.items())
        and all(kinds.count(kind) >= count for kind, count in layer.at_least.items())
        and all(kinds.count(kind) <= count for kind, count in layer.at_most.items())
        and (not layer.only or set(kinds) <= set(layer.only))
        and (not layer.any or bool(set(kinds) & set(layer.any)))
        and (not layer.mirrored or (len(kinds) > 1 and kinds == kinds[::-1]))
        and (not (layer.rip or layer.turned) or profile.height >= layer.least)
    )


# Putting it together


def assemble(
    way: BuiltUp, layers: Sequence[Layer], chosen: Sequence[Profile | None], target: Target, library: Library
) -> Assembly | None:
    """The built-up made from one profile for each layer (None for plain wall), or None where they do not fit together.

    Every cut is set first: a layer with a part of its own to that part's height, a turned board to the projection; then
    the layer that fills takes what is left of the height.
    """
    heights = heights_of(layers, chosen, target, library)
    placed: list[Placed] = []
    y = 0.0
    for layer, profile, height in zip(layers, chosen, heights, strict=True):
        if profile is None:
            y += height
            continue
        put = _put(layer, profile, height, y, placed, target, library)
        if put is None:
            return None
        placed.append(put)
        y += 0.0 if layer.stand == "before" else height
    parts: dict[str, float] = {}
    for layer, height in zip(layers, heights, strict=True):
        for name in names_of(layer):
            parts[name] = parts.get(name, 0.0) + height
    groups = {group: parts.get(group, 0.0) for group, _ in target.shares}
    if not _is_whole(way, y) or not (target.loose or _share_rightly(target, groups, library)):
        return None
    reach = max(p.reach for p in stacked(placed))
    return Assembly(
        role=target.role,
        built_up=way.name,
        pieces=tuple(placed),
        height=y,
        projection=reach,
        thickness=max(p.profile.thickness for p in placed),
        price_per_foot=sum(price_per_foot(p.profile) for p in placed),
        deviation=deviation(target, y, reach if way.reach else None, parts, library),
    )


def names_of(layer: Layer) -> tuple[str, ...]:
    """What a layer's height counts to: its part, and the group of its cornice's members."""
    return (layer.part, layer.group) if layer.group else (layer.part,)


def _is_whole(way: BuiltUp, height: float) -> bool:
    """Whether a height is between the least and the greatest of a built-up [in]."""
    return way.whole is None or way.whole[0] - SUM_NOISE <= height <= way.whole[1] + SUM_NOISE


def _share_rightly(target: Target, groups: Mapping[str, float], library: Library) -> bool:
    """Whether groups of a cornice's members of these heights [in] keep the shares that a target asks for."""
    return missed(groups, dict(target.shares)) <= library.building.shares.tolerance + SUM_NOISE


def keeps_shares(target: Target, built: Assembly, library: Library) -> bool:
    """Whether the cornice of something built keeps the order's shares, where a target asks for any."""
    return _share_rightly(target, groups_of(built, target, library), library)


def groups_of(built: Assembly, target: Target, library: Library) -> dict[str, float]:
    """What each group of the members of a cornice measures in something built for a target [in]."""
    found = dict.fromkeys((group for group, _ in target.shares), 0.0)
    for way in library.built_ups(target.role, target.form):
        if way.name == built.built_up:
            layers = [layer for layer in layers_of(way, target) if not layer.gap]
            for layer, piece in zip(layers, built.pieces, strict=True):
                if layer.group in found:
                    found[layer.group] += piece.profile.height
    return found


def heights_of(
    layers: Sequence[Layer], chosen: Sequence[Profile | None], target: Target, library: Library
) -> list[float]:
    """How high each layer becomes [in]."""
    asked = target.asked
    heights = [
        0.0 if profile is None or layer.fill else height_of(layer, profile, asked, library)
        for layer, profile in zip(layers, chosen, strict=True)
    ]
    rest = target.height - sum(h for h, layer in zip(heights, layers, strict=True) if layer.stand != "before")
    for i, (layer, profile) in enumerate(zip(layers, chosen, strict=True)):
        if layer.gap:
            heights[i] = cut_to(rest, *layer.gap)
        elif layer.fill and profile is not None:
            heights[i] = cut_to(rest, *bounds_of(layer, profile, library))
    return heights


def height_of(layer: Layer, profile: Profile, asked: Mapping[str, float], library: Library) -> float:
    """Height of a layer that does not fill [in]."""
    if layer.turned:
        return profile.projection
    if layer.rip and layer.part in asked:
        return cut_to(asked[layer.part], *bounds_of(layer, profile, library))
    return profile.height


def depth_of(layer: Layer, profile: Profile, target: Target) -> float:
    """How deep a layer is, back to face [in]; a turned board is ripped to the target's projection."""
    return cut_to(target.projection, FLAT_LEAST, profile.height) if layer.turned else profile.projection


def bounds_of(layer: Layer, profile: Profile, library: Library) -> tuple[float, float]:
    """Least and greatest height that a layer may be cut to [in]."""
    flat = flat_edge(profile) if layer.rip else None
    if flat is None:
        return profile.height, profile.height
    fixed = profile.height - profile.members[flat].height
    return max(layer.least, fixed + library.building.rip.least), profile.height


def cut_to(asked: float, least: float, most: float) -> float:
    """The width nearest to what is asked that a board is ripped to: a multiple of RIPPED_TO, or its whole width. [in]

    >>> cut_to(4.7, 1.0, 9.25), cut_to(0.2, 1.0, 9.25), cut_to(12, 1.0, 9.25)
    (4.6875, 1.0, 9.25)
    """
    cut = max(floor(asked / RIPPED_TO + 0.5) * RIPPED_TO, -floor(-least / RIPPED_TO) * RIPPED_TO)
    return min(cut, most)


def deviation(
    target: Target, height: float, projection: float | None, parts: Mapping[str, float], library: Library
) -> float:
    """How far something built misses a target [in], weighed as library/built_ups.toml says.

    `projection` is None where it is not compared; of `parts` only those count that the target names.
    """
    weigh, asked = library.building.deviation, target.asked
    off = weigh.height * abs(height - target.height)
    if projection is not None:
        off += weigh.projection * abs(projection - target.projection)
    return off + weigh.part * sum(abs(parts[name] - asked[name]) for name in parts if name in asked)


def falls_short(target: Target, built: Assembly, library: Library) -> tuple[float, float]:
    """By how much something built is too high and too deep for a target [in], less than 0 where too low and too
    shallow; 0 where it is near enough that no stock falls short by it."""
    bounds = library.building.shortfall
    higher, deeper = built.height - target.height, built.projection - target.projection
    compared = any(way.reach for way in library.built_ups(target.role, target.form) if way.name == built.built_up)
    far = compared and abs(deeper) > bounds.projection * max(target.projection, 1.0)
    return higher if abs(higher) > bounds.height else 0.0, deeper if far else 0.0


def _put(
    layer: Layer, profile: Profile, height: float, y: float, placed: list[Placed], target: Target, library: Library
) -> Placed | None:
    """A profile in its place upon those placed before it, None where it does not clear the one below."""
    below = placed[-1] if placed else None
    depth = depth_of(layer, profile, target)
    x = _stand(layer, profile, depth, placed, library)
    y = 0.0 if layer.stand == "before" else y
    put = Placed(profile, x, y, layer.part)
    if layer.turned:
        put = Placed(turned(profile, depth), x, y, layer.part, profile, True)
    elif layer.rip and height < profile.height - SUM_NOISE:
        put = Placed(ripped(profile, height), x, y, layer.part, profile)
    if below is not None and layer.past is not None and put.reach < below.reach + layer.past - SUM_NOISE:
        return None
    if below is not None and layer.short is not None and put.reach > below.reach - layer.short + SUM_NOISE:
        return None
    return put


def _stand(layer: Layer, profile: Profile, depth: float, placed: list[Placed], library: Library) -> float:
    """How far out from the wall the back of a layer so deep stands [in]."""
    match layer.stand:
        case "face":
            return max(placed[-1].reach - profile.members[0].projection + library.building.face.proud, 0.0)
        case "flush":
            return max(placed[-1].reach - depth, 0.0)
        case "before":
            return placed[0].reach
    return 0.0


# The rules of the mouldings


def is_sound(assembly: Assembly) -> bool:
    """Whether what is built breaks no rule of the mouldings: each run unbroken by plain wall is a sound profile."""
    return all(_run_is_sound(run, assembly.role) for run in runs(assembly.pieces))


@lru_cache(maxsize=65536)
def _run_is_sound(members: tuple[Member, ...], role: str) -> bool:
    role = "cornice" if any(m.kind == "corona" for m in members) else role
    height, reach = sum(m.height for m in members), max(m.projection for m in members)
    return not faults(Profile("", role, "", height, reach, reach, members))
