"""Plans to read."""

from tests.charts.conftest import alternatives, odd, planned

__all__ = ["alternatives", "odd", "planned"]
