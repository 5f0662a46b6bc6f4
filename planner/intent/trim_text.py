"""Trim rules as a list of tables, [[trim]], in an alternative's TOML: read with every fault told, and written."""

from collections.abc import Collection, Sequence
from typing import Any, NamedTuple

import tomlkit

from planner.files.problems import choose
from planner.files.toml_settings import Settings, shown
from planner.intent.trim_rules import ASPECTS, KINDS, LENGTHS, Change, Scope, TrimRule, unfit
from planner.library import Library
from planner.library.model import NO_FORM
from planner.units import Unit, quoted, section_unit, spell_number

KEYS = ("element", *KINDS, *ASPECTS)


class Names(NamedTuple):
    """What an alternative may name of a house, None where that is not known, and the house's unit."""

    rooms: Collection[str] | None = None
    levels: Collection[str] | None = None
    openings: Collection[str] | None = None
    profiles: Collection[str] | None = None
    unit: Unit = "in"


def trim_rules(tables: Sequence[Settings], tiers: int, names: Names, library: Library) -> tuple[TrimRule, ...]:
    """The rules of an alternative of so many tiers; those with faults are told and left out."""
    found = (_rule(table, tiers, names, library) for table in tables)
    return tuple(rule for rule in found if rule is not None)


def _rule(table: Settings, tiers: int, names: Names, library: Library) -> TrimRule | None:
    before = len(table.problems)
    table.only(KEYS)
    element = table.text("element", library.element_kinds)
    if "element" not in table:
        table.fault("element", "is missing", choose("", library.element_kinds))
    scope, change = _scope(table, tiers, names, library), _change(table, element, names, library)
    if element is not None:
        if change == Change() and not any(key in table for key in ASPECTS):
            table.fault(None, "says nothing of the element", f"write one of {', '.join(ASPECTS)}")
        for key, message, remedy in unfit(TrimRule(element, scope, change), library, names.unit):
            table.fault(key, message, remedy)
    return TrimRule(element, scope, change) if element is not None and len(table.problems) == before else None


def _scope(table: Settings, tiers: int, names: Names, library: Library) -> Scope:
    uses = {use: library.use_read(use) for use in table.names("uses") or ()}
    for use, read in uses.items():
        if read is None:
            table.fault("uses", f"{quoted(use)} is no use of rooms", choose(use, library.readings))
    return Scope(
        tiers=_tiers(table, tiers),
        levels=known_names(table, "levels", names.levels, "level"),
        uses=tuple(dict.fromkeys(read.name for read in uses.values() if read)),
        rooms=known_names(table, "rooms", names.rooms, "room"),
        openings=known_names(table, "openings", names.openings, "opening"),
    )


def _tiers(table: Settings, tiers: int) -> tuple[int, int] | None:
    """The lowest and the highest tier; one number is both."""
    said = table.values.get("tiers")
    if said is None:
        return None
    ends = said if isinstance(said, list) else [said, said]
    whole = all(isinstance(end, int) and not isinstance(end, bool) and 1 <= end <= tiers for end in ends)
    if len(ends) != 2 or not whole or ends[0] > ends[1]:
        message = f"{shown(said)} is no range of the tiers 1 to {tiers}"
        table.fault("tiers", message, f"write the lowest and the highest, e.g. [2, {tiers}]")
        return None
    return ends[0], ends[1]


def known_names(table: Settings, key: str, known: Collection[str] | None, what: str) -> tuple[str, ...]:
    """Names under a key, those told that are not known; where None are, none is."""
    found = tuple(dict.fromkeys(table.names(key) or ()))
    for name in found:
        if known is not None and name not in known:
            table.unknown(key, what, name, known)
    return found


def _change(table: Settings, element: str | None, names: Names, library: Library) -> Change:
    unit = section_unit(names.unit)
    forms = (*library.form_names(element), NO_FORM) if element else ()
    lengths = {key: table.length(key, unit) for key in LENGTHS}
    profile = table.text("profile") or ""
    if profile and names.profiles is not None and profile not in names.profiles:
        remedy = choose(profile, names.profiles) if names.profiles else "add it to the stock"
        table.fault("profile", f"there is no profile {quoted(profile)} in the stock", remedy)
    return Change(form=table.text("form", forms) or "", profile=profile, **lengths)


def put_rules(
    document: tomlkit.TOMLDocument, rules: Sequence[TrimRule], before: Sequence[TrimRule], unit: Unit
) -> None:
    """Make the rules of a document just these, in a house of that unit; the tables of those that were there `before`
    stay as they are."""
    tables = list(document.get("trim", []))
    kept = dict(zip(before, tables, strict=True)) if len(tables) == len(before) else {}
    document.pop("trim", None)
    if not rules:
        return
    listed = tomlkit.aot()
    for rule in rules:
        listed.append(kept.get(rule) or _table(rule, unit))
    document["trim"] = listed


def _table(rule: TrimRule, unit: Unit) -> Any:
    table = tomlkit.table()
    table["element"] = rule.element
    for kind in KINDS:
        if said := getattr(rule.scope, kind):
            table[kind] = list(said)
    for aspect in ASPECTS:
        said = getattr(rule.change, aspect)
        if said:
            table[aspect] = said if isinstance(said, str) else exact_length(said, unit)
    return table


def exact_length(inches: float, unit: Unit) -> str:
    """A length as it is written in a file of a house of that unit, with its unit, so that it reads as the same number.

    >>> exact_length(5.5, "ft"), exact_length(1 / 3, "in"), exact_length(5.5, "cm")
    ('5.5 in', '0.3333333333333333 in', '139.7 mm')
    """
    said = spell_number(inches, section_unit(unit))
    if section_unit(unit) == "mm" and not said.endswith("in"):
        return f"{said} mm"
    return f"{inches!r} in".replace(".0 in", " in")
