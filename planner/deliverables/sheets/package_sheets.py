"""A sheet for every package: what it is made of, in a schedule and in sections. Lengths in inches of paper."""

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache, partial
from typing import NamedTuple

from planner.deliverables.met import met
from planner.deliverables.sheets.frame import Frame, section_scales
from planner.deliverables.sheets.keyed import bar_figure
from planner.deliverables.sheets.packing import numbers, packed
from planner.deliverables.sheets.sheet import (
    BAR,
    UNDER,
    Caption,
    Drawn,
    Figure,
    Item,
    Sheet,
    Table,
    Words,
    caption_height,
    captioned,
    figure_of,
    line_height,
    lines,
    table_height,
)
from planner.drawings.scale import Scale
from planner.drawings.scene import bounds
from planner.drawings.section import section_shapes, title_of
from planner.mouldings.assembly import Placed
from planner.planning.answer import Plan
from planner.trim.packages import Element, Package
from planner.units import format_length, format_size, listed

GAP = 0.28
"""Plain paper round a section [in]."""

LIMITS = ((8.5, 6.0), (8.0, 5.2), (7.0, 4.6), (6.5, 4.2), (6.0, 3.8))
"""What a section may take at the most [in], as they are tried: the sections of a package are drawn as large as one
sheet holds all of them, and where it does not, as large as two do, and so on."""

HEAD = ("No.", "Element", "Form", "Size", "Top at", "Off the wall", "Built of")
SHARES = (0.05, 0.155, 0.245, 0.10, 0.10, 0.125, 0.225)
"""The columns of a schedule, and how its width is shared out."""

SCHEDULE = 5.75
"""How wide a schedule is [in]."""


class Cut(NamedTuple):
    """An element of a package that has a section, the opening that it is so at, "" for everywhere, and the profiles
    that it is drawn with."""

    package: Package
    element: Element
    opening: str
    placed: tuple[Placed, ...]


def package_sheets(plan: Plan, frame: Frame) -> Iterator[Sheet]:
    """The sheets of all packages in use, the highest first."""
    for package in plan.packages:
        yield from _sheets(plan, package, frame)


def cuts(plan: Plan, package: Package) -> list[Cut]:
    """What of a package is cut through: its elements that have a section and are met in its rooms, and those that an
    opening has otherwise."""
    stood, drawn = plan.standing[package], plan.sections[package]
    there = met(plan, package) & drawn.keys()
    found = [Cut(stood, e, "", drawn[e.element]) for e in stood.elements if e.element in there]
    for opening, own in package.own.items():
        stood, drawn = plan.standing[own], plan.sections[own]
        differs = {e.element for e in own.elements if e != package.element(e.element)} & {*drawn}
        found += [Cut(stood, e, opening, drawn[e.element]) for e in stood.elements if e.element in differs]
    return found


def cut_title(cut: Cut) -> str:
    """What a section of a package is called."""
    return f"{title_of(cut.element)}{f', at {cut.opening}' if cut.opening else ''}"


def section_figure(plan: Plan, cut: Cut, scale: Scale) -> Figure:
    """The section of an element at a scale."""
    shapes = section_shapes(cut.package, cut.element, cut.placed, plan.library, scale)
    return figure_of(shapes, bounds(shapes), scale)


class _Section(NamedTuple):
    """A section as large as it is drawn, and its caption."""

    figure: Figure
    title: tuple[str, ...]
    said: tuple[str, ...]
    bar: Figure

    @property
    def size(self) -> tuple[float, float]:
        """What it takes with its caption [in]."""
        return self.figure.width, captioned(self.figure.height, self.title, self.said) + BAR


def _sheets(plan: Plan, package: Package, frame: Frame) -> Iterator[Sheet]:
    _, taken = _told(plan, package, {})
    cut = cuts(plan, package)
    figure = lru_cache(maxsize=None)(partial(section_figure, plan))
    for most in range(1, len(cut) + 2):
        for limit in LIMITS:
            drawn = [_section(plan, figure, each, limit) for each in cut]
            places = packed([section.size for section in drawn], frame.across, frame.down, GAP, taken)
            count = max((place.sheet for place in places), default=0) + 1
            if count <= most:
                break
        else:
            continue
        break
    scales = dict.fromkeys(section.said[-1] for section in drawn)
    numbered = numbers(places)
    told, _ = _told(plan, package, {c.element: n for c, n in zip(cut, numbered, strict=True) if not c.opening})
    for n in range(count):
        items: list[Item] = [*told] if not n else []
        for number, section, place in zip(numbered, drawn, places, strict=True):
            if place.sheet == n:
                items.append(Drawn(place.x, place.y, section.figure))
                under = place.y + section.figure.height + UNDER
                beneath = under + caption_height(len(section.title), 0) - 0.06
                items.append(Caption(place.x, under, section.size[0], number, section.title, section.said))
                items.append(Drawn(place.x + section.size[0] - section.bar.width, beneath, section.bar))
        title = f"Package: {package.label}" + (f", {n + 1} of {count}" if count > 1 else "")
        yield Sheet("P", title, "as noted" if len(scales) > 1 else next(iter(scales), ""), tuple(items))


def _section(plan: Plan, figured: Callable[[Cut, Scale], Figure], cut: Cut, limit: tuple[float, float]) -> _Section:
    """A section at the largest scale at which it keeps within a limit, else at the smallest; full size has sheets of
    its own."""
    for scale in section_scales(plan.house.unit)[1:]:
        figure = figured(cut, scale)
        if figure.width <= limit[0] and figure.height <= limit[1]:
            break
    title = lines(cut_title(cut), figure.width - 0.35, "label")
    return _Section(figure, title, lines(scale.words, figure.width - 0.35, "small"), bar_figure(scale))


def _told(plan: Plan, package: Package, sections: Mapping[Element, int]) -> tuple[list[Item], tuple[float, float]]:
    """What is said of a package over and in its schedule, whose elements have the numbers of their `sections`, and what
    that takes [in]."""
    heading = lines(package.label, SCHEDULE, "title")
    rules = [f"Rule: {rule}" for rule in dict.fromkeys(rule for words in package.rules.values() for rule in words)]
    said = [
        f"{package.style.capitalize()}, tier {package.tier} of {len(plan.tier_names)}, under a ceiling of "
        f"{format_length(package.ceiling, package.unit)}.",
        f"Rooms: {listed(plan.rooms_with(package))}.",
        *rules,
    ]
    words = tuple(line for text in said for line in lines(text, SCHEDULE, "note"))
    y = len(heading) * line_height("title") + 0.05
    below = y + len(words) * line_height("note") + 0.12
    widths = tuple(share * SCHEDULE for share in SHARES)
    table = Table(0.0, below, widths, HEAD, tuple(_rows(plan, package, sections)))
    items: list[Item] = [Words(0.0, 0.0, heading, "title", True), Words(0.0, y, words), table]
    return items, (SCHEDULE, below + table_height(table))


def _rows(plan: Plan, package: Package, sections: Mapping[Element, int]) -> Iterator[tuple[str, ...]]:
    """The schedule of a package, an element that is met a row."""
    unit, there = package.unit, met(plan, package)
    for e in (e for e in plan.standing[package].elements if e.element in there):
        top = format_length(e.top, unit) if e.top is not None else ""
        built = ", ".join(e.profiles) or ("stays" if e.stays else "")
        before = package.element("base") if e.element == "shoe" else None
        off = format_size(e.projection + (before.projection if before is not None else 0.0), unit)
        yield str(sections.get(e, "")), e.element.capitalize(), e.form, format_size(e.size, unit), top, off, built
