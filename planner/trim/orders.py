"""Published proportions of the orders: from a ceiling height to the parts of pedestal, column and entablature.

An order fills the ceiling height: pedestal, column and entablature stand on one another. All lengths are inches.
`canon` is what the orders share (`library.orders`); `entablature_part` the entablature as a part of the column, the
canon's own where None.
"""

from typing import Literal

from planner.library.trim_rows import Order, Orders

EntablaturePart = Literal["architrave", "frieze", "cornice", "taenia", "cornice_projection"]


def column(ceiling: float, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the column under a ceiling.

    Parameters
    ----------
    ceiling : ceiling height. [in]
    canon : what the orders share.
    entablature_part : the entablature as a part of the column, 1/4 where it is left out. [-]

    Returns
    -------
    Height of the column. [in]

    Notes
    -----
    With the pedestal 1/3 and the entablature e of the column C, ceiling = C (1/3 + 1 + e). For e = 1/4 pedestal,
    column and entablature are as 4 : 12 : 3.

    References
    ----------
    W. R. Ware, The American Vignola, Part I, p. 8 and 38.

    Examples
    --------
    >>> from planner.library import standard
    >>> round(column(120, standard().orders), 2)
    75.79
    """
    return ceiling / (canon.pedestal.of_column + 1 + _entablature_part(canon, entablature_part))


def pedestal(ceiling: float, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the pedestal under a ceiling.

    Parameters
    ----------
    ceiling : ceiling height. [in]
    entablature_part : the entablature as a part of the column. [-]

    Returns
    -------
    Height of the pedestal, base and cap included. [in]

    Notes
    -----
    One third of the column.

    References
    ----------
    Ware, p. 38.

    Examples
    --------
    >>> from planner.library import standard
    >>> round(pedestal(120, standard().orders), 2)
    25.26
    """
    return column(ceiling, canon, entablature_part) * canon.pedestal.of_column


def pedestal_base(ceiling: float, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the pedestal's base under a ceiling.

    Parameters
    ----------
    ceiling : ceiling height. [in]
    entablature_part : the entablature as a part of the column. [-]

    Returns
    -------
    Height of the pedestal's base. [in]

    Notes
    -----
    2/9 of the pedestal (Vignola: 1/9).

    References
    ----------
    Ware, p. 38.
    """
    return pedestal(ceiling, canon, entablature_part) * canon.pedestal.base


def pedestal_cap(ceiling: float, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the pedestal's cap under a ceiling.

    Parameters
    ----------
    ceiling : ceiling height. [in]
    entablature_part : the entablature as a part of the column. [-]

    Returns
    -------
    Height of the pedestal's cap. [in]

    Notes
    -----
    1/9 of the pedestal.

    References
    ----------
    Ware, p. 38.
    """
    return pedestal(ceiling, canon, entablature_part) * canon.pedestal.cap


def entablature(ceiling: float, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the entablature under a ceiling.

    Parameters
    ----------
    ceiling : ceiling height. [in]
    entablature_part : the entablature as a part of the column. [-]

    Returns
    -------
    Height of architrave, frieze and cornice together. [in]

    Notes
    -----
    One fourth of the column; indoors, where delicacy is wanted, one fifth.

    References
    ----------
    Ware, p. 8; W. Chambers, as given in Rudiments of Ancient Architecture (1810).

    Examples
    --------
    >>> from planner.library import standard
    >>> round(entablature(120, standard().orders), 2)
    18.95
    """
    return column(ceiling, canon, entablature_part) * _entablature_part(canon, entablature_part)


def entablature_share(
    part: EntablaturePart, ceiling: float, order: Order, canon: Orders, entablature_part: float | None = None
) -> float:
    """Height of one part of the entablature under a ceiling.

    Parameters
    ----------
    part : "architrave", "frieze", "cornice", "taenia" or "cornice_projection".
    ceiling : ceiling height. [in]
    order, canon : rows of the library.
    entablature_part : the entablature as a part of the column. [-]

    Returns
    -------
    Height (or projection) of the part. [in]

    Notes
    -----
    The entablature divided as the order divides it: part / (architrave + frieze + cornice). With an entablature of
    one fourth of the column this equals the part in D times D.

    References
    ----------
    Ware, p. 8, 9 and 14; the rows of orders.toml.
    """
    whole = order.architrave + order.frieze + order.cornice
    share: float = getattr(order, part)
    return entablature(ceiling, canon, entablature_part) * share / whole


def architrave(ceiling: float, order: Order, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the architrave [in]; parameters, notes and references as for `entablature_share`.

    >>> from planner.library import standard
    >>> round(architrave(120, standard().order("doric"), standard().orders), 2)
    4.74
    """
    return entablature_share("architrave", ceiling, order, canon, entablature_part)


def frieze(ceiling: float, order: Order, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the frieze [in]; parameters, notes and references as for `entablature_share`.

    >>> from planner.library import standard
    >>> round(frieze(120, standard().order("doric"), standard().orders), 2)
    7.11
    """
    return entablature_share("frieze", ceiling, order, canon, entablature_part)


def cornice(ceiling: float, order: Order, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the cornice [in]; parameters, notes and references as for `entablature_share`.

    >>> from planner.library import standard
    >>> round(cornice(120, standard().order("corinthian"), standard().orders), 2)
    7.58
    """
    return entablature_share("cornice", ceiling, order, canon, entablature_part)


def cornice_projection(ceiling: float, order: Order, canon: Orders, entablature_part: float | None = None) -> float:
    """How far the cornice reaches beyond the frieze [in]; parameters and references as for `entablature_share`."""
    return entablature_share("cornice_projection", ceiling, order, canon, entablature_part)


def taenia(ceiling: float, order: Order, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of the taenia, 1/12 D [in]; parameters, notes and references as for `entablature_share`.

    >>> from planner.library import standard
    >>> round(taenia(120, standard().order("doric"), standard().orders), 2)
    0.79
    """
    return entablature_share("taenia", ceiling, order, canon, entablature_part)


def down_to_taenia(ceiling: float, order: Order, canon: Orders, entablature_part: float | None = None) -> float:
    """Height of cornice, frieze and taenia together [in], where the architrave is left out.

    >>> from planner.library import standard
    >>> round(down_to_taenia(120, standard().order("doric"), standard().orders), 2)
    15.0
    """
    return sum(part(ceiling, order, canon, entablature_part) for part in (taenia, frieze, cornice))


def dado(pedestal_height: float, lowest: float, highest: float) -> float:
    """Top of the chair rail above the floor.

    Parameters
    ----------
    pedestal_height : height of the pedestal. [in]
    lowest, highest : the range that practice keeps. [in]

    Returns
    -------
    The pedestal's height brought into the range. [in]

    References
    ----------
    Common practice: 28 to 32 in.
    """
    return min(max(pedestal_height, lowest), highest)


def door_width(ceiling: float) -> float:
    """Width of the doorway that suits a ceiling, by which casings are sized.

    Parameters
    ----------
    ceiling : ceiling height. [in]

    Returns
    -------
    Width of the doorway. [in]

    Notes
    -----
    The aperture is 2.5/3.5 of the room's height and 3/7 of that wide, within 33 to 42 in.

    References
    ----------
    Height: Vitruvius IV.6. Proportion 3 : 7: Edinburgh Encyclopaedia. Range 2 ft 9 in to 3 ft 6 in: Encyclopaedia
    Britannica, 1st ed. (1771), Architecture.

    Examples
    --------
    >>> round(door_width(120), 1), door_width(96), door_width(168)
    (36.7, 33.0, 42.0)
    """
    return min(max(ceiling * 2.5 / 3.5 * 3 / 7, 33.0), 42.0)


def door_casing(ceiling: float) -> float:
    """Width of the casing of the doorway that suits a ceiling.

    Parameters
    ----------
    ceiling : ceiling height. [in]

    Returns
    -------
    Width of the casing. [in]

    Notes
    -----
    Between the Ionic's 1/6 and the Corinthian's 1/7 of the doorway's width: 1/6.5.

    References
    ----------
    S. Riou, The Grecian Orders (1768), p. 44.

    Examples
    --------
    >>> round(door_casing(120), 2)
    5.65
    """
    return door_width(ceiling) / 6.5


def _entablature_part(canon: Orders, given: float | None) -> float:
    return canon.entablature.of_column if given is None else given
