"""An intent as a TOML file: read with every fault told, written so that a person's comments stay."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

import tomlkit

from planner.files.problems import Problem, choose
from planner.files.toml_settings import Settings, parse_settings
from planner.intent.model import COST_IN, DEFAULT_TIERS, FACTORS, FEWEST_TIERS, MOST_TIERS, Intent, Wing, Wish
from planner.intent.trim_text import Names, known_names, put_rules, trim_rules
from planner.library import Library
from planner.units import Unit, quoted

PLAIN_KEYS = ("title", "author", "style", "order", "canon", "grade", "tiers", "cost_in", "budget")
KEYS = (*PLAIN_KEYS, "importance", "limits", "rooms", "sets", "trim", "wings", "offered")


def parse_intent(data: bytes, file: str, name: str, names: Names, problems: list[Problem], library: Library) -> Intent:
    """An intent from the bytes of its file.

    Parameters
    ----------
    file : what the file is called in `problems`, to which every fault is appended.
    name : of the intent.
    names : what there is in the house; what is not known is not checked.
    """
    settings = parse_settings(data, file, problems)
    if settings is None:
        return Intent(name)
    settings.only(KEYS)
    tiers = settings.whole("tiers", FEWEST_TIERS, MOST_TIERS) or DEFAULT_TIERS
    return Intent(
        name=name,
        title=settings.text("title") or "",
        author=settings.text("author") or "",
        style=settings.text("style", library.style_names),
        order=settings.text("order", library.order_names),
        canon=settings.text("canon", library.canon_names),
        grade=settings.text("grade", library.grade_names),
        tiers=tiers,
        cost_in=settings.text("cost_in", COST_IN),
        budget=settings.number("budget"),
        importance=_importance(settings.inner("importance")),
        limits=_limits(settings.inner("limits"), library),
        rooms=_wishes(settings.inner("rooms"), library.ladder.names[str(tiers)], names.rooms),
        sets=_sets(settings, names.rooms),
        trim=trim_rules(settings.each("trim"), tiers, names, library),
        wings=_wings(settings, names, library),
        offered=known_names(settings, "offered", library.element_kinds, "element"),
    )


def intent_bytes(intent: Intent, before: bytes | None, library: Library, unit: Unit) -> bytes:
    """The bytes of an intent's file in a house of that unit; what `before` says stays as it is, comments and all."""
    document = tomlkit.parse((before or b"").decode("utf-8-sig"))
    old = parse_intent(before or b"", "", intent.name, Names(unit=unit), [], library)
    for key in PLAIN_KEYS:
        value = getattr(intent, key)
        if before is None and key == "tiers" and value == DEFAULT_TIERS:
            continue
        if value != getattr(old, key) or (before is None and value):
            _put(document, key, value or None if key in ("title", "author") else value)
    if before is None or intent.importance != old.importance:
        _fill(document, "importance", intent.importance)
    if intent.limits != old.limits:
        _fill(document, "limits", intent.limits)
    if intent.rooms != old.rooms:
        _fill_wishes(document, intent.rooms, library.ladder.names[str(intent.tiers)])
    if intent.sets != old.sets:
        _put_list(document, "sets", [{"rooms": names} for names in intent.sets])
    if intent.trim != old.trim:
        put_rules(document, intent.trim, old.trim, unit)
    if intent.wings != old.wings:
        _put_list(document, "wings", [vars(wing) for wing in intent.wings])
    if intent.offered != old.offered:
        _put(document, "offered", list(intent.offered) or None)
    return tomlkit.dumps(document).encode("utf-8", "surrogatepass")


def _importance(settings: Settings) -> dict[str, float]:
    settings.only(FACTORS)
    said = {factor: settings.number(factor) for factor in FACTORS}
    weights = {factor: Intent().importance[factor] if weight is None else weight for factor, weight in said.items()}
    if not any(weights.values()):
        settings.fault(None, "all weights are zero", "give at least one factor a weight above zero")
    return weights


def _limits(settings: Settings, library: Library) -> dict[str, int]:
    settings.only(library.passage_kinds)
    limits = {kind: settings.whole(kind, 0, MOST_TIERS - 1) for kind in settings.values}
    if limits.get("open"):
        settings.fault("open", "rooms that flow into each other share one tier", "write 0, or leave it out")
    return {kind: limit for kind, limit in limits.items() if limit is not None}


def _wishes(settings: Settings, names: Sequence[str], rooms: Collection[str] | None) -> dict[str, Wish]:
    wishes = {}
    for name in settings.values:
        if rooms is not None and name not in rooms:
            settings.unknown(name, "room", name, rooms)
        wish = settings.inner(name)
        wish.only(("tier", "lowest", "highest"))
        found = Wish(*(_tier(wish, key, names) for key in ("tier", "lowest", "highest")))
        if found.lowest is not None and found.highest is not None and found.lowest > found.highest:
            message = f"the lowest tier, {found.lowest}, is above the highest, {found.highest}"
            wish.fault("lowest", message, f"write {found.highest} or less")
        wishes[name] = found
    return wishes


def _tier(wish: Settings, key: str, names: Sequence[str]) -> int | None:
    """A tier by its number from 1 or by its name."""
    said = wish.values.get(key)
    if not isinstance(said, str):
        return wish.whole(key, 1, len(names))
    for number, name in enumerate(names, 1):
        if name.casefold() == " ".join(said.casefold().split()):
            return number
    wish.fault(key, f"{quoted(said)} is none of the {len(names)} tiers", f"write one of {', '.join(names)}")
    return None


def _sets(settings: Settings, rooms: Collection[str] | None) -> tuple[tuple[str, ...], ...]:
    sets = []
    for one in settings.each("sets"):
        one.only(("rooms",))
        listed = one.names("rooms") or ()
        if "rooms" not in one:
            one.fault("rooms", "is missing", 'write rooms = ["Front Parlor", "Back Parlor"]')
        for name in dict.fromkeys(listed):
            if rooms is not None and name not in rooms:
                one.unknown("rooms", "room", name, rooms)
        if len(set(listed)) < len(listed) or len(listed) == 1:
            one.fault("rooms", "a set needs two different rooms or more", "name each room once")
        sets.append(listed)
    return tuple(sets)


def _wings(settings: Settings, names: Names, library: Library) -> tuple[Wing, ...]:
    wings = []
    for one in settings.each("wings"):
        one.only(("style", "order", "levels", "rooms"))
        style, order = one.text("style", library.style_names), one.text("order", library.order_names)
        if "style" not in one:
            one.fault("style", "is missing", choose("", library.style_names))
        levels = known_names(one, "levels", names.levels, "level")
        rooms = known_names(one, "rooms", names.rooms, "room")
        if not levels and not rooms and "levels" not in one and "rooms" not in one:
            one.fault("rooms", "is missing", 'write rooms = ["Kitchen"], or levels = ["Attic"]')
        wings.append(Wing(style or "", order, levels, rooms))
    return tuple(wings)


def _put(table: Any, key: str, value: Any) -> None:
    """Set a key, or drop it where the value is None; one that has the value already is left alone."""
    if value is None:
        table.pop(key, None)
    elif key not in table or table[key] != value or type(table[key]) is bool:
        table[key] = value


def _fill(document: tomlkit.TOMLDocument, key: str, values: Mapping[str, Any]) -> None:
    """Make the table under a key hold just these values; an empty one goes."""
    if not values:
        document.pop(key, None)
        return
    if key not in document:
        document[key] = tomlkit.table()
    for gone in [name for name in document[key] if name not in values]:
        document[key].pop(gone)
    for name, value in values.items():
        _put(document[key], name, value)


def _fill_wishes(document: tomlkit.TOMLDocument, wishes: Mapping[str, Wish], names: Sequence[str]) -> None:
    """Make the table of rooms hold just these wishes; a tier that stands there by name stays by name."""
    if not wishes:
        document.pop("rooms", None)
        return
    if "rooms" not in document:
        document["rooms"] = tomlkit.table(is_super_table=True)
    for gone in [name for name in document["rooms"] if name not in wishes]:
        document["rooms"].pop(gone)
    for name, wish in wishes.items():
        if name not in document["rooms"]:
            document["rooms"][name] = tomlkit.table()
        for key in ("tier", "lowest", "highest"):
            tier, table = getattr(wish, key), document["rooms"][name]
            _put(table, key, names[tier - 1] if tier and isinstance(table.get(key), str) else tier)


def _put_list(document: tomlkit.TOMLDocument, key: str, tables: Sequence[Mapping[str, Any]]) -> None:
    """Make a list of tables hold just these; what is blank is left out of each, and an empty list goes."""
    document.pop(key, None)
    if not tables:
        return
    listed = tomlkit.aot()
    for said in tables:
        one = tomlkit.table()
        for name, value in said.items():
            if value:
                one[name] = value if isinstance(value, str) else list(value)
        listed.append(one)
    document[key] = listed
