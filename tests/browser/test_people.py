"""Every control of the client's and of the team's page, by the keys alone and by touch on a phone, and no rule of
accessibility broken once something was said and decided.
"""

import pytest

from planner import decide, read_intent, read_record
from planner.apps.team.beside import TABS
from planner.record.entries import ElementWish, Remark, Vote
from planner.record.keeping import keep, open_session, say
from planner.record.voices import votes
from tests.browser.driving import choose_room, opened, tab, until
from tests.browser.test_axe import SCRIPT, addresses, violations  # noqa: F401  # a fixture
from tests.browser.test_whole_job import SIDEWAYS, choose, is_focused, reach

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}

RAIL = "No rail at chair height here"


@pytest.fixture
def phone(chromium):
    context = chromium.new_context(**PHONE)
    context.set_default_timeout(60_000)
    yield context.new_page()
    context.close()


@pytest.fixture
def offered(folder):
    """The house, clients of which may speak of the chair rail and the crown."""
    file = folder / "alternatives" / "measured.toml"
    file.write_text('offered = ["chair rail", "crown"]\n' + file.read_text("utf-8"), "utf-8")
    return folder


def client(page, serve):
    page.goto(serve("review", "--alternative", "measured").url)
    page.get_by_role("heading", name="Entry Hall").wait_for()
    page.get_by_role("button", name="On →").wait_for()
    return page


def test_a_client_does_everything_by_keys_alone(serve, page, offered):
    client(page, serve)
    keys = page.keyboard
    welcome = page.get_by_text("Walk through the house from the front door")
    reach(page, page.locator("summary").filter(has_text="How this works"))
    keys.press("Enter")
    welcome.wait_for(state="hidden")
    reach(page, page.get_by_label("Your name"))
    keys.type("Ottilie")
    choose(page, page.get_by_label("Room", exact=True), "Libr")
    page.get_by_role("heading", name="Library").wait_for()
    for words, room in (("← Back", "Drawing Room"), ("On →", "Library")):
        reach(page, page.get_by_role("button", name=words), "Shift+Tab")
        keys.press("Enter")
        page.get_by_role("heading", name=room, exact=True).wait_for()
    for region in ("Library, as it is seen from", "Library, a little richer"):
        reach(page, page.get_by_role("region", name=region))
    reach(page, page.locator("figure summary").first)
    keys.press("Enter")
    page.locator("figure details[open]").first.wait_for()
    reach(page, page.get_by_label(RAIL))
    keys.press("Space")
    until(page, lambda: len(read_record(offered).answers) == 1)
    assert is_focused(page.get_by_label(RAIL))
    reach(page, page.get_by_label("Anything to add?"))
    keys.type("we read there")
    reach(page, page.get_by_role("button", name="Only my words"))
    keys.press("Enter")
    page.get_by_role("cell", name="we read there").wait_for()
    reach(page, page.get_by_role("button", name="A little richer"), "Shift+Tab")
    keys.press("Enter")
    page.get_by_text("Your answer on Library: a little richer, without a rail at chair height.").wait_for()
    last = read_record(offered).answers[-1]
    assert (last.answer, last.remark, last.wishes) == ("more", "we read there", (ElementWish("chair rail", False),))
    on_plan = page.get_by_label("Room on the plan")
    reach(page, on_plan)
    keys.type("Kitch")
    keys.press("Enter")
    page.get_by_role("heading", name="Kitchen").wait_for()
    reach(page, page.locator("summary").filter(has_text="Copy or download"))
    keys.press("Enter")
    csv = page.locator(".pl-take").get_by_text("CSV", exact=True)
    csv.wait_for()
    keys.press("Tab")
    with page.expect_download() as download:
        keys.press("Enter")
    assert download.value.suggested_filename.endswith(".csv")


def test_words_that_were_not_sent_are_let_go_by_keys(serve, page, offered):
    client(page, serve)
    reach(page, page.get_by_label("Anything to add?"))
    page.keyboard.type("half a thou")
    page.wait_for_timeout(500)
    page.reload()
    page.get_by_text("What you had written and not sent is back, at: Entry Hall.").wait_for()
    reach(page, page.get_by_role("button", name="Let go of these words"))
    page.keyboard.press("Enter")
    until(page, lambda: page.get_by_label("Anything to add?").input_value() == "")


def test_a_client_does_everything_by_touch(serve, phone, offered):
    page = client(phone, serve)
    page.locator("summary").filter(has_text="How this works").tap()
    page.get_by_text("Walk through the house from the front door").wait_for()
    page.get_by_label("Your name").tap()
    page.keyboard.type("Ottilie")
    choose_room(page, "Library")
    box = page.get_by_label(RAIL)
    box.scroll_into_view_if_needed()
    box.tap()
    until(page, lambda: len(read_record(offered).answers) == 1)
    page.get_by_label("Anything to add?").tap()
    page.keyboard.type("we read there")
    page.get_by_role("button", name="Only my words").tap()
    page.get_by_text("You added: we read there").or_(page.get_by_role("cell", name="we read there")).first.wait_for()
    page.locator("figure summary").first.tap()
    page.locator("figure details[open]").first.wait_for()
    page.get_by_role("button", name="A little richer").tap()
    page.get_by_text("Your answer on Library: a little richer, without a rail at chair height.").wait_for()
    page.get_by_role("button", name="← Back").tap()
    page.get_by_role("heading", name="Drawing Room").wait_for()
    chart = page.locator("canvas, svg.marks").first
    chart.scroll_into_view_if_needed()
    page.wait_for_timeout(500)
    here = chart.bounding_box()
    page.touchscreen.tap(here["x"] + 0.75 * here["width"], here["y"] + 0.2 * here["height"])
    page.get_by_role("heading", name="Kitchen").wait_for()
    assert page.evaluate(SIDEWAYS) == []
    small = page.evaluate(SMALL)
    assert small == []


SMALL = """() => {
    const all = root => [...root.querySelectorAll('*')].flatMap(e => [e, ...(e.shadowRoot ? all(e.shadowRoot) : [])]);
    return all(document).filter(e => e.matches('button, select, input, textarea, summary') && e.checkVisibility())
        .filter(e => !e.matches('[role=checkbox], [role=switch], [role=slider], [type=checkbox]'))
        .map(e => [e, e.getBoundingClientRect()])
        .filter(([e, box]) => box.width > 2 && Math.min(box.width, box.height) < 23.9)
        .map(([e, box]) => `${e.localName} ${e.textContent.slice(0, 30)} ${box.width} x ${box.height}`);
}"""
"""Controls that are smaller than a fingertip: 24 CSS pixels (W3C, WCAG 2.2, 2023, success criterion 2.5.8, from
memory); a box to tick is as large as the words beside it."""


def team(page, serve, *alternatives):
    named = [word for name in alternatives for word in ("--alternative", name)]
    page.goto(serve("compare", *named).url)
    page.get_by_role("row", name="Measured").or_(
        page.locator("summary", has_text="How near each comes")
    ).first.wait_for()
    page.locator("canvas, svg.marks").first.wait_for()
    return page


def turned(page, name):
    """Open a tab of the team's page by the arrow keys."""
    reach(page, page.get_by_role("tab", selected=True), "Shift+Tab")
    page.keyboard.press("Home")
    for _ in range(TABS.index(name)):
        page.keyboard.press("ArrowRight")
    page.get_by_role("tab", name=name, exact=True, selected=True).wait_for()


def test_a_team_does_everything_by_keys_alone(serve, page, folder):
    team(page, serve, "measured", "formal")
    keys = page.keyboard
    assert page.get_by_role("row", name="Easy").count() == 0
    reach(page, page.get_by_label("Alternatives (2 to 6)"))
    keys.press("Enter")
    page.get_by_role("option", name="easy").wait_for()
    keys.type("easy")
    keys.press("Enter")
    page.get_by_role("row", name="Easy").wait_for()
    keys.press("Escape")
    turned(page, "Sizes")
    reach(page, page.locator("summary").filter(has_text="Principal").first)
    keys.press("Enter")
    page.locator("details[open]").filter(has_text="Principal").first.wait_for()
    left_out = page.get_by_text("rows in which they are alike are left out")
    left_out.wait_for()
    reach(page, page.get_by_role("switch"), "Shift+Tab")
    keys.press("Space")
    left_out.wait_for(state="detached")
    for name in TABS:
        turned(page, name)
    turned(page, "What is said")
    reach(page, page.get_by_label("Your name"))
    keys.type("Bert")
    reach(page, page.get_by_label("What you say of it").first)
    keys.type("calm")
    reach(page, page.get_by_role("button", name="Say it").first)
    keys.press("Enter")
    page.get_by_text("Bert: calm").wait_for()
    for words, held in (("For it", ["for"]), ("Against it", ["against"]), ("Take my vote back", [])):
        reach(page, page.get_by_role("button", name=words).first)
        keys.press("Enter")
        until(page, lambda held=held: [vote.vote for vote in votes(read_record(folder), "measured")] == held)
        assert is_focused(page.get_by_role("button", name=words).first)
    assert [vote.vote for vote in read_record(folder).votes] == ["for", "against", "withdrawn"]


def test_a_team_does_everything_by_touch(serve, phone, folder):
    page = team(phone, serve, "measured", "formal")
    page.locator("summary").filter(has_text="How near each comes").tap()
    page.get_by_role("row", name="Formal").first.wait_for()
    page.get_by_label("Alternatives (2 to 6)").tap()
    page.get_by_role("option", name="easy").tap()
    page.get_by_role("row", name="Easy").first.wait_for()
    page.keyboard.press("Escape")
    page.get_by_role("switch").tap()
    until(page, lambda: page.get_by_role("switch").get_attribute("aria-checked") == "true")
    tab(page, "What matters")
    slider = page.get_by_role("slider").first
    slider.wait_for()
    track = slider.locator("xpath=ancestor::*[@data-orientation][last()]")
    track.scroll_into_view_if_needed()
    box = track.bounding_box()
    page.touchscreen.tap(box["x"] + 0.95 * box["width"], box["y"] + box["height"] / 2)
    until(page, lambda: int(slider.get_attribute("aria-valuenow")) > 8)
    tab(page, "What is said")
    page.get_by_label("Your name").tap()
    page.keyboard.type("Bert")
    _ballot(page)
    page.get_by_label("What you say of it").first.tap()
    page.keyboard.type("calm")
    page.get_by_role("button", name="Say it").first.tap()
    page.get_by_text("Bert: calm").wait_for()
    page.get_by_role("button", name="For it").first.tap()
    page.get_by_text("Bert: for").wait_for()
    assert [vote.vote for vote in votes(read_record(folder), "measured")] == ["for"]
    assert page.evaluate(SIDEWAYS) == []
    assert page.evaluate(SMALL) == []


def test_nothing_that_is_said_or_decided_breaks_a_serious_rule(addresses, chromium, offered):  # noqa: F811
    file = open_session(offered, "Bert")
    say(open_session(offered, "Ada"), "Ada", "measured", "Library", "more", "we read", [ElementWish("crown", False)])
    say(open_session(offered, "Ida"), "Ida", "measured", "Library", "less")
    keep(file, Vote(who="Bert", alternative="measured", fingerprint="", vote="against"))
    keep(file, Remark(who="Bert", alternative="measured", fingerprint="", remark="calm"))
    decide(offered, "Bert", read_intent(offered, "measured").name, "for the price")
    found = {}
    for width in (1440, 390):
        context = chromium.new_context(viewport={"width": width, "height": 1000})
        context.set_default_timeout(60_000)
        page = context.new_page()
        for app, act in ACTS.items():
            page.goto(addresses[app])
            page.locator("canvas, svg.marks").first.wait_for()
            act(page)
            page.evaluate(SCRIPT)
            page.wait_for_timeout(500)
            if some := violations(page):
                found[app, width] = some
        context.close()
    assert found == {}


def _answer(page):
    page.get_by_role("button", name="Keep it").first.click()
    page.get_by_text("Write your name first").wait_for()
    page.get_by_label("Your name").fill("Ottilie")
    choose_room(page, "Library")
    page.get_by_role("button", name="A little richer").click()
    page.get_by_text("Your answer on Library").wait_for()
    page.locator("figure summary").first.click()


def _ballot(page):
    """The first of the ballots, which a phone folds away where they are many."""
    ballot = page.get_by_label("What you say of it").first
    ballot.wait_for(state="attached")
    if not ballot.is_visible():
        page.locator("summary").filter(has_text=" for · ").first.click()


def _vote(page):
    tab(page, "What is said")
    _ballot(page)
    page.get_by_role("button", name="For it").first.click()
    page.get_by_text("Write your name first").wait_for()
    page.get_by_label("Your name").fill("Cy")
    page.get_by_role("button", name="For it").first.click()
    page.get_by_text("Cy: for").first.wait_for()


def _take(page):
    opened(page, _Here(page.url), "measured")
    tab(page, "Answers")
    page.get_by_role("button", name="Take it in as a pin for Ada on Library").click()
    page.get_by_text("Taken in as a pinned tier").first.wait_for()
    page.get_by_text("Decisions that hold").wait_for()


class _Here:
    """A page that is open already, as something that is served."""

    def __init__(self, url):
        self.url = f"{url}{'' if '?' in url else '?'}"


ACTS = {"review": _answer, "compare": _vote, "design": _take}
"""What is done in each app before its page is looked at."""
