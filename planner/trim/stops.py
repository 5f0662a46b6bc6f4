"""How thick trim is where it meets round an opening: blocks stand proud of the casing, rails stop on it. In inches."""

from collections.abc import Collection, Iterable
from typing import Protocol, TypeVar

from planner.library import Library
from planner.mouldings.outlines import HAIR

EDGE = ("casing", "backband")
"""What rails and base die into: the casing's outer edge."""

STOPPING = ("shoe", "chair rail", "plate rail")
"""What runs along the wall and stops on the casing."""


class Meeting(Protocol):
    """An element that meets others round an opening."""

    @property
    def element(self) -> str: ...
    @property
    def form(self) -> str: ...
    @property
    def projection(self) -> float: ...
    @property
    def thickness(self) -> float: ...
    def reaching(self: "M", projection: float, thickness: float) -> "M": ...
    def stopping(self: "M", returned: bool) -> "M": ...


M = TypeVar("M", bound=Meeting)


def edge_of(elements: Iterable[Meeting]) -> float | None:
    """How far the casing's outer edge stands out [in], None where there is no casing."""
    return max((e.projection for e in elements if e.element in EDGE), default=None)


def reach_of(element: Meeting, elements: Iterable[Meeting]) -> float:
    """How far what stops on the casing stands out [in]; a shoe stands before the base."""
    base = next((e.projection for e in elements if e.element == "base"), 0.0)
    return element.projection + (base if element.element == "shoe" else 0.0)


def meeting(elements: Iterable[M], library: Library, said: Collection[str] = ()) -> tuple[M, ...]:
    """Elements on one ground, as thick as what they meet asks.

    Parameters
    ----------
    elements : all elements of a room, or of one of its openings, each as its form has it.
    library : whose forms say what stands how far `proud` of the casing and what `stops` on it.
    said : names of those whose projection the designer says, which they keep.

    Returns
    -------
    The elements: blocks at least as far before the casing as their form has it, rails no farther out than the casing;
    a shelf or a shoe that stands before it all the same is marked as returned on itself short of it.

    References
    ----------
    Blocks thicker than base and casing: F. E. Kidder, Building Construction and Superintendence, sections 168 and 169;
    blocks of 1 1/8 on casings of 7/8: L. H. Gibson, Convenient Houses (1889). The rest is common practice.
    """
    found = tuple(elements)
    edge = edge_of(found)
    if edge is None:
        return found

    def met(element: M) -> M:
        if element.element in said:
            return element
        form = library.form(element.element, element.form)
        if form.proud:
            block = max(element.projection, edge + form.proud)
            return element.reaching(block, max(element.thickness, block))
        if form.stops and element.projection > edge:
            return element.reaching(edge, min(element.thickness, edge))
        return element

    return returned(map(met, found))


def returned(elements: Iterable[M]) -> tuple[M, ...]:
    """Elements, those that stop on the casing and stand before it marked as returned on themselves short of it."""
    found = tuple(elements)
    edge = edge_of(found)
    if edge is None:
        return found
    return tuple(e.stopping(reach_of(e, found) > edge + HAIR) if e.element in STOPPING else e for e in found)
