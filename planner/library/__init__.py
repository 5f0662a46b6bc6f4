"""Trade knowledge as tables, each row with its source or the words "common practice"."""

import tomllib
from functools import cache
from importlib import resources


@cache
def table(name: str) -> dict:
    """The table `name`.toml of this folder, e.g. ``table("uses")`` or ``table("styles/georgian")``."""
    return tomllib.loads((resources.files("planner.library") / f"{name}.toml").read_text("utf-8"))


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
