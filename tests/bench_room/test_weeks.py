"""A vat that comes to life over a week: its wait goes on while the program is closed, and asks once a day."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench.commands import start_wait
from vatside.bench.open_day import new_day, open_day
from vatside.bench.vat_acts import take_reading
from vatside.catalogue.looks import Clarity, Colour, Smell, Strip, Surface
from vatside.dayline.day_steps import steps
from vatside.log.events.day import MethodChosen, PlanChanged
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


GOOD = Reading(
    temperature=Amount(35, "degC"), pH=9.7, colour=Colour.YELLOW_GREEN, clarity=Clarity.CLEAR, surface=Surface.COPPERY,
    strip=Strip.GREEN_YELLOW, seconds=55, smell=Smell.USUAL,
)  # fmt: skip


@pytest.mark.parametrize(("method", "over"), [("fermentation", True), ("tdo-soda", False)])
def test_a_vat_that_lives_by_its_signs_need_not_wait_for_the_clock(tmp_path: Path, method: str, *, over: bool) -> None:
    """Aino et al. (2018): from the fourth day on. A good reading ends its week; the rest of other kinds goes on."""
    clock = VirtualClock()
    desk = new_day(tmp_path, clock)
    desk.record(PlanChanged("lots.a.fibre", "linen"))
    desk.record(MethodChosen("method", method))
    rest = next(step for step in steps(desk.plan, compute(desk.plan)) if step.id == "vat.rest_covered")
    desk.record(VatMade())
    desk.record(start_wait(rest, 1))
    clock.advance(20 * 60.0)
    take_reading(desk, evolve(GOOD, pH=10.2) if method == "tdo-soda" else GOOD)
    assert (rest.id in desk.state.done) is over
    assert bool(desk.waits(clock.now())) is not over
