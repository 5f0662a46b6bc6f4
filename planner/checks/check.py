"""One thing to see to, and how a rule's words are filled in."""

from dataclasses import dataclass

from planner.library import Library
from planner.units import Unit, format_length

SEVERITIES = ("error", "warning", "caution")
"""How much a check weighs, the gravest first."""


@dataclass(frozen=True)
class Check:
    """One thing to see to.

    `severity` is one of SEVERITIES, `rule` the name of its row in library/checks.toml; `room` and `opening` say where
    and are empty where the whole house or the whole room is meant.
    """

    severity: str
    rule: str
    room: str
    opening: str
    message: str
    remedy: str
    source: str


def raised(library: Library, unit: Unit, name: str, room: str, opening: str = "", /, **values: float | str) -> Check:
    """The check that a rule raises, its words filled in.

    Parameters
    ----------
    library : whose rule it is.
    unit : of the house, which its words say lengths in.
    name : of the rule.
    room, opening : where.
    values : what stands in the braces of its words; numbers are lengths [in].

    Raises
    ------
    ValueError : there is no such rule; the message gives the nearest.
    """
    rule = library.check(name)
    words = {k: v if isinstance(v, str) else format_length(v, unit) for k, v in values.items()}
    words["opening"] = opening
    message, remedy = rule.message.format(**words), rule.remedy.format(**words)
    return Check(rule.severity, name, room, opening, message, remedy, rule.source)
