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
    screen.dress(dark)
    return (dark,)


@app.cell
def _():
    narrow = mo.lazy("")
    screen.watch(narrow)
    return (narrow,)


@app.cell
def _(narrow):
    width = screen.NARROW_CHART if narrow.value else team.WIDE_CHART
    return (width,)


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
    take = team.take(standing)
    mo.vstack([team.figures(standing), take])
    return (take,)


@app.cell
def _(dark, show_all, standing, width):
    mo.stop(len(standing) < 2)
    team.tier_matrix(standing, show_all.value, dark, width)
    return


@app.cell
def _(dark, standing, width):
    mo.stop(len(standing) < 2)
    team.step_down(standing, dark, width)
    return


if __name__ == "__main__":
    app.run()
