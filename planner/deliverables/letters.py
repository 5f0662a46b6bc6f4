"""Which letters the type at hand can show.

The papers bring their own type; a letter that it has not is set in another of this machine's fonts, and stands as an
empty box where none of them has it. The typesetter says so of no letter, and so is asked.
"""

import json
import re
import unicodedata
from collections.abc import Iterator, Sequence
from functools import lru_cache
from importlib.resources import files
from typing import Any

from planner.look import theme
from planner.planning.answer import Plan
from planner.units import counted, listed

NOWHERE = "\U0010fffd"
"""A letter for private use at the end of all letters, of which no font has a shape: what it gives is the empty box."""

ASKED = """
#set page(width: auto, height: auto)
#set text(font: "{}")
#for letter in json("letters.json") {{ block(letter) }}
"""
"""One letter a block, so that each is set by itself."""

BLOCK, SHAPE = re.compile(r'<g transform="translate\('), re.compile(r'xlink:href="#([^"]+)"')
"""Where a block begins in what the typesetter draws, and the shape of a letter in it."""


def type_folder() -> str:
    """Where the type of papers lies."""
    return str(files("font_source_sans_pro").joinpath("files"))


def without_shape(plan: Plan) -> tuple[str, ...]:
    """The letters in a plan's names that are empty boxes in its PDF papers, each once."""
    beyond = {letter for text in _named(plan) for letter in text if not letter.isascii()}
    return shapeless("".join(sorted(beyond)))


@lru_cache(maxsize=64)
def shapeless(letters: str) -> tuple[str, ...]:
    """Those of some letters that no font at hand has a shape of.

    >>> shapeless("aé\\U0010fffc")
    ('\\U0010fffc',)
    """
    if not letters:
        return ()
    import typst  # only where a paper is typeset

    said = json.dumps([NOWHERE, *letters], ensure_ascii=False).encode("utf-8", "replace")
    source = ASKED.format(theme.PRINT_FONT).encode()
    sources: Any = {"main": source, "letters.json": said}  # files by name; the library's types know of one source
    drawn = typst.compile(sources, font_paths=[type_folder()], format="svg")
    _, *blocks = BLOCK.split(bytes(drawn).decode())
    box, *shapes = (SHAPE.findall(block) for block in blocks)
    return tuple(letter for letter, shape in zip(letters, shapes, strict=True) if shape == box)


def told(letters: Sequence[str]) -> str:
    """What is said of letters without a shape, "" where there are none.

    >>> told(["\u4e2d", "\u6587", "\U0001f3e0"]).partition(":")[0]
    'No font of this machine has a shape for 3 letters of names (CJK and signs)'
    """
    if not letters:
        return ""
    return (
        f"No font of this machine has a shape for {counted(len(letters), 'letter')} of names"
        f" ({listed(list(dict.fromkeys(map(_script, letters))))}): an empty box stands for each in the PDF papers,"
        " itself in the workbook, the tables and the DXF files. Install a font that has them, and deliver again."
    )


def _script(letter: str) -> str:
    """What script a letter is of, by the first word of its name in Unicode."""
    word = unicodedata.name(letter, "").partition(" ")[0]
    if unicodedata.category(letter)[0] not in "LM" or not word:
        return "signs"
    return word if word == "CJK" else word.capitalize()


def _named(plan: Plan) -> Iterator[str]:
    """Every name that people gave."""
    house = plan.house
    yield from (house.name, plan.intent.title, *plan.tier_names)
    for room in house.rooms:
        yield from (room.name, room.level)
    yield from (opening.name for opening in house.openings)
    yield from (fixture.name for fixture in house.fixtures)
    yield from (flight.name for flight in house.flights)
    yield from (profile.code for profile in (plan.stock.profiles if plan.stock is not None else ()))
    yield from (rule.words(house.unit) for rule in plan.intent.trim)
