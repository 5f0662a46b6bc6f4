"""A house's own styles: what differs from their base, told with every fault, kept whole or not at all."""

import os
import shutil
from dataclasses import replace

import msgspec
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from planner import Intent, demo_house, plan, read_intent, write_intent
from planner.files.problems import HouseFault
from planner.house.editing import save_cells
from planner.house.folder import new_house, read_house, write_house
from planner.house.styles import LARGEST_STYLE, house_library, write_style
from planner.library.derived import MEASURES, ORDER_MEASURES, measures
from planner.trim import packages
from planner.trim.measures import measures_under
from tests.house.cells import read_cells
from tests.house.conftest import state
from tests.known import LIBRARY, STYLES

BASE = {style.name: style for style in LIBRARY.styles}


def put(folder, name, text):
    """Write a style's file by hand."""
    (folder / "styles").mkdir(exist_ok=True)
    (folder / "styles" / f"{name}.toml").write_bytes(text if isinstance(text, bytes) else text.encode())


def told(folder):
    """Every fault of a folder's styles, as it is said."""
    return [str(problem) for problem in house_library(folder)[1]]


def rows_of(style, element, rung):
    """The rows of a style for an element on a rung."""
    return [row for row in style.rows if row.element == element and rung in row.rungs]


def test_without_styles_the_library_is_the_standard_one(folder):
    library, faults = house_library(folder)
    assert library is LIBRARY and faults == ()


def test_a_style_that_says_nothing_but_its_base_builds_what_the_base_builds(folder):
    for base in STYLES:
        put(folder, f"as {base}", f'based_on = "{base}"\n')
    library, faults = house_library(folder)
    assert faults == ()
    for base in STYLES:
        one, other = (packages.ladder(name, "doric", 108.0, library, top=5, tiers=7) for name in (base, f"as {base}"))
        assert [p.elements for p in one] == [p.elements for p in other]
        assert library.style(f"as {base}").based_on == base


def crowns(library, style):
    """What the crown of each rung carries."""
    rungs = packages.ladder(style, "doric", 120.0, library, top=5)
    return [crown.enrichments if (crown := rung.element("crown")) else None for rung in rungs]


def test_what_is_carved_is_the_bases_unless_the_file_says_otherwise(folder):
    put(folder, "as georgian", 'based_on = "georgian"\n')
    put(folder, "sober", 'based_on = "georgian"\nenrichment = [{name = "dentils", rungs = "none"}]\n')
    put(folder, "rich", 'based_on = "georgian"\n[[enrichment]]\nname = "dentils"\nrungs = ["Family", "State"]\n')
    library, faults = house_library(folder)
    assert faults == ()
    carved = ("dentils",)
    assert crowns(library, "as georgian") == crowns(library, "georgian") == [None, (), (), carved, carved]
    assert crowns(library, "sober") == [None, (), (), (), ()]
    assert crowns(library, "rich") == [None, (), carved, (), carved]
    ears = packages.ladder("sober", "doric", 120.0, library, top=5)[-1].element("crossette")
    assert ears.enrichments == ("rosettes",)


def test_faults_of_what_is_carved_are_told_with_the_nearest_names(folder):
    put(folder, "odd", 'based_on = "georgian"\n[[enrichment]]\nname = "dentil"\n[[enrichment]]\nname = "rosettes"\n')
    assert any("enrichment 1.name" in line and "dentils" in line for line in told(folder))
    put(folder, "odd", 'based_on = "georgian"\n[[enrichment]]\nname = "dentils"\nrungs = ["Stat"]\n')
    assert any("enrichment 1.rungs" in line and "State" in line for line in told(folder))
    put(folder, "odd", 'based_on = "georgian"\n[[enrichment]]\nname = "dentils"\nelements = ["base"]\n')
    assert any("no base carries dentils" in line and "crown" in line for line in told(folder))
    put(folder, "odd", 'based_on = "georgian"\n[[enrichment]]\nelements = ["crown"]\n')
    assert any("enrichment 1.name" in line and "is missing" in line for line in told(folder))


def test_a_row_stands_in_the_place_of_the_bases_for_its_element_on_its_rungs_alone(folder):
    put(
        folder,
        "north",
        """
        based_on = "georgian"
        ratio = 0.9
        row = [
            {element = "base", form = "board and cap", rungs = ["Service", "State"], of = "inch", factor = 7},
            {element = "crossette", form = "none", rungs = ["State"]},
            {element = "overdoor", form = "none"},
        ]
        [plinth]
        proud = 0.5
        [[least_ceiling]]
        rung = "State"
        ceiling = "9'-6\\""
        """,
    )
    library, faults = house_library(folder)
    assert faults == ()
    own, base = library.style("north"), BASE["georgian"]
    for rung in ("Service", "State"):
        assert [(row.form, row.of, row.factor) for row in rows_of(own, "base", rung)] == [("board and cap", "inch", 7)]
    for rung in ("Chamber", "Family", "Principal"):
        strip = [replace_rungs(row) for row in rows_of(own, "base", rung)]
        assert strip == [replace_rungs(row) for row in rows_of(base, "base", rung)]
    assert rows_of(own, "crossette", "State") == [] and rows_of(own, "crossette", "Principal") != []
    assert not any(row.element == "overdoor" for row in own.rows)
    assert (own.ratio, own.plinth.proud, own.plinth.most) == (0.9, 0.5, base.plinth.most)
    assert {need.rung: need.ceiling for need in own.least_ceilings} == {"Principal": 96.0, "State": 114.0}
    assert own.display == "north" and own.order == base.order


def replace_rungs(row):
    """A row without the rungs that it holds on."""
    return (row.element, row.form, row.of, row.factor, row.least, row.plain, row.finer, row.source)


def test_a_row_that_does_not_say_its_size_has_it_from_the_base(folder):
    put(
        folder,
        "north",
        """
        based_on = "georgian"
        row = [
            {element = "chair rail", form = "moulded rail", rungs = ["Chamber"]},
            {element = "crown", form = "four-part cornice", rungs = ["Chamber", "Family"], factor = 0.5},
        ]
        """,
    )
    own = house_library(folder)[0].style("north")
    (rail,) = rows_of(own, "chair rail", "Chamber")
    (family,) = rows_of(BASE["georgian"], "chair rail", "Family")
    assert (rail.of, rail.factor, rail.source) == (family.of, family.factor, family.source)
    model = next(row for row in BASE["georgian"].rows if row.form == "four-part cornice")
    for rung in ("Chamber", "Family"):
        (crown,) = rows_of(own, "crown", rung)
        assert (crown.of, crown.factor, crown.least_ceiling) == (model.of, 0.5, model.least_ceiling)


def test_styles_may_be_based_on_each_other_in_any_order_of_their_names(folder):
    put(folder, "a", 'based_on = "b"\nratio = 0.7')
    put(folder, "b", 'based_on = "c"\nrow = [{element = "shoe", form = "none"}]')
    put(folder, "c", 'based_on = "federal"\ncurves = "greek"\nratio = 0.8')
    library, faults = house_library(folder)
    assert faults == ()
    a = library.style("a")
    assert (a.ratio, a.curves, a.order) == (0.7, "greek", "corinthian")
    assert not any(row.element == "shoe" for row in a.rows)


FAULTS = [
    ('based_on = "georgain"', 'styles/mine.toml, based_on: "georgain" is not known; write "georgian"'),
    (
        "ratio = 0.9",
        'styles/mine.toml, based_on: is missing; write the style that this one differs from, e.g. "georgian"',
    ),
    ('based_on = "mine"', 'styles/mine.toml, based_on: "mine" is not known; '),
    ("based_on = 3", "styles/mine.toml, based_on: 3 is not text; put it in quotes"),
    ('ratio = "big"', 'styles/mine.toml, ratio: "big" is not a number; write a number, from 0.1 to 1'),
    ("ratio = nan", "styles/mine.toml, ratio: nan is out of range; write a number, from 0.1 to 1"),
    ("ratio = 2", "styles/mine.toml, ratio: 2 is out of range; write a number, from 0.1 to 1"),
    ('order = "dorik"', 'styles/mine.toml, order: "dorik" is not known; write'),
    ("raito = 0.9", 'styles/mine.toml, raito: "raito" is not known here; write "ratio", or drop it'),
    ("row = 3", "styles/mine.toml, row: 3 is not a list of tables; begin each with a line [[row]]"),
    ("row = [{}]", 'styles/mine.toml, row 1.element: is missing; write e.g. element = "base"'),
    ('row = [{element = "bass", form = "none"}]', 'row 1.element: "bass" is not known; write "base"'),
    ('row = [{element = "base", form = "bord"}]', 'row 1.form: "bord" is not known; write "board"'),
    (
        'row = [{element = "shoe", form = "none"}, {element = "base", form = "board", rungs = ["Stat"]}]',
        'row 2.rungs: "Stat" is no rung; write "State"',
    ),
    ('row = [{element = "base", form = "board", off = "inch"}]', 'row 1.off: "off" is not known here; write "of"'),
    ('row = [{element = "base", form = "board", of = "inches"}]', 'row 1.of: "inches" is not known; write "inch"'),
    ('row = [{element = "base", form = "board", of = "inch", factor = -1}]', "row 1.factor: -1 is out of range"),
    ('row = [{element = "base", form = "board", least = "tall"}]', 'row 1.least: "tall" is not a length'),
    ('row = [{element = "base", form = "board", plain = "yes"}]', 'row 1.plain: "yes" is neither true nor false'),
    ('row = [{element = "base", form = "board", of = "place"}]', "row 1.of: no place on the wall is as high as a base"),
    ('row = [{element = "base", form = "board", of = "base"}]', "row 1.of: a base cannot be sized by itself"),
    (
        'row = [{element = "crown", form = "plain crown", of = "apron"}]',
        'row 1.of: "apron" is sized by another element itself',
    ),
    (
        'row = [{element = "plate rail", form = "shelf on a board"}]',
        'row 1.of: is missing, and "georgian" has no plate rail to take it from',
    ),
    ("from_order = false", "from_order: "),
    (
        'based_on = "craftsman"\nrow = [{element = "crown", form = "cornice, frieze and taenia", of = "inch"}]',
        'row 1.form: "cornice, frieze and taenia" is made like an order, and this style derives from none',
    ),
    ("[plinth]\nleast = 2.0", "plinth.most: 1 is below the least, 2; write as much or more"),
    ('[casing]\njoint = "glued"', 'casing.joint: "glued" is not known; write one of'),
    ('[[least_ceiling]]\nrung = "State"', "least_ceiling 1.ceiling: is missing; write e.g. ceiling = 108"),
    ("ratio = ", "styles/mine.toml row 2: is not TOML"),
    (b"\xff\xfer\0", "styles/mine.toml: is UTF-16 text; save it as UTF-8"),
    (b"ratio = '\xe9'", "styles/mine.toml row 1: byte 0xE9 is not UTF-8; save the file in the encoding UTF-8"),
    (b"#" * (LARGEST_STYLE + 1), "styles/mine.toml: is larger than 1 MB; keep it under 1 MB"),
]


@pytest.mark.parametrize(("text", "says"), FAULTS, ids=range(len(FAULTS)))
def test_every_fault_is_told_by_file_table_and_row(folder, text, says):
    if isinstance(text, str) and "based_on" not in text and text != "ratio = 0.9":
        text = f'based_on = "georgian"\n{text}'
    put(folder, "mine", text)
    put(folder, "sound", 'based_on = "federal"')
    library, faults = house_library(folder)
    assert any(says in str(fault) for fault in faults), list(map(str, faults))
    assert {fault.file for fault in faults} == {"styles/mine.toml"}
    assert "mine" not in library.style_names and "sound" in library.style_names


def test_faults_of_several_rows_and_files_are_told_in_one_pass(folder):
    put(
        folder,
        "a",
        'based_on = "georgian"\nratio = 9\nrow = [{element = "bass", form = "x"}, {element = "base", form = "x"}]',
    )
    put(folder, "b", "based_on = 1")
    assert len(told(folder)) == 4


def test_a_circle_is_told_of_each_style_in_it(folder):
    put(folder, "a", 'based_on = "b"')
    put(folder, "b", 'based_on = "c"')
    put(folder, "c", 'based_on = "b"')
    assert told(folder) == [
        'styles/b.toml, based_on: is based on itself: "b" on "c" on "b"; base one of them on another style',
        'styles/c.toml, based_on: is based on itself: "c" on "b" on "c"; base one of them on another style',
        'styles/a.toml, based_on: "b" cannot be used as it is; mend styles/b.toml first',
    ]


@pytest.mark.parametrize("name", ["georgian", "Craftsman"])
def test_no_style_takes_the_name_of_one_that_comes_along(folder, name):
    put(folder, name, 'based_on = "federal"')
    assert house_library(folder)[0] is LIBRARY
    assert told(folder) == [
        f'styles/{name}.toml: "{name}" is the name of a style that comes along; give the file another name'
    ]


def test_what_is_no_file_or_no_folder_is_told(folder):
    (folder / "styles" / "mine.toml").mkdir(parents=True)
    (folder / "styles" / "gone.toml").symlink_to("nowhere")
    (folder / "styles" / "pipe.toml").symlink_to("/dev/null")
    assert [text.partition(";")[0] for text in told(folder)] == [
        "styles/gone.toml: is missing",
        "styles/mine.toml: is a directory",
        "styles/pipe.toml: is not a plain file",
    ]
    shutil.rmtree(folder / "styles")
    (folder / "styles").write_text("here")
    assert [text.partition(";")[0] for text in told(folder)] == ["styles: cannot be read (Not a directory)"]


def test_a_file_name_that_is_no_text_is_told(folder):
    (folder / "styles").mkdir()
    try:
        (folder / "styles" / os.fsdecode(b"m\xffne.toml")).touch()
    except OSError:
        pytest.skip("this file system takes UTF-8 names alone")
    assert [text.partition(";")[0] for text in told(folder)] == ['styles: "m ne" cannot be the name of a style']


def test_plinth_blocks_need_a_table_where_the_base_has_none(folder):
    row = 'row = [{element = "plinth block", form = "plain block", rungs = ["State"], of = "base"}]'
    bare = msgspec.structs.replace(BASE["craftsman"], name="bare", plinth=None, rows=())
    library = replace(LIBRARY, styles=(*LIBRARY.styles, bare))
    put(folder, "a", f'based_on = "bare"\n{row}')
    put(folder, "b", f'based_on = "bare"\n{row}\n[plinth]\nleast = 1.0\nmost = 1.5')
    put(folder, "c", f'based_on = "bare"\n{row}\n[plinth]\nleast = 1.0\nmost = 1.5\nproud = 0.25')
    found, faults = house_library(folder, library)
    assert [(p.file, p.column) for p in faults] == [("styles/a.toml", "plinth"), ("styles/b.toml", "plinth.proud")]
    assert (found.style("c").plinth.most, found.style("c").plinth.decorated) == (1.5, False)


# Used wherever a house is


@pytest.fixture
def house(tmp_path):
    """The demo house with a style of its own, which house.toml names."""
    made = shutil.copytree(demo_house(), tmp_path / "demo")
    write_style(made, "own", "georgian", [{"element": "chair rail", "form": "none"}], {"ratio": 0.95})
    text = (made / "house.toml").read_text("utf-8")
    assert 'style = "georgian"' in text
    (made / "house.toml").write_text(text.replace('style = "georgian"', 'style = "own"'), "utf-8")
    return made


def test_a_house_and_an_alternative_name_it_as_any_style(house):
    read, _ = read_house(house)
    library, _ = house_library(house)
    planned = plan(read, library=library)
    assert planned.style == "own" and {p.style for p in planned.packages} == {"own"}
    assert not any(p.element("chair rail") for p in planned.packages)
    standard = plan(replace(read, style="georgian"), library=library)
    assert any(p.element("chair rail") for p in standard.packages)
    write_intent(Intent(style="own"), house, "mine")
    assert read_intent(house, "mine").style == "own"
    assert write_house(replace(read, name="Renamed"), house) is not None and read_house(house)[0].style == "own"
    save_cells(house, {"rooms.csv": read_cells(house, "rooms.csv")})


def test_another_house_has_it_by_a_copy_of_the_file(house, folder):
    (folder / "styles").mkdir()
    shutil.copy(house / "styles" / "own.toml", folder / "styles")
    mine, other = house_library(house)[0].style("own"), house_library(folder)[0].style("own")
    assert mine == other
    new_house(folder.parent / "copy", house)
    assert read_house(folder.parent / "copy")[0].style == "own"


def test_a_broken_style_keeps_only_those_from_their_plan_that_use_it(house, folder):
    put(house, "own", 'based_on = "georgian"\nratio = 9')
    with pytest.raises(HouseFault) as fault:
        read_house(house)
    assert {(p.file, p.column) for p in fault.value.errors} == {("house.toml", "style"), ("styles/own.toml", "ratio")}
    put(folder, "own", 'based_on = "georgian"\nratio = 9')
    _, warnings = read_house(folder)
    assert [(p.file, p.column, p.severity) for p in warnings] == [("styles/own.toml", "ratio", "warning")]
    with pytest.raises(HouseFault) as fault:
        write_intent(Intent(style="own"), folder, "mine")
    assert [p.file for p in fault.value.errors] == ["alternatives/mine.toml", "styles/own.toml"]


# Kept


def test_a_style_that_is_written_reads_back(folder):
    rows = [{"element": "chair rail", "form": "moulded rail", "rungs": ("Chamber",), "of": "inch", "factor": 2.5}]
    given = {"ratio": 0.9, "display": 'The "north" wing', "plinth": {"proud": 0.25}}
    path = write_style(folder, "north wing", "georgian", rows, given)
    assert path == folder / "styles" / "north wing.toml"
    own = house_library(folder)[0].style("north wing")
    assert (own.ratio, own.display, own.plinth.proud) == (0.9, 'The "north" wing', 0.25)
    assert [row.factor for row in rows_of(own, "chair rail", "Chamber")] == [2.5]


@pytest.mark.parametrize(
    ("name", "base", "rows", "says"),
    [
        ("georgian", "federal", [], "comes along"),
        ("a/b", "federal", [], "cannot be the name of a style"),
        ("", "federal", [], "cannot be the name of a style"),
        ("mine", "gothic", [], '"gothic" is not known'),
        ("mine", "mine", [], "is not known"),
        ("mine", "federal", [{"element": "base", "form": "plank"}], 'row 1.form: "plank" is not known'),
        (
            "mine",
            "federal",
            [{"element": "base", "form": "board", "of": "inch", "factor": float("inf")}],
            "row 1.factor",
        ),
        ("there", "federal", [], "is there already; choose a name that is free"),
    ],
)
def test_what_is_faulty_is_refused_and_nothing_is_written(folder, name, base, rows, says):
    put(folder, "there", 'based_on = "georgian" # mine')
    before = state(folder)
    with pytest.raises(HouseFault, match=says):
        write_style(folder, name, base, rows)
    assert state(folder) == before


def test_where_the_folder_cannot_be_written_it_is_told(folder):
    (folder / "styles").write_text("a file")
    with pytest.raises(HouseFault, match="styles"):
        write_style(folder, "mine", "federal")


# Against the rest of the code


def test_the_measures_are_those_that_packages_know():
    known = measures_under("georgian", "doric", 108.0, LIBRARY, None)
    assert set(measures(True)) == set(known) - {"overhang"}
    assert set(measures(False)) == set(MEASURES) < set(measures(True))
    assert not set(MEASURES) & set(ORDER_MEASURES)


def test_every_standard_style_would_be_taken_as_a_houses_own(folder):
    """No rule of the reader refuses what the library itself does."""
    for base, style in BASE.items():
        rows = [
            {
                key: list(value) if isinstance(value, tuple) else value
                for key in ("element", "form", "rungs", "of", "factor", "plain", "finer", "coarser", "source")
                if key != "factor" or row.of != "place"
                for value in [getattr(row, key)]
            }
            for row in style.rows
        ]
        write_style(folder, f"all of {base}", base, rows)
    assert told(folder) == []


WORDS = (
    *("georgian", "craftsman", "base", "crown", "casing", "plinth block", "chair rail", "board", "none", "inch", "é"),
    *("place", "ceiling", "pedestal", "State", "Chamber", "plain casing", "four-part cornice", "full entablature", ""),
    "\x07",
)
words = st.sampled_from(WORDS)
values = st.recursive(
    st.one_of(words, st.booleans(), st.integers(-5, 500), st.floats(), st.integers(10**30, 10**31)),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(words, inner, max_size=3),
    max_leaves=6,
)
row_keys = st.sampled_from(
    ["element", "form", "rungs", "of", "factor", "least", "least_ceiling", "plain", "finer", "source", "what"]
)
rows = st.lists(st.dictionaries(row_keys, values, max_size=6), max_size=4)
setting_keys = st.sampled_from(
    [
        "display",
        "from_order",
        "order",
        "ratio",
        "entablature",
        "curves",
        "source",
        "casing",
        "plinth",
        "least_ceiling",
        "x",
    ]
)


@settings(max_examples=150, suppress_health_check=list(HealthCheck))
@given(st.dictionaries(setting_keys, values, max_size=3), rows, words)
def test_whatever_a_style_says_ends_in_a_style_or_in_faults(tmp_path_factory, given, rows, base):
    folder = tmp_path_factory.mktemp("styles")
    try:
        write_style(folder, "mine", base, rows, given)
    except HouseFault as fault:
        assert fault.errors and not (folder / "styles").exists()
    else:
        assert house_library(folder)[0].style("mine").based_on == base


@settings(max_examples=200, suppress_health_check=list(HealthCheck))
@given(st.binary(max_size=200))
@example(b"[" * 3000)
@example(b"ratio = " + b"9" * 5000)
@example(b"row.row.row = 1")
def test_whatever_bytes_a_style_holds_are_read_or_told(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("styles")
    put(folder, "mine", data)
    library, faults = house_library(folder)
    assert faults and library is LIBRARY


sound = st.builds(
    lambda form, rungs, of, factor, flags: {
        "element": form.element,
        "form": form.name,
        "rungs": rungs,
        "of": of,
        "factor": factor,
        **flags,
    },
    st.sampled_from(LIBRARY.forms),
    st.lists(st.sampled_from(LIBRARY.ladder.rungs), min_size=1, unique=True),
    st.sampled_from([*MEASURES, *ORDER_MEASURES, *LIBRARY.element_kinds]),
    st.floats(0.001, 480.0),
    st.dictionaries(st.sampled_from(["plain", "finer"]), st.booleans()),
) | st.builds(lambda kind: {"element": kind, "form": "none"}, st.sampled_from(list(LIBRARY.element_kinds)))


@settings(max_examples=25, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(STYLES), st.lists(sound, min_size=1, max_size=4), st.floats(0.1, 1.0))
def test_every_style_that_is_taken_can_be_planned_with(tmp_path_factory, base, rows, ratio):
    """Plan, sections and walls of the demo house stand under any style that was not refused."""
    folder = tmp_path_factory.mktemp("styles")
    try:
        write_style(folder, "mine", base, rows, {"ratio": ratio})
    except HouseFault:
        return
    planned = plan(read_house(demo_house())[0], Intent(style="mine"), library=house_library(folder)[0])
    assert planned.packages or planned.conflicts
    for package in planned.packages:
        assert planned.sections[package] is not None
    for room in planned.by_name:
        assert planned.walls[room] and planned.pieces[room] is not None
    assert planned.checks is not None and planned.meetings is not None
