"""A house's own style, from what its file says to a Style based on another. Bare lengths are inches."""

from typing import Any

import msgspec

from planner.files.problems import Problem, choose
from planner.files.toml_settings import Settings
from planner.library import Library
from planner.library.derived import PLACE, OwnRow, RowFault, measures, row_faults, rows_over
from planner.library.model import NO_FORM
from planner.library.trim_rows import CasingJoint, EnrichmentRow, LeastCeiling, Plinth, Style, StyleRow
from planner.units import quoted

KEYS = (
    *("based_on", "display", "from_order", "order", "ratio", "entablature", "curves", "source"),
    *("casing", "plinth", "least_ceiling", "row", "enrichment"),
)
ROW_KEYS = (
    *("element", "form", "rungs", "of", "factor", "least", "least_ceiling", "plain", "finer", "coarser"),
    "source",
)

LARGEST_FACTOR = 480.0
"""A size is no more than so many times what it is a part of; the highest ceiling in inches."""

OWN = "common practice of this house"
"""The source of what a style says without one."""


def parse_style(name: str, settings: Settings, base: Style, library: Library) -> Style:
    """The style of a file; a sketch where it has faults, which are told."""
    from_order = settings.flag("from_order")
    given: dict[str, Any] = {
        "from_order": from_order,
        "order": settings.text("order", library.order_names),
        "ratio": settings.number("ratio", 0.1, 1.0),
        "entablature": settings.number("entablature", 0.05, 1.0),
        "curves": settings.text("curves", ("roman", "greek")),
        "casing": _casing(settings, base),
        "plinth": _plinth(settings, base),
        "least_ceilings": _least_ceilings(settings, base, library),
        "enrichments": _enrichments(settings, base, library),
    }
    style = msgspec.structs.replace(
        base,
        name=name,
        display=settings.text("display") or name,
        source=settings.text("source") or f"{base.display}, as {OWN} has it",
        based_on=base.name,
        **{key: value for key, value in given.items() if value is not None},
    )
    if style.from_order and not style.order:
        settings.fault("order", "is missing", f"write one of {', '.join(map(quoted, library.order_names))}")
    faults: list[RowFault] = []
    numbers, rows = _rows(settings, style, base, library, faults)
    style = msgspec.structs.replace(style, rows=rows)
    for fault in faults or row_faults(style, numbers, library):
        at = "from_order" if fault.number is None else f"row {fault.number}.{fault.key}"
        line = settings.lines.get(at)
        settings.problems.append(Problem(settings.file, line, at, fault.message, fault.remedy))
    if style.plinth is None and any(row.element == "plinth block" for row in rows):
        settings.fault("plinth", "is missing, and the style has plinth blocks", "write a table [plinth]")
    return style


def _rows(
    settings: Settings, style: Style, base: Style, library: Library, faults: list[RowFault]
) -> tuple[tuple[int | None, ...], tuple[StyleRow, ...]]:
    """The rows of a style, and the number of the own row that each comes from."""
    own = []
    for number, one in enumerate(settings.each("row"), 1):
        row = _own_row(number, one, style, library)
        if row is not None:
            own.append(row)
    found = rows_over(base, own, library, faults)
    return tuple(number for number, _ in found), tuple(row for _, row in found)


def _own_row(number: int, one: Settings, style: Style, library: Library) -> OwnRow | None:
    """A row of a style's file; None where it has faults."""
    before = len(one.problems)
    one.only(ROW_KEYS)
    for key, example in (("element", 'element = "base"'), ("form", f'form = "{NO_FORM}"')):
        if key not in one:
            one.fault(key, "is missing", f"write e.g. {example}")
    element = one.text("element", library.element_kinds)
    forms = [form.name for form in library.forms if form.element == element]
    form = one.text("form", (*forms, NO_FORM)) if element else None
    rungs = one.names("rungs") if "rungs" in one else library.ladder.rungs
    for rung in rungs or ():
        if rung not in library.ladder.rungs:
            one.fault("rungs", f"{quoted(rung)} is no rung", choose(rung, library.ladder.rungs))
    given = {
        "of": one.text("of", (*measures(style.from_order), PLACE, *library.element_kinds)),
        "factor": one.number("factor", 0.001, LARGEST_FACTOR),
        "least": one.length("least", "in"),
        "least_ceiling": one.length("least_ceiling", "in"),
        "plain": one.flag("plain"),
        "finer": one.flag("finer"),
        "coarser": one.flag("coarser"),
        "source": one.text("source") or (OWN if "of" in one else None),
    }
    if len(one.problems) > before or element is None or form is None or not rungs:
        return None
    said = {key: value for key, value in given.items() if value is not None}
    return OwnRow(number, element, form, tuple(dict.fromkeys(rungs)), said)


def _casing(settings: Settings, base: Style) -> CasingJoint:
    one = settings.inner("casing")
    one.only(("joint", "source"))
    joint = one.text("joint", ("mitred", "butted", "blocked corners")) or base.casing.joint
    source = one.text("source") or (base.casing.source if joint == base.casing.joint else OWN)
    return msgspec.convert({"joint": joint, "source": source}, CasingJoint)


def _plinth(settings: Settings, base: Style) -> Plinth | None:
    """How plinth blocks stand: the base's, with what the file says of them."""
    one = settings.inner("plinth")
    if not one.values:
        return base.plinth
    one.only(("least", "most", "proud", "decorated", "source"))
    given = {
        "least": one.number("least", 0.5, 10.0),
        "most": one.number("most", 0.5, 10.0),
        "proud": one.number("proud", 0.0, 6.0),
        "decorated": one.flag("decorated"),
        "source": one.text("source") or OWN,
    }
    said = {key: value for key, value in given.items() if value is not None}
    if base.plinth is None:
        for key in ("least", "most", "proud"):
            if key not in one:
                one.fault(key, f"is missing, and {quoted(base.name)} has no plinth blocks", f"write e.g. {key} = 1.0")
    model = base.plinth or Plinth(least=1.0, most=1.0, proud=0.0, decorated=False, source=OWN)
    plinth = msgspec.structs.replace(model, **said)
    if plinth.least > plinth.most:
        one.fault("most", f"{plinth.most:g} is below the least, {plinth.least:g}", "write as much or more")
    return plinth


def _least_ceilings(settings: Settings, base: Style, library: Library) -> tuple[LeastCeiling, ...]:
    """What rungs need of the ceiling: the base's, and in their place what the file says."""
    said: dict[str, LeastCeiling] = {need.rung: need for need in base.least_ceilings}
    for one in settings.each("least_ceiling"):
        one.only(("rung", "ceiling", "reason", "source"))
        for key, example in (("rung", 'rung = "State"'), ("ceiling", "ceiling = 108")):
            if key not in one:
                one.fault(key, "is missing", f"write e.g. {example}")
        rung, ceiling = one.text("rung", library.ladder.rungs), one.length("ceiling", "in")
        if rung is not None and ceiling is not None:
            said[rung] = LeastCeiling(rung, ceiling, one.text("reason") or OWN, one.text("source") or OWN)
    at = library.ladder.rungs.index
    return tuple(sorted(said.values(), key=lambda need: at(need.rung)))


def _enrichments(settings: Settings, base: Style, library: Library) -> tuple[EnrichmentRow, ...]:
    """What is carved or turned: the base's, and in the place of its rows of one name what the file says."""
    known = [row.name for row in library.enrichments]
    own: list[EnrichmentRow] = []
    for one in settings.each("enrichment"):
        before = len(one.problems)
        one.only(("name", "elements", "rungs", "source"))
        if "name" not in one:
            one.fault("name", "is missing", 'write e.g. name = "dentils"')
        name = one.text("name", known)
        can = tuple(library.enrichment(name).forms) if name else ()
        elements = one.names("elements") if "elements" in one else can
        rungs = one.names("rungs") if "rungs" in one else library.ladder.rungs
        for element in elements or ():
            if name and element not in can:
                one.fault("elements", f"no {element} carries {name}", choose(element, can))
        for rung in rungs or ():
            if rung not in (*library.ladder.rungs, NO_FORM):
                one.fault("rungs", f"{quoted(rung)} is no rung", choose(rung, (*library.ladder.rungs, NO_FORM)))
        if len(one.problems) == before and name and elements and rungs:
            own.append(EnrichmentRow(name, elements, rungs, one.text("source") or OWN))
    said = {row.name for row in own}
    return (
        *(row for row in base.enrichments if row.name not in said),
        *(row for row in own if row.rungs != (NO_FORM,)),
    )
