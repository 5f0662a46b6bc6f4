"""The tables of this folder, read into a Library."""

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, TypeVar, get_origin

import msgspec

from planner.library.fixture_rows import FixtureKind, StairRules
from planner.library.job_rows import Job
from planner.library.joinery_rows import Joinery
from planner.library.model import Library, known_name
from planner.library.rate_rows import Rate
from planner.library.rows import CheckRule, Ladder, Leaves, OpeningSize, PassageKind, RoomSize, StepRules, Use
from planner.library.shop_rows import Building, Surrounds
from planner.library.takeoff_rows import Takeoff
from planner.library.trim_rows import (
    ElementKind,
    Enrichment,
    Form,
    FormMembers,
    Moulding,
    OrderPart,
    Orders,
    Places,
    Style,
)
from planner.values import as_kind, immutabledict

T = TypeVar("T")


@cache
def standard() -> Library:
    """The library that comes with the planner, read once.

    Examples
    --------
    >>> standard().style("federal").order, standard().element("base").least
    ('corinthian', 3.5)
    """
    return read_library(resources.files("planner.library"))


def read_library(folder: Traversable | Path) -> Library:
    """A library from a folder of tables laid out as planner/library is.

    Raises
    ------
    ValueError : a table is faulty; the message names the table, the place in it and what is wrong.
    """
    opening_sizes = _rows(folder, "openings", "opening", OpeningSize)
    elements = _table(folder, "elements")
    library = Library(
        uses=_rows(folder, "uses", "use", Use),
        room_sizes=_rows(folder, "room_sizes", "room", RoomSize),
        passages=_rows(folder, "passages", "passage", PassageKind),
        opening_sizes=opening_sizes,
        hung=_whole(folder, "leaves", Leaves),
        ladder=_whole(folder, "tiers", Ladder),
        steps=_whole(folder, "steps", StepRules),
        elements=_read(elements["element"], tuple[ElementKind, ...], "elements"),
        places=_read(elements["places"], Places, "elements"),
        forms=_rows(folder, "forms", "form", Form),
        form_members=_whole(folder, "form_members", FormMembers),
        enrichments=_rows(folder, "enrichments", "enrichment", Enrichment),
        mouldings=_rows(folder, "mouldings", "moulding", Moulding),
        orders=_orders(folder),
        styles=(),
        surrounds=_whole(folder, "openings_trim", Surrounds),
        building=_whole(folder, "built_ups", Building),
        fixtures=_rows(folder, "fixtures", "fixture", FixtureKind),
        stairs=_whole(folder, "stairs", StairRules),
        joinery=_whole(folder, "joinery", Joinery),
        rates=_rows(folder, "rates", "rate", Rate),
        takeoff=_whole(folder, "takeoff", Takeoff),
        checks=_rows(folder, "checks", "rule", CheckRule),
        job=_whole(folder, "job", Job),
    )
    styles = sorted((f for f in (folder / "styles").iterdir() if f.name.endswith(".toml")), key=lambda f: f.name)
    return with_styles(library, {f.name.removesuffix(".toml"): tomllib.loads(f.read_text("utf-8")) for f in styles})


def with_styles(library: Library, tables: Mapping[str, Mapping[str, Any]]) -> Library:
    """The library with further styles, by name, each as the table of a file in planner/library/styles.

    Raises
    ------
    ValueError : a style is faulty, or names an element, a form, a rung or an order that the library lacks.
    """
    read = {name: _read({"name": name, **table}, Style, f"styles/{name}") for name, table in tables.items()}
    for name, style in read.items():
        try:
            _check_style(style, library)
        except ValueError as fault:
            raise ValueError(f"styles/{name}.toml: {fault}") from None
    return replace(library, styles=(*(s for s in library.styles if s.name not in read), *read.values()))


def _check_style(style: Style, library: Library) -> None:
    if style.from_order:
        library.order(style.order)
    for row in style.rows:
        library.form(known_name(row.element, library.element_kinds, "element"), row.form)
        for rung in row.rungs:
            known_name(rung, library.ladder.rungs, "rung")
    for carried in style.enrichments:
        enrichment = library.enrichment(carried.name)
        for element in carried.elements:
            known_name(element, enrichment.forms, f"element that carries {carried.name}")
        for rung in carried.rungs:
            known_name(rung, library.ladder.rungs, "rung")
    for need in style.least_ceilings:
        known_name(need.rung, library.ladder.rungs, "rung")
    if style.plinth is None and any(row.element == "plinth block" for row in style.rows):
        raise ValueError("it has plinth blocks, so it needs a table [plinth]")


def _orders(folder: Traversable | Path) -> Orders:
    """The orders with their parts in members; a part that is like another order's has its members, stretched."""
    members = dict(_table(folder, "order_members"))
    ground = members.pop("ground")
    parts = _read(members, immutabledict[str, immutabledict[str, OrderPart]], "order_members")

    def drawn(part: str, given: OrderPart) -> OrderPart:
        if not given.like:
            return given
        model = drawn(part, parts[given.like][part])
        stretch = given.height / sum(m.height for m in model.members)
        stretched = (
            msgspec.structs.replace(m, height=m.height * stretch, projection=m.projection * stretch)
            for m in model.members
        )
        return msgspec.structs.replace(given, members=tuple(stretched), like="")

    table = _table(folder, "orders")
    rows = [
        row | {"parts": {part: drawn(part, given) for part, given in parts[row["name"]].items()}}
        for row in table["order"]
    ]
    return _read(table | {"order": rows, "ground": ground}, Orders, "orders")


def _rows(folder: Traversable | Path, name: str, key: str, row: type[T]) -> tuple[T, ...]:
    return _read(_table(folder, name)[key], tuple[row, ...], name)  # type: ignore[valid-type]


def _whole(folder: Traversable | Path, name: str, kind: type[T]) -> T:
    return _read(_table(folder, name), kind, name)


def _table(folder: Traversable | Path, name: str) -> dict[str, Any]:
    return tomllib.loads((folder / f"{name}.toml").read_text("utf-8"))


def _read(data: Any, kind: type[T], name: str) -> T:
    try:
        found: T = as_kind(data, kind, _custom)
        return found
    except msgspec.ValidationError as fault:
        raise ValueError(f"{name}.toml: {fault}") from fault


def _custom(kind: Any, value: Any) -> Any:
    """Values of kinds that msgspec does not know."""
    if kind is Fraction:
        return Fraction(value)
    if get_origin(kind) is immutabledict:
        of_key, of_value = kind.__args__
        return immutabledict(as_kind(value, dict[of_key, of_value], _custom))  # type: ignore[valid-type]
    raise NotImplementedError(kind)
