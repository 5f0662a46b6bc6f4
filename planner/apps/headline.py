"""The head of the designer's page: what is planned and how good it is, and what has to be told before all else."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from urllib.parse import quote

import marimo as mo

from planner.apps import houses, moves, pages, views
from planner.apps.changes import Act, Changes
from planner.apps.desk import Desk, Theirs, ways_out
from planner.apps.houses import Opened
from planner.apps.presses import Steps
from planner.apps.typed import Typed
from planner.charts.parts import MOST_ROOMS
from planner.files.problems import Problem, words_of
from planner.intent.drafts import Draft
from planner.intent.folder import free_title
from planner.intent.model import Intent
from planner.intent.words import difference
from planner.planning.answer import Plan
from planner.units import METRIC, counted

FIVE_LINES = (
    "The plan shows every room's tier: 1 is the plainest, the highest number the most formal.",
    "Under it, every room by its steps from the entry and its tier: the lines fall where the tiers step down.",
    "Under Rooms, pin a room or give it a range; under Weights, say what counts.",
    "Click a room on the plan, then One room: why it has its tier, and what another would take.",
    "Every change replans the house and is kept as a draft; Save as new makes an alternative of it.",
)

LINES_OF_A_HOUSE_THAT_IS_BEGUN = (
    "Under House, say what it is called and how high its ceilings are.",
    "Add its rooms, drag them to their places, and put doors and windows on walls by a click.",
    "Save the house: this plan then shows the tier of every room.",
)

APPS = {"review": "What the client sees", "compare": "What the team compares"}
"""The other apps, by their names in addresses."""

LINK = "text-decoration: underline"
"""The framework takes from links what shows that they are some."""


HOUSE_DEFAULTS = "(as the house stands)"
"""What is open where no alternative is."""


def alternatives(names: Iterable[str], changes: Changes, told: Callable[[Act], Act]) -> mo.ui.dropdown:
    """The alternatives of the house, of which one is open, though somebody may have removed it; `told` is as
    `changes.addressed` gives it."""
    at_work = changes.desk.intent.name or HOUSE_DEFAULTS
    return mo.ui.dropdown(
        [*dict.fromkeys([HOUSE_DEFAULTS, *names, at_work])],
        value=at_work,
        label="Alternative",
        on_change=told(lambda name: changes.open("" if name == HOUSE_DEFAULTS else name)),
    )


def steps(changes: Changes, told: Callable[[Act], Act], typed: Typed) -> list[mo.ui.button | mo.ui.text]:
    """What is done with the alternative as a whole: undone, made again, saved, and saved under a new title."""
    new_title = mo.ui.text(
        value=typed.text("title"),
        placeholder="a new alternative",
        label="New title",
        on_change=typed.into("title"),
    )
    return [
        Steps("Undo", changes.undo),
        Steps("Redo", changes.redo),
        mo.ui.button(label="Save", on_click=told(lambda _: changes.save())),
        new_title,
        mo.ui.button(label="Save as new", on_click=told(lambda _: changes.save_as(new_title.value))),
    ]


def work(opened: Opened) -> str:
    """What is being done while a plan is made."""
    rooms = len(opened.house.rooms) if opened.house else 0
    return f"Planning {rooms} rooms" + (" and choosing their mouldings from stock" if opened.stock else "")


def headline(planned: Plan, desk: Desk, news: str, moved: Mapping[str, int], narrow: bool = False) -> mo.Html:
    """House, alternative, what has just happened, and the figures that sum the plan up, folded on a narrow screen.

    The walls of a house that is drawn in part are not looked at for it, so that its charts need not wait for them.
    """
    intent = desk.intent
    words = f"{intent.title or intent.name or 'as the house stands'} · {state(desk)} · "
    words += f"{planned.style} style, {planned.order} order, grade {planned.grade}"
    told = news in {words_of(desk.unkept), words_of(desk.unsaved)}  # beside the reason that the state gives
    said = " ".join(filter(None, ("" if told else news, moves.told(planned, moved))))
    others = [pages.element("p", *links)] if (links := list(_links())) else []
    title = pages.element("h1", planned.house.name), pages.element("p", words)
    head = pages.element("div", *title, *others, class_="pl-title")
    figures = [pages.figures(_figures(planned))] if planned.feasible else []
    figures = [pages.folded("What the plan comes to", *figures)] if narrow and figures else figures
    return pages.show(head, *figures, pages.element("p", said, class_="pl-news", role="status"))


def _links() -> Iterator[pages.Markup]:
    """Ways to the other apps, each in a window of its own."""
    for app, words in APPS.items():
        if app in houses.addresses():
            yield pages.element("a", words, href=houses.addresses()[app], target="_blank", style=LINK)
            yield pages.text(" ")


def state(desk: Desk) -> str:
    """Where the alternative on the desk is to be found, as it is true at this moment.

    What could not be written is told with the reason: what cannot be written in full says "not saved: …" or "not kept
    as a draft: …".
    """
    if desk.is_saved:
        return f"saved; its old draft could not be put away: {_why(desk.unkept)}" if desk.unkept else "saved"
    why = desk.theirs.words if desk.theirs else _why(desk.unsaved)
    saved = f"not saved: {why}" if why else "not saved"
    if desk.unkept:
        return f"{saved}; not kept as a draft: {_why(desk.unkept)}"
    return f"{saved}; kept as a draft" if desk.intent != desk.saved else saved


def _why(problems: Iterable[Problem]) -> str:
    return "; ".join(problem.message for problem in problems)


def _figures(planned: Plan) -> Iterator[tuple[str, object, str]]:
    reads = [passage.reads for passage in planned.passages]
    tiers = [room.tier for room in planned.rooms]
    best, budget = max(tiers), planned.intent.budget
    yield "Rooms", len(tiers), f"on {counted(len(planned.house.levels), 'level')}"
    highest = f"{planned.tier_names[best - 1]}, of {planned.intent.tiers}; in {counted(tiers.count(best), 'room')}"
    yield "Highest tier", best, highest
    proof = "tiers, summed over all rooms and steps that jump; "
    proof += "no plan has less (proved)" if planned.optimal else "not proved the least"
    yield (
        "Away from what all rooms ask for",
        f"{planned.objective.total:.2f}",
        proof,
    )
    jumps = f"of {len(reads)} between rooms; {reads.count('faint')} too small to see"
    yield "Steps that jump", reads.count("abrupt"), jumps
    if len(planned.rooms) <= MOST_ROOMS:
        cautions = sum(check.severity == "caution" for check in planned.checks)
        yield "To mend", len(planned.checks) - cautions, f"and {counted(cautions, 'caution')}"
    else:
        yield "To mend", "…", "counted under Checks"
    means = views.cost_means(planned)
    yield planned.cost_name, f"{planned.spent:,.0f}", f"of {budget:,.0f}; {means}" if budget else means


def help_lines(desk: Desk, begun: bool, narrow: bool) -> mo.Html:
    """A few lines for whoever is here for the first time: how a house that is only begun is drawn, or what the page of
    one that is drawn shows; unfolded where there is room and no alternative is at work.
    """
    lines, told = (LINES_OF_A_HOUSE_THAT_IS_BEGUN, "Three lines") if begun else (FIVE_LINES, "Five lines")
    summary = pages.element("summary", f"First time here? {told}")
    attributes = {} if narrow or desk.intent.name or desk.drafted else {"open": ""}
    return pages.show(pages.element("details", summary, pages.listed(lines, "ol"), class_="pl-help", **attributes))


def notes(
    opened: Opened,
    desk: Desk,
    faults: Sequence[Problem],
    ways_to_keep: Sequence[mo.ui.button],
    draft_ways: Sequence[Sequence[mo.ui.button]],
) -> mo.Html | None:
    """What there is to say of the work on the desk, the alternative, the stock, the house's tables and the drafts that
    were found, each with the buttons for what can be done.
    """
    found = [*_warnings(desk, ways_to_keep)]
    if faults:
        words = "The alternative asked for cannot be shown, so the house's own defaults are."
        found.append(pages.show(pages.note("alarm", words, pages.problems(faults))))
    if opened.stock_faults:
        step = "1 mm" if opened.unit in METRIC else "1/8 in"
        words = f"The stock has faults, so sizes are what style and order ask for, rounded to {step}."
        found.append(pages.show(pages.note("alarm", words, pages.problems(opened.stock_faults))))
    if opened.remarks:
        title = f"The house's files: {counted(len(opened.remarks), 'remark')}; the plan takes each as told here"
        found.append(pages.show(pages.folded(title, pages.problems(opened.remarks, "Remarks"))))
    if desk.fault:
        words = f"There is a draft that cannot be read, so what is saved is shown. {desk.fault}"
        found.append(pages.show(pages.note("alarm", words)))
    for words, buttons in zip(_drafts(desk), draft_ways, strict=True):
        found.append(pages.beside(pages.show(pages.note("quiet", words)), *buttons))
    return mo.vstack(found) if found else None


def _drafts(desk: Desk) -> list[str]:
    """What is said of the draft that was taken up, and of those of other sessions."""
    found = []
    if desk.drafted:
        found.append(f"Changes that were not saved, last touched {_moment(desk.drafted)}, are back as a draft.")
    for draft in desk.others:
        at_work = "Somebody is at work on this alternative too, here or in another window"
        words = at_work if draft.lasts else "There is another draft of this alternative, from a session that is gone"
        found.append(f"{words}; last touched {_moment(draft.touched)}.")
    return found


def ways_with_drafts(desk: Desk, changes: Changes) -> list[list[mo.ui.button]]:
    """What can be done with the draft that was taken up, and with those of other sessions; one that is at work keeps
    its own.
    """
    found = []
    if desk.drafted:
        found.append([mo.ui.button(label="Return to what is saved", on_click=lambda _: changes.revert())])
    return [*found, *(_ways_with(draft, changes) for draft in desk.others)]


def _ways_with(draft: Draft, changes: Changes) -> list[mo.ui.button]:
    look = "Go on from a copy of the draft" if draft.lasts else "Go on from it"
    ways = [mo.ui.button(label=look, on_click=lambda _: changes.take_up(draft))]
    if not draft.lasts:
        ways.append(mo.ui.button(label="Put it away", on_click=lambda _: changes.put_away(draft)))
    return ways


def _moment(time: datetime) -> str:
    return f"{time:%d %B at %H:%M}"


def ways_to_keep(
    desk: Desk, changes: Changes, told: Callable[[Act], Act], title: Callable[[], str]
) -> list[mo.ui.button]:
    """What can be done where the work on the desk is not where it should be; `told` is as `changes.addressed` gives it,
    `title` that of a new alternative.
    """
    if desk.theirs:
        mine = free_title(desk.folder, f"{desk.intent.title or desk.intent.name} 2")
        new = "Keep theirs, save mine as new"
        return [
            mo.ui.button(label=new, on_click=told(lambda _: changes.save_as(title().strip() or mine))),
            mo.ui.button(label="Overwrite theirs with mine", on_click=lambda _: changes.overwrite()),
            mo.ui.button(label="Keep theirs, put mine away", on_click=lambda _: changes.revert()),
        ]
    return [mo.ui.button(label="Try again", on_click=lambda _: changes.keep())] if desk.unkept else []


def _warnings(desk: Desk, ways: Sequence[mo.ui.button]) -> Iterator[mo.Html]:
    """That somebody else has saved the alternative, and what is theirs; or that the work is on the page alone."""
    if desk.theirs:
        yield pages.show(pages.note("alarm", *_theirs(desk, desk.theirs)))
    elif desk.unkept:
        words = "Your work is on this page alone until it can be written. Leave the page open, mend what is listed, "
        yield pages.show(pages.note("alarm", words + "then try again.", pages.problems(desk.unkept)))
    elif desk.unsaved:
        yield pages.show(pages.note("alarm", "It could not be saved.", pages.problems(desk.unsaved)))
    if ways:
        yield pages.beside(*ways)


def _theirs(desk: Desk, theirs: Theirs) -> Iterator[pages.Markup]:
    if theirs.data is None:
        yield pages.element("p", "Somebody has removed this alternative since you opened it.")
        return
    words = "Somebody else has saved this alternative since you opened it, so yours is not saved over it unasked."
    yield pages.element("p", words)
    if theirs.faults:
        yield pages.problems(theirs.faults)
        return
    differs = difference(desk.intent, theirs.intent, desk.unit) or "nothing"
    address = f"?alternative={quote(theirs.intent.name)}"
    link = pages.element("a", "Look at theirs in another window", href=address, target="_blank", style=LINK)
    yield pages.element("p", f"Against yours, theirs has: {differs}. ", link, ".")


def ways(planned: Plan, changes: Changes) -> list[mo.ui.button]:
    """For a house without a plan: a button for each wish whose loosening gives one."""
    return [
        _way(words[:1].upper() + words[1:], intent, changes)
        for words, intent in ways_out(planned.house, planned.intent, planned.stock, planned.library)
    ]


def _way(label: str, intent: Intent, changes: Changes) -> mo.ui.button:
    return mo.ui.button(label=pages.plain(label), on_click=lambda _: changes.put(intent))


def conflicts(planned: Plan, ways: Sequence[mo.ui.button]) -> mo.Html:
    """Which few wishes cannot all hold, and the ways out."""
    said = pages.note(
        "alarm",
        pages.element("p", pages.element("b", "No plan can keep all of these at once:")),
        pages.listed(planned.conflicts),
        pages.element("p", "Loosen one of them:" if ways else "No single wish gives a plan; undo the last ones."),
    )
    return mo.vstack([pages.show(said), mo.hstack(ways, justify="start", wrap=True)])
