"""Keeping a vat and carrying on from it."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.recipe.plans import plan_with
from tests.session.played import Played

from vatside.catalogue.load import methods
from vatside.recipe.care.account import free_alkali_g
from vatside.recipe.care.reading import Reading
from vatside.recipe.compute import compute
from vatside.recipe.plan import Pin
from vatside.recipe.starter import starter_plan
from vatside.session import waits
from vatside.session.across.keep import (
    Carried,
    carried_from,
    carry_on,
    feeding_wait,
    keep,
    kept_by,
    kept_lines,
    topping,
)
from vatside.session.care_events import CorrectionMade, ReadingTaken, VatMade
from vatside.session.clock import VirtualClock, after
from vatside.session.events import Moment, NoteWritten, VatToppedUp
from vatside.session.fitting import plan_problems
from vatside.session.folder import list_sessions
from vatside.session.kept import KeptVat
from vatside.session.session import Session
from vatside.session.store import SessionFile
from vatside.units import Amount

DYED = ("stock.paste", "vat.stock_in", "vat.look", "dip.cover")
WEEKS = 3 * 7 * 86400.0


def a_vat(litres: float = 20, indigotin_g: float = 1, alkali_g: float = 10, reducer_g: float = 5) -> KeptVat:
    """Twenty litres with a gram of indigotin and ten of lye to spare."""
    return KeptVat(litres, indigotin_g, "sodium hydroxide", alkali_g, "thiourea dioxide", reducer_g, 3, 2)


def later(day: Played, seconds: float) -> Moment:
    """A moment after the day's last entry."""
    assert day.state.last is not None
    return after(day.state.last, seconds)


def followed(carried: Carried, now: Moment) -> Played:
    """The session that begins with what was carried over."""
    day = Played(carried.plan, "s2", VirtualClock(now.utc, now.elapsed, now.boot))
    return day.happen(carried.event, 0)


def test_a_vat_that_was_not_dyed_in_keeps_all_its_indigo() -> None:
    """Made by the plan and left alone, 2.6 g of indigotin are in it (227 g at 0.8 % by 70 %), and none came out."""
    vat = keep(Played().session).vat
    assert vat.indigotin_g == pytest.approx(227 * 0.008 / 0.7)
    assert vat.brought_g == pytest.approx(vat.indigotin_g)
    assert vat.taken_out_g == 0


def test_a_vat_that_was_dyed_in_keeps_what_the_dips_leave() -> None:
    """By the plan, what the dips lay on fibre and rinse off is gone."""
    day = Played().done(*DYED)
    vat = keep(day.session).vat
    assert vat.indigotin_g == pytest.approx(compute(day.state.plan).value("dip.left"), rel=1e-6)


def test_the_dyer_can_say_how_much_came_out() -> None:
    """A weighed gain beats the plan's estimate, and never takes out more than there was."""
    day = Played().done(*DYED).session
    assert keep(day, taken_g=1.0).vat.taken_out_g == 1.0
    assert keep(day, taken_g=99).vat.indigotin_g == 0


def test_the_account_of_the_session_counts_before_the_plan() -> None:
    """Ten grams of lye that went in as a correction are in the kept vat."""
    plain = Played().happen(VatMade())
    more = Played().happen(VatMade()).happen(CorrectionMade(material="alkali", amount=Amount(10, "g")))
    gained = keep(more.session).vat.alkali_g - keep(plain.session).vat.alkali_g
    assert gained == pytest.approx(10 * 0.99, rel=1e-6)


@pytest.mark.parametrize("method", sorted(methods()))
@given(taken=st.none() | st.floats(0, 50))
def test_what_went_in_is_there_or_came_out(method: str, taken: float | None) -> None:
    """Whatever the vat and whatever the dyer says, indigotin in less indigotin out is what is left."""
    vat = keep(Played(plan_with(method=method)).done(*DYED).session, taken).vat
    assert vat.brought_g - vat.taken_out_g == pytest.approx(vat.indigotin_g)
    assert min(vat.litres, vat.indigotin_g, vat.alkali_g, vat.reducer_g) >= 0


def test_a_vat_kept_three_times_has_one_history() -> None:
    """The third day knows all that ever went in and came out."""
    day = Played().done(*DYED)
    first = keep(day.session).vat
    for _ in range(2):
        now = later(day, WEEKS)
        day = followed(carry_on(day.session, now), now).done(*DYED)
    last = keep(day.session).vat
    assert last.brought_g > first.brought_g
    assert last.brought_g - last.taken_out_g == pytest.approx(last.indigotin_g)


def test_the_new_session_points_back_to_the_old_one() -> None:
    """Its first event names the session, its title and when it was kept."""
    day = Played().set("title", "Fair").done(*DYED)
    event = keep(day.session)
    day.happen(event)
    carried = carry_on(day.session, later(day, WEEKS))
    assert (carried.event.session, carried.event.title) == ("s1", "Fair")
    assert carried.event.kept == day.state.last.utc if day.state.last else None
    assert carried.event.vat == event.vat
    assert carried_from(followed(carried, later(day, WEEKS)).state) == carried.event


def test_the_latest_keeping_counts() -> None:
    """A vat kept twice is carried on as it was the second time."""
    day = Played().happen(keep(Played().session, 0.5)).happen(keep(Played().session, 1.0))
    kept = kept_by(day.state)
    assert kept is not None
    assert kept[0].vat.taken_out_g == 1.0


def test_the_new_plan_makes_stock_for_what_is_missing_only() -> None:
    """With 1 g of indigotin left and 2.594 g wanted, 1.594 g are ground: 3.99 g at 40 %."""
    carried = carry_on(Played().happen(keep(Played().session, 227 * 0.008 / 0.7 - 1)).session, later_of(WEEKS))
    held = {pin.figure: pin.amount.value for pin in carried.plan.pins}
    assert held["stock.pigment"] == pytest.approx(1.594 / 0.4, rel=0.005)


def later_of(seconds: float) -> Moment:
    """A moment some seconds after the beginning of every played day."""
    return after(VirtualClock(Played().session.created).now(), seconds)


def test_the_new_plan_is_one_that_the_form_lets_through() -> None:
    """Even where the kept vat holds more than enough of everything."""
    day = Played().happen(keep(Played().session, 0))
    plan = carry_on(day.session, later(day, 3600)).plan
    assert plan_problems(plan) == ()
    assert Pin("stock.pigment", Amount(0.01, "g")) in plan.pins


def test_reducer_left_counts_for_a_day_and_not_for_weeks() -> None:
    """What was left an hour ago is still there; after three weeks the vat is sharpened as if new."""
    plan = starter_plan()
    fresh = compute(plan)["vat.reducer"].value
    assert topping(plan, a_vat(reducer_g=1), gone_s=3600).reducer_g == pytest.approx(fresh - 1 / 0.99)
    assert topping(plan, a_vat(reducer_g=1), gone_s=WEEKS).reducer_g == fresh


def test_only_the_missing_water_is_drawn() -> None:
    """The tub takes 20.2 L beside the fibre, one of them stock; 15 are in it."""
    plan = starter_plan()
    need = topping(plan, a_vat(litres=15))
    assert (need.water_l, need.surplus_l) == (compute(plan)["vat.liquor"].value - 1 - 15, 0)


def test_a_full_tub_gives_up_liquor_for_the_stock() -> None:
    """With 20 L in it, and room for 20.2 beside the fibre, a litre of stock wants 0.8 L out."""
    plan = starter_plan()
    need = topping(plan, a_vat(litres=20))
    assert (need.water_l, need.surplus_l) == (0, 21 - compute(plan)["vat.liquor"].value)


def test_alkali_left_over_is_not_added_again() -> None:
    """Sharpening takes 5.8 g of lye; 4 g of pure lye are left, which are 4.04 g of beads of 99 %."""
    plan = starter_plan()
    wanted = compute(plan)["vat.alkali"].value
    assert topping(plan, a_vat(alkali_g=4)).alkali_g == pytest.approx(wanted - 4 / 0.99)
    assert topping(plan, a_vat(alkali_g=40)).alkali_g == 0


def test_a_kept_vat_topped_up_holds_both_dyes() -> None:
    """What was kept, less the litre that made room, and what the new stock brings are in the tub together."""
    day = Played().done(*DYED)
    now = later(day, WEEKS)
    new = followed(carry_on(day.session, now), now)
    old = new.state.tending.account
    vat = new.happen(VatToppedUp()).state.tending.account
    assert old is not None
    assert vat is not None
    sheet = compute(new.state.plan)
    surplus = old.litres + sheet.value("vat.stock") - sheet.value("vat.liquor")
    there = old.indigotin_g * (1 - surplus / old.litres)
    assert surplus == pytest.approx(1, rel=0.01)
    assert vat.indigotin_g == pytest.approx(there + sheet.value("vat.indigotin"), rel=1e-6)
    assert vat.litres == pytest.approx(sheet.value("vat.liquor"), rel=0.01)


def test_there_must_be_a_vat_to_top_up() -> None:
    """Without one the event stays in the log and changes nothing."""
    assert [misfit.text for misfit in Played().happen(VatToppedUp()).state.misfits] == ["there is no vat here"]


def test_carrying_on_gives_the_account_back() -> None:
    """The new session's account holds the litres, the indigotin and the free alkali that were kept."""
    day = Played().happen(VatMade()).happen(keep(Played().happen(VatMade()).session))
    kept = kept_by(day.state)
    assert kept is not None
    now = later(day, WEEKS)
    account = followed(carry_on(day.session, now), now).state.tending.account
    assert account is not None
    vat = kept[0].vat
    assert account.litres == pytest.approx(vat.litres, rel=1e-6)
    assert account.indigotin_g == pytest.approx(vat.indigotin_g, rel=1e-6)
    assert free_alkali_g(account) == pytest.approx(vat.alkali_g, rel=1e-3)


@pytest.mark.parametrize(("gone", "said"), [(40 * 60, "40 min ago"), (3 * 86400, "3 days ago"), (WEEKS, "21 days ago")])
def test_minutes_days_and_weeks_are_told_alike(gone: float, said: str) -> None:
    """How long it stood is said in what a person counts in, and old reducer is called gone."""
    day = Played().happen(keep(Played().session))
    lines = kept_lines(carry_on(day.session, later(day, gone)).event, later(day, gone))
    assert lines[0].endswith(f"kept {said}")
    assert lines[2].endswith("by now fallen apart") is (gone > 86400)


def test_a_week_is_a_wait_like_any_other() -> None:
    """The call to feed runs seven days, through sleep and over a restart of the machine."""
    day = Played().happen(feeding_wait(1))
    clock = day.clock
    clock.sleep(2 * 86400)
    clock.reboot(3 * 86400)
    day.happen(NoteWritten("stirred"), 0)
    (wait,) = day.state.waits
    assert waits.remaining(wait, clock.now()) == pytest.approx(2 * 86400)
    clock.advance(2 * 86400 + 60)
    ring = waits.ringing(wait, clock.now())
    assert ring is not None
    assert ring.label == "Stir and feed the kept vat"
    assert ring.seconds == pytest.approx(60)


def test_a_kept_vat_goes_through_its_file(tmp_path: Path) -> None:
    """Kept, written, read and carried on into a second file, the account is the same."""
    folder = tmp_path
    day = Played().happen(keep(Played().session))
    now = later(day, WEEKS)
    SessionFile.write_new(folder / "one.json", day.session).close()
    read = SessionFile.open(folder / "one.json", readonly=True).session
    carried = carry_on(read, now)
    second = SessionFile.create(folder / "two.json", carried.plan, now)
    second.append(carried.event, now)
    second.close()
    found = SessionFile.open(folder / "two.json", readonly=True).session
    assert found.entries[0].event == carried.event
    assert len(list_sessions(folder)) == 2


def test_a_vat_of_an_unknown_kind_is_carried_on_without_its_account() -> None:
    """A powder of another version leaves the plan alone and raises nothing."""
    event = carry_on(Played().happen(keep(Played().session)).session, later_of(WEEKS)).event
    strange = evolve(event, vat=evolve(event.vat, alkali="moon dust", reducer="stardust"))
    state = Played(ident="s2").happen(strange).happen(ReadingTaken(Reading(temperature=Amount(40, "degC")))).state
    assert state.misfits == ()
    assert kept_lines(strange, later_of(WEEKS + timedelta(days=1).total_seconds()))


@given(st.builds(a_vat, litres=st.floats(0, 200), indigotin_g=st.floats(0, 500), alkali_g=st.floats(0, 500)))
def test_no_kept_vat_asks_for_less_than_nothing(vat: KeptVat) -> None:
    """Whatever it holds, what is to be added is never negative."""
    need = topping(starter_plan(), vat)
    assert min(need.water_l, need.pigment_g, need.alkali_g, need.reducer_g) >= 0


def test_a_session_without_a_word_of_keeping_counts_from_its_end() -> None:
    """The dyer forgot to say so; the vat stood since the last entry."""
    day = Played().done(*DYED)
    carried = carry_on(Session(day.session.id, day.session.created, day.plan, day.session.entries), later(day, 60))
    assert day.state.last is not None
    assert carried.event.kept == day.state.last.utc
