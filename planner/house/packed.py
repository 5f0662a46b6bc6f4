"""A workbook's parts, bounded before any of them is parsed: a file of a few kilobytes can unpack to hours of work."""

import io
import re
import zipfile
from collections import Counter
from typing import IO, Any

MOST_UNPACKED = 100_000_000
"""A workbook holds no more bytes than this once it is unpacked, nor more than MOST_PARTS files."""
MOST_PARTS = 1_000

MOST_MARKS = 2_000_000
"""Sheets and shared texts of a workbook hold no more tags than this, or three times as many attributes; what is made
into objects as a whole no more than MOST_MARKS_BESIDE."""
MOST_MARKS_BESIDE = 100_000

LONGEST = 250_000
"""No text, tag or comment of a part is longer [bytes]; a cell's text has at most 32,767 letters (from memory)."""

MOST_OPENINGS = 3
"""No part is opened more often: each of its sheets is, for its size and for its cells."""

_ASIDE = re.compile(rb"<!--|<\?|<!")
_ENDS = {b"<!--": b"-->", b"<?": b"?>", b"<!": b">"}
_ENCODING = re.compile(rb"""\s*<\?xml[^>]*encoding\s*=\s*["'](?!utf-8["'])""", re.IGNORECASE)


class TooLarge(Exception):
    """A workbook would take too long to read."""


class TooMuch(TooLarge):
    """A workbook unpacks to more than MOST_UNPACKED bytes or MOST_PARTS files."""


class Packed(zipfile.ZipFile):
    """The parts of a workbook, as openpyxl asks for them.

    Raises
    ------
    TooLarge : by what is unpacked, when it is made or a part is asked for.
    zipfile.BadZipFile : it is none.
    """

    def __init__(self, data: bytes):
        super().__init__(io.BytesIO(data))
        parts = self.infolist()
        if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
            raise TooMuch
        self._opened = Counter[str]()
        self._marks = {part.filename: _marks(self.bytes_of(part)) for part in parts}
        cells = sum(count for part, count in self._marks.items() if _holds_cells(part))
        if cells > MOST_MARKS or sum(self._marks.values()) - cells > MOST_MARKS_BESIDE:
            raise TooLarge

    def bytes_of(self, part: str | zipfile.ZipInfo) -> bytes:
        """A part as it is, to be looked through but not parsed."""
        with super().open(part) as packed:
            return packed.read()

    def open(self, name: str | zipfile.ZipInfo, *_: Any, **__: Any) -> IO[bytes]:
        """A part that is read as it comes."""
        part = _called(name)
        self._opened[part] += 1
        if self._opened[part] > MOST_OPENINGS:
            raise TooLarge
        data = self.bytes_of(name)
        if self._opened[part] == 1 and not _is_plain(data):
            raise TooLarge
        return io.BytesIO(data)

    def read(self, name: str | zipfile.ZipInfo, pwd: bytes | None = None) -> bytes:
        """A part that is made into objects as a whole."""
        if self._marks.get(_called(name), 0) > MOST_MARKS_BESIDE:
            raise TooLarge
        return super().read(name, pwd)


def _called(part: str | zipfile.ZipInfo) -> str:
    return part if isinstance(part, str) else part.filename


def _holds_cells(part: str) -> bool:
    """Whether a part of a workbook holds its cells, or the texts that stand in them."""
    return part.startswith("xl/worksheets/") or part.lower().endswith("sharedstrings.xml")


def _marks(data: bytes) -> int:
    return data.count(b"<") + data.count(b"=") // 3


def _is_plain(data: bytes) -> bool:
    """Whether nothing in an XML part is longer than LONGEST, and its letters are those that its marks were counted by.

    Raw `<` stands in no text and no attribute (XML 1.0, 2.4 and 3.1), only in what is set aside between its own signs.
    """
    if b"\0" in data or _ENCODING.match(data):
        return False
    start = -1
    while (following := data.find(b"<", start + 1)) >= 0 and following - start <= LONGEST:
        start = following
    if following >= 0 or len(data) - start > LONGEST:
        return False
    at = 0
    while found := _ASIDE.search(data, at):
        at = data.find(_ENDS[found[0]], found.end(), found.end() + LONGEST)
        if at < 0:
            return False
    return True
