"""A tier's trim package: which elements there are, in what form, and how big under a given ceiling."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Element:
    """One element of a package, e.g. the base, a casing or the crown.

    Parameters
    ----------
    element : its kind, a row of data/elements.toml ("base", "casing", "window casing", "chair rail", "wainscot",
        "crown", "overdoor", ...).
    form : how it is composed, e.g. "board and cap", "three fasciae", "full entablature".
    target : size asked by the order, the style and the tier [in]: height on the wall, or width for a casing.
    size : size that is built [in].
    projection : from the wall [in].
    thickness : of the board or profile [in].
    members : how many members of it show.
    bottom : height of its lower edge above the floor [in], None for what goes round an opening.
    profiles : codes of the stock that it is built from.
    source : where the target comes from.
    """

    element: str
    form: str
    target: float
    size: float
    projection: float
    thickness: float
    members: int
    bottom: float | None = None
    profiles: tuple[str, ...] = ()
    source: str = "common practice"


@dataclass(frozen=True)
class Package:
    """The trim of every room of one tier under one ceiling height [in].

    `trim_share` is the part of the wall's height that trim takes, 0 to 1; `members` counts the members that show.
    """

    name: str
    tier: int
    ceiling: float
    elements: tuple[Element, ...]
    trim_share: float
    members: int

    def element(self, kind: str) -> Element | None:
        """The element of that kind, or None where the tier has none."""
        return next((e for e in self.elements if e.element == kind), None)
