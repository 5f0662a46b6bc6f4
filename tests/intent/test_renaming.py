"""A renamed room is renamed in every file of its house, or in none."""

import shutil
import tomllib

import pytest

from planner import demo_house, plan
from planner.files.problems import HouseFault
from planner.house.existing import EXISTING
from planner.house.fixtures import FIXTURES
from planner.house.flights import STAIRS
from planner.house.folder import read_house
from planner.intent.folder import list_intents, read_intent
from planner.intent.renamed import RENAMED
from planner.intent.renaming import rename_room
from tests.files.dying import killed_at, moments
from tests.house.conftest import HOUSE, OPENINGS, PLAIN, ROOMS, state

STAYS = "room,element,form,height\nLobby,base,board,5 1/2\nKitchen,all,,\n"
STANDS = "fixture,kind,room,wall,offset,width\nBench,built-in,Lobby,S,0,30\nRange,counter,Kitchen,E,12,48\n"
CLIMBS = "flight,room,wall,offset,up,risers,rise,run\nUp,Lobby,W,6,right,8,7.5,10\n"
TRIM = '\n[[trim]]\nelement = "base"\nrooms = ["Lobby", "Bedroom"]\n'


@pytest.fixture
def folder(tmp_path):
    """A small house with an alternative, its draft, trim that stays, fixtures and a flight."""
    made = tmp_path / "house"
    (made / "alternatives").mkdir(parents=True)
    texts = {"house.toml": HOUSE, "rooms.csv": ROOMS, "openings.csv": OPENINGS, EXISTING: STAYS}
    texts |= {FIXTURES: STANDS, STAIRS: CLIMBS}
    texts |= {"alternatives/plain.toml": PLAIN, "alternatives/plain.draft.toml": PLAIN}
    for name, text in texts.items():
        (made / name).write_text(text, "utf-8")
    return made


def test_every_file_names_it_anew_and_says_nothing_else(folder):
    before, _ = read_house(folder)
    house = rename_room(folder, "Lobby", "Vestibule, front")
    assert house == read_house(folder)[0] and house.entries == ("Vestibule, front",)
    assert house.existing[0].room == "Vestibule, front" and house.existing[1] == before.existing[1]
    assert [f.room for f in (*house.fixtures, *house.flights)] == ["Vestibule, front", "Kitchen", "Vestibule, front"]
    assert {o.room for o in house.openings} | {o.other for o in house.openings} >= {"Vestibule, front"}
    for file in folder.rglob("*.*"):
        if file.is_file() and file != folder / RENAMED:
            text = file.read_text("utf-8")
            assert "Lobby" not in text.replace("Vestibule, front", "")
    assert "# An invented house" in (folder / "house.toml").read_text("utf-8")
    assert "Vestibule, front" in read_intent(folder, "plain").sets[0]
    assert rename_room(folder, "Vestibule, front", "Lobby") == before


def test_wishes_go_with_it_and_comments_stay(folder):
    before = read_intent(folder, "plain")
    rename_room(folder, "Bedroom", 'The "best" chamber')
    after = read_intent(folder, "plain")
    assert after.rooms == {'The "best" chamber': before.rooms["Bedroom"]}
    text = (folder / "alternatives" / "plain.toml").read_text("utf-8")
    assert "# kept plain" in text and "# half of it" in text
    assert (folder / "alternatives" / "plain.draft.toml").read_text("utf-8") == text


def test_lists_of_rooms_in_any_table_follow(folder):
    for name in ("plain.toml", "plain.draft.toml"):
        (folder / "alternatives" / name).write_text(PLAIN + TRIM, "utf-8")
    rename_room(folder, "Lobby", "Porch")
    said = tomllib.loads((folder / "alternatives" / "plain.toml").read_text("utf-8"))
    assert said["trim"] == [{"element": "base", "rooms": ["Porch", "Bedroom"]}]
    assert said["sets"] == [{"rooms": ["Porch", "Kitchen"]}]


def test_a_file_that_does_not_name_it_is_left_to_the_byte(folder):
    before = state(folder)
    rename_room(folder, "Landing", "Stair Head")
    after = state(folder)
    changed = {name for name in after if after[name] != before.get(name)}
    assert changed == {"rooms.csv", "openings.csv", "reviews", RENAMED}


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("Loby", "Porch", 'there is no room "Loby"; write "Lobby"'),
        ("Lobby", "Kitchen", '"Kitchen" is there already'),
        ("Lobby", "", "is blank"),
        ("Lobby", "outside", "stands for all that is no room"),
        ("Lobby", "a\nb", "line break"),
        ("Lobby", " Porch", "begins or ends with a blank"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_changed(folder, old, new, says):
    before = state(folder)
    with pytest.raises(HouseFault, match=says):
        rename_room(folder, old, new)
    assert state(folder) == before


def test_an_alternative_that_cannot_be_read_keeps_all_as_it_was(folder):
    (folder / "alternatives" / "broken.toml").write_text("[", "utf-8")
    before = state(folder)
    with pytest.raises(HouseFault, match=r"alternatives/broken\.toml"):
        rename_room(folder, "Lobby", "Porch")
    assert state(folder) == before


def test_a_renaming_that_is_killed_leaves_the_old_name_everywhere_or_the_new(folder, tmp_path):
    before, _ = read_house(folder)
    total = moments(lambda: rename_room(shutil.copytree(folder, tmp_path / "counted"), "Lobby", "Porch"))
    names = set()
    for moment in range(0, total, 30):
        struck = shutil.copytree(folder, tmp_path / f"killed {moment}")
        killed_at(moment, lambda to=struck: rename_room(to, "Lobby", "Porch"))
        house, _ = read_house(struck)
        named = house.entries[0]
        assert list(house.by_name) == [named if name == "Lobby" else name for name in before.by_name]
        assert read_intent(struck, "plain").sets[0] == (named, "Kitchen")
        assert read_intent(struck, "plain.draft").sets[0] == (named, "Kitchen")
        assert (struck / RENAMED).exists() == (named == "Porch")
        names.add(named)
    assert names == {"Lobby", "Porch"}


def test_every_room_of_the_demo_house_can_be_renamed_and_the_plans_are_the_same(tmp_path):
    folder = shutil.copytree(demo_house(), tmp_path / "demo")
    house, _ = read_house(folder)
    intents = {name: read_intent(folder, name) for name in list_intents(folder)}
    tiers = {name: plan(house, intent).by_name for name, intent in intents.items()}
    for name in house.by_name:
        rename_room(folder, name, f"{name} anew")
    for alternative, was in tiers.items():
        now = plan(read_house(folder)[0], read_intent(folder, alternative)).by_name
        assert {f"{name} anew": room.tier for name, room in was.items()} == {n: room.tier for n, room in now.items()}
