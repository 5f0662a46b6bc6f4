"""The apps on a screen that is dark."""

import re

from tests.browser.driving import opened, tab
from tests.serving import Served

PAINT = (
    "e => [getComputedStyle(e).color, getComputedStyle(e).backgroundColor].map(c => c.match(/[\\d.]+/g).map(Number))"
)


def lightness(colour):
    """From 0, black, to 1, white; a browser gives it of 255 or of 1."""
    return sum(colour[:3]) / 3 / (255 if max(colour[:3]) > 1 else 1)


def test_controls_are_legible_where_the_framework_follows_a_dark_system(folder, chromium, tmp_path):
    settings = tmp_path / "marimo" / "marimo.toml"
    settings.parent.mkdir()
    settings.write_text('[display]\ntheme = "system"\n', "utf-8")
    served = Served("open", folder, XDG_CONFIG_HOME=str(tmp_path))
    context = chromium.new_context(color_scheme="dark")
    try:
        page = opened(context.new_page(), served)
        ink, paper = page.locator("select").first.evaluate(PAINT)
        assert abs(lightness(ink) - lightness(paper)) > 0.5
    finally:
        context.close()
        served.kill()


def test_a_drawing_is_as_light_as_the_page_that_it_is_on(serve, chromium):
    context = chromium.new_context(color_scheme="dark")
    try:
        page = opened(context.new_page(), serve("design"))
        tab(page, "Walk")
        paper = page.locator(".pl-drawing .f-paper").first.evaluate("e => getComputedStyle(e).fill")
        assert lightness([float(n) for n in re.findall(r"[\d.]+", paper)]) > 0.5
    finally:
        context.close()
