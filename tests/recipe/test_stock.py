"""The stock, worked by hand. Formula masses: indigotin 262.26, lye 40.00, thiourea dioxide 108.12 g/mol."""

from __future__ import annotations

import pytest
from tests.plan.plans import hand_of_lots, hand_plan, hand_with, plan_with, told

from vatside.catalogue.findings import additions
from vatside.forms.rows import stock_rows
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.recipe.stages.stock import JUG_L_PER_G

LYE_PER_INDIGOTIN = 40.00 / 262.26
"""One hydroxide for the single ion of the dye."""
LYE_PER_TDO, LYE_PER_DITHIONITE = 2 * 40.00 / 108.12, 2 * 40.00 / 174.11
"""Two hydroxides for each mole of reducer, whether it reduces dye, meets air or falls apart."""
TDO_PER_INDIGOTIN = 108.12 / 262.26


def least_lye(indigotin: float, litres: float, reducer: float, share: float = LYE_PER_TDO) -> float:
    """Give the lye that sees a stock through to the end of all its reducer, with 0.4 g/L to spare."""
    return share * reducer + LYE_PER_INDIGOTIN * indigotin + 0.4 * litres


class TestHalfAPoundOfWool:
    """227 g at 0.8 % with a yield of 70 % and powder of 40 %, in one jar of 1 L."""

    sheet = compute(hand_plan())
    indigotin = 227 * 0.008 / 0.70

    @pytest.mark.parametrize(
        ("figure", "value"),
        [
            ("wanted", 227 * 0.008 / 0.70),
            ("pigment", 227 * 0.008 / 0.70 / 0.40),
            ("indigotin", 227 * 0.008 / 0.70),
            ("owf", 100 * 0.008 / 0.70 / 0.40),
            ("jars", 1),
            ("water", 1),
            ("strength", 227 * 0.008 / 0.70 / 1),
            ("alkali", least_lye(2.5943, 1, 2.5943) / 0.99),  # 2.72 g is more than 0.8 x 2.6
            ("reducer", 2.5943 / 0.99),
            ("start", 55),
            ("bath", 3),
            ("bath_temperature", 55),
            ("stir", 2),
            ("hold", 60),
            ("look_every", 15),
        ],
    )
    def test_figures(self, figure: str, value: float) -> None:
        """Fibre times depth over yield and purity; as much reducer as indigotin; lye to the end of both."""
        assert self.sheet[f"stock.{figure}"].value == pytest.approx(value, rel=5e-4)

    def test_least_alkali(self) -> None:
        """All reducer counts, 0.740 g of lye a gram, and the dye, 0.153 g a gram: 1.92 + 0.40 + 0.4 g here."""
        least = self.sheet["stock.alkali"].minimum
        assert least == pytest.approx((1.920 + 0.396 + 0.4) / 0.99, rel=1e-3)

    def test_least_reducer(self) -> None:
        """It takes 0.412 g of thiourea dioxide a gram, 1.1 g here."""
        least = self.sheet["stock.reducer"].minimum
        assert least == pytest.approx(self.indigotin * TDO_PER_INDIGOTIN / 0.99, rel=1e-3)

    def test_lye_goes_into_cold_water(self) -> None:
        """2.74 g by 20 mL a gram is 55 mL, 50 on the jug: 2.72 / 40.00 x 44.51 / (0.05 x 4.19) is 14.4 degrees."""
        assert self.sheet["stock.jug"].value == pytest.approx(0.05)
        assert self.sheet["stock.rise"].value == pytest.approx(14.4, abs=0.1)

    def test_the_jar_would_bear_all_of_it(self) -> None:
        """2.72 g in a litre: 2.72 / 40.00 x 44.51 kJ over 0.986 kg x 4.18 kJ/(kg K) is 0.73 degrees below 60."""
        assert self.sheet["stock.warmest"].value == pytest.approx(60 - 0.73, abs=0.02)

    def test_the_hot_tap_does_it_alone(self) -> None:
        """A start at 55 from a tap of 55 is all hot, without the hob: the litre without the lye's cold 50 mL."""
        assert self.sheet["stock.hot"].value == pytest.approx(0.95)
        assert self.sheet["stock.cold"].value == pytest.approx(0, abs=1e-9)
        assert self.sheet.value("stock.kettle", 0.0) == 0


class TestDarkCotton:
    """2 kg of cotton at 2 %: 57 g of indigotin, 143 g of powder, three jars."""

    sheet = compute(hand_with(lots__a__fibre="cotton", lots__a__mass="2 kg", lots__a__depth="2 %", stock__water=""))
    indigotin = 2000 * 0.02 / 0.70

    @pytest.mark.parametrize(
        ("figure", "value"),
        [
            ("pigment", 2000 * 0.02 / 0.70 / 0.40),
            ("jars", 3),  # 142.9 / 60 = 2.4
            ("water", 3),  # 142.9 / 25 = 5.7 is more than three jars take
            ("alkali", least_lye(57.143, 3, 57.143) / 0.99),  # 52.2 g is more than 0.8 x 57.1
            ("reducer", 1.0 * 2000 * 0.02 / 0.70 / 0.99),
            ("bath", 9),
        ],
    )
    def test_figures(self, figure: str, value: float) -> None:
        """A strong stock's alkali and reducer go by the dye, not by the jar."""
        assert self.sheet[f"stock.{figure}"].value == pytest.approx(value, rel=5e-4)


METHODS = {
    # Dithionite: 1.6 g a gram of indigotin, 88 % pure, and the lye that they take in a litre.
    "dithionite-lye": {
        "pigment": 227 * 0.008 / 0.70 / 0.40,
        "alkali": least_lye(2.5943, 1, 1.6 * 2.5943, LYE_PER_DITHIONITE) / 0.99,
        "reducer": 1.6 * 227 * 0.008 / 0.70 / 0.88,
        "start": 49,
        "hold": 30,
        "stir": 15,
    },
    # One part powder, two of lime, three of fructose; a yield of 55 %.
    "fructose-lime": {
        "pigment": 227 * 0.008 / 0.55 / 0.40,
        "alkali": 2 * 227 * 0.008 / 0.55 / 0.40 / 0.95,
        "reducer": 3 * 227 * 0.008 / 0.55 / 0.40,
        "start": 60,
        "hold": 60,
        "warmest": 65,
    },
    # One part powder, two of copperas, three of lime; a yield of 60 %.
    "copperas-lime": {
        "pigment": 227 * 0.008 / 0.60 / 0.40,
        "alkali": 3 * 227 * 0.008 / 0.60 / 0.40 / 0.95,
        "reducer": 2 * 227 * 0.008 / 0.60 / 0.40 / 0.98,
        "start": 40,
        "hold": 480,
        "look_every": 120,
        "warmest": 60,
    },
}


@pytest.mark.parametrize(
    ("method", "figure", "value"),
    [(method, figure, value) for method, figures in METHODS.items() for figure, value in figures.items()],
)
def test_other_vats(method: str, figure: str, value: float) -> None:
    """Each kind of vat takes its own ratios, on indigotin or on powder, and its own warmth and hours."""
    assert compute(hand_with(method=method))[f"stock.{figure}"].value == pytest.approx(value, rel=5e-4)


def test_copperas_minimum() -> None:
    """Two moles of iron a mole of dye: 2 x 278.01 / 262.26 = 2.12 g a gram."""
    figure = compute(hand_with(method="copperas-lime"))["stock.reducer"]
    assert figure.minimum == pytest.approx(227 * 0.008 / 0.60 * 2.12 / 0.98, rel=0.001)


def test_fructose_has_no_theory() -> None:
    """Nobody knows what sugar gives up in hot lime, so no minimum is shown."""
    sheet = compute(hand_with(method="fructose-lime"))
    assert sheet["stock.reducer"].minimum is None
    assert sheet["stock.alkali"].minimum is None
    assert sheet["vat.reducer"].minimum is None


@pytest.mark.parametrize("method", ["fructose-lime", "copperas-lime"])
def test_lime_does_not_warm_the_jar(method: str) -> None:
    """Only lye has a line for the heat it gives off."""
    assert not any(figure.id == "stock.rise" for figure in compute(hand_with(method=method)).figures)


def test_a_cold_vat_s_stock_has_no_warm_bath() -> None:
    """Copperas works in the cold."""
    assert not any(figure.id.startswith("stock.bath") for figure in compute(hand_with(method="copperas-lime")).figures)


def test_several_lots_add_up() -> None:
    """227 g at 0.8 % and 500 g at 2 %: (1.816 + 10) / 0.70 g of indigotin."""
    plan = told(hand_of_lots(("wool", "227 g"), ("cotton", "500 g")), "lots.b.depth", "2 %")
    assert compute(plan)["stock.wanted"].value == pytest.approx((1.816 + 10) / 0.70)


def test_forty_lots_add_up() -> None:
    """Forty lots of 25 g at 0.8 % are a kilogram: 8 / 0.70 g."""
    assert compute(hand_of_lots(*[("silk", "25 g")] * 40))["stock.wanted"].value == pytest.approx(8 / 0.70)


def test_dye_is_for_what_the_scour_leaves() -> None:
    """A kilogram of greasy wool comes out as 700 g: 700 x 0.008 / 0.70 = 8 g of indigotin."""
    sheet = compute(hand_with(lots__a__mass="1 kg", lots__a__condition="greasy"))
    assert sheet["stock.wanted"].value == pytest.approx(8)


def test_depth_nothing_takes_nothing() -> None:
    """Depth 0 wants no powder; the litre of water held for it has its 0.4 g of lye to spare."""
    sheet = compute(hand_with(lots__a__depth="0 %"))
    assert sheet["stock.pigment"].value == 0
    assert sheet["stock.owf"].value == 0
    assert sheet["stock.alkali"].value == pytest.approx(0.4 / 0.99)


class TestJars:
    """How many jars there are."""

    @pytest.mark.parametrize(("grams", "count"), [("60 g", 1), ("60.1 g", 2), ("120 g", 2), ("1 kg", 17)])
    def test_sixty_grams_a_litre(self, grams: str, count: int) -> None:
        """A litre takes 60 g of powder with thiourea dioxide, and not a crumb more."""
        assert jars(hand_with(stock__pigment=grams)) == count

    def test_a_smaller_jar_takes_less(self) -> None:
        """A quart jar (0.946 L) takes 56.8 g, so 60 g are two."""
        assert jars(hand_with(stock__pigment="60 g", vessels__stock_jar="1 quart")) == 2

    def test_dithionite_stocks_are_thinner(self) -> None:
        """30 g/L: 60 g are two jars."""
        assert jars(hand_with(method="dithionite-lye", stock__pigment="60 g")) == 2

    @pytest.mark.parametrize(
        ("grams", "litres"), [("2 g", 0.2), ("6.5 g", 0.3), ("20 g", 0.8), ("30 g", 1.0), ("100 g", 2.0)]
    )
    def test_water_follows_the_powder(self, grams: str, litres: float) -> None:
        """25 g/L: 6.5 g want 0.26 L, 0.3 on the jug; a thermometer wants 0.2 L; a jar of 1 L takes no more."""
        sheet = compute(hand_with(stock__water="", stock__pigment=grams))
        assert sheet["stock.water"].value == pytest.approx(litres)

    def test_lye_follows_the_water(self) -> None:
        """0.3 L have 0.12 g to spare, a litre has 0.40: 2.44 g in all, and 2.72."""
        less = compute(hand_with(stock__water=""))["stock.alkali"].value
        assert less == pytest.approx(least_lye(2.5943, 0.3, 2.5943) / 0.99, rel=5e-4)


def jars(plan: Plan) -> float:
    """Give the number of jars."""
    return compute(plan)["stock.jars"].value


class TestPurity:
    """What the powders hold."""

    def test_half_as_pure_takes_twice_the_powder(self) -> None:
        """2.594 g of indigotin in powder of 20 % is 13.0 g."""
        sheet = compute(hand_with(shelf__indigo__purity="20 %"))
        assert sheet["stock.pigment"].value == pytest.approx(227 * 0.008 / 0.70 / 0.20)
        assert sheet["stock.indigotin"].value == pytest.approx(227 * 0.008 / 0.70)

    def test_lye_of_less_purity(self) -> None:
        """2.72 g of lye in flakes of 90 % is 3.0 g."""
        found = compute(hand_with(shelf__alkali__purity="90 %"))["stock.alkali"].value
        assert found == pytest.approx(least_lye(2.5943, 1, 2.5943) / 0.90, rel=5e-4)

    def test_synthetic_indigo_comes_with_its_own_purity(self) -> None:
        """Choosing synthetic powder on the shelf means 95 %, not the 40 of the natural one."""
        sheet = compute(hand_with(shelf__indigo__purity="40 %", shelf__indigo__material="synthetic-indigo"))
        assert sheet["stock.pigment"].value == pytest.approx(227 * 0.008 / 0.70 / 0.95)


class TestMuchLye:
    """Lye that boils."""

    sheet: Sheet = compute(hand_with(stock__alkali="500 g"))

    def test_no_water_is_cold_enough(self) -> None:
        """500 g in a litre: 495 / 40 x 44.51 / 4.18 = 132 degrees, so the warmest start lies below ice."""
        assert self.sheet["stock.warmest"].value == pytest.approx(60 - 132, abs=2)

    def test_the_start_is_the_cold_tap(self) -> None:
        """The coldest there is comes out of the cold tap, at 12."""
        assert self.sheet["stock.start"].value == 12

    def test_a_little_more_lye_starts_cooler(self) -> None:
        """40 g in a litre warm it by 39.6 / 40 x 44.51 / 4.18 = 10.5 degrees: start at 49 instead of 55."""
        assert compute(hand_with(stock__alkali="40 g"))["stock.start"].value == pytest.approx(60 - 10.6, abs=0.3)


class TestTheLyesJug:
    """Lye is dissolved in cold water of its own, never in the warm jar."""

    def test_in_grams_a_litre(self) -> None:
        """40 g by 20 mL a gram take 0.8 L, but half of the litre at most: 39.6 / 40 x 44.51 / 2.09 is 21 degrees."""
        sheet = compute(hand_with(stock__alkali="40 g"))
        assert sheet["stock.jug"].value == pytest.approx(0.5)
        assert sheet["stock.rise"].value == pytest.approx(21.1, abs=0.3)

    def test_none_of_it(self) -> None:
        """Held at nothing, all of it goes into the jar as ever."""
        sheet = compute(hand_with(stock__jug="0 L"))
        assert sheet["stock.hot"].value == pytest.approx(1)
        assert sheet["stock.rise"].value == pytest.approx(0.73, abs=0.01)

    def test_as_into_a_live_vat(self) -> None:
        """The jug of the stock and that of an addition hold as much water a gram."""
        assert additions()["sodium hydroxide"].water_per_gram == JUG_L_PER_G

    @pytest.mark.parametrize("method", ["fructose-lime", "copperas-lime"])
    def test_lime_wants_no_jug(self, method: str) -> None:
        """Only lye has one."""
        assert not any(figure.id == "stock.jug" for figure in compute(hand_with(method=method)).figures)


def test_a_cooler_start_rests_longer_by_what_stock_and_bath_come_to() -> None:
    """1 L at 45 in 3 L at 60 comes to 56.2 degrees; by 64 kJ/mol that takes 1.3 times as long [Vuorema2008].

    By hand: (45 + 3 x 60) / 4; exp(64 / 0.008314 x (1 / 329.4 - 1 / 333.15)) = 1.30.
    """
    usual = compute(plan_with(None, lots__a__fibre="linen", method="fructose-lime", stock__water="1 L"))
    cool = compute(
        plan_with(None, lots__a__fibre="linen", method="fructose-lime", stock__water="1 L", stock__start="45 C")
    )
    assert cool.value("stock.rests_at") == pytest.approx(56.25, abs=0.1)
    assert cool.value("stock.hold") / usual.value("stock.hold") == pytest.approx(1.30, abs=0.02)


def test_the_warmth_that_paces_a_stock_has_its_row() -> None:
    """Where the rest goes by the bath, the bath's warmth is seen in the form; a lye stock does without."""
    for method, there in (("fructose-lime", True), ("tdo-lye", False)):
        plan = plan_with(None, lots__a__fibre="linen", method=method)
        rows = {row.path: row.shown for row in stock_rows(plan)}
        assert rows.get("stock.bath_temperature", False) is there
