"""A plan as one JSON object, format 1. Keys may be added; none is renamed. Lengths are inches."""

import json
from dataclasses import asdict
from typing import Any

import msgspec

from planner.deliverables.cost_json import cost_object
from planner.deliverables.takeoff_json import takeoff_object
from planner.house.model import Fixture, Flight
from planner.intent.model import INDEX, MONEY
from planner.intent.trim_rules import ASPECTS
from planner.library import Library
from planner.library.model import NO_FORM
from planner.planning.answer import PassagePlan, Plan, RoomPlan
from planner.stock.choice import Choice
from planner.trim.existing import Match
from planner.trim.joinery import joinery
from planner.trim.packages import Element, Package
from planner.trim.schedule import Cell
from planner.trim.shown import shown

TAKEOFF_LIMIT = 500
"""Above this many rooms a takeoff is told only when asked for: it takes minutes."""


def plan_object(planned: Plan, *, takeoff: bool | None = None) -> dict[str, Any]:
    """The plan as a JSON object; the README documents its keys. Lengths are inches.

    Parameters
    ----------
    planned : the plan.
    takeoff : whether to tell the takeoff, which takes longer than the plan; by default for up to TAKEOFF_LIMIT rooms.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> found = plan_object(plan(read_house(demo_house())[0]), takeoff=False)
    >>> found["format"], found["optimal"], found["rooms"][0]["package_key"]
    (1, True, 'georgian/doric/1/108.0/')
    """
    house = planned.house
    taken = planned.takeoff if (len(planned.rooms) <= TAKEOFF_LIMIT if takeoff is None else takeoff) else None
    return {
        "format": 1,
        "house": _house(planned),
        "alternative": planned.intent.name,
        "feasible": planned.feasible,
        "conflicts": list(planned.conflicts),
        "objective": _figures(planned.objective, "total", "fit", "abrupt") if planned.feasible else None,
        "optimal": planned.optimal,
        "budget": planned.intent.budget,
        "cost_in": MONEY if planned.currency else INDEX,
        "sets": [list(group) for group in planned.sets],
        "tiers": [{"tier": tier, "name": name} for tier, name in enumerate(planned.tier_names, 1)],
        "top": planned.top,
        "rooms": [_room(room) for room in sorted(planned.rooms, key=lambda r: r.room.name)],
        "passages": [_passage(passage) for passage in planned.passages],
        "packages": [_package(planned, package) for package in planned.packages],
        "routes": [{"room": route.room, "rooms": list(route.rooms)} for route in planned.routes],
        "notes": list(planned.notes),
        "rules": [rule.words(planned.house.unit) for rule in planned.intent.trim],
        "stock": _stock(planned.choice),
        "fixtures": [_thing(fixture, "fixture") for fixture in house.fixtures],
        "flights": [_thing(flight, "flight") | {"angle": flight.angle} for flight in house.flights],
        "matches": [_match(match) for match in planned.matches],
        "checks": [asdict(check) for check in planned.checks],
        "takeoff": takeoff_object(taken, house.currency) if taken is not None else None,
        "cost": cost_object(planned, money=taken is not None) if planned.feasible else None,
    }


def _house(planned: Plan) -> dict[str, Any]:
    """What the plan is of."""
    house = planned.house
    return {
        "name": house.name,
        "entry": list(house.entries),
        "rooms": len(house.rooms),
        "openings": len(house.openings),
        "fixtures": len(house.fixtures),
        "flights": len(house.flights),
        "year_built": house.year_built,
        "currency": house.currency,
        "style": planned.style,
        "order": planned.order,
        "canon": planned.canon,
        "grade": planned.grade,
    }


def plan_text(planned: Plan, *, proposals: bool = False, takeoff: bool | None = None) -> str:
    """The JSON text of a plan, the same on every machine for the same input.

    Parameters
    ----------
    planned : the plan.
    proposals : whether to tell what is proposed beside it too, which takes longer than the plan.
    takeoff : whether to tell the takeoff, as `plan_object` takes it.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> json.loads(plan_text(plan(read_house(demo_house())[0]), takeoff=False))["house"]["name"]
    'Thornapple House'
    """
    # What indents in the standard library is many times slower than what does not.
    found = plan_object(planned, takeoff=takeoff) | (_proposed(planned) if proposals else {})
    return msgspec.json.format(json.dumps(found, ensure_ascii=False, allow_nan=False), indent=1)


def _proposed(planned: Plan) -> dict[str, Any]:
    """What is proposed beside a plan, and the frontier of its costs."""
    found = planned.frontier
    figures = ("cost", "total", "fit", "abrupt")
    points = [_figures(point, *figures) for point in (found.points if found else ())]
    return {
        "proposals": [
            _figures(p, "kind", "title", "trade", *figures)
            | {"budget": p.intent.budget}
            | {"moves": [{"room": room, "from": was, "to": to} for room, (was, to) in p.moves.items()]}
            for p in planned.proposals
        ],
        "not_proposed": list(planned.not_proposed),
        "frontier": {"points": points, "knees": list(found.knees), "gap": found.gap} if found else None,
    }


def _figures(value: object, *names: str) -> dict[str, Any]:
    """Some fields of a value by their own names."""
    found = {name: getattr(value, name) for name in names}
    return {name: list(each) if isinstance(each, tuple) else each for name, each in found.items()}


def package_key(package: Package) -> str:
    """What a package is known by, as one text: lengths [in] in full, so that no two packages share it."""
    variant = ";".join(
        f"{cell.element}@{cell.opening}={','.join(str(getattr(change, aspect) or '') for aspect in ASPECTS)}"
        for cell, change in package.variant
    )
    known = (package.style, package.order, str(package.tier), repr(package.ceiling), variant)
    return "/".join((*known, package.stays) if package.stays else known)


def _stock(choice: Choice | None) -> dict[str, Any] | None:
    if choice is None:
        return None
    names = ("deviation", "profiles", "optimal", "bound", "gap", "shortfalls", "family", "left")
    return _figures(choice, *names)


def _thing(what: Fixture | Flight, named: str) -> dict[str, Any]:
    """A fixture or a flight by the columns of its table, lengths in inches."""
    said = asdict(what)
    return {named: said.pop("name"), **said}


def _match(match: Match) -> dict[str, Any]:
    return asdict(match) | {"difference": match.difference}


def _room(room: RoomPlan) -> dict[str, Any]:
    return {
        "room": room.room.name,
        "level": room.room.level,
        "use": room.room.use,
        "depth": room.depth,
        "integration": room.integration,
        "mean_depth": room.mean_depth,
        "ra": room.ra,
        "rra": room.rra,
        "factors": dict(room.factors),
        "importance": room.importance,
        "target": room.target,
        "weight": room.weight,
        "lowest": room.lowest,
        "highest": room.highest,
        "pinned": room.pinned,
        "tier": room.tier,
        "package": room.package.label,
        "package_key": package_key(room.package),
        "ceiling": room.room.ceiling,
        "trim_share": room.package.trim_share,
        "members": room.package.members,
        "cost": room.cost,
        "tier_costs": list(room.tier_costs),
        "tier_money": list(room.tier_money),
        "reasons": list(room.reasons),
    }


def _passage(passage: PassagePlan) -> dict[str, Any]:
    return {
        "from": passage.start,
        "to": passage.end,
        "kind": passage.kind,
        "limit": passage.limit,
        "comfort": passage.comfort,
        "lambda": passage.weight,
        "rise": passage.rise,
        "difference": passage.difference,
        "reads": passage.reads,
        "shared": list(passage.shared),
    }


def _package(planned: Plan, package: Package) -> dict[str, Any]:
    library = planned.library
    return {
        "package": package.label,
        "package_key": package_key(package),
        "style": package.style,
        "order": package.order,
        "tier": package.tier,
        "ceiling": package.ceiling,
        "variant": "; ".join(
            [f"{cell.words}: {change.words(package.unit)}" for cell, change in package.variant]
            + [f"what stays in {room}" for room in [package.stays] if room]
        ),
        "trim_share": package.trim_share,
        "members": package.members,
        "elements": _elements(planned.standing[package], library),
        "left_out": [
            {"element": cell.element, "opening": cell.opening, "rule": "; ".join(package.rules[cell])}
            for cell, change in package.variant
            if change.form == NO_FORM
        ],
        "openings": {name: _elements(own, library, name, package) for name, own in package.own.items()},
    }


def _elements(
    package: Package, library: Library, opening: str = "", whole: Package | None = None
) -> list[dict[str, Any]]:
    """The elements of a package; at an opening those alone that are not as in the whole of it."""
    rules, same = (whole or package).rules, whole.elements if whole else ()
    return [
        _element(package, e, library) | {"rule": "; ".join(rules.get(Cell(opening, e.element), ()))}
        for e in package.elements
        if e not in same
    ]


def _element(package: Package, element: Element, library: Library) -> dict[str, Any]:
    return {
        "element": element.element,
        "form": element.form,
        "target": element.target,
        "size": element.size,
        "projection": element.projection,
        "thickness": element.thickness,
        "ground": element.ground,
        "enrichments": list(element.enrichments),
        "returned": element.returned,
        "bottom": element.bottom,
        "members": element.members,
        "profiles": list(element.profiles),
        "source": element.source,
        "stays": element.stays,
        "section": [
            {
                "member": member.member,
                "height": _length(member.height),
                "projection": _length(member.projection),
                "profile": member.profile,
            }
            for member in shown(package, element, library)
        ],
        "joinery": [
            {
                "board": board.name,
                "x": _length(board.x),
                "y": _length(board.y),
                "depth": _length(board.depth),
                "height": _length(board.height),
                "comes_with": board.comes_with,
            }
            for board in joinery(package, element, library)
        ],
    }


def _length(inches: float) -> float:
    """A length [in] without the noise of its sums."""
    return round(inches, 6)
