"""The team's app: two to four alternatives of one house side by side."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="Trim hierarchy planner: compare")

with app.setup:
    from pathlib import Path

    import altair as alt
    import marimo as mo

    from planner import HouseFault, charts, demo_house, list_intents, plan, read_house, read_intent
    from planner.apps import pages
    from planner.planning import frames
    from planner.stock.stock import usable_stock

    MOST = 4
    WIDE_CHART, NARROW_CHART, MATRIX_CHART = 1200, 342, 900


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


@app.cell
def _():
    folder = Path(mo.cli_args().get("house") or demo_house())
    house, house_faults = None, ()
    try:
        house, house_faults = read_house(folder)
    except HouseFault as _fault:
        house_faults = _fault.problems
    _title = pages.element(
        "div",
        pages.element("h1", house.name if house else folder.name),
        pages.element("p", "Alternatives side by side"),
        class_="pl-title",
    )
    pages.show(_title if house else _title + pages.unready(house_faults))
    return folder, house


@app.cell
def _(folder, house):
    mo.stop(house is None)
    _names = list_intents(folder)
    _asked = [name for name in mo.cli_args().get_all("alternative") if name in _names]
    chosen = mo.ui.multiselect(
        _names, value=(_asked or _names)[:MOST], label=f"Alternatives (two to {MOST})", max_selections=MOST
    )
    show_all = mo.ui.switch(label="Show every room, not only those that differ")
    mo.hstack([chosen, show_all], justify="start", align="center", gap=2, wrap=True)
    return chosen, show_all


@app.cell
def _(chosen, folder, house):
    plans, _faults = [], []
    _stock, _ = usable_stock(folder, house.unit)
    for _name in chosen.value:
        try:
            plans.append(plan(house, read_intent(folder, _name), _stock))
        except HouseFault as _fault:
            _faults += _fault.problems
    standing = [planned for planned in plans if planned.feasible]
    _notes = [
        pages.note(
            "alarm",
            pages.element("p", f"{title}: no plan can keep all of these at once."),
            pages.listed(planned.conflicts),
        )
        for title, planned in zip(frames.alternative_titles(plans), plans, strict=True)
        if not planned.feasible
    ]
    if _faults:
        _notes.append(pages.note("alarm", "These alternatives cannot be read.", pages.problems(_faults)))
    if len(chosen.value) < 2:
        _notes.append(pages.note("quiet", "Choose two alternatives or more."))
    pages.show("".join(_notes)) if _notes else None
    return (standing,)


@app.cell
def _(standing):
    mo.stop(not standing)

    def _row(title, planned):
        reads = [passage.reads for passage in planned.passages]
        return [
            title,
            f"{planned.style}, {planned.order}, {planned.grade}",
            max(room.tier for room in planned.rooms),
            f"{planned.objective.total:.2f}",
            f"{planned.objective.fit:.2f}",
            f"{planned.objective.abrupt:.2f}",
            *(reads.count(word) for word in ("clear", "even", "faint", "abrupt")),
            f"{planned.cost:,.0f}",
        ]

    _columns = ["Alternative", "Period, order, grade", "Best tier", "Away from the ideal", "Rooms", "Passages"]
    _columns += ["Clear steps", "Level", "Too faint", "Abrupt", "Cost index"]
    pages.show(
        pages.table(
            _columns,
            map(_row, frames.alternative_titles(standing), standing),
            caption="How near each comes to its own ideal, and how its steps read",
            numbers=_columns[2:],
        )
    )
    return


@app.cell
def _(dark, show_all, standing, width):
    mo.stop(len(standing) < 2)
    charts.tier_matrix(
        frames.compare(standing), differing_only=not show_all.value, dark=dark, width=min(width, MATRIX_CHART)
    )
    return


@app.cell
def _(dark, standing, width):
    mo.stop(len(standing) < 2)
    charts.step_down(frames.compare_routes(standing), dark=dark, width=width)
    return


if __name__ == "__main__":
    app.run()
