"""What a page loads ahead: the parts of the framework that draw charts.

It asks for them itself only when the first chart has come; each page here has charts, so that they may as well come
while the page is being set up.
"""

import re
from functools import cache
from pathlib import Path

import marimo

FILES = Path(marimo.__file__).parent / "_static" / "assets"
"""Where the framework has the files of its pages."""

CHARTS = "vega-component-*.js"
"""The part that draws charts."""

_LOADED = re.compile(r"(?:\bfrom|\bimport)\s*\"\./([\w.-]+\.js)\"")


def needed(files: Path, part: str) -> list[str]:
    """Names of the files that a part of the framework consists of, itself first; none where there is no such part.

    Parameters
    ----------
    files : the folder that they are in.
    part : a pattern of the name of its own file.
    """
    found: dict[str, None] = {}
    asked = sorted(file.name for file in files.glob(part))
    while asked:
        name = asked.pop()
        if name not in found and (files / name).is_file():
            found[name] = None
            asked += _LOADED.findall((files / name).read_text("utf-8"))
    return list(found)


@cache
def links() -> str:
    """The header `Link` of a page, by which it loads ahead what draws charts, beside what it loads by itself; ""
    where that is nothing."""
    page = FILES.parent / "index.html"
    own = page.read_text("utf-8") if page.is_file() else ""
    ahead = [name for name in needed(FILES, CHARTS) if name not in own]
    return ", ".join(f"<./assets/{name}>; rel=modulepreload" for name in ahead)
