"""Every profile and every section of a plan at full size, for knives and mock-ups. Lengths in inches of paper.

What a sheet holds stands with others on one; what is larger is parted among sheets that overlap, with marks at which
they are joined. Every sheet carries a square and a rule by which a print is checked.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil

from planner.deliverables.papers import PaperSize, Stamp
from planner.deliverables.sheets.drawing_set import indexed
from planner.deliverables.sheets.frame import LETTERING, Frame, frame_of
from planner.deliverables.sheets.package_sheets import Cut, cut_title, cuts
from planner.deliverables.sheets.packing import numbers, packed
from planner.deliverables.sheets.sheet import (
    UNDER,
    Caption,
    Drawn,
    Item,
    Sheet,
    Words,
    captioned,
    figure_of,
    line_height,
    lines,
    paragraph,
)
from planner.deliverables.sheets.typesetting import pdf
from planner.drawings.full_size import check_rule, is_plain, profile_outline, register_marks, section_outlines
from planner.drawings.scale import Scale
from planner.drawings.scene import Box, Group, Shape, bounds
from planner.mouldings.curves import Placement
from planner.mouldings.members import Profile
from planner.planning.answer import Plan
from planner.units import METRIC, format_size, listed

OVERLAP = 0.75
"""By how much two parts of one drawing overlap [in]."""

EDGE = 0.1
"""Plain paper round what is drawn [in]."""

UNDER_RULE = 0.15
"""What is kept free over the square and the rule at the foot of a sheet [in]."""

CAPTION = 0.75
"""What the caption of a part takes [in]."""

GAP, NARROWEST = 0.4, 2.6
"""Plain paper between drawings, and the least width of one [in]."""

PROFILE = "Profile"
"""What stands before the code of a profile."""

NAMED = 4
"""Of more packages than so many the rest is counted."""


@dataclass(frozen=True)
class Whole:
    """A drawing at full size with its name, what is said of it, and the box round it [in]."""

    shapes: tuple[Shape, ...]
    title: str
    said: tuple[str, ...]
    box: Box

    @property
    def width(self) -> float:
        """How wide it is [in]."""
        return self.box.x1 - self.box.x0

    @property
    def height(self) -> float:
        """How high it is [in]."""
        return self.box.y1 - self.box.y0


def full_size(plan: Plan, stamp: Stamp, size: PaperSize) -> bytes:
    """The sheets at full size as a PDF; the parameters are those of `drawing_set`."""
    frame = frame_of(size)
    title = f"{stamp.house}, {stamp.alternative}: full size"
    return pdf(full_size_sheets(plan, frame), stamp, frame, title)


def full_size_sheets(plan: Plan, frame: Frame) -> tuple[Sheet, ...]:
    """The sheets in their order, numbered, their index first."""
    scale = Scale(1.0, plan.house.unit, LETTERING)
    foot = _Foot(frame, scale)
    wholes = [_laid(whole, foot) for whole in (*_profiles(plan), *_sections(plan))]
    fits = [_fits(whole, foot) for whole in wholes]
    sheets = [*_together([whole for whole, one in zip(wholes, fits, strict=True) if one], foot)]
    for whole, one in zip(wholes, fits, strict=True):
        if not one:
            sheets += _parts(whole, foot)
    return indexed([], sheets, frame)


class _Foot:
    """What stands at the foot of every sheet, and what is left over it [in]."""

    def __init__(self, frame: Frame, scale: Scale):
        self.scale, self.across = scale, frame.across
        shapes = check_rule(scale.unit, scale)
        drawn = figure_of(shapes, bounds(shapes), scale)
        side = "25 mm" if scale.unit in METRIC else "1 inch"
        words = (
            f"Print at 100 %, not fitted to the page. The square is {side} on each side: measure it before you cut.",
            "If it is off, this print is not to size. Lay parts upon each other so that their ringed crosses meet.",
        )
        self.down = frame.down - drawn.height - UNDER_RULE
        self.items: tuple[Item, ...] = (
            Drawn(0.0, frame.down - drawn.height, drawn),
            Words(drawn.width + 0.3, frame.down - 2 * line_height("small"), words, "small"),
        )


def _profiles(plan: Plan) -> Iterator[Whole]:
    """Every profile of stock that the plan is built of, by its code, as it comes."""
    used: dict[Profile, dict[str, None]] = {}
    sold = {profile.code: profile for profile in plan.stock.profiles} if plan.stock is not None else {}
    for package in plan.packages:
        for placed in (p for each in plan.sections[package].values() for p in each):
            if (profile := sold.get(placed.profile.code)) is not None:
                used.setdefault(profile, {})[package.label] = None
    for profile, packages in sorted(used.items(), key=lambda each: each[0].code):
        unit = plan.house.unit
        size = f"{format_size(profile.height, unit)} by {format_size(profile.projection, unit)}"
        said = [f"{profile.role}, {size}", _in_packages(list(packages))]
        yield _whole(profile_outline(profile), f"{PROFILE} {profile.code}", said)


def _sections(plan: Plan) -> Iterator[Whole]:
    """Every section of the packages in use, those that are alike once."""
    found: dict[object, tuple[list[Shape], Cut, list[str]]] = {}
    for package in plan.packages:
        for cut in cuts(plan, package):
            shapes = section_outlines(cut.package, cut.element, cut.placed, plan.library)
            found.setdefault(tuple(shapes), (shapes, cut, []))[2].append(package.label)
    for shapes, cut, packages in found.values():
        size = format_size(cut.element.size, plan.house.unit)
        yield _whole(shapes, cut_title(cut), [f"{size}, {_in_packages(packages)}"])


def _whole(shapes: Sequence[Shape], title: str, said: Sequence[str]) -> Whole:
    box = bounds(shapes)
    return Whole(tuple(shapes), title, tuple(said), Box(box.x0 - EDGE, box.y0 - EDGE, box.x1 + EDGE, box.y1 + EDGE))


def _in_packages(packages: Sequence[str]) -> str:
    """In which packages something is, not all named where they are many."""
    more = f" and {len(packages) - NAMED} more" if len(packages) > NAMED else ""
    return f"in {', '.join(packages[:NAMED])}{more}"


def _heading(whole: Whole, width: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    return lines(whole.title, width - 0.35, "label"), paragraph(whole.said, width - 0.35, "small")


def _size(whole: Whole) -> tuple[float, float]:
    """What a drawing takes with its caption [in]."""
    width = max(whole.width, NARROWEST)
    title, said = _heading(whole, width)
    return width, captioned(whole.height, title, said)


def _fits(whole: Whole, foot: _Foot) -> bool:
    """Whether a sheet holds a drawing with its caption."""
    width, height = _size(whole)
    return width <= foot.across and height <= foot.down


def _laid(whole: Whole, foot: _Foot) -> Whole:
    """A drawing as it stands, or on its side where it takes fewer sheets so."""
    if _fits(whole, foot):
        return whole
    turned = tuple(Group((shape,), Placement(rotation=-90.0)) for shape in whole.shapes)
    on_side = _whole(turned, whole.title, (*whole.said, "laid on its side, its foot at the left"))
    return on_side if _fits(on_side, foot) or _parted(on_side, foot) < _parted(whole, foot) else whole


def _parted(whole: Whole, foot: _Foot) -> int:
    """On how many sheets a drawing is parted."""
    return _count(whole.width, foot.across) * _count(whole.height, foot.down - CAPTION)


def _together(wholes: Sequence[Whole], foot: _Foot) -> Iterator[Sheet]:
    """Drawings that a sheet holds, several of them on each."""
    places = packed([_size(whole) for whole in wholes], foot.across, foot.down, GAP)
    for n in range(max((place.sheet for place in places), default=-1) + 1):
        items: list[Item] = []
        here = [(whole, place) for whole, place in zip(wholes, places, strict=True) if place.sheet == n]
        for number, (whole, place) in zip(numbers([place for _, place in here]), here, strict=True):
            width, _ = _size(whole)
            items.append(Drawn(place.x, place.y, figure_of(whole.shapes, whole.box, foot.scale)))
            title, said = _heading(whole, width)
            items.append(Caption(place.x, place.y + whole.height + UNDER, width, number, title, said))
        titles = ", ".join(dict.fromkeys(whole.title.removeprefix(f"{PROFILE} ") for whole, _ in here))
        yield Sheet("F", f"Full size: {titles}", foot.scale.words, (*items, *foot.items))


def _parts(whole: Whole, foot: _Foot) -> Iterator[Sheet]:
    """A drawing that no sheet holds, parted among several that overlap."""
    across, down = foot.across, foot.down - CAPTION
    columns, rows = _count(whole.width, across), _count(whole.height, down)
    left, top, wide, high = whole.box.x0, whole.box.y1, across - OVERLAP, down - OVERLAP
    joints = [left + n * wide + OVERLAP / 2 for n in range(columns + 1)]
    levels = [top - n * high - OVERLAP / 2 for n in range(rows + 1)]
    marks = tuple(register_marks(product(joints, levels)))
    places = list(product(range(rows), range(columns)))
    boxes = [Box(x := left + c * wide, (y := top - r * high) - down, x + across, y) for r, c in places]
    plain = [n for n, box in enumerate(boxes, 1) if is_plain(whole.shapes, box)]
    left_out = [f"nothing but straight edges, and left out: {counted_parts(plain)}"] if plain else []
    for n, ((row, column), shown) in enumerate(zip(places, boxes, strict=True), 1):
        if n in plain:
            continue
        part = f"part {n} of {rows * columns}"
        place = f"row {row + 1} from the top, column {column + 1} from the left"
        title = lines(f"{whole.title}, {part}: {place}", across - 0.35, "label")
        items: list[Item] = [
            Drawn(0.0, 0.0, figure_of((*whole.shapes, *marks), shown, foot.scale)),
            Caption(0.0, down + UNDER, across, n, title, paragraph([*whole.said, *left_out], across - 0.35, "small")),
        ]
        yield Sheet("F", f"Full size: {whole.title}, {part}", foot.scale.words, (*items, *foot.items))


def counted_parts(numbers: Sequence[int]) -> str:
    """Parts of a drawing by their numbers.

    >>> counted_parts([2]), counted_parts([2, 3])
    ('part 2', 'parts 2 and 3')
    """
    return f"part{'s' if len(numbers) > 1 else ''} {listed([str(n) for n in numbers])}"


def _count(long: float, sheet: float) -> int:
    """So many parts of a sheet's length hold a length, each overlapping the next [in]."""
    return max(1, ceil((long - OVERLAP) / (sheet - OVERLAP)))
