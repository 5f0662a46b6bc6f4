"""What is bought and cut, as tables for paper: the takeoff, the order, the cut list, the bars and the saw."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

import pandas as pd

from planner.deliverables.table import How, Table, Worked, as_built
from planner.deliverables.trim_tables import lengths
from planner.planning.answer import Plan
from planner.takeoff.lots import CutLot
from planner.takeoff.saw import Setting, Settings
from planner.takeoff.sticks import Stick
from planner.takeoff.takeoff import Takeoff
from planner.units import INCHES_IN, Unit, format_length, format_size, running_unit

PLACES = 4
"""To how many places what is not read off a tape is written."""

DEGREES = 2
"""To how many places angles are written: finer than any saw is set."""

MADE = {
    "": "the stock",
    "board": "dressed boards",
    "rough": "rough boards",
    "section": "made to its section",
    "panel": "made to its size, by the piece",
    "carved": "carved or turned, by the piece",
}
"""What things are bought as, by what planner.library.rate_rows.Made says of them."""

SAW = (
    "Miter turns the blade from square, bevel leans it from plumb; flat is with the piece on its back, nested with a"
    " crown upside down between table and fence. To which side shows on the piece. Cut a pair from scrap and try them"
    " in the corner first. Saws can maim: guard down, hands clear of the blade, blade stopped before an offcut is"
    " touched; follow the maker's instructions and the OSHA rules."
)


def takeoff(plan: Plan, taken: Takeoff) -> Table:
    """How much of what each element of each room takes."""
    run, level = running_unit(plan.house.unit), _levels(plan)
    found: dict[tuple[str, str, str], list[Stick]] = defaultdict(list)
    for stick in taken.sticks:
        found[stick.place.room, stick.element, stick.profile].append(stick)
    rows = [
        {"Level": level[room], "Room": room, "Element": element, "Profile": profile, "Pieces": len(sticks)}
        | {f"Finished [{run}]": sum(s.length for s in sticks) / INCHES_IN[run]}
        for (room, element, profile), sticks in found.items()
    ]
    return Table(
        "takeoff",
        "Takeoff",
        as_built(pd.DataFrame(rows)).round(PLACES),
        "Every piece that is cut, summed up by room, element and profile: finished lengths, without kerfs, trimmed ends"
        " and what is left over. Trim that stays is not in it.",
        totals=("Pieces", f"Finished [{run}]"),
        fast=2,
    )


def order(plan: Plan, taken: Takeoff) -> Table:
    """What is bought, by profile and length."""
    run, money = running_unit(plan.house.unit), plan.house.currency
    made = {lot.profile: lot.stuff.made for lot in taken.lots}
    price, amount, count = f"Price of one [{money}]", f"Amount [{money}]", "Count"
    rows: list[dict[str, Any]] = [
        {"Profile": line.profile, "Bought as": MADE[made[line.profile]]}
        | {f"Length [{run}]": line.stock_length / INCHES_IN[run]}
        | {"Written": format_length(line.stock_length, plan.house.unit)}
        | {count: line.count, price: line.price, amount: line.amount}
        for line in taken.order
    ]
    return Table(
        "order",
        "Order",
        as_built(pd.DataFrame(rows).astype({price: float, amount: float})).round(PLACES),
        f"What to buy, as it is cut in the sheets Cut list and Bars. {without_price(plan, taken)} Nothing is added for"
        " mishaps.",
        totals=(count, amount),
        worked={amount: Worked(How.PRODUCT, (count, price))},
    )


def without_price(plan: Plan, taken: Takeoff) -> str:
    """How much of the order has no price in the stock, and what that means for its total and for the cost."""
    bare, all_ = sum(line.count for line in taken.unpriced), len(taken.bars)
    if not bare:
        return "All of it has a price in the stock."
    cost = plan.money
    counted_in = f"{cost.currency} {cost.by_rates:,.0f} of material" if cost is not None else "them"
    return (
        f"{bare:,} of {all_:,} bars and pieces have no price in the stock, and no amount here: ask for prices. The"
        f" total of the order leaves them out; the cost counts {counted_in} for them, by the rates of boards and of"
        " what is made."
    )


def cutting(plan: Plan, taken: Takeoff) -> Table:
    """Each profile with what its bars cost, and the bound below which nothing can."""
    run = running_unit(plan.house.unit)
    bought, finished, left = f"Bought [{run}]", f"Finished [{run}]", f"Kerfs and left over [{run}]"
    rows: list[dict[str, Any]] = [
        {"Profile": lot.profile, "Pieces": sum(len(bar.sticks) for bar in lot.bars), "Bars": len(lot.bars)}
        | {bought: lot.ordered / INCHES_IN[run], finished: lot.finished / INCHES_IN[run]}
        | {left: 0.0}
        | _proof(lot, run, plan.house.currency)
        for lot in taken.lots
    ]
    money = [f"{heading} [{plan.house.currency}]" for heading in PROOF]
    frame = as_built(pd.DataFrame(rows)).round(PLACES)
    frame[left] = (frame[bought] - frame[finished]).round(PLACES)
    return Table(
        "cutting",
        "Cutting",
        frame.astype(dict.fromkeys(money, float)),
        "How each profile is cut over the whole house. No other bars cost less than the bound, or are less in all where"
        " the stock has no price: where both are the same, nothing cheaper exists. First fit is what the quick rule of"
        " thumb comes to.",
        totals=("Pieces", "Bars", bought, finished, left, *money),
        worked={left: Worked(How.DIFFERENCE, (bought, finished), PLACES)},
    )


PROOF = ("Cost", "Bound", "First fit")
"""What a lot comes to, what it comes to at least, and what it would come to by first fit."""


def _proof(lot: CutLot, run: Unit, currency: str) -> dict[str, Any]:
    """How well a profile is cut, in money, or where it has no price by length."""
    figures = dict(zip(PROOF, (lot.cost, lot.bound, lot.first_fit), strict=True))
    by_length = {name: value / INCHES_IN[run] for name, value in figures.items() if name != "Cost"}
    return (
        {f"{name} [{currency}]": value if lot.priced else None for name, value in figures.items()}
        | {f"{name} [{run}]": None if lot.priced else value for name, value in by_length.items()}
        | {"Proved": "yes" if lot.proved else "no"}
    )


def cut_list(plan: Plan, taken: Takeoff) -> Table:
    """What is cut, in the order in which a crew works; equal pieces for one place, left and
    right, stand in one row."""
    level, bar_of, cut_to = _levels(plan), _bar_of(taken), taken.allowances.cut_to
    alike: dict[tuple[Any, ...], list[Stick]] = defaultdict(list)
    for stick in taken.sticks:
        alike[_alike(stick)].append(stick)
    rows = [
        {"Level": level[one.place.room], "Room": one.place.room, "Wall": one.place.wall}
        | {
            "Opening": one.place.opening,
            "Piece": names(s.name for s in sticks),
            "Profile": one.profile,
            "Pieces": len(sticks),
        }
        | lengths(plan, {"Finished": one.length, "Cut to": cut_to(one.length, one.ends)})
        | lengths(plan, {"Width": one.width, "Depth": one.depth})
        | {"Left or lower end": _end(one, 0), "Right or upper end": _end(one, 1)}
        | {"Bars": ranges(bar_of[s.number] for s in sticks), "Numbers": ranges(s.number for s in sticks)}
        | {"Note": one.note}
        for sticks in alike.values()
        for one in sticks[:1]
    ]
    return Table(
        "cut-list",
        "Cut list",
        as_built(pd.DataFrame(rows)),
        "Floor by floor, room by room, wall by wall: first what lies behind, then what stands round openings, then what"
        " runs along the wall. Lengths are from long point to long point; cut to leaves room for a test fit. An end"
        " says how the saw is set: miter / bevel of a piece that lies flat; in brackets the miter of a crown that is"
        " nested.",
        totals=("Pieces",),
        fast=3,
    )


def bars(plan: Plan, taken: Takeoff) -> Table:
    """Every bar, with what is cut from it and what is left."""
    run, kept = running_unit(plan.house.unit), {bar.number for bar in taken.offcuts}
    rows: list[dict[str, Any]] = [
        {"Bar": bar.number, "Profile": bar.profile, f"Length [{run}]": bar.stock_length / INCHES_IN[run]}
        | {"Pieces": len(bar.sticks), "Numbers and what each is cut to": _cut_from(plan, taken, bar.sticks)}
        | lengths(plan, {"Left over": bar.offcut})
        | {"Kept": "yes" if bar.number in kept else ""}
        for bar in taken.bars
    ]
    least = format_size(taken.allowances.offcut, plan.house.unit)
    return Table(
        "bars",
        "Bars",
        as_built(pd.DataFrame(rows)).round(PLACES),
        "What is cut from each bar, the longest first, by the numbers of the cut list. What is left over is kept from"
        f" {least} on.",
        totals=("Pieces",),
    )


def saw(plan: Plan, taken: Takeoff) -> Table:
    """Every setting of the saw, by profile and end, with how often it is cut and where."""
    ends: dict[tuple[str, str, Settings], list[str]] = defaultdict(list)
    for stick in taken.sticks:
        for end, settings in zip(stick.ends, stick.saw, strict=True):
            if settings is not None:
                ends[stick.profile, str(end), rounded(settings)].append(stick.place.room)
    rows = [
        {"Profile": profile, "End": end}
        | {"Miter, flat [°]": settings.flat.miter, "Bevel, flat [°]": settings.flat.bevel}
        | {"Miter, nested [°]": settings.nested.miter if settings.nested else None}
        | {"Bevel, nested [°]": settings.nested.bevel if settings.nested else None}
        | {"Ends": len(where), "Rooms": ", ".join(dict.fromkeys(where))}
        for (profile, end, settings), where in sorted(ends.items(), key=lambda row: (*row[0][:2], row[0][2].flat))
    ]
    return Table("saw", "Saw", pd.DataFrame(rows), SAW, totals=("Ends",), fast=2)


def pieces(plan: Plan, taken: Takeoff) -> Table:
    """Every piece that is cut, one a row, with its place and its saw settings; for other tools, as it is long."""
    level, bar_of, cut_to = _levels(plan), _bar_of(taken), taken.allowances.cut_to
    rows = [
        {"Number": s.number, "Level": level[s.place.room], "Room": s.place.room, "Wall": s.place.wall}
        | {"Opening": s.place.opening, "Element": s.element, "Piece": s.name, "Profile": s.profile}
        | lengths(plan, {"Finished": s.length, "Cut to": cut_to(s.length, s.ends), "Width": s.width, "Depth": s.depth})
        | lengths(plan, {"From": s.place.x0, "To": s.place.x1, "Bottom": s.place.y0, "Top": s.place.y1})
        | {"Left or lower end": str(s.ends[0]), **_degrees("left or lower", s.saw[0])}
        | {"Right or upper end": str(s.ends[1]), **_degrees("right or upper", s.saw[1])}
        | {"Bar": bar_of[s.number], "Run": s.run, "Layer": s.layer, "Note": s.note}
        for s in taken.sticks
    ]
    return Table("pieces", "Pieces", pd.DataFrame(rows).round(PLACES))


def _end(stick: Stick, which: int) -> str:
    """How an end of a piece is made, and how the saw is set for it."""
    settings = stick.saw[which]
    return f"{stick.ends[which]} {setting(settings)}" if settings else str(stick.ends[which])


def setting(settings: Settings) -> str:
    """How the saw is set, in words: miter / bevel of what lies flat, and in brackets the miter of what is nested.

    >>> setting(Settings(Setting(31.6217, 33.8618), Setting(45.0, 0.0))), setting(Settings(Setting(0.0, 45.0)))
    ('31.62 / 33.86 (45)', '0 / 45')
    """
    flat, nested = rounded(settings)
    return f"{flat.miter:g} / {flat.bevel:g}" + (f" ({nested.miter:g})" if nested else "")


def rounded(settings: Settings) -> Settings:
    """The settings as they are written."""
    flat, nested = (s and Setting(*(round(angle, DEGREES) + 0.0 for angle in s)) for s in settings)
    return Settings(flat or Setting(0.0, 0.0), nested)


def ranges(numbers: Iterable[int]) -> str:
    """Whole numbers in few words.

    >>> ranges([3, 1, 2, 7, 7])
    '1–3, 7'
    """
    found: list[list[int]] = []
    for number in sorted(set(numbers)):
        if found and number == found[-1][-1] + 1:
            found[-1] = [found[-1][0], number]
        else:
            found.append([number])
    return ", ".join("–".join(map(str, part)) for part in found)


SIDES = ("left ", "right ")
"""What tells apart two pieces of one name that may be cut alike."""


def names(alike: Iterable[str]) -> str:
    """What pieces are called that are cut alike, in few words.

    >>> names(["left leg", "right leg", "left leg"]), names(["head"])
    ('left and right leg', 'head')
    """
    known = list(dict.fromkeys(alike))
    bare = _bare(known[0])
    return known[0] if len(known) == 1 else f"{' and '.join(name.removesuffix(bare).strip() for name in known)} {bare}"


def _bare(name: str) -> str:
    """The name of a piece without its side."""
    return name.removeprefix(SIDES[0]).removeprefix(SIDES[1])


def _alike(stick: Stick) -> tuple[Any, ...]:
    """What pieces share that stand in one row of the cut list."""
    place, bare = stick.place, _bare(stick.name)
    return (
        *(place.room, place.wall, place.opening, bare, stick.name == bare, stick.profile, round(stick.length, PLACES)),
        *(round(stick.width, PLACES), round(stick.depth, PLACES), stick.ends, stick.saw, stick.note),
    )


def _levels(plan: Plan) -> dict[str, str]:
    return {room.name: room.level for room in plan.house.rooms}


def _bar_of(taken: Takeoff) -> dict[int, int]:
    """The bar that each piece is cut from, by their numbers."""
    return {number: bar.number for bar in taken.bars for number in bar.sticks}


def _cut_from(plan: Plan, taken: Takeoff, numbers: Iterable[int]) -> str:
    """The pieces of a bar, each with what it is cut to."""
    sticks = [taken.sticks[number - 1] for number in numbers]
    cut = (format_size(taken.allowances.cut_to(s.length, s.ends), plan.house.unit) for s in sticks)
    return "; ".join(f"{s.number}: {size}" for s, size in zip(sticks, cut, strict=True))


def _degrees(end: str, settings: Settings | None) -> dict[str, float | None]:
    """How the saw is set for an end, in columns."""
    flat, nested = rounded(settings) if settings else (None, None)
    return {
        f"Miter, {end}, flat [°]": flat and flat.miter,
        f"Bevel, {end}, flat [°]": flat and flat.bevel,
        f"Miter, {end}, nested [°]": nested and nested.miter,
        f"Bevel, {end}, nested [°]": nested and nested.bevel,
    }
