"""A day that is closed and opened again goes on with the plan that it had, to the minute."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import count
from random import Random

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.dayline.test_need import plan_of, random_plan
from tests.effort import examples
from tests.log.makers import logged
from tests.plan.plans import plan_with

from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.glance import MAKES_READY, next_of_day
from vatside.bench.keeping import Keeping
from vatside.dayline.day_steps import steps as steps_of
from vatside.log.events.day import (
    DayLaid,
    Event,
    PlanChanged,
    SessionReopened,
    StepDone,
    WaitEnded,
    WaitExtended,
    WaitStarted,
)
from vatside.log.fold import fold, sheet_of
from vatside.log.state import Session
from vatside.log.waits import BREAK_NAME, is_over
from vatside.outlook.dip_board import lift, lower, next_piece, pieces_of
from vatside.outlook.session_day import day_of
from vatside.plan.sheet import Stage
from vatside.plan.starter import starter_plan
from vatside.storage.session_text import decode, encode

Times = tuple[dict[str, datetime], tuple[datetime, ...], datetime]
MOST_MIN = 25
"""Minutes between two acts at most."""


def desk_of(session: Session, clock: VirtualClock) -> Desk:
    """A desk without a disk."""
    return Desk(clock, Keeping(session, None))


def times_of(desk: Desk) -> Times | str:
    """When every task and break begins, and when all is done; why there are none."""
    seen = line_of(desk).seen(desk.clock.now())
    day = seen.day
    if day is None:
        return seen.problem
    starts = {task: day.at(minute) for task, minute in day.laid.starts.items() if task not in day.needed.day.running}
    return starts, tuple(map(day.at, day.laid.breaks)), day.at(day.laid.end)


def opened_again(desk: Desk, clock: VirtualClock) -> Desk:
    """The same day read from what its file holds."""
    again = desk_of(decode(encode(desk.keeping.session)).session, clock)
    again.record(SessionReopened())
    return again


def search(desk: Desk) -> None:
    """Let the job beside the screen run, as it does when nobody types."""
    line = line_of(desk)
    job = line.job(desk.clock.now())
    if job is not None:
        line.take(job())


class Dyer:
    """Does what comes next, late, early or something else."""

    def __init__(self, desk: Desk, clock: VirtualClock, random: Random) -> None:
        self.desk, self.clock, self.random = desk, clock, random
        self.numbers = count(1)

    def act(self) -> None:
        """One act at the moment of the clock."""
        acts = [self.step, self.step, self.step, self.ended, self.dip, self.longer, self.hands, self.pause]
        events = self.random.choices(acts, (3, 3, 3, 3, 3, 1, 1, 0.5))[0]()
        self.desk.record(*events)

    def step(self) -> Iterator[Event]:
        """The next step by the laid day is begun, or done where it has no wait."""
        desk = self.desk
        starts, running = line_of(desk).starts(desk.clock.now()), {wait.step for wait in desk.state.waits}
        to_do = [step for step in desk.steps if step.id not in desk.state.done and step.id not in running]
        to_do = [step for step in to_do if step.stage is not Stage.DIP or step.id not in starts] or to_do
        step = min(
            to_do, key=lambda item: (item.id not in starts, starts.get(item.id, desk.clock.now().utc)), default=None
        )
        if step is not None and step.minutes:
            yield WaitStarted(f"w{next(self.numbers)}", step.id, step.wait_label or step.id, step.minutes)
        elif step is not None:
            yield StepDone(step.id)

    def ended(self) -> Iterator[Event]:
        """A wait is ended, its step done."""
        waits = [wait for wait in self.desk.state.waits if is_over(wait, self.clock.now())]
        for wait in waits or list(self.desk.state.waits)[:1]:
            yield WaitEnded(wait.id)
            if wait.step is not None:
                yield StepDone(wait.step)

    def dip(self) -> Iterator[Event]:
        """A piece goes in, or one that is in comes out."""
        desk, now = self.desk, self.clock.now()
        if not all(step.id in desk.state.done for step in desk.steps_in(Stage.VAT)):
            return
        inside = [piece for piece in pieces_of(desk.state, desk.sheet) if piece.id in _in_vat(desk)]
        piece = next_piece(desk.state, desk.sheet, now)
        if inside:
            yield lift(inside[0])
        elif piece is not None:
            yield lower(piece)

    def longer(self) -> Iterator[Event]:
        """A wait that runs takes longer, or less long."""
        waits = list(self.desk.state.waits)
        if waits:
            yield WaitExtended(self.random.choice(waits).id, self.random.choice([-5.0, 5.0, 20.0]))

    def hands(self) -> Iterator[Event]:
        """One more helps, or one less."""
        yield PlanChanged("place.people", self.random.choice([1, 2, 3]))

    def pause(self) -> Iterator[Event]:
        """Everybody stops."""
        yield WaitStarted(f"w{next(self.numbers)}", None, BREAK_NAME, self.random.choice([10, 40]))


def _in_vat(desk: Desk) -> set[str]:
    return {piece for piece, where in desk.state.dipping.pieces.items() if where.place.name == "IN_VAT"}


@examples(15)
@given(st.integers(0, 1_000_000))
def test_a_day_opened_again_at_any_minute_has_the_plan_that_it_had(seed: int) -> None:
    """Whatever was done when, and whether a shorter day was looked for or not."""
    random, clock = Random(seed), VirtualClock()
    ready = random.choice([None, None, "2026-05-02T14:00", "2026-05-02T17:00"])
    desk = desk_of(Session("s", clock.now().utc, evolve(random_plan(seed % 200), ready_by=ready)), clock)
    times_of(desk)
    dyer = Dyer(desk, clock, random)
    for _ in range(random.randint(3, 25)):
        dyer.act()
        clock.advance(60 * random.choice([0.3, 1, random.randint(2, MOST_MIN)]))
        times_of(desk)
        if random.random() < 0.5:
            search(desk)
    before = times_of(desk)
    clock.advance(random.uniform(0, 59.9 - clock.utc.second))  # another second of the same minute
    if any(isinstance(entry.event, DayLaid) for entry in desk.state.entries):
        assert times_of(opened_again(desk, clock)) == before


def test_a_day_that_is_begun_has_its_plan_in_the_log() -> None:
    """With the first step that is begun, in front of it, at the same moment; none for a free wait."""
    clock = VirtualClock()
    desk = desk_of(Session("s", clock.now().utc, plan_of("linen, 300 g, 4 pieces, medium")), clock)
    before = times_of(desk)
    desk.record(WaitStarted("w0", None, "tea", 5))
    first = desk.steps[0]
    desk.record(WaitStarted("w1", first.id, first.id, first.minutes or 1))
    kinds = [type(entry.event) for entry in desk.state.entries]
    assert kinds == [WaitStarted, DayLaid, WaitStarted]
    assert desk.state.entries[1].at == desk.state.entries[2].at
    after = times_of(desk)
    assert not isinstance(before, str)
    assert not isinstance(after, str)
    assert after[2] == before[2]


@pytest.mark.parametrize("ready", [None, "2026-05-02T17:00"])
def test_what_is_next_is_what_the_day_line_has_next(ready: str | None) -> None:
    """Whether an hour is wanted or not, and whichever bath it is of: through scour, stock and vat of two fibres."""
    clock = VirtualClock()
    plan = evolve(plan_of("wool, 200 g, 2 pieces, medium", "linen, 200 g, 2 pieces, medium"), ready_by=ready)
    desk = desk_of(Session("s", clock.now().utc, plan), clock)
    times_of(desk)
    dyer = Dyer(desk, clock, Random(1))
    desk.record(*dyer.step())
    for _ in range(12):
        clock.advance(6 * 60)
        if any(is_over(wait, clock.now()) for wait in desk.state.waits):
            desk.record(*dyer.ended())
        starts = line_of(desk).starts(clock.now())
        coming = {step.id: starts[step.id] for step in desk.steps if step.id in starts and step.stage in MAKES_READY}
        found = next_of_day(desk.steps, desk.glance(clock.now()).progress, starts)
        assert found is not None
        assert starts[found.id] == min(coming.values())
        desk.record(*dyer.step())


def test_of_a_day_that_is_not_begun_the_next_is_the_first_that_is_laid() -> None:
    """Bran and soda for a week: the vat is drawn first, and its linen is scoured a week later; so says what is next."""
    clock = VirtualClock()
    desk = desk_of(Session("s", clock.now().utc, plan_with(None, lots__a__fibre="linen", method="fermentation")), clock)
    line = line_of(desk)
    assert line.seen(clock.now()).day is not None
    assert not line.starts(clock.now()), "no hour stands beside its steps yet"
    found = next_of_day(desk.steps, desk.glance(clock.now()).progress, line.order(clock.now()))
    assert found is not None
    assert found.stage is not Stage.SCOUR
    assert line.another_day(found, clock.now()) == ""
    scour = next(step for step in desk.steps if step.stage is Stage.SCOUR)
    assert line.another_day(scour, clock.now()).startswith(f"{line.order(clock.now())[scour.id]:%a}")


def test_the_hour_of_a_step_carries_its_weekday_unless_that_is_today() -> None:
    """Under way, the linen that is scoured a week after its vat was drawn is not begun at an hour of today."""
    clock = VirtualClock()
    desk = desk_of(Session("s", clock.now().utc, plan_with(None, lots__a__fibre="linen", method="fermentation")), clock)
    line, now = line_of(desk), clock.now()
    first = next_of_day(desk.steps, desk.glance(now).progress, line.order(now))
    assert first is not None
    desk.record(StepDone(first.id))
    starts, date = line.starts(now), now.utc.astimezone().date()
    today = [step for step in desk.steps if step.id in starts and starts[step.id].date() == date]
    later = [step for step in desk.steps if step.id in starts and starts[step.id].date() > date]
    assert today
    assert later
    assert all(line.begin_of(step, now) == f"{starts[step.id]:%H:%M}" for step in today)
    assert all(line.begin_of(step, now) == f"{starts[step.id]:%a %H:%M}" for step in later)


def test_a_wait_that_was_made_longer_ends_later_at_each_second() -> None:
    """An hour more for the soaking: what needs it begins an hour later, in the first minute as in the next."""
    clock = VirtualClock()
    plan = plan_of("linen, 300 g, 4 pieces, medium")
    desk = desk_of(Session("s", clock.now().utc, plan), clock)
    times_of(desk)
    first = next(step for step in desk.steps if step.id == "scour.linen.soak")
    clock.advance(20)
    desk.record(WaitStarted("w1", first.id, first.id, first.minutes or 1))
    before = line_of(desk).starts(clock.now())["scour.linen.heat.1"]
    desk.record(WaitExtended("w1", 60))
    for _ in range(3):
        later = line_of(desk).starts(clock.now())["scour.linen.heat.1"]
        assert 55 <= (later - before).total_seconds() / 60 <= 61
        clock.advance(35)


WHOLE = DayLaid(datetime(2026, 5, 2, 6, tzinfo=UTC), {"dip.r1": 5}, ("dip.r1",), {}, ((30, 45),), {"0": 1})


@pytest.mark.parametrize(
    "torn",
    [
        evolve(WHOLE, rounds=("dip.r1", "dip.r2")),
        evolve(WHOLE, units={"a": 1}),
        evolve(WHOLE, units={"-1": 1}),
        evolve(WHOLE, breaks=((0, 0),)),
        evolve(WHOLE, breaks=((0, 100_000),)),
    ],
    ids=["a round that begins never", "a span by a name", "a span below zero", "no break", "a break of ten weeks"],
)
def test_no_day_is_held_to_a_plan_that_does_not_hold_together(torn: DayLaid) -> None:
    """A file from elsewhere may say anything: such a plan stays in the log, and the day is laid as if it were none."""
    assert fold(Session("s", WHOLE.begin, starter_plan(), logged(WHOLE))).laid == WHOLE
    state = fold(Session("s", WHOLE.begin, starter_plan(), logged(torn, StepDone("scour.linen.soak"))))
    assert state.laid is None
    sheet = sheet_of(state)
    assert state.last is not None
    assert day_of(state, state.plan, sheet, steps_of(state.plan, sheet), state.last, UTC).starts
