"""File names for any title."""

import re
import unicodedata
from collections.abc import Collection

LONGEST = 120
"""Bytes of a name; file systems take 255, and endings and marks come on top."""

LONGEST_FILE_NAME = 200
"""Bytes of a name that a person gives a file; most file systems allow 255 with the ending."""

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
    used = {t.casefold() for t in taken}
    free, number = name, 1
    while free.casefold() in used:
        number += 1
        free = f"{name} {number}"
    return free


def is_file_name(name: str) -> bool:
    """Whether any file system takes a name, as it is, for that of a file that is not hidden.

    >>> is_file_name("plainer upstairs"), is_file_name("a/b"), is_file_name(" a"), is_file_name(".a")
    (True, False, False, False)
    """
    unfit = not name.strip() or name.startswith(".") or re.search(r'[\\/:*?"<>|]', name) or not name.isprintable()
    return not unfit and name == name.strip() and len(name.encode("utf-8", "replace")) <= LONGEST_FILE_NAME
