"""Doing a day again, larger or smaller, with what turned out differently."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from attrs import evolve
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.effort import examples
from tests.log.makers import CREATED
from tests.log.played import Played
from tests.log.strategies import sessions
from tests.plan.plans import kept_vat, plan_with, wool_plan

from vatside.dayline.day_steps import steps
from vatside.dayline.laid_day import lay_day
from vatside.days.blues import dipped
from vatside.days.lots import FILL, STRENGTH, scaled_lots, tidy
from vatside.days.repeat import afresh, new_day_from, offers, on_its_day, repeat
from vatside.days.replay import timeline
from vatside.days.why_apart import before_and_after
from vatside.forms.fields import plan_problems, rows, value_problem
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, DryMassTaken, LotDipped, VatMade
from vatside.log.fold import fold, history
from vatside.log.state import Session
from vatside.plan.measures import total_grams
from vatside.plan.plan import Dosing, Form, Pin, Plan
from vatside.plan.sheet import Sheet
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute
from vatside.storage.places import guided_day
from vatside.storage.session_text import loaded_of
from vatside.units import Amount


def offered(day: Played) -> dict[str, Any]:
    """Offers by path."""
    return {offer.path: offer for offer in offers(day.session)}


def skeins(fibre: str = "wool") -> Plan:
    """Four skeins of 454 g in all, medium, in the smaller of two tubs; nothing is held.

    By hand: 454 g at 0.8 % by 70 % yield and 40 % purity are 12.97 g of powder; a liquor of 30 L/kg for two skeins
    at once is 6.81 L.
    """
    plan = wool_plan()
    tub = evolve(plan.vessels.tub, volume=Amount(10, "L"))
    free = evolve(plan, pins=(), vessels=evolve(plan.vessels, tub=tub, others=(Amount(24, "L"),)))
    return plan_with(free, lots__a__fibre=fibre, lots__a__mass="454 g", lots__a__pieces="4")


def test_a_day_as_planned_offers_nothing() -> None:
    """Every step done, every wait ended on time: nothing differed."""
    day = Played(skeins()).done("stock.paste", "vat.alkali_in").waited("stock.hold_warm", 61)
    assert offers(day.session) == ()


def test_a_pin_is_offered_beside_what_was_worked_out() -> None:
    """The dyer held eight spoons where the plan asked for 13 g (454 g at 0.8 % by 70 % yield and 40 % purity)."""
    offer = offered(Played(skeins()).set("stock.pigment", "8 tsp"))["stock.pigment"]
    assert (offer.planned, offer.actual, offer.value) == ("13.0 g", "8 tsp", Amount(8, "tsp"))


@pytest.mark.parametrize(("minutes", "there"), [(75, True), (45, True), (61, False), (63, False)])
def test_the_real_length_of_a_wait_is_offered_once_it_matters(minutes: float, there: bool) -> None:
    """Fifteen minutes more or less of an hour are worth keeping, a minute is the way to the kettle."""
    found = offered(Played().waited("stock.hold_warm", minutes))
    assert ("stock.hold" in found) is there
    if there:
        assert found["stock.hold"].value == Amount(minutes, "min")


def test_a_wait_of_several_baths_is_offered_as_its_mean() -> None:
    """Two baths held 70 and 90 minutes: 80 would have been right."""
    day = Played(plan_with(lots__a__fibre="cotton", scour__cotton__loads="2"))
    day.waited("scour.cotton.hold.1", 70).waited("scour.cotton.hold.2", 90)
    assert offered(day)["scour.cotton.hold"].value == Amount(80, "min")


def test_an_amount_that_went_in_before_the_plan_changed_is_offered() -> None:
    """The stock was made for half the fibre: that is what the jar held."""
    day = Played(skeins()).done("stock.paste").set("lots.a.pieces", "8").set("lots.a.mass", "908 g")
    offer = offered(day)["stock.pigment"]
    assert (offer.planned, offer.actual) == ("25.9 g", "13 g")


def test_a_wait_that_was_not_sat_out_says_nothing_of_its_length() -> None:
    """Of an hour, 29 minutes were cut short; two baths of which one was, count by the other."""
    assert "stock.hold" not in offered(Played().waited("stock.hold_warm", 29))
    day = Played(plan_with(lots__a__fibre="cotton", scour__cotton__loads="2"))
    day.waited("scour.cotton.hold.1", 1).waited("scour.cotton.hold.2", 90)
    assert offered(day)["scour.cotton.hold"].value == Amount(90, "min")


def test_two_rests_are_told_apart() -> None:
    """The rest of the stock and that of the vat are named with their stage."""
    found = offered(Played().waited("stock.hold_warm", 75).waited("vat.rest_covered", 90))
    assert (found["stock.hold"].label, found["vat.rest"].label) == ("Stock: Rest for", "Vat: Rest for")


def test_corrections_are_offered_on_top_of_what_was_planned() -> None:
    """Six grams of lye on the planned ones, and 1.5 g of reducer on three that were held: what the vat needed."""
    day = Played().set("vat.reducer", "3 g").done("vat.reducer_in").happen(VatMade())
    for material, grams in (("alkali", 4), ("alkali", 2), ("reducer", 1.5)):
        day.happen(CorrectionMade(material=material, amount=Amount(grams, "g")))
    found, lye = offered(day), compute(wool_plan()).value("vat.alkali")
    assert found["vat.alkali"].value.value == pytest.approx(lye + 6, rel=0.006)
    assert found["vat.reducer"].value == Amount(4.5, "g")
    assert found["vat.reducer"].actual == "4.5 g with corrections"


def test_the_buffer_of_a_correction_is_offered_with_its_reducer() -> None:
    """A wool vat: the reducer that went in on top turns to acid again, and needs the soda that went in with it."""
    day = Played().happen(VatMade())
    for material, grams in (("soda-ash", 2), ("baking-soda", 3), ("reducer", 1)):
        day.happen(CorrectionMade(material=material, amount=Amount(grams, "g")))
    found, sheet = offered(day), compute(day.state.plan)
    for material, grams in (("soda-ash", 2), ("baking-soda", 3), ("reducer", 1)):
        path = f"vat.{material}"
        assert found[path].value.value == pytest.approx(sheet.value(path) + grams, rel=0.006)


def test_soda_that_came_day_by_day_is_not_offered_for_the_first() -> None:
    """Bran's acid took 5 g on its third day: with them from the beginning it would stand too high to come to life."""
    day = Played().set("lots.a.fibre", "linen").set("method", "fermentation").happen(VatMade())
    day.happen(CorrectionMade(material="alkali", amount=Amount(5, "g")))
    assert "vat.alkali" not in offered(day)


def test_corrections_grow_with_the_vat() -> None:
    """Half the fibre in half the vat takes half of the lye and of what was corrected."""
    day = Played().happen(VatMade()).happen(CorrectionMade(material="alkali", amount=Amount(6, "g")))
    whole = offered(day)["vat.alkali"].value.value
    plan = repeat(day.session, [FILL, "vat.alkali"], lots=scaled_lots(day.state.plan, total_grams(day.state.plan) / 2))
    assert {pin.figure: pin.amount.value for pin in plan.pins}["vat.alkali"] == pytest.approx(whole / 2, rel=0.02)


def half(day: Played, *chosen: str) -> Plan:
    """The day again with half of its fibre."""
    return scaled(day, 0.5, *chosen)


def scaled(day: Played, factor: float, *chosen: str) -> Plan:
    """The day again with so many times its fibre."""
    return repeat(day.session, chosen, lots=scaled_lots(day.state.plan, factor * total_grams(day.state.plan)))


def test_a_vat_filled_by_the_fibre_keeps_its_strength_and_dips() -> None:
    """Twice the fibre, the liquor and the indigo: the same g/L.

    Left to itself the vat of the larger tub gets 12.5 L, not twice the 6.8 L, and is stronger.
    """
    day = Played(skeins())
    was = compute(day.plan)
    left = compute(scaled(day, 2))
    assert left.value("vat.fill") == pytest.approx(12.5)
    assert left.value(STRENGTH) > 1.05 * was.value(STRENGTH)
    now = compute(scaled(day, 2, FILL))
    assert now.value(STRENGTH) == pytest.approx(was.value(STRENGTH), rel=0.01)
    assert now.value("vat.liquor") == pytest.approx(2 * was.value("vat.liquor"), rel=0.01)
    assert now.value("dip.a.dips") == was.value("dip.a.dips")


def test_a_vat_that_comes_to_its_strength_by_itself_offers_none() -> None:
    """A working vat is as strong as its depth wants, however much fibre there is."""
    day = Played(evolve(skeins(), vessels=wool_plan().vessels, dosing=Dosing.WORKING))
    lots = scaled_lots(day.plan, 2 * total_grams(day.plan))
    assert compute(scaled(day, 2)).value(STRENGTH) == pytest.approx(compute(day.plan).value(STRENGTH), rel=1e-3)
    assert offers(day.session, lots) == ()


def test_fibre_too_heavy_for_so_little_liquor_is_not_put_into_it() -> None:
    """A fourth of the fibre is one skein of 113.5 g, which wants three litres; a fourth of 6.8 L is less."""
    day = Played(skeins())
    lots = scaled_lots(day.plan, total_grams(day.plan) / 4)
    assert FILL not in {offer.path for offer in offers(day.session, lots)}


def test_the_fill_that_was_held_goes_with_the_fibre_too() -> None:
    """Eight litres held for two skeins are four for one."""
    plan = half(Played().set(FILL, "8 L"), FILL)
    assert {pin.figure: pin.amount for pin in plan.pins}[FILL] == Amount(4, "L")


def test_indigo_can_be_held_for_the_same_liquor() -> None:
    """Twice the fibre in 12.5 L of the larger tub, at the strength of the day before: 23.8 g instead of 25.9."""
    day = Played(skeins())
    was, now = compute(day.plan), compute(scaled(day, 2, STRENGTH))
    assert now.value("vat.fill") == pytest.approx(12.5)
    assert now.value(STRENGTH) == pytest.approx(was.value(STRENGTH), rel=0.01)
    assert now.value("stock.pigment") == pytest.approx(was.value(STRENGTH) * now.value("vat.liquor") / 0.4, rel=0.01)


def test_a_tub_that_is_full_is_not_filled_further() -> None:
    """Four times the fibre wants 27 L, the larger tub holds 20.4: no fill is offered, only indigo for the strength."""
    day = Played(skeins())
    lots = scaled_lots(day.plan, 4 * total_grams(day.plan))
    assert [offer.path for offer in offers(day.session, lots)] == [STRENGTH]


def test_a_vat_with_dye_left_is_remade_at_its_strength() -> None:
    """A day on a kept vat of 3 g in 15 L, done again in a new vat, comes to the strength it had."""
    day = Played(evolve(wool_plan(), kept=kept_vat(litres=15, indigotin_g=3)))
    plan = repeat(day.session, [STRENGTH])
    assert compute(plan).value(STRENGTH) == pytest.approx(compute(day.plan).value(STRENGTH), rel=0.01)


def test_as_many_dips_are_no_difference() -> None:
    """Six that may turn out to be five are planned as six: nothing goes from one number to another."""
    plan = wool_plan()
    sheet = compute(plan)
    fewer = (evolve(item, fewest=item.value - 1) if item.id.endswith(".dips") else item for item in sheet.figures)
    dips = round(sheet.value(f"dip.{plan.lots[0].id}.dips"))
    lines = dict(before_and_after(sheet, Sheet(tuple(fewer), ()), plan.lots))
    assert lines[f"Dips of Wool skeins {dips - 1} to {dips}"] is False


def test_before_and_after_say_what_would_show() -> None:
    """Half the strength shows and is marked; the same strength is said once and is not."""
    day = Played()
    was = compute(day.plan)
    weak = dict(before_and_after(was, compute(half(day)), day.plan.lots))
    assert next(words for words, differs in weak.items() if differs).startswith("Strength ")
    same = dict(before_and_after(was, compute(half(day, FILL)), day.plan.lots))
    assert not any(same.values())
    assert "Dips of Wool skeins" in " ".join(same)


def test_dips_as_they_were_are_offered_and_do_not_grow_with_the_fibre() -> None:
    """Two dips of seven minutes where the plan had more: for twice the fibre they are as many and as long."""
    day = Played().happen(VatMade()).happen(LotDipped("a", 2, 7)).happen(LotDipped("a", 2, 7))
    found = offered(day)
    assert (found["dip.a.dips"].value, found["dip.a.dip"].value) == (Amount(2, ""), Amount(7, "min"))
    assert "dip.a.air" not in found
    plan = repeat(day.session, found, lots=scaled_lots(day.state.plan, 454))
    assert {pin.figure: pin.amount for pin in plan.pins}["dip.a.dips"] == Amount(2, "")


def test_what_a_day_brought_is_no_plan() -> None:
    """The dyed weight of one day is neither offered nor carried into another."""
    day = Played(skeins()).happen(DryMassTaken("a", Amount(458, "g"))).set("stock.pigment", "4 g")
    assert set(offered(day)) == {"stock.pigment"}
    assert [pin.figure for pin in new_day_from(day.session, 1e9).pins] == ["stock.pigment"]


def test_only_what_was_chosen_is_held() -> None:
    """Of two offers, the plan of the new day holds the one that was chosen and works the other out."""
    day = Played().set("stock.pigment", "4 g").set("vat.temperature", "44 C")
    plan = repeat(day.session, ["vat.temperature"])
    assert plan.pins == (Pin("vat.temperature", Amount(44, "degC")),)


def test_a_path_that_is_no_offer_is_refused_in_words() -> None:
    """Nobody can take over what did not differ."""
    with pytest.raises(ValueError, match=r"stock\.hold is not among"):
        repeat(Played().session, ["stock.hold"])


def test_twice_the_fibre_takes_twice_the_pigment_and_the_same_heat() -> None:
    """Amounts go with the fibre; temperatures and times stay."""
    day = Played(skeins()).set("stock.pigment", "4 g").set("vat.temperature", "44 C").waited("stock.hold_warm", 80)
    plan = scaled(day, 2, *offered(day))
    held = {pin.figure: pin.amount for pin in plan.pins}
    assert held == {
        "stock.pigment": Amount(8, "g"),
        "vat.temperature": Amount(44, "degC"),
        "stock.hold": Amount(80, "min"),
    }


def test_what_goes_by_the_litre_goes_with_the_vat() -> None:
    """Reducer to sharpen goes by the litre: of 6.7 L 3 g are 6.2 g of 13.7 L, for double the fibre."""
    day = Played(skeins("cotton")).set("vat.reducer", "3 g")
    was, now = (compute(evolve(plan, pins=())) for plan in (day.plan, scaled(day, 2)))
    plan = scaled(day, 2, "vat.reducer")
    more = now.value("vat.liquor") / was.value("vat.liquor")
    assert 2.0 < more < 2.1
    assert plan.pins[0].amount.value == pytest.approx(3 * more, rel=0.01)


def test_spoons_stay_spoons() -> None:
    """Eight spoons for 454 g are twelve for half as much again."""
    plan = scaled(Played(skeins()).set("stock.pigment", "8 tsp"), 1.5, "stock.pigment")
    assert plan.pins == (Pin("stock.pigment", Amount(12, "tsp")),)


def test_a_bath_that_is_not_needed_any_more_takes_no_pin_along() -> None:
    """Wool was soaked for longer; cotton is dyed next."""
    day = Played().waited("scour.wool.soak", 60)
    cotton = evolve(day.state.plan.lots[0], fibre="cotton")
    assert repeat(day.session, ["scour.wool.soak"], lots=(cotton,)).pins == ()


def test_the_hour_stays_and_the_date_goes() -> None:
    """A day that was to be ready on 2 May at ten is wanted at ten whenever it is done again."""
    day = Played().set("ready_by", "2026-05-02 10:00")
    assert repeat(day.session).ready_by == "10:00"
    assert repeat(Played().session).ready_by is None


@pytest.mark.parametrize(
    ("now", "hour", "wanted"),
    [
        ("2026-05-02T03:00", "10:00", "2026-05-02T10:00"),
        ("2026-05-02T09:30", "10:00", "2026-05-03T10:00"),  # to come, but not in so short a time
        ("2026-05-02T13:00", "10:00", "2026-05-03T10:00"),
    ],
)
def test_a_repeated_day_is_on_the_first_day_on_which_it_can_be_met(now: str, hour: str, wanted: str) -> None:
    """Done again on the same day, its hour is tomorrow's: it begins in time, and never in the past."""
    at = datetime.fromisoformat(now).replace(tzinfo=UTC)
    plan = on_its_day(repeat(Played().set("ready_by", hour).session), at, UTC)
    assert plan.ready_by == wanted
    sheet = compute(plan)
    day = lay_day(plan, sheet, steps(plan, sheet), at, zone=UTC, evaluations=25)
    assert day.begin >= at
    assert day.spare is not None
    assert day.spare >= 0


def test_a_day_of_three_hours_is_done_again_on_the_next_one() -> None:
    """In the afternoon the hour of half past twelve is tomorrow's, 21 hours away, however few orders were tried."""
    at = datetime(2026, 11, 29, 15, 38, tzinfo=UTC)
    plan = evolve(afresh(fold(loaded_of(str(guided_day())).session).plan), pins=())
    assert on_its_day(plan, at, UTC).ready_by == "2026-11-30T12:30"


def test_an_hour_for_the_end_of_a_repeated_day_is_one_that_can_be_met() -> None:
    """All done by 17:00, done again at 16:30, is tomorrow at five; a day without an hour gets none."""
    at = datetime(2026, 5, 2, 16, 30, tzinfo=UTC)
    day = Played().set("place.home_by", "17:00")
    assert on_its_day(repeat(day.session), at, UTC).place.home_by == "2026-05-03T17:00"
    plain = repeat(Played().session)
    assert on_its_day(plain, at, UTC) == plain


def test_scaled_lots_weigh_what_was_asked_for() -> None:
    """Two skeins of 227 g and one of 100 g, scaled to a kilogram: six and three of the same skeins."""
    plan = evolve(wool_plan(), lots=(*wool_plan().lots, new_lot(wool_plan())))
    big = scaled_lots(plan, 1000)
    assert [lot.mass for lot in big] == [Amount(681, "g"), Amount(300, "g")]
    assert [lot.pieces for lot in big] == [6, 3]


def scarves(form: Form = Form.GARMENTS, pieces: int = 3) -> Plan:
    """A plan of 120 g of silk."""
    lot = evolve(wool_plan().lots[0], fibre="silk", mass=Amount(120, "g"), pieces=pieces, form=form)
    return evolve(wool_plan(), lots=(lot,))


def test_a_piece_keeps_its_mass() -> None:
    """Three scarves of 40 g and 38 % of the fibre are one scarf of 40 g, not three of 15 g."""
    (lot,) = scaled_lots(scarves(), 0.38 * total_grams(scarves()))
    assert (lot.mass, lot.pieces) == (Amount(40, "g"), 1)


@pytest.mark.parametrize("plan", [scarves(Form.LOOSE), scarves(pieces=1)])
def test_what_is_no_count_of_pieces_is_cut_to_measure(plan: Plan) -> None:
    """Half of loose fibre, or of a single piece, is half of its mass."""
    assert scaled_lots(plan, total_grams(plan) / 2)[0].mass == Amount(60, "g")


@pytest.mark.parametrize("grams", [0, -5, 1e9])
def test_no_fibre_at_all_is_refused(grams: float) -> None:
    """Nothing, less than nothing and a thousand tonnes are no day."""
    with pytest.raises(ValueError, match="cannot be made of"):
        scaled_lots(wool_plan(), grams)


@given(st.floats(1e-3, 1e6))
def test_tidying_keeps_three_digits(value: float) -> None:
    """Rounding moves no amount by more than half a per cent."""
    assert tidy(value) == pytest.approx(value, rel=0.005001)


def test_a_new_day_can_begin_anywhere_in_a_replay() -> None:
    """Before the pin the plan has none, after it it has."""
    day = Played(skeins()).set("stock.pigment", "4 g").set("lots.a.mass", "400 g")
    line = timeline(day.session)
    assert new_day_from(day.session, 0).pins == ()
    at = new_day_from(day.session, line.positions[0])
    assert (at.pins, at.lots[0].mass) == ((Pin("stock.pigment", Amount(4, "g")),), Amount(454, "g"))
    assert new_day_from(day.session, line.length).lots[0].mass == Amount(400, "g")


@examples(25)
@given(sessions())
def test_any_day_can_be_done_again(past: Session) -> None:
    """Whatever happened, every offer fits its field, and the form lets the plan through that takes them all."""
    plan = fold(past).plan
    found = offers(past)
    held = [offer for offer in found if offer.path != STRENGTH]
    assert all(value_problem(plan, rows(plan)[offer.path], offer.value) is None for offer in held)
    assert plan_problems(repeat(past, [offer.path for offer in found])) == ()


@examples(25)
@given(sessions(), st.floats(0.1, 10))
def test_any_day_can_be_scaled(past: Session, factor: float) -> None:
    """Each lot weighs what was asked for within a piece, and pins that would not fit any more are left away."""
    plan = fold(past).plan
    grams = total_grams(plan) * factor
    assume(all(lot.mass.value >= 1 for lot in plan.lots) and 10 < grams < 1e5)
    lots = scaled_lots(plan, grams)
    new = repeat(past, [offer.path for offer in offers(past)], lots=lots)
    for old, lot in zip(plan.lots, new.lots, strict=True):
        assert lot.mass.value == pytest.approx(old.mass.value * factor, abs=old.mass.value * (1 / old.pieces + 0.06))
    assert [problem for problem in plan_problems(new) if "Dry weight" not in problem] == []


@examples(20)
@given(sessions(), st.floats(0, 1))
def test_any_moment_can_begin_a_day(past: Session, share: float) -> None:
    """Every position of a replay gives a plan that the session really went through."""
    plan = new_day_from(past, share * timeline(past).length)
    states = [evolve(afresh(state.plan, "x"), ready_by=None) for state in history(past)]
    assert evolve(plan, title="x", ready_by=None) in states
    assert compute(plan).figures


KEPT_PINS = tuple(
    Pin(figure, Amount(value, unit))
    for figure, value, unit in (("stock.pigment", 0, "g"), ("vat.alkali", 0, "g"), ("vat.reducer", 1, "g"))
)


def on_a_kept_vat() -> Played:
    """A day on a kept vat that held what went in on top, and its warmth."""
    warm = Pin("vat.temperature", Amount(45, "degC"))
    return Played(evolve(wool_plan(), kept=kept_vat(litres=15, indigotin_g=3), pins=(*KEPT_PINS, warm)))


def test_what_a_kept_vat_lacked_is_not_offered() -> None:
    """No lye to sharpen a vat that had enough is no lye for a new one; its warmth is for any day."""
    day = on_a_kept_vat().done("vat.alkali_in", "vat.reducer_in")
    assert [offer.path for offer in offers(day.session)] == [STRENGTH, "vat.temperature"]


def test_a_new_day_from_a_kept_vat_holds_none_of_its_amounts() -> None:
    """Taken over at any moment of the replay, the plan sharpens as a new vat wants it."""
    plan = new_day_from(on_a_kept_vat().session, 0)
    assert [pin.figure for pin in plan.pins] == ["vat.temperature"]
    assert compute(plan).value("vat.alkali") == compute(evolve(wool_plan(), pins=plan.pins)).value("vat.alkali")


def test_a_lot_too_light_to_be_read_again_is_refused() -> None:
    """Of 500 g of wool and 5 g of silk, an eighth would leave 0.6 g of silk, which no form takes."""
    wool = evolve(wool_plan().lots[0], mass=Amount(500, "g"), pieces=10)
    strip = evolve(wool, id="b", name="Silk strip", fibre="silk", mass=Amount(5, "g"), pieces=1)
    plan = evolve(wool_plan(), lots=(wool, strip))
    with pytest.raises(ValueError, match=r"Silk strip, dry weight: 0\.594 g cannot be"):
        scaled_lots(plan, 60)
    assert [lot.mass.value for lot in scaled_lots(plan, 202)] == [200, 2]


def test_an_airing_that_goes_on_does_not_shorten_the_mean() -> None:
    """Two dips, fifteen minutes in the air after the first, the last still airing: fifteen as planned, not half."""
    day = Played().set("dip.a.air", "15 min").happen(VatMade())
    day.happen(DipStarted("a.1", 5)).happen(DipEnded("a.1", 15), 5).happen(DipStarted("a.1", 5), 15)
    day.happen(DipEnded("a.1", 15), 5)
    assert [item.each_air_min for item in dipped(day.state)] == [pytest.approx(15)]
    assert "dip.a.air" not in {path for path, offer in offered(day).items() if offer.value != Amount(15, "min")}


def test_short_dips_are_offered_in_seconds_and_dips_are_counted_as_dips() -> None:
    """Two dips of 20 s of the many longer ones planned: no thousandths of a minute, no bare numbers."""
    day = Played().set("lots.a.pieces", "1").happen(VatMade())
    for _ in range(2):
        day.happen(DipStarted("a.1", 10)).happen(DipEnded("a.1", 15), 1 / 3)
    found = offered(day)
    assert found["dip.a.dip"].actual == "20 s"
    assert found["dip.a.dip"].planned.endswith(" min")
    assert found["dip.a.dips"].actual == "2 dips"
    assert found["dip.a.dips"].planned.endswith(" dips")


def test_names_of_persons_stay_with_their_day() -> None:
    """The class of another month is not that of this one."""
    plan = wool_plan()
    named = evolve(plan, lots=(evolve(plan.lots[0], names=("Asha", "Ben")),))
    assert repeat(Session("s1", CREATED, named, ())).lots[0].names == ()
