"""The designer's app: every wish for a house, and at once what it does to the whole of it."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="Trim hierarchy planner", html_head_file="head.html")

with app.setup:
    import marimo as mo

    from planner.apps import changes as changing
    from planner.apps import headline, houses, pages, screen, tabs, views
    from planner.apps.desk import open_desk
    from planner.apps.panels import house_tables, keeping, rooms, schedule, weights
    from planner.intent.folder import list_intents
    from planner.planning.pipeline import plan

    HOUSE_DEFAULTS = "(as the house stands)"


@app.cell
def _():
    dark = screen.is_dark()
    get_narrow, set_narrow = mo.state(False)
    screen.dress(dark)
    return dark, get_narrow, set_narrow


@app.cell
def _():
    folder = houses.asked_folder()
    get_opened, set_opened = mo.state(houses.opened(folder))
    get_news, set_news = mo.state("")
    get_picked, set_picked = mo.state(None)
    get_table_faults, set_table_faults = mo.state(())
    # The plan that all but the charts show: they come first.
    get_settled, set_settled = mo.state(None)
    afterwards = screen.Afterwards()
    tell = {"news": set_news, "opened": set_opened, "picked": set_picked}
    tell |= {"settled": set_settled, "table faults": set_table_faults}
    return afterwards, folder, get_news, get_opened, get_picked, get_settled, get_table_faults, tell


@app.cell
def _():
    narrowed = mo.lazy("")
    screen.watch(narrowed, "narrow")
    return (narrowed,)


@app.cell
def _(get_narrow):
    width = screen.NARROW_CHART if get_narrow() else screen.WIDE_CHART
    widened = mo.lazy("") if get_narrow() else None
    screen.watch(widened, "wide") if get_narrow() else None
    return widened, width


@app.cell
def _(narrowed, set_narrow):
    if narrowed.value:
        set_narrow(True)
    return


@app.cell
def _(set_narrow, widened):
    if widened is not None and widened.value:
        set_narrow(False)
    return


@app.cell
def _(get_opened):
    opened = get_opened()
    house = opened.house
    mo.stop(house is None, houses.unready(opened))
    return house, opened


@app.cell
def _(opened):
    desk, opening_faults = open_desk(opened.folder, mo.query_params().get("alternative"), houses.asked_alternatives())
    return desk, opening_faults


@app.cell
def _(desk):
    get_intent, set_intent = mo.state(desk.intent)
    get_top, wake_top = mo.state(None)
    get_wishes, wake_wishes = mo.state(None)
    get_sets, wake_sets = mo.state(None)
    get_weights, wake_weights = mo.state(None)
    get_limits, wake_limits = mo.state(None)
    get_whole, wake_whole = mo.state(None)
    get_trim, wake_trim = mo.state(None)
    get_rules, wake_rules = mo.state(None)
    wake = {"top": wake_top, "wishes": wake_wishes, "sets": wake_sets, "weights": wake_weights, "intent": set_intent}
    wake |= {"limits": wake_limits, "whole": wake_whole, "trim": wake_trim, "rules": wake_rules}
    return get_intent, get_limits, get_rules, get_sets, get_top, get_trim, get_weights, get_whole, get_wishes, wake


@app.cell
def _(desk, tell, wake):
    changes = changing.Changes(desk, wake["intent"], tell["news"], wake)
    told = changing.addressed(desk, mo.query_params())
    return changes, told


@app.cell
def _(desk, get_intent, get_news, house, opened):
    with screen.working(headline.work(opened)):
        planned = plan(house, get_intent(), opened.stock, opened.library)
    headline.headline(planned, desk, get_news())
    return (planned,)


@app.cell
def _(changes, desk, folder, get_top, steps, told):
    get_top()
    alternative = mo.ui.dropdown(
        [HOUSE_DEFAULTS, *list_intents(folder)],
        value=desk.intent.name or HOUSE_DEFAULTS,
        label="Alternative",
        on_change=told(lambda name: changes.open("" if name == HOUSE_DEFAULTS else name)),
    )
    pages.beside(alternative, *steps)
    return (alternative,)


@app.cell
def _(changes, told):
    new_title = mo.ui.text(placeholder="title of a new alternative", label="New title")
    steps = [
        mo.ui.button(label="Undo", on_click=lambda _: changes.undo()),
        mo.ui.button(label="Redo", on_click=lambda _: changes.redo()),
        mo.ui.button(label="Save", on_click=told(lambda _: changes.save())),
        new_title,
        mo.ui.button(label="Save as new", on_click=told(lambda _: changes.save_as(new_title.value))),
    ]
    return new_title, steps


@app.cell
def _(desk):
    headline.help_lines(unfolded=not desk.intent.name and not desk.drafted)
    return


@app.cell
def _(changes, desk, get_top, opened, opening_faults):
    get_top()
    put_away = mo.ui.button(label="Return to what is saved", on_click=lambda _: changes.revert())
    headline.notes(opened, desk, opening_faults, put_away)
    return (put_away,)


@app.cell
def _(afterwards, changes, dark, planned, tell, width):
    def _settle(plan=planned, settled=tell["settled"]):
        settled(plan)
        changes.settle()

    floor, ways = None, []
    if planned.feasible:
        floor = views.house_map(planned, tell["picked"], dark, width)
        _shown = pages.charts_beside(floor, views.walks(planned, dark, width))
    else:
        ways = headline.ways(planned, changes)
        _shown = headline.conflicts(planned, ways)
    afterwards.do(_settle)
    _shown
    return floor, ways


@app.cell
def _(dark, get_picked, get_settled, width):
    _planned = get_settled()
    views.walked(_planned, get_picked(), dark, width) if _planned and _planned.feasible else None
    return


@app.cell
def _(house):
    mo.stop(house is None)
    tab = mo.ui.tabs(dict.fromkeys(tabs.TABS, ""), value="Rooms")
    tab
    return (tab,)


@app.cell
def _(house, tab):
    find = mo.ui.text(placeholder="part of a name", label="Find a room", debounce=150)
    level = rooms.level_choice(house)
    pages.beside(find, level) if tab.value == "Rooms" else None
    return find, level


@app.cell
def _(changes, find, house, level, tab):
    found = rooms.found(house, find.value, level.value) if tab.value == "Rooms" else []
    wishes = rooms.wishes(found[: rooms.SHOWN_ROOMS], changes)
    return found, wishes


@app.cell
def _(changes, get_wishes, wishes):
    get_wishes()
    mended = rooms.mended(wishes, changes)
    return (mended,)


@app.cell
def _(changes, get_sets, house, tab):
    get_sets()
    sharing = rooms.sharing(house, changes) if tab.value == "Rooms" else []
    return (sharing,)


@app.cell
def _(changes, get_weights, tab):
    mo.stop(tab.value != "Weights and limits")
    get_weights()
    sliders = weights.weights(changes)
    return (sliders,)


@app.cell
def _(changes, get_limits, opened, tab):
    mo.stop(tab.value != "Weights and limits")
    get_limits()
    limits = weights.limits(opened.library, changes)
    return (limits,)


@app.cell
def _(changes, get_whole, house, opened, tab):
    mo.stop(tab.value != "Weights and limits")
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
def _(changes, get_picked, get_whole, house, opened, tab):
    get_whole()
    room = views.picked_room(house, get_picked())
    at = schedule.choices(tab.value, house, room, opened.library, changes)
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
def _(changes, dark, found, get_settled, mended, room, sharing, tab, width, wishes):
    mo.stop(get_settled() is None)
    if tab.value == "Rooms":
        held, _shown = None, rooms.view(get_settled(), {**wishes, **mended}, sharing, len(found) - len(wishes))
    else:
        held, _shown = tabs.shown(tab.value, get_settled(), room, changes, dark, width)
    _shown
    return (held,)


@app.cell
def _(at, back, get_settled, more, tab):
    mo.stop(tab.value not in schedule.TABS or get_settled() is None or not get_settled().feasible)
    schedule.above(get_settled(), at, more, back)
    return


@app.cell
def _(at, dark, forms, forms_mended, planned, room, tab):
    mo.stop(tab.value not in schedule.TABS or not planned.feasible)
    schedule.table(planned, tab.value, room, at, forms | forms_mended, dark)
    return


@app.cell
def _(changes, house, opened, tab, tell):
    mo.stop(tab.value != "Schedule")
    style_kept, drawn = keeping.style(house, opened, changes, tell), keeping.fields(opened)
    pages.beside(*style_kept.values())
    return drawn, style_kept


@app.cell
def _(dark, drawn, house, opened, tell):
    add_profile = keeping.adding(drawn, house, opened, tell)
    keeping.view(drawn, add_profile, house, opened, dark)
    return (add_profile,)


@app.cell
def _(folder, get_opened, tab):
    mo.stop(tab.value != "House tables")
    get_opened()
    editors = house_tables.editors(folder)
    return (editors,)


@app.cell
def _(editors, folder, tell):
    save_tables = house_tables.saving(folder, editors, tell)
    house_tables.view(editors, save_tables)
    return (save_tables,)


@app.cell
def _(get_table_faults, tab):
    mo.stop(tab.value != "House tables" or not get_table_faults())
    house_tables.refused(get_table_faults())
    return


if __name__ == "__main__":
    app.run()
