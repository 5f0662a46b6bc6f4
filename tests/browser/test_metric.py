"""The designer's app of a metric house says no length in feet or inches, under any tab."""

import shutil

from planner import demo_house
from planner.apps.tabs import TABS
from tests.browser.driving import counted, opened, tab
from tests.metric import INCHES, metric

SAID = """() => {
  const said = [], sources = new Set();
  const walk = (node) => {
    if (node.nodeType === Node.TEXT_NODE) said.push(node.data.trim());
    if (node.nodeType === Node.ELEMENT_NODE) {
      if (["STYLE", "SCRIPT"].includes(node.tagName)) return;
      for (const name of ["aria-label", "placeholder", "title"]) said.push(node.getAttribute(name) || "");
      if (node.tagName === "INPUT") said.push(node.value);
      if (node.shadowRoot) walk(node.shadowRoot);
    }
    if (node.nodeName === "TABLE") {
      const heads = [...node.querySelectorAll("th[scope=col]")].map((head) => head.textContent);
      if (heads.includes("Source"))
        for (const row of node.querySelectorAll("tr")) sources.add(row.children[heads.indexOf("Source")]);
    }
    for (const child of node.childNodes) if (!sources.has(child)) walk(child);
  };
  walk(document.body);
  return said.filter((text) => text && !text.startsWith("From: "));
}"""
"""All that is read on the page, in its controls, drawings and charts too, but for what quotes a source."""


def test_every_tab_of_a_metric_house_is_in_millimetres(serve, page, folder):
    shutil.rmtree(folder)
    metric(demo_house(), folder)
    opened(page, serve("design"))
    for name in TABS:
        tab(page, name)
        page.wait_for_load_state("networkidle")
        page.get_by_role("tab", name=counted(name), selected=True).wait_for()
        page.wait_for_timeout(4000)
        said = page.evaluate(SAID)
        assert [text for text in said if INCHES.search(text)] == [], name
        if name in ("Schedule", "Packages", "Walls"):
            assert any(" mm" in text for text in said), name
