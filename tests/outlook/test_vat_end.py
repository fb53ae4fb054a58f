"""The end of a vat never contradicts itself: a spent one wants no alkali, own acid counts, enough is enough."""

from __future__ import annotations

import pytest
from tests.log.makers import session
from tests.plan.plans import wool_plan

from vatside.catalogue.looks import Colour
from vatside.dayline.day_steps import steps
from vatside.log.effects.vat import NEUTRALISE
from vatside.log.events.day import Event, LotAdded, PinSet, PlanChanged, Undone, WaitStarted
from vatside.log.events.vat import CorrectionMade, PieceDone, ReadingTaken, VatLetGo, VatMade, VatSpent
from vatside.log.fold import State, fold, sheet_of
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_end import BY_SAMPLE, Choices, acid_given, dose_of, given_g, holds_back, portion
from vatside.outlook.vat_facts import findings_of, setting_of
from vatside.outlook.vat_order import disorder
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.reading import PHBy, Reading
from vatside.vat.spent import Acid, AcidDose, takes_acid

COTTON = PlanChanged("lots.a.fibre", "cotton")
GONE = VatLetGo(Amount(20, "L"), None, "", None, 8.1, "as the water company said")


def day(*events: Event) -> State:
    """Give the state after these events, a minute apart."""
    return fold(session(*events))


def read(pH: float, colour: Colour = Colour.BLUE) -> ReadingTaken:
    """A reading of a cooled sample."""
    return ReadingTaken(Reading(Amount(25, "degC"), pH, pH_by=PHBy.METER, colour=colour))


def test_a_spent_vat_is_short_of_nothing() -> None:
    """Blue and sour is what a spent vat is: nothing is found out of order, while a living one would be."""
    living, spent = day(COTTON, VatMade(), read(7.5)), day(COTTON, VatMade(), VatSpent(), read(7.5))
    sheet = compute(living.plan)
    assert any(found.is_out for found in findings_of(living, sheet))
    assert findings_of(spent, sheet) == ()
    assert spent.last is not None
    assert disorder(spent, sheet, spent.last) is None


def test_a_hot_bath_pours_no_water_in() -> None:
    """Of the two ways to warm a vat the bath speaks of the hob, and the kettle's water of what it costs."""
    state = day(COTTON, VatMade(), ReadingTaken(Reading(Amount(36, "degC"), colour=Colour.YELLOW_GREEN)))
    kettle, bath = Outlook(state, compute(state.plan)).ways("too-cold")[:2]
    assert "kettle" in kettle.how
    assert "hob" in kettle.beside
    assert "kettle" not in bath.how
    assert "hob" in bath.how


def test_a_vat_that_is_blue_is_not_to_be_used_up() -> None:
    """Pale pieces take no dye that is blue: that step is there while the vat lives and not once it is spent."""
    letting_go = PinSet("finish.keep", Amount(0, "min"))
    living, spent = day(COTTON, letting_go, VatMade()), day(COTTON, letting_go, VatMade(), VatSpent())
    found = [{step.id for step in steps(one.plan, sheet_of(one))} for one in (living, spent)]
    assert ["finish.use_up" in ids for ids in found] == [True, False]
    assert all("finish.oxidise" in ids for ids in found)


def test_a_spent_vat_holds_no_indigo_to_tell_of() -> None:
    """What is blue is no dye: no step of the dips tells of grams that are left, of a living vat it does."""
    living, spent = day(COTTON, VatMade()), day(COTTON, VatMade(), VatSpent())
    covers = [step.text for one in (living, spent) for step in steps(one.plan, sheet_of(one)) if step.id == "dip.cover"]
    assert ["of indigotin are left" in text for text in covers] == [True, False]


def test_what_the_end_of_the_vat_has_done_is_ticked() -> None:
    """Blue: oxidised. Acid and a pH in the range: neutralised. Let go: out of the tub. Taken back with it."""
    acid = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(100, "mL"))
    way: list[Event] = [COTTON, VatMade()]
    assert not [step for step in day(*way).done if step.startswith("finish.")]
    for event, step in (
        (VatSpent(), "finish.oxidise"), (acid, ""), (read(9.6), ""), (read(8.1), "finish.neutralise"),
        (GONE, "finish.drain"),
    ):  # fmt: skip
        way.append(event)
        assert not step or step in day(*way).done
        assert ("finish.neutralise" in day(*way).done) is (event in (read(8.1), GONE))
        if step:
            assert step not in day(*way, Undone(len(way))).done


def test_its_running_wait_ends_with_it() -> None:
    """Seen blue before its hours are over, the wait rings no more."""
    wait = WaitStarted("w1", "finish.oxidise", "Oxidise the vat", 60)
    assert [one.id for one in day(COTTON, VatMade(), wait).waits] == ["w1"]
    assert list(day(COTTON, VatMade(), wait, VatSpent()).waits) == []


def test_acid_of_her_own_counts_as_given() -> None:
    """50 mL written down as what went in are 50 mL, beside what the page asked for; not before the end."""
    own = CorrectionMade(material="vinegar", amount=Amount(50, "mL"))
    asked = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(100, "mL"))
    state = day(COTTON, VatMade(), VatSpent(), asked, own)
    assert len(acid_given(state)) == 2
    # vinegar of 1.01 g/mL
    assert given_g(state, Acid.VINEGAR) == pytest.approx(150 * 1.01, rel=0.01)
    assert acid_given(day(COTTON, VatMade(), own)) == ()


@pytest.mark.parametrize(("pH", "more"), [(6.5, False), (8.6, False), (9.4, True)])
def test_acid_is_asked_for_only_outside_the_range(pH: float, more: bool) -> None:
    """Once acid is in and the pH lies within 6 to 9 no more is asked for, whatever was aimed at."""
    asked = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(20, "mL"))
    found = dose_of(day(COTTON, VatMade(), VatSpent(), read(10), asked, read(pH)), Choices())
    assert isinstance(found, AcidDose) is more
    if not more:
        assert "no more acid is needed" in str(found)


LIME = PlanChanged("method", "fructose-lime")


@pytest.mark.parametrize("pH", [8.2, 9.4])
def test_clear_liquor_of_lime_within_the_range_wants_no_drop_of_acid(pH: float) -> None:
    """A third of a millilitre of vinegar for a vat that may go as it is would be no advice."""
    state = day(COTTON, PlanChanged("method", "fructose-lime"), VatMade(), VatSpent(), read(pH))
    told = dose_of(state, Choices())
    assert told == "pH 8.2 lies within 6 to 9: no acid is needed." if pH < 9 else not isinstance(told, str)


def test_spent_lye_within_the_range_wants_no_drop_of_acid_and_may_go() -> None:
    """A tenth of a millilitre in twenty litres is none, and what the page says is what its last page lets go."""
    state = day(COTTON, VatMade(), VatSpent(), read(8.6))
    assert dose_of(state, Choices()) == "pH 8.6 lies within 6 to 9: no acid is needed."
    assert holds_back(state, Choices()) is None


def test_acid_too_little_to_measure_is_left_to_the_air() -> None:
    """At pH 9.2 twenty litres of lye hold 16 micromoles a litre: 0.4 mL of vinegar, and the same for either acid.

    Open to the air that is pH 6.35 + log(16 / 13.5) = 6.4 (Plummer & Busenberg 1982, 10^-3.4 atm): in the range.
    """
    state = day(COTTON, VatMade(), VatSpent(), read(9.2))
    assert "no acid" in str(dose_of(state, Choices()))
    assert dose_of(state, Choices()) == dose_of(state, Choices(acid=Acid.CITRIC))
    held = holds_back(state, Choices())
    assert held is not None
    assert "air" in held.why


def test_what_next_to_nothing_holds_wants_air_and_no_acid() -> None:
    """At pH 9.6 three litres of spent lye hold 0.12 mmol: 8 mg of citric acid, which no scale shows.

    Air brings 40 micromoles of bicarbonate a litre over 13.5 of carbonic acid to 6.35 + log(40 / 13.5) = 6.8
    (Plummer & Busenberg 1982, Henry's constant 10^-1.47 and 10^-3.4 atm).
    """
    small = PinSet("vat.tub", Amount(5, "L")), PinSet("vat.fill", Amount(3, "L"))
    told = dose_of(day(COTTON, *small, VatMade(), VatSpent(), read(9.6)), Choices(acid=Acid.CITRIC))
    assert isinstance(told, str)
    assert "no acid" in told
    assert "air" in told
    assert "pH 8" not in told


def test_within_the_range_a_sample_asks_for_no_more_either() -> None:
    """Acid by a sample, then pH 8.1: what the sample still leaves open stays out of the vat."""
    asked = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(75, "mL"))
    found = dose_of(day(COTTON, VatMade(), VatSpent(), read(10), asked, read(8.1)), Choices(by=BY_SAMPLE, took=1.0))
    assert "no more acid is needed" in str(found)


def test_a_sample_stands_for_the_litres_that_it_was_taken_from() -> None:
    """10 mL for 100 mL: what went in since is taken off, and its own volume is no vat that wants more."""
    chosen = Choices(by=BY_SAMPLE, took=2.0)
    before = day(COTTON, VatMade(), VatSpent(), read(12.0))
    whole = dose_of(before, chosen)
    half = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(200, "mL"))
    rest = dose_of(day(COTTON, VatMade(), VatSpent(), read(12.0), half), chosen)
    assert isinstance(whole, AcidDose)
    assert isinstance(rest, AcidDose)
    assert whole.millilitres - rest.millilitres == pytest.approx(200, abs=1)


def test_over_lime_a_strip_begins_with_what_it_says_to_the_letter() -> None:
    """Half a pH of a strip is a factor of three in lime water: it begins low, and the next reading tells."""
    state = day(COTTON, LIME, VatMade(), VatSpent(), ReadingTaken(
        Reading(Amount(22, "degC"), 12.1, pH_by=PHBy.STRIP, colour=Colour.BLUE)))  # fmt: skip
    dose, now = dose_of(state, Choices()), portion(state, Choices())
    assert isinstance(dose, AcidDose)
    assert isinstance(now, CorrectionMade)
    assert now.amount is not None
    assert now.amount.value < 0.6 * dose.millilitres
    assert "to the letter" in dose.text


def test_over_lime_the_plan_and_the_end_name_the_clear() -> None:
    """Both reckon with what is poured off, and so does the sample's factor."""
    state = day(COTTON, LIME, VatMade(), VatSpent(), PinSet("finish.keep", Amount(0, "min")), read(12.45))
    dose, sheet = dose_of(state, Choices()), sheet_of(state)
    assert isinstance(dose, AcidDose)
    assert sheet.value("finish.clear") == pytest.approx(dose.clear_l, rel=0.001)
    assert sheet.value("finish.samples") == pytest.approx(10 * dose.clear_l, rel=0.001)
    assert 1000 * sheet.value("finish.vinegar") == pytest.approx(dose.millilitres, rel=0.02)
    ids = [step.id for step in steps(state.plan, sheet)]
    assert ids.index("finish.settle") < ids.index("finish.clear_off") < ids.index("finish.titrate")


def test_the_sample_counts_the_litres_of_the_tub() -> None:
    """Kettle water that went in counts in what a sample is multiplied with."""
    more = CorrectionMade(water=Amount(2, "L"), water_temperature=Amount(95, "degC"))
    first, then = (sheet_of(day(COTTON, VatMade(), *event, VatSpent())) for event in ((), (more,)))
    assert then.value("finish.samples") - first.value("finish.samples") == pytest.approx(20, abs=1)


def limed(*after: Event) -> State:
    """A spent vat of sugar and lime for linen, a sample of which took 10 mL, and what came after that."""
    linen = PlanChanged("lots.a.fibre", "linen"), PlanChanged("method", "fructose-lime")
    return day(*linen, VatMade(), VatSpent(), read(12), *after)


BY_10 = Choices(by=BY_SAMPLE, took=10.0)


def test_the_rest_by_a_sample_is_what_the_sample_asked_for_less_what_went_in() -> None:
    """10 mL to 100 mL is a tenth of the liquor that was sampled; three quarters given, a quarter is left."""
    whole = dose_of(limed(), BY_10)
    account = limed().tending.account
    assert isinstance(whole, AcidDose)
    assert account is not None
    clear = takes_acid(account)  # what was poured off the lime
    assert whole.millilitres == pytest.approx(1000 * clear.litres / 10)
    given = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(0.75 * whole.millilitres, "mL"))
    rest = dose_of(limed(given, read(11)), BY_10)
    assert isinstance(rest, AcidDose)
    assert rest.millilitres == pytest.approx(0.25 * whole.millilitres, rel=0.005)


@pytest.mark.parametrize(("pH", "more"), [(6.2, False), (8.1, False), (8.9, False), (9.3, True)])
def test_by_a_sample_too_the_pH_read_ends_it(pH: float, more: bool) -> None:
    """In the lime liquor 223 mL more at pH 8.1 would end near 4: within the range nothing more goes in."""
    given = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(500, "mL"))
    found = dose_of(limed(given, read(pH)), BY_10)
    assert isinstance(found, AcidDose) is more
    if not more:
        assert "no more acid is needed" in str(found)


def test_a_soda_vat_that_drifts_is_not_done_by_a_sample_either() -> None:
    """Carbonic acid holds the pH at 6.4 for now: the last quarter that the sample asked for is still due."""
    state = soda_day(0.75 * needed(), pH=6.4)
    account = state.tending.account
    assert account is not None
    took = needed() / account.litres / 10
    assert isinstance(dose_of(state, Choices(by=BY_SAMPLE, took=took)), AcidDose)


def soda_day(*portions: float, pH: float) -> State:
    """A soda vat for silk in very hard water that was seen spent, was given vinegar (mL), and now reads so."""
    hard = PlanChanged("lots.a.fibre", "silk"), PlanChanged("water.tap", "very hard")
    vinegar = (
        CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(much, "mL")) for much in portions if much
    )
    return day(*hard, VatMade(), VatSpent(), read(9.9), *vinegar, read(pH))


def needed() -> float:
    """The vinegar that this vat takes in all, mL."""
    found = dose_of(soda_day(pH=9.9), Choices())
    assert isinstance(found, AcidDose)
    return found.millilitres


def test_after_three_quarters_the_rest_of_a_soda_vat_s_vinegar_is_asked_for() -> None:
    """Carbonic acid holds the pH at 6 while it goes off; without the last quarter the vat drifts out of its range."""
    state = soda_day(0.75 * needed(), pH=6.4)
    rest = dose_of(state, Choices())
    assert isinstance(rest, AcidDose)
    assert rest.millilitres == pytest.approx(0.25 * needed(), rel=0.05)
    held = holds_back(state, Choices())
    assert held is not None
    assert "drifts up to about 9." in held.why


@pytest.mark.parametrize(("pH", "told"), [(5.5, "no soda"), (8.7, "no more acid is needed")])
def test_with_all_of_it_in_a_soda_vat_is_left_alone(pH: float, told: str) -> None:
    """At first it is below the range, and soda would undo the acid; the next day carbonic acid has gone off."""
    state = soda_day(needed(), pH=pH)
    assert told in str(dose_of(state, Choices()))
    assert (holds_back(state, Choices()) is None) is (pH > 6)


def test_a_pH_that_rose_overnight_is_no_new_alkali() -> None:
    """Three quarters given and a night later it reads 9.2: what is asked for is still the last quarter."""
    rest = dose_of(soda_day(0.75 * needed(), pH=9.2), Choices())
    assert isinstance(rest, AcidDose)
    assert rest.millilitres == pytest.approx(0.25 * needed(), rel=0.05)


def test_wool_that_is_done_no_longer_sets_the_window() -> None:
    """With its last dip behind it the reading is held against what is still to go in: cotton bears pH 11."""
    wool = wool_plan()
    cotton = PlanChanged("lots.b.fibre", "cotton")
    begin = (LotAdded(new_lot(wool)), cotton, VatMade(), read(10.9, Colour.YELLOW_GREEN))
    pieces = tuple(PieceDone(f"a.{number}") for number in range(1, wool.lots[0].pieces + 1))
    before, part, after = day(*begin), day(*begin, *pieces[:-1]), day(*begin, *pieces)
    assert [setting_of(one, compute(one.plan)).group for one in (before, part, after)] == [
        "protein", "protein", "cellulose",
    ]  # fmt: skip
    assert any(found.id == "too-alkaline" and found.is_out for found in findings_of(before, compute(before.plan)))
    assert not any(found.id == "too-alkaline" and found.is_out for found in findings_of(after, compute(after.plan)))
