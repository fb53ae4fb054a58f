"""A vat that comes to life over a week: its wait goes on while the program is closed, and asks once a day."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench.commands import start_wait
from vatside.bench.open_day import new_day, open_day
from vatside.bench.vat_acts import take_reading
from vatside.catalogue.looks import Smell
from vatside.dayline.day_steps import steps
from vatside.log.events.day import MethodChosen
from vatside.log.events.vat import VatMade
from vatside.log.words.day import log_lines
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.reading import Reading

DAY = 24 * 3600.0


def test_a_week_of_opening_and_closing(tmp_path: Path) -> None:
    """Opened once a day: the wait has the days left that it should, and warmth, pH and smell are in the log."""
    clock = VirtualClock()
    desk = new_day(tmp_path, clock)
    desk.record(MethodChosen("method", "fermentation"))
    rest = next(step for step in steps(desk.plan, compute(desk.plan)) if step.id == "vat.rest_covered")
    desk.record(VatMade())
    desk.record(start_wait(rest, 1))
    for day in range(1, 7):
        path = desk.keeping.path
        assert path is not None
        desk.keeping.close()
        clock.advance(DAY)
        desk = open_day(path, clock)
        (wait,) = desk.waits(clock.now())
        assert wait.left == pytest.approx((7 - day) * DAY, abs=5)
        take_reading(desk, Reading(temperature=Amount(35, "degC"), pH=10.5 - day / 10, smell=Smell.USUAL))
    assert sum("35 °C" in line for line in log_lines(desk.state.whole)) >= 6
    clock.advance(DAY + timedelta(minutes=1).total_seconds())
    assert desk.waits(clock.now())[0].over
