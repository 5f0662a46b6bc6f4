"""Records that are only ever added to a file, one a line: each whole and on the disk, or not there."""

import errno
import json
import os
import stat
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from fcntl import LOCK_SH
from pathlib import Path
from typing import Any, NamedTuple

from planner.files.decided import refuse_decided
from planner.files.journal import sync
from planner.files.locks import acquired, let_go
from planner.files.problems import HouseFault, Problem, reason_of
from planner.files.storage import LARGEST_FILE, read_bytes
from planner.units import counted

LONGEST_LINE = 1_000_000
"""A line has no more bytes than this."""

MOST_LINES = 500_000
"""A file has no more lines than this; as many records take more than the bytes that a file may have."""

MOST_TOLD = 5
"""Lines of one file that are named when they cannot be read; of the others it is told how many they are."""


class Record(NamedTuple):
    """What one line says, by its number from 1."""

    line: int
    values: dict[str, Any]


def record_line(record: Mapping[str, object]) -> bytes:
    """A record as a line. Raises ValueError where it holds what is no text, or is too long."""
    try:
        line = json.dumps(record, ensure_ascii=False).encode() + b"\n"
    except UnicodeEncodeError:
        raise ValueError("it holds characters that are no text") from None
    if len(line) > LONGEST_LINE:
        raise ValueError(f"it is longer than {LONGEST_LINE:,} bytes")
    return line


def append_record(path: Path, record: Mapping[str, object]) -> None:
    """Add a record to a file, which with its folder comes into being with the first; it is on the disk then.

    A line that broke off stands on its own. Where the record cannot be kept whole, nothing of it is.

    Raises
    ------
    HouseFault : it cannot be kept.
    """
    try:
        refuse_decided(path)
        line = record_line(record)
        path.parent.mkdir(exist_ok=True)
        descriptor = acquired(path, os.O_RDWR | os.O_CREAT | os.O_APPEND | os.O_NOFOLLOW | os.O_NONBLOCK)
        try:
            _append(descriptor, line, path)
        finally:
            let_go(descriptor)
    except (OSError, ValueError) as error:
        remedy = "nothing of it is kept; mend that and send it again"
        message = f"it could not be kept ({reason_of(error)})"
        raise HouseFault([Problem(shown(path), None, None, message, remedy)]) from error


def read_records(path: Path, problems: list[Problem]) -> list[Record]:
    """Every record of a file; a file that is no plain one, and lines that cannot be read, are told and passed over."""
    data = _bytes(path, problems)
    records, faults = list[Record](), dict[int, str]()
    lines = (data or b"").split(b"\n", MOST_LINES)
    if len(lines) > MOST_LINES and lines[-1]:
        lines[-1] = b""
        message = f"has more than {MOST_LINES:,} lines"
        problems.append(Problem(shown(path), None, None, message, "those after them were passed over", "warning"))
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        try:
            records.append(Record(number, _values(line)))
        except ValueError as error:
            faults[number] = "breaks off, as after a power failure" if number == len(lines) else str(error)
    tell_lines(path, faults, problems)
    return records


def tell_lines(path: Path, faults: Mapping[int, str], problems: list[Problem]) -> None:
    """Tell lines that were passed over, with what is wrong with each: the first by name, the others by number."""
    remedy = "it was passed over"
    for number, fault in list(faults.items())[:MOST_TOLD]:
        problems.append(Problem(shown(path), number, None, fault, remedy, "warning"))
    if (more := len(faults) - MOST_TOLD) > 0:
        message = f"{counted(more, 'more line')} cannot be read"
        problems.append(Problem(shown(path), None, None, message, "they were passed over", "warning"))


def shown(path: Path) -> str:
    """A file by its folder and name, for people: without what is no text in it."""
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in f"{path.parent.name}/{path.name}")


def _append(descriptor: int, line: bytes, path: Path) -> None:
    """Write a line at the end of a file that is locked, whole and on the disk; on any failure the file is as before."""
    state = os.fstat(descriptor)
    if not stat.S_ISREG(state.st_mode):
        raise OSError(errno.EINVAL, "its file is not a plain one")
    size = state.st_size
    if size + len(line) >= LARGEST_FILE:
        raise OSError(errno.EFBIG, f"its file is full, at {LARGEST_FILE // 1_000_000} MB")
    torn = size > 0 and os.pread(descriptor, 1, size - 1) != b"\n"
    try:
        left = memoryview((b"\n" if torn else b"") + line)
        while left:
            left = left[os.write(descriptor, left) :]
        os.fsync(descriptor)
        sync(path.parent)
        sync(path.parent.parent)
    except BaseException:
        with suppress(OSError):
            os.ftruncate(descriptor, size)
            os.fsync(descriptor)
        raise


def _bytes(path: Path, problems: list[Problem]) -> bytes | None:
    """What a file holds while nobody adds to it; None where it cannot be read, which is told."""
    file, told = shown(path), list[Problem]()
    data = None
    try:
        if path.is_symlink():
            told.append(Problem(file, None, None, "is a link", "put a plain file in its place"))
        else:
            descriptor = acquired(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK, LOCK_SH)
            try:
                data = read_bytes(path, file, told)
            finally:
                let_go(descriptor)
    except (OSError, ValueError) as error:
        remedy = "put a plain file there that you may read"
        told.append(Problem(file, None, None, f"cannot be read ({reason_of(error)})", remedy))
    problems += [replace(problem, severity="warning") for problem in told]
    return data


def _values(line: bytes) -> dict[str, Any]:
    """What a line says. Raises ValueError, in words, where it is no record of text."""
    if len(line) > LONGEST_LINE:
        raise ValueError(f"is longer than {LONGEST_LINE:,} bytes")
    try:
        values = json.loads(line)
        json.dumps(values, ensure_ascii=False).encode()
    except UnicodeError:
        raise ValueError("holds characters that are no text") from None
    except RecursionError:
        raise ValueError("is nested too deeply") from None
    except ValueError:
        raise ValueError("is no record") from None
    if not isinstance(values, dict):
        raise ValueError("is no record")
    return values
