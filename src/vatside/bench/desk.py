"""The session on the bench: its log, the text being typed, and everything that follows from them.

The screens ask the desk and tell the desk; they keep nothing of the plan themselves.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Protocol

from vatside.bench import commands
from vatside.bench.commands import OnceMore
from vatside.bench.glance import Glance, Progress, WaitView, waits_seen
from vatside.bench.keeping import Keeping
from vatside.bench.noticed import Marks, Noticed
from vatside.chemistry.bath import Bath
from vatside.clocks.clock import Clock
from vatside.dayline.day_steps import steps as steps_of
from vatside.dayline.step_uses import as_gone_in
from vatside.dayline.steps import Step
from vatside.dips.uptake import SoFar
from vatside.forms.field import Wrong
from vatside.forms.fields import fields, get_value
from vatside.log.effects.vat import jar_of
from vatside.log.events.day import (
    DoneAllTheSame,
    Event,
    MethodChosen,
    StepDone,
    WaitEnded,
    WaitStarted,
)
from vatside.log.events.vat import DipEnded, DipStarted
from vatside.log.fold import State, so_far
from vatside.log.waits import Moment, is_break, is_over
from vatside.outlook.vat_order import in_short
from vatside.plan.plan import Plan
from vatside.plan.sheet import Notice, Sheet, Stage
from vatside.recipe.compute import compute
from vatside.units import Problem

if TYPE_CHECKING:
    from vatside.outlook.interlocks import Question, Unread

PAUSE = 2.0
"""Seconds without a key after which what was typed is logged."""
AT_WORK = StepDone | WaitStarted | DipStarted | DipEnded
"""What is only done by hands that are there."""


class Held(Exception):
    """Something is not logged yet: it is refused, or asked about first."""

    def __init__(self, asked: Sequence[Question | Unread]) -> None:
        super().__init__("; ".join(item.why for item in asked))
        self.asked = tuple(asked)


class Lays(Protocol):
    """The day line, as far as the log asks it."""

    def before(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        """Give what is logged in front of some events: how the day was laid, once it is begun."""
        ...


class Desk:
    """One open session."""

    def __init__(self, clock: Clock, keeping: Keeping) -> None:
        self.clock = clock
        self.keeping = keeping
        self.typed: Event | None = None
        """A change that is shown and not yet logged."""
        self.typed_at = 0.0
        self.entry = ""
        """The path of the field that is being typed into."""
        self.all_the_same: tuple[DoneAllTheSame, ...] = ()
        """What the dyer answers to the questions before the act at hand."""
        self.once_more = OnceMore()
        """What is done only when its key is pressed once more."""
        self.put_down: Callable[[], object] | None = None
        """Writes down what another form holds, should the day have to be put away meanwhile."""
        self.all_figures = False
        """Whether a stage shows every figure, not only what is weighed and drawn."""
        self.wrong: dict[str, Wrong] = {}
        self._marks = Marks()
        self._noticed = Noticed()
        self._pointless: tuple[State, Sheet, frozenset[str]] | None = None
        self.vat_seen: object = None
        """The vat as it was last looked at; its module is imported with the first look."""
        self.line_seen: Lays | None = None
        """The day as it was last laid; its module is imported when the day line is first shown."""
        self.plan: Plan
        self.so_far: SoFar
        self.jar: Bath | None
        """What is left of the stock."""
        self.sheet: Sheet
        self.steps: tuple[Step, ...]
        self._work_out(keeping.state.plan)
        self.base = (self.plan, self.sheet)
        """How things stood before the entry that is being typed."""

    @property
    def state(self) -> State:
        """What the log says."""
        return self.keeping.state

    def _work_out(self, plan: Plan) -> None:
        self.plan = plan
        self.so_far = so_far(self.state)
        self.jar = jar_of(self.state.tending)
        self.sheet = compute(plan, self.so_far)
        self.steps = self._labelled(steps_of(plan, self.sheet))

    def _labelled(self, steps: tuple[Step, ...]) -> tuple[Step, ...]:
        """Give the steps with the label of the jar as the log knows it."""
        if not self.sheet.value("stock.left", 0.0):
            return steps
        from vatside.days.kept_stock import with_label  # late: most days empty their jar

        return with_label(steps, self.state, self.sheet)

    # The form

    def type(self, path: str, text: str) -> None:
        """Take what stands in a field: show what follows from it, or keep the last good figures and say why."""
        if path != self.entry:
            self.leave()
            self.entry = path
        event = commands.change(self.plan, path, text, local(self.clock.now()))
        if isinstance(event, Problem):
            self.wrong[path] = Wrong(text, event.text)
            return
        if isinstance(event, MethodChosen) and (why := self._begun_with(event)):
            self.wrong[path] = Wrong(text, why)
            return
        self.wrong.pop(path, None)
        self._show(event)
        self.draft(self.typed)

    def _begun_with(self, event: MethodChosen) -> str:
        """Say why there can be no other kind of vat any more; empty where there can, or it is none."""
        if event.value == self.plan.method:
            return ""
        from vatside.outlook.powder_interlocks import begun_with  # late, as for `_admitted`

        return begun_with(self.state)

    def _show(self, event: Event) -> None:
        plan = as_gone_in(self.state.done, self.state.plan, commands.planned(self.state.plan, event))
        if plan != self.plan:
            self.typed, self.typed_at = event, self.clock.now().elapsed
            self._draft(plan)

    def leave(self) -> None:
        """Take the entry for finished: log it, and let the next one begin from here.

        A refused entry goes back to what stood there: its beginning (the `1` of `1,500 g`) was never meant.
        """
        if self.entry in self.wrong:
            self._show(commands.put(self.entry, get_value(self.base[0], self.entry)))
        self.settle()
        self.entry, self.base = "", (self.plan, self.sheet)

    def _draft(self, plan: Plan) -> None:
        old, sheet = self.base if self.entry else (self.plan, self.sheet)
        self._work_out(plan)
        self._drop_refused()
        self._marks.put((old, sheet), (plan, self.sheet), self.seconds)

    def _drop_refused(self) -> None:
        """Say no more of a refused text whose row has gone with what the plan holds now."""
        if any(path != self.entry for path in self.wrong):
            there = {self.entry, *(row.path for stage in Stage for row in fields(self.plan, stage))}
            self.wrong = {path: wrong for path, wrong in self.wrong.items() if path in there}

    def settle(self) -> None:
        """Log what was typed and is not logged yet."""
        event, self.typed = self.typed, None
        if event is not None:
            if commands.planned(self.state.plan, event) != self.state.plan:
                self.keeping.log(event, self.clock.now())
            self.draft(None)

    def draft(self, event: Event | None) -> None:
        """Put on the disk what would be logged if nothing more were typed; None: nothing."""
        self.keeping.draft(event, self.clock.now())

    def settle_if_paused(self, now: Moment) -> None:
        """Log what was typed once the dyer has stopped typing; until then it is on the disk as a draft."""
        self.keeping.sync(now)
        if self.typed is not None and self.entry not in self.wrong and now.elapsed - self.typed_at >= PAUSE:
            self.settle()

    def advance(self) -> bool:
        """Bring everything to where the clock is; True if that brought something new. A day at work is always there."""
        return False

    @property
    def seconds(self) -> float:
        """Seconds on the clock by which the marks of changed figures fade."""
        return self.clock.now().elapsed

    def marks(self) -> Mapping[str, int]:
        """Which figures changed a moment ago, and in which direction."""
        return self._marks.at(self.seconds)

    # The log

    def log(self, *events: Event) -> None:
        """Log what the dyer does, after anything she typed before; one act has one moment.

        Raises `Held` for what is plainly dangerous, or whose cautions she has not read: see `all_the_same`.
        """
        self.leave()
        if self.keeping.readonly is None:
            events = self._admitted(events)
        self.record(*events, *self._back_at_work(events))

    def _back_at_work(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        """Who does something is back from a break that is over: it need not ring on."""
        if not any(isinstance(event, AT_WORK) for event in events):
            return ()
        now = self.clock.now()
        over = (wait.id for wait in self.state.waits if is_break(wait) and is_over(wait, now))
        return tuple(WaitEnded(wait) for wait in over if WaitEnded(wait) not in events)

    def _admitted(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        """Give the events with what the dyer said to the questions that stand in front of them."""
        # Late: a tenth of what the screen of a day without a live vat would need, and wanted once there is an act.
        from vatside.outlook.hand_acts import Scene
        from vatside.outlook.interlocks import asked

        scene = Scene(self.state, self.sheet, self.steps, self.clock.now())
        waiting = asked(scene, events)
        if not waiting:
            return events
        events = (*self.all_the_same, *events)
        waiting = asked(scene, events)
        if waiting:
            raise Held(waiting)
        return events

    def record(self, *events: Event) -> None:
        """Log what happened, asking nothing."""
        self.leave()
        now = self.clock.now()
        for event in (*(self.line_seen.before(events) if self.line_seen else ()), *events):
            self.keeping.log(event, now)
        self.draft(None)
        if self._is_behind():
            self._draft(self.state.plan)
            self.base = (self.plan, self.sheet)

    def _is_behind(self) -> bool:
        """Whether the log has gone on from what is worked out."""
        if self.state.plan != self.plan or jar_of(self.state.tending) != self.jar:
            return True
        return so_far(self.state) != self.so_far

    def take(self, state: State) -> None:
        """Show a log that went on elsewhere."""
        self.keeping.state = state
        if self._is_behind():
            self._draft(state.plan)

    # The day

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What to look out for: in the plan, and in the live vat as it was read and as it stands by the clock."""
        return self._noticed.at(self.state, self.sheet, self.clock.now())

    def disorder(self, now: Moment) -> str:
        """Say in a few words what is out of order with the vat, or that it is to be read; empty where all is well."""
        if self.state.tending.account is None:
            return ""
        return in_short(self.state, self.sheet, now)

    def stages(self) -> tuple[Stage, ...]:
        """The stages that have anything to set or to do."""
        busy = {step.stage for step in self.steps} | {figure.stage for figure in self.sheet.figures}
        return tuple(stage for stage in Stage if stage in busy or fields(self.plan, stage))

    def steps_in(self, stage: Stage) -> tuple[Step, ...]:
        """The steps of one stage."""
        return tuple(step for step in self.steps if step.stage is stage)

    def step(self, step_id: str) -> Step | None:
        """One step, if the plan still has it."""
        return next((step for step in self.steps if step.id == step_id), None)

    @property
    def is_made(self) -> bool:
        """Tell whether no step of the vat is left to do, and one is known: ticked to its end, or by its account."""
        left, tending = {step.id for step in self.steps_in(Stage.VAT)} - set(self.state.done), self.state.tending
        return not left or (left <= self.passed and (tending.account is not None or tending.let_go is not None))

    def skipped(self, step: Step) -> tuple[Step, ...]:
        """The steps of the same stage and bath that stand before a step and are neither over nor running."""
        steps = [item for item in self.steps_in(step.stage) if item.group == step.group]
        before = steps[: steps.index(step)] if step in steps else []
        over = {*self.state.done, *self.passed, *(wait.step for wait in self.state.waits)}
        return tuple(item for item in before if item.id not in over)

    def glance(self, now: Moment) -> Glance:
        """Look at everything that moves with the clock."""
        waits = self.waits(now)
        running_steps = {wait.step: wait for wait in waits if wait.step}
        return Glance(now, waits, Progress(self.state.done.keys(), running_steps, self.passed), self.marks())

    @property
    def passed(self) -> frozenset[str]:
        """The steps that have become pointless by what the log says; worked out once for each state of it."""
        known = self._pointless
        if known is None or known[0] is not self.state or known[1] is not self.sheet:
            from vatside.outlook.session_day import passed_of  # late: nothing of it is needed before the first paint

            known = self._pointless = (self.state, self.sheet, passed_of(self.state, self.sheet, self.steps))
        return known[2]

    # The waits

    def waits(self, now: Moment) -> tuple[WaitView, ...]:
        """The open waits as they stand: ringing ones first, then by what is left."""
        return waits_seen(self.state.waits, self.step, now)


def local(now: Moment) -> datetime:
    """The time of day on the wall, without its zone."""
    return now.utc.astimezone().replace(tzinfo=None)
