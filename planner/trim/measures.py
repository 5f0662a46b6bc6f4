"""What the rows of a style may be sized by under a ceiling. Lengths in inches."""

from collections.abc import Mapping

from planner.library import Library
from planner.library.trim_rows import Interior, Order
from planner.mouldings.order_members import cornice_of
from planner.trim import interiors, orders


def measures_under(
    style: str, order: str, ceiling: float, library: Library, interior: Interior | None
) -> Mapping[str, float]:
    """What a row may be sized by [in]; `overhang` is a cornice's projection over its height.

    In a style that derives from no order only what is borrowed from another style asks for the order's.
    """
    period, canon, row = library.style(style), library.orders, library.order(order)
    e = period.entablature
    cornice = orders.cornice(ceiling, row, canon, e)
    found = {
        "inch": 1.0,
        "ceiling": ceiling,
        "door casing": orders.door_casing(ceiling),
        "taenia": orders.taenia(ceiling, row, canon, e),
        "frieze": orders.frieze(ceiling, row, canon, e),
        "cornice": cornice,
        "cornice alone": cornice,
        "pedestal": orders.pedestal(ceiling, canon, e),
        "pedestal base": orders.pedestal_base(ceiling, canon, e),
        "pedestal cap": orders.pedestal_cap(ceiling, canon, e),
        "architrave": orders.architrave(ceiling, row, canon, e),
        "entablature": orders.entablature(ceiling, canon, e),
        "down to taenia": orders.down_to_taenia(ceiling, row, canon, e),
        "overhang": _overhang(row, period.curves == "greek")
        or orders.cornice_projection(ceiling, row, canon, e) / cornice,
    }
    if interior is None or not period.from_order:
        return found
    return found | interiors.measures(ceiling, orders.door_width(ceiling), interior)


def _overhang(order: Order, greek: bool) -> float:
    """How far the Greek cornice of an order reaches out for its height, 0 where it has none or it is not asked for."""
    part = cornice_of(order, greek)
    if part == "cornice":
        return 0.0
    given = order.parts[part]
    return float(max(m.projection for m in given.members) / given.height)
