"""The team's app: two to six alternatives of one house side by side, and what the team says of them."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="Trim hierarchy planner: compare", html_head_file="head.html")

with app.setup:
    import marimo as mo

    from planner.apps import houses, pages, screen, watching
    from planner.apps.costing import Costing
    from planner.apps.team import beside, choosing, voting, weighing
    from planner.record.keeping import read_record

    WORDS = "Alternatives side by side"


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
    width = screen.NARROW_CHART if narrow.value else beside.WIDE_CHART
    return (width,)


@app.cell
def _():
    _folder = houses.asked_folder()
    _saved, hand, kept = choosing.saved(_folder), houses.asked_alternatives(), {}
    watch = watching.Watch(_folder, houses.has_page())
    get_opened, set_opened = mo.state(houses.opened(_folder))
    get_record, set_record = mo.state(read_record(_folder), allow_self_loops=True)
    get_saved, set_saved = mo.state(_saved)
    get_names, set_names = mo.state(tuple(_saved))
    tell = {"opened": set_opened, "record": set_record, "saved": set_saved, "names": set_names}
    return get_names, get_opened, get_record, get_saved, hand, kept, tell, watch


@app.cell
def _(kept, tell):
    get_standing, set_standing = mo.state(())  # the names of those that stand side by side
    get_said, set_said = mo.state(None, allow_self_loops=True)
    get_refused, set_refused = mo.state("")
    member = voting.member(houses.asked_folder(), kept, tell["record"], set_said, set_refused)
    return get_refused, get_said, get_standing, member, set_standing


@app.cell
def _(get_opened):
    opened = get_opened()
    house = opened.house
    pages.show(houses.title(opened, WORDS)) if house else houses.unready(opened, WORDS)
    return house, opened


@app.cell
def _(get_record, get_saved, opened, tell, watch):
    watch.do(lambda: choosing.follow(opened, get_record(), get_saved(), tell))
    return


@app.cell
def _(get_names, hand):
    chosen = choosing.choice(get_names(), hand)
    return (chosen,)


@app.cell
def _():
    show_all = mo.ui.switch(label="Show every row, not only those that differ")
    return (show_all,)


@app.cell
def _(chosen, house, show_all):
    mo.stop(house is None)
    mo.hstack([chosen, show_all], justify="start", align="center", gap=2, wrap=True)
    return


@app.cell
def _(chosen, get_saved, get_standing, house, kept, opened, set_standing):
    mo.stop(house is None)
    _found = choosing.compared(opened, house, chosen.value, get_saved(), kept)
    standing = _found.standing
    _names = tuple(planned.intent.name for planned in standing)
    if _names != get_standing():
        set_standing(_names)
    choosing.notes(_found, len(chosen.value), len(chosen.options))
    return (standing,)


@app.cell
def _(standing, width):
    mo.stop(not standing)
    take = beside.take(standing, {"How each reads": lambda: beside.figures_frame(standing)})
    mo.vstack([beside.figures(standing, width), take])
    return (take,)


@app.cell
def _(house, width):
    mo.stop(house is None)
    tab = beside.choice(mo.query_params(), width)
    tab
    return (tab,)


@app.cell
def _():
    get_costed, set_costed = mo.state(None)
    costing = Costing(set_costed)
    return costing, get_costed


@app.cell
def alternatives(costing, dark, get_costed, show_all, standing, tab, width):
    mo.stop(len(standing) < 2)
    get_costed()
    if beside.is_ready(tab.value, standing, costing):
        held, _shown = beside.shown(tab.value, standing, show_all.value, dark, width)
    else:
        held, _shown = None, beside.waiting(standing)
    _shown
    return (held,)


@app.cell
def _(get_record, standing, tab, width):
    mo.stop(tab.value != "What is said" or len(standing) < 2)
    ways, _shown = beside.said(standing, get_record(), width)
    _shown
    return (ways,)


@app.cell
def _(member, tab):
    mo.stop(tab.value != "What is said")
    name = voting.name(member)
    name
    return (name,)


@app.cell
def _(get_refused, tab):
    mo.stop(tab.value != "What is said")
    voting.refused(get_refused())
    return


@app.cell
def _(get_said, get_standing, member, tab):
    mo.stop(tab.value != "What is said")
    get_said()
    ballots = voting.ballots(get_standing(), member)
    return (ballots,)


@app.cell
def _(ballots, get_record, standing, width):
    voting.view(standing, get_record(), ballots, width)
    return


@app.cell
def _():
    sliders = weighing.weights()
    return (sliders,)


@app.cell
def _(get_record, sliders, standing, tab, width):
    mo.stop(tab.value != "What matters" or len(standing) < 2)
    weighing.view(standing, get_record(), sliders.value, sliders, width)
    return


if __name__ == "__main__":
    app.run()
