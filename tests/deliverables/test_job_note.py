"""The job note: one page, in plain words, of the house at hand; what it says is told as it is."""

import re
import shutil
import subprocess
from dataclasses import replace

import pytest

from planner import House, Intent, plan
from planner.deliverables.job_note import Item, job_note, note_text, said
from planner.deliverables.note_papers import FITS, note_papers, on_one_page, typeset
from planner.deliverables.papers import SIZES
from tests.deliverables.papers_of import DAY, HOSTILE, SIZE, demo, hostile, stamp
from tests.laid_out_houses import laid_out_house

READER = shutil.which("pdftotext")
needs_reader = pytest.mark.skipif(READER is None, reason="pdftotext is not installed (poppler-utils)")


def section(made, heading, most=8):
    """The items of a section of the note."""
    return next((s.items for s in job_note(made, stamp(made), most).sections if s.heading == heading), ())


def read(data, program, *options):
    """What a program of poppler says of a PDF."""
    ran = subprocess.run(
        [program, *options, "-"] + (["-"] if program == READER else []), input=data, capture_output=True
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout.decode()


def crowded():
    """A plan of many rooms with the longest of names, many rules and many things to see to."""
    house = laid_out_house(80, 3, levels=3)
    names = {
        room.name: f"{room.name} " + "of the very longest name that anybody has ever given to a room " * 3
        for room in house.rooms
    }
    rooms = tuple(replace(room, name=names[room.name]) for room in house.rooms)
    openings = tuple(
        replace(o, room=names[o.room], other=names.get(o.other, o.other), name=f"{o.name} {'opening ' * 20}")
        for o in house.openings
    )
    long = House("A house of many words " * 12, (rooms[0].name,), rooms, openings, year_built=1890)
    return plan(long, Intent(title="An alternative of many words " * 8))


@pytest.mark.parametrize("size", SIZES.values(), ids=lambda size: size.page_name)
@pytest.mark.parametrize("plan_of", [demo, hostile, crowded])
def test_it_goes_on_one_page_whatever_the_house(plan_of, size):
    made = plan_of()
    note, data = on_one_page(made, stamp(made), size)
    assert re.findall(rb"/Type/Pages/Count (\d+)", data) == [b"1"]
    if plan_of is demo:
        assert note in [job_note(made, stamp(made), most) for most, points in FITS if most >= 6 and points >= 9]


def test_more_than_a_page_is_known_as_such():
    made = demo()
    assert typeset(job_note(made, stamp(made), 8), SIZE, 30.0)[1] > 1


@needs_reader
@pytest.mark.office
@pytest.mark.parametrize("name", SIZES)
def test_the_page_is_as_large_as_it_is_said_to_be(name):
    pdf, _ = note_papers(demo(), stamp(demo()), SIZES[name])
    (line,) = (line for line in read(pdf.data, "pdfinfo").splitlines() if line.startswith("Page size"))
    width, height = (float(word) for word in line.split()[2:5:2])
    assert (width / 72, height / 72) == pytest.approx(SIZES[name].page, rel=0.005)
    assert "Pages:           1" in read(pdf.data, "pdfinfo")


@needs_reader
@pytest.mark.office
def test_hostile_characters_come_out_as_themselves():
    pdf, text = note_papers(hostile(), stamp(hostile()), SIZE)
    for shown in (read(pdf.data, READER, "-raw"), text.data.decode()):
        words = "".join(shown.split())
        for name in HOSTILE:
            assert "".join(name.split()) in words, name
        assert stamp(hostile()).fingerprint in words


@needs_reader
@pytest.mark.office
def test_both_say_the_same():
    made = demo()
    note, data = on_one_page(made, stamp(made), SIZE)
    pdf, text = ("".join(words.split()) for words in (read(data, READER, "-raw"), note_text(note)))
    for each in note.sections:
        assert "".join(each.heading.upper().split()) in text and "".join(each.heading.split()) in pdf
        for item in each.items:
            words = "".join(said(item).split())
            assert words in text and words in pdf, item


def test_equal_plans_give_equal_files():
    first, again = ([paper.data for paper in note_papers(demo(), stamp(demo()), SIZE)] for _ in range(2))
    assert first == again


def test_what_was_decided_is_told_tier_by_tier_with_what_it_costs():
    made, cost = demo(), demo().money
    items = section(made, "What was decided", 30)
    told = {item.lead: item.says for item in items}
    for room in made.rooms:
        assert room.room.name in told[made.tier_names[room.tier - 1]]
    assert f"{cost.total:,.0f}" in told["Cost"] and f"{cost.low:,.0f} to {cost.high:,.0f}" in told["Cost"]
    assert f"{len(made.takeoff.sticks):,} pieces to cut" in told["To buy"]


def test_a_budget_is_told_in_what_it_is_counted_in():
    told = {
        unit: {item.lead: item.says for item in section(plan(demo().house, intent, demo().stock), "What was decided")}
        for unit, intent in (("cost index", Intent(budget=900)), ("USD", Intent(budget=200000, cost_in="money")))
    }
    assert told["cost index"]["Budget"].startswith("cost index 900; ")
    assert told["USD"]["Budget"].startswith("USD 200,000; ")
    assert "Budget" not in {item.lead for item in section(demo(), "What was decided")}


def test_what_stays_is_told_where_anything_stays():
    assert "Trim that stays" not in said(section(demo(), "What was decided")[0])


def test_a_room_that_is_pinned_says_so():
    pinned = [room.room.name for room in demo().rooms if room.pinned]
    told = {item.lead: item.says for item in section(demo(), "Why")}
    assert pinned and all("pinned" in told[name] for name in pinned)


def test_the_steps_are_those_of_what_the_house_has():
    names = [item.lead for item in section(demo(), "In which order a room is trimmed")]
    assert names.index("Doors and windows") < names.index("Crown") < names.index("Base")
    assert "Picture rail" not in names and "Chimneypiece" in names
    plain = {item.lead for item in section(hostile(), "In which order a room is trimmed")}
    assert "Chimneypiece" not in plain and {"Measure", "Base", "Finish"} <= plain


def test_the_cautions_and_matters_are_those_that_are_raised_here():
    made = demo()
    cautions = {check.rule.capitalize() for check in made.checks if check.severity == "caution"}
    told = {item.lead.partition(" (")[0] for item in section(made, "Take care", 30)} - {""}
    assert told == cautions and "Lead paint" in told
    matters = [said(item) for item in section(made, "What a licensed professional decides")]
    assert any(line.startswith("A certified renovation firm: whether old paint") for line in matters)
    new = plan(replace(made.house, year_built=2010, flights=()), made.intent, made.stock)
    assert not any("old paint" in said(item) for item in section(new, "What a licensed professional decides"))
    assert any("OSHA" in said(item) for item in section(new, "Take care"))


def test_what_cannot_be_built_comes_first_and_what_is_left_out_is_counted():
    house = demo().house
    shifted = tuple(replace(o, offset=1.0) if o.kind == "door" and o.offset else o for o in house.openings)
    made = plan(replace(house, openings=shifted), demo().intent, demo().stock)
    errors = [check for check in made.checks if check.severity == "error"]
    grave = [check for check in made.checks if check.severity != "caution"]
    assert errors and len(grave) > 3
    items = section(made, "What to watch", 3)
    assert "(cannot be built so)" in items[0].lead
    assert Item("", f"{len(grave) - 3} more are in the sheet Checks.") in items


def test_the_text_is_no_wider_than_a_terminal_shows():
    lines = note_text(job_note(demo(), stamp(demo()), 8)).splitlines()
    assert max(map(len, lines)) <= 90 and DAY.isoformat() in lines[1]
