"""Make the sample sessions anew: invented days, played through the real events on a virtual clock.

Run from the top of the checkout: `python -m tests.samples.make_samples`.
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from attrs import Factory, define, evolve, field

from vatside.catalogue.looks import Clarity, Colour, Strip, Surface
from vatside.dayline.day import steps
from vatside.dayline.pieces import Piece
from vatside.dayline.rotation import Call, Do
from vatside.dayline.steps import Step
from vatside.recipe.care.corrections import corrections
from vatside.recipe.care.reading import Reading
from vatside.recipe.compute import compute
from vatside.recipe.plan import Plan
from vatside.recipe.starter import new_lot, starter_plan
from vatside.session.care import findings_of, made_event, vat_of
from vatside.session.care_events import ReadingTaken, VatMade
from vatside.session.clock import VirtualClock
from vatside.session.commands import acknowledge, change, free_wait, start_wait
from vatside.session.dip_board import lift, lower, next_move, pieces_of
from vatside.session.dip_events import PieceDone, SwatchRecorded
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
from vatside.units import Amount, Problem

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

    def put_right(self) -> None:
        """Find the vat a little short of reducer, correct it as proposed, and read it again after the wait."""
        seen = Reading(Amount(43, "degC"), 11.3, colour=Colour.GREEN, clarity=Clarity.CLEAR, seconds=25)
        self.happen(ReadingTaken(seen), 2)
        state, sheet = self.state, compute(self.state.plan)
        found = findings_of(state, sheet)[0]
        proposed = corrections(found, vat_of(state, sheet))[0]
        self.happen(made_event(proposed), 3)
        wait = free_wait(proposed.wait_label, proposed.wait_min, self.state.seq + 1)
        self.happen(wait, 0.2)
        self.end(wait.wait, proposed.wait_min + 1)
        better = Reading(
            Amount(42, "degC"), 11.2, colour=Colour.YELLOW_GREEN, clarity=Clarity.CLEAR, surface=Surface.COPPERY,
            strip=Strip.GREEN_YELLOW, seconds=50,
        )  # fmt: skip
        self.happen(ReadingTaken(better), 1)

    def dip(self) -> None:
        """Let the pieces take their turns by the board, four dips each, until all are done."""
        self.set("dip.a.dips", "4")
        while True:
            state, sheet = self.state, compute(self.state.plan)
            call = next_move(state, sheet, self.clock.now())
            if call.do is Do.DONE and not state.waits:
                break
            if call.do in (Do.ENTER, Do.LIFT, Do.LOOK) and call.piece and call.seconds <= 0:
                self.happen(moves({piece.id: piece for piece in pieces_of(state, sheet)}, call), 0.4)
            else:
                self.clock.advance(max(call.seconds, 30.0))
        self.happen(SwatchRecorded("a.1", step=Amount(0.4, "%")), 40)

    def close(self) -> None:
        """Leave the session on the disk as one file."""
        self.file.close()
        for leftover in (*FOLDER.glob(f"{self.name}.json.*"), *FOLDER.glob(f"{self.name}.*.jsonl")):
            leftover.unlink()


def moves(pieces: dict[str, Piece], call: Call) -> Event:
    """Give the event that does what the board calls for."""
    piece = pieces[call.piece or ""]
    if call.do is Do.LOOK:
        return PieceDone(piece.id)
    return lower(piece) if call.do is Do.ENTER else lift(piece)


def finished_day() -> None:
    """Two cotton skeins, half a pound, from wet-out through a vat put right to four dips and a swatch."""
    day = Day(
        "finished-day", "5a0e1c77b2d94f10", datetime(2026, 4, 18, 6, 40, tzinfo=UTC),
        starter_plan("Half a pound for the spring fair"),
    )  # fmt: skip
    day.set("ready_by", "2026-04-18 12:30")
    day.set("lots.a.name", "Two fair skeins")
    day.set("lots.a.fibre", "cotton")
    day.set("lots.a.depth", "0.4 %")
    day.set("water.cold", "11 C")
    day.set("shelf.indigo.spoon_mass", "2.4 g")
    for step_id in ("soak", "fill", "agents", "heat"):
        day.do(f"scour.cotton.{step_id}")
    day.do("stock.paste")
    day.do("scour.cotton.hold")
    day.do("scour.cotton.rinse")
    day.do("scour.cotton.hang")
    day.set("stock.pigment", "3 tsp")
    day.happen(NoteWritten("A rounded spoon more than asked: the tin had clumps."), 1)
    for step_id in ("water", "alkali_in", "stir_in", "reducer_in", "hold_warm", "look"):
        day.do(f"stock.{step_id}")
    for step_id in ("fill", "alkali_in", "reducer_in", "stock_in"):
        day.do(f"vat.{step_id}")
    day.happen(VatMade(), 0.1)
    for step_id in ("rest_covered", "look"):
        day.do(f"vat.{step_id}")
    day.put_right()
    day.dip()
    day.happen(NoteWritten("Hung the skeins behind the shed, out of the sun."), 6)
    day.close()


def at_the_stove() -> None:
    """A class morning stopped in the middle: wool and cotton, two waits running, one paused cotton scour ahead."""
    plan = starter_plan("Saturday class, two fibres")
    day = Day("at-the-stove", "c3d81f4490aa4be6", datetime(2026, 5, 2, 6, 5, tzinfo=UTC), plan)
    day.set("ready_by", "2026-05-02 13:30")
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
