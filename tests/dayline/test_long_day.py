"""What is said of a day that begins before dawn or ends in the night."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from attrs import evolve
from tests.dayline.test_need import EIGHT
from tests.dayline.test_need import plan_of as place_of
from tests.log.makers import CREATED
from tests.plan.plans import plan_with, told

from vatside.dayline.day_steps import steps
from vatside.dayline.going import Going, Waiting
from vatside.dayline.held_day import held_day
from vatside.dayline.laid_day import lay_day
from vatside.dayline.line.planning import AT_ONCE
from vatside.dayline.warn import long_day, outlook
from vatside.days.class_card import handout
from vatside.forms.lot_text import with_lot
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.plan.plan import Condition, Plan
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute

NOW = datetime(2026, 5, 1, 8)
LENGTH = "From the first step until all is done it takes "


def plan_of(text: str, ready: str | None = None) -> Plan:
    """Give the plan of one lot, the vat wanted at an hour."""
    plan = with_lot(evolve(starter_plan(), lots=()), text)
    assert isinstance(plan, Plan)
    return evolve(plan, ready_by=ready)


def said_of(plan: Plan, now: datetime = NOW) -> str:
    """What is said of the day of a plan."""
    sheet = compute(plan)
    todo = steps(plan, sheet)
    return long_day(plan, sheet, todo, lay_day(plan, sheet, todo, now, evaluations=AT_ONCE))


def test_of_a_day_that_fits_nothing_is_said() -> None:
    """The new day as it comes, whether an hour is wanted or not."""
    assert said_of(starter_plan()) == ""
    assert said_of(evolve(starter_plan(), ready_by="2026-05-02T13:00")) == ""


def test_the_night_before_the_first_step_is_no_part_of_the_day() -> None:
    """Planned at ten in the evening it begins at five: as long as planned in the morning, and nothing is said."""
    assert said_of(starter_plan(), NOW.replace(hour=21, minute=57)) == ""


@pytest.mark.parametrize(("begins", "fits"), [(5 * 60, True), (5 * 60 - 1, False)])
def test_five_in_the_morning_is_no_dawn_yet_and_a_minute_before_is(begins: int, fits: bool) -> None:
    """A day that is wanted for the morning and begins at five sharp is an ordinary one."""
    plan = evolve(starter_plan(), ready_by="2026-05-02T09:00")
    sheet = compute(plan)
    todo = steps(plan, sheet)
    day = lay_day(plan, sheet, todo, datetime(2026, 5, 2) + timedelta(minutes=begins), evaluations=AT_ONCE)
    assert day.begin == datetime(2026, 5, 2) + timedelta(minutes=begins)
    assert (long_day(plan, sheet, todo, day) == "") is fits


HALF_KILOS = ("wool, 500 g, 5 pieces, medium", "cotton, 500 g, 5 pieces, dark")


@pytest.mark.parametrize(("later", "same_day"), [(60, True), (90, True), (150, False)])
def test_what_is_done_a_little_past_ten_is_not_put_off_to_the_morning(later: int, same_day: bool) -> None:
    """Begun at nine it is done some minutes past ten at night, and is told so; past eleven it goes on at five."""
    plan = place_of(*HALF_KILOS)
    sheet = compute(plan)
    day = lay_day(plan, sheet, steps(plan, sheet), EIGHT + timedelta(minutes=later), evaluations=AT_ONCE)
    end, said = day.at(day.laid.end), outlook(day).sentences
    assert (end.date() == EIGHT.date()) is same_day
    assert (end.hour == 22) is same_day
    told = f"All is done at {end:%H:%M}: stopped at 22:00, it would go on in the morning."
    assert (list(said) == [told]) is same_day


def test_a_day_that_slips_past_ten_is_held_to_its_evening() -> None:
    """Laid to end before ten, twenty minutes late at its first step: it ends that night, and is told."""
    plan = place_of(*HALF_KILOS)
    sheet = compute(plan)
    todo = steps(plan, sheet)
    day = lay_day(plan, sheet, todo, EIGHT + timedelta(minutes=30), evaluations=AT_ONCE)
    assert day.at(day.laid.end).hour == 21
    now = day.begin + timedelta(minutes=45)
    late = held_day(day, plan, sheet, todo, now, Going(waits={todo[0].id: Waiting(1, (todo[0].minutes or 0.0) - 1)}))
    assert late.at(late.laid.end).date() == EIGHT.date()
    assert "stopped at 22:00" in outlook(late).sentences[0]


def test_near_black_goes_over_several_days() -> None:
    """Half a kilogram near black: it ends in the night, and the dips alone fill more than one day."""
    said = said_of(plan_of("cotton, 500 g, 5 pieces, near black"))
    assert said.startswith(LENGTH)
    assert "begun at 08:00 it ends at " in said
    assert " of the next day. " in said
    assert "ake the vat on one day and dip on the next 2: that takes " in said


def test_what_the_scour_costs_is_named() -> None:
    """A kilogram of wool at 3 % in four loads: ready scoured the day is as much shorter as is said."""
    plan = plan_of("wool, 1 kg, 10 pieces, 3 %")
    said = said_of(plan)
    assert "Scoured the day before, or bought ready scoured, it takes " in said
    ready = evolve(plan, lots=tuple(evolve(lot, condition=Condition.READY) for lot in plan.lots))
    assert said_of(ready) == ""


def test_an_hour_that_ends_the_day_in_the_night_is_moved_by_as_much() -> None:
    """Wanted at eight in the evening: the hour that is named in its place ends the day in time."""
    said = said_of(evolve(starter_plan(), ready_by="2026-05-02T20:00"))
    hour = said.partition("ant the vat by ")[2][:5]
    assert hour < "20:00"
    assert said_of(evolve(starter_plan(), ready_by=f"2026-05-02T{hour}")) == ""


def test_no_hour_is_named_that_would_have_begun_already() -> None:
    """On the day itself, at the last hour at which it can begin: to want the vat sooner helps nobody any more."""
    plan = evolve(starter_plan(), ready_by="2026-05-02T20:00")
    sheet = compute(plan)
    begin = lay_day(plan, sheet, steps(plan, sheet), NOW, evaluations=AT_ONCE).begin
    said = said_of(plan, begin)
    assert said.startswith(LENGTH)
    assert "ant the vat by" not in said


def test_the_class_card_says_it_first() -> None:
    """A class has no night."""
    plan = plan_of("wool, 1 kg, 10 pieces, 3 %", "2026-05-02T12:00")
    assert handout(fold(Session("s", CREATED, plan)), 1, NOW, evaluations=1).looks[0].startswith(LENGTH)


def test_a_scour_in_several_loads_says_what_spares_it() -> None:
    """A kilogram of cotton in a pot of ten litres: 20 L/kg filled to 75 % want 27 L, and two holds of an hour less."""
    (notice,) = [item.text for item in compute(plan_of("cotton, 1 kg, 10 pieces, 1 %")).notices if "loads" in item.text]
    assert "3 loads, one after the other: a pot of 27 L takes it at once and spares about 2 h" in notice
    assert "fibre that comes ready scoured needs no bath" in notice
    large = told(plan_of("cotton, 1 kg, 10 pieces, 1 %"), "vessels.scour_pot", "27 L")
    assert not [item for item in compute(large).notices if "loads" in item.text]


def test_greasy_fibre_is_not_told_to_come_ready_scoured() -> None:
    """It has its grease on because the dyer has it so."""
    plan = plan_with(plan_of("wool, 1 kg, 10 pieces, 1 %"), lots__a__condition="greasy")
    (notice,) = [item.text for item in compute(plan).notices if "loads" in item.text]
    assert "ready scoured" not in notice
