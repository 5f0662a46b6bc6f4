"""A house folder to keep alternatives in."""

from tests.house.conftest import folder, state

__all__ = ["folder", "state"]
