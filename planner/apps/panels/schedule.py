"""The tab of the schedule, and the same for one room and one opening: what each has, and how that is changed."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any

import marimo as mo

from planner.apps import pages
from planner.apps.changes import Changes
from planner.apps.desk import Desk
from planner.apps.houses import Opened
from planner.drawings.cell import cell
from planner.drawings.scale import Scale, scales
from planner.drawings.scene import unbroken
from planner.house.model import House, Opening
from planner.intent import edits
from planner.intent.trim_rules import Aspect, Change, Scope, where
from planner.library import Library
from planner.library.model import NO_FORM
from planner.mouldings.assembly import Placed
from planner.planning.answer import Plan
from planner.trim.packages import Element, Package
from planner.trim.schedule import Cell
from planner.units import Unit, format_length

TAB = "Schedule"
TABS = (TAB, "One room", "Walls")
"""The tabs that speak of trim rules."""

GROUP = "trim"
"""The group of controls that show trim rules."""

AS_IT_IS, LEFT_OUT = "as it is", "none"

WALL_ORDER = ("crown", "picture rail", "wall panels", "plate rail", "chair rail", "wainscot", "base", "shoe")
"""Elements as they are seen on a wall, from the top down; those round openings follow."""

ON_THE_WALLS, ROUND_OPENINGS = PLACES = "On the walls", "Round doors, windows and fireplaces"
"""Where elements are, each with a table of its own."""

FIELDS: dict[Aspect, str] = {"size": "Size", "height": "Top above the floor", "projection": "Depth"}
"""What can be said of an element as a length, and what the field is called."""

DETAIL = "More of one element: its size, where it stands, what it is made from"
NO_OPENINGS = (
    "This room has no door, window or fireplace yet: put one on a wall under House, and its trim is told here."
)

Where = tuple[str, Scope]
"""An element, and where it is spoken of."""


def elements(library: Library) -> list[str]:
    """The elements of the library from the top of the wall down, then those round openings."""
    return sorted(
        library.element_kinds, key=lambda name: WALL_ORDER.index(name) if name in WALL_ORDER else len(WALL_ORDER)
    )


def elements_at(opening: str, library: Library) -> list[str]:
    """The elements that stand round a kind of opening."""
    return [name for name, kind in library.element_kinds.items() if opening in kind.openings]


def tiers(top: int) -> list[Scope]:
    """A scope for each tier, the highest first."""
    return [Scope(tiers=(tier, tier)) for tier in range(top, 0, -1)]


def spoken_of(
    tab: str, at: Mapping[str, Any], room: str, desk: Desk, library: Library
) -> tuple[list[str], list[Scope]]:
    """The elements and the scopes that a tab speaks of: all tiers, one room, or one opening of it."""
    if tab == "One room":
        return elements(library), [Scope(rooms=(room,))]
    if tab == "Walls":
        opening: Opening | None = at.get("opening")
        return (elements_at(opening.kind, library), [Scope(openings=(opening.name,))]) if opening else ([], [])
    return elements(library), tiers(desk.intent.tiers)


def spoken_in_detail(tab: str, at: Mapping[str, Any], room: str, desk: Desk, library: Library) -> Where | None:
    """The element of which more is said, and where; None where there is nothing to speak of."""
    _, scopes = spoken_of(tab, at, room, desk, library)
    if tab == "Schedule":
        tier = int(at["tier"])
        scopes = [Scope(tiers=(tier, tier))]
    return (at["element"], scopes[0]) if scopes else None


# Controls


def choices(
    tab: str, house: House, room: str, library: Library, changes: Changes, highest: int | None = None
) -> mo.ui.dictionary:
    """What is spoken of: under which ceiling, at which opening, and the element and tier of which more is said, at
    first the `highest` that a room has.
    """
    openings = {opening.name: opening for opening in house.openings_of.get(room, ())}
    if tab not in TABS or (tab == "Walls" and not openings):
        return mo.ui.dictionary({})
    ceilings = {format_length(c, house.unit): c for c in sorted({room.ceiling for room in house.rooms}, reverse=True)}
    names = [name for name in elements(library) if tab != "Walls" or library.element_kinds[name].openings]
    numbers = list(map(str, range(changes.desk.intent.tiers, 0, -1)))
    found = {"element": mo.ui.dropdown(names, value="casing", label="More of the")}
    if tab == "Schedule":
        first = str(highest) if str(highest) in numbers else numbers[0]
        found["tier"] = mo.ui.dropdown(numbers, value=first, label="in tier")
        found["ceiling"] = mo.ui.dropdown(ceilings, value=next(iter(ceilings)), label="Seen under a ceiling of")
    if tab == "One room":
        found["style"] = _period(room, library, changes)
    if tab == "Walls":
        found["opening"] = mo.ui.dropdown(openings, value=next(iter(openings)), label="at")
    return mo.ui.dictionary(found)


def _period(room: str, library: Library, changes: Changes) -> mo.ui.dropdown:
    """A choice of a period for one room."""
    said = edits.style_of_room(changes.desk.intent, room)

    def choose(style: str) -> None:
        changes.make("whole", edits.set_room_style, room, None if style == AS_IT_IS else style)

    shown = said if said in library.style_names else AS_IT_IS
    return mo.ui.dropdown([AS_IT_IS, *library.style_names], value=shown, label="Its period", on_change=choose)


def forms(
    tab: str, at: Mapping[str, Any], room: str, library: Library, changes: Changes
) -> dict[Where, mo.ui.dropdown]:
    """A choice of form for each element in each scope that a tab speaks of."""
    names, scopes = spoken_of(tab, at, room, changes.desk, library)
    return {(name, scope): _form(name, scope, library, changes) for name in names for scope in scopes}


def mended(built: Mapping[Where, mo.ui.dropdown], library: Library, changes: Changes) -> dict[Where, mo.ui.dropdown]:
    """New choices in place of those that show something else than the desk has."""
    stale = (at for at, control in built.items() if control.value != edits.rule_of(changes.desk.intent, *at).form)
    return {at: _form(*at, library, changes) for at in stale}


def _form(name: str, scope: Scope, library: Library, changes: Changes) -> mo.ui.dropdown:
    options = {AS_IT_IS: ""} | {form: form for form in library.form_names(name)} | {LEFT_OUT: NO_FORM}
    said = edits.rule_of(changes.desk.intent, name, scope).form

    def choose(form: str) -> None:
        changes.make(GROUP, edits.set_form, name, scope, form, library)

    shown = next((words for words, form in options.items() if form == said), AS_IT_IS)
    label = pages.unseen(f"{name} {where(scope)}")
    return mo.ui.dropdown(options, value=shown, on_change=choose, full_width=True, label=label)


def details(
    tab: str, at: Mapping[str, Any], room: str, opened: Opened, changes: Changes
) -> dict[str, mo.ui.text | mo.ui.dropdown | mo.ui.button]:
    """What else can be said of one element where a tab speaks of it: lengths, a profile, and nothing any more."""
    spoken = spoken_in_detail(tab, at, room, changes.desk, opened.library)
    if spoken is None:
        return {}
    (name, scope), stock, library, unit = spoken, opened.stock, opened.library, opened.unit
    said = edits.rule_of(changes.desk.intent, name, scope)

    def tell(aspect: Aspect) -> Callable[[str | None], None]:
        return lambda written: changes.make("", edits.set_aspect, name, scope, aspect, written or "", library, unit)

    codes = sorted(profile.code for profile in stock.profiles) if stock else []
    profile = said.profile if said.profile in codes else None
    fields: dict[str, mo.ui.text | mo.ui.dropdown | mo.ui.button] = {
        aspect: mo.ui.text(
            value="" if (length := getattr(said, aspect)) is None else format_length(length, unit),
            label=label,
            placeholder="as it is",
            on_change=tell(aspect),
        )
        for aspect, label in FIELDS.items()
    }
    fields["profile"] = mo.ui.dropdown(
        codes, value=profile, allow_select_none=True, label="Locked to a profile", on_change=tell("profile")
    )
    fields["back"] = mo.ui.button(
        label="Put it back", on_click=lambda _: changes.make("", edits.set_rule, name, scope, Change())
    )
    return fields


def put_back(changes: Changes) -> list[mo.ui.button]:
    """A button for each rule that drops it."""

    def drop(number: int) -> mo.ui.button:
        return mo.ui.button(label="Put back", on_click=lambda _: changes.make("", edits.drop_rule, number))

    return [drop(number) for number in range(1, len(changes.desk.intent.trim) + 1)]


# What is shown


def table(
    planned: Plan,
    tab: str,
    room: str,
    at: mo.ui.dictionary,
    controls: Mapping[Where, mo.ui.dropdown],
    dark: bool,
    narrow: bool = False,
) -> mo.Html:
    """What is spoken of as it is drawn, with its controls; on a narrow screen one tier of the schedule."""
    chosen: dict[str, Any] = dict(at.value)
    if tab == "Schedule":
        return _ladder(planned, chosen["ceiling"], controls, dark, int(chosen["tier"]) if narrow else None)
    opening: Opening | None = chosen.get("opening")
    package = planned.package_of[room].at(opening.name if opening else "")
    scopes = list(dict.fromkeys(scope for _, scope in controls))
    caption = f"Its trim {where(scopes[0])}; ◆ departs from the style" if scopes else ""
    heads, packages = ["Has", "Shall have"], [package] if scopes else []
    return _table(planned, heads, scopes, packages, controls, caption, dark, unfolded=not narrow)


def above(
    planned: Plan,
    at: mo.ui.dictionary,
    more: Mapping[str, mo.ui.text | mo.ui.dropdown | mo.ui.button],
    back: Sequence[mo.ui.button],
) -> mo.Html:
    """What is spoken of, what more can be said of it, all that departs from the style, and the way back."""
    head = pages.on_screen(pages.heading(DETAIL))
    said = pages.show(head if at.elements else pages.element("p", NO_OPENINGS, class_="pl-hint"))
    controls = [pages.beside(*some) for some in (at.elements.values(), more.values()) if some]
    return mo.vstack([said, *controls, departures(planned, back)], gap=1)


def _ladder(
    planned: Plan, ceiling: float, controls: Mapping[Where, mo.ui.dropdown], dark: bool, tier: int | None
) -> mo.Html:
    """The ladder under one ceiling, or one tier of it: elements down, tiers across, each drawn at one scale."""
    packages = [package for package in planned.ladder(ceiling)[::-1] if tier in (None, package.tier)]
    heads = [f"{package.tier} {planned.tier_names[package.tier - 1]}" for package in packages]
    scopes = [Scope(tiers=(package.tier, package.tier)) for package in packages]
    under, at = format_length(ceiling, planned.house.unit), unbroken(scales("cells", planned.house.unit)[0].words)
    caption = f"What each tier has under a ceiling of {under}, drawn at {at}; ◆ departs from the style"
    return _table(planned, heads, scopes, packages, controls, caption, dark)


def _table(
    planned: Plan,
    heads: list[str],
    scopes: list[Scope],
    packages: list[Package],
    controls: Mapping[Where, mo.ui.dropdown],
    caption: str,
    dark: bool,
    unfolded: bool = True,
) -> mo.Html:
    rows: dict[str, list[list[object]]] = {words: [] for words in PLACES}
    kinds = planned.library.element_kinds
    for name in dict.fromkeys(element for element, _ in controls):
        row: list[object] = [name]
        for scope, package in zip(scopes, packages, strict=True):
            if (name, scope) not in controls:
                continue
            drawn, control = _cell(planned, package, name, dark), pages.control(controls[name, scope])
            row += [drawn, control] if len(heads) > len(scopes) else [pages.Markup(drawn + control)]
        rows[ROUND_OPENINGS if kinds[name].place == "opening" else ON_THE_WALLS].append(row)
    tables = {
        words: pages.table(["Element", *heads], found, label=f"{caption}, {words}")
        for words, found in rows.items()
        if found
    }
    first = next(iter(tables), "") if unfolded else ""
    folds = [pages.folded(words, table, unfolded=words == first) for words, table in tables.items()]
    return pages.show(pages.heading(caption), *folds)


def _cell(planned: Plan, package: Package, name: str, dark: bool) -> pages.Markup:
    """What a package has of an element: its section and its size, and whether it departs from the style."""
    element, departs = planned.standing[package].element(name), any(at == Cell("", name) for at, _ in package.variant)
    mark = pages.element("b", "◆ ", title="; ".join(package.rules.get(Cell("", name), ()))) if departs else ""
    if element is None:
        return pages.element("div", mark, "none" if departs else "–", class_="pl-cell")
    drawn = _drawn(name, element.form, planned.sections[package].get(name, ()), scales("cells", package.unit)[0], dark)
    return pages.element("div", drawn, mark, f"{element.form}, {_size(element, package.unit)}", class_="pl-cell")


HIGHEST = 24.0
"""What is higher [in] would stretch its row of the table beyond the others: no cornice is."""


@lru_cache(maxsize=1024)
def _drawn(name: str, form: str, placed: tuple[Placed, ...], scale: Scale, dark: bool) -> pages.Markup:
    """An element's section, kept, as a change leaves most of them as they were; blank for what has none, and for what
    fills the wall and is drawn with that."""
    if not placed or max(p.top for p in placed) > HIGHEST:
        return pages.Markup("")
    return pages.drawing(cell(name, form, placed, scale), dark)


def _size(element: Element, unit: Unit) -> str:
    at = f" {unbroken(f'at {format_length(element.top, unit)}')}" if element.placed and element.top is not None else ""
    return f"{unbroken(format_length(element.size, unit))}{at}{f' {element.locked}' if element.locked else ''}"


def departures(planned: Plan, buttons: Iterable[mo.ui.button]) -> mo.Html:
    """Every rule in words, whether it changes anything, and the button that puts it back."""
    said = (rule.words(planned.house.unit) for rule in planned.intent.trim)
    rows = [
        [number, words, "changes nothing" if number in planned.idle else "", pages.control(button)]
        for number, (words, button) in enumerate(zip(said, buttons, strict=False), 1)
    ]
    if not rows:
        return pages.show(pages.element("p", "Every element is as the style has it.", class_="pl-hint"))
    return pages.show(pages.table(["Rule", "Says", "", "Put it back"], rows, caption="What departs from the style"))
