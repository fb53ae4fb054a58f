"""A dye day played on a virtual clock, without a disk."""

from __future__ import annotations

from datetime import UTC, datetime

from attrs import Factory, define, evolve, field
from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import wool_plan

from vatside.bench.commands import change, start_wait
from vatside.dayline.day_steps import steps
from vatside.dayline.steps import Step
from vatside.log.events.day import Entry, Event, StepDone, WaitEnded
from vatside.log.fold import State, apply, fold, sheet_of
from vatside.log.state import Session
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.units import Problem

BEGAN = datetime(2026, 5, 2, 6, 0, tzinfo=UTC)


@define
class Played:
    """A day, event by event."""

    plan: Plan = field(factory=wool_plan)
    ident: str = "s1"
    clock: VirtualClock = field(factory=lambda: VirtualClock(BEGAN))
    session: Session = field(init=False, default=Factory(lambda me: Session(me.ident, BEGAN, me.plan), takes_self=True))

    _known: tuple[Session, State, Sheet | None] | None = field(init=False, default=None, eq=False)

    @property
    def state(self) -> State:
        """How the day stands."""
        if self._known is None or self._known[0] is not self.session:
            self._known = (self.session, fold(self.session), None)
        return self._known[1]

    @property
    def sheet(self) -> Sheet:
        """The sheet of the day as it stands, worked out once."""
        state = self.state
        assert self._known is not None
        if self._known[2] is None:
            self._known = (self.session, state, sheet_of(state))
        sheet = self._known[2]
        assert sheet is not None
        return sheet

    def happen(self, event: Event, after_min: float = 1.0) -> Played:
        """Let something happen some minutes later."""
        self.clock.advance(after_min * 60)
        entry = Entry(self.session.seq + 1, self.clock.now(), event)
        before, state, _ = self._known or (None, None, None)
        known = before is self.session
        self.session = evolve(self.session, entries=(*self.session.entries, entry))
        if known and state is not None:  # live and reopened are the same: see tests/log/test_fold.py
            self._known = (self.session, apply(state, entry), None)
        return self

    def set(self, path: str, text: str) -> Played:
        """Type into a field."""
        event = change(self.state.plan, path, text)
        assert not isinstance(event, Problem), event
        return self.happen(event)

    def step(self, step_id: str) -> Step:
        """Find a step of the plan as it stands."""
        return next(step for step in steps(self.state.plan, compute(self.state.plan)) if step.id == step_id)

    def done(self, *step_ids: str) -> Played:
        """Tick steps off."""
        for step_id in step_ids:
            self.happen(StepDone(step_id))
        return self

    def waited(self, step_id: str, minutes: float) -> Played:
        """Start the wait of a step and end it so many minutes later."""
        wait = start_wait(self.step(step_id), self.session.seq + 1)
        return self.happen(wait).happen(WaitEnded(wait.wait), minutes)
