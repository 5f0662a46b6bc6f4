"""What hangs in openings, as a house says it: kinds of leaf, and lights of sashes."""

from planner.files.csv_tables import Row
from planner.files.problems import Problem, choose
from planner.library import Library
from planner.units import quoted

HAVE = {"leaf": ("door", "double door", "pocket door"), "lights": ("window",)}
"""The kinds of opening that have what a column says."""


def fillings(row: Row, kind: str, library: Library, problems: list[Problem]) -> tuple[str, str]:
    """The kind of leaf and the lights that a row says, each "" where it is blank or faulty; faults are told.

    Parameters
    ----------
    row : of openings.csv.
    kind : of the opening.
    library : which knows kinds of leaf and how many lights a sash may have.
    problems : faults are added to it.
    """
    said = {column: " ".join(row[column].casefold().split()) for column in HAVE}
    for column, kinds in HAVE.items():
        if said[column] and kind in library.opening_kinds and kind not in kinds:
            message = f"a {kind} has no {column}"
            problems.append(row.problem(column, message, f"leave it blank; it is for {' and '.join(kinds)}"))
            said[column] = ""
    leaf, lights = said["leaf"], said["lights"].replace(" ", "")
    names = [form.name for form in library.leaves]
    if leaf and leaf not in names:
        problems.append(row.problem("leaf", f"{quoted(row['leaf'])} is no kind of leaf", choose(leaf, names)))
        leaf = ""
    if lights and library.lights_of(lights) is None:
        counts = ", ".join(str(one.count) for one in library.lights)
        remedy = f"write upper/lower, e.g. 6/6, or one number for a single sash, each one of {counts}"
        problems.append(row.problem("lights", f"{quoted(row['lights'])} is no number of lights", remedy))
        lights = ""
    return leaf, lights
