"""What is installed beside the apps is looked up once.

Before every run of a notebook's cells marimo 0.25 reads the list of everything that is installed, some 6 ms each time,
to see whether something else is to run them, and before every chart the version of Altair, some 2 ms.
"""

import importlib.metadata
from functools import cache
from importlib import import_module


def look_up_once() -> None:
    """From now on this process looks up once what is installed, and not before every reaction of a page."""
    importlib.metadata.version = cache(importlib.metadata.version)
    try:
        registry = import_module("marimo._entrypoints.registry")
        setattr(registry, "get_entry_points", cache(registry.get_entry_points))  # noqa: B010  # known by its name alone
    except (ImportError, AttributeError):  # another marimo, which may look elsewhere
        return
