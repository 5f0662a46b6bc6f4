"""Rows of a frame come out as pandas itself would write them, to the type of every value."""

import pandas as pd
import pytest

from planner.charts.vega_lite import records
from planner.planning import frames


@pytest.mark.parametrize("of", [frames.rooms, frames.openings, frames.passages, frames.routes, frames.elements])
def test_records_are_those_of_pandas(planned, of):
    frame = of(planned)
    rows = records(frame)
    assert len(rows) == len(frame) > 0
    assert repr(rows) == repr(frame.to_dict("records"))


def test_a_frame_without_rows_or_columns_has_no_records():
    assert records(pd.DataFrame({"room": []})) == records(pd.DataFrame()) == []
