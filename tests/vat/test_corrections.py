"""What to do about a finding: amounts for this vat, a try-out, the wait, and what forbids it."""

from __future__ import annotations

import re
from functools import cache

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import plan_with
from tests.vat.vats import FIBRES, METHODS, READINGS, account_with, vat_with

from vatside.catalogue.findings import rows
from vatside.catalogue.load import methods
from vatside.chemistry.adjust import alkali_for_pH, alkali_grams
from vatside.chemistry.bath import add_grams, aerate, water_bath
from vatside.chemistry.errors import CannotReach
from vatside.chemistry.liquor import solve
from vatside.outlook.vat_deeds import as_proposed
from vatside.plan.measures import powder
from vatside.recipe.baths import Dose, vat_bath
from vatside.recipe.compute import compute
from vatside.recipe.sizing import size_of
from vatside.units import Amount, Kind, fits, to_base
from vatside.vat.account import at_volume, predict, warmed, with_powder, with_stock
from vatside.vat.corrections import Correction, Vat, as_read, corrections
from vatside.vat.diagnosis import Finding, applies
from vatside.vat.dosing import feed, ice_kg, sample_text, step, steps_of, thinning, to_pH, warming
from vatside.vat.interlocks import Block
from vatside.vat.reading import PHBy, Reading


def finding(key: str) -> Finding:
    """Give a row as if it had been found for sure."""
    row = rows()[key]
    return Finding(key, row.name, row.axis, 1.0, ("seen",), (), row.means, row.source)


def one(key: str, remedy: str, vat: Vat) -> Correction:
    """Give one correction by the id of its remedy."""
    return next(item for item in corrections(finding(key), vat) if item.remedy == remedy)


def by_lye(reading: Reading) -> Vat:
    """Give a wool vat that was made with lye alone."""
    held = {"vat__alkali": "5 g", "vat__soda-ash": "0 g", "vat__baking-soda": "0 g"}
    return vat_with(reading, **held)


def sure(vat: Vat) -> Vat:
    """Give a vat whose pH was read twice."""
    return evolve(vat, confirmed=True)


def at(celsius: float) -> Amount:
    """Degrees C."""
    return Amount(celsius, "degC")


def test_grams_for_this_vat() -> None:
    """0.28 g/L of dithionite is less than 0.66 × 2.59 g for the dye and 0.23 g/L for the air: 7.2 g at 88 %."""
    vat = vat_with(method="dithionite-lye", lots__a__fibre="cotton")
    found = one("air-in", "dithionite", vat)
    assert found.grams == pytest.approx((174.107 / 262.267 * 2.594 + 0.23 * vat.account.litres) / 0.88, rel=1e-3)
    assert found.text == "Give it 7.2 g (1 1/4 tsp) of reducer"
    assert found.wait_min == 30
    assert found.wait_label == "Reducer at work"
    assert found.cautions == ("reducer",)
    assert found.source == "Reactions"


@pytest.mark.parametrize(
    ("key", "blue"),
    [("air-in", 1.0), ("short-of-reducer", 0.33), ("grey", 0.33)],
)
def test_reducer_for_the_dye_that_is_blue_again(key: str, blue: float) -> None:
    """A vat of 0.72 g/L that is all blue takes 0.412 g of thiourea dioxide a gram, and 0.1 g/L for the air to come."""
    vat = vat_with(stock__pigment="36.4 g", lots__a__fibre="cotton")
    found = next(item for item in corrections(finding(key), vat) if item.material == "thiourea-dioxide")
    account = vat.account
    assert account.strength == pytest.approx(0.72, rel=0.03)
    by_hand = 108.12 / 262.27 * blue * account.indigotin_g + 0.1 * account.litres
    assert found.grams == pytest.approx(by_hand / 0.99, rel=1e-3)


def test_lye_goes_along_with_it() -> None:
    """Two hydroxide a mole: 0.740 g of lye a gram of pure thiourea dioxide, 99 % pure both."""
    (reducer,) = corrections(finding("air-in"), vat_with(stock__pigment="36.4 g", lots__a__fibre="cotton"))
    (lye,) = reducer.along
    assert (reducer.material, lye.material) == ("thiourea-dioxide", "lye")
    assert lye.grams == pytest.approx(0.740 * reducer.grams, rel=1e-3)


@pytest.mark.parametrize("method", ["tdo-soda", "dithionite-soda", "dithionite-lye"])
def test_soda_for_wool_is_one_way_with_its_reducer(method: str) -> None:
    """Three powders, one way: soda ash and baking soda go in before the reducer, and none of them is a choice."""
    found = corrections(finding("short-of-reducer"), vat_with(method=method, lots__a__fibre="wool"))
    assert [[one.material for one in way.along] for way in found] == [["soda-ash", "baking-soda"]]


def test_what_the_account_has_as_blue_counts_where_it_is_more() -> None:
    """A vat that stood for a fortnight is blue by its account, so that green is dosed as blue."""
    vat = vat_with(stock__pigment="36.4 g", lots__a__fibre="cotton")
    spent = evolve(vat, account=evolve(vat.account, bath=aerate(vat.account.bath)))
    green, blue = (
        next(item for item in corrections(finding(key), spent) if item.material == "thiourea-dioxide").grams
        for key in ("short-of-reducer", "air-in")
    )
    assert green == pytest.approx(blue)


def test_spoons_first_where_there_is_no_scale() -> None:
    """A plan measured by spoons prints them first."""
    vat = vat_with(method="dithionite-lye", measure="spoons")
    assert "1 1/4 tsp (7.2 g)" in one("air-in", "dithionite", vat).text


def test_the_range_that_is_usual() -> None:
    """2 to 3 g/L of fructose in a lime vat of little dye: what is usual is more than the dye takes, so it is said."""
    vat = vat_with(method="fructose-lime", lots__a__fibre="cotton")
    low, high = (share * vat.account.litres / powder(vat.plan, "reducer").purity for share in (2, 3))
    assert one("air-in", "fructose", vat).beside == f"Usual is {low:.1f} g to {high:.1f} g for this vat."


def test_the_dye_and_the_air_are_said_apart() -> None:
    """0.412 × 2.59 g of dye and 0.1 g/L in 20.2 L, 99 % pure: 1.1 and 2.0 g."""
    said = one("air-in", "thiourea-dioxide", vat_with()).beside
    assert said == "1.1 g for the dye that is blue again, 2.0 g for the air to come."


def test_a_cold_vat_is_warmed_before_its_reducer() -> None:
    """Thiourea dioxide works from 45 degrees on; at 41 that is said first, at 47, or hardly short of 45, not."""
    assert "45 °C first" in one("air-in", "thiourea-dioxide", vat_with(Reading(temperature=at(41)))).first
    assert one("air-in", "thiourea-dioxide", vat_with(Reading(temperature=at(47)))).first == ""
    assert one("air-in", "thiourea-dioxide", vat_with(Reading(temperature=at(44.9)))).first == ""


def test_half_a_litre_first() -> None:
    """3.1 g in 20.2 L is 0.077 g for half a litre: 7.7 mL of a gram in 100 mL."""
    assert "7.7 mL of 1 g dissolved in 100 mL" in one("air-in", "thiourea-dioxide", vat_with()).sample


def test_a_weighable_try_out_is_weighed() -> None:
    """2.5 g/L of fructose is 1.2 g for half a litre."""
    vat = vat_with(method="fructose-lime", lots__a__fibre="cotton")
    assert "first: 1.2 g" in one("air-in", "fructose", vat).sample


def test_lime_is_tried_as_milk() -> None:
    """Lime does not dissolve in 100 mL; it is shaken up."""
    vat = vat_with(method="fructose-lime", lots__a__fibre="cotton")
    assert "milk" in one("sugar-acids", "lime", vat).sample


def test_how_lye_goes_in() -> None:
    """Lye into cold water, in at least 100 mL, never the other way round."""
    found = one("short-of-alkali", "lye", vat_with(method="dithionite-lye", lots__a__fibre="cotton"))
    assert "100 mL of cold water" in found.how
    assert "never water onto lye" in found.how
    assert found.cautions == ("lye",)


def test_soda_for_wool_and_lye_for_cotton() -> None:
    """0.3 g/L of soda ash for wool and silk, 0.1 g/L of lye otherwise (common practice, no source).

    What brings it to its window is soda ash too.
    """
    low = Reading(temperature=at(47), pH=8.0, pH_by=PHBy.METER)
    wool = corrections(finding("short-of-alkali"), sure(vat_with(low)))
    cotton = corrections(finding("short-of-alkali"), sure(vat_with(low, lots__a__fibre="cotton")))
    assert {item.remedy for item in wool} == {"alkali-to-window", "soda"}
    assert {item.material for item in wool} == {"soda-ash"}
    assert {item.remedy for item in cotton} == {"alkali-to-window", "lye"}


@pytest.mark.parametrize("fibre", FIBRES)
@pytest.mark.parametrize("method", ["tdo-lye", "dithionite-lye"])
def test_alkali_to_the_window_gets_there(fibre: str, method: str) -> None:
    """Given to the vat as it was read, the worked-out lye, or soda ash, brings it to the fibre's target."""
    vat = vat_with(Reading(temperature=at(45), pH=8.3, pH_by=PHBy.METER), method=method, lots__a__fibre=fibre)
    found = one("short-of-alkali", "alkali-to-window", vat)
    after = with_powder(as_read(vat), vat.plan, found.material, found.grams)
    assert predict(after).pH == pytest.approx(vat.setting.window.target, abs=0.02)
    assert f"pH {vat.setting.window.target:g}" in found.text
    assert found.material == ("lye" if fibre == "cotton" else "soda-ash")
    assert "table's flat amount" in found.beside


def test_far_from_the_table_it_says_to_go_slow() -> None:
    """Where chemistry wants more than twice the table, the table's amount goes in first, and no other is named."""
    for by in PHBy:
        low = Reading(temperature=at(45), pH=7.5, pH_by=by)
        vat = vat_with(low, lots__a__fibre="cotton", method="dithionite-lye")
        found = one("short-of-alkali", "alkali-to-window", vat)
        assert "Give that first and read again" in found.beside
        assert "give half" not in found.beside


def test_a_strip_gives_half() -> None:
    """A dose from a strip is given by halves."""
    low = Reading(temperature=at(45), pH=8.5, pH_by=PHBy.STRIP)
    found = one("short-of-alkali", "alkali-to-window", vat_with(low, lots__a__fibre="cotton"))
    assert "give half" in found.beside


def test_acid_into_a_living_vat_carries_its_refusal() -> None:
    """Vinegar into a thiourea dioxide vat is blocked; baking soda, and thinning it, are offered beside it."""
    high = Reading(temperature=at(45), pH=11.9, pH_by=PHBy.METER)
    found = corrections(finding("too-alkaline"), sure(vat_with(high, lots__a__fibre="cotton")))
    assert isinstance(found[-1].guard, Block)
    assert [way.remedy for way in found[:2]] == ["baking-soda", "thin"]
    assert found[0].guard is found[1].guard is None


def test_no_acid_to_a_target_below_nine() -> None:
    """A window that aims below pH 9 gets no amount of acid at all."""
    vat = vat_with(Reading(temperature=at(45), pH=11.0, pH_by=PHBy.METER))
    low = evolve(vat, setting=evolve(vat.setting, window=evolve(vat.setting.window, target=8.8)))
    found = one("too-alkaline", "vinegar", low)
    assert isinstance(found.guard, Block)
    assert found.guard.final
    assert found.grams == 0


def test_thinning_by_half() -> None:
    """0.8 g/L of lye is thinned to 0.4 g/L by its own volume of water: 12.24 to 11.95 at 25 degrees."""
    account = account_with(5, 25, sodium_hydroxide=4)
    target = solve(add_grams(water_bath(10, 25), "sodium hydroxide", 4)).pH
    found = thinning(account, plan_with(), target)
    assert found is not None
    assert found.litres == pytest.approx(5, rel=0.01)
    assert found.strength == pytest.approx(0.5, rel=0.01)
    assert found.exchanged == 0


def test_a_full_tub_is_thinned_in_exchange() -> None:
    """Twenty litres in a 24 L tub: half of it comes out and is replaced."""
    account = account_with(20, 25, sodium_hydroxide=16)
    found = thinning(account, plan_with(), 11.95)
    assert found is not None
    assert found.litres == 0
    assert found.exchanged == pytest.approx(10, rel=0.03)


def test_never_more_than_a_third_at_once() -> None:
    """Half of the strength to go: two steps, the first of which replaces a third of twenty litres."""
    account = account_with(20, 25, sodium_hydroxide=16)
    whole = thinning(account, plan_with(), 11.95)
    assert whole is not None
    first = step(whole, account, plan_with())
    assert first.exchanged == pytest.approx(20 / 3)
    assert first.strength == pytest.approx(2 / 3)
    assert first.pH == pytest.approx(solve(add_grams(water_bath(15, 25), "sodium hydroxide", 8)).pH)
    assert steps_of(whole) == 2


def test_little_thinning_is_one_step() -> None:
    """What takes less than a third of the strength is done at once."""
    account = account_with(20, 25, sodium_hydroxide=16)
    whole = thinning(account, plan_with(), 12.15)
    assert whole is not None
    assert step(whole, account, plan_with()) is whole
    assert steps_of(whole) == 1


@pytest.mark.parametrize("pH", [10.6, 10.8, 11.2])
def test_a_wool_vat_far_too_alkaline_is_thinned_in_steps(pH: float) -> None:
    """At most a third of the vat comes out at once, however far it is to the window of wool."""
    vat = by_lye(Reading(temperature=at(45), pH=pH, pH_by=PHBy.METER))
    found = one("too-alkaline", "thin", sure(vat))
    assert found.exchanges
    assert found.litres == pytest.approx(vat.account.litres / 3, rel=0.002)
    assert "such steps" in found.beside


def test_a_wool_vat_far_too_alkaline_can_be_kept_for_cotton() -> None:
    """Beside the thinning stand the ways that lose nothing; a cotton vat has none such."""
    high = Reading(temperature=at(45), pH=11.2, pH_by=PHBy.METER)
    ways = {item.remedy for item in corrections(finding("too-alkaline"), sure(by_lye(high)))}
    assert {"baking-soda", "thin", "for-cotton"} <= ways
    cotton = corrections(finding("too-alkaline"), sure(vat_with(high, lots__a__fibre="cotton")))
    assert "for-cotton" not in {item.remedy for item in cotton}


def test_what_thinning_cannot_do() -> None:
    """Thirty times the water does not bring strong lye to 9.8; nothing is to be thinned below its window."""
    with pytest.raises(CannotReach):
        thinning(account_with(20, 25, sodium_hydroxide=80), plan_with(), 9.8)
    assert thinning(account_with(20, 25, sodium_hydroxide=0.1), plan_with(), 11.5) is None


def test_stock_by_the_formula() -> None:
    """L × (target − now) ÷ stock: from half to full strength, the volume of the stock counted."""
    vat = vat_with(vat__stock="500 mL")
    account, full = vat.account, 2 * vat.account.strength
    found = feed(account, vat.plan, full)
    by_hand = account.litres * (full - account.strength) / (account.stock_strength - full)
    assert found.litres == pytest.approx(min(by_hand, account.stock_litres), rel=1e-6)
    assert with_stock(account, found.litres).strength == pytest.approx(full, rel=0.03)


def test_no_stock_left_means_new_powder() -> None:
    """A jar that is empty and half of the dye gone: that half as powder, 40 % pure."""
    vat = vat_with()
    lean = evolve(vat.account, bath=evolve(vat.account.bath, leuco=vat.account.bath.leuco / 2))
    found = one("used-up", "stock", evolve(vat, account=lean))
    grams = vat.setting.strength * vat.account.litres / 2 / 0.4
    assert f"{grams:.1f} g" in found.text
    assert "new stock" in found.text


def test_what_is_not_short_is_not_restocked() -> None:
    """Pale after two dips, and the account full: another cause is looked for first, and nothing goes in."""
    found = corrections(finding("used-up"), vat_with())
    assert [(item.does, item.grams, item.litres) for item in found] == [("by hand", 0, 0)]
    assert "dye is not what it lacks" in found[0].text


def test_ice_or_a_cold_bath_for_a_vat_too_warm() -> None:
    """20.2 L from 58 to 50 °C: 19.9 kg × 4.18 × 8 ÷ (334 + 4.18 × 50) = 1.2 kg of ice, in bottles."""
    vat = vat_with(Reading(temperature=at(58)))
    found = corrections(finding("too-warm"), vat)[0]
    assert "cold water" in found.text
    assert "1.2" in found.text
    assert ice_kg(as_read(vat), 50) == pytest.approx(19.9 * 4.18 * 8 / (334 + 4.18 * 50), rel=0.01)
    assert ice_kg(as_read(vat), 60) == 0


@given(st.sampled_from(FIBRES), st.sampled_from(METHODS), st.sampled_from(sorted(rows())), READINGS)
def test_what_goes_in_fits_the_tub(fibre: str, method: str, key: str, reading: Reading) -> None:
    """Water, vinegar and stock of every proposal have room, what is taken out first counted; and never half the vat."""
    vat = vat_of(fibre, method)
    if not applies(rows()[key], vat.setting):
        return
    for item in corrections(finding(key), evolve(vat, reading=reading)):
        event = as_proposed(item, vat.plan)
        poured, out = (sum(map(litres_of, amounts)) for amounts in (
            (event.water, event.stock, event.amount), (event.taken_out,)))  # fmt: skip
        account = as_read(evolve(vat, reading=reading))
        assert account.litres - out + poured <= size_of(vat.plan).tub * 1.001
        assert out <= 0.75 * account.litres


def litres_of(amount: Amount | None) -> float:
    """Give a volume in litres; nothing for a powder."""
    return to_base(amount, Kind.VOLUME) if amount is not None and fits(amount.unit, Kind.VOLUME) else 0.0


def test_vinegar_in_a_full_tub_takes_its_room_first() -> None:
    """Vinegar and ten times as much water: what the tub has no room for comes out, and the water counts."""
    vat = sure(vat_with(Reading(temperature=at(47), pH=10.0, pH_by=PHBy.METER)))
    full = evolve(vat, account=at_volume(vat.account, size_of(vat.plan).tub * 0.97))
    found = one("too-alkaline", "vinegar", full)
    event = as_proposed(found, full.plan)
    assert "out first (the tub has no room)" in found.text
    assert litres_of(event.taken_out) == pytest.approx(11 * litres_of(event.amount), abs=0.11)
    assert litres_of(event.water) == pytest.approx(10 * litres_of(event.amount), rel=0.01)


def test_heating_says_what_it_costs() -> None:
    """Too cold: the plan's temperature, hot water or hob, and the strength that is left."""
    found = one("too-cold", "warm", vat_with(Reading(temperature=at(41))))
    assert found.celsius == 47
    assert "47 °C" in found.text
    assert "before any reducer" in found.text
    assert "kettle water" in found.how
    assert "% of its strength" in found.how
    assert "hob" in found.beside
    assert found.litres == pytest.approx(20.2 * 6 / 48, rel=0.05)


@pytest.mark.parametrize(
    ("method", "low", "high"),
    [("tdo-lye", 30, 30), ("dithionite-lye", 30, 30), ("fructose-lime", 60, 180), ("copperas-lime", 240, 240)],
)
def test_waits_by_reducer(method: str, low: float, high: float) -> None:
    """30 min (Mairet 1938), 1 to 3 h for sugar, 4 h for iron (common practice, no source)."""
    found = corrections(finding("air-in"), vat_with(method=method, lots__a__fibre="cotton"))[0]
    assert (found.wait.low or found.wait.value, found.wait.high or found.wait.value) == (low, high)


@given(READINGS, st.sampled_from(FIBRES), st.sampled_from(METHODS), st.sampled_from(sorted(rows())))
def test_no_vat_makes_it_crash(reading: Reading, fibre: str, method: str, key: str) -> None:
    """Whatever was read, each applicable finding has corrections, in sentences, with sane amounts."""
    vat = vat_of(fibre, method)
    if not applies(rows()[key], vat.setting):
        key = "short-of-alkali"
    for item in corrections(finding(key), evolve(vat, reading=reading)):
        assert item.text
        assert "{" not in item.text + item.how + item.sample + item.beside
        assert 0 <= item.grams < 1e5
        assert item.wait_min >= 0


@cache
def vat_of(fibre: str, method: str) -> Vat:
    """A vat of each kind for each fibre, made once."""
    return vat_with(method=method, lots__a__fibre=fibre)


@pytest.mark.parametrize("target", [9.3, 10.0, 11.0])
@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("depth", ["0.1 %", "5 %"])
def test_the_quick_alkali_is_the_thorough_one(method: str, depth: str, target: float) -> None:
    """The search that a form can afford agrees with the chemistry's own to one in a thousand."""
    plan = plan_with(method=method, lots__a__depth=depth)
    bath = vat_bath(plan, compute(plan).value, alkali=False)
    name = "sodium hydroxide" if "lye" in method else "calcium hydroxide"
    assert alkali_grams(bath, target, name) == pytest.approx(alkali_for_pH(bath, target, name), rel=1e-3)


def test_vinegar_by_the_millimole() -> None:
    """50 g/L of acetic acid (60.05 g/mol) is 1.2 mL a millimole: 10 mmol from 0.02 to 0.01 mol/kg of lye.

    The salt that forms lowers the pH a little by itself, hence 5 %.
    """
    account = account_with(1, 25, sodium_hydroxide=0.02 * 39.997)
    dose = to_pH(account.bath, 11.950, powder(plan_with(), "vinegar"))
    assert dose.millilitres == pytest.approx(12.0, rel=0.05)
    assert "mL" in sample_text(plan_with(), dose, 1)


def tried(method: str, grams: float) -> str:
    """Give the try-out of a dose of a method's reducer in a vat of 4 L."""
    plan = plan_with(method=method, lots__a__fibre="cotton")
    return sample_text(plan, Dose(powder(plan, "reducer"), grams), 4.0)


def test_zinc_is_tried_as_dust_in_the_cold_under_a_loose_lid() -> None:
    """Metal does not dissolve; what would be 0.14 g is one of seven heaps; the jar is neither warm nor shut."""
    text = tried("zinc-lime", 1.1)
    assert "one of 7 even heaps of 1 g, wetted" in text
    assert "dissolved" not in text
    assert "never tight, no flame near" in text
    assert "warm and" not in text


def test_bran_is_tried_as_bran() -> None:
    """It does not dissolve either; gas comes off it."""
    assert "dissolved" not in tried("fermentation", 3)
    assert "never tight" in tried("fermentation", 3)


def test_a_cold_vat_is_tried_in_the_cold() -> None:
    """Copperas dissolves, in a jar as cold as its vat; thiourea dioxide wants it warm."""
    assert "at the warmth of the vat and covered" in tried("copperas-lime", 4)
    assert "warm and covered" in tried("tdo-lye", 4)


def test_too_little_to_part_is_not_tried() -> None:
    """A tenth of a gram for the whole vat is no heap that can be made."""
    assert "Too little" in tried("zinc-lime", 0.2)


@pytest.mark.parametrize("method", ["zinc-lime", "fermentation", "copperas-lime"])
def test_no_hob_where_gas_comes_off(method: str) -> None:
    """A vat that breathes is warmed by hot water, not over a hob or flame; iron gives no gas."""
    vat = vat_with(method=method, lots__a__fibre="cotton")
    found = warming(warmed(vat.account, 14), vat.plan, 25)
    assert found is not None
    breathes = method != "copperas-lime"
    assert ("no hob or flame near" in found.text) is breathes
    assert ("on the hob" in found.text) is not breathes


@pytest.mark.parametrize("method", methods())
@pytest.mark.parametrize("fibre", ["linen", "silk"])
def test_no_remedy_is_warmer_than_the_vat_may_be(method: str, fibre: str) -> None:
    """What wants warmth first never wants more than the vat's own window: else the next reading says too warm."""
    vat = vat_with(method=method, lots__a__fibre=fibre)
    cool = evolve(vat, account=warmed(vat.account, 15))
    said = [way for key, row in rows().items() if applies(row, vat.setting) for way in corrections(finding(key), cool)]
    warmest = f"{vat.setting.warmest:.0f} °C"
    for way in (way for way in said if way.first):
        degrees = float(re.search(r"to (\d+) °C first", way.first)[1])  # type: ignore[index]
        assert degrees <= vat.setting.warmest, (way.text, warmest)
        assert f"{degrees:.0f} °C" in way.text


@pytest.mark.parametrize(("method", "name"), [("fructose-lime", "fructose"), ("plant-lime", "ripe fruit")])
def test_a_grey_vat_is_given_what_stands_on_its_own_table(method: str, name: str) -> None:
    """No order names a “reducer” where the bag says fructose, or the bowl holds fruit."""
    given = one("grey", "reducer", vat_with(Reading(temperature=at(45)), method=method, lots__a__fibre="cotton"))
    assert f"of {name}" in given.text
    assert "of reducer" not in given.text


LIME_TAKEN = {"tdo-lime": 0.685, "copperas-lime": 0.2665, "zinc-lime": 0.567, "fructose-lime": 0.206}
"""Slaked lime that a gram of reducer takes: 2 OH- over 108.12 (Svarovsky 2000) and over 278.01, half a mole of calcium
over 65.38 (Ziegler & Johnson 2001), one acid over 180.16; a mole of lime is 74.093 g and 2 OH-."""


@pytest.mark.parametrize("method", LIME_TAKEN)
def test_reducer_for_a_vat_without_lime_brings_its_lime(method: str) -> None:
    """Read at pH 10.7 its lime is gone: fed reducer alone would turn it sour. One that has its lime needs none."""
    vat = vat_with(method=method, lots__a__fibre="linen")
    over = corrections(finding("air-in"), vat)[0]
    assert over.along == ()
    reading = Reading(temperature=at(vat.account.celsius), pH=10.7, pH_by=PHBy.METER)
    without = corrections(finding("air-in"), sure(evolve(vat, reading=reading)))[0]
    (lime,) = without.along
    pure = [powder(vat.plan, way.material).purity * way.grams for way in (lime, without)]
    again = 1.0 * vat.account.litres  # a gram a litre, as a vat short of lime is given: common practice, no source
    assert pure[0] == pytest.approx(LIME_TAKEN[method] * pure[1] + again, rel=0.01)


@pytest.mark.parametrize("method", ["tdo-soda", "tdo-lye", "dithionite-soda"])
@pytest.mark.parametrize("fibre", FIBRES)
def test_all_that_goes_in_with_a_reducer_finds_room(method: str, fibre: str) -> None:
    """A small tub near its brim: each powder has its water, and the liquor for all of it comes out before the first."""
    vat = vat_with(vat__tub="5 L", vat__fill="4 L", method=method, lots__a__fibre=fibre)
    full = evolve(vat, account=at_volume(vat.account, 5 * 0.96))
    way = corrections(finding("air-in"), full)[0]
    stands = full.account.litres
    for event in (as_proposed(item, vat.plan) for item in (*way.along, way)):
        stands += litres_of(event.water) + litres_of(event.stock) - litres_of(event.taken_out)
        assert stands <= 5 * 0.97 + 0.05


@pytest.mark.parametrize("method", ["tdo-soda", "dithionite-soda"])
@pytest.mark.parametrize(("pH", "enough"), [(9.9, True), (9.3, False), (6.0, False)])
def test_no_soda_beyond_salt_water(method: str, pH: float, enough: bool) -> None:
    """Bicarbonate takes soda without end: at pH 9.9, its pK at 45 °C (Plummer & Busenberg 1982), as much as there is.

    A vat of more than 12 g/L is salt water; there a new one is advised, not the powder.
    """
    vat = vat_with(method=method, lots__a__fibre="linen")
    read = sure(evolve(vat, reading=Reading(temperature=at(vat.account.celsius), pH=pH, pH_by=PHBy.METER)))
    found = corrections(finding("short-of-alkali"), read)
    assert ("Make a new one" not in found[0].text) is enough
    assert all(
        way.grams * powder(vat.plan, way.material).purity <= 12 * vat.account.litres for way in found if way.grams
    )
