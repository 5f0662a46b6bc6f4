"""Plain files: read with every fault told, written whole or not at all."""

import os
import secrets
import stat
from collections.abc import Mapping
from pathlib import Path

from planner.files.problems import HouseFault, Problem

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
        reason = getattr(error, "strerror", None) or str(error)
        problems.append(
            Problem(file, None, None, f"cannot be read ({reason})", "put a plain file there that you may read")
        )
    return None


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


def replace_files(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write files into a folder, all of them or none.

    Each is written beside its place and synced before the first takes its place; where one cannot take its place,
    those before it are put back. What already holds the same bytes is left alone.

    Raises
    ------
    HouseFault : the folder or one of the files cannot be written.
    """
    made: dict[Path, Path] = {}
    before: dict[Path, bytes | None] = {}
    path = folder
    try:
        for name, data in contents.items():
            path = folder / name
            old = path.read_bytes() if path.exists() else None
            if old == data:
                continue
            path.parent.mkdir(parents=True, exist_ok=True)
            made[path] = path.with_name(f".{secrets.token_hex(8)}.tmp")
            with made[path].open("xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            if path.exists():
                os.chmod(made[path], stat.S_IMODE(path.stat().st_mode))
            before[path] = old
        for path, temporary in made.items():
            os.replace(temporary, path)
            made[path] = path
    except (OSError, ValueError) as error:
        for done in (path for path, temporary in made.items() if temporary == path):
            _put_back(done, before[done])
        reason = getattr(error, "strerror", None) or str(error)
        remedy = "make room for a plain file there that you may write"
        raise HouseFault([Problem(str(path), None, None, f"cannot be written ({reason})", remedy)]) from error
    finally:
        for path, temporary in made.items():
            if temporary != path:
                temporary.unlink(missing_ok=True)


def _put_back(path: Path, data: bytes | None) -> None:
    if data is None:
        path.unlink(missing_ok=True)
    else:
        path.write_bytes(data)
