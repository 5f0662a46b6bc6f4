"""What the apps hand to the page is Vega-Lite as its schema has it."""

import altair as alt
import pytest

from planner import charts, demo_house, plan, read_house
from planner.planning import frames


@pytest.fixture(scope="module")
def planned():
    return plan(read_house(demo_house())[0])


@pytest.mark.parametrize("width", [342, 590])
def test_specifications_hold_to_the_schema(planned, width):
    rooms, passages = frames.rooms(planned), frames.passages(planned)
    for chart in (
        charts.house_map(rooms, passages, frames.openings(planned.house), width=width),
        charts.room_graph(rooms, passages, width=width),
        charts.step_down(frames.routes(planned), width=width),
        charts.importance(frames.factors(planned), width=width),
        charts.element_sizes(frames.elements(planned), width=width),
    ):
        whole = charts.specification(chart)
        assert whole["$schema"] == alt.SCHEMA_URL
        read = alt.Chart.from_dict(whole, validate=True)
        assert type(read) is type(chart)
