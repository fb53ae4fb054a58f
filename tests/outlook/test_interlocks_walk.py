"""Random orders of acts: none that is plainly dangerous passes the interlocks unasked.

The auditor reads the log alone. It knows the plan's numbers, its own heat of lye, and no rule of the table under test:
44.51 kJ a mole of 40.0 g (CRC Handbook, heat of solution), 4.18 kJ for a kilogram of water and a degree.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence

import pytest
from attrs import define, field, frozen
from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import plan_with

from vatside.bench.commands import acknowledge, start_wait
from vatside.dayline.day_steps import steps as steps_of
from vatside.dayline.steps import Step
from vatside.log.events.day import (
    CautionAcknowledged,
    DoneAllTheSame,
    Entry,
    Event,
    ReducerFound,
    StepDone,
    StepReopened,
    WaitEnded,
    WaitStarted,
)
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, ReadingTaken, VatLetGo, VatMade, VatSpent
from vatside.log.fold import State, apply, initial_state
from vatside.log.state import Session
from vatside.log.vat_account import standing_at
from vatside.outlook.hand_acts import Scene
from vatside.outlook.interlocks import Unread, asked
from vatside.plan.measures import fibre_of, powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account import predict
from vatside.vat.interlocks import TubState
from vatside.vat.reading import Reading

KJ_A_GRAM = 44.51 / 40.0
"""Heat of solution of lye."""
EATEN = {"aluminium", "galvanised (zinc)", "tinned (tin)"}
STUFFS = ("heat-proof plastic", "stainless steel", "heat-proof glass", *EATEN)
FIBRES = ("linen", "cotton", "wool", "silk", "alpaca")
METHODS = ("tdo-lye", "dithionite-lye", "fructose-lime", "copperas-lime")
MARGIN_K, MARGIN_PH = 1.0, 0.2
"""Nearer to a limit than this the auditor does not judge."""


def any_plan(dice: random.Random) -> Plan:
    """Give a plan of any fibre, method and vessels, some of them wrong."""
    hand = {
        "lots__a__fibre": dice.choice(FIBRES),
        "method": dice.choice(METHODS),
        "vessels__jar_stuff": dice.choice(STUFFS),
        "vessels__tub__stuff": dice.choice(STUFFS),
        "water__cold": dice.choice(("12 C", "12 C", "45 C")),
    }
    if dice.random() < 0.4:
        hand["stock__start"] = dice.choice(("75 C", "57 C"))
    if dice.random() < 0.3:
        hand["vat__temperature"] = "68 C"
    plan = plan_with(None, **hand)
    if plan.method.endswith("lye") and dice.random() < 0.3:
        plan = plan_with(plan, stock__jug="0 L")
    return plan


@define
class Walk:
    """A dyer who does anything at any time, and sometimes all the same."""

    plan: Plan
    dice: random.Random
    clock: VirtualClock = field(factory=VirtualClock)
    sheet: Sheet = field(init=False)
    steps: Sequence[Step] = field(init=False)
    state: State = field(init=False)
    held: int = 0
    passed: int = 0

    def __attrs_post_init__(self) -> None:
        self.sheet = compute(self.plan)
        self.steps = steps_of(self.plan, self.sheet)
        self.state = initial_state(Session("s1", self.clock.now().utc, self.plan))

    def log(self, *events: Event) -> None:
        """Log, as the desk does."""
        for event in events:
            self.state = apply(self.state, Entry(self.state.seq + 1, self.clock.now(), event))

    def try_to(self, *events: Event) -> None:
        """Do something; what is asked is left, or answered one by one."""
        said: list[DoneAllTheSame] = []
        for _ in range(9):
            waiting = asked(Scene(self.state, self.sheet, self.steps, self.clock.now()), (*said, *events))
            if not waiting:
                self.passed += 1
                self.log(*said, *events)
                return
            self.held += 1
            first = waiting[0]
            if self.dice.random() < 0.4:
                return
            if not isinstance(first, Unread):
                said.append(first.answer)
            elif first.asks_tub and self.dice.random() < 0.3:
                self.log(ReducerFound(TubState.DAMP.value))
                said.append(DoneAllTheSame(first.rule, first.step.id, "damp"))
            else:
                self.log(acknowledge(first.step))
        raise AssertionError(f"the questions before {events} never end")

    def act(self) -> None:
        """Do one thing."""
        dice = self.dice
        self.clock.advance(dice.choice((1, 20, 61, 300)))
        deed = dice.choice((self.do, self.do, self.do, self.dip, self.dip, self.add, self.add, self.read, self.later,
                            self.turn, self.end))  # fmt: skip
        deed()

    def do(self) -> None:
        """Do a step, mostly one of the next ones in order; or open it again."""
        dice = self.dice
        left = [step for step in self.steps if step.id not in self.state.done]
        step = dice.choice(left[:4] if left and dice.random() < 0.7 else self.steps)
        if step.id in self.state.done:
            self.try_to(StepReopened(step.id))
            return
        stock = step.id == "vat.stock_in" and self.state.tending.account is None
        begun = start_wait(step, self.state.seq + 1) if step.minutes else StepDone(step.id)
        self.try_to(begun, *((VatMade(),) if stock else ()))

    def end(self) -> None:
        """End a wait, and its step with it."""
        waits = [wait for wait in self.state.waits if wait.step]
        if waits:
            wait = self.dice.choice(waits)
            self.try_to(WaitEnded(wait.id), StepDone(wait.step or ""))

    def dip(self) -> None:
        """Put the piece in, or lift it out."""
        where = self.state.dipping.pieces.get("a.1")
        inside = where is not None and where.place.value == "in the vat"
        self.try_to(DipEnded("a.1", 10.0) if inside else DipStarted("a.1", 5.0))

    def add(self) -> None:
        """Put something in by hand."""
        grams, litres = self.dice.choice((0.5, 3, 30)), self.dice.choice((20, 200, 2000))
        self.try_to(self.dice.choice((
            CorrectionMade(material="lye", amount=Amount(grams, "g")),
            CorrectionMade(material="soda-ash", amount=Amount(grams, "g")),
            CorrectionMade(material="reducer", amount=Amount(grams, "g")),
            CorrectionMade(material="vinegar", amount=Amount(litres, "mL")),
            CorrectionMade(material="citric-acid", amount=Amount(grams, "g")),
        )))  # fmt: skip

    def read(self) -> None:
        """Read anything."""
        dice = self.dice
        warm = Amount(dice.choice((20, 45, 50, 70, 80)), "degC")
        self.try_to(ReadingTaken(Reading(temperature=warm, pH=dice.choice((None, 8.8, 9.3, 10.3, 11.2, 12.0)))))

    def later(self) -> None:
        """Let time go by, up to a night."""
        self.clock.sleep(60 * self.dice.choice((4, 16, 90, 700)))

    def turn(self) -> None:
        """Bring the vat to an end, rarely."""
        chance = self.dice.random()
        if chance < 0.15:
            self.try_to(VatSpent())
        elif chance < 0.2 and self.state.tending.account is not None:
            self.try_to(VatLetGo(Amount(8, "L"), None, "", None, None, "x"))


@frozen
class Danger:
    """What the auditor finds dangerous in an entry."""

    entry: Entry
    name: str


class Auditor:
    """Reads a log and says which acts were plainly dangerous."""

    def __init__(self, plan: Plan, sheet: Sheet) -> None:
        self.plan, self.sheet = plan, sheet
        self.lye = powder(plan, "alkali").material.species == "sodium hydroxide"
        self.done: set[str] = set()
        self.running: dict[str, str] = {}
        self.filled = self.is_made = self.is_over = self.is_blue = False
        self.jar_C: float | None = None
        self.tub_C: float | None = None
        self.lye_at: float | None = None
        self.gloves_on = ""

    def watch(self, before: State, entry: Entry) -> Iterator[str]:
        """Give what is dangerous in an entry, then take it in; the vat has gone on with the clock."""
        before = standing_at(before, entry.at)
        event = entry.event
        step = event.step if isinstance(event, StepDone | WaitStarted) else None
        if step is not None and step not in self.running.values():
            yield from self.step(step, before, entry)
        if isinstance(event, CorrectionMade):
            yield from self.addition(event, before, entry)
        if isinstance(event, DipStarted):
            yield from self.dip(before, entry)
        self.take(event, before, entry)

    def step(self, step: str, before: State, entry: Entry) -> Iterator[str]:
        """Judge a step."""
        if self.lye and step == "stock.alkali_in":
            yield from self.lye_in_jar()
        if step == "stock.alkali_in" and self.plan.vessels.jar_stuff.value in EATEN:
            yield "eaten-vessel"
        if step in ("vat.alkali_in", "vat.stock_in", "vat.soda_in") and self.plan.vessels.tub.stuff.value in EATEN:
            yield "eaten-vessel"
        if self.lye and step == "vat.alkali_in":
            warm = self.tub_C if self.tub_C is not None else self.sheet.value("vat.temperature")
            warm = before.tending.account.celsius if before.tending.account else warm
            if warm > 60 + MARGIN_K:
                yield "warm-lye"
            yield from self.again(entry)
        if step == "stock.water" and self.lye and "stock.alkali_in" in self.done and not self.has("stock.water"):
            yield "water-onto-lye"

    def has(self, step: str) -> bool:
        """Tell whether a step was begun."""
        return step in self.done or step in self.running.values()

    def lye_in_jar(self) -> Iterator[str]:
        """Judge the lye of the stock: its jug, its jar, its order."""
        grams, jug = self.sheet.value("stock.alkali") * 0.99, self.sheet.value("stock.jug", 0.0)
        if not grams:
            return
        there = self.sheet.value("stock.start") if self.jar_C is None else self.jar_C
        water, cold = self.sheet.value("stock.water"), self.plan.water.cold.value
        if jug and cold + grams * KJ_A_GRAM / (jug * 4.18) > 60 + MARGIN_K:
            yield "warm-lye"
        if there + grams * KJ_A_GRAM / (water * 4.18) > 60 + MARGIN_K:
            yield "warm-lye"
        if not jug and self.plan.vessels.jar_stuff.value == "heat-proof glass" and there > 41:
            yield "hot-in-glass"
        if not self.has("stock.water"):
            yield "water-onto-lye"

    def addition(self, event: CorrectionMade, before: State, entry: Entry) -> Iterator[str]:
        """Judge what goes in by hand."""
        role = {"lye": "alkali", "soda-ash": "alkali", "vinegar": "acid", "citric-acid": "acid"}.get(event.material, "")
        if role == "alkali" and self.plan.vessels.tub.stuff.value in EATEN:
            yield "eaten-vessel"
        if event.material == "lye":
            yield from self.again(entry)
            account = before.tending.account
            if account is not None and account.celsius > 60 + MARGIN_K:
                yield "warm-lye"
        bath = before.tending.account.bath if before.tending.account else None
        sulfur = bath is not None and bath.thiourea_dioxide + bath.dithionite > 1e-4
        if role == "acid" and bath is not None and self.plan.method == "zinc-lime":
            yield "no-acid"
        elif role == "acid" and sulfur and not self.is_blue:
            yield "acid-live"

    def again(self, entry: Entry) -> Iterator[str]:
        """Judge lye upon lye."""
        if self.lye_at is not None and entry.at.elapsed - self.lye_at < 14 * 60:
            yield "second-lye"

    def dip(self, before: State, entry: Entry) -> Iterator[str]:
        """Judge a dip."""
        if self.gloves_on != f"{entry.at.utc:%F}":
            yield "gloves"
        if self.is_over or self.is_blue or not self.is_made:
            yield "no-vat"
        fibre, account = fibre_of(self.plan.lots[0]), before.tending.account
        limit = {"protein": 9.8, "silk": 11.0}.get(fibre.group)
        last = before.tending.readings[-1].reading if before.tending.readings else Reading()
        unread = last.pH is None or any(
            made.readings == len(before.tending.readings) for made in before.tending.corrections
        )
        if limit is None or account is None:
            return
        if (predict(account).pH if unread else last.pH or 0.0) > limit + MARGIN_PH:
            yield "above-window"

    def take(self, event: Event, before: State, entry: Entry) -> None:
        """Go on from an entry."""
        if isinstance(event, WaitStarted | WaitEnded | StepDone | StepReopened):
            self.steps_on(event, entry)
        elif isinstance(event, VatMade):
            self.is_made, self.is_over, self.is_blue, self.jar_C, self.tub_C = True, False, False, None, None
        elif isinstance(event, VatLetGo):
            self.is_over = before.tending.account is not None or self.is_over
        elif isinstance(event, CautionAcknowledged) and "gloves" in event.cautions:
            self.gloves_on = f"{entry.at.utc:%F}"
        elif isinstance(event, ReadingTaken):
            self.reads(event.reading)
        elif isinstance(event, CorrectionMade):
            self.lye_at = entry.at.elapsed if event.material == "lye" else self.lye_at
        self.is_blue = (self.is_blue or isinstance(event, VatSpent)) and getattr(event, "material", "") != "reducer"
        self.is_made = self.is_made or (isinstance(event, DipStarted) and not self.is_over)

    def steps_on(self, event: WaitStarted | WaitEnded | StepDone | StepReopened, entry: Entry) -> None:
        """Go on from what a step came to."""
        if isinstance(event, WaitStarted) and event.step:
            self.running[event.wait] = event.step
            self.lies(event.step, entry)
        elif isinstance(event, WaitEnded):
            self.done.add(self.running.pop(event.wait, ""))
        elif isinstance(event, StepDone):
            self.done.add(event.step)
            self.lies(event.step, entry)
        elif isinstance(event, StepReopened):
            self.done.discard(event.step)

    def lies(self, step: str, entry: Entry) -> None:
        """Lye that went into the tub by a step lies there."""
        if step == "vat.alkali_in" and self.lye:
            self.lye_at = entry.at.elapsed

    def reads(self, reading: Reading) -> None:
        """A reading is of the tub once its water was begun."""
        self.lye_at = None
        if reading.celsius is None:
            return
        if self.has("vat.fill"):
            self.tub_C = reading.celsius
        else:
            self.jar_C = reading.celsius


def audited(walk: Walk) -> tuple[int, list[Danger]]:
    """Give how many dangers the log holds, and those that nothing in the log speaks of."""
    auditor, state = Auditor(walk.plan, walk.sheet), initial_state(Session("s1", walk.state.created, walk.plan))
    count, silent = 0, []
    for entry in walk.state.entries:
        said = {
            one.event.rule for one in walk.state.entries if isinstance(one.event, DoneAllTheSame) and one.at == entry.at
        }
        for name in auditor.watch(state, entry):
            count += 1
            if name not in said:
                silent.append(Danger(entry, name))
        state = apply(state, entry)
    return count, silent


def walked(seed: int, acts: int) -> tuple[int, int]:
    """Let a dyer do so many acts on one plan; give how often she was held up, and how many dangers the log tells of."""
    dice = random.Random(seed)
    walk = Walk(any_plan(dice), dice)
    for _ in range(acts):
        walk.act()
    count, silent = audited(walk)
    first = silent[0] if silent else None
    assert not silent, f"seed {seed}, {walk.plan.method}: {first.name} by {first.entry.event}" if first else ""
    return walk.held, count


def test_no_danger_passes_unasked() -> None:
    """800 random acts on ten plans: whatever the auditor finds dangerous was asked about, and the log says why."""
    found = [walked(seed, 80) for seed in range(10)]
    assert all(held for held, _ in found)
    assert sum(count for _, count in found) > 30


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 140))
def test_ten_thousand_acts(seed: int) -> None:
    """250 acts on each of forty plans."""
    walked(seed, 250)
