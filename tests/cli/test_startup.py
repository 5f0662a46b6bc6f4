"""A command loads what it needs and no more."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

import planner.start
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


def stopped(at: str, *command: str) -> tuple[int, str, str]:
    """What comes of a command that is stopped while it loads a module, once that has begun."""
    script = f"""
import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # which a shell turns off for what runs in the background
class Slow:
    def find_spec(self, name, path=None, target=None):
        if name == {at!r}:
            print("loading", flush=True)
            sys.stdin.read()
sys.meta_path.insert(0, Slow())
from planner.start import main
main()
"""
    pipes = dict.fromkeys(("stdin", "stdout", "stderr"), subprocess.PIPE)
    ran = subprocess.Popen([sys.executable, "-c", script, *command, str(demo_house())], text=True, **pipes)
    assert ran.stdout.readline() == "loading\n"
    ran.send_signal(signal.SIGINT)
    told, fault = ran.communicate(timeout=60)
    return ran.returncode, told, fault


@pytest.mark.skipif(os.name != "posix", reason="signals of this kind")
def test_a_command_that_is_stopped_while_it_loads_shows_no_trace():
    for module in ("planner.cli", "click"):
        assert stopped(module, "plan") == (-signal.SIGINT, "", "")
    for module in ("planner.server.serving", "marimo._runtime", "uvicorn", "planner.apps.panels"):
        assert stopped(module, "open", "--headless") == (-signal.SIGINT, "", "")
    code, told, fault = stopped("planner.planning.pipeline", "plan")
    assert (code, told, fault.strip()) == (1, "", "Aborted!")


def test_the_command_begins_where_nothing_has_been_loaded():
    project = Path(planner.start.__file__).parents[1] / "pyproject.toml"
    assert 'planner = "planner.start:main"' in project.read_text("utf-8")
    loaded = "import sys; before = set(sys.modules); import planner.start; print(*(set(sys.modules) - before))"
    ran = subprocess.run([sys.executable, "-S", "-c", loaded], capture_output=True, text=True, check=True)
    names = {name for name in ran.stdout.split() if not name.startswith("_")}
    assert "planner.start" in names and {"typing", "click", "planner.cli", "pathlib"}.isdisjoint(names)
