"""The vat, worked by hand: lye 40.00, slaked lime 74.09, oxygen 32.00, thiourea dioxide 108.12 g/mol."""

from __future__ import annotations

from math import pi

import pytest
from attrs import evolve
from tests.plan.plans import hand_of_lots, hand_plan, hand_with, told

from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.units import Amount

INDIGOTIN = 227 * 0.008 / 0.70
LIQUOR = 24 * 0.85 - 0.227 / 1.31


class TestTubShapes:
    """The size of a tub from what can be measured on it."""

    def test_litres(self) -> None:
        """A tub of 5 US gallons holds 18.9 L to the brim."""
        assert brim(hand_with(vessels__tub__volume="5 gal")) == pytest.approx(5 * 3.785412)

    def test_round(self) -> None:
        """32 cm across and 30 deep: pi / 4 x 32^2 x 30 / 1000 = 24.1 L."""
        assert brim(shaped("round", "32 cm", "1 cm", "30 cm")) == pytest.approx(pi / 4 * 1024 * 30 / 1000)

    def test_box(self) -> None:
        """40 by 30 by 25 cm is 30 L."""
        assert brim(shaped("box", "40 cm", "30 cm", "25 cm")) == pytest.approx(30)

    def test_oval(self) -> None:
        """40 by 30 cm across and 25 deep: pi / 4 of the box."""
        assert brim(shaped("oval", "40 cm", "30 cm", "25 cm")) == pytest.approx(pi / 4 * 30)

    def test_inches(self) -> None:
        """A bucket 12 in across and 1 ft deep: pi / 4 x 30.48^3 / 1000 = 22.2 L."""
        assert brim(shaped("round", "12 in", "1 cm", "1 ft")) == pytest.approx(pi / 4 * 30.48**3 / 1000)

    def test_working_names_what_was_measured(self) -> None:
        """A round tub's working has a diameter and a height, and no width."""
        (tub,) = compute(shaped("round", "32 cm", "1 cm", "30 cm"))["vat.tub"].working.inputs
        assert tub.label == "first tub (π ÷ 4 × diameter² × height inside)"


def shaped(shape: str, length: str, width: str, height: str) -> Plan:
    """Give the starter plan with a tub of some shape."""
    return hand_with(
        vessels__tub__shape=shape, vessels__tub__length=length, vessels__tub__width=width, vessels__tub__height=height
    )


def brim(plan: Plan) -> float:
    """Give the litres to the brim."""
    return compute(plan)["vat.tub"].value


class TestHalfAPoundOfWool:
    """227 g in a tub of 24 L with 15 % headspace, with a litre of stock."""

    sheet = compute(hand_plan())

    @pytest.mark.parametrize(
        ("figure", "value"),
        [
            ("tub", 24),
            ("fill", 24 * 0.85),
            ("entry", 227),
            ("entries", 1),
            ("displaced", 0.227 / 1.31),
            ("liquor", LIQUOR),
            ("stock", 1),
            ("water", LIQUOR - 1),
            ("temperature", 47),
            ("alkali", 0),
            ("soda-ash", 4.0 / 0.99),
            ("baking-soda", 14.5 / 0.99),
            ("reducer", 0.10 * LIQUOR / 0.99),
            ("indigotin", INDIGOTIN),
            ("strength", INDIGOTIN / LIQUOR),
            ("dyes.a", 227),
            ("sharpen", 20),
            ("rest", 60),
        ],
    )
    def test_figures(self, figure: str, value: float) -> None:
        """Fill less the room the fibre takes; reducer by the litre; strength is dye over liquor.

        Soda for wool by the rule, R the reducer of stock and tub (2.594 + 2.023 g), I the indigotin, lye 2.716 g in
        the stock: 2.35 R + 0.2 I - 2.65 lye is 4.2 g of soda ash, 3.0 R - 2.0 I + 2.10 lye 14.4 g of baking soda; to
        the nearest half gram of the pure.
        """
        assert self.sheet[f"vat.{figure}"].value == pytest.approx(value)

    def test_taps(self) -> None:
        """19.2 L at 47 from 55 and 12: 35 / 43 of it hot."""
        assert self.sheet["vat.hot"].value == pytest.approx((LIQUOR - 1) * 35 / 43, rel=0.01)
        assert self.sheet["vat.cold"].value == pytest.approx((LIQUOR - 1) * 8 / 43, rel=0.02)

    def test_alkali_left(self) -> None:
        """Lye of the jar and soda ash of the tub as lye, less 0.458 g a gram of dye and 2.5 g a gram of oxygen."""
        brought = 2.716 + 4.0 * 40.00 / 105.99
        by_dye = INDIGOTIN * 3 * 40.00 / 262.26
        by_oxygen = self.sheet["vat.oxygen"].value * 2 * 40.00 / 32.00
        left = self.sheet["vat.alkali_left"].value
        assert left == pytest.approx(brought - by_dye - by_oxygen, rel=1e-3)
        assert self.sheet["vat.alkali_strength"].value == pytest.approx(left / LIQUOR)

    def test_least_reducer(self) -> None:
        """A mole of thiourea dioxide a mole of oxygen: 108.12 / 32.00 = 3.38 g a gram."""
        least = self.sheet["vat.reducer"].minimum
        assert least == pytest.approx(self.sheet["vat.oxygen"].value * 108.12 / 32.00 / 0.99, rel=1e-3)


def test_oxygen_of_both_taps() -> None:
    """Taps of 50 and 20: nine tenths of 19.2 L at 5.5 mg/L and a tenth at 9.1 mg/L make 0.113 g."""
    sheet = compute(hand_with(water__hot="50 C", water__cold="20 C"))
    water = LIQUOR - 1
    assert sheet["vat.oxygen"].value == pytest.approx((0.9 * water * 5.5 + 0.1 * water * 9.1) / 1000, rel=0.02)


def test_a_kilogram_goes_in_twice() -> None:
    """20.4 L at 30 L/kg take 680 g at a time: two entries, and 680 / 1.52 mL of room."""
    sheet = compute(hand_with(lots__a__fibre="cotton", lots__a__mass="1 kg"))
    assert sheet["vat.entry"].value == pytest.approx(680)
    assert sheet["vat.entries"].value == 2
    assert sheet["vat.displaced"].value == pytest.approx(0.680 / 1.52)


def test_room_of_two_fibres() -> None:
    """100 g of wool and 100 g of cotton take 100 / 1.31 + 100 / 1.52 mL."""
    sheet = compute(hand_of_lots(("wool", "100 g"), ("cotton", "100 g")))
    assert sheet["vat.displaced"].value == pytest.approx((100 / 1.31 + 100 / 1.52) / 1000)


def test_more_held_than_there_is_takes_no_more_room() -> None:
    """An entry set to 600 g displaces no more than the 227 g there are."""
    assert compute(hand_with(vat__entry="600 g"))["vat.displaced"].value == pytest.approx(0.227 / 1.31)


class TestWarmth:
    """What the vat is held at."""

    @pytest.mark.parametrize(
        ("method", "fibre", "warm"),
        [
            ("tdo-lye", "wool", 47),
            ("tdo-lye", "silk", 42),
            ("tdo-lye", "cotton", 45),
            ("dithionite-lye", "cotton", 40),
            ("dithionite-lye", "alpaca", 47),
            ("fructose-lime", "linen", 45),
            ("copperas-lime", "cotton", 20),
        ],
    )
    def test_each_vat_has_its_own(self, method: str, fibre: str, warm: float) -> None:
        """A copperas vat is cold whatever goes in; dithionite dyes cotton at 40 and wool at 47."""
        assert warmth(hand_with(method=method, lots__a__fibre=fibre)) == warm

    def test_two_fibres_meet(self) -> None:
        """Equal wool (47, from 45) and cotton (45, up to 50) meet at 46."""
        assert warmth(hand_of_lots(("wool", "100 g"), ("cotton", "100 g"))) == pytest.approx(46)

    def test_no_lot_is_harmed_by_a_heavier_one(self) -> None:
        """A kilogram of wool and 10 g of silk: the mean is 46.95, but silk stands 45."""
        assert warmth(hand_of_lots(("wool", "1 kg"), ("silk", "10 g"))) == 45

    def test_fibres_that_share_no_warmth_get_the_mean(self) -> None:
        """Dithionite dyes wool from 45 and cotton up to 40: the mean suits neither and the sheet says so.

        One to two is 42.33, which no kitchen thermometer shows: it is 42.
        """
        plan = hand_of_lots(("wool", "100 g"), ("cotton", "200 g"), method="dithionite-lye")
        assert warmth(plan) == 42
        assert {notice.text.partition(":")[0] for notice in compute(plan).notices if "it likes" in notice.text} == {
            "Wool skeins",
            "Cotton skeins",
        }

    def test_nothing_weighed_yet(self) -> None:
        """A lot of no weight still says what the vat should be."""
        plan = hand_plan()
        lot = evolve(plan.lots[0], mass=Amount(0, "g"))
        assert warmth(evolve(plan, lots=(lot,))) == 47


def warmth(plan: Plan) -> float:
    """Give the temperature of the vat."""
    return compute(plan)["vat.temperature"].value


class TestStockIn:
    """How much of the stock goes in, and what that leaves."""

    def test_half_the_stock(self) -> None:
        """Half a litre of the litre brings half the dye, enough for half the wool."""
        sheet = compute(hand_with(vat__stock="0.5 L"))
        assert sheet["vat.indigotin"].value == pytest.approx(INDIGOTIN / 2)
        assert sheet["vat.dyes.a"].value == pytest.approx(227 / 2)
        assert sheet["vat.water"].value == pytest.approx(LIQUOR - 0.5)

    def test_no_more_than_there_is(self) -> None:
        """Two litres held of a stock of one bring the dye of one."""
        assert compute(hand_with(vat__stock="2 L"))["vat.indigotin"].value == pytest.approx(INDIGOTIN)

    def test_a_small_tub_takes_a_part(self) -> None:
        """Thirty litres of stock are more than the tub holds: only the liquor's worth goes in."""
        sheet = compute(hand_with(lots__a__fibre="cotton", stock__water="30 L"))
        assert sheet["vat.stock"].value == pytest.approx(sheet["vat.liquor"].value)
        assert sheet["vat.water"].value == 0

    def test_all_lots_share_the_dye_by_what_they_want(self) -> None:
        """With half the powder, 227 g at 0.8 % and 500 g at 2 % both come to half their weight."""
        plan = told(hand_of_lots(("wool", "227 g"), ("cotton", "500 g")), "lots.b.depth", "2 %")
        wanted = compute(plan)["stock.pigment"].value
        sheet = compute(told(plan, "stock.pigment", f"{wanted / 2:.6f} g"))
        assert sheet["vat.dyes.a"].value == pytest.approx(227 / 2, rel=1e-5)
        assert sheet["vat.dyes.b"].value == pytest.approx(500 / 2, rel=1e-5)

    def test_nothing_wanted_nothing_dyed(self) -> None:
        """Depth 0 with powder held still divides by nothing."""
        assert compute(hand_with(lots__a__depth="0 %", stock__pigment="10 g"))["vat.dyes.a"].value == 0


def test_lime_counts_as_lye() -> None:
    """A gram of slaked lime stands in for 2 x 40.00 / 74.09 = 1.08 g of lye."""
    sheet = compute(hand_with(method="copperas-lime", stock__pigment="0.01 g", vat__alkali="100 g", water__hot="12 C"))
    oxygen, dye = sheet["vat.oxygen"].value, sheet["vat.indigotin"].value
    # Copperas: four moles and eight hydroxides a mole of oxygen, five hydroxides a mole of dye.
    used = oxygen * 8 * 40.00 / 32.00 + dye * 5 * 40.00 / 262.26
    brought = (100 + sheet["stock.alkali"].value) * 0.95 * 2 * 40.00 / 74.09
    assert sheet["vat.alkali_left"].value == pytest.approx(brought - used, rel=1e-3)


def test_sharpening_covers_the_oxygen() -> None:
    """Copperas by the litre is too little for cold water full of air, so the oxygen's share counts instead."""
    figure = compute(hand_with(method="copperas-lime", water__hot="12 C"))["vat.reducer"]
    assert figure.value == figure.minimum
    assert figure.value > 0.3 * LIQUOR / 0.98


def test_lye_held_in_the_tub_of_a_wool_vat_is_counted() -> None:
    """Two grams of pure lye stand in for 5.3 g of soda ash less 4.2 g of baking soda: none of the alkali is doubled."""
    plain = told(hand_with(water__tap="hard"), "shelf.alkali.purity", "100 %")
    doses = [wool_vat_of(compute(plan)) for plan in (plain, told(plain, "vat.alkali", "2 g"))]
    assert doses[1][0] - doses[0][0] == pytest.approx(-5.3, abs=0.6)
    assert doses[1][1] - doses[0][1] == pytest.approx(4.2, abs=0.6)


def wool_vat_of(sheet: Sheet) -> tuple[float, float]:
    """Soda ash and baking soda of a sheet, g."""
    return sheet["vat.soda-ash"].value, sheet["vat.baking-soda"].value


@pytest.mark.parametrize("purity", ["40 %", "95 %"])
def test_all_copperas_takes_its_lime(purity: str) -> None:
    """Its iron settles with two hydroxide ions whether it reduces or not: 0.288 g of lye a gram, excess and all."""
    sheet = compute(hand_with(lots__a__fibre="cotton", method="copperas-lime", shelf__indigo__purity=purity))
    share = min(sheet["vat.stock"].value / sheet["stock.water"].value, 1)
    lime = (sheet["stock.alkali"].value * share + sheet["vat.alkali"].value) * 0.95 * 1.0796
    copperas = (sheet["stock.reducer"].value * share + sheet["vat.reducer"].value) * 0.98
    dye = sheet["stock.indigotin"].value * share * 40.0 / 262.3
    assert sheet["vat.alkali_left"].value == pytest.approx(lime - 0.2878 * copperas - dye, rel=0.005)


@pytest.mark.parametrize("method", ["copperas-lime", "dithionite-lye", "tdo-lye"])
@pytest.mark.parametrize("purity", ["1 %", "20 %", "47 %", "60 %", "96 %", "100 %"])
def test_no_reducer_is_dosed_below_theory(method: str, purity: str) -> None:
    """A gram of indigotin takes 2.12 g of copperas, 0.66 of dithionite or 0.41 of thiourea dioxide at the least."""
    least = {"copperas-lime": 2.120, "dithionite-lye": 0.6639, "tdo-lye": 0.4123}[method]
    plan = hand_with(
        lots__a__fibre="cotton", method=method, shelf__indigo__purity=purity, shelf__reducer__purity="80 %"
    )
    sheet = compute(plan)
    assert sheet["stock.reducer"].value * 0.8 >= sheet["stock.indigotin"].value * least * 0.9995
    held = compute(told(plan, "stock.reducer", "0.1 g"))
    assert any("The reaction alone takes" in notice.text for notice in held.notices if notice.figure == "stock.reducer")
