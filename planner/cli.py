"""The command line: parse arguments, call the API, print.

Names of the API are fetched where a command uses them, so that each loads what it needs and no more.
"""

import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, NoReturn

import click

if TYPE_CHECKING:
    from collections.abc import Iterable

    from planner import House, Intent, Library, Problem, Stock

FAILING, WRONG_INPUT = 1, 2

HOUSE = click.argument("house", type=click.Path(path_type=Path))
ALTERNATIVE = click.option("--alternative", "-a", metavar="NAME", help="One of the house's alternatives, by file name.")


class _Telling(click.Group):
    """Commands that end with what is wrong in a house folder, wherever that is found."""

    def invoke(self, ctx: click.Context) -> object:
        """Run the command that was asked for."""
        try:
            return super().invoke(ctx)
        except Exception as error:
            from planner import HouseFault

            if not isinstance(error, HouseFault):
                raise
            _refuse(error.problems)


@click.group(cls=_Telling, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(package_name="trim-hierarchy-planner")
def main() -> None:
    """Plan the interior trim of a whole house: how formal each room is, which
    mouldings carry that, and how it steps down from the entry to the bedrooms.

    A HOUSE is a folder with house.toml, rooms.csv and openings.csv. Start with
    `planner new my_house` and `planner open my_house`.

    Exit codes: 0 all is well; 1 the plan has failing checks, or no plan keeps
    every rule; 2 the input is wrong.
    """


@main.command("plan")
@HOUSE
@ALTERNATIVE
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of a table.")
@click.option("--integration", is_flag=True, help="Compute integration even above 500 rooms (slow).")
def plan_command(house: Path, alternative: str | None, as_json: bool, integration: bool) -> None:
    """Print every room's tier, and why no plan exists when none does."""
    from planner import plan, plan_table, plan_text

    read = _read(house, alternative)
    planned = plan(read.house, read.intent, read.stock, read.library, integrated=integration or None)
    click.echo(plan_text(planned) if as_json else plan_table(planned))
    failing = not planned.feasible or any(check.severity == "error" for check in planned.checks)
    sys.exit(FAILING if failing else 0)


@main.command("check")
@HOUSE
def check_command(house: Path) -> None:
    """Read a house folder with all its alternatives and styles, and list every
    fault."""
    from planner import list_intents

    read = _read(house, None)
    names = list_intents(house)
    warnings = (*read.warnings, *(read.stock.doubts if read.stock else ()))
    faults = [*read.styles, *(fault for name in names for fault in _intent_faults(house, name, read))]
    for problem in (*faults, *warnings):
        click.echo(str(problem), err=problem.severity == "error")
    if faults:
        sys.exit(WRONG_INPUT)
    click.echo(f"{house}: no faults" + (f", {len(warnings)} remarks" if warnings else ""))


@main.command("new")
@HOUSE
@click.option("--blank", is_flag=True, help="One entry hall to start from, instead of the demo house.")
def new_command(house: Path, blank: bool) -> None:
    """Make a new house folder, as a copy of the demo house or blank."""
    from planner import demo_house, new_house

    new_house(house, None if blank else demo_house())
    click.echo(f"Made {house}. Next: planner open {house}")


def _app(name: str, summary: str) -> None:
    @main.command(name, help=summary, context_settings={"ignore_unknown_options": True})
    @HOUSE
    @click.option("--alternative", "-a", metavar="NAME", multiple=True, help="Alternatives to begin with.")
    @click.option("--port", type=int, help="Port to serve on; a free one by default.")
    @click.option("--headless", is_flag=True, help="Do not open a browser.")
    def command(house: Path, alternative: tuple[str, ...], port: int | None, headless: bool) -> None:
        from planner import bundled

        if not house.is_dir():
            click.echo(f"{house}: no such folder; make one with: planner new {house}", err=True)
            sys.exit(WRONG_INPUT)
        notebook = bundled("notebooks") / f"{'design' if name == 'open' else name}.py"
        arguments = [sys.executable, "-m", "marimo", "run", str(notebook)]
        arguments += ["--headless"] if headless else []
        arguments += ["--port", str(port)] if port else []
        arguments += ["--", "--house", str(house.resolve())]
        arguments += [part for each in alternative for part in ("--alternative", each)]
        if os.name == "posix":  # the server takes this process's place, so that stopping it leaves none behind
            os.execv(sys.executable, arguments)
        sys.exit(subprocess.call(arguments))


_app("open", "Open the designer's app on a house.")
_app("review", "Open the client's app on a house.")
_app("compare", "Open the team's app: alternatives side by side.")


class _Read(NamedTuple):
    """What a house folder holds: the house and the warnings on it, an alternative, the stock, the library with the
    house's own styles, and the faults of those that were left out."""

    house: "House"
    warnings: "tuple[Problem, ...]"
    intent: "Intent"
    stock: "Stock | None"
    library: "Library"
    styles: "tuple[Problem, ...]"


def _read(house: Path, alternative: str | None) -> _Read:
    """What a command works on; tells what is wrong and ends the command where it cannot be read."""
    from planner import HouseFault, Intent, house_library, read_house, read_intent, read_stock

    library, styles = house_library(house)
    try:
        facts, warnings = read_house(house, library)
        intent = read_intent(house, alternative, library) if alternative else Intent()
        return _Read(facts, warnings, intent, read_stock(house, facts.unit, library), library, styles)
    except HouseFault as fault:
        _refuse(fault.problems + styles)


def _intent_faults(house: Path, name: str, read: _Read) -> "tuple[Problem, ...]":
    from planner import HouseFault, read_intent

    try:
        read_intent(house, name, read.library)
    except HouseFault as fault:
        return fault.problems
    return ()


def _refuse(problems: "Iterable[Problem]") -> NoReturn:
    for problem in problems:
        click.echo(str(problem), err=True)
    sys.exit(WRONG_INPUT)
