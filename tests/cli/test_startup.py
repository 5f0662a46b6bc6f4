"""A command loads what it needs and no more."""

import subprocess
import sys

import pytest

from planner import demo_house

HEAVY = {"altair", "ezdxf", "marimo", "networkx", "numpy", "pandas", "scipy", "shapely", "vl_convert"}


def loaded(*arguments: str) -> set[str]:
    """The heavy packages that a command has loaded by its end."""
    script = (
        "import sys; from planner.cli import main\n"
        "try: main(sys.argv[1:])\n"
        "except SystemExit as end: assert not end.code, end.code\n"
        "print('LOADED', *{name.partition('.')[0] for name in sys.modules})"
    )
    ran = subprocess.run([sys.executable, "-c", script, *arguments], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    return HEAVY & set(ran.stdout.rpartition("LOADED")[2].split())


def test_asking_for_the_version_loads_nothing_heavy():
    assert loaded("--version") == set()


def test_checking_a_house_loads_no_solver_no_chart_and_no_notebook():
    assert loaded("check", str(demo_house())) <= {"numpy", "shapely"}


def test_telling_the_record_loads_no_solver_no_chart_and_no_notebook():
    assert loaded("history", str(demo_house())) <= {"numpy", "shapely"}


@pytest.mark.parametrize("option", [[], ["--json"]])
def test_planning_loads_no_chart_and_no_notebook(option):
    assert loaded("plan", str(demo_house()), *option).isdisjoint({"altair", "ezdxf", "marimo", "pandas", "vl_convert"})
