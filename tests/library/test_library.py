"""The library: one typed value, read once, that a house's own tables can be added to."""

import pickle
import shutil
import tomllib
from dataclasses import replace
from importlib import resources
from pathlib import Path

import msgspec
import pytest

from planner import House, Intent, Opening, Room, plan, standard
from planner.library.model import known_name
from planner.library.reading import read_library, with_styles
from planner.library.rows import Use
from tests.known import LIBRARY

TABLES = Path(str(resources.files("planner.library")))


@pytest.fixture
def tables(tmp_path):
    """A copy of the standard tables that a test may write to."""
    shutil.copytree(TABLES, tmp_path / "library", ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    return tmp_path / "library"


def added(file: Path, text: str) -> None:
    """Add text to a table."""
    file.write_text(file.read_text("utf-8") + "\n" + text, "utf-8")


def changed(file: Path, old: str, new: str) -> None:
    """Change a table in one place."""
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")


def test_it_is_read_once_and_equal_however_it_came():
    assert standard() is standard()
    again, sent = read_library(TABLES), pickle.loads(pickle.dumps(standard()))
    assert again is not standard()
    assert again == sent == standard() and hash(again) == hash(sent) == hash(standard())


def test_every_use_has_a_usual_size_and_one_that_is_unknown_that_of_any_other():
    assert {row.use for row in LIBRARY.room_sizes} == {use.name for use in LIBRARY.uses}
    for row in LIBRARY.room_sizes:
        assert 480 >= row.length >= row.width >= 24 and row.length % 12 == row.width % 12 == 0 and row.source
    assert LIBRARY.room_size("tiltyard") == LIBRARY.room_size("other")
    assert LIBRARY.room_size("closet").length * 3 <= LIBRARY.room_size("drawing room").length


def test_nothing_in_it_can_be_written_to():
    with pytest.raises(AttributeError):
        LIBRARY.uses = ()
    with pytest.raises(AttributeError):
        LIBRARY.uses[0].public = 0.0
    with pytest.raises(TypeError):
        LIBRARY.check("rail and crown").limits["least"] = 0.0
    with pytest.raises(TypeError):
        LIBRARY.order("doric").parts["frieze"] = None


@pytest.mark.parametrize(
    ("look_up", "near"),
    [
        (lambda: LIBRARY.style("Georgain"), "georgian"),
        (lambda: LIBRARY.order("dorik"), "doric"),
        (lambda: LIBRARY.grade("housse"), "house"),
        (lambda: LIBRARY.element("chair rale"), "chair rail"),
        (lambda: LIBRARY.form("base", "bord"), "board"),
        (lambda: LIBRARY.moulding("ovollo"), "ovolo"),
        (lambda: LIBRARY.passage("dor"), "door"),
        (lambda: LIBRARY.meeting("dor"), "door"),
        (lambda: LIBRARY.check("rail and crwn"), "rail and crown"),
    ],
)
def test_a_name_that_is_not_known_is_told_with_the_nearest(look_up, near):
    with pytest.raises(ValueError, match=near):
        look_up()


def test_uses_and_mouldings_answer_to_other_names():
    assert LIBRARY.use_read("  Front   HALL ").name == "entry hall"
    assert LIBRARY.use_read("hovercraft bay") is None
    assert LIBRARY.use("hovercraft bay").name == "other"
    assert LIBRARY.moulding(" Listel ").kind == "fillet"


def test_an_order_that_is_like_another_has_its_members_stretched():
    raw = tomllib.loads((TABLES / "order_members.toml").read_text("utf-8"))
    like = [
        (order, part) for order, parts in raw.items() if order != "ground" for part in parts if "like" in parts[part]
    ]
    assert like
    for order, part in like:
        given, model = LIBRARY.order(order).parts[part], LIBRARY.order(raw[order][part]["like"]).parts[part]
        assert sum(m.height for m in given.members) == given.height
        assert [m.kind for m in given.members] == [m.kind for m in model.members]
        assert (
            len(
                {m.projection / n.projection for m, n in zip(given.members, model.members, strict=True) if n.projection}
            )
            == 1
        )


@pytest.mark.parametrize(
    ("file", "old", "new", "says"),
    [
        ("uses.toml", "public = 1.0", 'public = "very"', r"uses\.toml: Expected `float`, got `str`"),
        ("uses.toml", "public = 1.0", "publik = 1.0", r"uses\.toml: Object"),
        ("passages.toml", "limit = 0", "limit = 0.5", r"passages\.toml: Expected `int`, got `float`"),
        ("mouldings.toml", 'action = "binds"', 'action = "floats"', r"mouldings\.toml: Invalid enum value 'floats'"),
        (
            "styles/georgian.toml",
            'element = "base"',
            'element = "bass"',
            r"styles/georgian\.toml: unknown element 'bass'",
        ),
        (
            "styles/georgian.toml",
            'form = "board"',
            'form = "plank"',
            r"styles/georgian\.toml: unknown form of base 'plank'",
        ),
        (
            "styles/georgian.toml",
            'rungs = ["Service"]',
            'rungs = ["Servis"]',
            "unknown rung 'Servis'; did you mean 'Service'",
        ),
        ("styles/georgian.toml", 'order = "doric"', 'order = "dorik"', "unknown order 'dorik'"),
        ("styles/georgian.toml", "[plinth]", "[joinery]", r"styles/georgian\.toml: Object contains unknown field"),
    ],
)
def test_a_faulty_table_is_told_by_name_and_place(tables, file, old, new, says):
    changed(tables / file, old, new)
    with pytest.raises(ValueError, match=says):
        read_library(tables)


def test_a_style_with_plinth_blocks_says_how_they_stand():
    georgian = tomllib.loads((TABLES / "styles/georgian.toml").read_text("utf-8"))
    del georgian["plinth"]
    with pytest.raises(ValueError, match=r"needs a table \[plinth\]"):
        with_styles(LIBRARY, {"plain georgian": georgian})


# How to add, as DEVELOPERS.md says it


HALL = Room("Hall", "Ground", "entry hall", 192.0, 144.0, 120.0)
DEN = Room("Den", "Ground", "trophy room", 180.0, 150.0, 120.0)
DOOR = Opening("D1", "door", "Hall", "Den", "N", 40.0, 36.0, 84.0)
DADO_BAND = """
[[element]]
name = "dado band"
display = "Dado band"
place = "frieze"
seen = true
share = true
least = 1.0
source = "common practice"
"""
LODGE = House("Lodge", ("Hall",), (HALL, DEN), (DOOR,))


def test_a_period_is_a_table_and_nothing_else(tables):
    changed(tables / "styles/georgian.toml", 'display = "Georgian"', 'display = "Lodge"')
    shutil.move(tables / "styles/georgian.toml", tables / "styles/lodge.toml")
    changed(tables / "styles/lodge.toml", "ratio = 0.85", 'ratio = 0.9\ncurves = "greek"')
    changed(tables / "styles/lodge.toml", "proud = 0.125", "proud = 0.5")
    library = read_library(tables)
    planned = plan(LODGE, Intent(style="lodge", grade="great house"), library=library)
    assert {package.style for package in planned.packages} == {"lodge"}
    crown = planned.sections[planned.by_name["Hall"].package]["crown"]
    assert all(member.greek for placed in crown for member in placed.profile.members)
    blocks = [s for wall in planned.walls["Hall"] for s in wall.solids if s.element == "plinth block"]
    casing = planned.by_name["Hall"].package.element("casing")
    assert blocks and all(s.width == pytest.approx(casing.size + 0.5) for s in blocks)


def test_an_element_and_a_form_are_rows_that_a_style_names(tables):
    added(tables / "elements.toml", DADO_BAND)
    changed(
        tables / "forms.toml",
        "form = [\n",
        'form = [\n    {element = "dado band", name = "flat band", members = 1, projection = 0.5, thickness = 0.5, '
        "parts = []},\n",
    )
    changed(
        tables / "styles/georgian.toml",
        "row = [\n",
        'row = [\n    {element = "dado band", form = "flat band", rungs = ["State", "Principal"], of = "ceiling", '
        'factor = 0.02, plain = true, source = "common practice"},\n',
    )
    planned = plan(LODGE, Intent(grade="great house"), library=read_library(tables))
    band = planned.by_name["Hall"].package.element("dado band")
    assert band.form == "flat band" and band.size == pytest.approx(120 * 0.02, abs=1 / 16)
    assert (
        planned.by_name["Hall"].package.trim_share
        > plan(LODGE, Intent(grade="great house")).by_name["Hall"].package.trim_share
    )


@pytest.mark.parametrize(
    ("many", "words"),
    [
        (0, "unknown room 'Q'; there are none"),
        (2, "unknown room 'Q'; there are 'Room 0' and 'Room 1'"),
        (1200, "unknown room 'Q'; there are 1,200, among them 'Room 0', 'Room 1' and 'Room 2'"),
    ],
)
def test_a_name_that_is_like_none_is_answered_with_some_that_there_are(many, words):
    with pytest.raises(ValueError) as told:
        known_name("Q", [f"Room {number}" for number in range(many)], "room")
    assert str(told.value) == words


def test_a_use_of_a_room_is_a_row():
    trophy = Use(
        name="trophy room",
        public=0.9,
        display=1.0,
        lowest=4,
        highest=5,
        seen=True,
        guest=True,
        source="common practice",
    )
    library = replace(LIBRARY, uses=(*LIBRARY.uses, trophy))
    assert plan(LODGE, library=library).by_name["Den"].factors["use"] == 0.9
    den = plan(LODGE, library=library).by_name["Den"].factors
    assert den["display"] == den["presence"] != plan(LODGE).by_name["Den"].factors["display"]
    assert plan(LODGE).by_name["Den"].factors["use"] == LIBRARY.use("other").public
    assert msgspec.structs.replace(trophy, public=0.1) != trophy


def test_walks_end_in_the_uses_that_are_marked_as_bedrooms():
    named = {use.name for use in LIBRARY.uses if use.bedroom}
    assert named == {"principal bedroom", "guest bedroom", "bedroom", "nursery"}
    assert "Den" not in {route.room for route in plan(LODGE).routes}
    den = msgspec.structs.replace(LIBRARY.use(LODGE.by_name["Den"].use), bedroom=True)
    library = replace(LIBRARY, uses=tuple(den if use.name == den.name else use for use in LIBRARY.uses))
    assert "Den" in {route.room for route in plan(LODGE, library=library).routes}


def test_what_stands_round_an_opening_says_at_which_kinds_of_opening():
    kinds = standard().opening_kinds.keys()
    for element in standard().elements:
        assert bool(element.openings) == (element.place == "opening"), element.name
        assert set(element.openings) <= kinds, element.name


def test_what_a_crew_goes_by_names_elements_and_checks_that_there_are():
    job, rules = LIBRARY.job, {rule.name: rule for rule in LIBRARY.checks}
    assert {element for step in job.steps for element in step.elements} <= set(LIBRARY.element_kinds)
    assert {name for matter in job.matters for name in matter.rules} <= set(rules)
    assert all(row.source for row in (*job.steps, *job.cares, *job.matters))
    decided = {name for matter in job.matters for name in matter.rules}
    assert {name for name, rule in rules.items() if "licensed" in rule.remedy} - decided == {"wider opening"}
    assert any(not matter.rules and "widening" in matter.matter for matter in job.matters)
