"""Trade knowledge as tables, each row with its source or the words "common practice", read into one typed value."""

from planner.library.model import Library
from planner.library.reading import standard

__all__ = ["Library", "standard"]
