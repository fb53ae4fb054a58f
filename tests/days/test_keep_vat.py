"""Keeping a vat and carrying on from it."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.log.played import Played
from tests.plan.plans import plan_with, wool_plan

from vatside.catalogue.load import methods
from vatside.days.keep_vat import Carried, carried_from, carry_on, feeding_wait, in_plan, keep, kept_by, kept_lines
from vatside.forms.fields import plan_problems
from vatside.log import waits
from vatside.log.events.day import NoteWritten
from vatside.log.events.vat import (
    CorrectionMade,
    DipEnded,
    DipStarted,
    LotDipped,
    ReadingTaken,
    VatMade,
    VatToppedUp,
    VolumeMeasured,
)
from vatside.log.state import Session
from vatside.log.waits import Moment, after
from vatside.plan.plan import Pin
from vatside.recipe.compute import compute
from vatside.storage.folder import list_sessions
from vatside.storage.session_file import SessionFile
from vatside.units import Amount
from vatside.vat.account import free_alkali_g
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import Reading

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
    assert vat.indigotin_g == pytest.approx(compute(day.state.plan).value("dip.kept"), rel=1e-6)


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
    assert gained == pytest.approx(10 * 0.99, rel=1e-3)  # a minute goes by with it


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


def test_the_new_plan_says_what_stands_in_the_tub() -> None:
    """Litres and dye as kept, as warm as the room; lye less what spent reducer took, with what blue dye gave back."""
    carried = carry_on(Played().happen(keep(Played().session, 227 * 0.008 / 0.7 - 1)).session, later_of(WEEKS))
    kept, vat = carried.plan.kept, carried.event.vat
    assert kept is not None
    assert carried.plan.pins == ()
    assert kept.indigotin.value == pytest.approx(1)
    # 2 × 39.997 ÷ 108.12 g of lye a gram of reducer, and 39.997 ÷ 262.27 a gram of dye that air turned blue
    left = vat.alkali_g - 0.740 * vat.reducer_g + 0.1525 * vat.indigotin_g
    assert (kept.volume.value, kept.alkali.value) == pytest.approx((vat.litres, left), rel=5e-3)
    assert kept.temperature == carried.plan.water.room


def later_of(seconds: float) -> Moment:
    """A moment some seconds after the beginning of every played day."""
    return after(VirtualClock(Played().session.created).now(), seconds)


def test_the_new_plan_is_one_that_the_form_lets_through() -> None:
    """Even where the kept vat holds more than enough of everything: 50 g of 40 % in 20 L are 1 g/L."""
    strong = Played(plan_with(stock__pigment="50 g"))
    day = strong.happen(keep(strong.session, 0))
    plan = carry_on(day.session, later(day, 3600)).plan
    assert plan_problems(plan) == ()
    assert compute(plan).value("stock.pigment") == 0


def test_reducer_left_goes_with_the_days() -> None:
    """A gram of thiourea dioxide at 20 °C and pH 10, covered: half falls apart in 5 h × 2.5³ = 78 h, air takes more.

    So a day leaves less than 0.81 g, three weeks leave nothing.
    """
    plan = plan_with(water__room="20 C")
    vat = a_vat(reducer_g=1, alkali_g=5)
    hour, day, weeks = (in_plan(vat, plan, seconds) for seconds in (3600, 86400, WEEKS))
    assert hour.reducer.value == pytest.approx(1, abs=0.02)
    assert 0.65 < day.reducer.value < 0.81
    assert weeks.reducer == Amount(0, "g")
    # Two hydroxide a mole: 2 × 39.997 ÷ 108.12 g of lye a gram; the dye, blue again, gives back 39.997 ÷ 262.27.
    assert weeks.alkali.value == pytest.approx(5 - 0.740 + 0.1525 * vat.indigotin_g, abs=0.01)


def test_a_kept_vat_is_as_warm_as_a_covered_tub_is_by_then() -> None:
    """Read at 43 °C: 43 two minutes later, between that and the room after five hours, the room's after a week."""
    day = Played().done(*DYED).happen(ReadingTaken(Reading(Amount(43, "degC"))))
    day = day.happen(keep(day.session))
    room = wool_plan().water.room.value

    def stands(seconds: float) -> float:
        kept = carry_on(day.session, later(day, seconds)).plan.kept
        assert kept is not None
        return kept.temperature.value

    assert stands(120) == 43
    assert room + 5 < stands(5 * 3600) < 38
    assert stands(WEEKS) == room


@given(st.builds(a_vat, st.floats(0, 1e5), st.floats(0, 1e9), st.floats(0, 1e9), st.floats(0, 1e9)))
def test_no_kept_vat_is_one_that_the_form_refuses(vat: KeptVat) -> None:
    """Whatever a file says it holds, the new plan is within the form's ranges."""
    plan = wool_plan()
    assert plan_problems(evolve(plan, kept=in_plan(vat, plan, 60))) == ()


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
    there = old.indigotin_g * (1 - sheet.value("vat.surplus", 0.0) / old.litres)
    assert sheet.value("vat.surplus", 0.0) == pytest.approx(1, rel=0.05)
    assert vat.indigotin_g == pytest.approx(there + sheet.value("stock.indigotin"), rel=5e-3)
    assert vat.litres == pytest.approx(sheet.value("vat.liquor"), rel=0.02)
    assert vat.celsius == pytest.approx(sheet.value("vat.temperature"), abs=1)


def test_litres_measured_before_topping_up_change_what_is_added() -> None:
    """Three litres went off as steam: the sheet tops up that much more, and the account holds what is in the tub."""
    day = Played().done(*DYED)
    now = later(day, WEEKS)
    new = followed(carry_on(day.session, now), now).set("vat.fill", "20.4 L")
    before = compute(new.state.plan).value("vat.water")
    new.happen(VolumeMeasured(Amount(17, "L")))
    sheet = compute(new.state.plan)
    assert sheet.value("vat.kept", 0.0) == 17
    assert sheet.value("vat.water") > before
    new.happen(VatToppedUp()).happen(VolumeMeasured(Amount(19, "L")))
    assert compute(new.state.plan).value("vat.kept", 0.0) == 17


def test_the_form_and_the_account_agree_on_the_litres() -> None:
    """What the dyer writes into the form counts when the vat is topped up."""
    day = Played().done(*DYED)
    now = later(day, WEEKS)
    new = followed(carry_on(day.session, now), now).set("kept.volume", "15 L").happen(VatToppedUp())
    account = new.state.tending.account
    assert account is not None
    assert account.litres == pytest.approx(compute(new.state.plan).value("vat.liquor"), rel=0.02)


def test_a_day_on_an_old_file_is_topped_up_as_before() -> None:
    """A plan that only holds amounts by hand, as older days do, is topped up to the liquor that it has."""
    day = Played().done(*DYED)
    now = later(day, WEEKS)
    carried = carry_on(day.session, now)
    old = evolve(carried, plan=evolve(carried.plan, kept=None, pins=(Pin("stock.pigment", Amount(3, "g")),)))
    account = followed(old, now).happen(VatToppedUp()).state.tending.account
    assert account is not None
    assert account.litres == pytest.approx(compute(old.plan).value("vat.liquor"), rel=0.02)


def test_there_must_be_a_vat_to_top_up() -> None:
    """Without one the event stays in the log and changes nothing."""
    assert [misfit.text for misfit in Played().happen(VatToppedUp()).state.misfits] == ["there is no vat here"]


def test_carrying_on_gives_the_account_back() -> None:
    """The new session's account holds what was kept, to the digits that its form shows; its reducer took its alkali."""
    day = Played().happen(VatMade()).happen(keep(Played().happen(VatMade()).session))
    kept = kept_by(day.state)
    assert kept is not None
    now = later(day, WEEKS)
    account = followed(carry_on(day.session, now), now).state.tending.account
    assert account is not None
    vat = kept[0].vat
    assert account.litres == pytest.approx(vat.litres, rel=5e-3)
    assert account.indigotin_g == pytest.approx(vat.indigotin_g, rel=5e-3)
    back = 0.1525 * vat.indigotin_g
    assert free_alkali_g(account) == pytest.approx(vat.alkali_g - 0.740 * vat.reducer_g + back, abs=5e-3)


@pytest.mark.parametrize(("gone", "said"), [(40 * 60, "40 min ago"), (3 * 86400, "3 days ago"), (WEEKS, "21 days ago")])
def test_minutes_days_and_weeks_are_told_alike(gone: float, said: str) -> None:
    """How long it stood is said in what a person counts in, and old reducer is called gone."""
    day = Played().happen(keep(Played().session))
    lines = kept_lines(carry_on(day.session, later(day, gone)).event, later(day, gone))
    assert lines[0].endswith(f"kept {said}")
    assert lines[2].endswith("less by now: time and air take it") is (gone >= 3600)


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


def test_what_the_pieces_took_is_what_came_out() -> None:
    """The board counted two dips; what is on the pieces left the vat, even where the plan's powder changed since."""
    day = Played().happen(VatMade()).happen(DipStarted("a.1", 5)).happen(DipEnded("a.1", 10), 5)
    (piece,) = day.state.dipping.pieces.values()
    on = piece.on.stays + piece.on.goes
    assert keep(day.session).vat.taken_out_g == pytest.approx(on)
    day.set("stock.pigment", "20 g")
    assert keep(day.session).vat.taken_out_g == pytest.approx(on)


def test_the_little_that_the_pieces_took_counts_too() -> None:
    """One piece, one minute: less than a hundredth of the dye left, and the plan's dips are not guessed on top."""
    day = Played().set("lots.a.pieces", "20").happen(VatMade()).done("vat.look", "dip.cover")
    there = day.state.tending.account
    day.happen(DipStarted("a.1", 1)).happen(DipEnded("a.1", 10), 1)
    (piece,) = day.state.dipping.pieces.values()
    on = piece.on.stays + piece.on.goes
    assert there is not None
    assert on < 0.01 * there.indigotin_g
    assert keep(day.session).vat.taken_out_g == pytest.approx(on)


def test_the_little_that_a_whole_lot_took_counts_too() -> None:
    """A dip written down for one piece of twenty is a dip that was told."""
    day = Played().set("lots.a.pieces", "20").happen(VatMade()).done("vat.look", "dip.cover")
    before = day.state.tending.account
    after = day.happen(LotDipped("a", 1, 1)).state.tending.account
    assert before is not None
    assert after is not None
    lost = before.indigotin_g - after.indigotin_g
    assert lost < 0.01 * before.indigotin_g
    assert keep(day.session).vat.taken_out_g == pytest.approx(lost, rel=1e-3)


def test_a_session_without_a_word_of_keeping_counts_from_its_end() -> None:
    """The dyer forgot to say so; the vat stood since the last entry."""
    day = Played().done(*DYED)
    carried = carry_on(Session(day.session.id, day.session.created, day.plan, day.session.entries), later(day, 60))
    assert day.state.last is not None
    assert carried.event.kept == day.state.last.utc
