"""One room on the client's page: as it is seen from its door, as it is planned, a little plainer and a little richer,
what each would change, and what the client is asked of it."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import marimo as mo

from planner.apps import notes, pages, screen
from planner.apps.presses import Steps
from planner.deliverables.client_words import ANSWER_OF, WORDS, cost_change, reply_words
from planner.drawings.beside import Beside, Side, beside
from planner.drawings.perspective import perspective
from planner.planning.answer import Plan
from planner.planning.walking import walk
from planner.record.entries import Answer, ElementWish, Reply
from planner.record.one_step import one_wish
from planner.record.taking import possible_wishes
from planner.units import listed

WAYS = {
    1: "Its best wall, in the one way that can be had:",
    2: "Its best wall in two ways, at one scale. Which would you have?",
    3: "Its best wall in three ways, at one scale. Which would you have?",
}
"""What is said above so many drawings: where there is one, nothing is to be chosen."""

SIDES = 850
"""On a wide screen the three drawings are laid out for so wide a page, and made a little smaller [px]."""


@dataclass(frozen=True)
class Pictures:
    """A room's drawings as HTML: as it is seen from its door, and its best wall in three steps."""

    view: pages.Markup
    walls: Beside
    drawn: Mapping[str, pages.Markup]


def pictures(base: Plan, room: str, dark: bool, width: int) -> Pictures:
    """The drawings of a room of a plan, for a page with charts so wide."""
    narrow = width == screen.NARROW_CHART
    walls = beside(base, room, width if narrow else SIDES)
    drawn = {str(side.which): pages.drawing(side.scene, dark) for side in walls.sides if side.scene is not None}
    return Pictures(pages.drawing(perspective(base, room, screen.page(width)), dark), walls, drawn)


def steps(base: Plan, room: str, pick: Callable[[Callable[[str], str]], None]) -> list[Steps]:
    """Back and on, through the house from the front door, a room with each press; `pick` is told how a room leads to
    the next."""
    order = walk(base)

    def step(words: str, by: int) -> Steps:
        def beyond(at: str) -> str:
            to = order.index(at) + by if at in order else 0
            return order[max(0, min(to, len(order) - 1))]

        return Steps(words, lambda: pick(beyond), disabled=beyond(room) == room)

    return [step("← Back", -1), step("On →", 1)]


def where(base: Plan, room: str) -> mo.Html:
    """How far the walk has come."""
    order = walk(base)
    return pages.show(pages.element("span", f"{order.index(room) + 1} of {len(order)}", class_="pl-hint"))


def answer_buttons(shown: Beside, answer: Callable[[str | None], None]) -> dict[str, mo.ui.button]:
    """A button for each answer, by the drawing that it stands below, none for what cannot be had; and one for a remark
    alone, which answers None.
    """
    buttons = {
        side.which: mo.ui.button(label=WORDS[ANSWER_OF[side.which]], on_click=_answering(ANSWER_OF[side.which], answer))
        for side in shown.sides
        if side.scene is not None
    }
    return buttons | {"words": mo.ui.button(label="Only my words", on_click=_answering(None, answer))}


def _answering(word: str | None, answer: Callable[[str | None], None]) -> Callable[[object], None]:
    return lambda _: answer(word)


def wish_boxes(base: Plan, room: str, before: Answer | None, answer: Callable[..., None]) -> list[mo.ui.checkbox]:
    """A box for each single wish that the designer leaves open here and that can be had, or was wished for before; one
    that is set or unset is kept at once, by an `answer` of these `wishes`.
    """
    held = set(before.wishes if before else ())
    offered = [one for one in _open_wishes(base, room) if one in held or one_wish(base, room, one).planned]

    def told(one: ElementWish) -> Callable[[bool], None]:
        def set_to(on: bool) -> None:
            (held.add if on else held.discard)(one)
            answer(wishes=tuple(each for each in offered if each in held))

        return set_to

    return [mo.ui.checkbox(value=one in held, label=wished(base, one), on_change=told(one)) for one in offered]


def _open_wishes(base: Plan, room: str) -> list[ElementWish]:
    """The single wishes that the designer leaves open in a room."""
    return [one for one in possible_wishes(base, room) if one.element in base.intent.offered]


def wished(base: Plan, wish: ElementWish) -> str:
    """A single wish in words that need no trade."""
    kind = base.library.element(wish.element)
    return f"{kind.told[:1].upper()}{kind.told[1:]} here" if wish.wanted else f"No {kind.bare} here"


def question(
    folder: Path,
    base: Plan,
    room: str,
    shown: Pictures,
    buttons: Mapping[str, mo.ui.button],
    boxes: Sequence[mo.ui.checkbox],
    remark: mo.ui.text_area,
) -> mo.Html:
    """The room from its door, three ways to have it with what each changes, and what else the client may say of it."""
    noted = notes.room(folder, base.house, room, client=True)
    had = [side for side in shown.walls.sides if side.scene is not None]
    sides = [_figure(base, side, shown, buttons[side.which]) for side in had]
    abreast = "pl-sides pl-abreast" if shown.walls.abreast else "pl-sides"
    missing = [_missing(side) for side in shown.walls.sides if side.scene is None]
    found = [
        pages.show(
            pages.heading(room),
            pages.element("p", "As you see it from the door, as it is planned:", class_="pl-hint"),
            shown.view,
            pages.element("p", WAYS[len(had)]),
            pages.element("div", *sides, class_=abreast),
            *missing,
        )
    ]
    if boxes:
        found.append(pages.show(pages.element("p", "Or only this:")))
        found.append(pages.beside(*boxes))
    if unmet := [_unmet(base, one, why) for one in _open_wishes(base, room) if (why := one_wish(base, room, one).why)]:
        found.append(pages.show(*unmet))
    return mo.vstack([*found, remark, buttons["words"], pages.show(noted)])


def _missing(side: Side) -> pages.Markup:
    """Why one of the three ways cannot be had."""
    return pages.element("p", f"{WORDS[ANSWER_OF[side.which]]}: {side.says}", class_="pl-hint")


def _unmet(base: Plan, wish: ElementWish, why: str) -> pages.Markup:
    """Why a single wish cannot be had."""
    return pages.element("p", f"{wished(base, wish)}: {why}", class_="pl-hint")


def _figure(base: Plan, side: Side, shown: Pictures, button: mo.ui.button) -> pages.Markup:
    """One of the three ways: its drawing, what differs, what comes with it, and the button to choose it."""
    first, _, more = side.says.partition("; ")
    said = [pages.element("p", first)]
    said += [pages.folded("And in smaller things", pages.element("p", more))] if more else []
    comes = pages.element("p", _effect(base, side), class_="pl-hint") if side.step else ""
    drawing = pages.element("div", shown.drawn[side.which])
    caption = pages.element("figcaption", comes, *said)
    return pages.element("figure", drawing, pages.control(button), caption, data_side=side.which)


def _effect(base: Plan, side: Side) -> str:
    """What choosing a step does to other rooms and to the cost of the whole house."""
    step = side.step
    if step is None:
        return ""
    richer = [room for room, (was, now) in step.moves.items() if now > was]
    plainer = [room for room, (was, now) in step.moves.items() if now < was]
    follow = [
        f"{listed(rooms)} would become {how}" for rooms, how in ((richer, "richer"), (plainer, "plainer")) if rooms
    ]
    words = "; ".join(follow) if follow else "No other room changes"
    return f"{words}. The trim of the house would cost {cost_change(step.cost, base.cost)}."


def replied(replies: Iterable[Reply], room: str) -> mo.Html | None:
    """What the designer says to the client's answers on a room."""
    words = [reply_words(one) for one in replies if one.room == room]
    if not words:
        return None
    return pages.show(pages.note("quiet", pages.element("p", "Your designer says:"), pages.listed(words)))
