"""Files of a folder that change together, whatever moment the process ends.

What is new, a copy of what is old and a list of both are made ready in a folder of their own, STAGED. Its renaming to
UNDO is the moment from which there is something to take back; then each file takes its place; and once the list is
called ENDED the write stands. Whoever comes next and finds a list puts the old back. One file alone takes its place in
one step and needs no list. All is synced before the step that counts on it (from memory: an undo log, as databases
keep).
"""

import errno
import json
import os
import shutil
import stat
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath
from typing import NamedTuple

STAGED = ".planner-staged"
"""Holds what a writer makes ready; of no worth once the writer is dead."""

UNDO = ".planner-undo"
"""Holds what is to be put back, as long as there is a LIST in it."""

LIST = "list.json"

ENDED = "ended.json"
"""What a list is called of which nothing is put back any more."""

LARGEST_LIST = 10_000_000
"""A list has no more bytes than this."""


class NoList(ValueError):
    """What stands in the place of a list of files to put back is none."""


class _Step(NamedTuple):
    """One file of a write: its name, and where its new and its old contents lie in the folder made ready.

    What has no new contents is removed; what had no old ones is new.
    """

    name: str
    new: str | None
    old: str | None


def unfinished(folder: Path) -> bool:
    """Whether a writer left something behind; while no other writes, it is dead."""
    return is_there(folder / UNDO) or is_there(folder / STAGED)


def is_there(path: Path) -> bool:
    """Whether anything stands at a path, be it a link to nothing. Raises OSError where nobody can tell."""
    try:
        path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    return True


def write(folder: Path, changes: Mapping[str, bytes | None]) -> None:
    """Write files into a folder and remove those that are None, all or none; for the holder of its lock.

    Raises
    ------
    OSError : one of them cannot be written, named by its `filename`; everything is as it was.
    """
    steps, ready = list[_Step](), folder / (UNDO if len(changes) > 1 else STAGED)
    try:
        steps, made = _made_ready(folder, changes)
        if len(steps) > 1:
            os.rename(folder / STAGED, folder / UNDO)
            sync(folder)
        _take_places(folder, steps, ready, made)
        if len(steps) > 1:
            _end(ready)
    except BaseException:
        with suppress(OSError):
            _take_back(folder, steps, ready)
        raise
    _clear(folder)


def roll_back(folder: Path) -> None:
    """Put back what a write that ended in the middle had changed; for the holder of the folder's lock.

    Raises
    ------
    OSError : something cannot be put back; what could not is tried again next time.
    NoList : what stands in the place of the list is none.
    """
    undo = folder / UNDO
    if not unfinished(folder):
        return
    if is_there(undo / LIST) and not undo.is_symlink():
        steps, made = _listed(undo)
        for step in steps:
            with _about(folder / step.name):
                _put_back(folder / step.name, step, undo)
        for name in reversed(made):
            with suppress(OSError):
                (folder / name).rmdir()
        _sync_all(folder, steps)
        _end(undo)
    _clear(folder)


def sync(path: Path) -> None:
    """Have a file, or the entries of a folder, on the disk."""
    descriptor = os.open(path, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno != errno.EINVAL:  # a file system whose folders need no syncing
            raise
    finally:
        os.close(descriptor)


def _clear(folder: Path) -> None:
    """Remove what is of no more worth; what cannot be removed does no harm."""
    for left in (folder / UNDO, folder / STAGED):
        with suppress(OSError):
            if stat.S_ISDIR(left.lstat().st_mode):
                shutil.rmtree(left, ignore_errors=True)
            else:  # a pipe among them, which is not to be opened
                left.unlink()


def _made_ready(folder: Path, changes: Mapping[str, bytes | None]) -> tuple[list[_Step], list[str]]:
    """Everything that a write needs, on the disk, and the folders that it is to make, outermost first."""
    staged, steps, made = folder / STAGED, list[_Step](), dict[str, None]()
    with _about(folder):
        staged.mkdir()
    for number, (name, data) in enumerate(changes.items()):
        path = folder / name
        with _about(path):
            step = _Step(name, None if data is None else f"new {number}", f"old {number}" if is_there(path) else None)
            steps.append(step)
            made |= dict.fromkeys(_missing_folders(folder, name) if data is not None else ())
            if step.new and data is not None:
                _put(staged / step.new, data, path)
            if step.new and step.old:
                shutil.copy2(path, staged / step.old, follow_symlinks=False)
                if len(changes) > 1 and not path.is_symlink():
                    sync(staged / step.old)
    if len(steps) > 1:
        said = {"files": [step._asdict() for step in steps], "folders": list(made)}
        _put(staged / LIST, json.dumps(said).encode(), None)
    sync(staged)
    return steps, list(made)


def _end(undo: Path) -> None:
    """From now on nothing is put back."""
    os.rename(undo / LIST, undo / ENDED)
    sync(undo)


def _take_back(folder: Path, steps: Sequence[_Step], ready: Path) -> None:
    """Have everything as it was, in a write that could not be ended, or not be made sure to have."""
    if is_there(ready / ENDED):
        os.rename(ready / ENDED, ready / LIST)
    for step in steps if len(steps) == 1 else ():
        _put_back(folder / step.name, step, ready)
    roll_back(folder)


def _take_places(folder: Path, steps: Iterable[_Step], ready: Path, made: Iterable[str]) -> None:
    for name in made:
        with _about(folder / name):
            (folder / name).mkdir(exist_ok=True)
    for step in steps:
        with _about(folder / step.name):
            if step.new:
                os.replace(ready / step.new, folder / step.name)
            elif step.old:
                os.replace(folder / step.name, ready / step.old)
    _sync_all(folder, steps)


def _put_back(path: Path, step: _Step, undo: Path) -> None:
    """Take one step back; nothing where it was not taken, or is taken back already."""
    if step.new and is_there(undo / step.new):
        return
    if step.old is None:
        path.unlink(missing_ok=True)
    elif is_there(undo / step.old):
        os.replace(undo / step.old, path)


def _put(path: Path, data: bytes, like: Path | None) -> None:
    """Write a file, synced, open to the same people as another where that is there."""
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    if like is not None and like.exists():
        os.chmod(path, stat.S_IMODE(like.stat().st_mode))


def _missing_folders(folder: Path, name: str) -> list[str]:
    """The folders that a file's name needs and that are not there, outermost first."""
    above = [str(parent) for parent in PurePosixPath(name).parents if parent.parts]
    return [parent for parent in reversed(above) if not is_there(folder / parent)]


def _sync_all(folder: Path, steps: Iterable[_Step]) -> None:
    """Have the entries of all folders in which steps were taken on the disk."""
    for place in {folder, *((folder / step.name).parent for step in steps)}:
        if place.is_dir():
            sync(place)


def _listed(undo: Path) -> tuple[list[_Step], list[str]]:
    """The list of files to put back. Raises NoList where it is none, or leads out of the folder."""
    try:
        state = (undo / LIST).lstat()
        if not stat.S_ISREG(state.st_mode) or state.st_size > LARGEST_LIST:
            raise NoList
        said = json.loads((undo / LIST).read_bytes())
        steps = [_Step(**one) for one in said["files"]]
        made = [str(name) for name in said["folders"]]
        inner = [part for step in steps for part in (step.new, step.old) if part is not None]
        if not all(map(_stays_inside, [*(step.name for step in steps), *made, *inner])):
            raise NoList
        return steps, made
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise NoList from error


def _stays_inside(name: object) -> bool:
    """Whether a name leads to something in the folder that it is in."""
    return isinstance(name, str) and "\0" not in name and not {"", ".", ".."} & set(name.split("/"))


@contextmanager
def _about(path: Path) -> Iterator[None]:
    """Have an OSError name the file that it is about, not one made ready for it."""
    try:
        yield
    except OSError as error:
        error.filename = str(path)
        raise
