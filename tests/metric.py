"""A house of feet and inches as it would be written down in millimetres."""

import csv
import re
import shutil
from dataclasses import fields, replace
from pathlib import Path

import tomlkit

from planner import read_house, read_stock, write_house
from planner.house.model import House
from planner.mouldings.members import Profile
from planner.stock.own_profiles import profile_cells
from planner.stock.stock import COLUMNS
from planner.units import parse_length

NUMBERS = "one|two|three|four|five|six|seven|eight|all"
INCHES = re.compile(
    r"""\d\s?["″'′]|\d\s?(feet|foot|inch|inches)\b|\ba foot\b|\bft\b|\[in\]"""
    rf"""|\d\sin\b(?!\s(?:[A-Z]|(?:{NUMBERS})\b))"""
)
"""What only a house of feet and inches says; "tier 2 in Library" and "from 4 to 2 in three steps" are none of it."""

MILLIMETRES = re.compile(r"\d\s?(mm|cm|m|m²)\b|\bmetres?\b|\bmm\b")
"""What only a metric house says."""

LENGTHS = {
    "rooms": ("length", "width", "ceiling"),
    "openings": ("offset", "width", "height", "sill"),
    "existing": ("height", "projection", "bottom"),
    "fixtures": ("offset", "width", "bottom", "top", "depth"),
    "flights": ("offset", "rise", "run", "foot"),
}
"""The lengths of each kind of fact of a house [in]."""


def whole(inches: float) -> float:
    """The nearest whole millimetre [in]."""
    return round(inches * 25.4) / 25.4


def in_millimetres(house: House) -> House:
    """The house with every length at a whole millimetre, its unit mm."""

    def measured(fact, names):
        sizes = {name: getattr(fact, name) for name in names}
        outline = tuple((whole(x), whole(y)) for x, y in getattr(fact, "outline", ()))
        said = {name: whole(size) for name, size in sizes.items() if size is not None}
        return replace(fact, **said, **({"outline": outline} if outline else {}))

    facts = {kind: tuple(measured(fact, LENGTHS[kind]) for fact in getattr(house, kind)) for kind in LENGTHS}
    assert {f.name for f in fields(house)} >= set(LENGTHS)
    return replace(house, unit="mm", **facts)


def in_tenths(profile: Profile) -> Profile:
    """The profile with its section at tenths of a millimetre and its lengths at whole ones; it costs what it did."""

    def tenth(inches: float) -> float:
        return round(inches * 254) / 10 / 25.4

    members = tuple(replace(m, height=tenth(m.height), projection=tenth(m.projection)) for m in profile.members)
    sizes = {name: tenth(getattr(profile, name)) for name in ("height", "projection", "thickness")}
    return replace(profile, members=members, lengths=tuple(map(whole, profile.lengths)), **sizes)


def metric(source: Path, folder: Path) -> Path:
    """A copy of a house folder at `folder`, every cell of it rewritten in millimetres; prices stay by the foot."""
    shutil.copytree(source, folder)
    house, _ = read_house(folder)
    stock = read_stock(folder, house.unit)
    write_house(in_millimetres(house), folder)
    settings = tomlkit.parse((folder / "house.toml").read_text("utf-8"))
    for level in settings["levels"].values():
        level["ceiling"] = round(parse_length(level["ceiling"]) * 25.4)
    (folder / "house.toml").write_text(settings.as_string(), "utf-8")
    if stock is not None:
        with (folder / "stock.csv").open("w", encoding="utf-8", newline="") as file:
            rows = csv.DictWriter(file, COLUMNS)
            rows.writeheader()
            rows.writerows(profile_cells(in_tenths(profile), "mm") for profile in stock.profiles)
    return folder
