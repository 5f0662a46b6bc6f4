"""What a chart costs as a finished specification, and in Altair's own words.

Run: python -m pytest -o addopts= tests/benchmarks/bench_charts.py -s
"""

import json
from collections.abc import Callable
from time import process_time

import altair as alt
from altair.utils.schemapi import debug_mode

from planner import charts, demo_house, plan, read_house
from planner.planning import frames

ROUNDS = {"finished": 60, "own": 9}
"""Each time is the best of so many, in seconds of the processor; more of what is over soon."""


def in_altairs_words(spec: dict) -> alt.TopLevelMixin:
    """A specification said again as one would write it with Altair, channel by channel."""
    parts = dict(spec)
    for name in ("$schema", "config", "params"):
        parts.pop(name, None)
    data = {"data": alt.Data(values=parts.pop("data")["values"])} if "data" in parts else {}
    if "layer" in parts:
        chart = alt.layer(*map(in_altairs_words, parts.pop("layer")), **data)
    else:
        mark = dict(parts.pop("mark"))
        chart = getattr(alt.Chart(**data), f"mark_{mark.pop('type')}")(**mark)
        if "encoding" in parts:
            chart = chart.encode(**{name: channel(name, said) for name, said in parts.pop("encoding").items()})
        if "projection" in parts:
            chart = chart.project(**parts.pop("projection"))
    if "title" in parts:
        parts["title"] = alt.Title(**parts["title"])
    chart = chart.properties(**parts)
    if spec.get("params"):
        chart.params = [alt.TopLevelSelectionParameter(**param) for param in spec["params"]]
    return chart.configure(**spec["config"]) if "config" in spec else chart


def channel(name: str, said: dict | list) -> object:
    """A channel of an encoding, e.g. alt.X of a field or alt.StrokeWidthValue of a value."""
    if isinstance(said, list):
        return [channel(name, each) for each in said]
    kind = name[0].upper() + name[1:]
    return getattr(alt, f"{kind}Value" if "value" in said else kind)(**said)


def builders() -> dict[str, Callable[[], alt.TopLevelMixin]]:
    """Each chart of the demo house as the apps show it."""
    house, _ = read_house(demo_house())
    planned = plan(house)
    rooms, passages, openings = frames.rooms(planned), frames.passages(planned), frames.openings(planned)
    rows, steps = frames.step_down([planned]), frames.steps([planned])
    factors, elements = frames.factors(planned), frames.elements(planned)
    compared, wide = frames.compare([planned, planned]), {"width": 590}
    return {
        "floor plan": lambda: charts.floor_plan(rooms, openings, **wide),
        "room graph": lambda: charts.room_graph(rooms, passages, **wide),
        "step down": lambda: charts.step_down(rows, steps, **wide),
        "importance": lambda: charts.importance(factors, **wide),
        "element sizes": lambda: charts.element_sizes(elements, **wide),
        "tier matrix": lambda: charts.tier_matrix(compared, differing_only=False, **wide),
    }


def best(work: Callable[[], object], rounds: int) -> float:
    times = []
    for _ in range(rounds):
        start = process_time()
        work()
        times.append(process_time() - start)
    return min(times)


def without_checks(spec: dict) -> dict:
    """As lean as Altair gets: nothing is checked against the schema, neither on the way in nor on the way out."""
    with debug_mode(False):
        return in_altairs_words(spec).to_dict(validate=False)


WAYS = {
    "checked": lambda spec: in_altairs_words(spec).to_dict(),
    "as the apps ask": lambda spec: in_altairs_words(spec).to_dict(validate=False),
    "without checks": without_checks,
}


def test_finished_specifications_beside_altairs_words():
    """Both say the same. Altair's words come on top of putting the rows together, which both need."""
    alt.data_transformers.enable("default", consolidate_datasets=False)
    print("\nBuilding a chart and its dict: ms of the processor and ratio to the finished chart")
    print(f"{'':14}{'finished':>10}" + "".join(f"{way:>22}" for way in WAYS))
    for name, build in builders().items():
        spec = {part: said for part, said in build().to_dict().items() if said != []}
        with alt.theme.enable("none"):
            said = in_altairs_words(spec).to_dict(validate=False)
        assert json.dumps(said, sort_keys=True) == json.dumps(spec, sort_keys=True), name
        finished = best(lambda build=build: build().to_dict(), ROUNDS["finished"])
        ways = [finished + best(lambda say=say, spec=spec: say(spec), ROUNDS["own"]) for say in WAYS.values()]
        shown = "".join(f"{seconds * 1e3:14.1f} {seconds / finished:6.1f}x" for seconds in ways)
        print(f"{name:14}{finished * 1e3:10.1f}{shown}")


if __name__ == "__main__":
    test_finished_specifications_beside_altairs_words()
