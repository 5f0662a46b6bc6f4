"""What is left when a server ends in the middle of the work; the last of these files, for it takes the server away."""

from planner import Wish
from planner.intent.drafts import open_alternative
from tests.browser.driving import controls, opened, until


def test_a_change_is_on_the_disk_when_the_server_is_killed(serve, page, folder):
    served = serve("design")
    opened(page, served, "measured")
    controls(page, "Library").nth(2).select_option("3")
    until(page, lambda: "kept as a draft" in page.locator(".pl-title").inner_text())
    served.kill()
    assert open_alternative(folder, "measured").history.present.rooms["Library"] == Wish(highest=3)


def test_a_page_whose_server_is_gone_says_that_nothing_more_is_kept(serve, chromium):
    served = serve("review")
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    try:
        page = context.new_page()
        page.goto(served.url)
        page.get_by_label("Anything to add?").fill("the dado, please")
        said = page.get_by_role("alert").filter(has_text="has lost its server")
        assert said.count() == 0
        served.kill()
        said.wait_for()
        assert page.get_by_text("kernel").locator("visible=true").count() == 0
        assert page.get_by_label("Anything to add?").input_value() == "the dado, please"
    finally:
        context.close()
