"""Make the sample sessions anew: invented days, played through the real events on a virtual clock.

Run from the top of the checkout: `python -m tests.samples.make_samples`.
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from attrs import Factory, define, evolve, field

from vatside.dayline.day import steps
from vatside.dayline.steps import Step
from vatside.recipe.compute import compute
from vatside.recipe.plan import Plan
from vatside.recipe.starter import new_lot, starter_plan
from vatside.session.clock import VirtualClock
from vatside.session.commands import acknowledge, change, start_wait
from vatside.session.events import (
    AlarmQuieted,
    Event,
    LotAdded,
    NoteWritten,
    StepDone,
    WaitEnded,
    WaitExtended,
)
from vatside.session.session import Session
from vatside.session.state import State, fold
from vatside.session.store import SessionFile
from vatside.units import Problem

FOLDER = Path(__file__).parents[2] / "sample_sessions"


@define
class Day:
    """A dye day being played."""

    name: str
    ident: str
    begins: datetime
    plan: Plan
    clock: VirtualClock = field(init=False, default=Factory(lambda self: VirtualClock(self.begins), takes_self=True))
    file: SessionFile = field(init=False)

    def __attrs_post_init__(self) -> None:
        path = FOLDER / f"{self.name}.json"
        path.unlink(missing_ok=True)
        start = Session(self.ident, self.begins, self.plan, ())
        self.file = SessionFile.write_new(path, start)

    @property
    def state(self) -> State:
        """How the day stands."""
        return fold(self.file.session)

    def happen(self, event: Event, after_min: float = 0.2) -> None:
        """Let something happen a little later."""
        self.clock.advance(after_min * 60)
        self.file.append(event, self.clock.now())

    def set(self, path: str, text: str) -> None:
        """Type into a field."""
        event = change(self.state.plan, path, text)
        assert not isinstance(event, Problem), event
        self.happen(event, 0.4)

    def step(self, step_id: str) -> Step:
        """Find a step of the plan as it stands."""
        plan = self.state.plan
        return next(step for step in steps(plan, compute(plan)) if step.id == step_id)

    def do(self, step_id: str, *, over_min: float = 1.5, until_end: bool = True) -> None:
        """Do a step: read its cautions, work, and sit its wait out, hearing the alarm `over_min` late."""
        step = self.step(step_id)
        if any(item.must_acknowledge for item in step.cautions):
            self.happen(acknowledge(step), 0.5)
        self.clock.advance(step.hands_min * 60)
        if step.minutes is None:
            self.happen(StepDone(step_id))
            return
        wait = start_wait(step, self.state.seq + 1)
        self.happen(wait)
        if until_end:
            self.end(wait.wait, step.minutes + over_min)
            self.happen(StepDone(step_id))

    def end(self, wait: str, after_min: float) -> None:
        """Hear a wait's alarm and end it."""
        self.happen(AlarmQuieted(wait), after_min)
        self.happen(WaitEnded(wait), 0.3)

    def close(self) -> None:
        """Leave the session on the disk as one file."""
        self.file.close()
        for leftover in (*FOLDER.glob(f"{self.name}.json.*"), *FOLDER.glob(f"{self.name}.*.jsonl")):
            leftover.unlink()


def finished_day() -> None:
    """Two wool skeins, half a pound, from wet-out to a vat that is ready."""
    day = Day(
        "finished-day", "5a0e1c77b2d94f10", datetime(2026, 4, 18, 6, 40, tzinfo=UTC),
        starter_plan("Half a pound for the spring fair"),
    )  # fmt: skip
    day.set("ready_by", "2026-04-18 10:30")
    day.set("lots.a.name", "Two fair skeins")
    day.set("water.cold", "11 C")
    day.set("shelf.indigo.spoon_mass", "2.4 g")
    for step_id in ("soak", "fill", "agents", "heat"):
        day.do(f"scour.wool.{step_id}")
    day.do("stock.paste")
    day.do("scour.wool.hold")
    day.do("scour.wool.rinse")
    day.set("stock.pigment", "2 1/2 tsp")
    day.happen(NoteWritten("That was all the indigo left in the tin."), 1)
    for step_id in ("water", "alkali_in", "stir_in", "reducer_in", "hold_warm", "look"):
        day.do(f"stock.{step_id}")
    for step_id in ("fill", "alkali_in", "reducer_in", "stock_in", "rest_covered", "look"):
        day.do(f"vat.{step_id}")
    day.happen(NoteWritten("Clear yellow-green, coppery film. First strip turned in about 50 s."), 3)
    day.close()


def at_the_stove() -> None:
    """A class morning stopped in the middle: wool and cotton, two waits running, one paused cotton scour ahead."""
    plan = starter_plan("Saturday class, two fibres")
    day = Day("at-the-stove", "c3d81f4490aa4be6", datetime(2026, 5, 2, 6, 5, tzinfo=UTC), plan)
    day.set("ready_by", "2026-05-02 11:00")
    day.set("lots.a.name", "Class wool")
    day.set("lots.a.mass", "2 x 100 g")
    cotton = evolve(new_lot(day.state.plan), name="Tea towels", fibre="cotton", pieces=4)
    day.happen(LotAdded(cotton), 1)
    day.set("lots.b.form", "cloth")
    day.set("lots.b.mass", "180 g")
    day.do("scour.wool.soak")
    for step_id in ("fill", "agents", "heat"):
        day.do(f"scour.wool.{step_id}")
    day.do("scour.wool.hold", until_end=False)
    day.do("stock.paste")
    for step_id in ("water", "alkali_in", "stir_in", "reducer_in"):
        day.do(f"stock.{step_id}")
    day.do("stock.hold_warm", until_end=False)
    day.happen(WaitExtended(day.state.waits[-1].id, 5), 2)
    day.happen(NoteWritten("Hob 2 runs hot: pot moved to the small ring."), 4)
    day.close()


if __name__ == "__main__":
    finished_day()
    at_the_stove()
