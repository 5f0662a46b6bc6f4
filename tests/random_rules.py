"""Random trim rules of a house, all of which an alternative's file may say, and what they give, read naively."""

from collections.abc import Sequence

from hypothesis import strategies as st

from planner.house.model import House, Room
from planner.intent.trim_rules import Change, Scope, TrimRule
from tests.known import LIBRARY

FILLING = ("wainscot", "wall panels")
RAISED = ("wainscot", "chair rail", "plate rail", "picture rail")
ROUND_OPENINGS = tuple(kind.name for kind in LIBRARY.elements if kind.place == "opening")


@st.composite
def scopes(draw: st.DrawFn, house: House, tiers: int, openings: bool) -> Scope:
    """A scope that names some of each kind of place, or none."""

    def some(names) -> tuple[str, ...]:
        names = sorted(set(names))
        if not names or draw(st.integers(0, 2)):
            return ()
        return tuple(draw(st.lists(st.sampled_from(names), min_size=1, max_size=3, unique=True)))

    low = draw(st.integers(1, tiers))
    return Scope(
        tiers=(low, draw(st.integers(low, tiers))) if draw(st.booleans()) else None,
        levels=some(room.level for room in house.rooms),
        uses=some(LIBRARY.use(room.use).name for room in house.rooms),
        rooms=some(house.by_name),
        openings=some(opening.name for opening in house.openings) if openings else (),
    )


@st.composite
def changes(draw: st.DrawFn, element: str, profiles: Sequence[str] = ()) -> Change:
    """A change that can be said of an element."""
    forms = st.sampled_from(LIBRARY.form_names(element))
    what = draw(st.sampled_from(["none", "form", "form", "sizes", "both"]))
    if what == "none":
        return Change("none")
    form = draw(forms) if what in ("form", "both") else ""
    length = st.none() | st.integers(8, 80).map(lambda eighths: eighths / 16)
    change = Change(
        form=form,
        size=draw(length) if what != "form" and element not in FILLING else None,
        height=draw(st.none() | st.integers(24, 80).map(float)) if what != "form" and element in RAISED else None,
        projection=draw(length) if what != "form" else None,
        profile=draw(st.sampled_from(["", *profiles])) if what != "form" and profiles else "",
    )
    return change if change != Change() else Change(draw(forms))


@st.composite
def rules(draw: st.DrawFn, house: House, tiers: int = 5, profiles: Sequence[str] = ()) -> TrimRule:
    """One rule of a house."""
    element = draw(st.sampled_from(tuple(LIBRARY.element_kinds)))
    scope = draw(scopes(house, tiers, element in ROUND_OPENINGS))
    return TrimRule(element, scope, draw(changes(element, profiles)))


def rule_lists(house: House, tiers: int = 5, most: int = 6, profiles: Sequence[str] = ()) -> st.SearchStrategy:
    """A list of rules of a house."""
    return st.lists(rules(house, tiers, profiles), max_size=most).map(tuple)


# A second reading of what rules give, one aspect at a time from the narrowest rule down.


def holds(scope: Scope, room: Room, tier: int, opening: str) -> bool:
    """Whether a scope takes in a room on a tier, and there an opening, or the whole room where that is blank."""
    if scope.openings and opening not in scope.openings:
        return False
    if scope.rooms and room.name not in scope.rooms:
        return False
    if scope.uses and LIBRARY.use(room.use).name not in scope.uses:
        return False
    if scope.levels and room.level not in scope.levels:
        return False
    return scope.tiers is None or tier in range(scope.tiers[0], scope.tiers[1] + 1)


def narrower_last(trim: Sequence[TrimRule]) -> list[TrimRule]:
    """The rules, widest first: what names an opening after what names a room, a use, a level, a tier."""
    order = list(trim)
    for kind in ("tiers", "levels", "uses", "rooms", "openings"):  # each sort leaves what it finds alike as it is
        order.sort(key=lambda rule: bool(getattr(rule.scope, kind)))
    return order


def said_of(trim: Sequence[TrimRule], element: str, room: Room, tier: int, opening: str = "") -> dict[str, object]:
    """What the rules say of an element, by aspect; rules that name no stock profile."""
    mine = [r.change for r in narrower_last(trim) if r.element == element and holds(r.scope, room, tier, opening)]
    forms = [place for place, change in enumerate(mine) if change.form]
    if forms and mine[forms[-1]].form == "none":
        return {"form": "none"}
    gone = [place for place in forms if mine[place].form == "none"]
    left = mine[gone[-1] + 1 :] if gone else mine
    first = next((place for place, change in enumerate(left) if change.form), 0) if gone else 0
    found: dict[str, object] = {}
    for change in left[first:]:
        for aspect in ("form", "size", "height", "projection"):
            if getattr(change, aspect):
                found[aspect] = getattr(change, aspect)
    return found
