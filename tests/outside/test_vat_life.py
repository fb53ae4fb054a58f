"""Whole vats from fresh to spent against PHREEQC, and published recipes through the whole life of their vats.

Two vats are worked out by hand from the grams on the sheet, the water of a report and the stoichiometry of the
reactions, and handed to PHREEQC with the databases of `phreeqc_runs`: nothing of the bath of the project is in
them. Sources of the recipes stand beside them.
"""

from __future__ import annotations

import pytest
from attrs import frozen
from phreeqpython import PhreeqPython
from tests.plan.plans import told, wool_plan

from vatside.chemistry.bath import Bath, add_grams, reduce, water_bath
from vatside.chemistry.life import Course, course
from vatside.chemistry.tap import CLASSES, fill
from vatside.chemistry.water import density
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import vat_bath
from vatside.recipe.compute import compute

MASSES = {
    "soda ash": 105.989, "baking soda": 84.007, "lye": 39.997, "indigotin": 262.268, "thiourea dioxide": 108.115,
    "oxygen": 31.998, "calcium carbonate": 100.087,
}  # fmt: skip
"""g/mol, from the atomic masses of CIAAW."""
PURE = 0.99
"""Lye, soda ash, baking soda and thiourea dioxide of the starter's shelf."""


def planned(**changes: str) -> tuple[Plan, Sheet]:
    """Give a plan of one lot in medium water with its sheet."""
    plan = told(wool_plan(), "water.tap", "medium")
    for name, text in changes.items():
        plan = told(plan, name.replace("__", "."), text)
    return plan, compute(plan)


WOOL = {"lots__a__fibre": "wool", "lots__a__mass": "227 g", "vat__fill": "20.17 L"}
LINEN = {"lots__a__fibre": "linen", "lots__a__mass": "300 g", "stock__water": "0.5 L", "vat__fill": "4.2 L"}


@frozen
class Weighed:
    """A vat as it is weighed and measured, all in it: moles, and litres of medium water."""

    litres: float
    celsius: float
    indigotin: float
    reducer: float
    oxygen: float
    lye: float
    soda: float
    baking: float

    def totals(self, gone: float, *, to_sulfate: bool) -> dict[str, float]:
        """Give what is dissolved, mol, with a share of the reducer that dye and oxygen left gone.

        A mole of thiourea dioxide reduces one of indigotin and leaves one of sulfite; one takes up one of oxygen to
        sulfate. What is left of it is no ion. Medium water: 150 mg/L of hardness and 120 of alkalinity as calcium
        carbonate; 1.06 mol of carbonate an equivalent of alkalinity (tap water of pH 7.6), chloride for the charge.
        """
        hardness = 0.150 / MASSES["calcium carbonate"] * self.litres
        alkalinity = 2 * 0.120 / MASSES["calcium carbonate"] * self.litres
        spent = gone * (self.reducer - self.indigotin - self.oxygen)
        sulfite, sulfate = self.indigotin, self.oxygen
        if to_sulfate:
            sulfite, sulfate = 0.0 if gone == 1 else sulfite, sulfate + spent + (sulfite if gone == 1 else 0.0)
        else:
            sulfite += spent
        return {
            "Na": self.lye + 2 * self.soda + self.baking,
            "C(4)": self.soda + self.baking + 1.06 * alkalinity,
            "Ca": hardness,
            "Cl": 2 * hardness - alkalinity,
            "Leuco": self.indigotin,
            "Sulfi": sulfite,
            "S(6)": sulfate,
        }

    def pH(self, program: PhreeqPython, gone: float, *, chalk: bool, to_sulfate: bool) -> float:
        """Give the pH by PHREEQC, chalk settled or not."""
        kilograms = self.litres * density(self.celsius) / 1000
        totals = self.totals(gone, to_sulfate=to_sulfate)
        lines = "".join(f"    {name} {moles / kilograms!r}\n" for name, moles in totals.items() if moles)
        settle = "USE solution 1\nEQUILIBRIUM_PHASES 1\n    Calcite 0 0\nEND\n" if chalk else ""
        program.ip.run_string(
            f"SOLUTION 1\n    temp {self.celsius}\n    units mol/kgw\n    pH 9 charge\n{lines}"
            f"SELECTED_OUTPUT\n    -reset false\n    -pH true\nEND\n{settle}"
        )
        return float(program.ip.get_selected_output_array()[-1][0])


def weighed(sheet: Sheet) -> Weighed:
    """Read the grams off a sheet; all of the stock goes into the tub."""

    def moles(name: str, *figures: str, purity: float = PURE) -> float:
        return sum(sheet.value(figure, 0.0) for figure in figures) * purity / MASSES[name]

    # A litre of the stock's water brings its oxygen too: 5.5 mg/L at 50 degrees (Benson and Krause 1984).
    stock_oxygen = 0.0055 * sheet.value("stock.water") / MASSES["oxygen"]
    return Weighed(
        sheet.value("vat.liquor"), sheet.value("vat.temperature"),
        moles("indigotin", "stock.indigotin", purity=1),
        moles("thiourea dioxide", "stock.reducer", "vat.reducer"),
        moles("oxygen", "vat.oxygen", purity=1) + stock_oxygen,
        moles("lye", "stock.alkali", "vat.alkali"),
        moles("soda ash", "vat.soda-ash"), moles("baking soda", "vat.baking-soda"),
    )  # fmt: skip


def life(plan: Plan, sheet: Sheet) -> Course:
    """Give the course of a plan's vat in its own water."""
    return course(vat_bath(plan, sheet.value))


@pytest.mark.parametrize("changes", [WOOL, LINEN], ids=["wool-20-L", "linen-4-L"])
class TestByHand:
    """227 g of wool in 20 L and 300 g of linen in 4 L, medium water, by lye and thiourea dioxide."""

    def test_the_vat_is_the_one_meant(self, changes: dict[str, str]) -> None:
        """Wool is held by soda alone, linen by lye alone; all stock goes in."""
        plan, sheet = planned(**changes)
        soda, lye = sheet.value("vat.soda-ash", 0.0) + sheet.value("vat.baking-soda", 0.0), sheet.value("vat.alkali")
        assert (soda > 0, lye > 0) == ((True, False) if plan.lots[0].fibre == "wool" else (False, True))
        assert sheet.value("vat.stock") == sheet.value("stock.water")

    def test_fresh(self, own: PhreeqPython, changes: dict[str, str]) -> None:
        """What the sheet says before chalk settles, and the ends of its band, within 0.05."""
        _, sheet = planned(**changes)
        vat = weighed(sheet)
        clear, settled = (vat.pH(own, 0, chalk=chalk, to_sulfate=True) for chalk in (False, True))
        assert sheet.value("vat.pH") == pytest.approx(clear, abs=0.05)
        between = sheet["vat.pH"].between
        assert between is not None
        assert between[0] == pytest.approx(min(clear, settled), abs=0.05)
        assert between[1] == pytest.approx(max(clear, settled), abs=0.05)

    def test_half(self, own: PhreeqPython, changes: dict[str, str]) -> None:
        """With half of the reducer gone, chalk settled or not, within 0.05."""
        plan, sheet = planned(**changes)
        found, vat = life(plan, sheet).half, weighed(sheet)
        ends = [vat.pH(own, 0.5, chalk=chalk, to_sulfate=True) for chalk in (False, True)]
        assert found is not None
        assert found.low == pytest.approx(min(ends), abs=0.05)
        assert found.high == pytest.approx(max(ends), abs=0.05)

    def test_spent(self, own: PhreeqPython, changes: dict[str, str]) -> None:
        """With all of it gone to sulfate, and the ends of the band, within 0.05."""
        _, sheet = planned(**changes)
        vat = weighed(sheet)
        ends = [vat.pH(own, 1, chalk=chalk, to_sulfate=to) for chalk in (False, True) for to in (False, True)]
        between = sheet["vat.pH_spent"].between
        assert between is not None
        assert sheet.value("vat.pH_spent") == pytest.approx(
            vat.pH(own, 1, chalk=False, to_sulfate=True), abs=0.05
        )  # fmt: skip
        assert between[0] == pytest.approx(min(ends), abs=0.05)
        assert between[1] <= max(ends) + 0.05

    def test_it_holds(self, own: PhreeqPython, changes: dict[str, str]) -> None:
        """By PHREEQC alone the vat stays where its fibre is dyed: wool 8.5 to 9.8, linen 10.5 and above."""
        plan, sheet = planned(**changes)
        low, high = (8.5, 9.8) if plan.lots[0].fibre == "wool" else (10.5, 12.5)
        for gone in (0, 0.5, 1):
            for chalk in (False, True):
                assert low - 0.02 <= weighed(sheet).pH(own, gone, chalk=chalk, to_sulfate=True) <= high


def recipe(litres: float, t_C: float, oxygen_mg: float = 0.0, **grams: float) -> Bath:
    """Give a vat of pure water made from pure substances, its dye reduced and the oxygen of its water gone."""
    bath = water_bath(litres, t_C)
    for name, amount in grams.items():
        bath = add_grams(bath, name.replace("_", " "), amount)
    return reduce(bath, oxygen_mg)


class TestKnecht:
    """Knecht, Rawson & Loewenthal, A Manual of Dyeing, 6th ed. (Griffin, 1920), I p. 326: strong wool vat, 1000 L.

    4.54 kg of 20 % indigo and 0.39 kg of caustic soda, 50 degrees.
    """

    THEORY = 907 * 174.107 / 262.268
    """Dithionite that the dye takes: a mole a mole."""

    def test_lean_it_stands_in_the_window_of_wool(self) -> None:
        """With no dithionite but what the dye takes, PHREEQC gives 8.67: 8.5 to 9.8 from its first dip to its last."""
        lean = recipe(1000, 50, sodium_hydroxide=390, indigotin=907, sodium_dithionite=self.THEORY)
        found = course(lean)
        assert found.fresh.low == pytest.approx(8.67, abs=0.1)
        assert found.low >= 8.5

    def test_spare_dithionite_turns_it_sour(self) -> None:
        """As much spare as the dye takes binds more alkali than there is: 2 × 599 ÷ 174.1 of 9.75 mol each way."""
        rich = recipe(1000, 50, sodium_hydroxide=390, indigotin=907, sodium_dithionite=2 * self.THEORY)
        assert course(rich).low < 7

    def test_our_vat_of_the_same_dye_holds(self) -> None:
        """A vat planned here with that indigo and more reducer than it takes stays in the window in any water."""
        for tap in ("rain or distilled", "soft", "medium", "hard", "very hard"):
            plan, sheet = planned(
                method="dithionite-lye", shelf__indigo__purity="20 %", stock__pigment="10 lb", stock__water="50 L",
                vat__fill="1000 L", vat__temperature="50 °C", lots__a__mass="1 g", water__tap=tap,
            )  # fmt: skip
            found = life(plan, sheet)
            assert found.low >= 8.4, tap
            assert found.high <= 9.85, tap


class TestMairet:
    """Mairet E.M., Vegetable Dyes (Faber, 1938 reprint), pp. 24-30: 45 g of caustic soda to 2 oz of indigo."""

    def test_the_stock_holds_with_twice_the_dithionite_of_the_dye(self) -> None:
        """1/2 gallon at 49 degrees: above pH 11 fresh and spent, by 9 mmol and more of hydroxide a litre."""
        theory = 56.7 * 174.107 / 262.268
        found = course(recipe(2.273, 49, sodium_hydroxide=45, indigotin=56.7, sodium_dithionite=2 * theory))
        assert found.low > 11

    def test_ammonia_held_her_wool_vat(self) -> None:
        """28 g of dithionite (88 %) and 17.5 g of ammonia in 45.5 L at 49 degrees end at pH 9.0 (PHREEQC)."""
        found = course(recipe(45.5, 49, sodium_dithionite=28 * 0.88, ammonia=17.5))
        assert found.spent.low == pytest.approx(9.0, abs=0.1)
        assert found.sulfur_dioxide_ppm < 0.01

    @pytest.mark.parametrize(("tap", "ppm"), [("pure", 170), ("soft", 96), ("medium", 0.22)])
    def test_lye_alone_does_not_hold_a_wool_vat(self, tap: str, ppm: float) -> None:
        """1.91 g of lye sets 20 L with 3.2 g of dye to 9.3; spent, it is sour in any water.

        Water drawn warm brings 7.5 mg/L of oxygen. Gas by hand, pure water, 0.4 of the sulfite aired: a kilogram holds
        2.41 mmol of sodium, 1.33 of sulfite, 1.12 of sulfate; with K1 7.9 mmol/kg at 47 degrees that is 0.145 mmol of
        sulfur dioxide, 215 ppm by 0.675 mol/(kg atm) and without activities. 100 ppm are dangerous at once, 2 the limit
        of a working day (NIOSH). The two other amounts are a regression.
        """
        bath = recipe(20, 47, 7.5 * 20, sodium_hydroxide=1.91, indigotin=3.24, thiourea_dioxide=5.24)
        found = course(fill(bath, CLASSES[tap], 20))
        assert found.low < 6
        assert found.sulfur_dioxide_ppm == pytest.approx(ppm, rel=0.3)
