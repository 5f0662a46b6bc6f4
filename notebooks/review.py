"""The client's app: how rich each room is, in plain words, and what the client would have otherwise."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="How rich each room is", html_head_file="head.html")

with app.setup:
    import marimo as mo

    from planner.apps import client, houses, pages, screen, views, watching
    from planner.files.problems import HouseFault


@app.cell
def _():
    dark = screen.is_dark()
    screen.dress(dark)
    return (dark,)


@app.cell
def _():
    get_refused, set_refused = mo.state("")
    return get_refused, set_refused


@app.cell
def _():
    narrow = mo.lazy("")
    screen.watch(narrow)
    return (narrow,)


@app.cell
def _(narrow):
    width = screen.NARROW_CHART if narrow.value else screen.WIDE_CHART
    return (width,)


@app.cell
def _():
    folder = houses.asked_folder()
    sitting = client.sitting(folder, next(iter(houses.asked_alternatives()), ""))
    _shown = client.shown(folder, sitting.alternative)
    get_shown, set_shown = mo.state(_shown)
    get_picked, set_picked = mo.state(client.first_room(_shown))
    _answers, _warnings = sitting.before()
    get_answers, set_answers = mo.state(_answers, allow_self_loops=True)
    get_back, set_back = mo.state(sitting.waiting(_answers), allow_self_loops=True)
    follow, watch = client.Follow(set_shown, set_answers, set_picked), watching.Watch(folder)
    client.torn(_warnings)
    return follow, get_answers, get_back, get_picked, get_shown, set_answers, set_back, set_picked, sitting, watch


@app.cell
def _(get_shown):
    shown = get_shown()
    base = shown.base
    client.greeting(shown)
    return base, shown


@app.cell
def _(follow, get_answers, get_picked, shown, sitting, watch):
    watch.do(lambda: follow.look(sitting, shown, get_answers(), get_picked()))
    return


@app.cell
def _(base, get_answers, shown):
    mo.stop(not base or not base.feasible)
    answers = get_answers()
    _heard = client.heard(shown, base, answers.values())
    planned = _heard.planned
    client.cannot_all_be(_heard)
    return answers, planned


@app.cell
def _(dark, planned, set_picked, width):
    floor = client.house_map(planned, set_picked, dark, width)
    pages.charts_beside(floor, client.step_down(planned, None, dark, width))
    return (floor,)


@app.cell
def _():
    reviewer = mo.ui.text(label="Your name", placeholder="so that your designer knows who said it")
    reviewer
    return (reviewer,)


@app.cell
def _(base, get_picked, set_picked):
    mo.stop(not base or not base.feasible)
    room_choice = views.room_choice(base.house, get_picked(), set_picked)
    room_choice
    return (room_choice,)


@app.cell
def _(answers, get_back, set_back, sitting):
    let_go = client.letting_go(sitting, get_back(), set_back)
    client.back(get_back(), sitting, let_go) if answers is not None else None
    return (let_go,)


@app.cell
def _(get_answers, get_back, get_picked, sitting):
    get_back()
    remark = sitting.remark(get_picked(), get_answers().get(get_picked()))
    return (remark,)


@app.cell
def _(answers, base, get_picked, remark, reviewer, set_answers, set_refused, sitting):
    _picked = get_picked()

    def _answer(word, picked=_picked):
        try:
            said = sitting.say(reviewer.value, base, picked, word, remark.value)
        except HouseFault as fault:
            set_refused(client.refusal(picked, fault))
            return
        set_refused("")
        set_answers(lambda answers: {**answers, picked: said})

    answer_buttons = client.answer_buttons(base, base.by_name[_picked], answers.get(_picked), _answer)
    client.question(sitting.folder, base, base.by_name[_picked], remark, answer_buttons)
    return (answer_buttons,)


@app.cell
def _(get_refused):
    client.refused(get_refused())
    return


@app.cell
def _(answers, base, planned):
    room_by_room = client.room_by_room(base, planned, answers)
    room_by_room
    return (room_by_room,)


if __name__ == "__main__":
    app.run()
