"""A house from nothing, in the app: by the mouse, by the keys, by touch, by typing and by pasting."""

import io
import shutil

import openpyxl
import pytest

from planner import new_house, read_house
from tests.browser.drawing import Hand, middle, news, room, saved, table
from tests.browser.driving import tab, tier, until

MOST_CLICKS, MOST_MINUTES = 60, 10


@pytest.fixture
def blank(folder):
    """The folder of a house that is begun from nothing."""
    shutil.rmtree(folder)
    new_house(folder)
    return folder


def at_the_board(page, served):
    page.goto(served.url)
    page.locator(".bd-plan").wait_for()
    room(page, "Entry Hall").wait_for()
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(2000)  # the board is built anew once the page has settled
    return page


def test_six_rooms_are_drawn_in_few_clicks(serve, page, blank, capsys):
    at_the_board(page, serve("design"))
    hand = Hand(page)
    hand.begin()
    hand.type("Name of the house", "Sedge Lodge")
    news(page, "Name is Sedge Lodge now.")
    for use in ("parlor", "dining room", "kitchen", "bedroom", "bath"):
        hand.choose("Room to add", use)
        hand.click("Add the room")
        news(page, f"{use.title()} added.")
    hand.put("door")
    for number, (name, wall, part) in enumerate(
        (
            *(("Entry Hall", "S", 0.5), ("Entry Hall", "N", 0.5), ("Entry Hall", "E", 0.5), ("Entry Hall", "W", 0.5)),
            *(("Bedroom", "S", 0.5), ("Bath", "S", 0.5)),
        ),
        1,
    ):
        hand.wall(name, wall, part)
        news(page, f"D{number}, a door")
    hand.put("window")
    for number, (name, wall) in enumerate(
        (("Parlor", "N"), ("Dining Room", "E"), ("Kitchen", "W"), ("Bedroom", "W")), 1
    ):
        hand.wall(name, wall)
        news(page, f"W{number}, a window")
    hand.click("Save the house")
    page.get_by_text("All that is drawn is saved.").wait_for()
    with capsys.disabled():
        print(f"\nsix rooms: {hand.clicks} clicks, {hand.keys} keys, about {hand.minutes:.1f} minutes for a person")
    assert hand.clicks <= MOST_CLICKS and hand.minutes < MOST_MINUTES
    house, _ = read_house(blank)
    assert house.name == "Sedge Lodge" and len(house.rooms) == 6 and len(house.openings) == 10
    tab(page, "Rooms")
    assert tier(page, "Parlor") > tier(page, "Bath")


def out_of_view(page, *places):
    """Which of some places on the page are not wholly on the screen, but for less than a pixel."""
    width, height = (side + 1 for side in page.viewport_size.values())
    boxes = {place: place.bounding_box() for place in places}
    return [
        f"{place}: {box}"
        for place, box in boxes.items()
        if box["y"] < -1 or box["y"] + box["height"] > height or box["x"] + box["width"] > width
    ]


@pytest.mark.parametrize(("width", "height"), [(1440, 1000), (390, 844)])
def test_what_is_done_to_a_house_is_seen_where_it_is_done(serve, chromium, blank, width, height):
    """A room that is added, what is said of it, and later the field in hand with the room that it changes."""
    context = chromium.new_context(viewport={"width": width, "height": height}, has_touch=width < 700)
    context.set_default_timeout(60_000)
    try:
        page = at_the_board(context.new_page(), serve("design"))
        page.get_by_text("First time here? Three lines").wait_for()
        add = page.get_by_role("button", name="Add the room")
        add.click()
        news(page, "Parlor added.")
        parlor = room(page, "Parlor")
        until(page, lambda: out_of_view(page, add, parlor, page.locator(".bd-news")) == [], 5)
        page.get_by_label("A click or a drag is to").select_option("door")
        news(page, "A click on a wall puts a door there.")
        field = page.get_by_label("From the south")
        field.evaluate("e => e.scrollIntoView({block: 'end'})")
        until(page, lambda: out_of_view(page, field, parlor, page.locator(".bd-news")) == [], 5)
        assert not meets(field, page.locator(".bd-held"))
    finally:
        context.close()


def meets(one, other):
    """Whether two things on the page lie one over the other."""
    a, b = one.bounding_box(), other.bounding_box()
    return a["y"] < b["y"] + b["height"] and b["y"] < a["y"] + a["height"]


@pytest.mark.parametrize(("width", "height"), [(1440, 1000), (390, 844)])
def test_each_name_on_the_board_is_whole_and_clear_of_the_walls(serve, chromium, width, height):
    context = chromium.new_context(viewport={"width": width, "height": height})
    context.set_default_timeout(60_000)
    try:
        page = context.new_page()
        page.goto(f"{serve('design').url}&tab=House&room=Library")
        room(page, "Mud Room").wait_for()
        said = page.locator(".bd-room").evaluate_all(
            """all => all.map(e => [
                e.getAttribute("aria-label").split(",")[0],
                [...e.querySelectorAll(".bd-name")].map(name => name.textContent).join(" "),
                Math.max(...[...e.querySelectorAll("text")].map(text => text.getBoundingClientRect().width))
                    / e.querySelector("polygon").getBoundingClientRect().width,
            ])"""
        )
        assert len(said) > 10
        assert [(name, written) for name, written, _ in said if name != written] == []
        assert [(name, share) for name, _, share in said if share > 0.95] == []
    finally:
        context.close()


def test_a_room_is_dragged_to_its_neighbour_and_resized_by_its_handle(serve, page, blank):
    at_the_board(page, serve("design"))
    hand = Hand(page)
    hand.click("Add the room")
    news(page, "Parlor added.")
    before = room(page, "Parlor").bounding_box()
    hand.drag(room(page, "Parlor").locator("polygon"), 2.1 * before["width"], before["height"])
    news(page, "Parlor moved.")
    hand.drag(page.locator("[data-handle=w] rect").last, -0.2 * before["width"], 0)
    news(page, "Parlor is ")
    wide = page.get_by_label("West to east").input_value()
    assert wide != "18'-0\"" and room(page, "Parlor").get_attribute("aria-label").split(", ")[2].startswith(wide)
    page.get_by_role("button", name="Undo: Parlor is").click()
    page.get_by_role("button", name="Undo: Parlor moved").click()
    news(page, "Undone: Parlor moved.")
    until(page, lambda: abs(room(page, "Parlor").bounding_box()["x"] - before["x"]) < 3)


def test_a_house_is_drawn_by_the_keys_alone(serve, page, blank):
    at_the_board(page, serve("design"))
    use = page.get_by_label("Room to add")

    def is_chosen():
        use.focus()
        page.keyboard.type("libr")
        page.wait_for_timeout(1200)  # letters that come later begin another word
        return use.evaluate("e => e.selectedOptions[0].text").lower().startswith("libr")

    until(page, is_chosen)
    reached(page, "add")
    page.keyboard.press("Enter")
    news(page, "Library added.")
    reached(page, "room-1")
    drawn = room(page, "Library").locator("polygon")
    until(page, lambda: drawn.evaluate("e => getComputedStyle(e).strokeWidth") == "5px")  # the ring of the focus
    until(page, lambda: page.locator("[data-key=room-1]").get_attribute("aria-pressed") == "true")
    for key in ("ArrowRight", "ArrowRight", "Shift+ArrowRight"):
        page.keyboard.press(key)
        news(page, "Library moved." if key == "ArrowRight" else "Library is 18'-6\"")
    reached(page, "typed-wall")
    wall = page.locator("[data-key=typed-wall]")

    def is_the_wall():
        page.keyboard.type("S, to Entry")
        page.wait_for_timeout(1200)
        return wall.evaluate("e => e.selectedOptions[0].text").startswith("S, to Entry")

    until(page, is_the_wall)
    reached(page, "put")
    page.keyboard.press("Enter")
    news(page, "D1, a door to Entry Hall")
    reached(page, "save", back=True)
    page.keyboard.press("Enter")
    page.get_by_text("All that is drawn is saved.").wait_for()
    until(page, lambda: focused(page) == "save")
    (opening,) = read_house(blank)[0].openings
    assert (opening.room, opening.other) == ("Library", "Entry Hall")
    assert read_house(blank)[0].by_name["Library"].corners[0][0] == 12


def test_the_fields_of_each_room_are_reached_by_the_keys(serve, page, blank):
    """The tabulator alone would pick every other room on its way from one to its fields."""
    at_the_board(page, serve("design"))
    for name in ("Parlor", "Parlor 2"):
        page.get_by_role("button", name="Add the room").click()
        news(page, f"{name} added.")
    reached(page, "room-1")
    until(page, lambda: page.locator("[data-key=room-1]").get_attribute("aria-pressed") == "true")
    page.keyboard.press("Enter")
    until(page, lambda: focused(page) == "typed-room", 5)
    page.keyboard.press("Control+a")
    page.keyboard.type("Study")
    page.keyboard.press("Enter")
    room(page, "Study").wait_for()
    assert room(page, "Parlor").count() == 0 and room(page, "Parlor 2").count() == 1


def reached(page, key, back=False):
    """Go on with the tabulator until a control of the board has the focus."""
    for _ in range(120):
        page.keyboard.press("Shift+Tab" if back else "Tab")
        if focused(page) == key:
            return
    raise AssertionError(f"{key} is not reached, the last was {focused(page)}")


def focused(page):
    return page.evaluate(
        """() => {
            let e = document.activeElement;
            while (e.shadowRoot && e.shadowRoot.activeElement) e = e.shadowRoot.activeElement;
            return e.dataset.key;
        }"""
    )


def test_a_fault_stands_at_its_cell_with_what_would_be_right(serve, page, blank):
    at_the_board(page, serve("design"))
    table(page)
    cell = page.get_by_label("length of Entry Hall", exact=True)
    cell.fill("wide")
    cell.press("Enter")
    page.locator(".bd-faults").get_by_text('"wide" is not a length; write e.g.').wait_for()
    assert page.get_by_label("length of Entry Hall", exact=True).get_attribute("aria-invalid") == "true"
    page.get_by_role("button", name="Save the house").click()
    page.get_by_text("Nothing was saved; why is told below the board").wait_for()
    assert "wide" not in (blank / "rooms.csv").read_text("utf-8")
    page.get_by_label("length of Entry Hall", exact=True).fill("20'")
    page.get_by_label("length of Entry Hall", exact=True).press("Enter")
    page.locator(".bd-faults").wait_for(state="detached")
    saved(page)
    assert read_house(blank)[0].by_name["Entry Hall"].length == 240


def test_what_is_wrong_in_the_form_is_told_at_its_field(serve, page, blank):
    at_the_board(page, serve("design"))
    built, form = page.get_by_label("Built in", exact=True), page.locator(".bd-fold").first
    built.fill("19x2")
    built.press("Enter")
    form.get_by_text('"19x2" is no whole number').wait_for()
    told = built.get_attribute("aria-describedby")
    assert built.get_attribute("aria-invalid") == "true" and "19x2" in page.locator(f"[id='{told}']").inner_text()
    page.get_by_label("Name of a new level").fill("Ground")
    page.get_by_role("button", name="Add a level").click()
    form.get_by_text("There is a level Ground already.").wait_for()
    built.fill("1912")
    built.press("Enter")
    form.locator(".bd-alarm").first.wait_for(state="detached")
    assert built.get_attribute("aria-invalid") is None


def paste(page, place, text):
    """What a spreadsheet copies, pasted where the focus is."""
    place.focus()
    place.evaluate(
        """(e, text) => {
            const clipboardData = new DataTransfer();
            clipboardData.setData("text/plain", text);
            const all = {bubbles: true, composed: true, cancelable: true};
            e.dispatchEvent(new ClipboardEvent("paste", {clipboardData, ...all}));
        }""",
        text,
    )


def test_cells_of_a_spreadsheet_are_pasted_into_the_tables(serve, page, blank):
    at_the_board(page, serve("design"))
    table(page)
    rows = "Den\tGround\tstudy\t12'\t10'\t\t192 0; 192 120; 336 120; 336 0\nPantry\tGround\tpantry\t6'\t5'\n"
    page.get_by_role("button", name="Add a row").click()
    paste(page, page.get_by_label("room of row 3", exact=True), rows)
    news(page, "2 rows pasted into rooms.csv.")
    page.get_by_role("button", name="Openings (0)").click()
    doors = "kind\tfrom\tto\tname\ndoor\tEntry Hall\tDen\tD1\ndoor\tDen\tPantry\tD2\n"
    paste(page, page.get_by_role("region", name="Openings"), doors)
    page.get_by_label("other of D2", exact=True).wait_for()
    saved(page)
    house, _ = read_house(blank)
    assert [room.name for room in house.rooms] == ["Entry Hall", "Den", "Pantry"]
    assert [(o.name, o.room, o.other) for o in house.openings] == [("D1", "Entry Hall", "Den"), ("D2", "Den", "Pantry")]


def test_a_workbook_is_shown_as_it_was_understood_and_then_taken(serve, page, blank):
    book, out = openpyxl.Workbook(), io.BytesIO()
    book.active.append(["Name", "Floor", "Type", "Length", "Depth", "Paint"])
    book.active.append(["Den", "Ground", "study", 144, 120, "green"])
    doors = book.create_sheet("Doors")
    doors.append(["Mark", "Kind", "From", "To"])
    doors.append(["D1", "door", "Entry Hall", "Den"])
    book.save(out)
    at_the_board(page, serve("design"))
    page.get_by_text("Bring in a spreadsheet").click()
    file = {"name": "lodge.xlsx", "mimeType": "application/octet-stream", "buffer": out.getvalue()}
    page.get_by_label("A file, CSV or XLSX, up to 10 MB").set_input_files(file)
    page.get_by_text("1 row read, 0 faults in them. Its first row is the header. Not read: Paint.").wait_for()
    assert page.get_by_role("region", name="Columns").first.inner_text().split("\n")[1:3] == [
        "In the file\tRead as",
        "Name\troom",
    ]
    assert "Den" not in (blank / "rooms.csv").read_text("utf-8")
    page.get_by_role("button", name="Add 1 room").click()
    page.get_by_role("button", name="Add 1 opening").click()
    news(page, "1 row of Doors added into openings.csv.")
    saved(page)
    assert [o.other for o in read_house(blank)[0].openings] == ["Den"]
    page.get_by_label("A file, CSV or XLSX, up to 10 MB").set_input_files(file | {"buffer": b"PK\x03\x04nonsense"})
    page.get_by_text("is no workbook that can be read").wait_for()


def test_a_house_is_drawn_with_a_finger_on_a_phone(serve, chromium, blank):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    try:
        page = at_the_board(context.new_page(), serve("design"))
        page.get_by_role("button", name="Add the room").tap()
        news(page, "Parlor added.")
        page.get_by_label("A click or a drag is to").focus()
        page.get_by_label("A click or a drag is to").select_option("door")
        spot = Hand(page).spot("Entry Hall", "N", 0.5)
        page.touchscreen.tap(*spot)
        news(page, "D1, a door")
        strokes = page.locator("[data-wall]").evaluate_all("all => all.map(e => getComputedStyle(e).stroke)")
        assert len(set(strokes)) == 1, "the wall that was tapped stays covered"
        page.get_by_label("A click or a drag is to").select_option("")
        page.locator("[data-wall]").first.wait_for(state="detached")
        swipe(context, page, room(page, "Parlor"), 40, 0)
        news(page, "Parlor moved.")
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= 390
        table(page)
        sideways = page.locator(".bd, .bd *").evaluate_all(
            """all => all.filter(e => e.scrollWidth > e.clientWidth + 1 && !e.matches(".bd-frame, input, select")
                && ["auto", "scroll"].includes(getComputedStyle(e).overflowX)).map(e => e.className)"""
        )
        assert sideways == [], "but for the drawing in its frame"
        page.get_by_label("ceiling of Parlor", exact=True).fill("10'")
        page.get_by_label("ceiling of Parlor", exact=True).press("Enter")
        news(page, "Ceiling of Parlor changed.")
        small = page.locator(".bd button, .bd input, .bd select").evaluate_all(
            "all => all.filter(e => e.offsetHeight && e.offsetHeight < 44).map(e => e.outerHTML)"
        )
        assert small == []
        page.get_by_role("button", name="Save the house").tap()
        page.get_by_text("All that is drawn is saved.").wait_for()
        assert len(read_house(blank)[0].rooms) == 2
    finally:
        context.close()


def test_a_room_that_is_added_is_brought_into_the_frame_with_its_handles(serve, chromium, blank):
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    try:
        page = at_the_board(context.new_page(), serve("design"))
        for use in ("parlor", "kitchen", "dining room"):
            page.get_by_label("Room to add", exact=True).focus()
            page.get_by_label("Room to add", exact=True).select_option(use)
            page.get_by_role("button", name="Add the room").tap()
            news(page, f"{use.title()} added.")
            page.locator(f".bd-picked[aria-label^='{use.title()},']").wait_for()
            frame = page.locator(".bd-frame").bounding_box()
            handles = [one.bounding_box() for one in page.locator(".bd-handle rect:not(.bd-reach)").all()]
            assert len(handles) == 8
            for at, side in (("x", "width"), ("y", "height")):
                assert min(one[at] for one in handles) >= frame[at]
                assert max(one[at] + one[side] for one in handles) <= frame[at] + frame[side]
    finally:
        context.close()


def swipe(context, page, place, dx, dy):
    """A finger put down in the middle of a place, moved so far, and lifted."""
    x, y = middle(place)
    touch = context.new_cdp_session(page)

    def send(kind, *points):
        at = [{"x": x, "y": y} for x, y in points]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": at})

    send("touchStart", (x, y))
    for part in (0.3, 0.6, 1.0):
        send("touchMove", (x + part * dx, y + part * dy))
    send("touchEnd")
