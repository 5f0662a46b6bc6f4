"""How fast walls are laid out, checked and drawn: the whole demo house, warm.

Run: pytest -o addopts= tests/benchmarks/bench_walls.py. It is processor time that is held to the limits, so that
other work on the machine does not count. What is kept between plans is forgotten before each round.
"""

from pathlib import Path
from time import process_time

import pytest

from planner.checks import plan as checks
from planner.checks.plan import check_plan, fits
from planner.drawings.elevation import elevation
from planner.drawings.svg import svg
from planner.house.folder import read_house
from planner.intent.model import Intent
from planner.library import standard
from planner.planning.pipeline import plan
from planner.stock.stock import read_stock
from planner.walls import layout
from planner.walls.layout import lay_out
from planner.walls.meetings import meetings
from planner.walls.pieces import pieces

pytestmark = pytest.mark.benchmark(timer=process_time)
DEMO = Path(__file__).parents[2] / "demo_house"
LIBRARY = standard()


@pytest.fixture(scope="module")
def demo():
    house, problems = read_house(DEMO)
    assert not [p for p in problems if p.severity == "error"]
    made = plan(house, Intent(), read_stock(DEMO, house.unit))
    return made, {room.room.name: room.package for room in made.rooms}


def forget() -> None:
    """Rooms that were laid out and checked before; what hangs on no room stays warm."""
    layout._walls.cache_clear()
    checks.check_room.cache_clear()


def test_lay_out_every_wall(benchmark, demo):
    """At most 150 ms."""
    made, rooms = demo

    def laid_out():
        forget()
        return {room: lay_out(made.house, room, package, LIBRARY) for room, package in rooms.items()}

    walls = benchmark(laid_out)
    assert sum(map(len, walls.values())) >= 100
    assert benchmark.stats.stats.median < 0.150


def test_lay_out_check_and_write_every_wall_to_svg(benchmark, demo):
    """At most 250 ms."""
    made, rooms = demo

    def drawn() -> list[str]:
        forget()
        walls = {room: lay_out(made.house, room, package, LIBRARY) for room, package in rooms.items()}
        assert check_plan(made.house, rooms, made.passages, walls, LIBRARY)
        return [svg(elevation(wall)) for layouts in walls.values() for wall in layouts]

    documents = benchmark(drawn)
    assert all(document.startswith("<svg") for document in documents)
    assert benchmark.stats.stats.median < 0.250


def test_meetings_and_pieces_of_walls_that_are_laid_out(benchmark, demo):
    """At most 80 ms, the boards behind included: nothing is laid out again for them."""
    made, rooms = demo
    walls = {room: lay_out(made.house, room, package, LIBRARY) for room, package in rooms.items()}

    def found() -> int:
        met = meetings(made.house, rooms, LIBRARY)
        return len(met) + sum(len(pieces(layouts, LIBRARY)) for layouts in walls.values())

    assert benchmark(found) > 1000
    assert benchmark.stats.stats.median < 0.080


def test_ask_whether_every_tier_fits_every_room(benchmark, demo):
    """Asked for each room and tier on every replan, so a few milliseconds at most."""
    made, _ = demo
    packages = {p.ceiling: [q for q in made.packages if q.ceiling == p.ceiling] for p in made.packages}

    def asked() -> int:
        return sum(
            len(fits(made.house, room, package, LIBRARY))
            for room in made.house.rooms
            for package in packages[room.ceiling]
        )

    benchmark(asked)
    assert benchmark.stats.stats.median < 0.010
