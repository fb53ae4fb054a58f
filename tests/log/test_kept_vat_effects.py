"""Plan and account of a kept vat say the same until it is topped up."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.log.played import Played
from tests.plan.plans import kept_vat, wool_plan

from vatside.log.events.day import Event, Undone
from vatside.log.events.vat import (
    CorrectionMade,
    PHTrusted,
    ReadingTaken,
    VatCarriedOn,
    VatMade,
    VatToppedUp,
    VolumeMeasured,
)
from vatside.outlook.vat_deeds import impossible
from vatside.plan.plan import Kept
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account import Account, free_alkali_g
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import Reading

OLD = KeptVat(20, 1, "sodium hydroxide", 1, "thiourea dioxide", 10, 3, 2)


def carried(kept: Kept | None = None) -> Played:
    """A day on twenty litres that another day kept."""
    held = tuple(pin for pin in wool_plan().pins if pin.figure == "vat.fill")
    plan = evolve(wool_plan(), kept=kept or kept_vat(alkali_g=1), pins=held)
    day = Played(plan, "s2")
    return day.happen(VatCarriedOn("s1", "Monday", day.clock.now().utc, OLD))


def account(day: Played) -> Account:
    """What is believed to be in the tub."""
    found = day.state.tending.account
    assert found is not None
    return found


def kept(day: Played) -> Kept:
    """What the plan says is in the tub."""
    found = day.state.plan.kept
    assert found is not None
    return found


LYE = CorrectionMade(material="alkali", amount=Amount(5, "g"))
WARM = ReadingTaken(Reading(temperature=Amount(45, "degC")))
DEEDS = {
    "lye": (LYE,),
    "reducer": (CorrectionMade(material="reducer", amount=Amount(3, "g")),),
    "indigo": (CorrectionMade(material="indigo", amount=Amount(4, "g")),),
    "water": (CorrectionMade(water=Amount(1, "L")),),
    "taken out": (CorrectionMade(taken_out=Amount(2, "L")),),
    "pH": (PHTrusted(11.0),),
    "volume": (VolumeMeasured(Amount(17, "L")),),
    "warmth": (WARM,),
    "much": (LYE, WARM, VolumeMeasured(Amount(15, "L")), CorrectionMade(taken_out=Amount(2, "L"))),
}


@pytest.mark.parametrize("deeds", DEEDS.values(), ids=DEEDS)
def test_what_is_done_to_a_kept_vat_is_in_the_plan(deeds: tuple[Event, ...]) -> None:
    """Whatever goes in, comes out or is measured before the topping up, the plan has it as the account has."""
    day = carried()
    for deed in deeds:
        day.happen(deed)
    assert day.state.misfits == ()
    vat, there = account(day), kept(day)
    assert there.volume.value == pytest.approx(vat.litres, rel=1e-3)
    assert there.temperature.value == pytest.approx(vat.celsius, rel=1e-3)
    assert there.indigotin.value == pytest.approx(vat.indigotin_g, rel=1e-3)
    assert there.alkali.value == pytest.approx(max(free_alkali_g(vat), 0), rel=1e-3, abs=1e-3)


@pytest.mark.parametrize("deeds", DEEDS.values(), ids=DEEDS)
def test_a_topped_up_vat_holds_what_the_sheet_says(deeds: tuple[Event, ...]) -> None:
    """Lye that went in before is not asked for again, and the account has what the sheet has: nothing goes in twice."""
    day = carried()
    for deed in deeds:
        day.happen(deed)
    sheet = compute(day.state.plan)
    vat = account(day.happen(VatToppedUp()))
    assert free_alkali_g(vat) == pytest.approx(sheet.value("vat.alkali_left"), rel=0.03)
    assert vat.indigotin_g == pytest.approx(sheet.value("vat.indigotin"), rel=5e-3)
    assert vat.litres == pytest.approx(sheet.value("vat.liquor"), rel=0.02)


def test_lye_that_went_in_is_not_asked_for_again() -> None:
    """Five grams of beads before the topping up are five grams less to sharpen with."""
    day = carried()
    before = compute(day.state.plan).value("vat.alkali")
    share = 1 - compute(day.state.plan).value("vat.surplus", 0.0) / 20
    assert compute(day.happen(LYE).state.plan).value("vat.alkali") == pytest.approx(
        max(before - 5 * share, 0), abs=0.02
    )


def test_what_is_typed_into_the_form_is_in_the_account() -> None:
    """Three grams of indigotin in the tub want no stock; the account has them, topped up or not."""
    day = carried().set("kept.indigotin", "3 g")
    assert account(day).indigotin_g == pytest.approx(3)
    assert compute(day.state.plan).value("stock.pigment") == 0
    topped = account(day.happen(VatToppedUp()))
    assert topped.indigotin_g == pytest.approx(3)
    assert topped.stock is None


def test_another_title_leaves_the_account_alone() -> None:
    """Only what stands in the tub changes it: a pH that was trusted still shows."""
    day = carried().happen(PHTrusted(11.0))
    before = account(day)
    assert account(day.set("title", "Fair")) == before


def test_reducer_that_the_plan_counts_as_gone_is_gone() -> None:
    """Ten grams were kept three weeks ago; the plan says none is left, and so does the account."""
    assert account(carried()).bath.thiourea_dioxide == 0


def test_after_topping_up_the_plan_says_what_stood_in_the_tub_before() -> None:
    """What goes in later is the account's alone: the figures of the topping up stay as they were."""
    day = carried().happen(VatToppedUp())
    before = kept(day)
    assert kept(day.happen(LYE).happen(VolumeMeasured(Amount(19, "L")))) == before


def test_taking_back_what_was_done_puts_both_right() -> None:
    """An undone correction is neither in the plan nor in the account."""
    day = carried()
    before = (kept(day), account(day))
    day.happen(LYE).happen(Undone(2))
    assert (kept(day), account(day)) == before


@pytest.mark.parametrize("litres", [5000, 0.01])
def test_litres_that_the_form_refuses_are_refused(litres: float) -> None:
    """No tub holds five thousand litres: the sentence is the form's, and nothing changes."""
    day = carried()
    measured, before = VolumeMeasured(Amount(litres, "L")), day.state
    assert "Kept, in the tub" in impossible(before, measured, day.clock.now())
    after = day.happen(measured).state
    assert len(after.misfits) == 1
    assert (after.plan, after.tending) == (before.plan, before.tending)


def test_a_vat_made_of_the_whole_plan_is_topped_up() -> None:
    """Where nobody knows the old account, the stock going in makes one of all that the plan has."""
    day = Played(evolve(wool_plan(), kept=kept_vat()), "s2").happen(VatMade())
    before = kept(day)
    assert day.state.tending.topped_up
    assert kept(day.happen(LYE)) == before


def test_less_than_a_cup_is_not_poured_by_the_account_either() -> None:
    """Fifty millilitres short of the liquor, the sheet draws no water and the account gets none."""
    liquor = compute(wool_plan()).value("vat.liquor")
    day = carried(kept_vat(litres=liquor - 0.05, celsius=47, indigotin_g=3))
    before = account(day)
    assert account(day.happen(VatToppedUp())).bath.water_kg == pytest.approx(before.bath.water_kg, rel=1e-9)


@pytest.mark.parametrize(("cooled", "celsius"), [((), 80), (("vat.cool",), 47)])
def test_a_vat_too_hot_stays_so_unless_it_was_left_to_cool(cooled: tuple[str, ...], celsius: float) -> None:
    """The account takes what the vat comes to; once the step that cools it is done, what the plan wants."""
    day = carried(kept_vat(celsius=80)).done(*cooled)
    assert account(day.happen(VatToppedUp())).celsius == pytest.approx(celsius, abs=0.1)


def test_reducer_that_went_in_is_in_the_plan() -> None:
    """Three grams of product in a vat all reduced are there in the plan, by their purity."""
    day = carried().happen(CorrectionMade(material="reducer", amount=Amount(3, "g")))
    assert kept(day).reducer.value == pytest.approx(3 * 0.99, rel=1e-3)
