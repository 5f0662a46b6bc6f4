"""A house as a page opens it."""

from planner.apps.houses import opened
from planner.apps.panels.weights import whole
from planner.house.styles import write_style


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
