"""The command line: parse arguments, call the API, print.

Names of the API are fetched where a command uses them, so that each loads what it needs and no more.
"""

import atexit
import gc
import os
import sys
import webbrowser
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, Any, NamedTuple, NoReturn

import click

from planner.stopping import Alike, AtOnce
from planner.terminal import given_up, libraries_apart, shown, shown_json
from planner.units import INCHES_IN, Unit

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from planner import House, Intent, Library, Problem, Stock
    from planner.server.doors import Door

FAILING, WRONG_INPUT = 1, 2

COLLECT_AFTER = (100_000, 50, 1000)
"""How many objects are made, and how many collections of the younger, before the collector looks through each
generation."""

HOUSE = click.argument("house", type=click.Path(path_type=Path))
ALTERNATIVE = click.option("--alternative", "-a", metavar="NAME", help="One of the house's alternatives, by file name.")
PAPER, DAY = click.Choice(["ANSI B", "A3"], case_sensitive=False), click.DateTime(["%Y-%m-%d"])
BEGIN_WITH = click.option("--alternative", "-a", metavar="NAME", multiple=True, help="Alternatives to begin with.")
PORT = click.option("--port", type=click.IntRange(1, 65535), help="Port to serve on; a free one by default.")

UNENCRYPTED = """Other machines can reach this, and what goes to and fro is not encrypted, keys
included, unless a proxy before it does that (https)."""


def _tell(*lines: object, err: bool = False) -> None:
    """Print lines of text; nothing else that may hold words of anybody's goes to the terminal."""
    for line in lines:
        click.echo(shown(str(line)), err=err)


@contextmanager
def _shown_faults() -> "Iterator[None]":
    """What was typed wrongly is shown as all else is."""
    try:
        yield
    except click.UsageError as error:
        words = error.format_message()
        if shown(words) == words:
            raise
        raise click.UsageError(shown(words), error.ctx) from None


class _Telling(click.Group):
    """Commands that end with what is wrong in a house folder, wherever that is found, and in words where nothing can be
    told."""

    def main(self, *given: Any, **named: Any) -> Any:
        """Run the program."""
        try:
            return super().main(*given, **named)
        except OSError as error:
            if not given_up(error):
                raise
            _tell(f"What is printed cannot be written ({error.strerror}); make room where it goes", err=True)
            sys.exit(WRONG_INPUT)

    def make_context(self, *given: Any, **named: Any) -> click.Context:
        """Read the options that stand before a command."""
        with _shown_faults():
            return super().make_context(*given, **named)

    def invoke(self, ctx: click.Context) -> object:
        """Run the command that was asked for."""
        try:
            with _shown_faults():
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
@click.option("--proposals", is_flag=True, help="Tell other plans too that are worth a look.")
@click.option("--takeoff", is_flag=True, help="Take off, and say the cost, even above 500 rooms (slow).")
def plan_command(
    house: Path, alternative: str | None, as_json: bool, integration: bool, proposals: bool, takeoff: bool
) -> None:
    """Print every room's tier, and why no plan exists when none does."""
    from planner import plan, plan_table, plan_text, proposals_table
    from planner.deliverables.plan_json import TAKEOFF_LIMIT

    _collect_seldom()
    read = _read(house, alternative)
    with libraries_apart():
        planned = plan(read.house, read.intent, read.stock, read.library, integrated=integration or None)
        text = (
            plan_text(planned, proposals=proposals, takeoff=takeoff or None)
            if as_json
            else plan_table(planned, money=takeoff or len(planned.rooms) <= TAKEOFF_LIMIT)
        )
        more = f"\n\n{proposals_table(planned)}" if proposals and not as_json else ""
    if as_json:
        click.echo(shown_json(text))
    else:
        _tell(*f"{text}{more}".split("\n"))
    failing = not planned.feasible or any(check.severity == "error" for check in planned.checks)
    sys.exit(FAILING if failing else 0)


@main.command("check")
@HOUSE
def check_command(house: Path) -> None:
    """Read a house folder with all its alternatives, styles and notes, and list
    every fault."""
    from planner import list_intents
    from planner.house.notes import note_faults

    _collect_seldom()
    read = _read(house, None)
    names, notes = list_intents(house), note_faults(house, read.house)
    warnings = [*read.warnings, *(read.stock.doubts if read.stock else ())]
    faults = [*read.styles, *(fault for name in names for fault in _intent_faults(house, name, read))]
    for problem in notes:
        (faults if problem.severity == "error" else warnings).append(problem)
    for problem in (*faults, *warnings):
        _tell(problem, err=problem.severity == "error")
    if faults:
        sys.exit(WRONG_INPUT)
    _tell(f"{house}: no faults" + (f", {len(warnings)} remarks" if warnings else ""))


@main.command("history")
@HOUSE
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object instead of lines.")
def history_command(house: Path, as_json: bool) -> None:
    """Print what was said and decided of a house: when, by whom, of which
    alternative, and what has changed since a decision."""
    from planner import history, history_text
    from planner.record.history import history_json

    _must_be_folder(house)
    told = history(house)
    if as_json:
        click.echo(shown_json(history_json(told)))
    else:
        _tell(*history_text(told).split("\n"))
    _tell(*told.warnings, err=True)


@main.command("share")
@HOUSE
@click.option("--out", required=True, type=click.Path(path_type=Path), metavar="FILE", help="The page; .html.")
@click.option("--alternative", "-a", metavar="NAME", multiple=True, help="Alternatives in it; all by default.")
@click.option("--by", default="", metavar="NAME", help="Who sends it, told in the page.")
@click.option("--to", default="", metavar="NAME", help="To whom: their answers and your replies are in it.")
def share_command(house: Path, out: Path, alternative: tuple[str, ...], by: str, to: str) -> None:
    """Write one file to send to a client: a page that needs no network, in which
    the alternatives are looked through and answered. Answers come back as a
    small file, for `planner reviews add`."""
    from planner import share_page
    from planner.units import counted

    _collect_seldom()
    _must_be_folder(house)
    made = share_page(house, out, alternative or None, by, to)
    sent = made.sending
    alternatives, rooms = counted(len(sent.alternatives), "alternative"), counted(len(sent.rooms), "room")
    _tell(f"Wrote {made.file}: {alternatives}, {rooms}, {made.size / 1_000_000:.1f} MB")
    if made.left_out:
        _tell("Notes or photographs are not in it:", *made.left_out, err=True)
    _tell(f"Send it. Add what comes back: planner reviews add {house} FILE")


@main.command("deliver")
@HOUSE
@click.option("--out", required=True, type=click.Path(path_type=Path), metavar="DIR", help="The folder for them.")
@ALTERNATIVE
@click.option("--paper", type=PAPER, metavar="ANSI B|A3", help="For drawings; A3 for a metric house if not said.")
@click.option("--date", "day", type=DAY, metavar="YYYY-MM-DD", help="The date that they carry; today if not said.")
@click.option("--json", "as_json", is_flag=True, help="Print what was written as one JSON object.")
def deliver_command(
    house: Path, out: Path, alternative: str | None, paper: str | None, day: datetime | None, as_json: bool
) -> None:
    """Write the papers that people carry: all of them or none. Papers of a former
    run in DIR are replaced, and nothing else in it is touched."""
    from planner import deliver, plan
    from planner.deliverables.deliver import delivered_text
    from planner.deliverables.letters import told
    from planner.units import counted

    _collect_seldom()
    read = _read(house, alternative)
    with libraries_apart():
        planned = plan(read.house, read.intent, read.stock, read.library)
        if not planned.feasible:
            _tell("No plan keeps every rule, so nothing was written:", *planned.conflicts, err=True)
            sys.exit(FAILING)
        when = (day or datetime.now()).date()
        with Alike():
            done = deliver(planned, out, when, paper or "", lambda p: _tell(f"{p.name}  {p.title}", err=True), house)
    failing = sum(check.severity == "error" for check in planned.checks)
    if as_json:
        click.echo(shown_json(delivered_text(done)))
    else:
        _tell(f"Wrote {counted(len(done.papers), 'paper')} to {done.folder}", done.stamp.words)
        if failing:
            _tell(f"The plan has {counted(failing, 'failing check')}; the papers tell them", err=True)
    if done.unshown:
        _tell(told(done.unshown), err=True)
    sys.exit(FAILING if failing else 0)


@main.group("reviews")
def reviews_group() -> None:
    """Answers of clients."""


@reviews_group.command("add")
@HOUSE
@click.argument("file", type=click.Path(path_type=Path))
def reviews_add_command(house: Path, file: Path) -> None:
    """Add an answer FILE that came back from a page that was sent. It is added
    once, however often it is read."""
    from planner import add_answers

    _must_be_folder(house)
    added = add_answers(house, file)
    there = len(added.answers) - len(added.new)
    _tell(f"{added.who}: {len(added.new)} added to the record" + (f", {there} there already" if there else ""))


@main.command("new")
@HOUSE
@click.option("--blank", is_flag=True, help="One entry hall to start from, instead of the demo house.")
@click.option(
    "--unit", type=click.Choice([*INCHES_IN]), help="What its lengths are shown and written in; inches if not said."
)
def new_command(house: Path, blank: bool, unit: Unit | None) -> None:
    """Make a new house folder, as a copy of the demo house or blank."""
    from planner import demo_house, new_house

    new_house(house, None if blank else demo_house(), unit)
    _tell(f"Made {house}. Next: planner open {house}")


def _app(command: str, app: str, summary: str) -> None:
    @main.command(command, help=summary)
    @HOUSE
    @BEGIN_WITH
    @PORT
    @click.option("--headless", is_flag=True, help="Do not open a browser.")
    def opening(house: Path, alternative: tuple[str, ...], port: int | None, headless: bool) -> None:
        from planner.server import doors

        (door,) = (door for door in doors.DOORS if door.app == app)
        _serve(house, [door], alternative, port, browse=not headless)


_app("open", "design", "Open the designer's app on a house.")
_app("review", "review", "Open the client's app on a house.")
_app("compare", "compare", "Open the team's app: alternatives side by side.")


@main.command("serve")
@HOUSE
@BEGIN_WITH
@PORT
@click.option("--bind", default="127.0.0.1", show_default=True, metavar="ADDRESS", help="Address to listen at.")
@click.option("--name", "-n", metavar="HOST", multiple=True, help="Names by which browsers elsewhere ask for it.")
def serve_command(
    house: Path, alternative: tuple[str, ...], port: int | None, bind: str, name: tuple[str, ...]
) -> None:
    """Serve the apps of the designer, the client and the team on a house, each
    at an address of its own that opens nothing else."""
    from planner.server.doors import DOORS

    _serve(house, DOORS, alternative, port, bind, name)


def _serve(
    house: Path,
    doors: "Sequence[Door]",
    alternatives: tuple[str, ...],
    port: int | None,
    bind: str = "127.0.0.1",
    names: tuple[str, ...] = (),
    browse: bool = False,
) -> None:
    """Serve apps until the command is stopped."""
    _must_be_folder(house)
    with AtOnce():
        from planner.server.serving import is_loopback, serve

    def ready(addresses: "Mapping[Door, str]") -> None:
        for door, address in addresses.items():
            _tell(f"{door.role:9} {address}")
        if not is_loopback(bind):
            _tell(*UNENCRYPTED.split("\n"))
        _tell("Whoever has an address has what it opens. Stop with Ctrl-C.")
        sys.stdout.flush()
        if browse:  # some browsers are a command that ends with the browser
            Thread(target=webbrowser.open, args=[*addresses.values()], daemon=True).start()

    serve(house, doors, alternatives, port=port or 0, bind=bind, names=names, ready=ready)
    _end()


def _end() -> NoReturn:
    """End the command well, and at once: a thread that is still at work in compiled code would abort the process when
    Python closes round it."""
    sys.stdout.flush()
    atexit._run_exitfuncs()
    os._exit(0)


def _must_be_folder(house: Path) -> None:
    """End the command where there is no folder to open, or it cannot be read."""
    try:
        is_folder = house.is_dir()
        if is_folder:
            next(house.iterdir(), None)
            os.stat(f"{house}/.")  # whether what is in it may be opened
    except OSError as error:
        _tell(
            f"{house}: cannot be read ({error.strerror}); give yourself the right to read it, and the folders above",
            err=True,
        )
        sys.exit(WRONG_INPUT)
    if not is_folder:
        _tell(f"{house}: no such folder; make one with: planner new {house}", err=True)
        sys.exit(WRONG_INPUT)


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


def _collect_seldom() -> None:
    """What a command has imported, and nearly all that it makes, lasts as long as it: the collector of cycles need not
    look through the first at all, and through the second seldom."""
    gc.freeze()
    gc.set_threshold(*COLLECT_AFTER)


def _intent_faults(house: Path, name: str, read: _Read) -> "tuple[Problem, ...]":
    from planner import HouseFault, read_intent

    try:
        read_intent(house, name, read.library)
    except HouseFault as fault:
        return fault.problems
    return ()


def _refuse(problems: "Iterable[Problem]") -> NoReturn:
    for problem in dict.fromkeys(problems):  # one reading may meet what another has met
        _tell(problem, err=True)
    sys.exit(WRONG_INPUT)
