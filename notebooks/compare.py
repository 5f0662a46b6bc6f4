"""The team's app: two to four alternatives of one house side by side."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="Trim hierarchy planner: compare")

with app.setup:
    import marimo as mo

    from planner.apps import houses, pages, screen, team
    from planner.intent.folder import list_intents


@app.cell
def _():
    dark = screen.is_dark()
    screen.dress(dark)
    return (dark,)


@app.cell
def _():
    get_narrow, set_narrow = mo.state(False)
    return get_narrow, set_narrow


@app.cell
def _(get_narrow):
    width = screen.NARROW_CHART if get_narrow() else team.WIDE_CHART
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
    _words = "Alternatives side by side"
    houses.unready(opened, _words) if opened.house is None else pages.show(houses.title(opened, _words))
    return (opened,)


@app.cell
def _(opened):
    mo.stop(opened.house is None)
    _names = list_intents(opened.folder)
    _asked = [name for name in houses.asked_alternatives() if name in _names]
    chosen = mo.ui.multiselect(
        _names,
        value=(_asked or _names)[: team.MOST],
        label=f"Alternatives (two to {team.MOST})",
        max_selections=team.MOST,
    )
    show_all = mo.ui.switch(label="Show every room, not only those that differ")
    mo.hstack([chosen, show_all], justify="start", align="center", gap=2, wrap=True)
    return chosen, show_all


@app.cell
def _(chosen, opened):
    standing, _notes = team.planned_as(opened, chosen.value)
    _notes
    return (standing,)


@app.cell
def _(standing):
    team.figures(standing) if standing else None
    return


@app.cell
def _(dark, show_all, standing, width):
    team.tiers(standing, show_all.value, dark, width) if len(standing) > 1 else None
    return


@app.cell
def _(dark, standing, width):
    team.walks(standing, dark, width) if len(standing) > 1 else None
    return


if __name__ == "__main__":
    app.run()
