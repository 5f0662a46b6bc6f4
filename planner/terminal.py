"""Text for a terminal, which does what is written to it: names in a house's tables are anybody's."""

import ctypes
import errno
import json
import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Final

_ACTED_ON: Final = re.compile(
    "["
    "\x00-\x1f\x7f-\x9f"  # controls, with the escape that begins a command to the terminal
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # marks of direction, by which a text reads as another
    "\xad\u180e\u200b\u2028\u2029\u2060-\u2065\u206a-\u206f\ufeff\ufff9-\ufffb\U000e0000-\U000e007f"  # not to be seen
    "\ud800-\udfff"  # halves of a character, which no file can hold
    "]"
)


def shown(line: str) -> str:
    r"""A line of text in which a terminal finds nothing to do but to show it.

    >>> print(shown("Hall\x1b[2J \u202ellaH"), shown("Salle à manger"))
    Hall\x1b[2J \u202ellaH Salle à manger
    """
    return _ACTED_ON.sub(lambda found: found[0].encode("unicode_escape").decode(), line)


def shown_json(text: str) -> str:
    r"""A JSON text that says the same, and in which a terminal finds nothing to do but to show it.

    >>> print(shown_json('{"room": "\u202ellaH"}'))
    {"room": "\u202ellaH"}
    """
    lines = (_ACTED_ON.sub(lambda found: json.dumps(found[0])[1:-1], line) for line in text.split("\n"))
    return "\n".join(lines)


def given_up(error: OSError) -> bool:
    """Whether an error says that what is printed has no room where it goes; nothing more is printed there then.

    It names no file, as those of a folder do.
    """
    if error.filename is not None or error.errno not in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO):
        return False
    with suppress(OSError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())  # what is held back would fail once more when the program ends
        os.close(nowhere)
    return True


@contextmanager
def libraries_apart() -> Iterator[None]:
    """What compiled libraries print meanwhile goes to the errors, so that output holds nothing but what is told.

    The solver now and then prints a line whatever it is asked for, which would stand before a JSON object.
    """
    if os.name != "posix" or sys.stdout is None:
        yield
        return
    sys.stdout.flush()
    kept = os.dup(1)
    os.dup2(2, 1)
    try:
        yield
    finally:
        ctypes.CDLL(None).fflush(None)
        os.dup2(kept, 1)
        os.close(kept)
