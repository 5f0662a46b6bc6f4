"""Pieces of HTML that the apps share. Every text is escaped here; whatever is Markup is taken as it is."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from html import escape
from importlib import resources
from itertools import chain

import altair as alt
import marimo as mo

from planner.charts import PICK, PICK_FIELD, FinishedChart
from planner.drawings.scene import Scene
from planner.drawings.svg import STYLE, svg
from planner.files.problems import Problem
from planner.look import theme

LOOK = resources.files("planner.apps").joinpath("look.css").read_text("utf-8")
"""The look of pieces, whatever the colours."""

DRESS = f"<style>{LOOK}\n{STYLE}</style>"
"""The look of pieces and of drawings, in the colours of the page that they are on."""

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


HIDDEN = "position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%)"
"""A style for words that are heard and not seen, written on the element itself, as a page's style does not reach the
labels of controls."""


def unseen(words: str) -> str:
    """Words that people typed as the label of a control that a table's heads tell to those who see it."""
    return f'<span style="{HIDDEN}">{plain(words)}</span>'


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


def control_or_said(widget: object, said: str) -> Markup:
    """A control, and for paper, which has none, what it says."""
    return Markup(control(widget) + element("span", said, class_="pl-paper"))


def heading(words: object) -> Markup:
    """The heading of a part of the page."""
    return element("h3", words, class_="pl-head")


def on_screen(*inner: object) -> Markup:
    """What speaks of controls and so stays off paper, as they do."""
    return element("div", *inner, class_="pl-own")


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


def folded(title: object, *inner: object, unfolded: bool = False) -> Markup:
    """What is folded away under its title, or stands unfolded at first."""
    opened = {"open": ""} if unfolded else {}
    return element("details", element("summary", title), *inner, class_="pl-fold", **opened)


class Held(mo.Html):
    """What is shown together with the controls in it, which live as long as it does."""

    def __init__(self, shown: mo.Html, *controls: object):
        super().__init__(shown.text)
        self.controls = controls


def later(make: Callable[[], object]) -> mo.lazy:
    """What is made when it is looked at. It stands where the page's own style does not reach, and brings it along."""
    return mo.lazy(lambda: show(DRESS, control(make())), show_loading_indicator=True)


def folds(inner: Mapping[str, object]) -> Held:
    """Things folded away, each under its title."""
    return Held(show(*(folded(title, control(thing)) for title, thing in inner.items())), *inner.values())


def beside(*items: object, gap: float = 0.5) -> mo.Html:
    """Things side by side, in as many rows as the screen needs."""
    return mo.hstack(items, justify="start", align="center", gap=gap, wrap=True)


def some(names: Sequence[str], most: int = 12) -> str:
    """The first of many names, and how many more there are.

    >>> some(["Hall", "Den", "Bath"], 1)
    'Hall and 2 more'
    """
    return ", ".join(names) if len(names) <= most else f"{', '.join(names[:most])} and {len(names) - most:,} more"


def charts_beside(*charts: object) -> mo.Html:
    """Charts side by side, hung from one line."""
    return mo.hstack(charts, justify="start", align="start", gap=2, wrap=True)


def listed(items: Iterable[object], tag: str = "ul") -> Markup:
    """A list, one item a line."""
    return element(tag, *(element("li", item) for item in items))


MOST_FAULTS = 8
"""Faults of a list that stand unfolded."""

MOST_ON_A_PHONE, MOST_OF_SENTENCES = 4, 2
"""Columns that a phone shows side by side, and where there are sentences in them."""

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
    of many columns, or of sentences, stand one below the other, each under what heads it.

    `numbers` are the columns set to the right, `marked` the rows (from 0) that stand out; `label` names a table whose
    caption stands elsewhere.
    """
    right, marked, rows = {columns.index(name) for name in numbers}, set(marked), [*rows]
    head = element("tr", *(_cell("th", name, i in right, scope="col") for i, name in enumerate(columns)))
    body = []
    for number, row in enumerate(rows):
        first, *others = row
        cells = [_cell("th", first, 0 in right, scope="row")]
        cells += [_cell("td", value, i in right, data_head=columns[i]) for i, value in enumerate(others, 1)]
        body.append(element("tr", *cells, **({"class_": "pl-marked"} if number in marked else {})))
    title = [element("caption", caption)] if caption else []
    inner = element("table", *title, element("thead", head), element("tbody", *body))
    kind = "pl-table pl-stacked" if is_stacked(columns, rows) else "pl-table"
    return element("div", inner, class_=kind, tabindex="0", role="region", aria_label=caption or label or "table")


def is_stacked(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> bool:
    """Whether the cells of a row stand one below the other on a phone.

    >>> is_stacked(["Room", "Tier"], [["Hall", 3]]), is_stacked(["Room", "A", "B", "C", "D"], [])
    (False, True)
    """
    many = MOST_OF_SENTENCES if any(map(_is_said, chain.from_iterable(rows))) else MOST_ON_A_PHONE
    return len(columns) > many


def _cell(tag: str, value: object, right: bool, **attributes: str) -> Markup:
    kinds = ["pl-number"] * right + ["pl-said"] * (_is_said(value) and not right)
    kinds += ["pl-lines"] * (isinstance(value, str) and "\n" in value and not isinstance(value, Markup))
    return element(tag, value, **attributes, **({"class_": " ".join(kinds)} if kinds else {}))


def _is_said(value: object) -> bool:
    """Whether a cell is a sentence."""
    return isinstance(value, str) and not isinstance(value, Markup) and len(value) > SENTENCE


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


def problems(found: Iterable[Problem], caption: str = "Faults") -> Markup:
    """Faults by file, row and column, each with what would be right; the first of many, and the others folded away."""
    every = list(found)
    first, others = _problems(every[:MOST_FAULTS], caption), every[MOST_FAULTS:]
    return Markup(first + folded(f"{len(others)} more", _problems(others, "More of them"))) if others else first


def _problems(found: Iterable[Problem], caption: str) -> Markup:
    return table(
        ["File", "Row", "Column", "What is wrong", "What would be right"],
        ([p.file, p.row, p.column, p.message, p.remedy] for p in found),
        caption=caption,
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
    return element(
        "div", Markup(svg(scene, styled=False)), class_=kind, tabindex="0", role="region", aria_label=scene.title
    )


def tier(number: int, name: str) -> Markup:
    """A tier as number and name."""
    return element("span", element("b", number), f" {name}", class_="pl-tier")


def style(dark: bool = False) -> Markup:
    """The look of all pieces and drawings, once a page."""
    look = theme.palette(dark)
    colours = {"paper": look.paper, "ink": look.ink, "soft": look.soft, "faint": look.faint, "alarm": look.alarm}
    framework = {"text-font": theme.FONT, "heading-font": theme.FONT, "background": look.paper, "foreground": look.ink}
    framework |= {"ring": look.ink, "muted-foreground": look.soft, "muted": look.paper}
    own = "; ".join(f"--pl-{name}: {value}" for name, value in colours.items())
    theirs = "; ".join(f"--{name}: {value}" for name, value in framework.items())
    return Markup(f"<style>:root {{ {own}; {theirs}; }}</style>{DRESS}")
