"""Who is at work on a house: each session has a name, and a sign on the disk that lasts as long as it does."""

import fcntl
import os
import re
import secrets
import weakref
from contextlib import suppress
from pathlib import Path

from planner.files.decided import is_decided
from planner.house.folder import ALTERNATIVES

SESSION = re.compile(r"[0-9a-f]{8}")
"""What the names of sessions look like."""


class Session:
    """Somebody at work on a house, by the name that this session's drafts bear; a page that is loaded again goes on
    under the name that it had.
    """

    def __init__(self, house: Path, name: str = ""):
        self.house, self.name = house, name if SESSION.fullmatch(name) else secrets.token_hex(4)
        self._sign: int | None = None

    def show(self) -> None:
        """Let others see that the session lasts; the system takes the sign back when the process ends."""
        if self._sign is not None or is_decided(self.house):
            return
        path = _sign_path(self.house, self.name)
        with suppress(OSError):  # where nothing can be written there is no draft to be watched over
            path.parent.mkdir(parents=True, exist_ok=True)
            for left in path.parent.glob(".*.session"):
                lasts(self.house, left.name[1:].removesuffix(".session"))
            self._sign = _held(path)
            weakref.finalize(self, _take_back, path, self._sign)


def lasts(house: Path, name: str) -> bool:
    """Whether somebody is still at work under the name of a session; the sign of one that is gone is taken away."""
    path = _sign_path(house, name)
    try:
        sign = os.open(path, os.O_RDWR)
    except OSError:
        return False
    return not _take_back(path, sign)


def _held(path: Path) -> int:
    """The descriptor of a sign, held together with others of the same name."""
    while True:
        sign = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            fcntl.flock(sign, fcntl.LOCK_SH)
            if _is_there(path, sign):
                return sign
        except OSError:
            os.close(sign)
            raise
        os.close(sign)


def _take_back(path: Path, sign: int) -> bool:
    """Let go of a sign, and take it away where nobody else holds it; returns whether nobody does."""
    try:
        fcntl.flock(sign, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if _is_there(path, sign):
            path.unlink()
        return True
    except BlockingIOError:
        return False
    except OSError:  # a file system without locks, or a sign that cannot be taken away
        return True
    finally:
        os.close(sign)


def _is_there(path: Path, sign: int) -> bool:
    """Whether a sign that was opened is still the one in its place."""
    try:
        return os.path.samestat(os.stat(path), os.fstat(sign))
    except FileNotFoundError:
        return False


def _sign_path(house: Path, name: str) -> Path:
    return house / ALTERNATIVES / f".{name}.session"
