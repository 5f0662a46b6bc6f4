"""What trim is fixed to: the plaster, or the face of a wainscot that the room has. Lengths in inches."""

from collections.abc import Collection, Iterable
from typing import Protocol, TypeVar

from planner.library import Library

PLANTED = frozenset({"floor", "dado", "plate", "opening"})
"""Places whose elements stand on a wainscot's face, where there is one; common practice: base and rail are planted on
its frame, and jambs and casings are furred out with it."""

NOT_PLANTED = frozenset({"wainscot", "shoe", "head band", "overmantel", "door leaf", "sash"})
"""The wainscot stands on the wall, a shoe before the base; heads are joined and chimney breasts panelled above the
rail, and leaves and sashes hang in their openings."""


class Fixed(Protocol):
    """An element that is fixed to something."""

    @property
    def element(self) -> str: ...
    @property
    def thickness(self) -> float: ...
    def on_ground(self: "F", ground: float) -> "F": ...


F = TypeVar("F", bound=Fixed)


def ground_of(elements: Iterable[Fixed]) -> float:
    """How far the face that base, rail and casings are fixed to stands off the bare wall [in]: the thickness of the
    wainscot's frame or boards, 0 on plaster."""
    return next((e.thickness for e in elements if e.element == "wainscot"), 0.0)


def grounded(elements: Iterable[F], library: Library, measured: Collection[str] = ()) -> tuple[F, ...]:
    """Elements on the ground that their wainscot makes, each as deep as it was.

    Parameters
    ----------
    elements : all elements of a room.
    library : says where each stands.
    measured : names of those whose projection was measured where they are, and that stay on the wall as they are.
    """
    found = tuple(elements)
    ground = ground_of(found)

    def stands(element: F) -> bool:
        name = element.element
        return name not in NOT_PLANTED and name not in measured and library.element(name).place in PLANTED

    return tuple(e.on_ground(ground if stands(e) else 0.0) for e in found)
