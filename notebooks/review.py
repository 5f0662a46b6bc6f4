"""The client's app: how rich each room is, in plain words, and what the client would have otherwise."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="How rich each room is")

with app.setup:
    from pathlib import Path

    import altair as alt
    import marimo as mo

    from planner import HouseFault, Intent, charts, demo_house, list_intents, plan, read_house, read_intent
    from planner.apps import pages
    from planner.apps.reviews import ANSWERS, choices, latest, open_session, propose, read_reviews, say
    from planner.planning import frames
    from planner.stock.stock import usable_stock

    WORDS = {"keep": "Keep it", "more": "A little richer", "less": "A little plainer"}
    WIDE_CHART, NARROW_CHART = 590, 342


@app.cell
def _():
    alt.renderers.set_embed_options(actions=False)
    dark = mo.app_meta().theme == "dark"
    pages.show(pages.style(dark))
    return (dark,)


@app.cell
def _():
    get_narrow, set_narrow = mo.state(False)
    return get_narrow, set_narrow


@app.cell
def _(get_narrow):
    width = NARROW_CHART if get_narrow() else WIDE_CHART
    # Each is drawn, and so seen, only on a screen of the other width; see pages.style.
    seen_narrow = None if get_narrow() else mo.lazy("")
    pages.show(f'<div class="pl-narrow">{seen_narrow.text}&nbsp;</div>') if seen_narrow is not None else None
    return seen_narrow, width


@app.cell
def _(get_narrow):
    seen_wide = mo.lazy("") if get_narrow() else None
    pages.show(f'<div class="pl-wide">{seen_wide.text}&nbsp;</div>') if seen_wide is not None else None
    return (seen_wide,)


@app.cell
def _(seen_narrow, seen_wide, set_narrow):
    if seen_narrow is not None and seen_narrow.value:
        set_narrow(True)
    if seen_wide is not None and seen_wide.value:
        set_narrow(False)
    return


@app.function
def richness(tier, tiers):
    """A tier as filled and empty dots, and as words for those who hear the page."""
    dots = pages.element("span", "●" * tier + "○" * (tiers - tier), aria_hidden="true")
    return pages.element("span", dots, pages.element("span", f" {tier} of {tiers}"), class_="pl-tier")


@app.function
def plainly(title, subtitle):
    """A chart's title that needs no words of the trade."""
    return {"text": title, "subtitle": subtitle}


@app.cell
def _():
    folder = Path(mo.cli_args().get("house") or demo_house())
    _names = list_intents(folder)
    _asked = mo.cli_args().get_all("alternative")[:1]
    house, intent, _faults = None, Intent(), ()
    try:
        house, _ = read_house(folder)
        intent = read_intent(folder, _asked[0]) if _asked else Intent()
        stock, _ = usable_stock(folder, house.unit)
        base = plan(house, intent, stock)
    except HouseFault as _fault:
        house, base, stock, _faults = None, None, None, _fault.problems
    ready = house is not None and base.feasible
    _title = pages.element(
        "div",
        pages.element("h1", house.name if house else folder.name),
        pages.element("p", intent.title or intent.name or "As the house stands"),
        class_="pl-title",
    )
    if house is None:
        _said = pages.unready(_faults)
    elif not ready:
        _said = pages.note("alarm", "Your designer is not done with this yet.", pages.listed(base.conflicts))
    else:
        _said = pages.element(
            "p",
            "Trim is what frames a room: baseboards, door casings, crown. The more dots, the richer it is. ",
            "It is richest where guests arrive and gets plainer on the way to the bedrooms. ",
            "Choose a room, here or by clicking the plan, and say whether you would keep it, have a little more, ",
            "or a little less. Rooms beside it may follow. Every answer is kept at once for your designer.",
        )
    pages.show(_title + _said)
    return base, folder, house, intent, ready, stock


@app.cell
def _(folder, intent, ready):
    mo.stop(not ready)
    _said, _torn = read_reviews(folder)
    get_answers, set_answers = mo.state(latest(_said, intent.name), allow_self_loops=True)
    get_picked, set_picked = mo.state(None)
    sessions = {}
    pages.show(pages.note("quiet", pages.listed(_torn))) if _torn else None
    return get_answers, get_picked, sessions, set_answers, set_picked


@app.cell
def _(base, get_answers, house, intent, stock):
    answers = get_answers()
    _wished = propose(intent, base, answers.values())
    _after = plan(house, _wished, stock)
    planned = _after if _after.feasible else base
    pages.show(
        pages.note(
            "alarm",
            "Not all of your answers can be had together, so the plan below is the one before them. "
            "They are kept, and your designer will look for a way. What stands against it:",
            pages.listed(_after.conflicts),
        )
    ) if not _after.feasible else None
    return answers, planned


@app.cell
def _(base, ready):
    openings = frames.openings(base) if ready else None
    return (openings,)


@app.cell
def _(dark, openings, planned, width):
    _plan = charts.house_map(frames.rooms(planned), frames.passages(planned), openings, dark=dark, width=width)
    _walks = charts.step_down(frames.routes(planned), dark=dark, width=width)
    _most = len(planned.tier_names)
    floor = pages.live(_plan, title=plainly("Your house", f"1 is the plainest, {_most} the richest; click a room"))
    walks = pages.live(
        _walks, title=plainly("From the front door to each bedroom", "The longer the bar, the richer the room")
    )
    mo.hstack([floor, walks], justify="start", align="start", gap=2, wrap=True)
    return floor, walks


@app.cell
def _(floor, set_picked):
    _rooms = floor.selections.get(charts.PICK, {}).get(charts.PICK_FIELD.replace(".", "\\."))
    if _rooms:
        set_picked(_rooms[0])
    return


@app.cell
def _(ready):
    mo.stop(not ready)
    reviewer = mo.ui.text(label="Your name", placeholder="so that your designer knows who said it")
    reviewer
    return (reviewer,)


@app.cell
def _(get_picked, house, set_picked):
    _names = [room.name for room in house.rooms]
    _picked = get_picked() if get_picked() in _names else house.entries[0]
    room_choice = mo.ui.dropdown(_names, value=_picked, label="Room", on_change=set_picked)
    room_choice
    return (room_choice,)


@app.cell
def _(get_picked, house):
    picked = get_picked() if get_picked() in house.by_name else house.entries[0]
    return (picked,)


@app.cell
def _(base, folder, get_answers, intent, picked, reviewer, sessions, set_answers):
    _room = base.by_name[picked]
    _before = get_answers().get(picked)
    _said = _before.answer if _before else ""

    def _answer(word):
        def clicked(_):
            who = reviewer.value.strip()
            file = sessions.setdefault(who, open_session(folder, who))
            said = say(file, who, intent.name, picked, word, remark.value.strip())
            set_answers(lambda answers: {**answers, picked: said})

        return clicked

    remark = mo.ui.text_area(value=_before.remark if _before else "", label="Anything to add?", rows=2, full_width=True)
    answer_buttons = [
        mo.ui.button(
            label=WORDS[word],
            kind="success" if word == _said else "neutral",
            disabled=word not in choices(_room),
            on_click=_answer(word),
        )
        for word in ANSWERS
    ]
    answer_buttons.append(mo.ui.button(label="Only my words", on_click=_answer(_said)))
    _held, _open = len(choices(_room)) == 1, "Write first, if you like; then choose. Your words go with your choice."
    mo.vstack(
        [
            pages.show(pages.heading(picked)),
            pages.show(pages.element("p", "Your designer holds this room where it is." if _held else _open)),
            remark,
            mo.hstack(answer_buttons, justify="start", wrap=True),
        ]
    )
    return answer_buttons, remark


@app.cell
def _(answers, base, planned):
    _tiers = len(base.tier_names)
    _rows = [
        [
            room.room.name,
            richness(room.tier, _tiers),
            richness(planned.by_name[room.room.name].tier, _tiers),
            WORDS.get(answers[room.room.name].answer, "") if room.room.name in answers else "",
            answers[room.room.name].remark if room.room.name in answers else "",
        ]
        for room in base.rooms
    ]
    _moved = [number for number, room in enumerate(base.rooms) if planned.by_name[room.room.name].tier != room.tier]
    pages.show(
        pages.table(
            ["Room", "As planned", "With your answers", "You said", "You added"],
            _rows,
            caption="Room by room; a shaded row is one that your answers change",
            marked=_moved,
        )
    )
    return


if __name__ == "__main__":
    app.run()
