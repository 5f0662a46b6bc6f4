"""The designer's app: every wish for a house, and at once what it does to the whole of it."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="Trim hierarchy planner", html_head_file="head.html", css_file="desk.css")

with app.setup:
    import marimo as mo

    from planner.apps import address, headline, houses, moves, pages, presses, screen, tabs, views, watching
    from planner.apps import changes as changing
    from planner.apps.desk import desk_again
    from planner.apps.panels import answers as answering
    from planner.apps.panels import cost, keeping, rooms, schedule, weights
    from planner.apps.panels import house as drawn_house
    from planner.apps.panels import notes as noting
    from planner.intent.folder import list_intents
    from planner.planning.pipeline import plan


@app.cell
def _():
    dark, narrow = screen.is_dark(), mo.lazy("")
    mo.vstack([screen.dress(dark), screen.watch(narrow)], gap=0)
    return dark, narrow


@app.cell
def _():
    folder = houses.asked_folder()
    get_opened, set_opened = mo.state(houses.opened(folder))
    get_news, set_news = mo.state("")
    get_picked, set_picked = mo.state(houses.asked_room(get_opened(), mo.query_params()))
    get_settled, set_settled = mo.state(None)  # the plan that all but the charts show: they come first
    pick, show = houses.picking(set_picked, set_opened, mo.query_params())
    shown = {"news": set_news, "opened": show, "picked": pick, "settled": set_settled}
    return folder, get_news, get_opened, get_picked, get_settled, shown


@app.cell
def _(folder, shown):
    get_refusal, set_refusal = mo.state(None, allow_self_loops=True)
    get_drawn, wake_drawn = mo.state(None)
    get_noted, wake_noted = mo.state(None, allow_self_loops=True)
    get_spoken, set_spoken = mo.state(answering.spoken(folder), allow_self_loops=True)
    get_sent, wake_sent = mo.state(None)
    get_costed, wake_costed = mo.state(None, allow_self_loops=True)
    tell = shown | {"refusal": set_refusal, "drawn": wake_drawn, "noted": wake_noted}
    tell |= {"spoken": set_spoken, "sent": wake_sent}
    till = cost.till(wake_costed, tell)
    return get_costed, get_drawn, get_noted, get_refusal, get_sent, get_spoken, tell, till


@app.cell
def _(folder, tell):
    typed, desks, seen = answering.typed_here(), [], moves.Moves()
    afterwards, watch = screen.Afterwards(), watching.Watch(folder, houses.has_page())
    drawing = drawn_house.drawing_again(folder, mo.query_params(), tell)
    board, ways_anew = drawn_house.board(drawing, tell), presses.Anew()
    return afterwards, board, desks, drawing, seen, typed, watch, ways_anew


@app.cell
def _(narrow):
    width = screen.NARROW_CHART if narrow.value else screen.WIDE_CHART
    return (width,)


@app.cell
def _(get_opened, tell, watch):
    opened = get_opened()
    house = opened.house
    watch.do(lambda: houses.follow(opened, tell), whole=False)
    mo.stop(house is None, houses.unready(opened))
    return house, opened


@app.cell
def _(desks, opened):
    desk, opening_faults = desk_again(desks, opened, mo.query_params(), houses.asked_alternatives())
    get_intent, set_intent = mo.state(desk.intent)
    (get_top, wake_top), (get_warnings, wake_warnings) = mo.state(None, allow_self_loops=True), mo.state(None)
    above = {"intent": set_intent, "top": wake_top, "warnings": wake_warnings}
    return above, desk, get_intent, get_top, get_warnings, opening_faults


@app.cell
def _(above, desk, tell):
    get_wishes, wake_wishes = mo.state(None)
    get_sets, wake_sets = mo.state(None)
    get_weights, wake_weights = mo.state(None, allow_self_loops=True)
    get_limits, wake_limits = mo.state(None)
    get_whole, wake_whole = mo.state(None)
    get_trim, wake_trim = mo.state(None)
    get_rules, wake_rules = mo.state(None)
    get_offered, wake_offered = mo.state(None)
    wake = above | {"wishes": wake_wishes, "sets": wake_sets, "weights": wake_weights, "limits": wake_limits}
    wake |= {"whole": wake_whole, "trim": wake_trim, "rules": wake_rules, "offered": wake_offered}
    changes = changing.Changes(desk, wake["intent"], tell["news"], wake)
    told = changing.addressed(desk, mo.query_params())
    return changes, get_limits, get_offered, get_rules, get_sets, get_trim, get_weights, get_whole, get_wishes, told


@app.cell
def _(afterwards, changes, get_intent, house, opened, seen, tell):
    with screen.working(headline.work(opened)):
        planned = plan(house, get_intent(), opened.stock, opened.library)
    moved = seen.since(planned)
    afterwards.do(lambda plan=planned, settled=tell["settled"]: (settled(plan), changes.settle()))
    return moved, planned


@app.cell
def bar(desk, get_news, kept, moved, width):
    headline.headline(kept, desk, get_news(), moved, width == screen.NARROW_CHART)
    return


@app.cell
def controls(changes, folder, get_top, steps, told):
    get_top()
    alternative = headline.alternatives(list_intents(folder), changes, told)
    pages.beside(alternative, *steps)
    return (alternative,)


@app.cell
def _(changes, told, typed):
    steps = headline.steps(changes, told, typed)
    return (steps,)


@app.cell
def _(changes, folder, get_settled, get_spoken, opened, tell, watch, width):
    watch.do(lambda: (houses.follow(opened, tell), changes.follow(), answering.follow(folder, get_spoken(), tell)))
    answering.waiting(get_spoken(), get_settled().intent, width) if get_settled() else None
    return


@app.cell
def notes(changes, desk, get_top, get_warnings, opened, opening_faults, told, typed):
    get_top(), get_warnings()
    ways_to_keep = headline.ways_to_keep(desk, changes, told, lambda: typed.text("title"))
    draft_ways = headline.ways_with_drafts(desk, changes)
    headline.notes(opened, desk, opening_faults, ways_to_keep, draft_ways)
    return draft_ways, ways_to_keep


@app.cell
def lines(desk, house, width):
    headline.help_lines(desk, tabs.is_begun(house), width == screen.NARROW_CHART)
    return


@app.cell
def which(house, width):
    picture = views.which_picture(width)
    level_drawn = views.level_list(house, address.asked(mo.query_params(), address.ROOM))
    _narrow, _large = [picture] * (width == screen.NARROW_CHART), [level_drawn] * views.is_large(house)
    pages.beside(*_narrow, *_large) if _narrow or _large else None
    return level_drawn, picture


@app.cell
def picking(get_picked, get_settled, tell, width):
    mo.stop(get_settled() is None or not get_settled().feasible)
    room_listed = views.room_list(get_settled(), tell["picked"], get_picked(), narrow=width == screen.NARROW_CHART)
    room_listed
    return (room_listed,)


@app.cell
def pictures(changes, dark, get_picked, level_drawn, moved, picture, planned, tell, width):
    floor, ways = None, [] if planned.feasible else headline.ways(planned, changes)
    if planned.feasible and picture.value != views.STEP_DOWN:
        _at = {"level": level_drawn.value, "picked": get_picked(), "moved": moved}
        floor = views.floor(planned, tell["picked"], dark, width, **_at)
    floor if planned.feasible else headline.conflicts(planned, ways)
    return floor, ways


@app.cell
def walks(dark, get_picked, picture, planned, width):
    mo.stop(not planned.feasible or picture.value == views.FLOOR_PLAN)
    views.step_down(planned, get_picked(), dark, width, height=views.STEP_HEIGHT[width])
    return


@app.cell
def tabs_of_the_page(house, typed, width):
    tab = tabs.choice(house, mo.query_params(), typed, width)
    tab
    return (tab,)


@app.cell
def _(house, tab):
    find = mo.ui.text(placeholder="part of a name", label="Find a room", debounce=150)
    level = rooms.level_choice(house)
    pages.beside(find, level) if tab.value == "Rooms" else None
    return find, level


@app.cell
def _(changes, find, house, level, tab, width):
    found = rooms.found(house, find.value, level.value) if tab.value == "Rooms" else []
    wishes = rooms.wishes(found[: rooms.shown_at_once(width)], changes)
    return found, wishes


@app.cell
def _(changes, get_wishes, wishes):
    get_wishes()
    mended = rooms.mended(wishes, changes)
    return (mended,)


@app.cell
def _(changes, get_sets, house, tab, typed):
    get_sets()
    sharing = rooms.sharing(house, changes, typed) if tab.value == "Rooms" else []
    return (sharing,)


@app.cell
def _(changes, get_weights, tab):
    mo.stop(tab.value != "Weights")
    get_weights()
    sliders = weights.weights(changes)
    return (sliders,)


@app.cell
def _(changes, get_limits, opened, tab):
    mo.stop(tab.value != "Weights")
    get_limits()
    limits = weights.limits(opened.library, changes)
    return (limits,)


@app.cell
def _(changes, get_whole, house, opened, tab):
    mo.stop(tab.value != "Weights")
    get_whole()
    whole = weights.whole(house, opened.library, changes)
    return (whole,)


@app.cell
def _(limits, sliders, whole):
    weights.view(sliders, limits, whole)
    return


@app.cell
def _(get_picked, house, tab, tell):
    mo.stop(tab.value not in ("One room", "Walls"))
    room_choice = views.room_choice(house, get_picked(), tell["picked"])
    room_choice
    return (room_choice,)


@app.cell
def _(changes, get_picked, get_whole, house, opened, seen, tab):
    get_whole()
    room = views.picked_room(house, get_picked())
    at = schedule.choices(tab.value, house, room, opened.library, changes, seen.highest)
    return at, room


@app.cell
def _(at, changes, opened, room, tab):
    forms = schedule.forms(tab.value, at.value, room, opened.library, changes) if tab.value in schedule.TABS else {}
    return (forms,)


@app.cell
def _(changes, forms, get_trim, opened):
    get_trim()
    forms_mended = schedule.mended(forms, opened.library, changes)
    return (forms_mended,)


@app.cell
def _(at, changes, get_rules, opened, room, tab):
    get_rules()
    more = schedule.details(tab.value, at.value, room, opened, changes) if tab.value in schedule.TABS else {}
    back = schedule.put_back(changes) if tab.value in schedule.TABS else []
    return back, more


@app.cell
def _(folder, get_sent, tab, typed):
    mo.stop(tab.value != answering.TAB)
    get_sent()
    fields = answering.fields(folder, typed)
    mo.vstack([fields.who, fields.word])
    return (fields,)


@app.cell
def _(changes, get_settled, get_spoken, tab, tell, typed, width):
    mo.stop(get_settled() is None or not answering.is_open(tab.value, get_spoken(), typed))
    answers = answering.answers(get_spoken(), get_settled(), changes, typed, tell, width)
    answering.view(answers, get_settled().intent)
    return (answers,)


@app.cell
def _(changes, get_offered, opened, tab, width):
    mo.stop(tab.value != answering.TAB)
    get_offered()
    offered = answering.offered(opened.library, changes, width)
    offered
    return (offered,)


@app.cell
def _(answers, changes, fields, get_spoken):
    answering.deciding(get_spoken(), answers, fields, changes)
    return


@app.cell
def _(changes, dark, found, get_costed, get_settled, mended, room, sharing, tab, till, width, wishes):
    mo.stop((get_costed(), get_settled())[1] is None or room not in get_settled().house.by_name)  # renamed just now
    held, _shown = tabs.shown(tab.value, get_settled(), room, changes, till, dark, width)
    if tab.value == "Rooms":
        _rooms = rooms.view(get_settled(), wishes | mended, sharing, len(found) - len(wishes), width)
        _shown = mo.vstack([_rooms, _shown]) if _shown else _rooms
    _shown
    return (held,)


@app.cell
def _(dark, folder, get_noted, get_settled, house, room, tab, tell, typed):
    mo.stop(tab.value != "One room")
    get_noted()
    noted = noting.noting(folder, house, room, typed, tell)
    noting.view(noted, get_settled(), dark)
    return (noted,)


@app.cell
def _(at, back, get_settled, more, tab):
    mo.stop(tab.value not in schedule.TABS or get_settled() is None or not get_settled().feasible)
    schedule.above(get_settled(), at, more, back)
    return


@app.cell
def _(at, dark, forms, forms_mended, planned, room, tab, width):
    mo.stop(tab.value not in schedule.TABS or not planned.feasible)
    schedule.table(planned, tab.value, room, at, forms | forms_mended, dark, width == screen.NARROW_CHART)
    return


@app.cell
def _(changes, house, opened, tab, tell, typed):
    mo.stop(tab.value != "Schedule")
    style_kept, drawn = keeping.style(house, opened, changes, tell, typed), keeping.fields(opened, typed)
    pages.beside(*style_kept.values())
    return drawn, style_kept


@app.cell
def _(changes, dark, drawn, get_settled, house, opened, room, tab, tell, typed):
    add_profile = keeping.adding(drawn, house, opened, tell, typed)
    schedule_taken = tabs.taken(tab.value, get_settled(), room, changes)
    keeping.view(drawn, add_profile, house, opened, dark, schedule_taken)
    return add_profile, schedule_taken


@app.cell
def _(board, drawing, get_drawn, get_opened, tab):
    mo.stop(tab.value != "House")
    get_drawn(), get_opened()
    drawn_house.shown(drawing, board)
    return


@app.cell
def _(drawing, get_refusal, tab, tell, ways_anew):
    mo.stop(tab.value != "House" or not get_refusal())
    ways_on = ways_anew(lambda: drawn_house.ways_on(drawing, get_refusal(), tell))
    drawn_house.refused(get_refusal(), ways_on)
    return (ways_on,)


@app.cell
def _(desk, planned):
    desk.keep_up()  # last of the cells that follow a change; the title waits for it
    kept = planned
    return (kept,)


if __name__ == "__main__":
    app.run()
