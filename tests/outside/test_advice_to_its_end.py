"""Advice followed to its end in every kind of vat: what was read, what is told, what PHREEQC says stands there then.

The true vat differs from its account by a trouble; it is read by PHREEQC (phreeqc.dat with the species of
`phreeqc_runs.py`), the first advice is done as proposed, and it is read again.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from attrs import define, evolve
from phreeqpython import PhreeqPython
from tests.clocks.virtual_clock import VirtualClock
from tests.outside.phreeqc_runs import phreeqc
from tests.plan.plans import plan_with

from vatside.catalogue.findings import CONFIRM
from vatside.catalogue.load import methods
from vatside.catalogue.looks import Clarity, Colour, Strip, Surface
from vatside.chemistry.adjust import alkali_for_pH
from vatside.chemistry.bath import Bath, add_grams
from vatside.chemistry.liquor import clear, solve
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import LYE
from vatside.log.effects.vat import corrected
from vatside.log.events.day import Entry, Event
from vatside.log.events.vat import CorrectionMade, PHTrusted, ReadingTaken, VatMade
from vatside.log.fold import apply
from vatside.log.state import Session, State, initial_state
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_deeds import as_proposed, impossible
from vatside.outlook.vat_facts import dye_seen
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.recipe.vat_needs import Setting
from vatside.units import Amount
from vatside.vat.account import Account, all_blue, spent, warmed
from vatside.vat.interlocks import Block, Correction
from vatside.vat.reading import PHBy, Reading
from vatside.vat.trust import MODEL_ERROR

FIBRES = {"protein": "wool", "silk": "silk", "cellulose": "linen"}
VATS = [(method, FIBRES[group]) for method, kind in methods().items() for group in kind.vat.suits]
TUB_L = 5.0
ROUNDS = 3
OVER = 0.15
"""A meter is off by so much: how far beyond a window advice may land."""
SALTS = 0.1
"""Lime that acid took leaves its salt, where lime that never went in leaves none: that much of pH beside 60 mmol/kg of
calcium chloride by PHREEQC, and no reading tells the two apart."""


def made(method: str, fibre: str) -> Plan:
    """A small tub of some kind, for half as much fibre as it takes, in hard water."""
    water = {"water__hardness": "300", "water__alkalinity": "250"}
    small = {"vessels__tub__volume": f"{TUB_L} L", "lots__a__fibre": fibre, "lots__a__mass": "50 g"}
    plan = starter_plan()
    return plan_with(evolve(plan, vessels=evolve(plan.vessels, others=())), **small, method=method, **water)


def soured(bath: Bath, pH: float) -> Bath:
    """A bath with so much of a strong acid in it that its pH is that."""

    def sour(moles: float) -> Bath:
        return evolve(bath, strong_anions=bath.strong_anions + moles)

    most = bath.sodium + 2 * bath.calcium + 0.01 * bath.water_kg
    return sour(falling_root(lambda moles: solve(sour(moles)).pH - pH, 0.0, most, most / 2, -1.0, 1e-7))


def troubled(vat: Account, plain: Setting, what: str) -> Account:
    """The same vat with too little or too much alkali, cold, blue with its reducer gone, or that and sour."""
    low, high = plain.window.low, plain.window.high
    if what == "low":
        return evolve(vat, bath=soured(vat.bath, low - 0.3))
    if what == "high":
        return evolve(vat, bath=add_grams(vat.bath, LYE, alkali_for_pH(vat.bath, high + 0.4, LYE)))
    if what == "cold":
        return warmed(vat, max(plain.coolest - 12, 12))
    blue = spent(all_blue(vat, plain.reducer))
    return evolve(blue, bath=soured(blue.bath, 6.5)) if what == "sour" else blue


@define
class Followed:
    """A vat as its log has it, beside the true one."""

    own: PhreeqPython
    state: State
    sheet: Sheet
    clock: VirtualClock
    true: Account

    @property
    def seen(self) -> Outlook:
        """What follows from the log."""
        return Outlook(self.state, self.sheet, self.clock.now())

    def log(self, *events: Event) -> None:
        """Write down what happened."""
        for event in events:
            self.clock.advance(1)
            self.state = apply(self.state, Entry(self.state.seq + 1, self.clock.now(), event))

    def pH(self, t_C: float | None = None) -> float:
        """By PHREEQC, of the clear liquor; dithionite is an anion of two charges that it does not know."""
        bath = clear(self.true.liquor)
        bath = evolve(bath, dithionite=0.0, strong_anions=bath.strong_anions + 2 * bath.dithionite)
        return phreeqc(self.own, bath if t_C is None else evolve(bath, temperature_C=t_C))

    def read(self) -> None:
        """Read it: a thermometer, a meter in a cooled sample, and the eye."""
        bath = self.true.liquor
        yellow = bath.leuco > 0.97 * (bath.leuco + bath.indigotin)
        looks = (
            {"colour": Colour.YELLOW_GREEN, "clarity": Clarity.CLEAR, "surface": Surface.COPPERY,
             "strip": Strip.GREEN_YELLOW}
            if yellow
            else {"colour": Colour.BLUE, "clarity": Clarity.CLOUDY, "surface": Surface.BARE, "strip": Strip.BLUE}
        )  # fmt: skip
        warm, cool = Amount(round(self.true.celsius, 1), "degC"), Amount(25, "degC")
        reading = Reading(warm, round(self.pH(25.0), 1), cool, PHBy.METER, **looks)  # type: ignore[arg-type]
        self.log(ReadingTaken(reading), *dye_seen(self.state, self.sheet, reading, self.clock.now()))

    @property
    def out(self) -> list[str]:
        """What is out of order by the latest reading."""
        return [found.id for found in self.seen.findings if found.is_out]

    @property
    def ways(self) -> list[Correction]:
        """All that is told to do about it, the first choice in front; a pH is read once more by its next reading."""
        seen = self.seen
        ways = [way for key in self.out for way in seen.ways(key)]
        return [way for way in ways if not isinstance(way.guard, Block) and way.does != CONFIRM]

    @property
    def advised(self) -> Correction | None:
        """The first of it that changes the vat; None where nothing is left but to look."""
        return next((way for way in self.ways if way.does != "by hand"), None)

    @property
    def given_up(self) -> bool:
        """She is told to make a new one."""
        return any("Make a new one" in way.text for way in self.ways)

    def do(self, way: Correction) -> Iterator[CorrectionMade]:
        """Do it as it was proposed, one powder after the other."""
        for event in (as_proposed(item, self.state.plan) for item in (*way.along, way)):
            assert not impossible(self.state, event, self.clock.now())
            self.log(event)
            self.true = corrected(self.true, event, self.state.plan)
            yield event


def followed(own: PhreeqPython, plan: Plan, trouble: str) -> Followed:
    """A vat just made, and what has become of it."""
    clock = VirtualClock()
    state = initial_state(Session("s", clock.utc, plan, ()))
    vat = Followed(own, state, compute(plan), clock, Account(Bath(1.0), LYE))
    vat.log(VatMade())
    account = vat.state.tending.account
    assert account is not None
    alive = evolve(account, asleep=False)
    vat.state = evolve(vat.state, tending=evolve(vat.state.tending, account=alive))
    vat.true = troubled(alive, vat.seen.setting, trouble)
    return vat


@pytest.mark.parametrize("trouble", ["low", "high", "cold", "blue", "sour"])
@pytest.mark.parametrize(("method", "fibre"), VATS, ids=map("-".join, VATS))
def test_advice_followed_ends_in_the_window(own: PhreeqPython, method: str, fibre: str, trouble: str) -> None:
    """Within three rounds nothing is out, and on the way nothing overshoots, harms the fibre or runs over.

    A soda vat for linen whose soda is all bound would take forty grams a litre: a new one is advised.
    """
    vat = followed(own, made(method, fibre), trouble)
    if trouble == "high" and vat.true.alkali == "calcium hydroxide":
        pytest.skip("lime alone holds no vat higher than water over lime")
    for _ in range(ROUNDS):
        vat.read()
        if vat.given_up:
            assert (trouble, fibre) == ("sour", "linen")
            assert "soda" in method
            return
        way = vat.advised
        if way is None:
            break
        before = vat.pH()
        for _event in vat.do(way):
            assert vat.true.litres <= TUB_L
        lands_well(vat, way, before)
        vat.clock.advance(900)
    vat.read()
    assert vat.out == []
    window = vat.seen.setting.window
    assert window.low - OVER <= vat.pH() <= window.high + OVER


def lands_well(vat: Followed, way: Correction, before: float) -> None:
    """No advice harms the fibre or overshoots, and its account with its band agrees with PHREEQC."""
    after, window = vat.pH(), vat.seen.setting.window
    assert after <= max(window.block, before)
    if way.finding not in ("short-of-alkali", "too-alkaline"):
        return
    assert vat.seen.pH_between is not None
    low, high = vat.seen.pH_between
    apart = MODEL_ERROR + (SALTS if vat.true.alkali == "calcium hydroxide" else 0.0)
    assert low - apart <= after <= high + apart
    if way.finding == "short-of-alkali":
        assert before < after <= window.high + OVER
    else:
        assert window.low - OVER <= after < before


LIME_VATS = sorted(method for method, kind in methods().items() if kind.alkali == "slaked-lime")


@pytest.mark.parametrize("pH", [10.0, 8.0, 6.0, 4.0, 2.5])
@pytest.mark.parametrize("alive", [True, False], ids=["alive", "blue"])
@pytest.mark.parametrize("method", LIME_VATS)
def test_a_lime_vat_without_lime_is_limed_once(own: PhreeqPython, method: str, alive: bool, pH: float) -> None:
    """Read, stirred up and read again, limed: then its pH is in the window, whatever took its lime.

    All that is told first is done, in the order in which it is told; blue, its reducer is the one thing more.
    """
    vat = followed(own, made(method, "linen"), "low" if alive else "blue")
    vat.true = evolve(vat.true, bath=soured(vat.true.bath, pH))
    told = []
    for _ in range(ROUNDS):
        vat.read()
        if not vat.out:
            break
        way = next(one for key in vat.out for one in vat.seen.ways(key))
        told.append(way.remedy)
        if way.does == "by hand":
            vat.log(CorrectionMade(way.finding, way.remedy))
            continue
        before = vat.pH()
        for _event in vat.do(way):
            pass
        lands_well(vat, way, before)
    vat.read()
    assert vat.out == []
    assert told[:2] == ["stir-lime", "lime"]
    assert len(told) == (2 if alive or method in ("fructose-lime", "plant-lime") else 3)


@pytest.mark.parametrize("fibre", ["linen", "silk", "wool"])
@pytest.mark.parametrize("method", ["dithionite-soda", "tdo-soda"])
def test_a_pH_that_is_acted_on_is_the_account_s_from_then_on(own: PhreeqPython, method: str, fibre: str) -> None:
    """A vat a little below its window, and its account a little above that end: soda to a pH is that pH in both."""
    vat = followed(own, made(method, fibre), "blue")
    vat.read()
    low = vat.seen.setting.window.low
    vat.log(PHTrusted(low + 0.08))
    vat.true = evolve(vat.true, bath=soured(vat.true.bath, low - 0.13))
    vat.read()
    assert vat.seen.comparison is not None
    assert vat.seen.comparison.agrees
    way = next(one for one in vat.seen.ways("short-of-alkali") if one.does == "to window")
    for _event in vat.do(way):
        pass
    assert vat.seen.prediction is not None
    assert vat.seen.prediction.pH == pytest.approx(vat.pH(), abs=0.05)


@pytest.mark.parametrize("method", ["dithionite-lye", "tdo-lye"])
def test_a_reading_that_agrees_makes_the_band_narrow(own: PhreeqPython, method: str) -> None:
    """Lye far over the window is known by a meter to half of it; brought down and read again PHREEQC has it to 0.3."""
    vat = followed(own, made(method, "linen"), "high")
    for _ in range(2):
        vat.read()
    for _event in vat.do(next(one for one in vat.ways if one.does == "to window")):
        pass
    wide = vat.seen.pH_between
    vat.read()
    narrow = vat.seen.pH_between
    assert wide is not None
    assert narrow is not None
    assert wide[1] - wide[0] > 0.8
    assert narrow[1] - narrow[0] < 0.6
    assert narrow[0] - MODEL_ERROR <= vat.pH() <= narrow[1] + MODEL_ERROR
