"""Words of the trade that no client need know."""

import re

from planner import Library

PARTS = (
    "stile",
    "plinth",
    "frieze",
    "entablature",
    "architrave",
    "cornice",
    "taenia",
    "dado",
    "rake",
    "reveal",
    "ogee",
)
JUDGED = ("tier", "tiers", "rung", "abrupt", "objective", "misfit", "package", "pinned")


def trade_words(text: str, library: Library) -> set[str]:
    """The words of the trade in a text: parts, how steps are judged, and elements that are told in plainer words.

    >>> from planner.library import standard
    >>> sorted(trade_words("A Crown of tier 4 over the baseboard", standard()))
    ['crown', 'tier']
    """
    told = " ".join(kind.told for kind in library.element_kinds.values())
    elements = [name for name in library.element_kinds if not _within(name, told)]
    return {word for word in (*elements, *PARTS, *JUDGED) if _within(word, text)}


def _within(word: str, text: str) -> bool:
    return re.search(rf"\b{re.escape(word)}\b", text, re.IGNORECASE) is not None
