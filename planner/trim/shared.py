"""What two rooms that are seen at once have in common: the members that the lower repeats of the higher."""

from collections.abc import Sequence
from functools import lru_cache
from itertools import groupby

from planner.library import Library
from planner.mouldings.assembly import stacked
from planner.mouldings.members import Member
from planner.mouldings.outlines import HAIR
from planner.trim.packages import Element, Package
from planner.trim.sections import sections
from planner.units import listed

PLAIN = ("fascia", "plain edge", "fillet")
"""Members that are too plain to be known again by themselves."""
COUNTS = ("no", "one", "two", "three", "four", "five")


@lru_cache(maxsize=4096)
def shared_members(near: Package, far: Package, library: Library) -> tuple[str, ...]:
    """The members that the trim of two rooms shares, in words, an element each: "crown: cymatium and corona".

    Members are shared that follow one another in both, two at least that are no fillets, or the uppermost; each of one
    kind and not a third apart in height. Single boards do not count, unless the element has the same form in both.

    References
    ----------
    Cliveden (1763): its stair hall has the corona and cymatium of the hall's cornice. F. Cousins and P. M. Riley, The
    Colonial Architecture of Philadelphia (1920).
    """
    found = []
    for name in library.steps.shared.elements:
        one, other = near.element(name), far.element(name)
        if one is None or other is None:
            continue
        if one.form == other.form:
            found.append(f"{name}: {one.form}")
        elif words := _words(_longest_run(_members(near, one, library), _members(far, other, library), library)):
            found.append(f"{name}: {words}")
    return tuple(found)


def _members(package: Package, element: Element, library: Library) -> list[Member | None]:
    """The members of an element's section from the bottom up, None where plain wall shows between."""
    found: list[Member | None] = []
    top = 0.0
    for placed in stacked(sections(package, library).get(element.element, ())):
        found += [None] * (found != [] and placed.y > top + HAIR) + [*placed.profile.members]
        top = placed.top
    return found


def _longest_run(one: Sequence[Member | None], other: Sequence[Member | None], library: Library) -> tuple[Member, ...]:
    """The run of members that stand in both with the most that are no fillets, of two the upper, as in the first.

    Empty where no two stand in both, and neither does the uppermost by itself.
    """
    best: tuple[Member, ...] = ()
    lengths = [0] * (len(other) + 1)
    for i, a in enumerate(one):
        same = [a is not None and b is not None and _alike(a, b, library) for b in other]
        lengths = [0] + [lengths[j] + 1 if alike else 0 for j, alike in enumerate(same)]
        for end, length in enumerate(lengths):
            run = tuple(m for m in one[i + 1 - length : i + 1] if m is not None)
            crowning = end == len(other) and i == len(one) - 1
            if _known(run) >= max(1 if crowning else 2, _known(best)):
                best = run
    return best


def _known(run: Sequence[Member]) -> int:
    """How many members of a run are no fillets."""
    return sum(m.kind != "fillet" for m in run)


def _alike(one: Member, other: Member, library: Library) -> bool:
    """Whether two members read as one: of one kind, and not a third apart in height, which no eye takes of fillets."""
    part = 1 - min(one.height, other.height) / max(one.height, other.height)
    return one.kind == other.kind and (one.kind == "fillet" or part <= library.steps.loud.part)


def _words(run: Sequence[Member]) -> str:
    """A run of members as the trade says it, from the top down in a cornice; "" where nothing in it is known again."""
    kinds = [m.kind for m in run]
    curved = [kind for kind in kinds if kind not in PLAIN]
    boards = kinds.count("fascia")
    if not curved and boards < 2:
        return ""
    if "corona" in kinds:
        return _cornice(kinds)
    said = [f"{COUNTS[min(boards, 5)]} fasciae"] if boards > 1 else ["fascia"] * boards
    return listed([*said, *(kind for kind, _ in groupby(curved))])


def _cornice(kinds: Sequence[str]) -> str:
    at = kinds.index("corona")
    above, below = (any(kind not in PLAIN for kind in part) for part in (kinds[at + 1 :], kinds[:at]))
    return listed(["cymatium"] * above + ["corona"] + ["bed mould"] * below)
