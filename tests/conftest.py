"""What all tests share."""

import os

import pytest
from hypothesis import settings

# Speed is measured in tests/benchmarks; a busy machine does not make a property false.
settings.register_profile("project", deadline=None)
settings.load_profile("project")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo):
    """Where PLANNER_BROWSER is "required", a browser test that is skipped has failed."""
    report = yield
    if report.skipped and os.environ.get("PLANNER_BROWSER") == "required" and item.get_closest_marker("browser"):
        report.outcome = "failed"
        report.longrepr = f"{item.nodeid} was skipped, and browser tests are required: {report.longrepr}"
    return report
