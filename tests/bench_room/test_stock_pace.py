"""A slow reducer follows the warmth of its stock: the rest in the plan, and the wait that runs, by a reading.

Glucose reduces indigo with an energy of activation of 64 kJ/mol, and 4.1e-9 m/s at 65 degrees C in 0.2 M lye
[Vuorema et al., Dyes Pigm. 76 (2008) 542-549]; that other sugars keep the same law is an assumption.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import wool_plan

from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day
from vatside.bench.undo import take_back
from vatside.bench.vat_acts import begins_with, take_reading
from vatside.chemistry.rates import speed
from vatside.chemistry.reducers import REDUCERS
from vatside.forms.fields import FieldValue, set_value
from vatside.log.events.day import PlanChanged, StepDone, WaitStarted
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.reading import Reading


@pytest.mark.parametrize(
    ("celsius", "relative"),
    # speed beside that at 65 degrees C, worked by hand from 64 kJ/mol
    [(40, 0.16), (45, 0.24), (50, 0.35), (55, 0.50), (60, 0.71), (65, 1), (70, 1.39)],
)
def test_the_speed_of_sugar(celsius: float, relative: float) -> None:
    """Its speed at other temperatures, to the printed digits."""
    assert speed(REDUCERS["fructose"].heat, 65, celsius) == pytest.approx(relative, abs=0.006)


@pytest.mark.parametrize(("celsius", "minutes"), [(50, 130), (40, 280)])
def test_three_quarters_of_an_hour(celsius: float, minutes: float) -> None:
    """What takes 45 min at 65 degrees C takes about 2 h 10 min at 50 and 4 h 40 min at 40."""
    assert 45 * speed(REDUCERS["fructose"].heat, celsius, 65) == pytest.approx(minutes, rel=0.03)


def test_a_cooler_stock_rests_longer_and_says_so() -> None:
    """An hour at 60 degrees C is three at 45; the step, its wait and a notice say it."""
    plan = set_value(set_value(wool_plan(), "method", "fructose-lime"), "stock.bath_temperature", Amount(45, "degC"))
    sheet = compute(plan)
    assert sheet.value("stock.hold") == pytest.approx(60 * 0.71 / 0.24, rel=0.02)
    assert any("more slowly" in notice.text for notice in sheet.notices)


def test_a_quick_reducer_keeps_its_hour() -> None:
    """Of thiourea dioxide no law is known: its rest is its method's at any warmth."""
    plan = set_value(wool_plan(), "stock.bath_temperature", Amount(45, "degC"))
    assert compute(plan).value("stock.hold") == compute(wool_plan()).value("stock.hold") == 60


@pytest.fixture(name="desk")
def _desk(tmp_path: Path) -> Desk:
    """A day whose stock of sugar and lime began its hour at 60 degrees C twenty minutes ago."""
    desk = new_day(tmp_path, VirtualClock())
    desk.record(PlanChanged("method", "fructose-lime"))
    desk.record(WaitStarted("w1", "stock.hold_warm", "Stock rest", 60))
    clock = desk.clock
    assert isinstance(clock, VirtualClock)
    clock.advance(20 * 60)
    return desk


def left(desk: Desk) -> float:
    """Minutes of the rest to go."""
    return desk.waits(desk.clock.now())[0].left / 60


def test_a_reading_of_its_warmth_moves_the_end(desk: Desk) -> None:
    """At 45 degrees C the forty minutes left are two hours: 40 × 0.71 ÷ 0.24."""
    said = take_reading(desk, Reading(temperature=Amount(45, "degC")))
    assert left(desk) == pytest.approx(40 * 0.71 / 0.24, rel=0.02)
    assert "more slowly" in said


def test_warm_again_it_ends_sooner(desk: Desk) -> None:
    """What was left is told for the warmth read last; at 60 degrees C again it is what it was."""
    take_reading(desk, Reading(temperature=Amount(45, "degC")))
    take_reading(desk, Reading(temperature=Amount(60, "degC")))
    assert left(desk) == pytest.approx(40, rel=0.01)


def test_a_reading_without_warmth_moves_nothing(desk: Desk) -> None:
    """Only the thermometer tells how fast it goes."""
    take_reading(desk, Reading(pH=12.0))
    assert left(desk) == pytest.approx(40)


def test_undo_takes_the_reading_and_the_minutes_back(desk: Desk) -> None:
    """One undo, for both came with one act."""
    take_reading(desk, Reading(temperature=Amount(45, "degC")))
    take_back(desk)
    assert left(desk) == pytest.approx(40)
    assert desk.plan.method == "fructose-lime"


@pytest.mark.parametrize(("read", "mixed"), [(60, 31.7), (None, 25)])
def test_a_stock_that_was_read_warms_its_tub(tmp_path: Path, read: float | None, mixed: float) -> None:
    """A litre at 60 degrees C into 4.2 L at 25, by hand: (60 + 4.2 × 25) ÷ 5.2 = 31.7; unread: as planned."""
    desk = new_day(tmp_path, VirtualClock())
    fruit: dict[str, FieldValue] = {"lots.a.fibre": "cotton", "lots.a.mass": Amount(250, "g"), "method": "plant-lime"}
    desk.record(*(PlanChanged(path, value) for path, value in fruit.items()))
    if read is not None:
        take_reading(desk, Reading(temperature=Amount(read, "degC")))
    desk.record(StepDone("vat.stock_in"), *begins_with("vat.stock_in", desk.state))
    account = desk.state.tending.account
    assert account is not None
    assert account.celsius == pytest.approx(mixed, abs=0.2)
