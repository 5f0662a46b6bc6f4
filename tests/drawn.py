"""Plans whose papers several tests read, hostile names, and the pages of a PDF as they are read and measured."""

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache

import pdfplumber
import pypdfium2
from pdfplumber.page import Page

from planner import demo_house, plan, read_house, read_intent, read_stock
from planner.deliverables.papers import SIZES, Stamp, stamp_of
from planner.deliverables.sheets.drawing_set import drawing_set, sheets_of
from planner.deliverables.sheets.frame import Frame, frame_of
from planner.deliverables.sheets.full_size import full_size
from planner.deliverables.sheets.sheet import Sheet
from planner.house.model import House
from planner.planning.answer import Plan
from tests.metric import in_millimetres

DAY = date(2030, 1, 31)
MARKS = "<#$\\\"'&../[*_`@{}~^%%="
"""Marks that mean something to a typesetter, a drawing, a table or a folder."""

HEBREW, ARABIC = "שלום", "مرحبا"
HOSTILE = f"{MARKS} {HEBREW} {ARABIC}"
LONG = "Q" * 300


@cache
def demo(alternative: str = "", unit: str = "in") -> Plan:
    """The demo house's plan, as it stands or as an alternative has it, in inches or in millimetres."""
    house, _ = read_house(demo_house())
    intent = read_intent(demo_house(), alternative) if alternative else None
    return plan(in_millimetres(house) if unit == "mm" else house, intent, read_stock(demo_house()))


@cache
def hostile() -> Plan:
    """The demo house under hostile names, the second room's and the fourth opening's of 300 letters."""
    house, _ = read_house(demo_house())
    return plan(renamed(house), stock=read_stock(demo_house()))


def renamed(house: House) -> House:
    """A house whose names are hostile."""
    names = {room.name: LONG if n == 1 else f"{HOSTILE} {room.name}" for n, room in enumerate(house.rooms)}

    def name(n: int, known: str) -> str:
        return "W" * 300 if n == 3 else f"{HOSTILE} {known}"

    openings = tuple(
        replace(o, name=name(n, o.name), room=names[o.room], other=names.get(o.other, o.other))
        for n, o in enumerate(house.openings)
    )
    return replace(
        house,
        name=f"{HOSTILE} {house.name}",
        rooms=tuple(replace(room, name=names[room.name]) for room in house.rooms),
        openings=openings,
        entries=tuple(names[entry] for entry in house.entries),
        fixtures=tuple(replace(f, name=f"{HOSTILE} {f.name}", room=names[f.room]) for f in house.fixtures),
        flights=tuple(replace(f, name=f"{HOSTILE} {f.name}", room=names[f.room]) for f in house.flights),
        existing=tuple(replace(e, room=names[e.room]) for e in house.existing),
    )


def frame(size: str = "ANSI B") -> Frame:
    """A paper with its border."""
    return frame_of(SIZES[size])


def stamp(planned: Plan) -> Stamp:
    """The stamp of a plan's papers on a day."""
    return stamp_of(planned, DAY)


@cache
def set_of(planned: Plan, size: str = "ANSI B") -> bytes:
    """The set of drawings of a plan."""
    return drawing_set(planned, stamp(planned), SIZES[size])


@cache
def full_size_of(planned: Plan, size: str = "ANSI B") -> bytes:
    """The sheets at full size of a plan."""
    return full_size(planned, stamp(planned), SIZES[size])


@cache
def sheets(planned: Plan, size: str = "ANSI B") -> tuple[Sheet, ...]:
    """The sheets of a plan's set as they are laid out."""
    return sheets_of(planned, stamp(planned), frame(size))


def numbers(planned: Plan, kind: str, size: str = "ANSI B") -> list[int]:
    """The pages of a plan's set with sheets of a kind, from 1."""
    return [n for n, sheet in enumerate(sheets(planned, size), 1) if sheet.kind == kind]


def pages(data: bytes, which: list[int] | None = None) -> Iterator[Page]:
    """The pages of a PDF, one after another; those that are asked for, from 1."""
    with pdfplumber.open(io.BytesIO(data), pages=which) as pdf:
        for page in pdf.pages:
            yield page
            page.close()


@cache
def texts(data: bytes) -> tuple[str, ...]:
    """The words of each page of a PDF."""
    pdf = pypdfium2.PdfDocument(data)  # pdfplumber's own reader, many times as fast where no places are asked for
    return tuple(pdf[n].get_textpage().get_text_bounded() for n in range(len(pdf)))


def solid(text: str) -> str:
    """A text without its blanks, as lines break where they will."""
    return re.sub(r"\s+", "", text)
