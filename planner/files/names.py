"""File names for any title."""

import re
import unicodedata
from collections.abc import Collection, Iterable

LONGEST = 120
"""Bytes of a name; file systems take 255, and endings and marks come on top."""

LONGEST_FILE_NAME = 200
"""Bytes of a name that a person gives a file; most file systems allow 255 with the ending."""

LONGEST_SLUG = 60
"""Bytes of one title in a name of several."""

_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.IGNORECASE)


def safe_name(title: str, fallback: str, taken: Collection[str] = ()) -> str:
    """A name close to the title that any file system takes and that is not `taken`, whatever the case of letters.

    >>> safe_name('Lighter "upstairs"', "alternative")
    'Lighter upstairs'
    >>> safe_name("../a:b", "alternative"), safe_name("///", "alternative"), safe_name("CON", "alternative")
    ('a b', 'alternative', 'CON_')
    >>> safe_name("Plain", "alternative", taken=["plain", "plain 2"])
    'Plain 3'
    """
    words = re.sub(r"[^\w\-]+", " ", unicodedata.normalize("NFC", title))
    name = words.encode()[:LONGEST].decode("utf-8", "ignore").strip(" -") or fallback
    if _RESERVED.fullmatch(name):
        name += "_"
    return free_name(name, taken)


def free_name(name: str, taken: Iterable[str]) -> str:
    """A name that nothing has yet, whatever the case of letters: the name itself, else with the next number.

    >>> free_name("Parlor", ["Hall"]), free_name("Parlor", ["parlor", "Parlor 2"])
    ('Parlor', 'Parlor 3')
    """
    used = {t.casefold() for t in taken}
    free, number = name, 1
    while free.casefold() in used:
        number += 1
        free = f"{name} {number}"
    return free


def slug(title: str) -> str:
    """A title as one word of a file's name: lower case, its words joined by hyphens; "" where it holds no letter.

    >>> slug('The "Morning" Room'), slug("Größe 1/2"), slug("…")
    ('the-morning-room', 'größe-1-2', '')
    """
    word = re.sub(r"[\W_]+", "-", unicodedata.normalize("NFC", title).lower()).strip("-")
    return word.encode()[:LONGEST_SLUG].decode("utf-8", "ignore").strip("-")


def file_name(titles: Iterable[str], ending: str) -> str:
    """A file's name that says what is in it, title by title from the widest to the narrowest.

    >>> file_name(["Thornapple House", "as the house stands", "Rooms by tier"], ".csv")
    'thornapple-house_as-the-house-stands_rooms-by-tier.csv'
    """
    return safe_name("_".join(filter(None, map(slug, titles))), "unnamed") + ending


def is_file_name(name: str) -> bool:
    """Whether any file system takes a name, as it is, for that of a file that is not hidden.

    >>> is_file_name("plainer upstairs"), is_file_name("a/b"), is_file_name(" a"), is_file_name(".a")
    (True, False, False, False)
    """
    unfit = not name.strip() or name.startswith(".") or re.search(r'[\\/:*?"<>|]', name) or not name.isprintable()
    return not unfit and name == name.strip() and len(name.encode("utf-8", "replace")) <= LONGEST_FILE_NAME
