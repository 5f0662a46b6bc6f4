"""Workbooks as an office program works them out: what stands in their cells once it has recalculated them."""

import io
import re
import shutil
import subprocess
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest

PROGRAM = shutil.which("soffice") or shutil.which("libreoffice") or ""

needs_office = pytest.mark.skipif(not PROGRAM, reason="LibreOffice Calc is not installed (libreoffice-calc-nogui)")

LONGEST = 180
"""Seconds that a conversion may take."""


def unworked(data: bytes) -> bytes:
    """A workbook without the values that its formulas were written with."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            part = old.read(name)
            if name.startswith("xl/worksheets/sheet"):
                part = re.sub(rb"(<f>[^<]*</f>)<v>[^<]*</v>", rb"\1", part)
            new.writestr(name, part)
    return out.getvalue()


def recalculated(folder: Path, *books: bytes) -> list[dict[str, Any]]:
    """The sheets of some workbooks by their titles, worked out anew by LibreOffice, which nothing was left of before.

    Parameters
    ----------
    folder : an empty one, to work in.
    """
    (folder / "in").mkdir()
    for number, data in enumerate(books):
        (folder / "in" / f"{number}.xlsx").write_bytes(unworked(data))
    profile = (folder / "profile").as_uri()
    command = [PROGRAM, "--headless", f"-env:UserInstallation={profile}", "--convert-to", "xlsx", "--outdir"]
    files = [str(folder / "in" / f"{number}.xlsx") for number in range(len(books))]
    ran = subprocess.run([*command, str(folder / "out"), *files], capture_output=True, text=True, timeout=LONGEST)
    assert ran.returncode == 0, ran.stderr
    found = []
    for number in range(len(books)):
        book = openpyxl.load_workbook(folder / "out" / f"{number}.xlsx", data_only=True)
        found.append({sheet.title: sheet for sheet in book.worksheets})
    return found
