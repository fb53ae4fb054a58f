"""What the dyer wants, as events."""

from __future__ import annotations

from datetime import datetime

import pytest
from tests.plan.plans import wool_plan

from vatside.bench.commands import change, put
from vatside.log.events.day import PinCleared, PinSet, PlanChanged
from vatside.units import Amount


@pytest.mark.parametrize(
    ("now", "wanted"),
    [
        (datetime(2026, 5, 1, 10, 34), "2026-05-02T10:00"),  # past for today
        (datetime(2026, 5, 2, 6, 0), "2026-05-02T10:00"),
    ],
)
def test_a_bare_hour_means_the_next_time_it_comes_round(now: datetime, wanted: str) -> None:
    """`10:00` typed in the evening is tomorrow's."""
    assert change(wool_plan(), "ready_by", "10:00", now) == PlanChanged("ready_by", wanted)


@pytest.mark.parametrize(("text", "value"), [("2026-05-01 10:00", "2026-05-01T10:00"), ("", None)])
def test_a_dated_or_open_hour_stays(text: str, value: str | None) -> None:
    """What has a date, or no hour at all, is left alone."""
    assert change(wool_plan(), "ready_by", text, datetime(2026, 6, 1)) == PlanChanged("ready_by", value)


def test_a_depth_can_be_said_in_a_word() -> None:
    """`medium` is 0.8 % on the fibre."""
    assert change(wool_plan(), "lots.a.depth", "Medium") == PlanChanged("lots.a.depth", Amount(0.8, "%"))


@pytest.mark.parametrize(
    ("path", "value", "event"),
    [
        ("water.hot", Amount(50, "degC"), PlanChanged("water.hot", Amount(50, "degC"))),
        ("stock.pigment", Amount(4, "tsp"), PinSet("stock.pigment", Amount(4, "tsp"))),
        ("stock.pigment", None, PinCleared("stock.pigment")),
    ],
)
def test_a_value_goes_where_its_path_says(path: str, value: Amount | None, event: object) -> None:
    """A place of the plan is changed, a figure is held or freed."""
    assert put(path, value) == event
