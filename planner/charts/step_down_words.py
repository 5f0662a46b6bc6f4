"""What the step-down says: its finding, how it is read, and all of it in words for those who hear the page."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple, TypedDict

from planner.charts.names import short
from planner.look import theme
from planner.units import counted, listed

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")

ALARMING = ("abrupt", "rises")
"""Steps that are marked, the gravest first."""

MOST_NAMED = 2
"""So many marked steps of a kind are named under the title, and no more."""

HIDDEN = "+6: six more rooms, named when pointed at"

MOST_SPOKEN = 60
"""Rooms of a house that are told by name to those who hear the page; of a larger one, how many there are."""


class RoomRow(TypedDict):
    """Columns of frames.step_down."""

    alternative: str
    house: str
    room: str
    entry: bool
    enters: bool
    bedroom: bool
    depth: int
    before: str
    tier: int
    tier_name: str
    tiers: int


class StepRow(TypedDict):
    """Columns of frames.steps."""

    alternative: str
    start: str
    end: str
    step: str
    walked: bool


class Alternative(NamedTuple):
    """One plan of the house."""

    title: str
    rooms: list[RoomRow]
    steps: list[StepRow]

    def part(self, names: set[str]) -> "Alternative":
        """The plan of some rooms and of the passages between them."""
        steps = [s for s in self.steps if s["start"] in names and s["end"] in names]
        return Alternative(self.title, [r for r in self.rooms if r["room"] in names], steps)


def in_words(number: int) -> str:
    """A number as one writes it in a sentence.

    >>> in_words(3), in_words(40)
    ('three', '40')
    """
    return NUMBERS[number] if number < len(NUMBERS) else f"{number:,}"


def finding(rooms: Sequence[RoomRow], steps: Sequence[StepRow], plainly: bool = False) -> str:
    """The step-down of one house in a sentence; `plainly` for those who know no trade."""
    house = short(rooms[0]["house"])
    if len(rooms) == 1 and plainly:
        return f"{house} is one room"
    if len(rooms) == 1:
        return f"{house} is one room, of tier {rooms[0]['tier']}, and has nothing to step down to"
    return f"{house} {course(rooms, plainly)}" + ("" if plainly else f"; {alarm(steps)}")


def course(rooms: Sequence[RoomRow], plainly: bool = False) -> str:
    """How the tiers go from the entry to the bedrooms, in how many steps; how far they range where there is none."""
    tiers, deepest = [r["tier"] for r in rooms], max(r["depth"] for r in rooms)
    ends = [r for r in rooms if r["bedroom"] and r["depth"]]
    if not ends:
        at_all = "no bedroom beyond its entry" if any(r["bedroom"] for r in rooms) else "no bedroom"
        ranged = (
            f"go from tier {max(tiers)} to {min(tiers)}" if min(tiers) < max(tiers) else f"all have tier {tiers[0]}"
        )
        return f"has {at_all}; its rooms {ranged}, up to {_many(deepest, 'step')} from the entry"
    first = next(r["tier"] for r in rooms if r["entry"])
    last = sorted({r["tier"] for r in ends}, reverse=True)
    near, far = min(r["depth"] for r in ends), max(r["depth"] for r in ends)
    taken = _range(near, far, "step")
    whole = f"from {first} to {listed([str(tier) for tier in last])}"
    way = "from the front door to the bedrooms, " if plainly else ""
    if last == [first]:
        return (
            f"is as rich in the bedrooms as at the front door, {first}" if plainly else f"stays at {first} over {taken}"
        )
    if first > last[0]:
        return f"{'gets plainer' if plainly else 'steps down'} {way}{whole} in {taken}"
    if first < last[-1]:
        return f"{'gets richer' if plainly else 'rises'} {way}{whole} in {taken}"
    if first == last[0] and not plainly:
        return f"stays at {first} or steps down to {listed([str(tier) for tier in last[1:]])} in {taken}"
    return f"leads {way}{whole} in {taken}"


def _many(number: int, thing: str) -> str:
    return f"{in_words(number)} {thing}{'' if number == 1 else 's'}"


def _range(least: int, most: int, thing: str) -> str:
    """So many of a thing, or from so many to so many.

    >>> _range(2, 2, "step"), _range(0, 1, "tier"), _range(2, 4, "step")
    ('two steps', 'no or one tier', 'two to four steps')
    """
    if least == most:
        return _many(most, thing)
    return f"{in_words(least)} {'or' if most == least + 1 else 'to'} {_many(most, thing)}"


def alarm(steps: Iterable[StepRow]) -> str:
    """How many steps are abrupt, how many rise, and whether the abrupt ones lie on the walks to the bedrooms."""
    steps = list(steps)
    abrupt, rising = ([s for s in steps if s["step"] == kind] for kind in ALARMING)
    number, walked = len(abrupt), any(s["walked"] for s in steps)
    rise = f"{in_words(len(rising))} {'rises' if len(rising) == 1 else 'rise'}"
    if not abrupt:
        return f"no step is abrupt, but {rise}" if rising else "no step is abrupt"
    off = " off these walks" if walked and not any(s["walked"] for s in abrupt) else ""
    said = f"{_many(number, 'step')}{off} {'is' if number == 1 else 'are'} abrupt"
    return f"{said} and {rise}" if rising else said


def compared(plans: Sequence[Alternative]) -> str:
    """The step-downs of several alternatives of one house in a sentence."""
    house, alike = short(plans[0].rooms[0]["house"]), f"in all {in_words(len(plans))} alternatives"
    courses, falls = {course(plan.rooms) for plan in plans}, [_fall(plan.rooms) for plan in plans]
    if len(courses) == 1:
        said = f"{courses.pop()} {alike}"
    elif not max(falls):
        said = f"steps down in none of its {in_words(len(plans))} alternatives"
    elif max(falls) == min(falls):
        said = f"steps down by {_many(max(falls), 'tier')} {alike}"
    else:
        most = [short(plan.title) for plan, fall in zip(plans, falls, strict=True) if fall == max(falls)]
        said = f"steps down by {_range(min(falls), max(falls), 'tier')}, the most in {listed(most)}"
    abrupt = [short(plan.title) for plan in plans if any(s["step"] == "abrupt" for s in plan.steps)]
    if not abrupt:
        return f"{house} {said}; no step is abrupt"
    return f"{house} {said}; there are abrupt steps in {'each' if len(abrupt) == len(plans) else listed(abrupt)}"


def _fall(rooms: Sequence[RoomRow]) -> int:
    """Tiers from the entry down to the plainest bedroom, to the plainest room where there is no bedroom."""
    ends = [r["tier"] for r in rooms if r["bedroom"] and r["depth"]] or [r["tier"] for r in rooms]
    return max(0, next(r["tier"] for r in rooms if r["entry"]) - min(ends))


def subtitle(plans: Sequence[Alternative], walked: Sequence[str], plainly: bool) -> str:
    """How the picture is read: the strong walk with its tiers, and the marked steps."""
    said = signs(plans[0].steps) if len(plans) == 1 else legend(plans)
    if plainly:
        said.insert(0, "The higher a room stands, the richer it is; lines lead from room to room")
    if len(walked) > 1:
        along = f" ({_tiers(plans[0].rooms, walked)})" if len(plans) == 1 and not plainly else ""
        said.append(f"Heavy line: the walk to {short(walked[-1])}{along}")
    elif not plainly:
        said.append("Boxes are rooms, lines are passages")
    return ". ".join(said)


def _tiers(rooms: Iterable[RoomRow], walked: Sequence[str]) -> str:
    """The tiers of a walk, in words."""
    by_room = {r["room"]: str(r["tier"]) for r in rooms}
    tiers = [by_room[name] for name in walked]
    return f"{tiers[0]} all the way" if len({*tiers}) == 1 else ", ".join(tiers)


def legend(plans: Iterable[Alternative]) -> list[str]:
    """The signs that occur."""
    kinds = {s["step"] for plan in plans for s in plan.steps}
    marks = [theme.STEPS[kind] for kind in ALARMING if kind in kinds]
    return ["; ".join(f"{mark.glyph} {mark.word}" for mark in marks)] if marks else []


def signs(steps: Sequence[StepRow]) -> list[str]:
    """The marked steps sign by sign, by their rooms where they are few."""
    said = []
    for kind in ALARMING:
        places = [f"{short(s['start'])} to {short(s['end'])}" for s in steps if s["step"] == kind]
        if places:
            mark, few = theme.STEPS[kind], f": {'; '.join(places)}" if len(places) <= MOST_NAMED else ""
            said.append(f"{mark.glyph} {mark.word}{few}")
    return said


def first_named(plans: Sequence[Alternative], walked: Sequence[str]) -> list[str]:
    """All rooms, those first that are to be named where not all can be: on the strong walk, at the ends of marked
    steps, on the walks to bedrooms, and then the nearest to the entry."""
    rooms, steps = plans[0].rooms, [s for plan in plans for s in plan.steps]
    marked = (s[end] for s in steps if s["step"] in ALARMING for end in ("start", "end"))
    on_walks = (s[end] for s in steps if s["walked"] for end in ("start", "end"))
    nearest = (r["room"] for r in sorted(rooms, key=lambda r: r["depth"]))
    drawn = {r["room"] for r in rooms}
    return [name for name in dict.fromkeys([*walked, *marked, *on_walks, *nearest]) if name in drawn]


def walk(rooms: Mapping[str, RoomRow], end: str) -> list[str]:
    """The rooms from the entry to a room."""
    found = [end]
    while before := rooms[found[-1]]["before"]:
        found.append(before)
    return found[::-1]


def spoken(plans: Sequence[Alternative], walked: Sequence[str]) -> str:
    """All that the picture shows, in words."""
    said = [_spoken(plan.rooms, plan.steps, walked) for plan in plans]
    return " ".join(
        said if len(plans) == 1 else [f"{short(p.title)}: {one}" for p, one in zip(plans, said, strict=True)]
    )


def _spoken(rooms: Sequence[RoomRow], steps: Sequence[StepRow], walked: Sequence[str]) -> str:
    """All that the picture shows of a plan, in words."""
    by_name = {r["room"]: r for r in rooms}
    places: dict[int, list[RoomRow]] = {}
    for r in sorted(rooms, key=lambda r: (r["depth"], -r["tier"])):
        places.setdefault(r["depth"], []).append(r)
    few = len(rooms) <= MOST_SPOKEN
    said = [
        f"{counted(depth, 'step')} from the entry: {_named(those) if few else _numbered(those)}"
        for depth, those in places.items()
    ]
    if others := [short(r["room"]) for r in rooms if r["enters"] and not r["entry"]]:
        said.append(f"Steps are counted from where guests come in; other entries: {', '.join(others)}")
    if walked:
        said.append(f"The heavy line: {_named(by_name[name] for name in walked)}")
    for kind in ALARMING:
        if places_of := [f"{short(s['start'])} to {short(s['end'])}" for s in steps if s["step"] == kind]:
            more = f" and {len(places_of) - MOST_SPOKEN:,} more" if len(places_of) > MOST_SPOKEN else ""
            said.append(f"{theme.STEPS[kind].word.capitalize()}: {'; '.join(places_of[:MOST_SPOKEN])}{more}")
    return ". ".join(said) + "."


def _named(rooms: Iterable[RoomRow]) -> str:
    return ", ".join(f"{short(r['room'])} tier {r['tier']}" for r in rooms)


def _numbered(rooms: Sequence[RoomRow]) -> str:
    tiers = [r["tier"] for r in rooms]
    return ", ".join(f"{counted(tiers.count(tier), 'room')} of tier {tier}" for tier in dict.fromkeys(tiers))
