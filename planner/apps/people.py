"""Who is at the page: the field of a person's name."""

import marimo as mo

from planner.apps.typed import Typed


def name_field(typed: Typed, why: str, before: str = "") -> mo.ui.text:
    """The field of a person's name, with what was typed there last, else the name `before`; `why` says what it is for.

    Examples
    --------
    >>> typed = Typed()
    >>> name_field(typed, "who decides", "Ada Bell").value, typed.who
    ('Ada Bell', 'Ada Bell')
    """
    if typed.who is None:
        typed.who = before

    def write(name: str) -> None:
        typed.who = name

    return mo.ui.text(value=typed.who, label="Your name", placeholder=why, debounce=False, on_change=write)
