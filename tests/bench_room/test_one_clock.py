"""One truth for the times of the day: head, list of stages and day line tell the same of any plan, at any time."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.dayline.test_need import plan_of, random_plan

from vatside.bench import acts
from vatside.bench.day_line import QUICK, RESTED_S, DayLine, line_of
from vatside.bench.desk import Desk, Held
from vatside.bench.open_day import new_day
from vatside.dayline.day_words import clock_at, head, in_hand
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.line import model
from vatside.dayline.line.model import Day, NoPlanError
from vatside.dayline.line.planning import plan
from vatside.dayline.no_sooner import ONE_MORE_LOOK
from vatside.log.events.day import PlanChanged, StepDone
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute
from vatside.ui.day.step_list import day_rows
from vatside.ui.line.line_rows import head_rows
from vatside.ui.text.head_rows import time_spans
from vatside.ui.text.rows import UNICODE

MORNING = datetime(2026, 12, 1, 7, 0, tzinfo=UTC)
STEPS_DONE = 5


def desk_of(plan: Plan, folder: Path, clock: VirtualClock) -> Desk:
    """A new day of a plan on the bench."""
    desk = new_day(folder, clock, None)
    desk.keeping.state = evolve(desk.state, plan=plan)
    desk.take(desk.keeping.state)
    return desk


def laid_beside(line: DayLine, desk: Desk) -> LaidDay | None:
    """What the day line's screen shows once its job has come back."""
    job = line.job(desk.clock.now())
    if job is not None:
        line.take(job())
    return line.day


def told_alike(desk: Desk) -> bool:
    """Hold head and list against the day line as it is shown now; False for a day that cannot be laid."""
    now = desk.clock.now()
    line = line_of(desk)
    day = laid_beside(line, desk)
    seen = line.seen(now)
    assert seen.day == day
    of_head = "".join(span.text for span in time_spans(seen, over=False))
    if day is None:
        assert of_head == "no times: this day cannot be laid"
        return False
    of_line = " ".join(row.text for row in head_rows("A day", day, "", 200))
    of_list = "\n".join(row.text for row in day_rows(desk.steps, tuple(desk.state.done), day, 60, UNICODE))
    if day.spare is not None:
        assert in_hand(day.spare) in of_head
        assert in_hand(day.spare) in of_line
    if day.ready is not None:
        assert f"vat ready {clock_at(day, day.ready)}" in head(day)
        assert f"{day.at(day.ready):%H:%M}  Vat" in of_list
        if day.spare is None:
            assert f"ready at {day.at(day.ready):%H:%M}" in of_head or f"{day.at(day.ready):%H:%M}" in of_head
    return True


@pytest.mark.parametrize("seed", range(10))
def test_head_list_and_day_line_tell_the_same_hours(seed: int, tmp_path: Path) -> None:
    """Of ten plans, before they are begun and after each of some steps, done as the day has them or later."""
    random, clock = Random(seed), VirtualClock(MORNING)
    wanted = random.choice([None, "2026-12-01T13:00", "2026-12-01T17:00"])
    desk = desk_of(evolve(random_plan(seed), ready_by=wanted), tmp_path, clock)
    if not told_alike(desk):
        return
    for _ in range(STEPS_DONE):
        day = line_of(desk).seen(clock.now()).day
        assert day is not None
        starts = day.starts
        coming = min((each for each in desk.steps if each.id in starts), key=lambda step: starts[step.id])
        clock.advance(60 * random.randint(1, 12))
        try:
            acts.do(desk, coming)
        except Held:  # its cautions are read
            desk.record(StepDone(coming.id))
        assert told_alike(desk)


def test_a_day_under_way_keeps_its_times_though_nobody_looks_at_its_line(tmp_path: Path) -> None:
    """Laid at once and held: three minutes later every step that is to come begins when it was to."""
    clock = VirtualClock(MORNING)
    desk = desk_of(plan_of("wool, 300 g, 3 pieces, medium"), tmp_path, clock)
    acts.do(desk, desk.steps[0])
    before = line_of(desk).seen(clock.now()).day
    clock.advance(180)
    after = line_of(desk).seen(clock.now()).day
    assert before is not None
    assert after is not None
    late = [each for each in after.starts if before.starts[each] > before.at(3)]
    assert late
    assert all(after.starts[each] == before.starts[each] for each in late)


def test_what_is_logged_is_laid_at_once(tmp_path: Path) -> None:
    """Every change of the plan shows in its times, and a day that stays as it is is not laid again."""
    clock = VirtualClock(MORNING)
    desk = desk_of(plan_of("wool, 300 g, 3 pieces, medium"), tmp_path, clock)
    line = line_of(desk)
    one = line.seen(clock.now())
    assert line.seen(clock.now()) is one
    desk.record(PlanChanged("ready_by", "2026-12-01T18:00"))
    two = line.seen(clock.now())
    assert one.day is not None
    assert two.day is not None
    assert one.day.spare is None
    assert two.day.spare is not None


@pytest.mark.parametrize("ready_by", [None, "2026-12-01T18:00"])
def test_a_key_that_nothing_is_laid_by_leaves_the_day_as_it_was_laid(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ready_by: str | None
) -> None:
    """A name lays nothing again, and the steps are those of now; a weight lays the day again, once she rests."""
    clock = VirtualClock(MORNING + timedelta(seconds=10))
    desk = desk_of(evolve(plan_of("wool, 300 g, 3 pieces, medium"), ready_by=ready_by), tmp_path, clock)
    line, laid = line_of(desk), list[Day]()

    def counted(day: Day, *given: Any, **how: Any) -> model.Plan:
        laid.append(day)
        return plan(day, *given, **how)

    monkeypatch.setattr("vatside.dayline.laid_day.plan", counted)
    before = line.seen(clock.now()).day
    laid.clear()
    desk.type("lots.a.name", "Blue socks")
    clock.advance(2 * RESTED_S)
    typed = line.seen(clock.now()).day
    assert not laid
    assert before is not None
    assert typed is not None
    assert typed.laid == before.laid
    assert all(step in desk.steps for step in typed.needed.steps.values())
    desk.type("lots.a.mass", "3 kg")
    assert line.seen(clock.now()).day is typed
    assert not line.is_behind(clock.now())
    clock.advance(2 * RESTED_S)
    assert line.is_behind(clock.now())
    heavier = line.seen(clock.now()).day
    assert laid
    assert heavier is not None
    assert heavier.needed.day != before.needed.day
    assert not line.is_behind(clock.now())


def test_a_field_that_is_left_has_its_hours_at_once(tmp_path: Path) -> None:
    """Whoever goes on to the next thing acts by what is shown there, and need not rest first."""
    clock = VirtualClock(MORNING)
    desk = desk_of(plan_of("wool, 300 g, 3 pieces, medium"), tmp_path, clock)
    line = line_of(desk)
    before = line.seen(clock.now()).day
    desk.type("ready_by", "sat 14:00")
    assert line.seen(clock.now()).day is before
    desk.leave()
    after = line.seen(clock.now()).day
    assert before is not None
    assert after is not None
    assert before.wanted is None
    assert after.wanted is not None


def test_a_day_that_cannot_be_laid_is_no_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The head has a calm word for it, and the line says why."""

    def never(*_given: object, **_how: object) -> LaidDay:
        raise NoPlanError("no order of the steps keeps every limit")

    monkeypatch.setattr("vatside.bench.day_line.lay_day", never)
    clock = VirtualClock(MORNING)
    desk = desk_of(plan_of("wool, 300 g, 3 pieces, medium"), tmp_path, clock)
    seen = line_of(desk).seen(clock.now())
    assert seen.day is None
    assert seen.problem == "This day cannot be laid: no order of the steps keeps every limit."
    assert [span.text for span in time_spans(seen, over=False)] == ["no times: this day cannot be laid"]


@pytest.mark.parametrize("evaluations", [0, 1, 2])
def test_the_fewest_evaluations_lay_a_day_that_is_wanted_for_an_hour(evaluations: int) -> None:
    """A first plan is looked for until there is one."""
    plan = evolve(plan_of("wool, 400 g, 4 pieces, medium"), ready_by="2026-12-01T14:00")
    sheet = compute(plan)
    from vatside.dayline.day_steps import steps

    assert lay_day(plan, sheet, steps(plan, sheet), MORNING, zone=UTC, evaluations=evaluations).ready is not None


@pytest.mark.parametrize(
    "lots",
    [
        ("wool, 400 g, 4 pieces, medium",),
        ("wool, 300 g, 3 pieces, medium", "linen, 300 g, 3 pieces, medium"),
        ("linen, 150 g, 2 pieces, medium",) * 10,
    ],
)
def test_stock_and_vat_are_not_made_hours_before_the_first_fibre(lots: tuple[str, ...], tmp_path: Path) -> None:
    """Where the scour takes longest they wait for it: one more look lies between the vat and its first fibre."""
    plan = plan_of(*lots)
    sheet = compute(plan)
    desk = desk_of(plan, tmp_path, VirtualClock(MORNING))
    day = lay_day(plan, sheet, desk.steps, MORNING, zone=UTC, evaluations=QUICK)
    task = {each.id: each.minutes for each in day.needed.day.tasks}
    first = min(day.laid.starts[name] for name in day.needed.rounds)
    ready = day.laid.starts["vat.look"] + task["vat.look"]
    before = sum(task[step.id] for step in desk.steps if step.stage is Stage.DIP and step.id in task)
    assert 0 <= first - ready <= ONE_MORE_LOOK + before
    poured, rested = day.laid.starts["vat.stock_in"], day.laid.starts["stock.look"] + task["stock.look"]
    assert poured - rested <= ONE_MORE_LOOK
