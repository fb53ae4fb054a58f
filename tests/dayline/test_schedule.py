"""When to begin."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from tests.plan.plans import plan_with, wool_plan

from vatside.dayline.day_steps import steps
from vatside.dayline.schedule import Schedule, schedule, wanted_at
from vatside.dayline.steps import Step
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute

SEVEN = datetime(2026, 5, 2, 7, 0)


def laid(ready_by: str = "10:00", now: datetime = SEVEN) -> Schedule:
    """Lay out the starter's day."""
    plan = plan_with(ready_by=ready_by)
    return schedule(plan, steps(plan, compute(plan)), now)


def step(step_id: str, stage: Stage, hands: float, minutes: float | None = None) -> Step:
    """Make a bare step."""
    return Step(step_id, stage, step_id, hands, minutes)


def test_one_chain_is_the_sum_of_its_parts() -> None:
    """Stock of 5 + 60 min and a vat end of 4 + 60 min begin 129 min before ready."""
    chain = [
        step("stock.a", Stage.STOCK, 5, 60),
        step("vat.stock_in", Stage.VAT, 4),
        step("vat.rest_covered", Stage.VAT, 0, 60),
    ]  # fmt: skip
    found = schedule(plan_with(ready_by="10:00"), chain, SEVEN)
    assert found.starts["stock.a"] == datetime(2026, 5, 2, 7, 51)
    assert found.in_hand == timedelta(minutes=51)


def test_hands_are_in_one_place_at_a_time() -> None:
    """No two steps want the hands at the same minute."""
    plan = plan_with(ready_by="10:00")
    day = {item.id: item for item in steps(plan, compute(plan))}
    starts = schedule(plan, day.values(), SEVEN).starts
    busy = sorted((starts[key], starts[key] + timedelta(minutes=item.hands_min)) for key, item in day.items())
    for (_, end), (begin, _) in pairwise(busy):
        assert begin >= end


def test_steps_of_a_stage_keep_their_order() -> None:
    """Each step of a stage begins after the one before it."""
    found = laid().starts
    for stage in ("scour", "stock", "vat"):
        times = [time for key, time in found.items() if key.startswith(stage)]
        plan = wool_plan()
        wanted = [item.id for item in steps(plan, compute(plan)) if item.id.startswith(stage)]
        assert [found[key] for key in wanted] == sorted(times)


def test_too_late_is_negative() -> None:
    """At half past nine the day that wants ten o'clock is late by what it takes less half an hour."""
    early, late = laid(), laid(now=SEVEN + timedelta(minutes=150))
    assert early.in_hand - late.in_hand == timedelta(minutes=150)
    assert late.in_hand < timedelta(0)


def test_a_late_day_shifts_what_is_still_to_do() -> None:
    """Half an hour too late: each coming step begins half an hour later than planned, the hour that is wanted stays."""
    chain = [step("stock.a", Stage.STOCK, 5, 60), step("vat.rest_covered", Stage.VAT, 0, 60)]
    plan = plan_with(ready_by="10:00")
    planned = schedule(plan, chain, SEVEN)
    late = schedule(plan, chain, planned.starts["stock.a"] + timedelta(minutes=30))
    assert {key: time - planned.starts[key] for key, time in late.starts.items()} == dict.fromkeys(
        ("stock.a", "vat.rest_covered"), timedelta(minutes=30)
    )
    assert late.ready == datetime(2026, 5, 2, 10, 30)
    assert late.wanted == datetime(2026, 5, 2, 10)
    assert late.in_hand == timedelta(minutes=-30)


def test_a_late_vat_makes_the_dips_late() -> None:
    """The dips begin when the vat is really ready."""
    chain = [step("vat.rest_covered", Stage.VAT, 0, 60), step("dip.wet", Stage.DIP, 5)]
    found = schedule(plan_with(ready_by="10:00"), chain, datetime(2026, 5, 2, 9, 20))
    assert found.starts["dip.wet"] == datetime(2026, 5, 2, 10, 20)


def test_a_vat_that_is_ready_is_not_late() -> None:
    """With every step of the vat done nobody waits for it any more."""
    found = schedule(plan_with(ready_by="10:00"), [step("dip.wet", Stage.DIP, 5)], datetime(2026, 5, 2, 10, 20))
    assert found.is_ready
    assert not laid().is_ready


def test_open_hour_begins_now() -> None:
    """Without a wanted hour the first step begins now and the vat is ready when it is."""
    plan = wool_plan()
    found = schedule(plan, steps(plan, compute(plan)), SEVEN)
    assert found.first == SEVEN
    assert found.in_hand == timedelta(0)
    assert found.ready > SEVEN


@pytest.mark.parametrize(
    ("now", "wanted"),
    [
        (datetime(2026, 5, 2, 7), datetime(2026, 5, 2, 10)),
        (datetime(2026, 5, 2, 10, 30), datetime(2026, 5, 2, 10)),  # late, not tomorrow
        (datetime(2026, 5, 2, 15, 59), datetime(2026, 5, 2, 10)),  # six hours late at the most: ours, as the code says
        (datetime(2026, 5, 2, 16, 0), datetime(2026, 5, 3, 10)),
        (datetime(2026, 5, 1, 21), datetime(2026, 5, 2, 10)),  # the evening before
    ],
)
def test_a_bare_hour_means_the_nearest_day(now: datetime, wanted: datetime) -> None:
    """`10:00` is today's, unless that is long past."""
    assert wanted_at(plan_with(ready_by="10:00"), now) == wanted


def test_a_running_wait_counts_what_is_left() -> None:
    """A rest that has ten minutes left puts its step ten minutes before ready."""
    rest = step("vat.rest_covered", Stage.VAT, 2, 60)
    found = schedule(plan_with(ready_by="10:00"), [rest], SEVEN, {"vat.rest_covered": 10})
    assert found.starts["vat.rest_covered"] == datetime(2026, 5, 2, 9, 50)
