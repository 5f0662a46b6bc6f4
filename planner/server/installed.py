"""What is installed beside the apps is looked up once.

Before every run of a notebook's cells marimo 0.25 reads the list of everything that is installed, some 6 ms each time,
to see whether something else is to run them.
"""

from functools import cache
from importlib import import_module
from importlib.metadata import entry_points


def look_up_once() -> None:
    """From now on this process lists what is installed once, and not before every reaction of a page."""
    try:
        registry = import_module("marimo._entrypoints.registry")
    except ImportError:  # another marimo, which may look elsewhere
        return
    setattr(registry, "entry_points", cache(entry_points))  # noqa: B010  # the module is known by its name alone
