"""Each interlock speaks where it must, a right day hears none, and what was read counts for its day and its danger."""

from __future__ import annotations

import pytest
from attrs import define, evolve, field
from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import plan_with

from vatside.bench.commands import acknowledge, start_wait
from vatside.dayline.day_steps import steps as steps_of
from vatside.log.events.day import (
    CautionAcknowledged,
    DoneAllTheSame,
    Entry,
    Event,
    LotAdded,
    ReducerFound,
    StepDone,
    WaitEnded,
    WaitStarted,
)
from vatside.log.events.vat import (
    CorrectionMade,
    DipEnded,
    DipStarted,
    LotDipped,
    ReadingTaken,
    VatLetGo,
    VatMade,
    VatSpent,
)
from vatside.log.fold import State, apply, initial_state
from vatside.log.state import Session
from vatside.log.words.day import log_lines
from vatside.outlook.hand_acts import Scene
from vatside.outlook.interlocks import RULES, Question, Unread, asked, is_read, questions
from vatside.plan.plan import Plan
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.reading import Reading

SCOURED = (StepDone("scour.linen.hang"), StepDone("scour.wool.hang"))
STANDS = (StepDone("vat.fill"), StepDone("vat.stock_in"), VatMade())


@define
class Day:
    """A day below the screens."""

    plan: Plan = field(factory=starter_plan)
    clock: VirtualClock = field(factory=VirtualClock)
    state: State = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.state = initial_state(Session("s1", self.clock.now().utc, self.plan))

    @property
    def scene(self) -> Scene:
        """How it stands now."""
        sheet = compute(self.state.plan)
        return Scene(self.state, sheet, steps_of(self.state.plan, sheet), self.clock.now())

    def log(self, *events: Event) -> Day:
        """Let something have happened."""
        for event in events:
            self.clock.advance(1)
            self.state = apply(self.state, Entry(self.state.seq + 1, self.clock.now(), event))
        return self

    def rules(self, *events: Event) -> list[str]:
        """Give the rules that speak against something."""
        return [item.rule for item in questions(self.scene, events)]

    def first(self, *events: Event) -> Question:
        """Give the first question before something."""
        return questions(self.scene, events)[0]


def day(*events: Event, **hand: str) -> Day:
    """Give a day with fields of its plan set, on which this has happened."""
    return Day(plan_with(starter_plan(), **hand)).log(*events)


def put(material: str, value: float, unit: str = "g") -> CorrectionMade:
    """Give something put in by hand."""
    return CorrectionMade(material=material, amount=Amount(value, unit))


FED = CorrectionMade("spent", "add", material="reducer", amount=Amount(1, "g"))
"""Reducer for what a reading found."""


def read(celsius: float | None = None, pH: float | None = None) -> ReadingTaken:
    """Give a reading."""
    return ReadingTaken(Reading(temperature=None if celsius is None else Amount(celsius, "degC"), pH=pH))


LYE, WATER, DIP = StepDone("stock.alkali_in"), StepDone("stock.water"), DipStarted("a.1", 5.0)
LET_GO = VatLetGo(Amount(4, "L"), None, "", None, None, "asked the town")


def wait(step: str) -> WaitStarted:
    """Give the beginning of a step's wait of an hour."""
    return WaitStarted(f"w.{step}", step, "The wait", 60)


WOOL = {"lots__a__fibre": "wool"}
WOOLLEN = evolve(new_lot(starter_plan()), fibre="wool")
"""A second lot, of another bath than the first."""
CASES: list[tuple[str, Day, Event]] = [
    ("water-onto-lye", day(), LYE),
    ("water-onto-lye", day(LYE), WATER),
    ("eaten-vessel", day(WATER, vessels__jar_stuff="aluminium"), LYE),
    ("eaten-vessel", day(WATER, vessels__jar_stuff="galvanised"), LYE),
    ("eaten-vessel", day(WATER, vessels__jar_stuff="tinned"), LYE),
    ("eaten-vessel", day(*STANDS, vessels__tub__stuff="aluminium"), put("soda-ash", 2)),
    ("eaten-vessel", day(vessels__tub__stuff="aluminium", **WOOL), StepDone("vat.soda_in")),
    ("eaten-vessel", day(vessels__scour_stuff="aluminium"), StepDone("scour.linen.agents.1")),
    ("warm-lye", day(WATER, stock__start="75 C"), LYE),
    ("warm-lye", day(WATER, read(75)), LYE),
    ("warm-lye", day(WATER, stock__alkali="40 g", stock__jug="0.1 L"), LYE),
    ("warm-lye", day(*STANDS, read(66)), put("lye", 1)),
    ("hot-in-glass", day(WATER, stock__jug="0 L"), LYE),
    ("second-lye", day(*STANDS, put("lye", 1)), put("lye", 1)),
    ("given-again", day(*STANDS, FED), FED),
    ("acid-live", day(*STANDS), put("vinegar", 500, "mL")),
    ("acid-live", day(*STANDS), put("vinegar", 5, "mL")),
    ("acid-live", day(*STANDS, finish__keep="0 days"), StepDone("finish.neutralise")),
    ("no-acid", day(*STANDS, VatSpent(), method="zinc-lime", lots__a__fibre="cotton"), put("vinegar", 100, "mL")),
    ("other-powder", day(*STANDS), put("slaked-lime", 1)),
    ("other-powder", day(*STANDS, method="fructose-lime"), put("soda-ash", 1)),
    ("other-powder", day(*STANDS), put("zinc-dust", 1)),
    ("doubtful", day(*STANDS), put("reducer", 100)),
    ("no-vat", day(), DIP),
    ("no-vat", day(*STANDS, LET_GO), DIP),
    ("no-vat", day(*STANDS, VatSpent()), DIP),
    ("above-window", day(*STANDS, read(47, 10.6), **WOOL), DIP),
    ("above-window", day(*STANDS, put("lye", 4), **WOOL), DIP),
    ("pieces-wait", day(*STANDS, DIP, DipEnded("a.1", 10)), LET_GO),
    ("poured-off", day(*STANDS, VatSpent(), read(20, 11.6), finish__keep="0 days"), StepDone("finish.drain")),
    ("wait-runs", day(wait("scour.wool.heat.1"), **WOOL), wait("scour.wool.hold.1")),
    ("wait-runs", day(wait("scour.wool.hold.2"), **WOOL), StepDone("scour.wool.rinse.2")),
    ("wait-runs", day(wait("scour.wool.heat.2"), **WOOL), wait("scour.wool.cool")),
    ("wait-runs", day(wait("scour.wool.hold.1"), **WOOL), StepDone("scour.wool.fill.2")),
    ("wait-runs", day(wait("stock.hold_warm")), StepDone("vat.stock_in")),
    ("wait-runs", day(wait("vat.rest_covered")), StepDone("dip.strip")),
    ("scour-left", day(wait("scour.linen.hold.1"), *STANDS), DIP),
    ("scour-left", day(StepDone("scour.linen.soak"), *STANDS), DIP),
    ("scour-left", day(*STANDS), DIP),
    (
        "scour-left",
        day(LotAdded(WOOLLEN), StepDone("scour.linen.soak"), StepDone("scour.linen.hang"), *STANDS),
        DipStarted("b.1", 5.0),
    ),
    ("not-dipped", day(*STANDS), StepDone("dip.rotate")),
    ("not-dipped", day(*STANDS, **WOOL), wait("finish.wool.air")),
]


@pytest.mark.parametrize(("rule", "there", "event"), CASES, ids=[f"{n}-{case[0]}" for n, case in enumerate(CASES)])
def test_it_speaks(rule: str, there: Day, event: Event) -> None:
    """The dangerous act is held, its reason a sentence; said all the same, it is logged in words and goes on."""
    assert rule in there.rules(event)
    found = next(item for item in questions(there.scene, [event]) if item.rule == rule)
    assert found.block.why.endswith((".", "comes on top of it."))
    answers = tuple(item.answer for item in questions(there.scene, [event]))
    assert not any(isinstance(item, Question) for item in asked(there.scene, (*answers, event)))
    there.log(*answers, event)
    assert any("Done all the same, although" in line for line in log_lines(there.state.whole))


def test_pieces_are_asked_about_once_at_the_end() -> None:
    """No piece can be dipped in a vat that stays blue: it was asked when that was said, and is not when it goes."""
    there = day(*STANDS, DIP, DipEnded("a.1", 10))
    assert "pieces-wait" in there.rules(VatSpent())
    there.log(VatSpent())
    assert "pieces-wait" not in there.rules(LET_GO)


def test_pieces_are_asked_about_before_the_vat_is_stirred_in_the_air() -> None:
    """Four hours of air leave no vat for them: it is asked when these begin, and not again when they are over."""
    there = day(*STANDS, DIP, DipEnded("a.1", 10), finish__keep="0 days")
    begins = wait("finish.oxidise")
    [asks] = [found for found in questions(there.scene, [begins]) if found.rule == "pieces-wait"]
    assert "wait for a dip" in asks.why
    there.log(asks.answer, begins)
    assert "pieces-wait" not in there.rules(VatSpent())


def test_every_rule_has_a_case() -> None:
    """No interlock of the table is without its test."""
    assert {rule.key for rule in RULES} == {case[0] for case in CASES}


@pytest.mark.parametrize(
    ("there", "event"),
    [
        (day(WATER), LYE),
        (day(WATER, read(75), read(50)), LYE),
        (day(WATER, vessels__jar_stuff="stainless steel", stock__jug="0 L"), LYE),
        (day(WATER, method="fructose-lime", vessels__jar_stuff="heat-proof glass"), LYE),
        (day(*STANDS, VatSpent()), put("vinegar", 500, "mL")),
        (day(*SCOURED, *STANDS), DIP),
        (day(*SCOURED, *STANDS, **WOOL), DIP),
        (day(*SCOURED, *STANDS, read(47, 9.4), **WOOL), DIP),
        (day(*STANDS, put("lye", 1), read(45, 11)), put("lye", 1)),
        (day(*STANDS, FED, read(45, 11)), FED),
        (day(wait("scour.wool.soak"), **WOOL), StepDone("scour.wool.fill.1")),
        (day(wait("scour.wool.fill.1"), **WOOL), StepDone("scour.wool.agents.1")),
        (day(wait("scour.wool.heat.1"), **WOOL), StepDone("stock.paste")),
        (day(wait("scour.wool.hold.1"), place__pots="10 L", **WOOL), StepDone("scour.wool.fill.2")),
        (day(wait("finish.wool.air"), **WOOL), StepDone("finish.wool.wash_water")),
        (day(*STANDS, DIP, DipEnded("a.1", 10)), wait("finish.linen.air")),
        (day(wait("finish.wool.wash"), WaitEnded("w.finish.wool.wash"), **WOOL), StepDone("finish.wool.last_rinse")),
    ],
)
def test_it_is_quiet(there: Day, event: Event) -> None:
    """What is right is not asked about."""
    assert there.rules(event) == []


def test_a_wait_that_is_over_holds_nothing_back() -> None:
    """Its alarm may still ring: the next step needs no more than that its time is up."""
    there = day(wait("scour.wool.heat.1"), **WOOL)
    there.clock.sleep(3600)
    assert there.rules(wait("scour.wool.hold.1")) == []


def test_a_step_over_a_wait_is_asked_about_once() -> None:
    """One sentence says how long it has to go; a step begun all the same is not asked for what stood before it."""
    there = day(wait("scour.wool.heat.1"), **WOOL)
    found = there.first(wait("scour.wool.hold.1"))
    assert found.block.why == "The wait has 1:00:00 to go."
    assert found.block.once
    there.log(found.answer, wait("scour.wool.hold.1"), WaitEnded("w.scour.wool.hold.1"), StepDone("scour.wool.hold.1"))
    assert there.rules(StepDone("scour.wool.rinse.1")) == []


def test_lye_stirred_in_for_a_quarter_of_an_hour_may_be_followed() -> None:
    """After its wait nobody is asked whether it is stirred in."""
    there = day(*STANDS, put("lye", 1))
    there.clock.sleep(16 * 60)
    assert there.rules(put("lye", 1)) == []


@pytest.mark.parametrize("hand", [{}, WOOL, {"method": "dithionite-lye"}, {"method": "copperas-lime"}])
def test_a_right_day_hears_no_question(hand: dict[str, str]) -> None:
    """Every step in its order, and a dip: only cautions are to be read, gloves once."""
    there, gloves = day(**hand), 0
    for step in there.scene.steps:
        if step.stage.value not in ("scour", "stock", "vat"):
            continue
        begun = start_wait(step, there.state.seq + 1) if step.minutes else StepDone(step.id)
        for item in asked(there.scene, [begun]):
            assert isinstance(item, Unread), f"{step.id}: {item}"
            there.log(acknowledge(item.step))
        made = step.id == "vat.stock_in"
        there.log(begun, *((VatMade(),) if made else ()))
        if step.minutes:
            there.clock.sleep(60 * step.minutes)
            there.log(WaitEnded(f"w{there.state.seq - made}"), StepDone(step.id))
    for dip in (DIP, DipEnded("a.1", 10), DIP):
        for item in asked(there.scene, [dip]):
            assert isinstance(item, Unread)
            gloves += 1
            there.log(acknowledge(item.step))
        there.log(dip)
    assert gloves == 1


def test_what_was_read_yesterday_is_read_again() -> None:
    """Cautions count for a day on the wall; gloves too."""
    there = day(*SCOURED, *STANDS)
    [gloves] = asked(there.scene, [DIP])
    assert isinstance(gloves, Unread)
    there.log(acknowledge(gloves.step))
    assert asked(there.scene, [DIP]) == ()
    there.clock.sleep(24 * 3600)
    assert len(asked(there.scene, [DIP])) == 1


def test_another_danger_is_read_again() -> None:
    """Lye that warms its jug otherwise is another danger; the same is not, and an older log did not say which."""
    there = day(WATER)
    [lye] = asked(there.scene, [LYE])
    assert isinstance(lye, Unread)
    there.log(acknowledge(lye.step))
    assert is_read(there.state, lye.step, there.clock.now())
    more = day(WATER, stock__alkali="9 g").log(*[entry.event for entry in there.state.entries])
    assert [type(item) for item in asked(more.scene, [LYE])] == [Unread]
    assert asked(more.log(CautionAcknowledged("stock.alkali_in", ("lye",))).scene, [LYE]) == ()


def test_a_damp_tub_is_looked_into_again() -> None:
    """Once it was found damp, what was read of its dryness counts no more; used all the same, the log says so."""
    there, reducer = day(WATER), StepDone("stock.reducer_in")
    [tub] = asked(there.scene, [reducer])
    assert isinstance(tub, Unread)
    assert tub.asks_tub
    there.log(acknowledge(tub.step))
    assert asked(there.scene, [reducer]) == ()
    there.log(ReducerFound("damp or caked"))
    [tub] = asked(there.scene, [reducer])
    assert isinstance(tub, Unread)
    assert asked(there.scene, [DoneAllTheSame(tub.rule, tub.step.id, "damp"), reducer]) == ()
    assert "Tub of reducer found damp or caked: none of it goes in" in log_lines(there.state.whole)[-1]


def test_a_refusal_says_what_follows() -> None:
    """Each refusal for good tells what to do once it was done all the same."""
    for _, there, event in CASES:
        assert all(item.block.after for item in questions(there.scene, [event]) if item.block.final)


def test_fibre_that_came_ready_scoured_is_still_to_be_wetted_out() -> None:
    """Nobody is told that she has to scour what goes through no bath."""
    there = day(*STANDS, lots__a__condition="ready scoured")
    there.log(StepDone(there.scene.steps[0].id))
    assert there.first(DIP).block.why.startswith("The linen is still to be wetted out to the end; next: ")


@pytest.mark.parametrize(
    "there",
    [
        day(*STANDS, DIP),
        day(*STANDS, lots__a__condition="ready scoured"),
        day(StepDone("scour.linen.soak"), StepDone("scour.linen.hang"), *STANDS),
        day(StepDone("scour.linen.soak"), *STANDS, DIP, DipEnded("a.1", 5)),
        day(StepDone("scour.linen.soak"), *STANDS, LotDipped("a", 6, 5)),
    ],
    ids=[
        "nobody ticks, once a piece was in",
        "with no bath to scour in",
        "once its last step is done",
        "once the lot was in",
        "dipped as a whole",
    ],
)
def test_a_scour_is_asked_about_once_and_only_where_it_is_not_ended(there: Day) -> None:
    """She may scour on another day, and leave a step unticked: the first dip of the lot is enough to say so."""
    assert "scour-left" not in there.rules(DipStarted("a.2", 5))
