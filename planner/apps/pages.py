"""Pieces of HTML that the apps share. Every text is escaped here; whatever is Markup is taken as it is."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from html import escape

import altair as alt
import marimo as mo

from planner.charts import PICK, PICK_FIELD, FinishedChart
from planner.drawings.scene import Scene
from planner.drawings.svg import svg
from planner.files.problems import Problem
from planner.look import theme

VEGA_LITE = f"application/vnd.vegalite.{alt.SCHEMA_VERSION.partition('.')[0]}+json"
"""The kind of data that a chart's specification is."""

EMBEDDED = {"embedOptions": {"actions": False, "ast": True}}
"""How the browser shows a chart: without a menu, its expressions interpreted, so that no page need compile any."""

SIDE_BY_SIDE = "display: flex; flex-wrap: wrap; gap: 1rem; align-items: end"
"""A style written on the element itself, for what stands where the page's own style does not reach, as in a fold."""


class Markup(str):
    """Text that is HTML already."""


def text(value: object) -> Markup:
    """Any value as HTML text; None is blank.

    >>> text("<b> & 'Hall'")
    '&lt;b&gt; &amp; &#x27;Hall&#x27;'
    """
    return value if isinstance(value, Markup) else Markup(escape("" if value is None else str(value)))


def plain(words: str) -> str:
    """Words that people typed as the label of a control, which the framework reads as Markdown: shown as they are.

    >>> plain("[a](b)")
    '&#91;a&#93;&#40;b&#41;'
    """
    return "".join(c if c.isalnum() or c == " " else f"&#{ord(c)};" for c in words)


def element(tag: str, *inner: object, **attributes: str) -> Markup:
    """One element.

    >>> element("p", "a < b", class_="note")
    '<p class="note">a &lt; b</p>'
    """
    given = "".join(f' {name.rstrip("_").replace("_", "-")}="{escape(str(v))}"' for name, v in attributes.items())
    return Markup(f"<{tag}{given}>{''.join(map(text, inner))}</{tag}>")


def show(*pieces: str) -> mo.Html:
    """Pieces one below the other, as a cell's output."""
    return mo.Html(str("".join(pieces)))


def control(widget: object) -> Markup:
    """A control to be set among pieces, in a table's cell for instance."""
    return Markup(mo.as_html(widget).text)


def heading(words: object) -> Markup:
    """The heading of a part of the page."""
    return element("h3", words, class_="pl-head")


class Drawn:
    """A chart to be looked at; `instead` replaces parts of its specification such as its title."""

    def __init__(self, chart: FinishedChart, **instead: object):
        self.whole = chart.properties(**instead, usermeta=EMBEDDED).to_dict()

    def _mime_(self) -> tuple[str, str]:
        """What marimo shows."""
        return VEGA_LITE, json.dumps(self.whole)


def clicked(chart: FinishedChart, pick: Callable[[str], None], **instead: object) -> mo.ui.altair_chart:
    """A chart as a control: a click on a room calls `pick` with its name; `instead` is as in Drawn."""

    def told(_: object) -> None:
        if rooms := live.selections.get(PICK, {}).get(PICK_FIELD.replace(".", "\\.")):
            pick(str(rooms[0]))

    whole = chart.properties(**instead, usermeta=EMBEDDED)
    live = mo.ui.altair_chart(whole, chart_selection=False, legend_selection=False, on_change=told)
    return live


def folds(inner: Mapping[str, object]) -> mo.accordion:
    """Things folded away, each under its title."""
    return mo.accordion({plain(title): thing for title, thing in inner.items()}, multiple=True)


def folded(title: object, *inner: object, unfolded: bool = False) -> Markup:
    """What is folded away under its title, or stands unfolded at first."""
    opened = {"open": ""} if unfolded else {}
    return element("details", element("summary", title), *inner, class_="pl-fold", **opened)


class Held(mo.Html):
    """What is shown together with the controls in it, which live as long as it does."""

    def __init__(self, shown: mo.Html, *controls: object):
        super().__init__(shown.text)
        self.controls = controls


def beside(*items: object, gap: float = 0.5) -> mo.Html:
    """Things side by side, in as many rows as the screen needs."""
    return mo.hstack(items, justify="start", align="center", gap=gap, wrap=True)


def charts_beside(*charts: object) -> mo.Html:
    """Charts side by side, hung from one line."""
    return mo.hstack(charts, justify="start", align="start", gap=2, wrap=True)


def listed(items: Iterable[object], tag: str = "ul") -> Markup:
    """A list, one item a line."""
    return element(tag, *(element("li", item) for item in items))


MOST_ON_A_PHONE = 4
"""Columns that a phone shows side by side."""

SENTENCE = 60
"""A cell of more characters has room for a line of some words, on a phone too."""


def table(
    columns: Sequence[str],
    rows: Iterable[Sequence[object]],
    caption: str = "",
    numbers: Iterable[str] = (),
    marked: Iterable[int] = (),
    label: str = "",
) -> Markup:
    """A table that scrolls sideways where it is too wide; the first column names the row. On a phone the cells of one
    of many columns stand one below the other, each under what heads it.

    `numbers` are the columns set to the right, `marked` the rows (from 0) that stand out; `label` names a table whose
    caption stands elsewhere.
    """
    right, marked = {columns.index(name) for name in numbers}, set(marked)
    head = element("tr", *(_cell("th", name, i in right, scope="col") for i, name in enumerate(columns)))
    body = []
    for number, row in enumerate(rows):
        first, *others = row
        cells = [_cell("th", first, False, scope="row")]
        cells += [_cell("td", value, i in right, data_head=columns[i]) for i, value in enumerate(others, 1)]
        body.append(element("tr", *cells, **({"class_": "pl-marked"} if number in marked else {})))
    title = [element("caption", caption)] if caption else []
    inner = element("table", *title, element("thead", head), element("tbody", *body))
    kind = "pl-table pl-stacked" if len(columns) > MOST_ON_A_PHONE else "pl-table"
    return element("div", inner, class_=kind, tabindex="0", role="region", aria_label=caption or label or "table")


def _cell(tag: str, value: object, right: bool, **attributes: str) -> Markup:
    said = isinstance(value, str) and len(value) > SENTENCE
    kind = "pl-number" if right else "pl-said" if said and not isinstance(value, Markup) else ""
    return element(tag, value, **attributes, **({"class_": kind} if kind else {}))


def figures(rows: Iterable[tuple[str, object, object]]) -> Markup:
    """Headline figures: label, value, and what the value means."""
    return element(
        "dl",
        *(
            element("div", element("dt", label), element("dd", element("b", value), " ", element("span", note)))
            for label, value, note in rows
        ),
        class_="pl-figures",
    )


def problems(found: Iterable[Problem]) -> Markup:
    """Faults by file, row and column, each with what would be right."""
    return table(
        ["File", "Row", "Column", "What is wrong", "What would be right"],
        ([p.file, p.row, p.column, p.message, p.remedy] for p in found),
        caption="Faults",
        numbers=["Row"],
    )


def unready(found: Iterable[Problem]) -> Markup:
    """What stands in the place of a house that has faults."""
    said = "This house cannot be planned yet. Mend what is listed, then load the page again."
    return Markup(note("alarm", said) + problems(found))


def note(kind: str, *inner: object) -> Markup:
    """A boxed note: "alarm" for what must be seen to, "quiet" for the rest."""
    return element("div", *inner, class_=f"pl-note pl-{kind}", role="alert" if kind == "alarm" else "note")


def drawing(scene: Scene, dark: bool = False) -> Markup:
    """A drawing as large as it was laid out for; where the page is narrower it is scrolled, so that it can be read."""
    kind = f"pl-drawing {'dark' if dark else 'light'}"
    return element("div", Markup(svg(scene)), class_=kind, tabindex="0", role="region", aria_label=scene.title)


def tier(number: int, name: str) -> Markup:
    """A tier as number and name."""
    return element("span", element("b", number), f" {name}", class_="pl-tier")


def style(dark: bool = False) -> Markup:
    """The look of all pieces, once a page."""
    look = theme.palette(dark)
    return Markup(
        f"""<style>
:root {{ --pl-paper: {look.paper}; --pl-ink: {look.ink}; --pl-soft: {look.soft}; --pl-faint: {look.faint};
  --pl-alarm: {look.alarm}; --text-font: {theme.FONT}; --heading-font: {theme.FONT};
  --background: {look.paper}; --foreground: {look.ink}; --ring: {look.ink}; }}
.pl-title h1 {{ font-size: 1.6rem; margin: 0; line-height: 1.2; overflow-wrap: anywhere; }}
.pl-title p {{ margin: .2rem 0 0; color: var(--pl-soft); overflow-wrap: anywhere; }}
.pl-figures {{ display: grid; grid-template-columns: repeat(auto-fit, minmax(9rem, 1fr)); gap: .5rem 1.5rem;
  margin: .75rem 0 0; padding: .6rem 0; border: solid var(--pl-faint); border-width: 1px 0; }}
.pl-figures dt {{ color: var(--pl-soft); font-size: .8rem; }}
.pl-figures dd {{ margin: 0; }}
.pl-figures b {{ font-size: 1.25rem; font-variant-numeric: tabular-nums; }}
.pl-figures span {{ color: var(--pl-soft); font-size: .85rem; }}
.pl-table {{ overflow-x: auto; max-width: 100%; }}
.pl-table table {{ border-collapse: collapse; font-size: .9rem; margin: 0; }}
.pl-table caption {{ text-align: left; font-weight: 600; padding: .3rem 0; }}
.pl-table th, .pl-table td {{ padding: .25rem .6rem; border-bottom: 1px solid var(--pl-faint); text-align: left;
  vertical-align: middle; }}
.pl-table thead th {{ color: var(--pl-soft); font-weight: normal; vertical-align: bottom; }}
.pl-columns {{ display: flex; flex-wrap: wrap; gap: 1rem 2rem; }}
.pl-columns > div {{ flex: 1 1 13rem; max-width: 24rem; }}
.pl-cell {{ max-width: 9.5rem; overflow: hidden; }}
.pl-table td:has(.pl-cell) {{ padding-inline: .3rem; min-width: 6.5rem; }}
.pl-table tbody th {{ font-weight: normal; max-width: 16rem; min-width: 6rem; overflow-wrap: anywhere; }}
.pl-table .pl-number {{ text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }}
.pl-marked {{ background: color-mix(in srgb, var(--pl-faint) 45%, transparent); }}
.pl-table thead .pl-number {{ white-space: normal; }}
.pl-table .pl-said {{ min-width: 17rem; }}
.pl-head {{ font-weight: 600; font-size: 1.05rem; margin: .2rem 0; overflow-wrap: anywhere; }}
.pl-room > * {{ margin-bottom: .6rem; }}
.pl-tier {{ white-space: nowrap; }}
.pl-note {{ border-left: 4px solid var(--pl-soft); padding: .4rem .8rem; margin: .3rem 0;
  overflow-wrap: anywhere; }}
.pl-note.pl-alarm {{ border-color: var(--pl-alarm); }}
.pl-note p {{ margin: .2rem 0; }}
.pl-note ul {{ margin: .2rem 0; padding-left: 1.2rem; list-style: disc; }}
.pl-narrow {{ display: none; height: 1px; overflow: hidden; }}
@media (max-width: 700px) {{
  .pl-narrow {{ display: block; }}
  .pl-table th, .pl-table td {{ padding: .25rem .3rem; }}
  .pl-stacked thead {{ position: absolute; clip-path: inset(50%); }}
  .pl-stacked :is(tr, th, td) {{ display: block; }}
  .pl-stacked tr {{ padding: .3rem 0; border-bottom: 1px solid var(--pl-faint); }}
  .pl-stacked :is(th, td) {{ border: 0; padding: .1rem 0; }}
  .pl-stacked tbody th {{ font-weight: 600; max-width: none; }}
  .pl-stacked td:empty {{ display: none; }}
  .pl-stacked td::before {{ content: attr(data-head) ": "; color: var(--pl-soft); }}
  .pl-stacked .pl-number {{ text-align: left; }}
  .pl-stacked .pl-said {{ min-width: 0; }}
}}
.pl-hint {{ color: var(--pl-soft); font-size: .85rem; margin: .2rem 0 0; }}
.pl-drawing {{ overflow-x: auto; max-width: 100%; }}
.pl-drawing:focus-visible, .pl-table:focus-visible, summary:focus-visible {{ outline: 2px solid var(--pl-ink);
  outline-offset: 2px; }}
.pl-fold {{ border-bottom: 1px solid var(--pl-faint); padding: .3rem 0; overflow-wrap: anywhere; }}
.pl-fold > summary {{ cursor: pointer; padding: .25rem 0; min-height: 24px; }}
.pl-fold p, .pl-fold ul {{ margin: .2rem 0 .2rem 1.1rem; }}
.pl-fold ul {{ list-style: disc; padding-left: 1rem; columns: 17rem auto; }}
.pl-help ol {{ padding-left: 1.3rem; margin: .3rem 0; list-style: decimal; }}
</style>"""
    )
