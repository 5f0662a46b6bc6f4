"""What rows of library/job.toml say: how a room is trimmed, what hurts, and what somebody else decides."""

from planner.library.rows import TableRow


class Step(TableRow, frozen=True):
    """One step of trimming a room, for a house that has one of its `elements`; without any, for every house."""

    name: str
    says: str
    source: str
    elements: tuple[str, ...] = ()


class Care(TableRow, frozen=True):
    """What to take care of, whatever the house."""

    says: str
    source: str


class Matter(TableRow, frozen=True):
    """What the planner does not decide, and `who` does, where one of the `rules` of checks is raised; without any, for
    every house."""

    matter: str
    who: str
    source: str
    rules: tuple[str, ...] = ()


class Job(TableRow, frozen=True, rename={"steps": "step", "cares": "care", "matters": "decision"}):
    """What a crew goes by."""

    steps: tuple[Step, ...]
    cares: tuple[Care, ...]
    matters: tuple[Matter, ...]
