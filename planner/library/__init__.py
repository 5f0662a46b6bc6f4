"""Trade knowledge as tables, each row with its source or the words "common practice", read into one typed value."""

import tomllib
from functools import cache
from importlib import resources

from planner.library.model import Library
from planner.library.reading import standard

__all__ = ["Library", "standard"]


@cache
def table(name: str) -> dict:
    """The table `name`.toml of this folder, as it was laid out before; for what does not take a Library yet."""
    name = {"reading": "steps"}.get(name, name)
    data = tomllib.loads((resources.files("planner.library") / f"{name}.toml").read_text("utf-8"))
    if name == "checks":
        data["rule"] = [rule | rule.get("limits", {}) for rule in data["rule"]]
    if name == "openings_trim":
        styles = {style: table(f"styles/{style}") for style in names("styles")}
        data["plinth"] = [s["plinth"] | {"style": style} for style, s in styles.items() if "plinth" in s]
        data["joint"] += [s["casing"] | {"style": style} for style, s in styles.items() if "casing" in s]
        data["joint"].append({"joint": "mitred"})
    return data


@cache
def names(folder: str) -> tuple[str, ...]:
    """Names of the tables in a folder of this one, sorted."""
    return tuple(
        sorted(
            p.name.removesuffix(".toml")
            for p in (resources.files("planner.library") / folder).iterdir()
            if p.name.endswith(".toml")
        )
    )
