"""The team's app: two to four alternatives of one house side by side."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="Trim hierarchy planner: compare", html_head_file="head.html")

with app.setup:
    import marimo as mo

    from planner.apps import houses, pages, screen, team

    WORDS = "Alternatives side by side"


@app.cell
def _():
    dark = screen.is_dark()
    get_narrow, set_narrow = mo.state(False)
    screen.dress(dark)
    return dark, get_narrow, set_narrow


@app.cell
def _():
    narrowed = mo.lazy("")
    screen.watch(narrowed, "narrow")
    return (narrowed,)


@app.cell
def _(get_narrow):
    width = screen.NARROW_CHART if get_narrow() else team.WIDE_CHART
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
def _():
    opened = houses.opened(houses.asked_folder())
    house = opened.house
    pages.show(houses.title(opened, WORDS)) if house else houses.unready(opened, WORDS)
    return house, opened


@app.cell
def _(house, opened):
    mo.stop(house is None)
    chosen = team.choice(opened.folder, houses.asked_alternatives())
    show_all = mo.ui.switch(label="Show every room, not only those that differ")
    mo.hstack([chosen, show_all], justify="start", align="center", gap=2, wrap=True)
    return chosen, show_all


@app.cell
def _(chosen, house, opened):
    _found = team.compared(opened, house, chosen.value)
    standing = _found.standing
    team.notes(_found, len(chosen.value))
    return (standing,)


@app.cell
def _(standing):
    mo.stop(not standing)
    team.figures(standing)
    return


@app.cell
def _(dark, show_all, standing, width):
    mo.stop(len(standing) < 2)
    team.tier_matrix(standing, show_all.value, dark, width)
    return


@app.cell
def _(dark, standing, width):
    mo.stop(len(standing) < 2)
    team.walks(standing, dark, width)
    return


if __name__ == "__main__":
    app.run()
