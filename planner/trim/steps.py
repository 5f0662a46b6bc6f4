"""Whether the step between two rooms reads across a passage."""

from planner.library import Library
from planner.trim.packages import Package
from planner.trim.shared import shared_members


def reads(near: Package, far: Package, comfort: int, library: Library, *, together: bool = False) -> str:
    """How the step from one room's package to the next room's reads across a passage.

    Parameters
    ----------
    near, far : the packages of the two rooms; either may be the higher.
    comfort : difference in tiers that reads as natural across this kind of passage.
    library : whose thresholds hold.
    together : whether both rooms are seen at once, as through a cased opening or open doors.

    Returns
    -------
    "even" where the tiers are the same; "faint" where they differ but nothing seen from the next room changes in
    form or by about an eighth of its size; "abrupt" where they differ by more than the comfort and at least one
    element that is seen comes, goes or changes by about a third; else "clear". Where both rooms are seen at once, a
    step of one tier is "clear" where they share members and "abrupt" where they share none.

    References
    ----------
    Common practice, and houses that were built so; thresholds in steps.toml.
    """
    if near.tier == far.tier:
        return "even"
    rules, changes = library.steps, seen_changes(near, far, library)
    if not any(new_form or part > rules.noticed.part for new_form, part in changes.values()):
        return "faint"
    if together and abs(near.tier - far.tier) == 1:
        return "clear" if shared_members(near, far, library) else "abrupt"
    loud = sum(part > rules.loud.part for _, part in changes.values())
    beyond = abs(near.tier - far.tier) > comfort
    return "abrupt" if beyond and loud >= rules.abrupt.loud_elements else "clear"


def seen_changes(near: Package, far: Package, library: Library) -> dict[str, tuple[bool, float]]:
    """For each element that is seen from the next room: whether its form changes, and its size by what part.

    The part is of the larger size, 0 to 1; 1 for an element that only one of the two has.
    """
    changes: dict[str, tuple[bool, float]] = {}
    for name, kind in library.element_kinds.items():
        one, other = near.element(name), far.element(name)
        if not kind.seen or (one is None and other is None):
            continue
        if one is None or other is None:
            changes[name] = (True, 1.0)
        else:
            changes[name] = (one.form != other.form, 1 - min(one.size, other.size) / max(one.size, other.size))
    return changes
