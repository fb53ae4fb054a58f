"""A vat that was warmed by what adds nothing to it is that warm in its account, however she says so."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.log.played import Played
from tests.log.test_kept_vat_effects import account, carried

from vatside.bench import acts
from vatside.bench.open_day import new_day
from vatside.catalogue.looks import Clarity, Colour, Strip
from vatside.log.events.vat import ReadingTaken, VatMade
from vatside.log.words.vat import care_words
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_deeds import as_proposed
from vatside.units import Amount
from vatside.vat.corrections import Correction
from vatside.vat.reading import Reading


def at(celsius: float, **looks: object) -> ReadingTaken:
    """A reading of the vat's temperature, and of what else was seen."""
    return ReadingTaken(Reading(temperature=Amount(celsius, "degC"), **looks))  # type: ignore[arg-type]


def seen(day: Played) -> Outlook:
    """What follows for the vat."""
    return Outlook(day.state, day.sheet, day.clock.now())


def way(day: Played, finding: str, number: int = 0) -> Correction:
    """One of the ways to put a finding right."""
    return seen(day).ways(finding)[number]


def cold(method: str, *readings: ReadingTaken) -> Played:
    """A day with a vat for linen that was read too cold."""
    day = Played().set("lots.a.fibre", "linen").set("method", method).happen(VatMade())
    for reading in readings:
        day.happen(reading)
    return day


def test_a_hot_bath_that_was_done_has_warmed_it() -> None:
    """No water went in: the account is as warm as the plan wants it, and the log says so."""
    day = cold("fructose-lime", at(33))
    done = as_proposed(way(day, "too-cold", 1), day.state.plan)
    assert done.water is None
    water = account(day).bath.water_kg
    day.happen(done)
    assert account(day).celsius == pytest.approx(45, abs=0.3)
    assert account(day).bath.water_kg == water
    assert "warmed to 45 °C" in care_words(done, day.state.plan)


def test_warm_enough_by_the_account_asks_for_a_reading_not_for_a_spoon_of_hot_water() -> None:
    """Done once, the same way does not go on to ask for millilitres and seconds."""
    day = cold("fructose-lime", at(33))
    day.happen(as_proposed(way(day, "too-cold"), day.state.plan)).clock.advance(60)
    left = way(day, "too-cold")
    assert left.does == "nothing"
    assert "read it again" in left.text


def test_what_is_warmed_first_is_warm_when_the_powder_is_in() -> None:
    """Fruit brew into a vat to be warmed to 45 °C first: one act, and the account is as warm."""
    green = {"colour": Colour.GREEN, "clarity": Clarity.CLEAR, "strip": Strip.BLUISH_GREEN, "seconds": 15.0}
    day = cold("plant-lime", at(24, **green))
    brew = way(day, "short-of-reducer")
    assert brew.first
    day.happen(as_proposed(brew, day.state.plan))
    assert account(day).celsius > 40


def test_a_kept_vat_is_warm_once_its_warming_step_is_over(tmp_path: Path) -> None:
    """Space on the step, and its wait to the end: the account has the temperature that the plan wants."""
    clock, day = VirtualClock(), carried().state
    desk = new_day(tmp_path, clock)
    desk.take(evolve(desk.state, plan=day.plan, tending=day.tending))
    step, wanted = next(item for item in desk.steps if item.id == "vat.warm"), desk.sheet.value("vat.temperature")
    acts.do(desk, step)
    clock.advance(60 * (step.minutes or 0.0))
    acts.end(desk, next(wait for wait in desk.waits(clock.now()) if wait.step == "vat.warm"))
    found = desk.state.tending.account
    assert found is not None
    assert found.celsius == pytest.approx(wanted, abs=0.5)
    desk.keeping.close()
