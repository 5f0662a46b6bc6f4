"""The folders that come with the planner."""

from importlib import resources
from pathlib import Path


def bundled(name: str) -> Path:
    """A folder that comes with the planner, beside it in a checkout, inside the wheel elsewhere.

    Parameters
    ----------
    name : "notebooks" or "demo_house".

    Examples
    --------
    >>> bundled("notebooks").joinpath("design.py").is_file()
    True
    """
    inside = Path(str(resources.files("planner"))) / f"_{name}"
    return inside if inside.is_dir() else inside.parent.parent / name


def demo_house() -> Path:
    """The folder of the invented house that comes with the planner.

    Examples
    --------
    >>> (demo_house() / "rooms.csv").is_file()
    True
    """
    return bundled("demo_house")
