"""The end of a vat: never acid before it is blue, never a dose from pH alone."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import plan_with
from tests.vat.vats import METHODS, account_with, grams_for, vat_with

from vatside.catalogue.looks import Colour
from vatside.chemistry.adjust import acid_for_pH, alkali_for_pH, spent_and_cool
from vatside.chemistry.bath import add_vinegar, aerate
from vatside.chemistry.liquor import open_to_air, solve
from vatside.plan.measures import powder
from vatside.recipe.baths import put_in
from vatside.units import Amount
from vatside.vat.account import Account
from vatside.vat.reading import PHBy, Reading
from vatside.vat.spent import (
    Acid,
    PHRange,
    dose_by_account,
    may_go,
    not_yet,
    put_right,
    ready_for_acid,
    spent_pH,
    takes_acid,
)
from vatside.vat.titration import dose_by_sample, sample_end, sample_steps

PLAN = plan_with()


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("acid", Acid)
def test_the_dose_brings_it_to_the_target(method: str, acid: Acid) -> None:
    """Oxidised and given the dose, the vat stands at pH 8 at 25 degrees; of lime citric acid leaves some to vinegar."""
    vat = vat_with(method=method, lots__a__fibre="cotton")
    dose = dose_by_account(vat.account, vat.plan, acid)
    assert dose.grams > 0
    neutralised = put_in(spent_and_cool(takes_acid(vat.account).bath), powder(vat.plan, acid.value), dose.grams)
    pH = solve(neutralised).pH
    assert pH > 8 if dose.then_vinegar else pH == pytest.approx(8, abs=0.1)


def test_the_dyers_own_range() -> None:
    """Local rules that want pH 7 take more acid than pH 9 does."""
    account = vat_with(lots__a__fibre="cotton").account
    low = dose_by_account(account, PLAN, Acid.VINEGAR, PHRange(6, 8, 7))
    high = dose_by_account(account, PLAN, Acid.VINEGAR, PHRange(6, 9, 9))
    assert low.millilitres > high.millilitres


@pytest.mark.parametrize("limits", [(6, 9, 10), (6, 9, 5), (0, 9, 8), (6, 15, 8)])
def test_a_range_that_cannot_be(limits: tuple[float, float, float]) -> None:
    """The pH aimed at lies inside the range, and the range inside the scale."""
    with pytest.raises(ValueError, match="pH"):
        PHRange(*limits)


def test_stronger_vinegar_takes_less() -> None:
    """Of 8 % vinegar five eighths are enough."""
    account = vat_with().account
    usual = dose_by_account(account, PLAN, Acid.VINEGAR)
    strong = dose_by_account(account, plan_with(shelf__vinegar__purity="8 %"), Acid.VINEGAR)
    assert strong.millilitres == pytest.approx(usual.millilitres * 5 / 8, rel=0.001)


def lime_vat(litres: float = 1.0, **more: float) -> Account:
    """Give a vat over lime, 10 g of it in each litre, with a little dye that is blue."""
    account = account_with(litres, 25, "calcium hydroxide", calcium_hydroxide=10 * litres, indigotin=0.1 * litres)
    return evolve(account, bath=evolve(account.bath, **more))


def test_lime_at_the_bottom_does_not_count() -> None:
    """Saturated lime holds 20.1 to 20.5 mmol of it in a kg at 25 degrees (Bates): 41 mmol of hydroxide, 49 mL a litre.

    8.5 g lie below it and take 51 mL at 6 mL a gram, so 0.95 L are poured off.
    """
    dose = dose_by_account(lime_vat(), PLAN, Acid.VINEGAR)
    assert dose.clear_l == pytest.approx(0.95, abs=0.01)
    assert dose.millilitres == pytest.approx(0.95 * 41 / 0.8326, rel=0.05)
    assert "poured off the lime" in dose.text


def test_acid_into_the_clear_is_acid_in_the_clear() -> None:
    """With half of it in, half is left to give, though the account still has all its lime."""
    whole = dose_by_account(lime_vat(), PLAN, Acid.VINEGAR).millilitres
    half = evolve(lime_vat(), bath=add_vinegar(lime_vat().bath, whole / 2))
    assert dose_by_account(half, PLAN, Acid.VINEGAR).millilitres == pytest.approx(whole / 2, rel=0.06)


def test_acid_that_went_onto_the_lime_is_asked_for_again() -> None:
    """Who stirred the sludge up reads pH 12.3 after all her acid: the reading counts, and the dose begins anew."""
    whole = dose_by_account(lime_vat(), PLAN, Acid.VINEGAR).millilitres
    soured = evolve(lime_vat(), bath=add_vinegar(lime_vat().bath, whole))
    right = put_right(soured, Reading(pH=12.3, pH_by=PHBy.METER), PHRange())
    assert dose_by_account(right, PLAN, Acid.VINEGAR).millilitres > 0.4 * whole


def test_from_a_titrated_sample() -> None:
    """3.2 mL for 100 mL are 0.64 L for 20 L: t × V ÷ 100."""
    dose = dose_by_sample(100, 3.2, 20, PLAN, Acid.VINEGAR)
    assert dose.millilitres == pytest.approx(640)
    assert "640 mL of vinegar" in dose.text
    assert "from your sample" in dose.text


def test_a_sample_by_citric_acid() -> None:
    """0.15 g for 100 mL are 30 g for 20 L."""
    assert dose_by_sample(100, 0.15, 20, PLAN, Acid.CITRIC).grams == pytest.approx(30)


def test_account_and_sample_agree() -> None:
    """A sample of the same liquor, titrated, gives the dose of the account."""
    account = account_with(20, 25, sodium_hydroxide=20)
    whole = dose_by_account(account, PLAN, Acid.VINEGAR)
    sample = dose_by_account(account_with(0.1, 25, sodium_hydroxide=0.1), PLAN, Acid.VINEGAR)
    scaled = dose_by_sample(100, sample.millilitres, 20, PLAN, Acid.VINEGAR)
    assert scaled.millilitres == pytest.approx(whole.millilitres, rel=0.001)


def test_a_spent_vat_that_needs_no_acid() -> None:
    """Plain water takes none."""
    dose = dose_by_account(account_with(10), PLAN, Acid.VINEGAR)
    assert dose.grams == 0
    assert "no acid" in dose.text


def test_a_reading_that_disagrees_puts_the_spent_account_right() -> None:
    """Worked out at pH 12.6 and read as 11.0 at 25 degrees, about 1 mmol of lye in a litre is left, not 50."""
    account = account_with(1, 25, sodium_hydroxide=grams_for("sodium hydroxide", 50))
    right = put_right(account, Reading(pH=11.0, pH_by=PHBy.METER), PHRange())
    assert solve(right.bath).pH == pytest.approx(11.0, abs=0.01)
    assert dose_by_account(right, PLAN, Acid.VINEGAR).millilitres == pytest.approx(1.05 / 0.8326, rel=0.1)


def test_a_cooled_sample_puts_a_warm_vat_right_at_the_warmth_of_the_sample() -> None:
    """Lye of pH 11.0 in a sample at 25 degrees stands a good half lower at 45: read cold, it is 11.0 cold."""
    account = account_with(1, 45, sodium_hydroxide=grams_for("sodium hydroxide", 50))
    right = put_right(account, Reading(pH=11.0, pH_by=PHBy.METER, pH_temperature=Amount(25, "degC")), PHRange())
    assert solve(right.bath, 25).pH == pytest.approx(11.0, abs=0.01)
    assert solve(right.bath).pH < 10.6


def test_a_reading_of_lime_water_stands_for_the_clear_alone() -> None:
    """Lime water reads the same however much lies below it, and as much acid neutralises what is poured off."""
    read = Reading(pH=round(solve(lime_vat().bath).pH, 1), pH_by=PHBy.METER)
    doses = [
        dose_by_account(put_right(vat, read, PHRange()), PLAN, Acid.VINEGAR).millilitres
        / dose_by_account(vat, PLAN, Acid.VINEGAR).clear_l
        for vat in (lime_vat(), account_with(1, 25, "calcium hydroxide", calcium_hydroxide=5, indigotin=0.1))
    ]
    assert doses[0] == pytest.approx(doses[1], rel=0.02)


def test_a_reading_above_the_range_never_means_no_acid() -> None:
    """A strip at 9.2 agrees with 8.8 within its error; where the range ends at 9 the strip counts."""
    lye = alkali_for_pH(account_with(10).bath, 8.8, "sodium hydroxide")
    right = put_right(account_with(10, 25, sodium_hydroxide=lye), Reading(pH=9.2, pH_by=PHBy.STRIP), PHRange())
    assert solve(right.bath).pH == pytest.approx(9.2, abs=0.01)


def test_the_pH_to_expect_once_spent() -> None:
    """Of 50 mmol of lye 10 mmol of thiourea dioxide leave 30 as sulphate forms: about pH 12.4, not 12.6."""
    account = account_with(
        1, 25, sodium_hydroxide=grams_for("sodium hydroxide", 50), thiourea_dioxide=grams_for("thiourea dioxide", 10)
    )
    alone = account_with(1, 25, sodium_hydroxide=grams_for("sodium hydroxide", 30))
    assert spent_pH(account) == pytest.approx(solve(alone.bath).pH, abs=0.05)


def test_not_let_go_without_a_pH_or_out_of_range() -> None:
    """No pH, a pH above the range and a warm vat are refused, though not for good; within it nothing is."""
    for pH, t_C in ((None, 20), (9.9, 20), (8.0, 45)):
        block = not_yet(pH, t_C, PHRange())
        assert block is not None
        assert not block.final
    assert not_yet(8.0, 20, PHRange()) is None


@pytest.mark.parametrize("colour", [Colour.YELLOW_GREEN, Colour.GREEN, Colour.AMBER])
def test_a_yellow_or_green_liquor_is_still_alive(colour: Colour) -> None:
    """What was said to be spent and looks alive is refused."""
    found = ready_for_acid(Reading(colour=colour), "chokes", seen_spent=True)
    assert found is not None
    assert found.final
    assert "stir" in found.instead


def test_not_seen_to_stay_blue_is_refused() -> None:
    """The dyer has to say that it stayed blue."""
    assert ready_for_acid(None, "chokes", seen_spent=False) is not None
    assert ready_for_acid(Reading(colour=Colour.BLUE), "chokes", seen_spent=True) is None


@pytest.mark.parametrize(
    ("pH", "t_C", "said"),
    [
        (8.0, 20, ()), (12.5, 20, ("hazardous",)), (12.4, 20, ("more acid",)), (9.5, 20, ("more acid",)),
        (5.5, 20, ("soda",)), (8, 45, ("cool",)),
    ],
)  # fmt: skip
def test_what_stands_in_the_way(pH: float, t_C: float, said: tuple[str, ...]) -> None:
    """Outside the dyer's range, or warm, it stays where it is."""
    words = may_go(pH, t_C)
    assert len(words) == len(said)
    assert all(word in line for word, line in zip(said, words, strict=True))


def test_spent_reducer_eats_alkali() -> None:
    """Aired, 10 mmol of dithionite end as 20 of sulphate: of 50 mmol lye and its own 20 of sodium 30 are left."""
    account = account_with(
        1, 25, sodium_hydroxide=grams_for("sodium hydroxide", 50), sodium_dithionite=grams_for("sodium dithionite", 10)
    )
    dose = dose_by_account(account, PLAN, Acid.VINEGAR)
    assert dose.millilitres == pytest.approx(30 / 0.8326, rel=0.01)


def soda_vat() -> Account:
    """20 L with 40 g of soda ash and 12 g of dithionite (88 %), the vat of the published rows below."""
    return account_with(20, 25, sodium_carbonate=40, sodium_dithionite=12 * 0.88)


def test_a_soda_vat_is_dosed_by_its_alkalinity() -> None:
    """Vinegar L = (alkalinity mol − 0.005 × L) ÷ 0.8326: 641 mL, and not the 312 that read 8.0 at first."""
    dose = dose_by_account(soda_vat(), PLAN, Acid.VINEGAR)
    assert dose.millilitres == pytest.approx(641, abs=6)
    assert "the next day" in dose.text
    assert "fizz" in dose.text


def test_a_soda_vat_stays_in_the_range_overnight() -> None:
    """PHREEQC: 312 mL drift to 9.29 in the air, out of the range; 641 mL to 8.80."""
    vat = soda_vat()
    dose = dose_by_account(vat, PLAN, Acid.VINEGAR)
    assert dose.next_day_pH == pytest.approx(8.80, abs=0.06)
    spent = aerate(vat.bath)
    assert solve(open_to_air(add_vinegar(spent, 312))).pH == pytest.approx(9.288, abs=0.06)


@pytest.mark.parametrize("acid", Acid)
def test_a_sample_of_a_soda_vat_says_where_it_ends(acid: Acid) -> None:
    """To pH 8 it takes 312 of 641 mL (PHREEQC, the published rows), 49 %: it is told to go on below that."""
    end = sample_end(soda_vat(), acid)
    assert end.share_at_target == pytest.approx(312 / 641, abs=0.02)
    last = sample_steps(end, 8.0)[-1]
    assert f"Stop at pH {end.pH:.1f}" in last
    assert "not at 8: there it has taken only about 49 % of the acid" in last
    soured = put_in(
        spent_and_cool(soda_vat().bath), powder(PLAN, acid.value), dose_by_account(soda_vat(), PLAN, acid).grams
    )
    assert solve(soured).pH == pytest.approx(end.pH, abs=0.06)


def test_a_sample_of_a_soda_vat_gives_the_dose_of_its_account() -> None:
    """What 100 mL take to that pH, times the litres and ten, are the 641 mL of the published row."""
    sample = account_with(0.1, 25, sodium_carbonate=0.2, sodium_dithionite=0.06 * 0.88)
    end = sample_end(soda_vat(), Acid.VINEGAR)
    took = acid_for_pH(spent_and_cool(sample.bath), end.pH, "vinegar")
    dose = dose_by_sample(100, took, 20, PLAN, Acid.VINEGAR, end)
    assert dose.millilitres == pytest.approx(641, rel=0.02)
    assert f"to pH {end.pH:.1f} at first (from your sample)" in dose.text
    assert "drifts up to about 8.8" in dose.text


def test_a_sample_of_a_lye_vat_ends_at_the_pH_aimed_at() -> None:
    """Nothing drifts: it stops at 8, and nothing is said of soda."""
    end = sample_end(account_with(20, 25, sodium_hydroxide=20), Acid.VINEGAR)
    assert (end.pH, end.next_day_pH) == (8.0, None)
    assert sample_steps(end, 8.0)[-1].startswith("Stop at pH 8, measured cold. What")


def test_a_sample_of_a_lye_vat_is_counted_in_drops() -> None:
    """100 mL with 0.02 g of spare lye, as a spent vat has, take less than a millilitre of vinegar in all.

    By hand: 0.02 g / 40 g/mol = 0.5 mmol, of vinegar with 0.83 mmol/mL 0.6 mL; some 20 drops a mL, from memory.
    """
    sample = account_with(0.1, 25, sodium_hydroxide=0.02)
    assert dose_by_account(sample, PLAN, Acid.VINEGAR).millilitres == pytest.approx(0.6, abs=0.05)
    assert "by the drop" in sample_steps(sample_end(sample, Acid.VINEGAR), 8.0)[1]


def test_a_lye_vat_does_not_drift_out_of_its_range() -> None:
    """Neutralised to 8 it stays where it is, or falls."""
    assert dose_by_account(account_with(20, 25, sodium_hydroxide=20), PLAN, Acid.VINEGAR).next_day_pH is None


def test_citric_acid_stops_short_of_the_lime() -> None:
    """40 g of slaked lime and 0.333 mol of sugar acids in 20 L take 47.8 g of citric acid: 45.4 are given at most."""
    vat = account_with(20, 25, "calcium hydroxide", calcium_hydroxide=40)
    eaten = evolve(vat, bath=evolve(vat.bath, strong_anions=0.333))
    dose = dose_by_account(eaten, PLAN, Acid.CITRIC)
    assert dose.grams * 0.995 <= 0.95 * 47.8 * 1.002
    assert dose.grams * 0.995 == pytest.approx(0.95 * 47.8, rel=0.02)
    assert "then vinegar" in dose.text
    assert dose_by_account(eaten, PLAN, Acid.VINEGAR).millilitres == pytest.approx(897, rel=0.02)


def test_a_narrow_range_leaves_less_alkalinity() -> None:
    """Rules that end at 8.5 take more vinegar than those that end at 9, and the vat stays below either overnight."""
    doses = [dose_by_account(soda_vat(), PLAN, Acid.VINEGAR, PHRange(6, high, 8)) for high in (8.5, 9)]
    assert doses[0].millilitres > doses[1].millilitres
    assert doses[0].next_day_pH is not None
    assert doses[0].next_day_pH <= 8.5
