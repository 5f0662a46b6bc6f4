"""A takeoff as a JSON object, a part of the plan's. Lengths are inches, angles degrees, money the house's currency."""

from dataclasses import asdict
from typing import Any

from planner.takeoff.lots import CutBar, CutLot
from planner.takeoff.saw import Settings
from planner.takeoff.sticks import Stick
from planner.takeoff.takeoff import Run, Takeoff
from planner.walls.piece import Place

PANELS = "by the piece, each to its own size; no sheets are laid out, what is left of sheets is not counted"
"""How panels are counted."""

PLACES = 6
"""To how many places lengths and angles are written."""


def takeoff_object(takeoff: Takeoff, currency: str) -> dict[str, Any]:
    """The takeoff as a JSON object; the README documents its keys.

    Parameters
    ----------
    takeoff : of a plan.
    currency : of the house, a code of three letters.
    """
    bar_of = {number: bar.number for bar in takeoff.bars for number in bar.sticks}
    fit = takeoff.allowances.fit
    return {
        "pieces": [_piece(stick, bar_of[stick.number], fit(stick.ends)) for stick in takeoff.sticks],
        "runs": [_run(run) for run in takeoff.runs],
        "bars": [_bar(bar) for bar in takeoff.bars],
        "order": [asdict(line) | {"amount": line.amount} for line in takeoff.order],
        "unpriced": sum(line.count for line in takeoff.unpriced),
        "cutting": [_lot(lot, currency) for lot in takeoff.lots],
        "offcuts": [
            {"profile": bar.profile, "bar": bar.number, "length": round(bar.offcut, PLACES)} for bar in takeoff.offcuts
        ],
        "settings": asdict(takeoff.allowances) | {"lengths": list(takeoff.allowances.lengths), "panels": PANELS},
        "waste": round(takeoff.waste, PLACES),
        "notes": list(takeoff.notes),
    }


def _piece(stick: Stick, bar: int, fit: float) -> dict[str, Any]:
    place = stick.place
    return {
        "piece": stick.number,
        "room": place.room,
        "wall": place.wall,
        "element": stick.element,
        "profile": stick.profile,
        "length": round(stick.length, PLACES),
        "ends": [end.value for end in stick.ends],
        "name": stick.name,
        "opening": place.opening,
        "run": stick.run,
        "layer": stick.layer,
        **_extent(place),
        "width": round(stick.width, PLACES),
        "depth": round(stick.depth, PLACES),
        "fit": round(fit, PLACES),
        "saw": [None if settings is None else _settings(settings) for settings in stick.saw],
        "bar": bar,
        "note": stick.note,
    }


def _extent(place: Place) -> dict[str, float]:
    return {name: round(getattr(place, name), PLACES) for name in ("x0", "x1", "y0", "y1")}


def _settings(settings: Settings) -> dict[str, Any]:
    return {
        name: None
        if setting is None
        else {"miter": round(setting.miter, PLACES), "bevel": round(setting.bevel, PLACES)}
        for name, setting in settings._asdict().items()
    }


def _run(run: Run) -> dict[str, Any]:
    place = run.place
    return {
        "run": run.number,
        "room": place.room,
        "wall": place.wall,
        "element": run.element,
        "name": run.name,
        **_extent(place),
        "profiles": list(run.profiles),
    }


def _bar(bar: CutBar) -> dict[str, Any]:
    return {
        "bar": bar.number,
        "profile": bar.profile,
        "stock_length": round(bar.stock_length, PLACES),
        "pieces": list(bar.sticks),
        "offcut": round(bar.offcut, PLACES),
        "price": bar.price,
        "kerf": bar.kerf,
        "end_trim": bar.end_trim,
    }


def _lot(lot: CutLot, currency: str) -> dict[str, Any]:
    return {
        "profile": lot.profile,
        "cost": lot.cost,
        "bound": lot.bound,
        "proved": lot.proved,
        "unit": currency if lot.priced else "in",
        "first_fit": lot.first_fit,
        "by_piece": lot.by_piece,
        "pieces": sum(len(bar.sticks) for bar in lot.bars),
        "bars": len(lot.bars),
        "ordered": round(lot.ordered, PLACES),
        "finished": round(lot.finished, PLACES),
    }
