"""Make the sample sessions anew: invented days, played through the real events on a virtual clock.

Run from the top of the checkout: `python -m tests.samples.make_samples`.
"""

from __future__ import annotations

from datetime import UTC, datetime
from math import log
from pathlib import Path

from attrs import Factory, define, evolve, field
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench.commands import acknowledge, change, free_wait, start_wait
from vatside.catalogue.dyeing import ladder
from vatside.catalogue.looks import Clarity, Colour, Strip, Surface
from vatside.dayline.day_steps import steps
from vatside.dayline.steps import Step
from vatside.dips.rotation import Call, Do, Piece
from vatside.log import waits
from vatside.log.events.day import AlarmQuieted, Event, LotAdded, NoteWritten, StepDone, WaitEnded, WaitExtended
from vatside.log.events.vat import DryMassTaken, PieceDone, ReadingTaken, SwatchRecorded, VatLetGo, VatMade, VatSpent
from vatside.log.fold import State, fold, sheet_of
from vatside.log.state import Session
from vatside.outlook.dip_board import lift, lower, next_move, pieces_of
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_end import ACID_WAIT_MIN, Choices, holds_back, pHs_round_acid, portion, total_given
from vatside.outlook.vat_facts import made_event
from vatside.plan.measures import clean_grams
from vatside.plan.plan import Form, Plan
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
from vatside.storage.session_file import SessionFile
from vatside.units import Amount, Problem
from vatside.vat.reading import Reading
from vatside.vat.spent import spent_pH

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

    def read(
        self, *, celsius: float, pH: float, colour: Colour, seconds: float | None = None, after_min: float = 2
    ) -> None:
        """Take a reading of a clear vat; one that is well has its film."""
        well = colour is Colour.YELLOW_GREEN
        seen = Reading(
            Amount(celsius, "degC"), pH, colour=colour, clarity=Clarity.CLEAR, seconds=seconds,
            surface=Surface.COPPERY if well else None, strip=Strip.GREEN_YELLOW if well else None,
        )  # fmt: skip
        self.happen(ReadingTaken(seen), after_min)

    def put_right(self) -> None:
        """Find the vat a little short of reducer, correct it as proposed, and read it again after the wait."""
        self.read(celsius=44, pH=11.3, colour=Colour.GREEN, seconds=25)
        state, sheet = self.state, compute(self.state.plan)
        vat = Outlook(state, sheet)
        proposed = vat.ways(vat.findings[0].id)[0]
        self.happen(made_event(proposed), 3)
        wait = free_wait(proposed.wait_label, proposed.wait_min, self.state.seq + 1)
        self.happen(wait, 0.2)
        self.end(wait.wait, proposed.wait_min + 1)
        self.read(celsius=46, pH=11.2, colour=Colour.YELLOW_GREEN, seconds=50)

    def dip(self) -> None:
        """Let the pieces take their turns by the board, as planned, until all are done."""
        while True:
            state, sheet = self.state, sheet_of(self.state)
            call = next_move(state, sheet, self.clock.now())
            if call.do is Do.DONE and not state.waits:
                break
            if call.do is Do.READ:
                self.read(celsius=46, pH=11.2, colour=Colour.YELLOW_GREEN, seconds=50)
            elif call.do in (Do.ENTER, Do.LIFT, Do.LOOK) and call.piece and call.seconds <= 0:
                self.happen(moves({piece.id: piece for piece in pieces_of(state, sheet)}, call), 0.4)
            else:
                self.clock.advance(max(call.seconds, 30.0))

    def compare(self, piece: str) -> None:
        """Hold a piece, dry, against the ladder: it is like the step nearest to what the account has on it."""
        lot = next(lot for lot in self.state.plan.lots if lot.id == piece.partition(".")[0])
        depth = self.state.dipping.pieces[piece].on.depth(clean_grams(self.state.plan, lot) / lot.pieces)
        step = min((rung.depth for rung in ladder()), key=lambda rung: abs(log(rung / depth)))
        self.happen(SwatchRecorded(piece, step=Amount(step, "%")), 3)

    def let_go(self) -> None:
        """Spend the vat in the air, let it settle overnight, and neutralise it by what went in."""
        for step_id in ("use_up", "oxidise"):
            self.do(f"finish.{step_id}")
        self.happen(VatSpent(), 1)
        for step_id in ("settle", "decant"):
            self.do(f"finish.{step_id}")
        account = self.state.tending.account
        assert account is not None
        self.read(celsius=20, pH=round(spent_pH(account), 1), colour=Colour.BLUE)
        for step_id in ("titrate", "neutralise"):
            self.do(f"finish.{step_id}")
        acid = portion(self.state, Choices())
        assert not isinstance(acid, str), acid
        self.happen(acid, 4)
        self.read(celsius=20, pH=8.4, colour=Colour.BLUE, after_min=ACID_WAIT_MIN)
        assert holds_back(self.state, Choices()) is None
        self.do("finish.drain")
        pH_before, pH_after = pHs_round_acid(self.state)
        acid_id, amount = total_given(self.state)
        volume = Amount(round(account.litres, 1), "L")
        self.happen(VatLetGo(volume, pH_before, acid_id, amount, pH_after, "the town's works, cold, by their word"), 1)

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
    """Four cotton panels, from wet-out through a vat put right to the cloth dry and the vat let go."""
    day = Day(
        "finished-day", "5a0e1c77b2d94f10", datetime(2026, 4, 18, 6, 40, tzinfo=UTC),
        starter_plan("Panels for the kitchen window"),
    )  # fmt: skip
    day.set("ready_by", "2026-04-18 12:30")
    day.set("lots.a.name", "Window panels")
    day.set("lots.a.fibre", "cotton")
    day.set("lots.a.pieces", "4")
    day.set("lots.a.mass", "4 x 90 g")
    day.set("water.cold", "11 C")
    day.set("shelf.indigo.spoon_mass", "2.4 g")
    day.set("finish.keep", "0 d")
    for step_id in ("soak", "fill", "agents", "heat"):
        day.do(f"scour.cotton.{step_id}")
    day.do("stock.paste")
    day.do("scour.cotton.hold")
    day.do("scour.cotton.rinse")
    day.do("scour.cotton.hang")
    for step_id in ("water", "alkali_in", "stir_in", "reducer_in", "hold_warm", "look"):
        day.do(f"stock.{step_id}")
    for step_id in ("fill", "alkali_in", "reducer_in", "stock_in"):
        day.do(f"vat.{step_id}")
    day.happen(VatMade(), 0.1)
    for step_id in ("rest_covered", "look"):
        day.do(f"vat.{step_id}")
    day.put_right()
    for step_id in ("wet", "warm", "strip"):
        day.do(f"dip.{step_id}")
    day.dip()
    day.happen(NoteWritten("Hung the panels behind the shed, out of the sun."), 2)
    for step_id in ("rotate", "cover"):
        day.happen(StepDone(f"dip.{step_id}"), 1)
    for step_id in ("air", "rinse", "sour", "sour_rinse", "wash_water", "wash_heat", "wash", "last_rinse"):
        day.do(f"finish.cotton.{step_id}")
    day.do("finish.cotton.dry", until_end=False)
    drying = day.state.waits[-1]
    day.let_go()
    day.end(drying.id, max(waits.remaining(drying, day.clock.now()), 0) / 60 + 30)
    day.happen(StepDone("finish.cotton.dry"))
    day.do("finish.cotton.rub")
    for number in range(1, 5):
        day.compare(f"a.{number}")
    day.do("finish.cotton.weigh")
    day.happen(DryMassTaken("a", Amount(363, "g")), 1)
    day.close()


def at_the_stove() -> None:
    """A class morning stopped in the middle: eight people's cloths in two blues, the scour and the stock on the hob."""
    plan = starter_plan("Saturday class, eight cloths")
    day = Day("at-the-stove", "c3d81f4490aa4be6", datetime(2026, 5, 2, 6, 5, tzinfo=UTC), evolve(plan, dosing=None))
    day.set("ready_by", "2026-05-02 11:00")
    day.set("dosing", "a working vat")
    day.set("vessels.scour_pot", "25 L")
    day.set("water.tap", "hard")
    day.set("lots.a.name", "Aprons")
    day.set("lots.a.fibre", "cotton")
    day.set("lots.a.pieces", "3")
    day.set("lots.a.mass", "3 x 95 g")
    day.set("lots.a.names", "Asha, Ben, Carla")
    towels = evolve(
        new_lot(day.state.plan), name="Tea towels", pieces=5, mass=Amount(300, "g"), depth=Amount(0.4, "%"),
        form=Form.CLOTH, names=("Dilip", "Edda", "Femi", "Greta", "Hana"),
    )  # fmt: skip
    day.happen(LotAdded(towels), 1)
    day.do("scour.cotton.soak")
    for step_id in ("fill", "agents", "heat"):
        day.do(f"scour.cotton.{step_id}")
    day.do("scour.cotton.hold", until_end=False)
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
