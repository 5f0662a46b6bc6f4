"""One writer at a time in a folder, across processes and threads."""

import errno
import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import local
from time import monotonic, sleep

PATIENCE = 30.0
"""How long somebody waits for a lock that another holds [s]."""

PAUSE = 0.002
"""Between two looks at a lock that another holds [s]."""

LOCK_FILE = ".planner.lock"
"""What is locked where a file system locks no folders."""

_of_thread = local()

_NO_FOLDER_LOCKS = (errno.EBADF, errno.ENOLCK, errno.EOPNOTSUPP, errno.EINVAL)


@contextmanager
def locked(folder: Path, *, shared: bool = False) -> Iterator[None]:
    """Hold the lock of a folder: alone, to write, or `shared` with all who read.

    The folder itself is locked, so that nothing is left in it, and one that nobody may write can be locked too. The
    system lets go of a lock whose holder has died. A thread that holds it alone holds it already.

    Raises
    ------
    OSError : the folder cannot be opened, or another held the lock for longer than PATIENCE.
    """
    place = os.path.realpath(folder)
    if place in _held_alone():
        yield
        return
    descriptor = _acquired(folder, fcntl.LOCK_SH if shared else fcntl.LOCK_EX)
    try:
        if not shared:
            _held_alone().add(place)
        yield
    finally:
        _held_alone().discard(place)
        let_go(descriptor)


def _held_alone() -> set[str]:
    """The folders that this thread holds alone."""
    if not hasattr(_of_thread, "folders"):
        _of_thread.folders = set[str]()
    folders: set[str] = _of_thread.folders
    return folders


def _acquired(folder: Path, how: int) -> int:
    try:
        return acquired(folder, os.O_RDONLY | os.O_DIRECTORY, how)
    except OSError as error:
        if error.errno not in _NO_FOLDER_LOCKS:
            raise
        return acquired(folder / LOCK_FILE, os.O_RDWR | os.O_CREAT, how)


def acquired(path: Path, flags: int, how: int = fcntl.LOCK_EX) -> int:
    """The descriptor of a file or folder, opened and locked. Raises OSError as `locked` does."""
    descriptor = os.open(path, flags, 0o644)
    try:
        _wait(descriptor, how)
    except BaseException:
        os.close(descriptor)
        raise
    return descriptor


def let_go(descriptor: int) -> None:
    """Unlock and close a descriptor."""
    try:
        fcntl.flock(descriptor, fcntl.LOCK_UN)
    finally:
        os.close(descriptor)


def _wait(descriptor: int, how: int) -> None:
    until = monotonic() + PATIENCE
    while True:
        try:
            return fcntl.flock(descriptor, how | fcntl.LOCK_NB)
        except BlockingIOError:
            if monotonic() > until:
                raise OSError(errno.ETIMEDOUT, "another program is writing it") from None
            sleep(PAUSE)
