"""Spreadsheets of rooms and openings: what is understood of them, and what hostile ones are told."""

import io
import re
import zipfile
from time import perf_counter, process_time

import openpyxl
import pytest

from planner import HouseFault
from planner.files.csv_tables import LARGEST_TABLE, MOST_ROWS
from planner.house.importing import grids, text_grid, understood


def workbook(**sheets):
    book = openpyxl.Workbook()
    book.remove(book.active)
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def told(data, name="plan.xlsx"):
    with pytest.raises(HouseFault) as fault:
        grids(data, name)
    return str(fault.value)


ROOMS = [["Name", "Floor", "Type", "Length", "Depth", "Colour"], ["Hall", "Ground", "entry hall", 16.0, "12'", "red"]]
OPENINGS = [["Mark", "kind", "From", "To", "Side"], ["D1", "door", "Hall", "outside", "S"]]


def test_a_workbook_s_sheets_are_read_each_as_the_table_that_it_is():
    read = {name: understood(grid) for name, grid in grids(workbook(Plan=ROOMS, Doors=OPENINGS), "p.xlsx").items()}
    rooms, doors = read["Plan"], read["Doors"]
    assert (rooms.file, doors.file) == ("rooms.csv", "openings.csv")
    assert dict(rooms.columns) == {
        "Name": "room",
        "Floor": "level",
        "Type": "use",
        "Length": "length",
        "Depth": "width",
        "Colour": "",
    }
    assert [rooms.rows[0][c] for c in ("room", "use", "length", "width")] == ["Hall", "entry hall", "16", "12'"]
    assert [doors.rows[0][c] for c in ("opening", "room", "other", "wall")] == ["D1", "Hall", "outside", "S"]


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
def test_a_text_is_parted_by_what_parts_it(mark):
    text = f"room{mark}use\n\nHall{mark}hall\n"
    assert grids(text.encode(), "a.csv") == {"a.csv": (("room", "use"), ("Hall", "hall"))}


def test_a_heading_that_is_misspelled_is_read_as_the_likely_one():
    assert dict(understood(text_grid("room,level,ceilling\nHall,Ground,9'")).columns)["ceilling"] == "ceiling"


def test_without_a_header_columns_are_in_their_order():
    read = understood(text_grid("Hall\tGround\tentry hall\t16'\t12'\n"), "rooms.csv")
    assert not read.is_sure and read.numbers == (1,)
    assert [read.rows[0][c] for c in ("room", "level", "use", "length")] == ["Hall", "Ground", "entry hall", "16'"]


def test_what_is_read_as_another_table_has_its_columns():
    assert understood(text_grid("name,width\nHall,12'"), "openings.csv").rows[0]["opening"] == "Hall"


METRIC = "room;level;use;length\nBüro;Ground;study;4,25\n"


def first_of(data, name="plan.csv"):
    """The first row of a file's first sheet, as it is understood."""
    ((title, grid),) = grids(data, name).items()
    return title, understood(grid).rows[0]


@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_text_is_read_in_whatever_letters_spreadsheets_save_it(code):
    title, row = first_of(METRIC.encode(code))
    assert (row["room"], row["length"]) == ("Büro", "4.25")
    assert ("Windows-1252" in title) == (code == "cp1252")


@pytest.mark.parametrize(
    ("mark", "cell", "read"),
    [(";", "3,658", "3.658"), (";", "3.658,5 mm", "3658.5 mm"), ("\t", "4,25", "4.25"), ("\t", "3,658", "3,658")],
)
def test_a_decimal_comma_is_read_unless_it_may_part_thousands(mark, cell, read):
    assert understood(text_grid(f"room{mark}length\nHall{mark}{cell}")).rows[0]["length"] == read


def test_bare_lengths_are_in_the_unit_that_their_heading_says():
    """And not in the house's: a width of 150 in would be one of 150 ft in a house in feet, and no fault."""
    read = understood(text_grid("room\tLength (ft)\tWidth [in]\tceiling_mm\tuse in\nHall\t12.5\t150\t9'\t12\n"))
    (row,) = read.rows
    assert [row[column] for column in ("length", "width", "ceiling", "use")] == ["12.5 ft", "150 in", "9'", "12"]


def test_a_header_is_found_below_a_title_and_every_row_keeps_its_number():
    read = understood(text_grid("Rooms of Larkmead\n\nroom,level,use\n\nHall,Ground,hall\n\nBath,Upper,bath\n"))
    assert (read.above, read.numbers, [row["room"] for row in read.rows]) == (1, (5, 7), ["Hall", "Bath"])
    assert dict(read.columns) == {"room": "room", "level": "level", "use": "use"}


def test_rows_that_only_look_like_headings_are_rows():
    read = understood(text_grid("A1,Ground,bath,6',8'\nRooms,Levels,Uses,7',8'\n"), "rooms.csv")
    assert not read.is_sure and len(read.rows) == 2


def saved(change):
    """A workbook of one sheet that is written cell by cell, as bytes."""
    book, out = openpyxl.Workbook(), io.BytesIO()
    change(book.active)
    book.save(out)
    return out.getvalue()


def test_a_formula_that_nothing_has_worked_out_stands_as_it_is():
    """A ceiling left out in silence would be that of its level."""
    rows = [["room", "use", "length", "ceiling"], ["Bath", "bath", "=2*1200", "=C2"]]
    read = understood(grids(workbook(Rooms=rows), "plan.xlsx")["Rooms"]).rows[0]
    assert (read["room"], read["length"], read["ceiling"]) == ("Bath", "=2*1200", "=C2")


def test_what_is_merged_downwards_holds_for_all_its_rows():
    """A level merged over its rooms left all but the first on the lowest."""

    def change(sheet):
        for row in (["room", "level"], ["Hall", "Ground"], ["Study", "Upper"], ["Bath", None], [], ["Linen", None]):
            sheet.append(row)
        sheet.merge_cells("B3:B7")
        sheet.merge_cells("A9:B9")

    (grid,) = grids(saved(change), "plan.xlsx").values()
    assert grid == (("room", "level"), ("Hall", "Ground"), ("Study", "Upper"), ("Bath", "Upper"), ("Linen", "Upper"))
    assert grid.numbers == (1, 2, 3, 4, 6)


def test_what_is_too_large_is_told():
    assert "more than 10 MB" in told(b"a" * (LARGEST_TABLE + 1), "a.csv")
    assert f"more than {MOST_ROWS:,} rows" in told(b"room,use\n" + b"a,b\n" * (MOST_ROWS + 1), "a.csv")
    assert "more than 100 columns" in told((",".join("abc" for _ in range(101)) + "\n").encode(), "a.csv")


def test_a_workbook_that_unpacks_to_too_much_is_told():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", b"0" * 101_000_000)
    assert "MB once it is unpacked" in told(out.getvalue())


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"PK\x03\x04nonsense", "no workbook that can be read"),
        (b"\xd0\xcf\x11\xe0rest", "old kind"),
        (b"\xff\xfeR\x00o", "UTF-16"),
        (b"room,use\n\x81", "not UTF-8"),
        (b"", "holds no cells"),
        (b"\n\n,,\n", "holds no cells"),
    ],
)
def test_what_cannot_be_read_is_told(data, words):
    assert words in told(data)


def test_a_broken_workbook_is_told_wherever_it_breaks():
    whole = workbook(Plan=ROOMS)
    for at in range(0, len(whole), max(1, len(whole) // 60)):
        for broken in (whole[:at], whole[:at] + b"\xff" + whole[at + 1 :]):
            try:
                grids(broken, "plan.xlsx")
            except HouseFault as fault:
                assert str(fault)


def test_entities_of_a_workbook_are_not_spread():
    lol = '<!DOCTYPE a [<!ENTITY b "lol">' + "".join(
        f'<!ENTITY b{i} "{("&b" + (str(i - 1) if i > 1 else "") + ";") * 10}">' for i in range(1, 9)
    )
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook(Plan=ROOMS))) as whole, zipfile.ZipFile(out, "w") as made:
        for part in whole.namelist():
            body = whole.read(part).decode()
            if part.endswith("sheet1.xml"):
                body = lol + "]>" + body.replace("<v>16</v>", "<v>&b8;</v>")
            made.writestr(part, body)
    assert "no workbook" in told(out.getvalue())


def altered(change, place="xl/worksheets/sheet1.xml"):
    """A workbook with rooms, one part of which was changed."""
    out = io.BytesIO()
    source = io.BytesIO(workbook(Plan=ROOMS))
    with zipfile.ZipFile(source) as whole, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for part in whole.namelist():
            body = whole.read(part).decode()
            made.writestr(part, change(body) if part == place else body)
    return out.getvalue()


BOMBS = {
    "cells": ("xl/worksheets/sheet1.xml", "<sheetData", "<row>" + "<c/>" * 3_000_000 + "</row>"),
    "rows": ("xl/worksheets/sheet1.xml", "<sheetData", "<row/>" * 3_000_000),
    "formats": ("xl/styles.xml", "<cellXfs", "<xf/>" * 300_000),
}


@pytest.mark.parametrize("name", BOMBS)
def test_a_small_workbook_of_millions_of_cells_or_formats_is_told_at_once(name):
    place, after, many = BOMBS[name]
    data = altered(lambda body: re.sub(f"{after}[^>]*>", f"{after}>{many}", body), place)
    begun = perf_counter()
    assert len(data) < 100_000
    assert "more cells, or more formats of cells, than is read" in told(data)
    assert perf_counter() - begun < 3


def renamed(body, was, now):
    """A workbook's parts with one of them moved to another place, and called so wherever it is named."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(body)) as whole, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for part in whole.namelist():
            named = whole.read(part).replace(f"/{was}".encode(), f"/{now}".encode())
            made.writestr(now if part == was else part, named.replace(f'"{was}"'.encode(), f'"/{now}"'.encode()))
    return out.getvalue()


def of_one_sheet_twenty_times():
    rooms = altered(lambda body: body.replace("<sheetData>", "<sheetData>" + "<row><c/></row>" * 400_000))
    again = "".join(f'<sheet name="Plan {at}" sheetId="{at}" state="visible" r:id="rId1"/>' for at in range(2, 21))
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(rooms)) as whole, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for part in whole.namelist():
            made.writestr(part, whole.read(part).decode().replace("</sheets>", f"{again}</sheets>"))
    return out.getvalue()


def of_a_workbook_among_the_sheets():
    views = "<bookViews>" + "<workbookView/>" * 600_000
    many = altered(lambda body: body.replace("<bookViews>", views), "xl/workbook.xml")
    return renamed(many, "xl/workbook.xml", "xl/worksheets/workbook.xml")


def before_the_cells(more, now="<sheetData>"):
    return altered(lambda body: body.replace("<sheetData>", more + now))


SLOW = {
    "a sheet named twenty times": of_one_sheet_twenty_times,
    "a part made whole, in the place of a sheet": of_a_workbook_among_the_sheets,
    "a tag of many attributes": lambda: before_the_cells(
        "", '<sheetData a="' + '" a="'.join(map(str, range(900_000))) + '">'
    ),
    "a long comment": lambda: before_the_cells(f"<!--{'<>' * 900_000}-->"),
    "a long text": lambda: before_the_cells(" " * 20_000_000),
    "letters of another kind": lambda: altered(lambda body: f'<?xml version="1.0" encoding="cp037"?>{body}'),
}


@pytest.mark.parametrize("name", SLOW)
def test_a_workbook_that_would_take_long_to_parse_is_told_at_once(name):
    data = SLOW[name]()
    begun = process_time()
    assert "more cells, or more formats of cells, than is read" in told(data)
    assert process_time() - begun < 4


def test_what_stands_below_many_blank_rows_is_read():
    assert len(grids(b"room,use\n" + b"\n" * 150_000 + b"Hall,entry\n", "a.csv")["a.csv"]) == 2
    book, data = openpyxl.Workbook(), io.BytesIO()
    book.active.cell(1, 1, "room")
    book.active.cell(150_000, 1, "Hall")
    book.save(data)
    assert grids(data.getvalue(), "plan.xlsx")["Sheet"] == (("room",), ("Hall",))


def test_a_row_that_no_sheet_has_is_told_and_not_waited_for():
    assert "more than 1,048,576 rows" in told(b"room,use\n" + b"\n" * 1_100_000, "a.csv")
    data = altered(lambda body: body.replace('<row r="2"', '<row r="99999999999"'))
    assert "more than 1,048,576 rows" in told(data)


@pytest.mark.parametrize("size", ["A1", "A1:A1", "A1:XFD1048576", ""])
def test_a_sheet_that_says_falsely_how_large_it_is_is_read_to_its_end(size):
    data = altered(lambda body: re.sub(r"<dimension[^>]*>", f'<dimension ref="{size}"/>' if size else "", body))
    assert grids(data, "plan.xlsx")["Plan"][1][:3] == ("Hall", "Ground", "entry hall")
