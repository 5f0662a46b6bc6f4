"""What is in the hand at the drawing board stays in it while the board is drawn anew for another reason."""

import re
import shutil
from dataclasses import replace

import pytest

from planner import new_house, read_house, write_house
from tests.browser.drawing import news, room
from tests.browser.driving import until
from tests.browser.test_new_house import at_the_board

FORM = "The house: name, levels, style, unit"


@pytest.fixture
def board(serve, page, folder):
    """A house that is begun from nothing, on the board; its page."""
    shutil.rmtree(folder)
    new_house(folder)
    return at_the_board(page, serve("design"))


def gesture_of_another_part(page):
    """Have the page told of a change that is none of the field's, as when an answer comes late."""
    page.get_by_label("Style", exact=True).evaluate(
        """list => {
            const other = [...list.options].find((one) => one.value !== list.value);
            list.value = other.value;
            list.dispatchEvent(new Event("change", {bubbles: true}));
        }"""
    )
    news(page, "Style is")


def typed_over(page, label, text):
    field = page.get_by_label(label, exact=True)
    field.click(click_count=3)
    page.keyboard.type(text)
    return field


def test_what_is_typed_and_not_told_yet_is_told_when_it_is_left(board):
    field = typed_over(board, "Currency", "EUR")
    gesture_of_another_part(board)
    assert field.input_value() == "EUR"
    board.keyboard.press("Enter")
    news(board, "Currency is EUR now.")


def test_what_is_selected_to_be_typed_over_stays_selected(board):
    board.get_by_label("Currency", exact=True).click(click_count=3)
    gesture_of_another_part(board)
    board.keyboard.type("EUR")
    board.keyboard.press("Enter")
    news(board, "Currency is EUR now.")


def test_a_button_that_is_pressed_is_clicked_when_it_is_let_go(board):
    add = board.get_by_role("button", name="Add the room")
    box = add.bounding_box()
    board.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    board.mouse.down()
    gesture_of_another_part(board)  # the buttons beside it, undo among them, say something else now
    board.get_by_role("button", name=re.compile("^Undo: style is")).wait_for()
    board.mouse.up()
    news(board, "Parlor added.")


def test_keys_that_are_pressed_faster_than_they_are_answered_are_all_done_in_their_order(board, folder):
    room(board, "Entry Hall").focus()
    for _ in range(6):
        for key in ("ArrowRight", "ArrowUp", "ArrowRight", "Shift+ArrowRight"):
            board.keyboard.press(key)
    west, south = board.get_by_label("From the west", exact=True), board.get_by_label("From the south", exact=True)
    until(board, lambda: (west.input_value(), south.input_value()) == ("6'-0\"", "3'-0\""))
    undone = board.get_by_role("button", name="Undo: ")
    for _ in range(24):
        undone.click()
    until(board, lambda: (west.input_value(), south.input_value()) == ('0"', '0"'))
    until(board, board.locator("[data-key=undo]").is_disabled)


def test_a_row_is_removed_and_no_other_whatever_was_removed_before_the_board_could_show_it(board):
    for name in ("Parlor", "Parlor 2", "Parlor 3"):
        board.get_by_role("button", name="Add the room").click()
        news(board, f"{name} added.")
    board.locator("[data-key=file-rooms\\.csv]").evaluate("e => e.closest('details').open = true")
    drops = [board.get_by_label(f"Remove {name}", exact=True) for name in ("Entry Hall", "Parlor 2")]
    first, second = (drop.element_handle() for drop in drops)
    first.evaluate("(one, other) => [one, other].forEach(each => each.click())", second)
    news(board, "Parlor 2 removed.")
    names = board.locator("[data-column=room]")
    assert [name.input_value() for name in names.all()] == ["Parlor", "Parlor 3"]


def test_a_key_that_is_held_removes_one_room(board):
    board.get_by_role("button", name="Add the room").click()
    news(board, "Parlor added.")
    room(board, "Entry Hall").focus()
    for _ in range(3):
        board.keyboard.down("Delete")  # what comes before it is let go is repeated by itself
        board.wait_for_timeout(300)
    board.keyboard.up("Delete")
    assert room(board, "Parlor").count() == 1 and room(board, "Entry Hall").count() == 0


def test_a_room_that_is_reached_past_another_says_what_was_done_to_it(board):
    board.get_by_role("button", name="Add the room").click()
    news(board, "Parlor added.")
    for name in ("Entry Hall", "Parlor"):
        room(board, name).focus()
    board.keyboard.press("ArrowRight")
    news(board, "Parlor moved.")
    board.wait_for_timeout(500)  # an answer that is late
    news(board, "Parlor moved.")
    assert room(board, "Parlor").get_attribute("aria-pressed") == "true"


def test_what_somebody_else_saves_takes_no_word_out_of_the_hand(board, folder):
    field = typed_over(board, "Name of the house", "Sedge Lodge")
    house, _ = read_house(folder)
    write_house(replace(house, rooms=tuple(replace(hall, use="vestibule") for hall in house.rooms)), folder)
    until(board, lambda: "vestibule" in room(board, "Entry Hall").get_attribute("aria-label"))
    assert field.input_value() == "Sedge Lodge"
    board.keyboard.press("Enter")
    news(board, "Name is Sedge Lodge now.")


def test_the_board_goes_on_after_a_gesture_that_was_never_answered(board):
    way = "**/api/kernel/set_model_value"
    board.route(way, lambda route: route.fulfill(status=200, json={"success": True}), times=1)
    board.get_by_label("Style", exact=True).select_option("federal")
    board.wait_for_timeout(6_000)  # longer than the board waits for an answer
    board.get_by_label("Grade", exact=True).select_option("cottage")
    news(board, "Grade is cottage now.")


def test_half_a_letter_that_is_pasted_stands_as_a_sign_that_is_not_known(board):
    board.get_by_label("Currency", exact=True).evaluate(
        "field => { field.value = 'A\\ud83d'; field.dispatchEvent(new Event('change')); }"
    )
    news(board, "Currency is A\ufffd now.")
