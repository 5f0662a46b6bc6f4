"""Whatever people typed as a name, a title or a remark stays text, in every tab of every app."""

import shutil
from dataclasses import replace
from urllib.parse import urlsplit

import pytest

from planner import House, Intent, Wish, edits, read_house, write_house, write_intent
from planner.apps.tabs import TABS
from planner.house.styles import write_style
from planner.record.keeping import open_session, say
from tests.browser.driving import counted, tab, until

PICTURE = "![x](http://127.0.0.1:9/x.png)"
NAMES = {
    "Entry Hall": PICTURE,
    "Drawing Room": "<img src=http://127.0.0.1:9/y.png onerror=alert(1)>",
    "Dining Room": "$x$ **b** ~~s~~ `c`",
    "Library": "[a](javascript:alert(1))",
    "Kitchen": "http://127.0.0.1:9/auto",
    "Stair Hall": "<script>alert(2)</script>",
}
"""What the rooms of the demo house are called here."""

STYLE = "![x](x.png) [a](b) $x$ ~~d~~ `c`"
"""What a style of the house's own is called: a file's name has no more than this of a language of marks."""

FORGED = "![x](http:\u2215\u2215127.0.0.1:9\u2215s.png) <img src=x.png onerror=alert(4)> \u202egnihton"
"""What a file in the folder of styles is called that can be none."""

REMARKS = (f"<b>{PICTURE}</b>", "<script>alert(3)</script>", "\u202e\u2066 dliw **b** $x$", "http://127.0.0.1:9/r.png")
"""What was said of a room, the last of it shown."""

MADE_OF_NAMES = (
    "img[src*='127.0.0.1:9'], img[src*='x.png'], a[href='b'], "
    "a[href*='127.0.0.1:9'], a[href^='javascript'], script:has-text('alert'), .katex, "
    "marimo-tex, del, .markdown strong, .markdown code"
)
"""What would stand on a page where a name was read as Markdown or HTML."""


@pytest.fixture
def hostile(folder) -> House:
    """The demo house under other names, with a set, pins, a trim rule, an alternative and a review that carry them."""
    house, _ = read_house(folder)

    def named(name: str) -> str:
        return NAMES.get(name, name)

    rooms = tuple(replace(room, name=named(room.name), level=f"{room.level} **l**") for room in house.rooms)
    openings = tuple(replace(o, room=named(o.room), other=named(o.other)) for o in house.openings)
    fixtures = tuple(replace(f, room=named(f.room), notes=PICTURE) for f in house.fixtures)
    flights = tuple(replace(f, room=named(f.room)) for f in house.flights)
    entries = tuple(map(named, house.entries))
    changed = replace(
        house, name=PICTURE, entries=entries, rooms=rooms, openings=openings, fixtures=fixtures, flights=flights
    )
    shutil.rmtree(folder / "alternatives")
    stock = folder / "stock.csv"
    head, first, *rest = stock.read_text("utf-8").splitlines()
    _, comma, cells = first.partition(",")
    stock.write_text("\n".join([head, f"**{PICTURE}**{comma}{cells}", *rest]), "utf-8")
    house_toml = (folder / "house.toml").read_text("utf-8")
    for level in house.levels:
        house_toml = house_toml.replace(f'[levels."{level}"]', f'[levels."{level} **l**"]')
    (folder / "house.toml").write_text(house_toml, "utf-8")
    write_house(changed, folder)
    group = (NAMES["Drawing Room"], NAMES["Dining Room"])
    intent = edits.add_set(Intent(name="one", title=PICTURE, author=PICTURE), group)
    write_intent(intent, folder)
    write_intent(replace(intent, name="two", title="<b>two</b>", sets=()), folder)
    pinned = {NAMES["Entry Hall"]: Wish(tier=1), NAMES["Dining Room"]: Wish(tier=4)}
    write_intent(replace(intent, name="stuck", title="$stuck$", sets=(), rooms=pinned), folder)
    write_style(folder, STYLE, "georgian", settings={"ratio": 0.9})
    write_intent(replace(intent, name="styled", title="styled", sets=(), style=STYLE), folder)
    file = open_session(folder, PICTURE)
    for remark in REMARKS:
        say(file, PICTURE, "one", NAMES["Library"], "more", remark)
    return changed


@pytest.fixture
def watched(chromium):
    """A page, and every address that it asked for, or dialogue that it opened."""
    context = chromium.new_context(viewport={"width": 1440, "height": 1000})
    context.set_default_timeout(60_000)
    page = context.new_page()
    page.asked_for = []
    page.on("request", lambda request: page.asked_for.append(request.url))
    page.on("dialog", lambda dialog: (page.asked_for.append(f"dialogue: {dialog.message}"), dialog.dismiss()))
    yield page
    context.close()


def check_plain(page, served) -> None:
    """Nothing foreign was asked for, and no name has become an element."""
    page.wait_for_load_state("networkidle")
    assert page.locator(MADE_OF_NAMES).count() == 0, page.locator(MADE_OF_NAMES).first.evaluate("e => e.outerHTML")
    own = served.page.removesuffix(urlsplit(served.page).path)
    foreign = [u for u in page.asked_for if not u.startswith((own, "data:", f"blob:{own}"))]
    assert foreign == []


def test_names_stay_text_in_every_tab_of_the_designer_s_app(hostile, serve, watched):
    page, served = watched, serve("design")
    page.goto(f"{served.url}&alternative=one")
    page.get_by_role("heading", name=PICTURE).first.wait_for()
    for name in TABS:
        tab(page, name)
        page.get_by_role("tab", name=counted(name), selected=True).wait_for()
        check_plain(page, served)
    tab(page, "Rooms")
    group = f"{NAMES['Drawing Room']}, {NAMES['Dining Room']}"
    page.get_by_role("button", name=f"Part {group}", exact=True).wait_for()
    page.get_by_role("button", name="Undo").wait_for()


def test_names_stay_text_where_wishes_cannot_all_hold(hostile, serve, watched):
    page, served = watched, serve("design")
    page.goto(f"{served.url}&alternative=stuck")
    page.get_by_role("button", name=f"Let go of the pin on {PICTURE}", exact=True).wait_for()
    check_plain(page, served)


def test_a_style_of_the_house_s_own_is_text_wherever_it_is_named(hostile, serve, watched):
    page, served = watched, serve("design")
    page.goto(f"{served.url}&alternative=styled")
    page.get_by_role("tab", name="Weights", exact=True).wait_for()
    named = set()
    for name in TABS:
        tab(page, name)
        page.get_by_role("tab", name=counted(name), selected=True).wait_for()
        check_plain(page, served)
        options = page.locator("option").all_text_contents()
        named |= {name} if STYLE in options or STYLE in page.locator("body").inner_text() else set()
    assert {"Weights"} <= named


def test_a_forged_file_of_a_style_is_told_as_text(hostile, folder, serve, watched):
    (folder / "styles" / f"{FORGED}.toml").write_text('based_on = "georgian"\n', "utf-8")
    page, served = watched, serve("design")
    page.goto(served.url)
    page.get_by_text("cannot be the name of a style").first.wait_for(state="attached")  # a long list is folded
    check_plain(page, served)
    assert "\u202e" not in page.locator("body").inner_text()


def test_names_stay_text_in_the_client_s_and_the_team_s_app(hostile, serve, watched):
    page = watched
    for app, alternatives in (("review", "&alternative=one"), ("compare", "&alternative=one&alternative=two")):
        served = serve(app)
        page.asked_for.clear()
        page.goto(f"{served.url}{alternatives}")
        page.locator("canvas, svg.marks").first.wait_for()
        until(page, lambda: PICTURE in page.locator("body").inner_text())
        check_plain(page, served)
