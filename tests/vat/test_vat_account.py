"""The account of a vat: made from the plan, changed by what is done to it, and put right by a reading."""

from __future__ import annotations

import re

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import plan_with
from tests.vat.vats import METHODS, account_with, vat_with

from vatside.chemistry.adjust import alkali_for_pH
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.liquor import solve
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import whole_percents
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account import (
    Account,
    aired,
    at_volume,
    carried_on,
    dipped,
    free_alkali_g,
    planned_account,
    predict,
    warmed,
    with_powder,
    with_stock,
    with_water,
    without,
)
from vatside.vat.reading import PHBy, Reading
from vatside.vat.spent import Acid, dose_by_account
from vatside.vat.trust import compare, trust, trusted_words


@pytest.mark.parametrize("method", METHODS)
def test_it_holds_what_the_sheet_says(method: str) -> None:
    """The vat just made has the sheet's indigotin, volume and temperature, all of its indigo reduced."""
    plan = plan_with(method=method)
    sheet = compute(plan)
    account = planned_account(plan, sheet)
    assert account.indigotin_g == pytest.approx(sheet.value("vat.indigotin"))
    assert account.unreduced_g == 0
    # Stock and water are drawn at different temperatures, which moves the volume by up to 1 %.
    assert account.litres == pytest.approx(sheet.value("vat.liquor"), rel=0.01)
    assert account.celsius == sheet.value("vat.temperature")
    assert predict(account).pH == pytest.approx(sheet.value("vat.pH"))


@pytest.mark.parametrize("method", METHODS)
def test_its_free_alkali_is_the_sheets(method: str) -> None:
    """Counted by charge, the free alkali is what the sheet has by the reactions, but for the stock's own air."""
    plan = plan_with(method=method)
    sheet = compute(plan)
    account = planned_account(plan, sheet)
    assert free_alkali_g(account) == pytest.approx(sheet.value("vat.alkali_left"), abs=0.1)


def test_stock_left_in_the_jar() -> None:
    """Half a litre of a litre of stock brings half of the indigo; the other half waits in the jar."""
    vat = vat_with(vat__stock="500 mL")
    before = vat.account
    assert before.stock_litres == pytest.approx(0.5, rel=0.02)
    after = with_stock(before, before.stock_litres)
    assert after.indigotin_g == pytest.approx(2 * before.indigotin_g)
    assert after.stock is None
    assert after.stock_strength == 0


def test_no_more_stock_than_there_is() -> None:
    """Bringing in more than the jar holds is refused in words."""
    with pytest.raises(OutOfRange, match="stock left"):
        with_stock(vat_with().account, 0.1)


def test_powder_counts_by_its_purity() -> None:
    """Ten grams of 88 % dithionite are 8.8 g: 50.5 mmol (174.1 g/mol)."""
    vat = vat_with(method="dithionite-lye")
    before, after = vat.account, with_powder(vat.account, vat.plan, "reducer", 10)
    assert after.bath.dithionite - before.bath.dithionite == pytest.approx(0.0505, abs=0.0001)


def test_less_than_nothing_cannot_go_in() -> None:
    """A negative amount is refused."""
    vat = vat_with()
    with pytest.raises(OutOfRange):
        with_powder(vat.account, vat.plan, "lye", -1)


def test_water_thins_cools_and_brings_air() -> None:
    """Twenty litres at 47 and five at 20 are 25 at 41.6; 45 mg of oxygen take 0.15 g of thiourea dioxide (8:108)."""
    account = vat_with().account
    after = with_water(account, 5, 20)
    assert after.litres == pytest.approx(account.litres + 5, rel=0.005)
    assert after.celsius == pytest.approx((account.litres * 47 + 5 * 20) / (account.litres + 5), abs=0.2)
    used = (account.bath.thiourea_dioxide - after.bath.thiourea_dioxide) * 108.12
    assert used == pytest.approx(5 * 9.09e-3 / 32.0 * 108.12, rel=0.01)


def test_no_water_changes_nothing() -> None:
    """Adding no water is no change."""
    account = vat_with().account
    assert with_water(account, 0, 20) == account
    assert without(account, 0) == account


def test_taking_liquor_out_keeps_the_strength() -> None:
    """A quarter taken out takes a quarter of everything."""
    account = vat_with().account
    after = without(account, account.litres / 4)
    assert after.strength == pytest.approx(account.strength)
    assert after.indigotin_g == pytest.approx(0.75 * account.indigotin_g)


def test_air_turns_dye_blue_once_the_reducer_is_gone() -> None:
    """Oxygen takes the reducer first; what is left turns two moles of dye for each mole."""
    account = evolve(vat_with().account)
    bath = account.bath
    enough = bath.thiourea_dioxide * 32_000
    assert aired(account, 0.99 * enough).unreduced_g == 0
    blue = aired(account, enough + bath.leuco / 2 * 32_000)
    assert blue.unreduced_g == pytest.approx(account.indigotin_g, rel=0.001)


def test_a_dip() -> None:
    """Fibre takes dye and liquor out and brings water in; the indigo adds up."""
    account = vat_with().account
    after = dipped(account, indigotin_g=0.5, carried_l=0.3, brought_l=0.3, t_C=20)
    carried = 0.3 / account.litres * (account.indigotin_g - 0.5)
    assert after.indigotin_g == pytest.approx(account.indigotin_g - 0.5 - carried)
    assert after.celsius < account.celsius


def test_no_fibre_takes_more_dye_than_there_is() -> None:
    """A dip that would take more than all takes all."""
    assert dipped(vat_with().account, 99, 0, 0, 20).indigotin_g == pytest.approx(0, abs=1e-9)


def test_a_measured_volume_keeps_what_is_dissolved() -> None:
    """A dip-stick that says 18 L makes the liquor stronger, not richer."""
    account = vat_with().account
    after = at_volume(account, 18)
    assert after.litres == pytest.approx(18)
    assert after.indigotin_g == account.indigotin_g


def test_kept_and_carried_on() -> None:
    """A vat kept by its litres, dye and free alkali comes back with the same free alkali and nearly the same pH."""
    account = vat_with(lots__a__fibre="cotton").account
    again = carried_on(account.litres, account.celsius, account.indigotin_g, account.alkali, free_alkali_g(account))
    assert free_alkali_g(again) == pytest.approx(free_alkali_g(account))
    assert predict(again).pH == pytest.approx(predict(account).pH, abs=0.05)


@pytest.mark.parametrize(
    ("pH", "acid", "mono", "di"),
    [
        (8.0, 48, 52, 0), (9.0, 9, 91, 0), (10.0, 1, 99, 0), (11.0, 0, 98, 2), (11.5, 0, 94, 6), (12.0, 0, 83, 17),
        (12.5, 0, 60, 40),
    ],
)  # fmt: skip
def test_forms_of_the_dye(pH: float, acid: int, mono: int, di: int) -> None:
    """Shares of leuco-indigo at pKa 7.97 and 12.68 (Etters, from memory), in whole percents."""
    assert whole_percents(pH) == (acid, mono, di)


@given(st.floats(-1, 17))
def test_whole_percents_sum_to_a_hundred(pH: float) -> None:
    """Rounding loses nothing."""
    parts = whole_percents(pH)
    assert sum(parts) == 100
    assert all(0 <= part <= 100 for part in parts)


def test_both_pH_are_named_with_their_temperature() -> None:
    """The prediction says pH in the vat and at 25 degrees, each with its temperature."""
    text = predict(account_with(t_C=50, sodium_hydroxide=0.4)).text
    assert text == "pH 11.2 at 50 °C (pH 12.0 at 25 °C)"


class TestTrust:
    """The pH that was read against the one worked out."""

    lye = account_with(20, 50, sodium_hydroxide=8)
    """0.4 g/L: 11.96 at 25 degrees, 11.22 at 50."""

    def test_they_agree(self) -> None:
        """0.1 apart by meter is agreement: nothing to explain."""
        found = compare(self.lye, Reading(pH=11.3, pH_by=PHBy.METER))
        assert found is not None
        assert found.agrees
        assert found.explanations == ()

    def test_a_strip_is_given_more_room(self) -> None:
        """0.4 apart: a meter disagrees, a strip does not."""
        for by, agrees in ((PHBy.METER, False), (PHBy.STRIP, True)):
            found = compare(self.lye, Reading(pH=10.8, pH_by=by))
            assert found is not None
            assert found.agrees is agrees

    def test_a_reading_without_pH_says_nothing(self) -> None:
        """There is nothing to compare."""
        assert compare(self.lye, Reading()) is None

    def test_compared_at_the_temperature_of_the_sample(self) -> None:
        """A sample cooled to 25 degrees is held against 11.96, not 11.22."""
        found = compare(self.lye, Reading(pH=11.95, pH_temperature=Amount(25, "degC"), pH_by=PHBy.METER))
        assert found is not None
        assert found.predicted == pytest.approx(11.96, abs=0.02)
        assert found.agrees

    def test_a_cooled_sample_written_down_as_hot(self) -> None:
        """11.96 'at 50' fits the liquor at 25: the temperature correction of a meter does not do that."""
        found = compare(self.lye, Reading(pH=11.96, pH_temperature=Amount(50, "degC"), pH_by=PHBy.METER))
        assert found is not None
        assert not found.agrees
        assert any("25 °C" in words and "ATC" in words for words in found.explanations)

    def test_blue_strips_sodium_and_lime(self) -> None:
        """Each instrument and alkali has its own excuse."""
        by_strip = compare(self.lye, Reading(pH=9.0, pH_by=PHBy.STRIP))
        strong = compare(account_with(20, 25, sodium_hydroxide=80), Reading(pH=12.2, pH_by=PHBy.METER))
        lime = account_with(20, 25, "calcium hydroxide", calcium_hydroxide=40)
        unstirred = compare(lime, Reading(pH=11.5, pH_by=PHBy.METER))
        assert by_strip is not None
        assert strong is not None
        assert unstirred is not None
        assert any("stained blue" in words for words in by_strip.explanations)
        assert any("sodium error" in words for words in strong.explanations)
        assert any("not dissolved" in words for words in unstirred.explanations)
        assert any("carbonate" in words for words in strong.explanations)

    def test_more_alkali_than_thought(self) -> None:
        """Above the prediction: heaped spoons, purer powder or less water."""
        found = compare(self.lye, Reading(pH=12.0, pH_by=PHBy.METER))
        assert found is not None
        assert found.lye_g > 0
        assert any("heaped" in words for words in found.explanations)
        assert "more lye" in found.text

    @pytest.mark.parametrize("pH", [9.5, 10.5, 11.22, 11.6, 12.2])
    @pytest.mark.parametrize("method", METHODS)
    def test_taken_as_true(self, pH: float, method: str) -> None:
        """After trusting a reading the account predicts it, at the sample's temperature."""
        account = vat_with(method=method, lots__a__fibre="cotton").account
        trusted = trust(account, pH, 45)
        assert predict(trusted, 45).pH == pytest.approx(pH, abs=0.01)

    def test_half_the_lye(self) -> None:
        """0.2 g/L in 20 L is 11.67 at 25 degrees: an account of 8 g then loses 4 g."""
        trusted = trust(account_with(20, 25, sodium_hydroxide=8), 11.66, 25)
        assert trusted.trusted_g == pytest.approx(-4, abs=0.15)

    def test_what_readings_put_in_and_take_out_is_counted_together(self) -> None:
        """To 11.66 and back to what it was: 4 g went out and 4 g came in again, nothing in all."""
        account = account_with(20, 25, sodium_hydroxide=8)
        back = trust(trust(account, 11.66, 25), predict(account).pH, 25)
        assert back.trusted_g == pytest.approx(0, abs=0.01)

    def test_a_soda_that_reads_lower_has_met_acid(self) -> None:
        """What works in it makes acid: all its carbonate stays, and buffers what goes in next."""
        account = account_with(10, 25, "sodium carbonate", sodium_carbonate=20)
        trusted = trust(account, 10.0, 25)
        assert solve(trusted.bath).pH == pytest.approx(10.0, abs=0.001)
        assert trusted.bath.carbonate == account.bath.carbonate
        assert trusted.trusted_g == pytest.approx(-40.0 * trusted.bath.strong_anions, rel=0.001)

    def test_a_bran_vat_that_has_soured_by_hand(self) -> None:
        """27.2 g of soda ash in 5.4 L, all of it bicarbonate at pH 8.4: to pH 10 it takes 41 g more, not 8.

        By hand 47.5 mmol/L; at pK' 9.9 pH 10 wants 1.26 of carbonate to 1 of bicarbonate: 60 mmol/L, 34 g, and what is
        carbonic acid at pH 8.4 as much again as 1 in 50.
        """
        account = account_with(5.4, 33, "sodium carbonate", sodium_carbonate=27.2)
        soured = trust(account, 8.4, 33)
        assert alkali_for_pH(soured.bath, 10, "sodium carbonate") == pytest.approx(38, abs=5)

    def test_its_end_by_hand(self) -> None:
        """35.5 g went in and pH 9.6 at 20 degrees is read: half of its alkali is left, and takes half a litre."""
        account = account_with(5.4, 20, "sodium carbonate", sodium_carbonate=35.5)
        soured = trust(account, 9.6, 20)
        assert dose_by_account(soured, plan_with(), Acid.VINEGAR).millilitres == pytest.approx(500, rel=0.06)

    def test_no_lye_is_blamed_in_a_vat_of_soda(self) -> None:
        """It speaks of acid, and of no lye that stood open."""
        account = account_with(5.4, 20, "sodium carbonate", sodium_carbonate=35.5)
        found = compare(account, Reading(pH=9.6, pH_by=PHBy.METER))
        assert found is not None
        assert "as if acid that binds" in found.text
        assert "Lye" not in " ".join(found.explanations)

    def test_acid_in_soda_is_counted_as_lye(self) -> None:
        """A soda vat that reads lower keeps its carbonate: a mole of acid is written down as 40.0 g of lye less."""
        account = account_with(10, 25, "sodium carbonate", sodium_carbonate=20)
        trusted = trust(account, 10.9, 25)
        assert trusted.bath.carbonate == account.bath.carbonate
        assert trusted.bath.strong_anions > 0
        assert trusted.trusted_g == pytest.approx(-39.997 * trusted.bath.strong_anions, rel=1e-3)
        assert trusted.trusted_g == pytest.approx(free_alkali_g(trusted) - free_alkali_g(account), rel=1e-3)
        assert predict(trusted).pH == pytest.approx(10.9, abs=0.01)

    def test_below_what_taking_alkali_out_can_reach(self) -> None:
        """Plain lye cannot read 5; the account then counts acid in."""
        trusted = trust(account_with(10, 25, sodium_hydroxide=4), 5.0, 25)
        assert predict(trusted).pH == pytest.approx(5.0, abs=0.05)


@given(
    st.lists(
        st.sampled_from(["lye", "reducer", "water", "out", "air", "dip", "warm"]), max_size=8
    )
)  # fmt: skip
def test_indigo_is_neither_made_nor_lost(deeds: list[str]) -> None:
    """Whatever is done but taking liquor or dye out, the indigotin stays the same, and the pH can be worked out."""
    vat = vat_with()
    account, kept = vat.account, vat.account.indigotin_g
    for deed in deeds:
        account, share = _done(deed, account, vat.plan)
        kept *= share
    assert account.indigotin_g == pytest.approx(kept, rel=1e-6)
    assert 0 < predict(account).pH < 15


def _done(deed: str, account: Account, plan: Plan) -> tuple[Account, float]:
    """Do one thing; give the account and the share of indigo that stays."""
    if deed == "out":
        return without(account, account.litres / 3), 2 / 3
    if deed == "dip":
        after = dipped(account, account.indigotin_g / 4, 0, 0.1, 20)
        return after, after.indigotin_g / account.indigotin_g
    ways = {
        "lye": lambda: with_powder(account, plan, "lye", 2.0),
        "reducer": lambda: with_powder(account, plan, "reducer", 1.0),
        "water": lambda: with_water(account, 1.5, 30),
        "air": lambda: aired(account, 300),
        "warm": lambda: warmed(account, 35),
    }
    return ways[deed](), 1.0


@pytest.mark.parametrize(
    ("method", "pH", "words"),
    [
        ("tdo-lye", 10.0, "Less lye"),
        ("tdo-lye", 12.3, "More lye"),
        ("tdo-lime", 10.0, "Less slaked lime"),
        ("tdo-soda", 9.5, "Acid binds soda ash"),
    ],
)
def test_a_pH_puts_right_the_alkali_that_the_vat_has(method: str, pH: float, words: str) -> None:
    """In grams of what lies on her table: a gram of lye is 0.926 g of lime, or 2.65 g of soda ash to bicarbonate."""
    trusted = trust(vat_with(Reading(), method=method, lots__a__fibre="cotton").account, pH, 45)
    said, grams = trusted_words(trusted)
    assert said == words
    per_lye = {"Less slaked lime": 74.09 / 2 / 40.0, "Acid binds soda ash": 105.99 / 40.0}.get(said, 1.0)
    assert grams == pytest.approx(abs(trusted.trusted_g) * per_lye, rel=0.001)


@pytest.mark.parametrize("method", ["fructose-lime", "plant-lime"])
@pytest.mark.parametrize("pH", [8.2, 9.6])
def test_a_lime_vat_read_lower_than_all_its_sugar_can_bring_it_keeps_its_sugar(method: str, pH: float) -> None:
    """A hexose gives two acids at most, and there is lime for them: such a pH tells of lime that is not there."""
    account = vat_with(method=method, lots__a__fibre="linen").account
    kind = REDUCERS["fructose" if method == "fructose-lime" else "plant sugar"]
    read = trust(account, pH, 25.0)
    assert predict(read).pH_25 == pytest.approx(pH, abs=0.02)
    assert getattr(read.bath, kind.total) == getattr(account.bath, kind.total)


def test_no_more_acid_is_said_to_come_of_sugar_than_it_can_give() -> None:
    """A hexose gives two acids at most: pH 9.8 in a fruit vat full of lime is more than its sugar can have done."""
    vat = vat_with(Reading(temperature=Amount(24, "degC"), pH=9.8), method="plant-lime", lots__a__fibre="cotton")
    compared = compare(vat.account, vat.reading)
    assert compared is not None
    (words,) = [words for words in compared.explanations if words.startswith("Acid has formed")]
    (share,) = (float(number) for number in re.findall(r"\d+", words))
    wanted = -compared.lye_g / 40.00  # NaOH, g/mol
    assert share <= 100 * 2 * vat.account.bath.plant_sugar / wanted < 100


def test_clear_liquor_leaves_the_lime_at_the_bottom() -> None:
    """10 g of lime in 4 L at 25 °C: 6 g dissolve (1.5 g/L [Bates1956]), 4 g lie there; 1 L of the clear takes 1.5 g."""
    account = account_with(4, 25, alkali="calcium hydroxide", calcium_hydroxide=10)
    lies = predict(account).undissolved_lime_g
    assert lies == pytest.approx(10 - 4 * 0.0203 * 74.09, abs=0.4)
    after = predict(without(account, 1))
    assert after.undissolved_lime_g == pytest.approx(lies, rel=0.01)
    assert after.pH == pytest.approx(predict(account).pH, abs=0.01)
