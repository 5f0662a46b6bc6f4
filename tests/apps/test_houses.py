"""A house as a page opens it."""

from planner.apps.houses import asked_room, opened, picking
from planner.apps.panels.weights import whole
from planner.house.styles import write_style
from planner.intent.renaming import rename_room


def test_the_list_of_periods_has_the_houses_own(folder, changes):
    write_style(folder, "own", "georgian", [], {"ratio": 0.95})
    text = (folder / "house.toml").read_text("utf-8")
    (folder / "house.toml").write_text(text.replace('style = "georgian"', 'style = "own"'), "utf-8")
    page = opened(folder)
    assert page.house.style == "own"
    assert "own" in whole(page.house, page.library, changes)[0].options.values()


def test_a_broken_style_is_told_and_the_house_is_open(folder):
    (folder / "styles").mkdir()
    (folder / "styles" / "own.toml").write_text('based_on = "georgain"')
    page = opened(folder)
    assert page.house is not None
    assert [(p.file, p.severity) for p in page.remarks if p.file.startswith("styles")] == [
        ("styles/own.toml", "warning")
    ]


def test_a_room_at_an_address_is_shown_under_the_name_that_it_has_now(folder):
    rename_room(folder, "Kitchen", "Cookery")
    at, shown, picked = {"room": "Kitchen"}, [], []
    pick, show = picking(picked.append, shown.append, at)
    show(opened(folder))
    assert (len(shown), picked, at) == (1, ["Cookery"], {"room": "Cookery"})
    pick("Library")
    show(opened(folder))
    assert (len(shown), picked, at) == (2, ["Cookery", "Library"], {"room": "Library"})


def test_an_address_asks_for_a_room_or_none_or_one_that_was_never_there(folder):
    page = opened(folder)
    asked = [asked_room(page, at) for at in ({}, {"room": ""}, {"room": "Library"}, {"room": "Attic"})]
    assert asked == [None, None, "Library", "Attic"]
    (folder / "rooms.csv").write_text("broken")
    assert asked_room(opened(folder), {"room": "Library"}) == "Library"
