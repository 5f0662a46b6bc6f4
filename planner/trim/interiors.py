"""Published proportions of rooms: from the height of a room to the parts at its ceiling, with no column between.

Each function gives the least and the greatest size. All lengths are inches; `canon` is a row of `library.orders`.
"""

from planner.library.trim_rows import Interior

MEASURES = ("entablature", "down to taenia", "cornice alone", "door casing")
"""The measures of a style's rows that a canon for rooms gives instead of the order."""


def entablature(height: float, canon: Interior, *, columns: bool = False) -> tuple[float, float]:
    """Least and greatest height of the entablature of a room.

    Parameters
    ----------
    height : of the room. [in]
    canon : the fractions.
    columns : whether the entablature stands on columns.

    Returns
    -------
    Least and greatest height of architrave, frieze and cornice together. [in]

    Notes
    -----
    1/7 to 1/6 of the height over columns, 1/8 to 1/7 without.

    References
    ----------
    British Encyclopedia (1809), principles of building.

    Examples
    --------
    >>> from planner.library import standard
    >>> entablature(112, standard().interior("interior 1809"))
    (14.0, 16.0)
    """
    return _between(height, canon.with_columns if columns else canon.entablature)


def down_to_taenia(height: float, canon: Interior) -> tuple[float, float]:
    """Least and greatest height of cornice, frieze and astragal together, 1/10 of the room's height [in].

    Parameters and references as for `entablature`.
    """
    return _between(height, canon.down_to_taenia)


def cornice(height: float, canon: Interior) -> tuple[float, float]:
    """Least and greatest height of a cornice alone, 1/30 to 1/20 of the room's height [in].

    Parameters and references as for `entablature`.
    """
    return _between(height, canon.cornice)


def casing(door_width: float, canon: Interior) -> float:
    """The widest casing of a doorway, 1/7 of its width [in]; references as for `entablature`."""
    return door_width / canon.casing


def measures(height: float, door_width: float, canon: Interior) -> dict[str, float]:
    """MEASURES under a ceiling [in]: the greatest, again under "most ...", which no floor of practice passes, and where
    the canon has a range, under "least ...", the least."""
    of_height = (entablature(height, canon), down_to_taenia(height, canon), cornice(height, canon))
    ranges = dict(zip(MEASURES, of_height, strict=False))
    greatest = {name: most for name, (_, most) in ranges.items()}
    greatest[MEASURES[-1]] = casing(door_width, canon)
    least = {f"least {name}": low for name, (low, most) in ranges.items() if low < most}
    return greatest | least | {f"most {name}": most for name, most in greatest.items()}


def _between(height: float, parts: tuple[float, float]) -> tuple[float, float]:
    return height / parts[0], height / parts[1]
