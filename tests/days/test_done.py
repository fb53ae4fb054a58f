"""What really went in, and how long the waits took."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.log.played import Played
from tests.plan.plans import kept_vat, plan_with, wool_plan

from vatside.bench.commands import start_wait
from vatside.days.day_record import day_record
from vatside.days.done import added, readings, waited
from vatside.log.events.day import StepReopened, Undone, WaitEnded, WaitPaused, WaitResumed
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatCarriedOn, VatLetGo, VatMade, VatSpent, VatToppedUp
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import Reading


def grams(day: Played) -> dict[str, float]:
    """What went in, by figure."""
    return {item.use.figure: item.use.grams for item in added(day.session)}


def test_nothing_goes_in_before_a_step_is_done() -> None:
    """A plan alone uses nothing."""
    assert grams(Played()) == {}


def test_a_step_done_puts_in_what_the_plan_had_then() -> None:
    """A lot that comes later makes no figure larger whose powder is in the jar already, but the next one."""
    day = Played()
    then = compute(day.state.plan)
    day.done("stock.paste").set("lots.a.mass", "454 g")
    assert grams(day)["stock.pigment"] == pytest.approx(then["stock.pigment"].value, rel=1e-3)
    now = compute(day.state.plan)
    assert now["stock.pigment"].value == pytest.approx(then["stock.pigment"].value, rel=1e-3)
    assert now["stock.pigment"].worked == pytest.approx(2 * then["stock.pigment"].value)


def test_a_pin_set_afterwards_says_what_really_went_in() -> None:
    """The dyer corrects the figure once she sees that the tin held less."""
    day = Played().done("stock.paste").set("stock.pigment", "4 g")
    assert grams(day)["stock.pigment"] == 4


def test_what_was_planned_is_what_the_plan_alone_works_out() -> None:
    """Held at 4 g where 6.486 g were worked out; vinegar in litres goes the same way, 100 mL for drops in rain."""
    day = Played().set("stock.pigment", "4 g").set("finish.wool.vinegar", "100 mL")
    day.done("stock.paste", "finish.wool.sour")
    planned = {item.use.figure: item.planned for item in added(day.session)}
    assert planned["stock.pigment"] == pytest.approx(227 * 0.008 / 0.7 / 0.4)
    vinegar = compute(wool_plan())["finish.wool.vinegar"].value
    assert planned["finish.wool.vinegar"] == pytest.approx(1.01 * 1000 * vinegar)


def test_a_spoon_weighed_afterwards_weighs_what_went_in() -> None:
    """Two spoons held, and later 3 g to the spoon: 6 g went in."""
    day = Played().set("stock.pigment", "2 tsp").done("stock.paste").set("shelf.indigo.spoon_mass", "3 g")
    assert grams(day)["stock.pigment"] == pytest.approx(6)


def test_a_step_reopened_or_taken_back_puts_nothing_in() -> None:
    """Neither a reopened step nor one whose tick is undone counts."""
    assert grams(Played().done("stock.paste").happen(StepReopened("stock.paste"))) == {}
    assert grams(Played().done("stock.paste").happen(Undone(1))) == {}


def test_a_correction_counts_by_what_went_in() -> None:
    """Two grams of reducer as a correction are two grams of thiourea dioxide."""
    day = Played().happen(VatMade()).happen(CorrectionMade(material="reducer", amount=Amount(2, "g")))
    (item,) = added(day.session)
    assert (item.use.material, item.use.grams, item.use.step) == ("thiourea-dioxide", 2, "correction.2")


def test_the_acid_at_the_end_counts_by_what_was_written_down() -> None:
    """Titrating names an amount only about; the record of the vat let go says what went in."""
    gone = VatLetGo(Amount(20, "L"), 11, "citric-acid", Amount(30, "g"), 8, "drain")
    day = Played().happen(VatMade()).done("finish.titrate").happen(gone)
    assert [(item.use.material, item.use.grams) for item in added(day.session)] == [("citric-acid", 30)]


def test_a_correction_with_an_unknown_powder_is_left_out() -> None:
    """What nobody can weigh cannot be counted, and is no reason to fail."""
    day = Played().happen(VatMade()).happen(CorrectionMade(material="pixie dust", amount=Amount(2, "g")))
    assert added(day.session) == ()


def test_a_wait_is_as_long_as_it_was() -> None:
    """A rest ended after 75 minutes took 75, beside the 60 that were planned."""
    (wait,) = waited(Played().waited("stock.hold_warm", 75).session)
    assert (wait.figure, wait.planned, wait.real) == ("stock.hold", 60, 75)


def test_pauses_do_not_count() -> None:
    """Ten minutes beside the pot, half an hour away with the wait stopped, five minutes more: a quarter of an hour."""
    day = Played().happen(start_wait(Played().step("stock.hold_warm"), 1))
    day.happen(WaitPaused("w1"), 10).happen(WaitResumed("w1"), 30).happen(WaitEnded("w1"), 5)
    (wait,) = waited(day.session)
    assert wait.real == pytest.approx(15)


def topped_up(*before: str) -> Played:
    """A kept vat for cotton topped up with the key, after some steps were ticked."""
    day = Played(plan_with(evolve(wool_plan(), kept=kept_vat()), lots__a__fibre="cotton"))
    old = KeptVat(20, 1, "sodium hydroxide", 4, "thiourea dioxide", 0, 3, 2)
    day.happen(VatCarriedOn("s0", "Monday", day.clock.now().utc, old))
    return day.done(*before).happen(VatToppedUp())


ON_TOP = ("stock.pigment", "stock.alkali", "stock.reducer", "vat.alkali", "vat.reducer")


def test_a_vat_topped_up_at_one_stroke_got_all_that_its_steps_put_in() -> None:
    """Nobody ticked a step, and the powders are gone from the shelf all the same, as the sheet had them."""
    day = topped_up()
    sheet = compute(day.state.plan)
    assert grams(day) == {name: sheet.value(name) for name in ON_TOP if sheet.value(name)}
    assert len(grams(day)) >= 4


def test_what_was_ticked_before_or_after_the_stroke_counts_once() -> None:
    """Each powder comes once, at the step that was ticked or else with the topping up."""
    day = topped_up("stock.paste").done("vat.alkali_in")
    found = [item.use.figure for item in added(day.session)]
    assert sorted(found) == sorted(ON_TOP)


def test_a_topping_up_taken_back_or_a_step_opened_again_puts_nothing_in() -> None:
    """Undone, nothing went in; a step opened again says that just its powder did not."""
    assert grams(topped_up().happen(Undone(2))) == {}
    opened = topped_up().done("vat.alkali_in").happen(StepReopened("vat.alkali_in"))
    assert "vat.alkali" not in grams(opened)


def test_acid_of_the_end_is_counted_once() -> None:
    """170 and 69 mL went in, 239 mL in all when it was let go: so much is gone from the bottle, not twice as much."""
    day = Played().happen(VatMade()).happen(CorrectionMade(material="vinegar", amount=Amount(20, "mL")))
    day.happen(VatSpent())
    for much in (170, 69):
        day.happen(CorrectionMade(remedy="neutralise", material="vinegar", amount=Amount(much, "mL")))
    day.happen(VatLetGo(Amount(6.8, "L"), 12.3, "vinegar", Amount(239, "mL"), 8.6, "drain"))
    vinegar = [item.use.grams / 1.01 for item in added(day.session) if item.use.material == "vinegar"]
    assert sum(vinegar) == pytest.approx(259, rel=0.01)


def test_acid_that_only_the_end_tells_of_counts() -> None:
    """Half of it was written down as it went in: the rest is what the end says beyond."""
    day = Played().happen(VatMade()).happen(VatSpent())
    day.happen(CorrectionMade(remedy="neutralise", material="vinegar", amount=Amount(100, "mL")))
    day.happen(VatLetGo(Amount(6.8, "L"), 12.3, "vinegar", Amount(200, "mL"), 8.6, "drain"))
    assert sum(item.use.grams for item in added(day.session) if item.use.material == "vinegar") == pytest.approx(202)
    assert "vinegar" not in day_record(day.session).went_in, "it made no blue"


def test_the_reading_of_what_is_drained_is_none_of_the_blue() -> None:
    """Read at pH 11 while it dyed and at 7.5 once acid was in: the card tells of the vat that dyed."""
    day = Played().happen(VatMade()).happen(ReadingTaken(Reading(pH=11)))
    day.happen(VatSpent()).happen(ReadingTaken(Reading(pH=7.5)))
    assert [item.reading.pH for item in readings(day.state)] == [11]
