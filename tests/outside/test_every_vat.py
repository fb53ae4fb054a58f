"""Every kind of vat for every fibre it suits, in soft and hard water, by hand and PHREEQC: fresh, an hour old, spent.

The moles are counted here from the grams on the sheet, the water of a report and the stoichiometry of the reactions; of
the project's own bath nothing is in them. phreeqc.dat gives their pH, with the species and the lime of `phreeqc_runs`;
lime and gypsum lie as far as they do not dissolve, iron and zinc lie wholly (above pH 10), chalk does or not.
"""

from __future__ import annotations

from functools import cache
from math import cbrt, pi

import pytest
from attrs import define, evolve, field
from phreeqpython import PhreeqPython
from tests.clocks.virtual_clock import VirtualClock
from tests.outside.phreeqc_runs import pH_of, phreeqc
from tests.outside.test_advice_to_its_end import VATS, followed, made
from tests.plan.plans import plan_with

from vatside.chemistry.adjust import alkali_for_pH
from vatside.chemistry.bath import add_grams
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import LYE
from vatside.chemistry.water import density
from vatside.log.events.day import Entry
from vatside.log.events.vat import VatMade
from vatside.log.fold import apply
from vatside.log.state import Session, initial_state
from vatside.outlook.vat import Outlook
from vatside.plan.measures import powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.vat.account import warmed
from vatside.vat.account_changes import pH_between
from vatside.vat.reading import PH_ERROR, PHBy
from vatside.vat.trust import trust_reading

CLOSE = 0.1
"""Without lime the two are within 0.03; with it 0.05, for its solubility is a fit of our own here."""
WATERS = {"soft": ("0", "0"), "hard": ("300", "250")}
"""Hardness and alkalinity, mg/L of calcium carbonate."""

INDIGOTIN, OXYGEN, CHALK = 262.268, 31.998, 100.087
"""g/mol."""

Moles = dict[str, float]

ALKALIS: dict[str, tuple[float, Moles]] = {
    "sodium hydroxide": (39.997, {"Na": 1}),
    "calcium hydroxide": (74.093, {"Ca": 1}),
    "sodium carbonate": (105.988, {"Na": 2, "C(4)": 1}),
    "washing soda": (286.141, {"Na": 2, "C(4)": 1}),
    "sodium bicarbonate": (84.007, {"Na": 1, "C(4)": 1}),
}
"""g/mol, from the atomic masses of CIAAW, and what a mole brings."""


@define
class Reduces:
    """A reducer by its reactions, in moles."""

    mass: float
    """g/mol."""
    dye: float
    """For a mole of indigotin."""
    oxygen: float
    """For a mole of oxygen that water brought; of the air's it takes 1.4 times as much to leave 0.6 as sulfite."""
    by_dye: Moles
    """What a mole becomes."""
    by_oxygen: Moles
    at_last: Moles
    half_life_h: float
    """In the vat as it is made: guesses, as `vatside.chemistry.reducers` names them."""
    salts: Moles = field(factory=dict)


_ACID, _ACIDS, _LACTIC, _ZINCATE = {"Cl": 1.0}, {"Cl": 1.5}, {"Cl": 2.0}, {"Ca": -0.5}
_NEVER = 1e9
REDUCERS = {
    "thiourea dioxide": Reduces(108.12, 1, 1, {"Sulfi": 1}, {"S(6)": 1}, {"S(6)": 1}, 4),
    "sodium dithionite": Reduces(
        174.107, 1, 1, {"Sulfi": 2}, {"Sulfi": 1, "S(6)": 1}, {"S(6)": 2}, 500, {"Na": 2}
    ),
    "ferrous sulfate heptahydrate": Reduces(278.014, 2, 4, {}, {}, {}, _NEVER, {"S(6)": 1}),
    "fructose": Reduces(180.156, 1, 2, _ACID, _ACID, _ACIDS, 20),
    "plant sugar": Reduces(180.156, 1, 2, _ACID, _ACID, _ACIDS, 100, {"Cl": 0.18}),
    "fermentable starch": Reduces(162.141, 0.5, 1, _LACTIC, _LACTIC, _LACTIC, 80),
    "zinc": Reduces(65.38, 1, 2, _ZINCATE, _ZINCATE, _ZINCATE, 480),
}  # fmt: skip
"""Sulfite from dye, sulfate from air; iron takes two hydroxides as it goes in, whether it is rust or not; a sugar gives
one acid at work, 1.5 (1 to 2) by itself, starch two of lactic acid; two zinc settle with one lime (Ziegler & Johnson
2001). Sulfur dioxide is never free above pH 7. Charges: a mole of Cl stands for any acid of one charge."""


@define
class ByHand:
    """A vat as it is weighed: what is dissolved or lies in it, mol, as PHREEQC names it."""

    kind: Reduces
    litres: float
    celsius: float
    left: float
    """Reducer, mol."""
    moles: Moles
    dithionite: bool

    def put(self, what: Moles, count: float) -> None:
        """Put so many moles of something into it."""
        for name, each in what.items():
            self.moles[name] = max(self.moles.get(name, 0.0) + each * count, 0.0)

    def use(self, gone: float, becomes: Moles) -> float:
        """Let moles of reducer become something, as far as they are there."""
        gone = min(gone, self.left)
        self.left -= gone
        self.put(becomes, gone)
        return gone

    def reduce(self, indigotin: float, oxygen: float) -> None:
        """Take up the oxygen of its water, then reduce its dye, moles."""
        self.use(self.kind.oxygen * oxygen, self.kind.by_oxygen)
        self.put({"Leuco": 1 / self.kind.dye}, self.use(self.kind.dye * indigotin, self.kind.by_dye))

    def hour(self, celsius: float) -> None:
        """Stand for an hour: what falls apart, and the air's oxygen through still water, 0.6 cm/h at some 7 mg/L."""
        self.use(self.left * (1 - 0.5 ** (1 / self.kind.half_life_h)), self.kind.by_dye)
        surface_m2 = pi / 4 * cbrt(4 * self.litres / 1000 / pi) ** 2
        air = 0.6 * 70 * surface_m2 / 1000 / OXYGEN
        self.use(1.4 * self.kind.oxygen * air, self.kind.by_oxygen)
        self.celsius = celsius

    def spend(self) -> None:
        """Let all its reducer be gone, and all sulfite be sulfate."""
        self.use(self.left, self.kind.at_last)
        self.put({"S(6)": 1}, self.moles.pop("Sulfi", 0.0))

    def pH(self, own: PhreeqPython) -> tuple[float, float]:
        """Give the pH by PHREEQC, chalk not settled and settled."""
        return self._pH(own, ""), self._pH(own, "    Calcite 0 0\n")

    def _pH(self, own: PhreeqPython, chalk: str) -> float:
        kilograms = self.litres * density(self.celsius) / 1000
        moles = self.moles | {"Cl": self.moles.get("Cl", 0.0) + 2 * self.left * self.dithionite}
        molal = {name: count / kilograms for name, count in moles.items() if count}
        return pH_of(own, molal, self.celsius, f"    Lime 0 0\n    Gypsum 0 0\n{chalk}", first=9)


def weighed(plan: Plan, sheet: Sheet, *, works: bool = True) -> ByHand:
    """Read the grams off a sheet; all of its stock is in the tub, and its dye reduced if it `works`."""
    reducer = powder(plan, "reducer")
    kind = REDUCERS[reducer.material.species]
    grams = sheet.value("stock.reducer") + sheet.value("vat.reducer")
    vat = ByHand(
        kind, sheet.value("vat.liquor"), sheet.value("vat.temperature"), grams * reducer.purity / kind.mass, {},
        reducer.material.species == "sodium dithionite",
    )  # fmt: skip
    vat.put(kind.salts, vat.left)
    for name in ("alkali", "soda-ash", "baking-soda"):
        alkali = powder(plan, name)
        mass, brings = ALKALIS[alkali.material.species]
        vat.put(brings, (sheet.value(f"stock.{name}", 0.0) + sheet.value(f"vat.{name}", 0.0)) * alkali.purity / mass)
    hard, alkaline = (
        count * amount.value / 1000 / CHALK * vat.litres
        for count, amount in ((1, plan.water.hardness), (2, plan.water.alkalinity)) if amount
    )  # fmt: skip
    vat.put({"Ca": 1}, hard)
    vat.put({"C(4)": 1.06}, alkaline)
    vat.put({"Cl": 1}, 2 * hard - alkaline)
    if works:
        # A litre of the stock's water brings its oxygen too: some 6 mg at 40 to 50 degrees (Benson and Krause 1984).
        oxygen = sheet.value("vat.oxygen") + 0.006 * sheet.value("stock.water")
        vat.reduce(sheet.value("stock.indigotin") / INDIGOTIN, oxygen / OXYGEN)
    return vat


@cache
def planned(method: str, fibre: str, water: str) -> tuple[Plan, Sheet]:
    """Give the plan of 50 g of a fibre in a tub of 5 L, and its sheet."""
    hardness, alkalinity = WATERS[water]
    plan = plan_with(made(method, fibre), water__hardness=hardness, water__alkalinity=alkalinity)
    return plan, compute(plan)


def an_hour_later(plan: Plan, sheet: Sheet) -> Outlook:
    """Give the outlook of that vat an hour after it was made, once it works."""
    clock = VirtualClock()
    state = initial_state(Session("s", clock.utc, plan, ()))
    state = apply(state, Entry(1, clock.now(), VatMade()))
    assert state.tending.account is not None
    alive = evolve(state.tending.account, asleep=False)
    clock.advance(3600)
    return Outlook(evolve(state, tending=evolve(state.tending, account=alive)), sheet, clock.now())


every_vat = pytest.mark.parametrize(
    ("method", "fibre", "water"),
    [pytest.param(*vat, water, id="-".join((*vat, water))) for vat in VATS for water in WATERS],
)


def agree(own: PhreeqPython, vat: ByHand, pH: float, between: tuple[float, float] | None) -> None:
    """The pH is PHREEQC's with no chalk settled; its band holds that and the one with chalk."""
    clear, settled = vat.pH(own)
    assert pH == pytest.approx(clear, abs=CLOSE)
    low, high = between or (pH, pH)
    assert low - CLOSE <= min(clear, settled)
    assert max(clear, settled) <= high + CLOSE


@every_vat
def test_fresh(own: PhreeqPython, method: str, fibre: str, water: str) -> None:
    """As it stands once its stock is in; a fermentation is set with its dye still blue."""
    plan, sheet = planned(method, fibre, water)
    assert sheet.value("vat.stock") == sheet.value("stock.water")
    agree(own, weighed(plan, sheet, works=method != "fermentation"), sheet.value("vat.pH"), sheet["vat.pH"].between)


@every_vat
def test_an_hour_old(own: PhreeqPython, method: str, fibre: str, water: str) -> None:
    """As it has cooled, with what its reducer and the air make in an hour."""
    plan, sheet = planned(method, fibre, water)
    seen, vat = an_hour_later(plan, sheet), weighed(plan, sheet)
    assert seen.prediction is not None
    vat.hour(seen.prediction.celsius)
    agree(own, vat, seen.prediction.pH, seen.pH_between)


@every_vat
def test_spent(own: PhreeqPython, method: str, fibre: str, water: str) -> None:
    """All its reducer gone as far as it goes, the dye still reduced."""
    plan, sheet = planned(method, fibre, water)
    vat = weighed(plan, sheet)
    vat.spend()
    agree(own, vat, sheet.value("vat.pH_spent"), sheet["vat.pH_spent"].between)


HELD = [vat for vat in VATS if "lime" not in vat[0] and vat[0] != "fermentation"]


@pytest.mark.parametrize("t_C", [20.0, 45.0])
@pytest.mark.parametrize("pH", [7.8, 8.5])
@pytest.mark.parametrize(("method", "fibre"), HELD, ids=map("-".join, HELD))
def test_chalk_at_the_bottom_is_within_the_band(
    own: PhreeqPython, method: str, fibre: str, pH: float, t_C: float
) -> None:
    """A spent vat of hard water whose chalk has settled, taken at its pH and brought up: PHREEQC lies in the band.

    What is chalk already takes up no lye, so it comes up to 0.6 higher than one with all its bicarbonate.
    """
    chalk, vat = "    Calcite 0 0\n", followed(own, made(method, fibre), "blue")
    account = warmed(vat.true, t_C)
    bath = evolve(account.bath, indigotin=0.0)

    def over(acid: float) -> float:
        return phreeqc(own, evolve(bath, strong_anions=bath.strong_anions + acid), chalk) - pH

    sour = evolve(bath, strong_anions=bath.strong_anions + falling_root(over, 0.0, 1.0, 0.01, -10.0, 1e-6))
    trusted = trust_reading(account, pH, t_C, PH_ERROR[PHBy.METER])
    lye_g = alkali_for_pH(trusted.bath, vat.seen.setting.window.target, LYE)
    band = pH_between(evolve(trusted, bath=add_grams(trusted.bath, LYE, lye_g)), vat.seen.setting.reducer)
    assert band.low - CLOSE <= phreeqc(own, add_grams(sour, LYE, lye_g), chalk) <= band.high + CLOSE
