"""What differs between the trim of a room and that of another step, in words that a client knows."""

from collections.abc import Sequence
from typing import NamedTuple

from planner.library import Library
from planner.library.trim_rows import ElementKind
from planner.trim.packages import Element
from planner.units import Unit, format_size, listed
from planner.walls.layout import WallLayout
from planner.walls.openings import DOORS

TOLD = 3
"""So many differences are told with their sizes, those that change most of the wall; the others are named."""


UNMEASURED = frozenset({"wainscot", "wall panels", "crossette", "stool", "overmantel", "door leaf", "sash"})
"""Elements whose size is no height or width that a client would see."""

DEEPER = 1 / 4
"""What stands out farther by less than this [in] is not told; common practice."""


FORM = 1 / 4
"""What part of an element counts as changed where its form is another; common practice."""


class Difference(NamedTuple):
    """What differs in one element: how much of the walls it changes [sq in], what is said of it, and in which list and
    how it is named where there is more to say of others."""

    area: float
    said: str
    listed: str
    name: str


def differences(before: Sequence[WallLayout], after: Sequence[WallLayout], library: Library) -> str:
    """What the walls of a room have after that they have not before, as a line; "" where nothing differs.

    Parameters
    ----------
    before, after : the walls of one room with the trim of one step and with that of another.
    library : what the trade knows.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> from planner.record.one_step import one_step
    >>> planned = plan(read_house(demo_house())[0])
    >>> richer = one_step(planned, "Powder Room", "richer").planned
    >>> differences(planned.walls["Powder Room"], richer.walls["Powder Room"], planned.library)[:33]
    'a ceiling moulding of 6 3/4" inst'
    """
    told, others = list[Difference](), False
    for kind in library.elements:
        found = _difference(kind, before, after, library)
        if found is not None and kind.within and not kind.seen:
            others = True
        elif found is not None:
            told.append(found)
    if not told:
        return "only small mouldings differ" if others else ""
    return _line(told, same=not others)


def _line(found: Sequence[Difference], *, same: bool) -> str:
    """Differences in a line, those that change most first; `same` says that there are no others."""
    ranked = sorted(found, key=lambda one: -one.area)
    parts = [", ".join(one.said for one in ranked[:TOLD])]
    lists: dict[str, list[str]] = {}
    for one in ranked[TOLD:]:
        lists.setdefault(one.listed, []).append(one.name)
    parts += [f"{'' if n else 'also '}{how}: {listed(names)}" for n, (how, names) in enumerate(lists.items())]
    return "; ".join([*parts, *(["the rest is the same"] if same else [])])


def _difference(
    kind: ElementKind, before: Sequence[WallLayout], after: Sequence[WallLayout], library: Library
) -> Difference | None:
    """What differs in an element, None where nothing does that is seen."""
    one, other, unit = _there(before, kind), _there(after, kind), after[0].unit
    if one is None and other is None:
        return None
    if one is None or other is None:
        area = max(_area(before, kind), _area(after, kind))
        if other is None:
            return Difference(area, f"no {kind.bare}", "gone", f"the {kind.bare}")
        size = "" if kind.name in UNMEASURED else f"of {format_size(other.size, unit)}"
        said = [kind.told, size, _form(kind, other, library), _carved("with", other.enrichments, library)]
        return Difference(area, " ".join(filter(None, said)), "new", kind.told)
    found = _changed(kind, one, other, unit, library)
    if found is None:
        return None
    area = abs(_area(after, kind) - _area(before, kind)) + FORM * _area(after, kind) * (one.form != other.form)
    return Difference(area, found[0], found[1], f"the {kind.bare}")


def _changed(kind: ElementKind, one: Element, other: Element, unit: Unit, library: Library) -> tuple[str, str] | None:
    """What is said of an element that is there in both, and in which list it is named; None where it is the same.

    Its size is told where that differs, else its form, else how far it stands out; and what is carved on it.
    """
    more = _carved("with", [e for e in other.enrichments if e not in one.enrichments], library)
    less = _carved("without", [e for e in one.enrichments if e not in other.enrichments], library)
    carved, (size, was) = [more, less], (format_size(e.size, unit) for e in (other, one))
    if kind.name not in UNMEASURED and size != was:
        said, how = f"{kind.told} of {size} instead of {was}", "larger" if other.size > one.size else "smaller"
    elif one.form != other.form and (form := _form(kind, other, library)):
        said, how = f"{kind.told} {form}", "changed"
    elif one.form != other.form:
        how = "changed" if one.members == other.members else "finer" if other.members > one.members else "simpler"
        said = f"{kind.told} of another form" if how == "changed" else _adjective(how, kind)
    elif abs(one.projection - other.projection) >= DEEPER:
        how = "deeper" if other.projection > one.projection else "flatter"
        said = _adjective(how, kind)
    elif any(carved):
        said, how = kind.told, "finer" if more else "simpler"
    else:
        return None
    return " ".join(filter(None, [said, *carved])), how


def _there(walls: Sequence[WallLayout], kind: ElementKind) -> Element | None:
    """An element as far as it is seen in a room, None where nothing of it is there."""
    return walls[0].package.element(kind.name) if _area(walls, kind) > 0 else None


def _area(walls: Sequence[WallLayout], kind: ElementKind) -> float:
    """How much of the walls of a room an element takes [sq in]; leaves and sashes, their openings."""
    filled = {"door leaf": DOORS, "sash": ("window",)}.get(kind.name)
    if filled is not None:
        return sum((a.x1 - a.x0) * (a.y1 - a.y0) for wall in walls for a in wall.apertures if a.kind in filled)
    return sum(s.width * s.height for wall in walls for s in wall.solids if s.element == kind.name)


def _form(kind: ElementKind, element: Element, library: Library) -> str:
    """What a client is told of an element's form; "" where that has no words of its own, as of trim that stays."""
    known = element.form in library.form_names(kind.name)
    return library.form(kind.name, element.form).plain if known else ""


def _carved(word: str, enrichments: Sequence[str], library: Library) -> str:
    """What is carved or turned, after a word; "" where nothing is."""
    names = [library.enrichment(name).plain or name for name in enrichments]
    return f"{word} {listed(names)}" if names else ""


def _adjective(word: str, kind: ElementKind) -> str:
    """What an element is told as, with an adjective before the noun."""
    return f"a {word} {kind.bare}" if kind.bare != kind.told else f"{word} {kind.told}"
