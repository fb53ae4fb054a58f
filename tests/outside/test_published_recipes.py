"""Published recipes and the amounts of common practice, reproduced within their own precision."""

from __future__ import annotations

import pytest
from tests.plan.plans import wool_plan

from vatside.chemistry.bath import add_grams, water_bath
from vatside.chemistry.liquor import solve
from vatside.forms.fields import read, set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Weight
from vatside.recipe.compute import compute
from vatside.units import Problem, Spoons, spoonfuls


def sheet_of(**changes: str) -> Sheet:
    """Work out the starter plan with some fields set from typed text; `__` stands for a dot."""
    return compute(plan_of(**changes))


def plan_of(**changes: str) -> Plan:
    """Give the starter plan with some fields set from typed text."""
    plan = wool_plan()
    for name, text in changes.items():
        path = name.replace("__", ".")
        value = read(plan, path, text)
        assert not isinstance(value, Problem), value
        plan = set_value(plan, path, value)
    return plan


class TestMairetStock:
    """Mairet E.M., Vegetable Dyes (Faber, 1938 reprint), pp. 24-30: hydrosulphite stock and wool vat."""

    sheet = sheet_of(
        method="dithionite-lye", spoons="imperial", shelf__indigo__purity="100 %", stock__pigment="2 oz",
        stock__water="1/2 gal", stock__reducer="85 g", vat__fill="10 gal", vat__alkali="0 g", lots__a__mass="1 g",
    )  # fmt: skip

    def test_alkali(self) -> None:
        """Two ounces of pure indigo take 45 g of caustic soda: 3 oz of 76 per cent soda in 12 fl oz, 7 fl oz used.

        It sees twice the dithionite that the dye takes through to its end: 2 × 0.660 × 56.7 g is 74.8 g, 85 g of 88 %,
        and 0.460 × 74.8 + 0.153 × 56.7 + 0.4 × 2.27 g of lye is 44.0 g.
        """
        lye = self.sheet["stock.alkali"].value * 0.99
        assert lye == pytest.approx(45, rel=0.05)

    def test_to_the_end(self) -> None:
        """Made so, the stock holds its dye when all its dithionite is spent."""
        assert self.sheet["stock.pH_spent"].value > 11

    def test_strength_of_the_stock(self) -> None:
        """The stock holds about 25 g/L."""
        assert self.sheet["stock.strength"].value == pytest.approx(25, rel=0.02)

    def test_strength_of_the_vat(self) -> None:
        """All of it in ten imperial gallons gives 1.25 g/L."""
        assert self.sheet["vat.strength"].value == pytest.approx(1.25, rel=0.01)

    def test_temperature(self) -> None:
        """The stock is made at 120 F and never warmer than 140 F."""
        assert self.sheet["stock.start"].value == pytest.approx(49, abs=0.5)
        assert self.sheet["stock.warmest"].value <= 60

    def test_times(self) -> None:
        """Half an hour until the first glass test; the vat is sharpened for twenty minutes."""
        assert self.sheet["stock.hold"].value == 30
        assert self.sheet["vat.sharpen"].value == 20


class TestKnechtStrongVat:
    """Knecht, Rawson & Loewenthal, A Manual of Dyeing, 6th ed. (Griffin, 1920), I p. 326: strong wool vat."""

    plan = plan_of(
        method="dithionite-lye", shelf__indigo__purity="20 %", stock__pigment="10 lb", stock__alkali="0.39 kg",
        stock__reducer="681 g", stock__water="50 L", vat__fill="1000 L", vat__alkali="0 g", lots__a__mass="1 g",
        **{"vat__soda-ash": "0 g", "vat__baking-soda": "0 g"},
    )  # fmt: skip
    sheet = compute(plan)

    def test_strength(self) -> None:
        """Ten pounds of 20 per cent indigo in 220 imperial gallons is 0.907 g/L."""
        assert self.sheet["vat.strength"].value == pytest.approx(0.907, rel=0.002)

    def test_lean_in_alkali(self) -> None:
        """Its 0.43 g of caustic soda a gram lies just under what the reaction takes, and the sheet says so.

        With no more dithionite than the dye takes, 0.660 × 907 g (681 g of 88 %), that is 0.460 × 599 + 0.153 × 907 g
        and 0.4 g for each of 50 L: 434 g of lye, or 439 g of 99 %.
        """
        figure = self.sheet["stock.alkali"]
        assert figure.minimum is not None
        assert figure.minimum == pytest.approx(439, rel=0.005)
        assert figure.value < (figure.minimum or 0.0)
        assert any(notice.figure == "stock.alkali" and notice.weight is Weight.CARE for notice in self.sheet.notices)

    def test_about_nil_free_alkali(self) -> None:
        """Next to no free alkali is left in the bath: less than 0.05 g/L either way."""
        assert self.sheet["vat.alkali_strength"].value == pytest.approx(0, abs=0.05)


class TestCopperasVats:
    """Mairet, A Book on Vegetable Dyes (1916), no. 6, and Cooper, A Practical Treatise on Dyeing (1815), pp. 71-72."""

    def test_one_two_three(self) -> None:
        """A pound of indigo takes two of copperas and three of slaked lime."""
        sheet = sheet_of(method="copperas-lime", stock__pigment="1 lb")
        assert sheet["stock.reducer"].value * 0.98 == pytest.approx(2 * 453.59, rel=0.01)
        assert sheet["stock.alkali"].value * 0.95 == pytest.approx(3 * 453.59, rel=0.01)

    def test_strength(self) -> None:
        """A pound in twelve imperial gallons is 8.3 g/L."""
        sheet = sheet_of(
            method="copperas-lime", spoons="imperial", shelf__indigo__purity="100 %", stock__pigment="1 lb",
            stock__water="12 gal",
        )  # fmt: skip
        assert sheet["stock.strength"].value == pytest.approx(8.3, abs=0.05)

    @pytest.mark.parametrize(("purity", "enough"), [("90 %", True), ("100 %", False)])
    def test_two_of_copperas_suits_indigo_below_94_per_cent(self, purity: str, enough: bool) -> None:
        """The reaction takes 2.12 g of copperas a gram of indigotin: 1:2 is short for pure dye only, and is made up."""
        sheet = sheet_of(method="copperas-lime", shelf__indigo__purity=purity, stock__pigment="1 lb")
        figure = sheet["stock.reducer"]
        two = 2 * 453.59
        assert figure.minimum == pytest.approx(2.12 * 453.59 * (0.9 if enough else 1) / 0.98, rel=0.002)
        assert figure.value * 0.98 == pytest.approx(two if enough else 2.12 * 453.59, rel=0.002)

    def test_eight_hours(self) -> None:
        """It settles for eight hours."""
        assert sheet_of(method="copperas-lime")["stock.hold"].value == 480


def test_beech_stock() -> None:
    """Beech, The Dyeing of Cotton Fabrics (1901): 20 lb to 50 imperial gallons is 40 g/L."""
    sheet = sheet_of(spoons="imperial", shelf__indigo__purity="100 %", stock__pigment="20 lb", stock__water="50 gal")
    assert sheet["stock.strength"].value == pytest.approx(40, rel=0.01)


class TestPowderOnFibreAndInTub:
    """Mairet 1938 no. 13, a Highland medium blue, and Packer's Dyer's Guide (2nd ed.)."""

    def test_mairet_13(self) -> None:
        """Five ounces in twenty imperial gallons is 1.56 g/L of powder."""
        sheet = sheet_of(
            spoons="imperial", shelf__indigo__purity="100 %", stock__pigment="5 oz", vat__fill="20 gal",
            lots__a__mass="1 g",
        )  # fmt: skip
        assert sheet["vat.strength"].value == pytest.approx(1.56, abs=0.005)

    def test_highland_medium(self) -> None:
        """An ounce a pound is 6.25 % of powder on the fibre."""
        assert sheet_of(lots__a__mass="1 lb", stock__pigment="1 oz")["stock.owf"].value == pytest.approx(6.25)

    @pytest.mark.parametrize(("pounds", "strength"), [(2, 2.0), (6, 6.1)])
    def test_packer(self, pounds: int, strength: float) -> None:
        """Two to six pounds in a tub of five feet by two across is 2.0 to 6.1 g/L."""
        sheet = sheet_of(
            vessels__tub__shape="round", vessels__tub__length="2 ft", vessels__tub__height="5 ft",
            vessels__tub__headspace="0 %", shelf__indigo__purity="100 %", stock__pigment=f"{pounds} lb",
            vat__fill="444.8 L", lots__a__mass="1 g",
        )  # fmt: skip
        assert sheet["vat.tub"].value == pytest.approx(445, abs=0.5)
        assert sheet["vat.strength"].value == pytest.approx(strength, abs=0.06)


class TestCommonPractice:
    """Amounts and times of common practice, no source: a litre of stock, a tub of twenty, as many dips as it takes."""

    sheet = sheet_of(lots__a__mass="1/2 lb", dip__a__dips="14")

    @pytest.mark.parametrize(
        ("figure", "usual", "spoons"),
        [
            ("stock.alkali", 1.5, 1 / 2), ("stock.reducer", 1.0, 5 / 8),
            ("vat.alkali", 1.0, 0), ("vat.reducer", 1.0, 1 / 2),
        ],
    )  # fmt: skip
    def test_spoons(self, figure: str, usual: float, spoons: float) -> None:
        """Less than the usual 1 1/2 tsp of lye and 1 tsp of reducer in the jar, and 1 tsp of each in the tub.

        By hand: 2.594 g of indigotin with as much pure reducer, which take 2.72 g of lye with 0.4 g for the litre; in
        the tub 0.10 g/L in 20.2 L. A teaspoon holds 5.7 g of lye and 3.9 g of reducer; soda stands for the tub's lye.
        """
        teaspoons = self.sheet[figure].teaspoons
        assert teaspoons is not None
        found = spoonfuls(teaspoons, Spoons.US).teaspoons
        assert found == spoons
        assert spoons < usual

    def test_indigo(self) -> None:
        """Three teaspoons of indigo for half a pound of wool at a medium depth, to the nearest teaspoon."""
        teaspoons = self.sheet["stock.pigment"].teaspoons
        assert teaspoons is not None
        assert round(teaspoons) == 3

    def test_soap(self) -> None:
        """Half a tablespoon of soap for 227 g."""
        teaspoons = self.sheet["scour.wool.soap"].teaspoons
        assert teaspoons is not None
        assert spoonfuls(teaspoons, Spoons.US).teaspoons == 1.5

    @pytest.mark.parametrize(
        ("figure", "minutes"),
        [
            ("scour.wool.soak", 20), ("scour.wool.hold", 60), ("stock.stir", 2), ("stock.hold", 60),
            ("vat.rest", 60), ("scour.wool.cool", 60), ("scour.wool.turn", 30),
        ],
    )  # fmt: skip
    def test_times(self, figure: str, minutes: float) -> None:
        """20 min to wet out, 1 h of scour turned at half, 2 min of stirring, 60 min of each rest, 1 h to come down."""
        assert self.sheet[figure].value == minutes

    def test_temperatures(self) -> None:
        """Wool is scoured near 60 C; the stock never passes 60 C, nor does the cold water that lye goes into."""
        assert self.sheet["scour.wool.hold_temperature"].value == 60
        assert self.sheet["stock.warmest"].value < 60
        assert self.sheet["stock.start"].value <= self.sheet["stock.warmest"].value
        assert 12 + self.sheet["stock.rise"].value <= 60

    def test_pot(self) -> None:
        """The pot is three quarters full before the fibre."""
        assert self.sheet["scour.wool.load_water"].value == pytest.approx(0.75 * 10)


class TestMoreCopperasVats:
    """Cooper 1815, and the vats of the Cyclopaedia of Useful Arts (after Ure): indigo, copperas, lime."""

    def test_cooper(self) -> None:
        """Five pounds in 125 US gallons, the middle of his 120 to 130, are 4.8 g/L."""
        sheet = sheet_of(
            method="copperas-lime", shelf__indigo__purity="100 %", stock__pigment="5 lb", stock__water="125 gal",
        )  # fmt: skip
        assert sheet["stock.strength"].value == pytest.approx(4.8, abs=0.05)

    @pytest.mark.parametrize(("copperas", "lime"), [("2", "3"), ("3", "3"), ("3", "4"), ("2.5", "3")])
    def test_the_old_ratios_are_enough(self, copperas: str, lime: str) -> None:
        """1:2:3, 1:3:3, 1:3:4 and 1:2.5:3 hold what 90 per cent indigo takes of both, and nobody is warned."""
        sheet = sheet_of(
            method="copperas-lime", shelf__indigo__purity="90 %", stock__pigment="100 g",
            stock__reducer=f"{float(copperas) * 102:.1f} g", stock__alkali=f"{float(lime) * 105:.1f} g",
        )  # fmt: skip
        for figure in ("stock.reducer", "stock.alkali"):
            assert sheet[figure].minimum is not None
            assert sheet[figure].value >= (sheet[figure].minimum or 0.0)

    @pytest.mark.parametrize(("purity", "enough"), [("47 %", True), ("60 %", False)])
    def test_one_to_one_suits_poor_indigo_alone(self, purity: str, enough: bool) -> None:
        """Cooper's 1:1:1.1 lies below 2.12 g a gram of pure dye, and above it for indigo of 47 per cent or less."""
        sheet = sheet_of(
            method="copperas-lime", shelf__indigo__purity=purity, stock__pigment="100 g", stock__reducer="102.1 g",
        )  # fmt: skip
        least = sheet["stock.reducer"].minimum
        assert least is not None
        assert (sheet["stock.reducer"].value >= least) == enough


def test_beech_soda_zinc_stock() -> None:
    """Beech, The Dyeing of Cotton Fabrics (1901), soda and zinc: 30 lb in 100 imperial gallons are 30 g/L."""
    sheet = sheet_of(spoons="imperial", shelf__indigo__purity="100 %", stock__pigment="30 lb", stock__water="100 gal")
    assert sheet["stock.strength"].value == pytest.approx(30, rel=0.01)


def test_lime_water_of_half_strength() -> None:
    """Bates, Bower & Smith (1956): saturated lime, 0.0203 mol/L, is 12.45 at 25 degrees C, half of it 12.17."""
    whole, half = (
        solve(add_grams(water_bath(1, 25), "calcium hydroxide", 74.0927 * part)).pH for part in (0.0203, 0.01015)
    )
    assert whole == pytest.approx(12.45, abs=0.03)
    assert whole - half == pytest.approx(0.28, abs=0.02)
