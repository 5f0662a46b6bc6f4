"""The client's app: how rich each room is, in plain words, and what the client would have otherwise."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="How rich each room is")

with app.setup:
    import marimo as mo

    from planner.apps import client, houses, pages, screen, views
    from planner.apps.reviews import open_session, say


@app.cell
def _():
    dark = screen.is_dark()
    screen.dress(dark)
    return (dark,)


@app.cell
def _():
    get_narrow, set_narrow = mo.state(False)
    get_picked, set_picked = mo.state(None)
    return get_narrow, get_picked, set_narrow, set_picked


@app.cell
def _(get_narrow):
    width = screen.NARROW_CHART if get_narrow() else screen.WIDE_CHART
    turned = mo.lazy("")
    screen.watch(turned, get_narrow())
    return turned, width


@app.cell
def _(get_narrow, set_narrow, turned):
    if turned.value:
        set_narrow(not get_narrow())
    return


@app.cell
def _():
    opened = houses.opened(houses.asked_folder())
    intent, base, _said = client.planned_as(opened, houses.asked_alternatives()[:1])
    _said
    return base, intent, opened


@app.cell
def _(base, intent, opened):
    mo.stop(base is None)
    _before, _torn = client.answers_before(opened.folder, intent.name)
    get_answers, set_answers = mo.state(_before, allow_self_loops=True)
    sessions = {}
    _torn
    return get_answers, sessions, set_answers


@app.cell
def _(base, get_answers):
    answers = get_answers()
    planned, _note = client.planned_with(base, answers)
    _note
    return answers, planned


@app.cell
def _(dark, planned, set_picked, width):
    _most = len(planned.tier_names)
    _plan = client.plainly("Your house", f"1 is the plainest, {_most} the richest; click a room")
    _walk = client.plainly("From the front door to each bedroom", "The longer the bar, the richer the room")
    floor = views.house_map(planned, set_picked, dark, width, title=_plan)
    pages.charts_beside(floor, views.walks(planned, dark, width, title=_walk))
    return (floor,)


@app.cell
def _(base):
    mo.stop(base is None)
    reviewer = mo.ui.text(label="Your name", placeholder="so that your designer knows who said it")
    reviewer
    return (reviewer,)


@app.cell
def _(base, get_picked, set_picked):
    mo.stop(base is None)
    room_choice = views.room_choice(base.house, get_picked(), set_picked)
    room_choice
    return (room_choice,)


@app.cell
def _(base, get_picked):
    mo.stop(base is None)
    picked = views.picked_room(base.house, get_picked())
    return (picked,)


@app.cell
def _(base, get_answers, intent, opened, picked, reviewer, sessions, set_answers):
    _before = get_answers().get(picked)
    _said = _before.answer if _before else ""

    def _answer(word):
        def clicked(_):
            who = reviewer.value.strip()
            file = sessions.setdefault(who, open_session(opened.folder, who))
            said = say(file, who, intent.name, picked, word, remark.value.strip())
            set_answers(lambda answers: {**answers, picked: said})

        return clicked

    remark = mo.ui.text_area(value=_before.remark if _before else "", label="Anything to add?", rows=2, full_width=True)
    answer_buttons = [
        mo.ui.button(
            label=client.WORDS[word],
            kind="success" if word == _said else "neutral",
            disabled=not is_open,
            on_click=_answer(word),
        )
        for word, is_open in client.open_answers(base, picked).items()
    ]
    answer_buttons.append(mo.ui.button(label="Only my words", on_click=_answer(_said)))
    mo.vstack([client.room_words(base, picked), remark, mo.hstack(answer_buttons, justify="start", wrap=True)])
    return answer_buttons, remark


@app.cell
def _(answers, base, planned):
    client.answered(base, planned, answers)
    return


if __name__ == "__main__":
    app.run()
