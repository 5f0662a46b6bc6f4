"""What a page loads ahead."""

import re

from planner.server.ahead import CHARTS, FILES, links, needed
from planner.server.doors import CLIENT


def test_a_part_is_needed_with_all_that_it_loads(tmp_path):
    (tmp_path / "part-1.js").write_text('import{a as b}from"./a-2.js";import"./b-3.js";import("./later.js")')
    (tmp_path / "a-2.js").write_text('import{c}from"./b-3.js";import d from"./part-1.js";import"./gone.js"')
    (tmp_path / "b-3.js").write_text("")
    assert sorted(needed(tmp_path, "part-*.js")) == ["a-2.js", "b-3.js", "part-1.js"]
    assert needed(tmp_path, "none-*.js") == []


def test_the_framework_s_part_that_draws_charts_is_loaded_ahead(browse):
    link = browse(CLIENT).get("/review/").headers["link"]
    names = re.findall(r"<\./assets/([^>]+)>; rel=modulepreload", link)
    assert link == links() and len(names) == link.count("<") > 1
    assert {name for name in names if re.match("vega-component|react-vega", name)} <= set(needed(FILES, CHARTS))
    assert sum((FILES / name).stat().st_size for name in names) > 500_000


def test_what_the_page_asks_for_itself_is_not_asked_for_twice():
    page = (FILES.parent / "index.html").read_text("utf-8")
    assert not [name for name in re.findall(r"/([\w.-]+\.js)>", links()) if name in page]
