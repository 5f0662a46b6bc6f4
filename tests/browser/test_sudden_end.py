"""What is left when a server ends in the middle of the work; the last of these files, for it takes the server away."""

import pytest

from planner import Wish
from planner.intent.drafts import open_alternative
from tests.browser.driving import controls, opened, until

pytestmark = pytest.mark.browser


def test_a_change_is_on_the_disk_when_the_server_is_killed(serve, page, folder):
    served = serve("design")
    opened(page, served, "measured")
    controls(page, "Library").nth(2).select_option("3")
    until(page, lambda: "kept as a draft" in page.locator(".pl-title").inner_text())
    served.kill()
    assert open_alternative(folder, "measured").history.present.rooms["Library"] == Wish(highest=3)
