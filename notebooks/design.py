"""The designer's app: every wish for a house, and at once what it does to the whole of it."""

import marimo

__generated_with = "0.25.2"
app = marimo.App(width="full", app_title="Trim hierarchy planner")

with app.setup:
    from pathlib import Path

    import altair as alt
    import marimo as mo
    from pandas import DataFrame

    from planner import HouseFault, Wish, charts, demo_house, list_intents, plan, read_house, what_if
    from planner.apps import pages
    from planner.apps.desk import Desk, ways_out
    from planner.drawings.dxf import dxf
    from planner.drawings.elevation import room_sheet, strip
    from planner.drawings.section import ladder, package_sections, profile_section
    from planner.drawings.svg import png, svg
    from planner.house.editing import TABLES, read_cells, save_cells
    from planner.intent import edits
    from planner.intent.model import FACTORS, FEWEST_TIERS, GRADES, MOST_TIERS
    from planner.library import names, table
    from planner.planning import frames
    from planner.stock.stock import usable_stock
    from planner.units import format_length
    from planner.walls.layout import lay_out

    HOUSE_DEFAULTS = "(as the house stands)"
    ALL_LEVELS = "all levels"
    TABS = ("Rooms", "Weights and limits", "Importance", "Packages", "One room", "Walls", "Checks", "House tables")
    FACTOR_WORDS = {
        "use": "how public the use is",
        "arrival": "how near the entry it lies",
        "passage": "how much of a guest's walking passes through",
        "presence": "how large and high it is",
    }
    WIDE_CHART, NARROW_CHART = 590, 342
    BLANK = " "  # the editor would show an empty cell as "null"; saving strips it
    STRIP_WIDTH, SHEET_WIDTH, LADDER_WIDTH, SECTION_WIDTH = 1190, 1190, 1190, 580
    SHOWN_ROOMS = 60
    LARGE_HOUSE = 300


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
    asked_for = mo.query_params().get("alternative") or mo.cli_args().get("alternative") or ""
    if isinstance(asked_for, list):
        asked_for = asked_for[0]
    get_house, set_house = mo.state((None, ()))
    get_news, set_news = mo.state("")
    get_table_faults, set_table_faults = mo.state(())
    get_picked, set_picked = mo.state(None)
    # Controls are built anew only when this changes, so that a control in use keeps its focus.
    get_shown, set_shown = mo.state(0, allow_self_loops=True)
    return (
        asked_for,
        folder,
        get_house,
        get_news,
        get_picked,
        get_shown,
        get_table_faults,
        set_house,
        set_news,
        set_picked,
        set_shown,
        set_table_faults,
    )


@app.function
def span(lowest, highest):
    """A range of tiers in words."""
    return str(lowest) if lowest == highest else f"{lowest} to {highest}"


@app.function
def headline(planned, desk, news):
    """House, alternative and the figures that sum the plan up, as pieces of HTML."""
    intent, house = desk.intent, planned.house
    state = "saved" if desk.is_saved else "not saved; kept as a draft"
    title = intent.title or intent.name or "as the house stands"
    yield pages.element(
        "div",
        pages.element("h1", house.name),
        pages.element("p", f"{title} · {state} · {planned.style}, {planned.order}, {planned.grade}"),
        *([pages.element("p", pages.element("b", news), role="status")] if news else []),
        class_="pl-title",
    )
    if not planned.feasible:
        return
    reads = [passage.reads for passage in planned.passages]
    tiers = [room.tier for room in planned.rooms]
    best = max(tiers)
    budget = f"of {intent.budget:,.0f}" if intent.budget else "share of wall × feet of wall"
    proof = "proved least" if planned.optimal else "not proved least"
    cautions = sum(check.severity == "caution" for check in planned.checks)
    yield pages.figures(
        [
            ("Rooms", len(tiers), f"on {len(house.levels)} levels"),
            ("Best tier", best, f"{planned.tier_names[best - 1]}, in {tiers.count(best)} of the rooms"),
            ("Away from the ideal", f"{planned.objective.total:.2f}", proof),
            ("Abrupt steps", reads.count("abrupt"), f"of {len(reads)} passages; {reads.count('faint')} too faint"),
            ("To see to", len(planned.checks) - cautions, f"and {cautions} cautions"),
            ("Cost index", f"{planned.cost:,.0f}", budget),
        ]
    )


@app.cell
def _(folder, get_house):
    house, house_faults = get_house()
    if house is None:
        try:
            house, house_faults = read_house(folder)
        except HouseFault as _fault:
            house_faults = _fault.problems
    return house, house_faults


@app.cell
def _(folder, house, house_faults):
    mo.stop(
        house is None,
        pages.show(
            pages.element("div", pages.element("h1", folder.name), class_="pl-title") + pages.unready(house_faults)
        ),
    )
    ready = True
    return (ready,)


@app.cell
def _(folder, house, ready):
    mo.stop(not ready)
    stock, stock_faults = usable_stock(folder, house.unit)
    return stock, stock_faults


@app.cell
def _(asked_for, folder, ready):
    mo.stop(not ready)
    opening_faults = ()
    try:
        desk = Desk(folder, asked_for if asked_for in list_intents(folder) else "")
    except HouseFault as _fault:
        desk, opening_faults = Desk(folder), _fault.problems
    get_intent, set_intent = mo.state(desk.intent)
    return desk, get_intent, opening_faults, set_intent


@app.cell
def _(desk, set_intent, set_news, set_shown):
    def show_again():
        """Put the alternative on the desk into every control and chart."""
        set_intent(desk.intent)
        set_shown(lambda count: count + 1)

    def change(edit, *arguments):
        """One change of a control: the plan follows, the control stays as it is."""
        try:
            set_intent(desk.change(edit, *arguments))
            set_news("")
        except ValueError as error:
            set_news(str(error))
            show_again()

    def put(intent):
        """An alternative edited from elsewhere than its own control."""
        desk.replace(intent)
        show_again()

    return change, put, show_again


@app.cell
def _(get_intent, house, stock):
    _intent = get_intent()
    if len(house.rooms) > LARGE_HOUSE:
        with mo.status.spinner(title=f"Planning {len(house.rooms)} rooms", remove_on_exit=True):
            planned = plan(house, _intent, stock)
    else:
        planned = plan(house, _intent, stock)
    return (planned,)


@app.cell
def _(desk, get_news, planned):
    pages.show(*headline(planned, desk, get_news()))
    return


@app.cell
def _(desk, folder, get_shown, set_news, show_again):
    get_shown()

    def _open(name):
        try:
            desk.open("" if name == HOUSE_DEFAULTS else name)
            set_news("")
        except HouseFault as fault:
            set_news(" ".join(map(str, fault.problems)))
        mo.query_params().set("alternative", desk.intent.name)
        show_again()

    _names = [HOUSE_DEFAULTS, *list_intents(folder)]
    alternative = mo.ui.dropdown(_names, value=desk.intent.name or HOUSE_DEFAULTS, label="Alternative", on_change=_open)
    return (alternative,)


@app.cell
def _(desk, set_news, show_again):
    new_title = mo.ui.text(placeholder="title of a new alternative", label="New title")

    def _then(act):
        def clicked(_):
            try:
                saved = act()
                news = f"Saved as {saved.name}."
                mo.query_params().set("alternative", saved.name)
            except HouseFault as fault:
                news = " ".join(map(str, fault.problems))
            set_news(news)
            show_again()

        return clicked

    def _move(act):
        def clicked(_):
            act()
            set_news("")
            show_again()

        return clicked

    steps = [
        mo.ui.button(label="Undo", on_click=_move(desk.undo)),
        mo.ui.button(label="Redo", on_click=_move(desk.redo)),
        mo.ui.button(label="Save", on_click=_then(desk.save)),
        new_title,
        mo.ui.button(label="Save as new", on_click=_then(lambda: desk.save_as(new_title.value))),
    ]
    return new_title, steps


@app.cell
def _(alternative, steps):
    mo.hstack([alternative, *steps], justify="start", align="center", wrap=True)
    return


@app.cell
def _(asked_for, desk):
    # Open for whoever comes without an alternative or a draft of their own.
    _opened = {} if asked_for or desk.drafted else {"open": ""}
    pages.show(
        pages.element(
            "details",
            pages.element("summary", "First time here? Five lines"),
            pages.listed(
                [
                    "The plan shows every room's tier: 1 is the plainest, the highest number the most formal.",
                    "Beside it, each walk from the entry to a bedroom shows how the tiers step down.",
                    "Under Rooms, pin a room or give it a range; under Weights and limits, say what counts.",
                    "Click a room on the plan, then One room: why it has its tier, and what another would take.",
                    "Every change replans the house and is kept as a draft; Save as new makes an alternative of it.",
                ],
                "ol",
            ),
            class_="pl-help",
            **_opened,
        )
    )
    return


@app.cell
def _(desk, get_shown, house_faults, opening_faults, show_again, stock_faults):
    get_shown()

    def _back(_):
        desk.revert()
        show_again()

    _notes = []
    if opening_faults:
        _words = "The alternative asked for has faults, so the house's own defaults are shown."
        _notes.append(pages.show(pages.note("alarm", _words, pages.problems(opening_faults))))
    if stock_faults:
        _words = "The stock has faults, so sizes are the targets of the orders, rounded to 1/8 in."
        _notes.append(pages.show(pages.note("alarm", _words, pages.problems(stock_faults))))
    if house_faults:
        _words = pages.element(
            "details", pages.element("summary", f"{len(house_faults)} remarks on the house's tables")
        )
        _notes.append(pages.show(pages.note("quiet", pages.problems(house_faults))))
    if desk.fault:
        _words = f"There is a draft that cannot be read, so what is saved is shown. {desk.fault}"
        _notes.append(pages.show(pages.note("alarm", _words)))
    put_away = mo.ui.button(label="Return to what is saved", on_click=_back)
    if desk.drafted:
        _words = f"Changes that were not saved, last touched {desk.drafted:%d %B at %H:%M}, are back as a draft."
        _notes.append(
            mo.hstack([pages.show(pages.note("quiet", _words)), put_away], justify="start", align="center", wrap=True)
        )
    mo.vstack(_notes) if _notes else None
    return (put_away,)


@app.cell
def _(put, planned, stock):
    mo.stop(planned.feasible)
    loosen = [
        mo.ui.button(label=_words[:1].upper() + _words[1:], on_click=lambda _, way=_way: put(way))
        for _words, _way in ways_out(planned.house, planned.intent, stock)
    ]
    _said = pages.note(
        "alarm",
        pages.element("p", pages.element("b", "No plan can keep all of these at once:")),
        pages.listed(planned.conflicts),
        pages.element("p", "Loosen one of them:" if loosen else "No single wish gives a plan; undo the last ones."),
    )
    mo.vstack([pages.show(_said), mo.hstack(loosen, justify="start", wrap=True)])
    return (loosen,)


@app.cell
def _(house, ready):
    openings = frames.openings(house) if ready else None
    return (openings,)


@app.cell
def _(dark, openings, planned, width):
    mo.stop(not planned.feasible)
    _map = charts.house_map(frames.rooms(planned), frames.passages(planned), openings, dark=dark, width=width)
    _walks = charts.step_down(frames.routes(planned), dark=dark, width=width)
    floor, walks = pages.live(_map), pages.live(_walks)
    mo.hstack([floor, walks], justify="start", align="start", gap=2, wrap=True)
    return floor, walks


@app.cell
def _(dark, get_picked, planned):
    mo.stop(not planned.feasible or not planned.routes)
    _route = next((r for r in planned.routes if r.room == get_picked()), planned.routes[0])
    pages.show(
        pages.drawing(strip(planned, _route.rooms), STRIP_WIDTH, dark),
        pages.element("p", "Click another bedroom on the plan to walk there.", class_="pl-hint"),
    )
    return


@app.cell
def _(floor, set_picked):
    _rooms = floor.selections.get(charts.PICK, {}).get(charts.PICK_FIELD.replace(".", "\\."))
    if _rooms:
        set_picked(_rooms[0])
    return


@app.cell
def _(ready):
    mo.stop(not ready)
    tab = mo.ui.tabs(dict.fromkeys(TABS, ""), value="Rooms")
    tab
    return (tab,)


@app.cell
def _(get_shown, house, ready, tab):
    mo.stop(not ready or tab.value != "Rooms")
    get_shown()
    find = mo.ui.text(placeholder="part of a name", label="Find a room", debounce=150)
    level = mo.ui.dropdown([ALL_LEVELS, *house.levels], value=ALL_LEVELS, label="Level")
    mo.hstack([find, level], justify="start", wrap=True)
    return find, level


@app.cell
def _(change, desk, find, get_shown, house, level, tab):
    mo.stop(tab.value != "Rooms")
    get_shown()
    _tiers = {"–": None} | {str(n): n for n in range(1, desk.intent.tiers + 1)}

    def _number(value):
        return "–" if value is None else str(value)

    def _controls(room):
        wish = desk.intent.rooms.get(room, Wish())

        def now():
            return desk.intent.rooms.get(room, Wish())

        return (
            mo.ui.dropdown(_tiers, value=_number(wish.tier), on_change=lambda n: change(edits.pin, room, n)),
            mo.ui.dropdown(
                _tiers,
                value=_number(wish.lowest),
                on_change=lambda n: change(edits.set_range, room, n, now().highest),
            ),
            mo.ui.dropdown(
                _tiers,
                value=_number(wish.highest),
                on_change=lambda n: change(edits.set_range, room, now().lowest, n),
            ),
        )

    _found = [
        room.name
        for room in house.rooms
        if level.value in (ALL_LEVELS, room.level) and find.value.casefold() in room.name.casefold()
    ]
    wishes = {name: _controls(name) for name in _found[:SHOWN_ROOMS]}
    left_out = len(_found) - len(wishes)
    return left_out, wishes


@app.cell
def _(left_out, planned, tab, wishes):
    mo.stop(tab.value != "Rooms")
    _sets = {name: group for group in planned.sets for name in group}
    _rows = []
    for _name, _controls in wishes.items():
        _room = planned.by_name.get(_name)
        _group = [other for other in _sets.get(_name, ()) if other != _name]
        _rows.append(
            [
                _name,
                pages.tier(_room.tier, planned.tier_names[_room.tier - 1]) if _room else "–",
                *(pages.control(control) for control in _controls),
                f"{_room.target:.1f}" if _room else "",
                span(_room.lowest, _room.highest) if _room else "",
                ", ".join(_group),
            ]
        )
    _columns = ["Room", "Tier", "Pin", "Lowest", "Highest", "Target", "In force", "Shares its tier with"]
    _more = f"{left_out} more rooms: narrow the search to see them." if left_out else ""
    pages.show(pages.table(_columns, _rows, numbers=["Target"]) + pages.element("p", _more))
    return


@app.cell
def _(desk, get_shown, house, put, set_news, tab):
    mo.stop(tab.value != "Rooms")
    get_shown()

    def _join(_):
        try:
            put(edits.add_set(desk.intent, sharing[0].value))
        except ValueError as error:
            set_news(str(error))

    _chosen = mo.ui.multiselect([room.name for room in house.rooms], label="Rooms that share a tier")
    sharing = [_chosen, mo.ui.button(label="Make them share", on_click=_join)]
    sharing += [
        mo.ui.button(
            label=f"Part {', '.join(group)}",
            on_click=lambda _, group=group: put(edits.leave_set(desk.intent, *group)),
        )
        for group in desk.intent.sets
    ]
    mo.hstack(sharing, justify="start", wrap=True)
    return (sharing,)


@app.cell
def _(change, desk, get_shown, house, show_again, tab):
    mo.stop(tab.value != "Weights and limits")
    get_shown()
    _intent = desk.intent

    def _tiers(value):
        change(edits.set_tiers, value)
        show_again()

    weights = [
        mo.ui.slider(
            0,
            max(1.0, *_intent.importance.values()),
            0.05,
            value=_intent.importance.get(factor, 0.0),
            show_value=True,
            full_width=True,
            label=f"{factor}: {FACTOR_WORDS[factor]}",
            on_change=lambda value, factor=factor: change(edits.set_weight, factor, value),
        )
        for factor in FACTORS
    ]

    def _or_default(known, default, value, label, edit):
        usual = f"as usual ({default})"
        return mo.ui.dropdown(
            {usual: None} | {str(each): each for each in known},
            value=usual if value is None else str(value),
            label=label,
            on_change=lambda chosen: change(edit, chosen),
        )

    def _limit(row):
        kind = row["kind"]
        return _or_default(
            range(_intent.tiers),
            row["limit"],
            _intent.limits.get(kind),
            kind,
            lambda intent, most: edits.set_limit(intent, kind, most),
        )

    _periods = names("styles")
    _orders = [row["name"] for row in table("orders")["order"]]
    whole = [
        _or_default(_periods, house.style, _intent.style, "Period", edits.set_style),
        _or_default(_orders, house.order, _intent.order, "Order", edits.set_order),
        _or_default(GRADES, house.grade, _intent.grade, "Grade", edits.set_grade),
        mo.ui.dropdown(
            {str(n): n for n in range(FEWEST_TIERS, MOST_TIERS + 1)},
            value=str(_intent.tiers),
            label="Tiers",
            on_change=_tiers,
        ),
        mo.ui.text(
            value="" if _intent.budget is None else f"{_intent.budget:g}",
            placeholder="none",
            label="Budget, as cost index",
            on_change=lambda value: change(lambda intent: edits.set_budget(intent, edits.read_budget(value))),
        ),
    ]
    limits = [_limit(row) for row in table("passages")["passage"] if row["depth"]]
    mo.hstack(
        [
            mo.vstack([pages.show(pages.heading("What makes a room important")), *weights]),
            mo.vstack(
                [
                    pages.show(pages.heading("How far tiers may differ across a …")),
                    *limits,
                ]
            ),
            mo.vstack([pages.show(pages.heading("The whole house")), *whole]),
        ],
        justify="start",
        gap=3,
        wrap=True,
    )
    return limits, weights, whole


@app.cell
def _(dark, planned, tab, width):
    mo.stop(tab.value != "Importance" or not planned.feasible)
    mo.hstack(
        [
            charts.importance(frames.factors(planned), dark=dark, width=width),
            charts.room_graph(frames.rooms(planned), frames.passages(planned), dark=dark, width=width),
        ],
        justify="start",
        align="start",
        gap=2,
        wrap=True,
    )
    return


@app.cell
def _(dark, planned, tab, width):
    mo.stop(tab.value != "Packages" or not planned.feasible)
    _elements = frames.elements(planned)
    _parts = [
        mo.hstack(
            [
                charts.element_sizes(_elements, ceiling=ceiling, dark=dark, width=width)
                for ceiling in sorted(_elements["ceiling"].unique(), reverse=True)
            ],
            justify="start",
            align="start",
            gap=2,
            wrap=True,
        )
    ]
    for _ceiling in sorted({p.ceiling for p in planned.packages}, reverse=True):
        _tiers = [p for p in planned.packages if p.ceiling == _ceiling]
        _parts.append(pages.show(pages.drawing(ladder(_tiers, planned.order, planned.style), LADDER_WIDTH, dark)))
    if planned.choice and planned.choice.shortfalls:
        _drawn = [pages.drawing(profile_section(p), SECTION_WIDTH, dark) for p in planned.choice.to_make]
        _parts.append(
            pages.show(
                pages.note("quiet", pages.heading("To have made"), pages.listed(planned.choice.shortfalls)),
                pages.element("div", *_drawn, style=pages.SIDE_BY_SIDE),
            )
        )
    for _package in planned.packages:
        _rooms = ", ".join(r.room.name for r in planned.rooms if r.package == _package)
        _name = planned.tier_names[_package.tier - 1]
        _rows = [
            [
                _element.element,
                _element.form,
                format_length(_element.size),
                format_length(_element.projection),
                "" if _element.bottom is None else format_length(_element.bottom),
                ", ".join(_element.profiles),
                _element.source,
            ]
            for _element in _package.elements
        ]
        _title = f"{_package.tier} {_name}, under {format_length(_package.ceiling)}: {_rooms}"
        _columns = ["Element", "Form", "Size", "Projection", "Above the floor", "Built from", "Source"]
        _parts.append(pages.show(pages.table(_columns, _rows, caption=_title, numbers=_columns[2:5])))
    mo.vstack(_parts, gap=1.5)
    return


@app.function
def package_sheet(package, planned, stock, dark):
    """Every section of a package with its members named, and what stock builds each element from."""
    shown = package_sections(package, planned.order, planned.style)
    drawn = pages.element("div", *(pages.drawing(s, SECTION_WIDTH, dark) for s in shown), style=pages.SIDE_BY_SIDE)
    if stock is None:
        return pages.show(drawn)
    rows = [
        [
            *(row[name] for name in ("element", "built_up", "profiles", "height_text", "projection_text")),
            f"{row['price']:.2f}",
            row["runner_up"],
            f"{row['runner_up_price']:.2f}" if row["runner_up"] else "",
        ]
        for row in frames.built(package, stock).to_dict("records")
    ]
    money = f"{planned.house.currency} a foot"
    columns = ["Element", "Put together as", "Profiles", "Height", "Projection", money, "Runner-up", f"its {money}"]
    return pages.show(drawn, pages.table(columns, rows, numbers=[*columns[3:6], columns[7]]))


@app.cell
def _(dark, planned, stock, tab):
    mo.stop(tab.value != "Packages" or not planned.feasible)
    mo.accordion(
        {
            f"Sections of {package.name}": mo.lazy(
                lambda package=package: package_sheet(package, planned, stock, dark), show_loading_indicator=True
            )
            for package in planned.packages
        },
        multiple=True,
    )
    return


@app.cell
def _(get_picked, house, set_picked, tab):
    mo.stop(tab.value not in ("One room", "Walls"))
    _names = [room.name for room in house.rooms]
    _picked = get_picked() if get_picked() in _names else house.entries[0]
    room_choice = mo.ui.dropdown(_names, value=_picked, label="Room", on_change=set_picked)
    room_choice
    return (room_choice,)


@app.cell
def _(get_picked, house, tab):
    mo.stop(tab.value != "One room")
    picked = get_picked() if get_picked() in house.by_name else house.entries[0]
    return (picked,)


@app.cell
def _(change, picked, planned, show_again, tab):
    mo.stop(tab.value != "One room" or not planned.feasible)
    _room = planned.by_name[picked]

    def _take(tier):
        def clicked(_):
            change(edits.pin, picked, tier)
            show_again()

        return clicked

    def _change_words(way):
        if way.moves is None:
            return pages.listed(way.conflicts)
        if not way.moves:
            return "no other room"
        return ", ".join(f"{name} {before} → {after}" for name, (before, after) in way.moves.items())

    _ways = what_if(planned, picked)
    pins = {way.tier: mo.ui.button(label="Pin", on_click=_take(way.tier)) for way in _ways if way.moves is not None}
    _rows = [
        [
            pages.tier(_way.tier, planned.tier_names[_way.tier - 1]),
            "" if _way.objective is None else f"{_way.objective:+.2f}",
            "" if _way.cost is None else f"{_way.cost:+,.0f}",
            _change_words(_way),
            "no plan" if _way.moves is None else pages.control(pins[_way.tier]),
        ]
        for _way in _ways
    ]
    _passages = [
        [_p.end if _p.start == picked else _p.start, _p.kind, abs(_p.difference), _p.limit, _p.reads]
        for _p in planned.passages
        if picked in (_p.start, _p.end)
    ]
    _factors = [
        [_factor, FACTOR_WORDS[_factor], f"{_value:.2f}", planned.intent.importance.get(_factor, 0.0)]
        for _factor, _value in _room.factors.items()
    ]
    _title = f"{picked}: tier {_room.tier} {planned.tier_names[_room.tier - 1]}"
    _figures = f"Importance {_room.importance:.2f}, target {_room.target:.2f}, {_room.depth} steps from the entry."
    pages.show(
        pages.element(
            "div",
            pages.heading(_title),
            pages.element("p", _figures),
            pages.listed(_room.reasons),
            pages.table(
                ["Tier", "From the ideal", "Cost index", "Moves with it", "Take it"],
                _rows,
                caption="What if it had another tier?",
                numbers=["From the ideal", "Cost index"],
                marked=[_room.tier - 1],
            ),
            pages.table(
                ["To", "Through", "Differs by", "At most", "Reads"],
                _passages,
                caption="Its passages",
                numbers=["Differs by", "At most"],
            ),
            pages.table(
                ["Factor", "Says", "Value", "Weight"],
                _factors,
                caption="What makes it important",
                numbers=["Value", "Weight"],
            ),
            class_="pl-room",
        )
    )
    return (pins,)


@app.cell
def _(dark, get_picked, planned, tab):
    mo.stop(tab.value != "Walls" or not planned.feasible)
    _room = planned.by_name.get(get_picked()) or planned.by_name[planned.house.entries[0]]
    _walls = lay_out(planned.house, _room.room, _room.package, planned.style, planned.order)
    _sheet = room_sheet(_walls)
    _pieces = [
        [row[name] for name in ("wall", "opening", "piece", "length_text", "width_text", "cuts", "note")]
        for row in frames.pieces(_walls).to_dict("records")
    ]
    _meetings = [
        [row[name] for name in ("opening", "other", "kind", "head_text", "words")]
        for row in frames.meetings(planned, _room.room.name).to_dict("records")
    ]
    mo.vstack(
        [
            pages.show(pages.drawing(_sheet, SHEET_WIDTH, dark)),
            mo.hstack(
                [
                    mo.download(lambda: svg(_sheet, SHEET_WIDTH).encode(), f"{_room.room.name}.svg", label="SVG"),
                    mo.download(lambda: dxf(_sheet).encode(), f"{_room.room.name}.dxf", label="DXF"),
                    mo.download(lambda: png(_sheet, SHEET_WIDTH), f"{_room.room.name}.png", label="PNG"),
                ],
                justify="start",
            ),
            pages.show(
                pages.table(
                    ["To", "Through", "Kind", "Heads at", "How the trim of both rooms meets"],
                    [[_m[1], _m[0], *_m[2:]] for _m in _meetings],
                    caption="Its passages, face by face",
                )
                if _meetings
                else "",
                pages.table(
                    ["Wall", "Opening", "Piece", "Length", "From", "Cuts", "Note"],
                    _pieces,
                    caption="Every piece round its openings",
                    numbers=["Length", "From"],
                ),
            ),
        ],
        gap=1.5,
    )
    return


@app.cell
def _(planned, tab):
    mo.stop(tab.value != "Checks" or not planned.feasible)
    _rows = [[c.severity, c.room, c.opening, c.message, c.remedy, c.rule, c.source] for c in planned.checks]
    _columns = ["Kind", "Room", "Opening", "What", "Remedy", "Rule", "Source"]
    pages.show(
        pages.listed(planned.notes)
        + (pages.table(_columns, _rows) if _rows else pages.element("p", "Nothing to see to."))
    )
    return


@app.cell
def _(folder, get_house, ready, tab):
    mo.stop(not ready or tab.value != "House tables")
    get_house()
    editors = {
        name: mo.ui.data_editor(read_cells(folder, name).replace("", BLANK).to_dict("records"), label=name)
        for name in TABLES
    }
    mo.vstack(
        [mo.vstack([pages.show(pages.heading(name)), editor]) for name, editor in editors.items()],
        gap=1,
    )
    return (editors,)


@app.cell
def _(editors, folder, set_house, set_table_faults, set_news):
    def _save(_):
        try:
            saved = save_cells(folder, {name: DataFrame(editor.value) for name, editor in editors.items()})
        except HouseFault as fault:
            set_table_faults(fault.problems)
            return
        set_table_faults(())
        set_house(saved)
        set_news("The house's tables are saved.")

    save_tables = mo.ui.button(label="Check and save the tables", on_click=_save)
    save_tables
    return (save_tables,)


@app.cell
def _(get_table_faults, tab):
    mo.stop(tab.value != "House tables" or not get_table_faults())
    _words = "Nothing was saved. Row 1 of a file is its header, so its row 2 is line 1 above."
    pages.show(pages.note("alarm", _words, pages.problems(get_table_faults())))
    return


if __name__ == "__main__":
    app.run()
