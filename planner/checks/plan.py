"""Every rule of library/checks.toml held against a whole plan, and which of its tiers a room can have."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import lru_cache

from planner.checks.check import SEVERITIES, Check
from planner.checks.fixtures import check_fixtures
from planner.checks.packages import check_package
from planner.checks.passages import Passage, check_matches, check_passages
from planner.checks.rooms import check_facts, check_house, rail_and_crown
from planner.checks.schedule import check_schedule
from planner.checks.stairs import check_stairs
from planner.checks.walls import check_wall, head_and_crown
from planner.house.model import House, Room
from planner.intent.trim_rules import TrimRule
from planner.library import Library
from planner.trim.packages import Package
from planner.walls.layout import WallLayout, apertures


def check_plan(
    house: House,
    packages: Mapping[str, Package],
    passages: Iterable[Passage],
    walls: Mapping[str, tuple[WallLayout, ...]],
    library: Library,
    rules: Sequence[TrimRule] = (),
    idle: Collection[int] = (),
    codes: Collection[str] = (),
    looked_at: Collection[str] | None = None,
) -> tuple[Check, ...]:
    """Every check of a whole plan, the gravest first, then by room, opening and rule.

    Parameters
    ----------
    house : the house.
    packages : the package of each room by the room's name.
    passages : the passages between rooms, with how their steps read.
    walls : the walls of each room with its package's trim on them.
    library : the rules and their words.
    rules : the designer's trim rules.
    idle : the numbers, from 1, of those that change nothing in any room.
    codes : the profiles of the stock, which rules may name.
    looked_at : the rooms whose packages and walls are looked at; every room where it is left out.
    """
    found, passages = set(check_house(house, library)), tuple(passages)
    for name in packages if looked_at is None else looked_at:
        found.update(check_room(house, name, packages[name], walls[name], library))
    found.update(check_passages(passages, library, house.unit))
    found.update(check_schedule(rules, idle, codes, packages, library, house.unit))
    found.update(check_matches(packages, passages, house.stays, library))
    return tuple(sorted(found, key=lambda c: (SEVERITIES.index(c.severity), c.room, c.opening, c.rule, c.message)))


@lru_cache(maxsize=4096)
def check_room(
    house: House, room: str, package: Package, walls: tuple[WallLayout, ...], library: Library
) -> tuple[Check, ...]:
    """Every check of one room and the trim on its walls; kept, as a change of intent leaves most rooms as they were."""
    facts = house.by_name[room]
    packages = (package, *package.own.values())
    found = [check for one in packages for check in check_package(facts, one, library)]
    found += check_facts(house, facts, package, library)
    for wall in walls:
        found += check_wall(wall, library)
        found += check_fixtures(wall, library)
        found += check_stairs(wall, library)
    return tuple(dict.fromkeys(found))


def fits(house: House, room: Room | str, package: Package, library: Library) -> tuple[Check, ...]:
    """The errors that bar a tier from a room: its package comes down upon what stands there.

    Only rules that a plainer package can keep bar a tier (`bars` in library/checks.toml). Where none of the tiers fits,
    the plainest is still the one to build, with its errors told.

    Returns
    -------
    The errors, none where the package fits.
    """
    return _fits(house, room if isinstance(room, str) else room.name, package, library)


@lru_cache(maxsize=16384)
def _fits(house: House, name: str, package: Package, library: Library) -> tuple[Check, ...]:
    room = house.by_name[name]
    found = list(rail_and_crown(house, room, package, library))
    for wall, openings in apertures(house, room, library).items():
        for opening in openings:
            found += head_and_crown(room.name, room.ceiling, wall, opening, package, library)
    return tuple(found)
