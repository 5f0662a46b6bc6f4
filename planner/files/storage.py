"""Plain files: read with every fault told, written whole or not at all."""

import os
import stat
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from planner.files import journal
from planner.files.decided import refuse_decided
from planner.files.locks import locked
from planner.files.problems import HouseFault, Problem, raise_errors, reason_of
from planner.units import quoted

LARGEST_FILE = 50_000_000
"""A file of a house has no more bytes than this."""


def read_bytes(
    path: Path,
    file: str,
    problems: list[Problem],
    remedy: str = "put the file there",
    largest: int = LARGEST_FILE,
) -> bytes | None:
    """The bytes of a plain file, or None where it cannot be read, which is told in `problems` under the name `file`."""
    try:
        state = path.stat()
        if stat.S_ISDIR(state.st_mode):
            problems.append(Problem(file, None, None, "is a directory", "put a plain file in its place"))
        elif not stat.S_ISREG(state.st_mode):
            problems.append(Problem(file, None, None, "is not a plain file", "put a plain file in its place"))
        elif state.st_size > largest:
            limit = f"{largest // 1_000_000} MB"
            problems.append(Problem(file, None, None, f"is larger than {limit}", f"keep it under {limit}"))
        else:
            return path.read_bytes()
    except FileNotFoundError:
        problems.append(Problem(file, None, None, "is missing", remedy))
    except (OSError, ValueError) as error:
        problems.append(_unreadable(file, error))
    return None


def names_in(folder: Path, place: str, ending: str, problems: list[Problem]) -> tuple[str, ...]:
    """The names with an ending, without it, that stand in a folder of a house, sorted; none where there is no such
    folder. One that cannot be read is told in `problems`."""
    try:
        if not journal.is_there(folder / place):
            return ()
        found = os.listdir(folder / place)
    except (OSError, ValueError) as error:
        remedy = "put a folder there that you may read, or remove it"
        problems.append(Problem(place, None, None, f"cannot be read ({reason_of(error)})", remedy))
        return ()
    return tuple(sorted(name.removesuffix(ending) for name in found if name.endswith(ending)))


def decode(data: bytes, file: str, problems: list[Problem]) -> str | None:
    """The text of a UTF-8 file, with or without a byte order mark, or None where it is none."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        problems.append(Problem(file, None, None, "is UTF-16 text", "save it as UTF-8"))
        return None
    if b"\0" in data:
        line = data[: data.index(b"\0")].count(b"\n") + 1
        problems.append(Problem(file, line, None, "holds a NUL byte, so it is no text", "save it as UTF-8 text"))
        return None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        found = f"byte 0x{data[error.start]:02X} is not UTF-8"
        problems.append(Problem(file, line, None, found, "save the file in the encoding UTF-8"))
        return None


def bytes_before(path: Path, file: str) -> bytes | None:
    """What a file to be written holds so far, None where it is new. Raises HouseFault where it is no plain file."""
    problems: list[Problem] = []
    try:
        if not journal.is_there(path):
            return None
    except (OSError, ValueError) as error:
        raise HouseFault([_unreadable(file, error)]) from error
    data = read_bytes(path, file, problems)
    raise_errors(problems)
    return data


@contextmanager
def settled(folder: Path) -> Iterator[None]:
    """Read several files of a folder as one write left them: writers are held off meanwhile.

    What a writer left that ended in the middle is put back first. A folder that cannot be opened holds nobody off:
    whoever reads it tells what is wrong with it.

    Raises
    ------
    HouseFault : what a writer left cannot be put back, or another keeps writing.
    """
    with ExitStack() as held:
        try:
            while _hold(held, folder) and journal.unfinished(folder):
                held.close()
                with locked(folder):
                    journal.roll_back(folder)
                if journal.unfinished(folder):  # litter that nobody may remove changes nothing
                    _hold(held, folder)
                    break
        except (OSError, ValueError) as error:
            raise HouseFault([_unsettled(folder, error)]) from error
        yield


def seen(folder: Path, names: Iterable[str]) -> dict[str, bytes | None]:
    """What each of some files of a folder holds, None where there is none: what `replace_files` may be told to expect.

    Raises
    ------
    HouseFault : one of them is no plain file that can be read.
    """
    with settled(folder):
        return {name: bytes_before(folder / name, name) for name in names}


@contextmanager
def writing(folder: Path) -> Iterator[None]:
    """Read a folder and write what follows from it, with all others held off meanwhile; `replace_files`, `settled` and
    `seen` work in it as ever.

    Raises
    ------
    HouseFault : the folder cannot be opened, or something in it not be looked at; what a writer left cannot be put
        back; another keeps writing; or it is a copy of what was decided.
    """
    with ExitStack() as held:
        try:
            refuse_decided(folder)
            if folder.is_dir():
                held.enter_context(locked(folder))
                journal.roll_back(folder)
        except (OSError, ValueError) as error:
            raise HouseFault([_unwritable(folder, error)]) from error
        try:
            yield
        except OSError as error:
            raise HouseFault([_unreadable(str(error.filename or folder), error)]) from error


class Overtaken(HouseFault):
    """Somebody else has changed files since they were looked at; `files` are their names."""

    def __init__(self, files: Iterable[str]):
        self.files = tuple(files)
        remedy = "look at what it says now, then save again, or save under another name"
        super().__init__(Problem(file, None, None, "has been changed by somebody else", remedy) for file in self.files)


def replace_files(
    folder: Path, contents: Mapping[str, bytes | None], expected: Mapping[str, bytes | None] | None = None
) -> None:
    """Write files into a folder, all of them or none, whatever moment the process ends; they are on the disk then.

    Writers take turns. What already holds the same bytes is left alone.

    Parameters
    ----------
    folder : where; it is made where it is not there.
    contents : what each file is to hold, by its path in the folder; one that is None is removed.
    expected : what the writer has seen of files, None where there was none, as `seen` gives it; nothing is looked at
        where it is left out.

    Raises
    ------
    Overtaken : a file no longer holds what is expected; nothing was written.
    HouseFault : the folder or one of the files cannot be written, or it is a copy of what was decided; nothing was
        written.

    Examples
    --------
    >>> from tempfile import mkdtemp
    >>> folder = Path(mkdtemp())
    >>> replace_files(folder, {"a.txt": b"1", "b/c.txt": b"2"}, expected={"a.txt": None})
    >>> replace_files(folder, {"a.txt": None, "b/c.txt": b"3"}, expected={"a.txt": b"1"})
    >>> seen(folder, ["a.txt", "b/c.txt"])
    {'a.txt': None, 'b/c.txt': b'3'}
    """
    expected = expected or {}
    made = [place for place in (folder, *folder.parents) if not os.path.exists(place)]
    try:
        refuse_decided(folder)
        folder.mkdir(parents=True, exist_ok=True)
        with locked(folder):
            journal.roll_back(folder)
            before = {name: bytes_before(folder / name, name) for name in (*contents, *expected)}
            if overtaken := [name for name, data in expected.items() if before[name] != data]:
                raise Overtaken(overtaken)
            changes = {name: data for name, data in contents.items() if data != before[name]}
            if changes:
                journal.write(folder, changes)
    except (OSError, ValueError) as error:
        with suppress(OSError):  # where somebody else has written into one, it stays
            for place in made:
                place.rmdir()
        raise HouseFault([_unwritable(folder, error)]) from error


def _hold(held: ExitStack, folder: Path) -> bool:
    """Whether a folder is now held against writers; one that cannot be opened is not."""
    try:
        held.enter_context(locked(folder, shared=True))
    except TimeoutError:
        raise
    except (OSError, ValueError):
        return False
    return True


def _unreadable(file: str, error: OSError | ValueError) -> Problem:
    remedy = "put a plain file there that you may read"
    return Problem(file, None, None, f"cannot be read ({reason_of(error)})", remedy)


def _unsettled(folder: Path, error: OSError | ValueError) -> Problem:
    if isinstance(error, TimeoutError):
        return Problem(quoted(str(folder), 200), None, None, "is being written by another program", "try again")
    if isinstance(error, PermissionError) and not os.access(folder, os.X_OK):
        message, remedy = f"cannot be looked into ({reason_of(error)})", "give yourself the right to open what is in it"
        return Problem(quoted(str(folder), 200)[1:-1], None, None, message, remedy)
    if isinstance(error, journal.NoList):
        remedy = f"remove {journal.UNDO}, and see that the files beside it are as they should be"
        return Problem(journal.UNDO, None, None, "is not what a write that broke off leaves behind", remedy)
    message = f"a write that broke off cannot be put back ({reason_of(error)})"
    return Problem(journal.UNDO, None, None, message, "open the house where its folder can be written")


def _unwritable(folder: Path, error: OSError | ValueError) -> Problem:
    if isinstance(error, TimeoutError | journal.NoList):
        return _unsettled(folder, error)
    path = getattr(error, "filename", None) or folder
    remedy = "make room for a plain file there that you may write"
    return Problem(str(path), None, None, f"cannot be written ({reason_of(error)})", remedy)
