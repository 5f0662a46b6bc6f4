"""What is carved or turned on an element: by its period, its rung, its form and the order."""

from planner.library import Library
from planner.mouldings.order_members import cornice_of


def carried(style: str, rung: str, element: str, form: str, order: str, library: Library) -> tuple[str, ...]:
    """The enrichments that an element carries, in the order of the library's table.

    Parameters
    ----------
    style : a style of the library, whose rows say which it carries on which rung.
    rung : the rung of the tier.
    element, form : a form that cannot carry one goes without.
    order : an order without the member that one is cut in goes without; a style that derives from none has only those
        that are cut in no order's member.
    library : what the trade knows.

    Returns
    -------
    Names of rows of library/enrichments.toml.

    References
    ----------
    The rows of library/enrichments.toml and of the styles, each with its own.

    Examples
    --------
    >>> from planner.library import standard
    >>> carried("georgian", "State", "crown", "full entablature", "doric", standard())
    ('dentils',)
    >>> carried("georgian", "State", "crown", "full entablature", "tuscan", standard())
    ()
    """
    period = library.style(style)
    asked = {row.name for row in period.enrichments if element in row.elements and rung in row.rungs}
    cornice = library.order(order).parts[cornice_of(library.order(order), period.curves == "greek")]
    cut = {member.kind for member in cornice.members} if period.from_order else set()
    return tuple(
        row.name
        for row in library.enrichments
        if row.name in asked and form in row.forms.get(element, ()) and (not row.member or row.member in cut)
    )
