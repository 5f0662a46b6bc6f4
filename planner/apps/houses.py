"""The house that a page is opened on."""

from collections.abc import Callable, Mapping, MutableMapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import marimo as mo

from planner.apps import address, pages
from planner.bundle import demo_house
from planner.files.problems import HouseFault, Problem
from planner.house.folder import read_house
from planner.house.model import House
from planner.house.styles import house_library
from planner.intent.renamed import called_now
from planner.library import Library
from planner.stock.stock import Stock, usable_stock
from planner.units import Unit

Tell = Mapping[str, Callable[[Any], None]]
"""What tells the page news, and of the house opened anew."""


@dataclass(frozen=True)
class Opened:
    """A house folder as it was read: `house` is None where it has faults, which are in `remarks` then; `stock` is None
    where there is none, or where it has `stock_faults`; `library` has the house's own styles.
    """

    folder: Path
    house: House | None
    remarks: tuple[Problem, ...]
    stock: Stock | None
    stock_faults: tuple[Problem, ...]
    library: Library

    @property
    def name(self) -> str:
        """What the house is called, after its folder where it cannot be read."""
        return self.house.name if self.house else self.folder.name

    @property
    def unit(self) -> Unit:
        """The unit in which its lengths are shown and read; inches where it cannot be read."""
        return self.house.unit if self.house else "in"


@dataclass(frozen=True)
class Given:
    """What all pages of a server are opened with, whatever their addresses say; `addresses` lead to each app that it
    serves, with the key, for the designer to hand on.
    """

    folder: Path
    alternatives: tuple[str, ...] = ()
    addresses: Mapping[str, str] = field(default_factory=dict)


_given: Given | None = None
"""None where a notebook is opened by itself: then its own command line says what it is opened with."""


def give(given: Given | None) -> None:
    """From now on every page of this process is opened with this."""
    global _given
    _given = given


def asked_folder() -> Path:
    """The house folder that the page was opened with; the demo house where none was."""
    return _given.folder if _given else Path(str(mo.cli_args().get("house") or demo_house()))


def asked_alternatives() -> list[str]:
    """The alternatives that the page was opened with, by name."""
    return list(_given.alternatives) if _given else [str(name) for name in mo.cli_args().get_all("alternative")]


def addresses() -> Mapping[str, str]:
    """The addresses of the apps that the server serves, by app, their keys in them: for the designer's page alone."""
    return _given.addresses if _given else {}


def visitor() -> str:
    """The mark of the browser that the page is shown in; "" where the notebook was opened by itself.

    Raises
    ------
    LookupError : a page of a server that does not say who asks for it.
    """
    if _given is None:
        return ""
    request = mo.app_meta().request
    if request is None or not request.meta.get("visitor"):
        raise LookupError("nothing says who asks for this page")
    return str(request.meta["visitor"])


def has_page() -> Callable[[], bool]:
    """What tells whether the page is open still, where its server waits for a page that was closed, in case that it
    comes back."""
    request = mo.app_meta().request
    told: Any = request.meta.get("has_page") if request else None
    asked: Callable[[], bool] = told or (lambda: True)
    return asked


def opened(folder: Path) -> Opened:
    """Read a house folder; every fault is kept, and nothing is raised."""
    library, _ = house_library(folder)
    try:
        house, remarks = read_house(folder)
    except HouseFault as fault:
        return Opened(folder, None, fault.problems, None, (), library)
    return Opened(folder, house, remarks, *usable_stock(folder, house.unit, library), library)


def follow(was: Opened, tell: Tell) -> None:
    """Tell the page of a house that somebody else has changed since it was opened."""
    now = opened(was.folder)
    if now != was:
        tell["opened"](now)
        tell["news"]("Somebody else has changed the house; it is shown as it is now.")


def asked_room(opened: Opened, at: Mapping[str, str]) -> str | None:
    """The room that an address asks for, as it is called now; None where it asks for none."""
    room = address.asked(at, address.ROOM)
    known = not room or opened.house is None or room in opened.house.by_name
    return (room if known else called_now(opened.folder, {room})[room]) or None


def picking(
    pick: Callable[[str], None], show: Callable[[Opened], None], at: MutableMapping[str, str]
) -> tuple[Callable[[str], None], Callable[[Opened], None]]:
    """What picks a room, which its page's address says from then on, and what shows a house opened anew, with the room
    at that address picked under the name that it has now.
    """
    picked = address.keeping(at, address.ROOM, pick)

    def shown(now: Opened) -> None:
        show(now)
        if (room := asked_room(now, at)) is not None and room != address.asked(at, address.ROOM):
            picked(room)

    return picked, shown


def title(opened: Opened, words: str = "") -> pages.Markup:
    """The head of a page: the house, and below it what the page shows of it."""
    said = [pages.element("p", words)] if words else []
    return pages.element("div", pages.element("h1", opened.name), *said, class_="pl-title")


def unready(opened: Opened, words: str = "") -> mo.Html:
    """What stands in the place of a page whose house has faults."""
    return pages.show(title(opened, words), pages.unready(opened.remarks))
