"""The client's app: a walk through the house, how rich each room is, and what the client would have otherwise."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="How rich each room is", html_head_file="head.html", css_file="review.css")

with app.setup:
    import marimo as mo

    from planner.apps import houses, pages, screen, views, watching
    from planner.apps.client import asking, house, room, sitting


@app.cell
def _():
    dark = screen.is_dark()
    screen.dress(dark)
    return (dark,)


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
    client = sitting.sitting(folder, next(iter(houses.asked_alternatives()), ""))
    _shown, _record = asking.shown(folder, client.alternative), client.before()
    get_shown, set_shown = mo.state(_shown)
    get_picked, set_picked = mo.state(sitting.first_room(_shown), allow_self_loops=True)
    get_record, set_record = mo.state(_record, allow_self_loops=True)
    get_back, set_back = mo.state(client.waiting(sitting.answers_of(_record, client)), allow_self_loops=True)
    tell = {"shown": set_shown, "picked": set_picked, "record": set_record, "back": set_back}
    return client, folder, get_back, get_picked, get_record, get_shown, tell


@app.cell
def _(client, folder, tell):
    get_refused, set_refused = mo.state("", allow_self_loops=True)
    get_again, set_again = mo.state(None, allow_self_loops=True)  # the controls are to show what is kept
    get_words, set_words = mo.state(None)  # and the remark
    follow = sitting.Follow(tell["shown"], tell["record"], set_again, set_words, tell["picked"])
    reviewer, watch = client.reviewer(client.before()), watching.Watch(folder, houses.has_page())
    return follow, get_again, get_refused, get_words, reviewer, set_again, set_refused, set_words, watch


@app.cell
def greeting(get_shown, width):
    shown = get_shown()
    base = shown.base if shown.base and shown.base.feasible else None
    asking.greeting(shown, width)
    return base, shown


@app.cell
def _(client, follow, get_picked, get_record, shown, watch):
    watch.do(lambda: follow.look(client, shown, get_record(), get_picked()))
    return


@app.cell
def naming(base, reviewer):
    mo.stop(not base)
    reviewer
    return


@app.cell
def torn(get_record):
    sitting.torn(get_record().warnings)
    return


@app.cell
def _(base, client, get_record, shown):
    mo.stop(not base)
    answers = sitting.answers_of(get_record(), client)
    heard = asking.heard(shown, base, answers.values())
    return answers, heard


@app.cell
def walking(base, client, get_picked, tell):
    mo.stop(not base)
    steps = client.anew(lambda: room.steps(base, get_picked(), tell["picked"]))
    room_choice = views.room_choice(base.house, get_picked(), tell["picked"], pages.unseen("Room"))
    pages.beside(steps[0], room_choice, room.where(base, get_picked()), steps[1])
    return room_choice, steps


@app.cell
def waiting(client, get_back, get_record, tell):
    get_record()
    let_go = sitting.letting_go(client, get_back(), tell["back"])
    sitting.back(get_back(), client, let_go)
    return (let_go,)


@app.cell
def _(base, dark, get_picked, width):
    mo.stop(not base)
    pictures = room.pictures(base, get_picked(), dark, width)
    return (pictures,)


@app.cell
def replied(get_picked, get_record):
    room.replied(get_record().replies, get_picked())
    return


@app.cell
def _(client, get_back, get_picked, get_words):
    get_words(), get_back()
    words = (client.remark(get_picked()),)  # no control by itself: no cell runs again with each letter
    return (words,)


@app.cell
def _(base, client, get_picked, set_again, set_refused, tell, words):
    _picked = get_picked()

    # A control answers on the room and with the remark that stood beside it, whatever is on show when it is heard.
    def answer(word=None, wishes=None, base=base, picked=_picked, remark=words[0]):
        why_not = client.answer(base, picked, remark.value, word, wishes)
        set_refused(why_not)
        tell["record"](client.before()) if not why_not else set_again(None)

    return (answer,)


@app.cell
def asked(answer, base, client, folder, get_again, get_picked, pictures, words):
    get_again()
    _before = client.said.get(get_picked())
    buttons = client.anew(lambda: room.answer_buttons(pictures.walls, answer))
    boxes = client.anew(lambda: room.wish_boxes(base, get_picked(), _before, answer))
    room.question(folder, base, get_picked(), pictures, buttons, boxes, *words)
    return boxes, buttons


@app.cell
def given(answers, base, client, get_picked, set_again, set_refused, set_words, tell):
    _picked = get_picked()

    def _take_back(base=base, picked=_picked):
        set_refused(client.take_back(base, picked))
        tell["record"](client.before())
        set_words(None), set_again(None)

    taking_back = client.anew(lambda: sitting.taking_back(_take_back))
    sitting.given(_picked, answers.get(_picked), base.library, taking_back)
    return (taking_back,)


@app.cell
def refused(get_refused):
    sitting.not_kept(get_refused())
    return


@app.cell
def sums(answers, base, heard):
    house.sums(base, heard, answers)
    return


@app.cell
def whole(dark, get_picked, heard, tell, width):
    floor = house.house_map(heard.planned, tell["picked"], dark, width)
    mo.vstack([floor, house.step_down(heard.planned, get_picked(), dark, width)])
    return (floor,)


@app.cell
def rooms(answers, base, heard):
    room_by_room = house.room_by_room(base, heard.planned, answers)
    room_by_room
    return (room_by_room,)


if __name__ == "__main__":
    app.run()
