"""Looking after a vat against published standards, worked cases and recipes."""

from __future__ import annotations

import pytest
from tests.plan.plans import hand_plan, hand_with, plan_with
from tests.vat.vats import account_with, grams_for, setting_of

from vatside.catalogue.findings import rows
from vatside.catalogue.looks import Clarity, Colour, Strip, Surface
from vatside.chemistry.adjust import acid_for_pH
from vatside.chemistry.bath import add_grams, water_bath
from vatside.chemistry.water import pKw
from vatside.recipe.compute import compute
from vatside.recipe.cooling import TimedReading, cooling, leaves
from vatside.recipe.vat_needs import pH_at
from vatside.units import Amount
from vatside.vat.account import Account, predict
from vatside.vat.diagnosis import judge
from vatside.vat.dosing import flat
from vatside.vat.reading import PHBy, Reading
from vatside.vat.spent import Acid, dose_by_account

PLAN = hand_plan()
LYE = hand_with(lots__a__fibre="cotton")
"""A vat that lye alone holds."""
NO_SODA = {"vat__soda-ash": "0 g", "vat__baking-soda": "0 g"}


def lye(grams_per_litre: float, t_C: float) -> Account:
    """A litre of lye."""
    return account_with(1, t_C, sodium_hydroxide=grams_per_litre)


def lime(grams_per_litre: float, t_C: float) -> Account:
    """A litre of lime water or milk of lime."""
    return account_with(1, t_C, "calcium hydroxide", calcium_hydroxide=grams_per_litre)


class TestAlkaliStandards:
    """Published pH of alkali, as the account predicts it."""

    @pytest.mark.parametrize(
        ("grams", "cool", "hot"),
        [(0.04, 10.98, 10.24), (0.1, 11.37, 10.63), (0.2, 11.67, 10.93), (0.4, 11.96, 11.22), (1.0, 12.33, 11.59)],
    )
    def test_lye(self, grams: float, cool: float, hot: float) -> None:
        """Lye at 25 and 50 degrees, by activity (Davies): within 0.02, where 0.1 would do."""
        found = predict(lye(grams, 50))
        assert found.pH_25 == pytest.approx(cool, abs=0.02)
        assert found.pH == pytest.approx(hot, abs=0.02)

    def test_saturated_lime(self) -> None:
        """Bates, Bower & Smith (1956): 0.0203 mol/L is 12.45 at 25 degrees and falls 0.033 a degree."""
        clear = lime(0.0203 * 74.093, 25)
        assert predict(clear).pH == pytest.approx(12.45, abs=0.02)
        assert predict(clear, 35).pH == pytest.approx(12.45 - 0.33, abs=0.03)

    def test_half_as_strong(self) -> None:
        """The same standard at half its strength reads 0.28 less."""
        half = lime(0.0203 / 2 * 74.093, 25)
        assert predict(half).pH == pytest.approx(12.45 - 0.28, abs=0.03)

    def test_lime_beyond_its_solubility(self) -> None:
        """Shin, Cho & Yoo (2009) took 4 g/L for silk and 6 for ramie: both pinned by solid lime, at the same pH."""
        silk, ramie = predict(lime(4, 60)), predict(lime(6, 60))
        assert silk.pH == pytest.approx(ramie.pH, abs=0.01)
        assert silk.undissolved_lime_g > 0
        assert ramie.undissolved_lime_g - silk.undissolved_lime_g == pytest.approx(2, abs=0.05)

    @pytest.mark.parametrize("grams", [0.04, 0.1, 0.4, 1.0])
    def test_the_slope_that_a_reading_is_turned_by(self, grams: float) -> None:
        """A pH read at 25 degrees, turned to 50 by 0.03 a degree, lies within 0.07 of the one there."""
        found = predict(lye(grams, 50))
        assert pH_at(found.pH_25, 25, 50, setting_of(LYE)) == pytest.approx(found.pH, abs=0.07)


class TestNeutralising:
    """Vinegar (5 %, 0.8326 mol/L) and citric acid to pH 8, as worked with an independent program."""

    def test_lye(self) -> None:
        """0.05 mol in a kilogram of water: 60.1 mL of vinegar, or 3.21 g of citric acid."""
        account = account_with(1.00297, 25, sodium_hydroxide=grams_for("sodium hydroxide", 50))
        assert dose_by_account(account, PLAN, Acid.VINEGAR).millilitres == pytest.approx(60.1, abs=0.3)
        assert dose_by_account(account, PLAN, Acid.CITRIC).grams * 0.995 == pytest.approx(3.21, abs=0.02)

    def test_with_carbonate(self) -> None:
        """With 0.01 mol of carbonate in it, sodium 0.05 in all: 48.2 mL to pH 8, but 54.0 so that it stays below 9.

        PHREEQC has alkalinity of 5 meq/kg at pH 8.8 in the air: (0.050 - 0.005) mol over 0.8326 mol/L.
        """
        account = account_with(
            1.00297, 25, sodium_hydroxide=grams_for("sodium hydroxide", 30),
            sodium_carbonate=grams_for("sodium carbonate", 10),
        )  # fmt: skip
        assert acid_for_pH(account.bath, 8, "vinegar") == pytest.approx(48.2, abs=0.4)
        assert dose_by_account(account, PLAN, Acid.VINEGAR).millilitres == pytest.approx(45 / 0.8326, abs=0.2)

    def test_with_sulphite_not_yet_aired(self) -> None:
        """With 0.01 of sulphite besides: 25.0 mL to pH 8 (case C60).

        Aired, and so that it stays below 9 in the air: (0.030 of alkalinity - 0.005) mol over 0.8326 mol/L.
        """
        bath = water_bath(1.00297, 25)
        for name, mmol in (("sodium hydroxide", 10), ("sodium carbonate", 10), ("sodium sulfite", 10)):
            bath = add_grams(bath, name, grams_for(name, mmol))
        assert acid_for_pH(bath, 8, "vinegar") == pytest.approx(25.0, abs=0.5)
        aired = dose_by_account(Account(bath, "sodium hydroxide"), PLAN, Acid.VINEGAR).millilitres
        assert aired == pytest.approx(25 / 0.8326, abs=0.2)

    def test_a_gram_of_solid_lime(self) -> None:
        """Lime at the bottom adds 27 mmol of hydroxide a gram: 32.4 mL of vinegar."""
        less = dose_by_account(lime(3, 25), PLAN, Acid.VINEGAR).millilitres
        more = dose_by_account(lime(4, 25), PLAN, Acid.VINEGAR).millilitres
        assert more - less == pytest.approx(27 / 0.8326, rel=0.01)


class TestCooling:
    """Newton's law, cases C57 and C58."""

    def test_constant(self) -> None:
        """50 then 44 degrees after 30 min in air at 20: 0.007438118 a minute."""
        found = cooling((TimedReading(0, 50), TimedReading(30, 44)), 20)
        assert found is not None
        assert found.per_minute == pytest.approx(0.007438118, abs=1e-6)

    def test_time(self) -> None:
        """From 50 to 40 it takes 54.51 min; 30 of them have gone."""
        found = cooling((TimedReading(0, 50), TimedReading(30, 44)), 20)
        assert found is not None
        left = leaves(found, 40)
        assert left is not None
        assert left.minutes == pytest.approx(54.51178 - 30, abs=0.05)


class TestMairet:
    """Mairet E.M., Vegetable Dyes (Faber, 1938 reprint), pp. 24-30: signs of the vat and its feeding."""

    plain = setting_of(plan_with(method="dithionite-lye", lots__a__fibre="cotton"))

    def test_feeding(self) -> None:
        """3 to 4 fl oz of a solution of SG 1.1, about 10.7 to 14.3 g, in ten imperial gallons (45.46 L)."""
        remedy = next(item for item in rows()["air-in"].remedies if item.id == "dithionite")
        dose = flat(plan_with(method="dithionite-lye"), remedy, 45.46)
        assert dose is not None
        pure = dose.grams * dose.powder.purity
        assert 10.7 <= pure <= 14.3

    def test_ready(self) -> None:
        """A clear golden drop that turns blue in about 45 s, under a coppery film."""
        reading = Reading(colour=Colour.AMBER, clarity=Clarity.CLEAR, surface=Surface.COPPERY, seconds=45)
        assert judge(reading, self.plain)[0].id == "good"

    def test_greenish_white_and_turbid(self) -> None:
        """Leuco formed but not dissolved: alkali."""
        reading = Reading(colour=Colour.GREENISH_WHITE, clarity=Clarity.MILKY)
        assert judge(reading, self.plain)[0].id == "short-of-alkali"

    def test_a_greenish_vat(self) -> None:
        """Not to be dyed in: what is not reduced sticks and washes off."""
        found = judge(Reading(colour=Colour.GREEN, strip=Strip.BLUISH_GREEN, seconds=20), self.plain)[0]
        assert found.id == "short-of-reducer"
        assert "Do not dye" in found.means


class TestWoolAndLye:
    """What the usual lye means for wool."""

    def test_the_vat_stands_two_units_above_wools_window(self) -> None:
        """A lye vat at its usual strength, 5 g in the tub, sits a unit and more above what is kind to wool (9.8)."""
        held = compute(hand_with(vat__alkali="5 g", **NO_SODA))
        assert 1.3 < held.value("vat.pH") - held.value("vat.window_high") < 2.6

    def test_far_below_the_solubility_test(self) -> None:
        """0.1 mol/L at 65 degrees dissolves wool in the laboratory; what is advised frees a hundredth of that or less.

        Hydroxide at the pH of the fresh vat and its temperature, by the ion product of water (IAPWS R11).
        """
        sheet = compute(PLAN)
        free = 10 ** (sheet.value("vat.pH") - pKw(sheet.value("vat.temperature")))
        assert 0 < free < 0.1 / 100


def test_a_hot_reading_is_not_a_cold_one() -> None:
    """The meter trap: 0.4 g/L of lye reads 11.96 cool and 11.22 hot; only the hot one is in cotton's window."""
    plain = setting_of(plan_with(lots__a__fibre="cotton"))
    cool = Reading(temperature=Amount(50, "degC"), pH=11.96, pH_temperature=Amount(25, "degC"), pH_by=PHBy.METER)
    assert not any(item.id == "too-alkaline" for item in judge(cool, plain))
