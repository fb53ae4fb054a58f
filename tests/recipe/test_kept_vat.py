"""Plans that top up the vat of another day."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.plans import hand_plan, hand_with, kept_vat, says

from vatside.catalogue.load import methods
from vatside.chemistry.water import density, enthalpy
from vatside.dayline.day_steps import steps
from vatside.forms.fields import fields, set_value
from vatside.plan.plan import Kept, Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.recipe.baths import kept_bath, vat_bath
from vatside.recipe.compute import compute
from vatside.units import Amount

NEW = compute(hand_plan())
"""The same day with a vat made anew."""


def on(kept: Kept, plan: Plan | None = None) -> Plan:
    """A plan on a kept vat."""
    return evolve(plan or hand_plan(), kept=kept)


def sheet(kept: Kept) -> Sheet:
    """The starter's sheet on a kept vat."""
    return compute(on(kept))


def said(kept: Kept) -> dict[str, str]:
    """The sentences of stock and vat, by step."""
    plan = on(kept)
    return {step.id: step.text for step in steps(plan, compute(plan)) if step.stage in (Stage.STOCK, Stage.VAT)}


def test_stock_is_made_for_what_is_missing() -> None:
    """2.594 g are wanted and 1 g is there: 1.594 g of indigotin are 3.99 g of powder at 40 %."""
    assert sheet(kept_vat())["stock.pigment"].value == pytest.approx(1.594 / 0.4, rel=1e-3)


def test_the_working_says_what_stands_in_the_tub() -> None:
    """The subtraction is there to be read, not hidden in a pin."""
    figure = sheet(kept_vat())["stock.pigment"]
    assert figure.pin is None
    assert "what stands in the tub" in figure.working.formula
    assert ("in the tub", 1.0, "g") in [(item.label, item.value, item.unit) for item in figure.working.inputs]


def test_only_the_missing_water_is_drawn() -> None:
    """The tub takes 20.2 L beside the fibre, one of them stock; 15 are in it."""
    assert sheet(kept_vat(litres=15))["vat.water"].value == pytest.approx(NEW.value("vat.liquor") - 1 - 15)
    assert sheet(kept_vat(litres=15))["vat.surplus"].value == 0


def test_a_full_tub_gives_up_liquor_for_the_stock() -> None:
    """With 20 L in it, and room for 20.2 beside the fibre, a litre of stock wants 0.8 L out."""
    assert sheet(kept_vat())["vat.surplus"].value == pytest.approx(21 - NEW.value("vat.liquor"))
    assert sheet(kept_vat())["vat.water"].value == 0


def test_alkali_left_over_is_not_added_again() -> None:
    """Two grams of pure lye in the tub are 2.02 g of beads of 99 % less to sharpen with; nothing goes to waste."""
    cotton = hand_with(lots__a__fibre="cotton")
    none, some, much = (
        compute(on(kept_vat(litres=10, alkali_g=grams), cotton))["vat.alkali"].value for grams in (0, 2, 40)
    )
    assert none - some == pytest.approx(2 / 0.99, rel=0.005)
    assert much == 0


def test_reducer_left_over_is_not_added_again() -> None:
    """A gram that is still there is a gram of the pure that is not weighed; there is none to weigh below nothing."""
    kept = kept_vat(litres=19.2, reducer_g=1)
    assert sheet(kept)["vat.reducer"].value == pytest.approx(NEW.value("vat.reducer") - 1 / 0.99, rel=1e-3)
    assert sheet(kept_vat(litres=15, reducer_g=50))["vat.reducer"].value == 0
    assert "vat.reducer_in" not in said(kept_vat(litres=15, reducer_g=50))


def blue_vat(grams: float) -> Kept:
    """A kept vat of 1 g of indigotin, so much of it blue, its reducer gone."""
    return evolve(kept_vat(litres=15), oxidised=Amount(grams, "g"))


def test_blue_dye_of_a_kept_vat_is_reduced_again() -> None:
    """A mole of thiourea dioxide a mole: 0.5 g of blue dye takes 0.5 × 108.115 ÷ 262.268 ÷ 0.99 g more to sharpen."""
    more = sheet(blue_vat(0.5))["vat.reducer"].value - sheet(kept_vat(litres=15))["vat.reducer"].value
    assert more == pytest.approx(0.5 * 108.115 / 262.268 / 0.99, rel=1e-3)
    least = sheet(blue_vat(0.5))["vat.reducer"].minimum
    without = sheet(kept_vat(litres=15))["vat.reducer"].minimum
    assert least is not None
    assert without is not None
    assert least - without == pytest.approx(more, rel=1e-3)


def test_blue_dye_takes_its_lye_as_it_is_reduced() -> None:
    """It counts like new dye: three of hydroxide a mole, one for the dye and two for its reducer."""
    cotton = hand_with(lots__a__fibre="cotton", vat__alkali="6 g")
    apart = (
        compute(on(kept_vat(litres=15), cotton))["vat.alkali_left"].value
        - compute(on(blue_vat(0.5), cotton))["vat.alkali_left"].value
    )
    assert apart == pytest.approx(3 * 0.5 / 262.268 * 39.997, rel=0.01)


def test_a_kept_vat_stands_as_blue_as_it_is_said_to_be() -> None:
    """Before anything goes in its bath has so much indigotin, and the rest reduced; once sharpened none is blue."""
    plan = on(blue_vat(0.4))
    bath = kept_bath(plan)
    assert bath.indigotin * 262.268 == pytest.approx(0.4, rel=1e-3)
    assert bath.leuco * 262.268 == pytest.approx(0.6, rel=1e-3)
    assert vat_bath(plan, compute(plan).value).indigotin == 0


def test_both_dyes_are_in_the_vat() -> None:
    """What was kept, less what made room, and what the stock brings."""
    found = sheet(kept_vat())
    there = 1 - found.value("vat.surplus", 0.0) / 20
    assert found.value("vat.indigotin") == pytest.approx(found.value("stock.indigotin") + there)


def test_a_vat_with_dye_enough_wants_no_stock() -> None:
    """No jar, no lye and no reducer for one, and no step that speaks of it."""
    plan = on(kept_vat(indigotin_g=2.6), hand_with(stock__water=""))
    found = compute(plan)
    assert [found.value(f"stock.{name}") for name in ("pigment", "jars", "water", "alkali", "reducer")] == [0] * 5
    ids = [step.id for step in steps(plan, found) if step.stage in (Stage.STOCK, Stage.VAT)]
    assert not [step for step in ids if step.startswith("stock.") or step == "vat.stock_in"]


def test_next_to_nothing_missing_is_nothing() -> None:
    """For less than a twentieth of the dye no stock is made; for more one is."""
    wanted = NEW.value("stock.wanted")
    assert sheet(kept_vat(indigotin_g=0.96 * wanted)).value("stock.pigment") == 0
    assert sheet(kept_vat(indigotin_g=0.94 * wanted)).value("stock.pigment") > 0


def test_the_steps_top_up() -> None:
    """Skim, room, water, warmth; nobody fills a tub."""
    full, part = said(kept_vat()), said(kept_vat(litres=15))
    assert "Skim the kept vat" in full["vat.skim"]
    assert full["vat.take_out"].startswith("Take 770 mL of it out")
    assert "vat.fill" not in full
    assert "vat.take_out" not in part
    assert part["vat.fill"] == "Top up with 4.2 L of water: 4.2 L hot"
    assert part["vat.warm"].startswith("Warm it to 47 °C")


def test_a_new_vat_has_no_such_steps() -> None:
    """Without a kept vat nothing is skimmed, taken out or warmed."""
    ids = [step.id for step in steps(hand_plan(), NEW)]
    assert not {"vat.skim", "vat.take_out", "vat.warm"} & set(ids)
    assert "vat.fill" in ids


def test_a_cold_vat_takes_as_long_as_its_water() -> None:
    """19.2 kg from 20 to 47 degrees on 1.5 kW: 19.2 x 4.18 x 27 / 1.5 / 60 = 24.1 min."""
    assert sheet(kept_vat())["vat.warming"].value == pytest.approx(24.1, abs=0.1)


def test_warm_water_warms_a_lukewarm_vat() -> None:
    """15 L at 45 degrees with 4.2 L to add: water at 54 brings all to 47, and nothing is left to heat."""
    found = sheet(kept_vat(litres=15, celsius=45))
    hot, cold = found.value("vat.hot"), found.value("vat.cold")
    assert (15 * 45 + hot * 55 + cold * 12) / (15 + hot + cold) == pytest.approx(47, abs=0.1)
    assert not [figure for figure in found.figures if figure.id == "vat.warming"]


@examples(25)
@given(st.floats(1, 25), st.floats(12, 60))
def test_kept_vat_water_and_hob_bring_all_to_the_target(litres: float, celsius: float) -> None:
    """The heat of what stays, of what is drawn and of the hob is the heat of all at the vat's temperature."""
    found = sheet(kept_vat(litres, celsius, indigotin_g=2.6))
    target, stays = found.value("vat.temperature"), litres - found.value("vat.surplus", 0.0)
    parts = ((stays, celsius), (found.value("vat.hot"), 55), (found.value("vat.cold"), 12))
    masses = [(volume * density(t) / 1000, t) for volume, t in parts]
    there = sum(kg * enthalpy(t) for kg, t in masses) + found.value("vat.warming", 0.0) * 60 * 1.5
    wanted = sum(kg for kg, _ in masses) * enthalpy(target)
    near = 4.22 * 0.5 * sum(kg for kg, _ in masses)
    if celsius <= target:
        assert there == pytest.approx(wanted, abs=1e-3 if found.value("vat.warming", 0.0) else near)


def test_a_vat_too_alkaline_for_wool_is_brought_down_by_baking_soda() -> None:
    """Forty grams of free lye take 2.10 g of baking soda each, and no soda ash; the vat stands in wool's window."""
    found = sheet(kept_vat(alkali_g=40))
    assert found.value("vat.soda-ash", 0.0) == 0
    assert found.value("vat.baking-soda", 0.0) > 2.10 * 40 * (1 - found.value("vat.surplus", 0.0) / 20)
    assert 8.5 <= found.value("vat.pH_spent") <= found.value("vat.pH") <= 9.8
    assert not [one for one in found.notices if one.figure == "vat.pH"]


def test_the_pH_is_that_of_the_kept_liquor() -> None:
    """The more alkali was left, the higher it stands."""
    plan = hand_with(lots__a__fibre="cotton", stock__water="", vat__alkali="0 g", vat__reducer="0 g")
    low, high = (compute(on(kept_vat(indigotin_g=2.6, alkali_g=grams), plan)).value("vat.pH") for grams in (6, 60))
    assert high - low == pytest.approx(1, abs=0.1)


def test_the_form_takes_what_was_measured() -> None:
    """Litres and warmth of the kept vat are rows of the vat, and only where there is one."""
    plan = on(kept_vat())
    paths = {row.path for row in fields(plan, Stage.VAT)}
    assert {"kept.volume", "kept.temperature", "kept.indigotin", "kept.alkali", "kept.reducer"} <= paths
    assert not [row for row in fields(hand_plan(), Stage.VAT) if row.path.startswith("kept")]
    measured = hand_with(plan, kept__volume="4 gal")
    assert compute(measured).value("vat.kept", 0.0) == pytest.approx(15.14, abs=0.01)


@pytest.mark.parametrize("path", ["kept.volume", "kept", "kept.colour"])
def test_a_plan_without_one_has_no_such_place(path: str) -> None:
    """Nothing can be set that is not there."""
    with pytest.raises((KeyError, ValueError)):
        set_value(hand_plan(), path, Amount(3, "L"))


@pytest.mark.parametrize("method", sorted(methods()))
@examples(20)
@given(
    st.builds(kept_vat, st.floats(0.1, 200), st.floats(0, 100), st.floats(0, 500), st.floats(0, 500), st.floats(0, 500))
)
def test_no_kept_vat_asks_for_less_than_nothing(method: str, kept: Kept) -> None:
    """Whatever it holds, what is to be added is never negative, and the tub ends no fuller than it should."""
    found = compute(on(kept, set_value(hand_plan(), "method", method)))
    names = ("stock.pigment", "vat.water", "vat.surplus", "vat.alkali", "vat.reducer", "vat.warming", "vat.indigotin")
    assert min(found.value(name, 0.0) for name in names) >= 0
    filled = (
        found.value("vat.kept", 0.0)
        - found.value("vat.surplus", 0.0)
        + found.value("vat.water")
        + found.value("vat.stock")
    )
    assert filled == pytest.approx(found.value("vat.liquor"), abs=0.1)


@pytest.mark.parametrize("litres", [19.15, 19.3])
def test_a_cup_more_or_less_is_nothing(litres: float) -> None:
    """With a litre of stock the tub takes 19.23 L more: nobody pours 70 mL in or out."""
    found = sheet(kept_vat(litres=litres))
    assert (found.value("vat.water"), found.value("vat.surplus", 0.0)) == (0, 0)
    assert not {"vat.fill", "vat.take_out"} & set(said(kept_vat(litres=litres)))


def test_a_vat_that_stands_too_hot_is_left_to_cool() -> None:
    """Twenty litres at 80 degrees take no water that would cool them: the sheet says so, and a step waits for it."""
    found = sheet(kept_vat(celsius=80))
    assert found.value("vat.mixed", 0.0) == pytest.approx(80)
    assert says(found, "comes to 80 °C, the plan wants 47 °C")
    text = "Leave it to cool, covered, from 80 °C to 47 °C by the thermometer"
    assert said(kept_vat(celsius=80))["vat.cool"] == text


def test_cooling_takes_its_time() -> None:
    """19.2 L from 80 to half a degree above 47 in a room at 20.

    19.2 L lose 0.17 × (20 ÷ 19.2)^⅓ = 0.172 of their warmth an hour: ln(60 / 27.5) / 0.172 = 4.53 h.
    """
    plan = hand_with(on(kept_vat(celsius=80)), water__room="20 C")
    step = next(step for step in steps(plan, compute(plan)) if step.id == "vat.cool")
    assert step.minutes == pytest.approx(4.53 * 60, rel=0.01)


def test_a_vat_in_a_hot_room_has_no_time_to_cool_to_what_is_wanted() -> None:
    """A copperas vat never comes down to its 20 degrees in a room at 25: the step stays, its wait does not."""
    plan = hand_with(on(kept_vat(celsius=80), hand_with(method="copperas-lime")), water__room="25 C")
    assert compute(plan).value("vat.temperature") == 20
    step = next(step for step in steps(plan, compute(plan)) if step.id == "vat.cool")
    assert step.minutes is None


def test_cold_water_that_goes_in_cools_it() -> None:
    """15 L at 80 degrees and 4.2 L from the cold tap at 12: (15 x 80 + 4.2 x 12) / 19.2 = 65 degrees."""
    assert sheet(kept_vat(litres=15, celsius=80)).value("vat.mixed", 0.0) == pytest.approx(65, abs=0.5)


@pytest.mark.parametrize("celsius", [20, 47.4])
def test_a_vat_that_is_not_too_hot_has_nothing_to_cool(celsius: float) -> None:
    """Cool, or within half a degree of what is wanted, it gets no such step and no notice."""
    found = sheet(kept_vat(celsius=celsius))
    assert "vat.cool" not in said(kept_vat(celsius=celsius))
    assert not says(found, "The kept vat comes to")


@pytest.mark.parametrize("method", methods())
@pytest.mark.parametrize("step", ["vat.skim", "vat.take_out"])
def test_handling_the_kept_liquor_has_the_caution_of_its_alkali(method: str, step: str) -> None:
    """What is skimmed or taken out is caustic: the caution is that of sharpening with the same alkali."""
    plan = on(kept_vat(alkali_g=0), hand_with(method=method, lots__a__fibre="cotton"))
    found = {item.id: item for item in steps(plan, compute(plan))}
    assert [caution.id for caution in found[step].cautions] == [c.id for c in found["vat.alkali_in"].cautions]
    assert found[step].cautions


@pytest.mark.parametrize("method", methods())
def test_liquor_taken_out_is_labelled(method: str) -> None:
    """A jar of caustic liquor that stands about says what it is."""
    plan = on(kept_vat(), hand_with(method=method))
    (step,) = (item for item in steps(plan, compute(plan)) if item.id == "vat.take_out")
    assert "label" in step.text
