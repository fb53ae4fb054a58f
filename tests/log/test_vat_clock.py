"""The live vat by the clock: cooler, with less reducer and less alkali, each worked out a second way."""

from __future__ import annotations

from math import exp, log

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, logged, session

from vatside.catalogue.load import methods
from vatside.days.keep_vat import keep
from vatside.log.events.day import Event, MethodChosen, PlanChanged, Undone
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, ReadingTaken, VatMade, VatSpent
from vatside.log.fold import State, fold
from vatside.log.vat_account import standing_at
from vatside.log.waits import after
from vatside.outlook.vat_facts import cooling_of
from vatside.recipe.cooling import leaves
from vatside.units import Amount
from vatside.vat.account import Account, free_alkali_g, predict
from vatside.vat.account_changes import ends, reducer_between, with_reducer
from vatside.vat.reading import PHBy, Reading

ROOM = PlanChanged("water.room", Amount(20, "degC"))
TDO = "thiourea dioxide"


def reading(celsius: float, **more: object) -> ReadingTaken:
    """A reading by meter."""
    return ReadingTaken(Reading(temperature=Amount(celsius, "degC"), pH_by=PHBy.METER, **more))  # type: ignore[arg-type]


def hourly(*events: Event, every: float = 3600) -> State:
    """Give the state after these events, an hour apart, in a room at 20 °C."""
    return fold(evolve(session(), entries=logged(ROOM, *events, clock=VirtualClock(CREATED), every=every)))


def later(state: State, hours: float) -> State:
    """Give the state with its vat as it stands so many hours after the last entry."""
    assert state.last is not None
    return standing_at(state, after(state.last, 3600 * hours))


def account(state: State) -> Account:
    """Give the account, which must be there."""
    assert state.tending.account is not None
    return state.tending.account


@pytest.mark.parametrize("method", sorted(methods()))
def test_every_kind_of_vat_goes_with_the_clock(method: str) -> None:
    """Read 10 K above the room it is nearly as cold as that a day later, whatever reduces it: none stands still."""
    state = hourly(PlanChanged("lots.a.fibre", "linen"), MethodChosen("method", method), VatMade(), reading(30))
    assert account(later(state, 24)).celsius == pytest.approx(20, abs=0.3)


def test_spare_zinc_goes_to_water_and_air_and_takes_lime() -> None:
    """A day at 20 °C: what the water takes, exp(-ln 2 / 20) left, and air besides; half a lime for each zinc."""
    linen, zinc = PlanChanged("lots.a.fibre", "linen"), MethodChosen("method", "zinc-lime")
    state = hourly(linen, zinc, VatMade(), reading(20))
    before, day_after = account(state), account(later(state, 24))
    (low, likely, high), was = reducer_between(day_after, "zinc"), reducer_between(before, "zinc")[1]
    assert low < likely < high < was
    assert 0.7 * was < likely < was * exp(-log(2) / 20)
    gone = before.bath.zinc - day_after.bath.zinc
    assert before.bath.calcium - day_after.bath.calcium == pytest.approx(gone / 2, rel=1e-6)


@pytest.mark.parametrize("hours", [0.5, 1, 8])
def test_it_cools_as_tubs_do(hours: float) -> None:
    """Newton by hand: 20 + 27 e^(-0.17 t (20 / V)^(1/3)); after an hour 42.8 °C."""
    state = hourly(VatMade(), reading(47))
    rate = 0.17 * (20 / account(state).litres) ** (1 / 3)
    assert account(later(state, hours)).celsius == pytest.approx(20 + 27 * exp(-rate * hours), abs=0.01)
    assert account(later(state, 1)).celsius == pytest.approx(42.8, abs=0.1)


def test_it_cools_at_its_own_rate_once_two_readings_tell() -> None:
    """49 and an hour later 47 °C: of 29 degrees 27 are left, so in another hour 27 × 27 / 29."""
    state = hourly(VatMade(), reading(49), reading(47))
    assert account(later(state, 1)).celsius == pytest.approx(20 + 27 * 27 / 29, abs=0.01)


@pytest.mark.parametrize(
    "between",
    [
        (CorrectionMade(water=Amount(500, "mL"), water_temperature=Amount(95, "degC")),),
        (DipStarted("a.1", 5), DipEnded("a.1", 15)),
    ],
)
def test_no_rate_is_taken_across_hot_water_or_a_dip(between: tuple[Event, ...]) -> None:
    """What warmed or cooled the vat between two readings is not the room's doing."""
    state = hourly(VatMade(), reading(49), *between, reading(46))
    assert state.tending.clocked is not None
    assert state.tending.clocked.per_minute == 0


def test_its_own_rate_outlasts_the_next_warming() -> None:
    """The tub and its lid are the same ones after kettle water."""
    hot = CorrectionMade(water=Amount(500, "mL"), water_temperature=Amount(95, "degC"))
    state = hourly(VatMade(), reading(49), reading(47), hot)
    assert state.tending.clocked is not None
    assert state.tending.clocked.per_minute == pytest.approx(log(29 / 27) / 60)


def test_the_minutes_to_the_edge_count_down() -> None:
    """Ten minutes later it is ten minutes nearer to 45 °C."""
    state = hourly(VatMade(), reading(49), reading(47))
    first, second = (cooling_of(later(state, hours)) for hours in (0, 10 / 60))
    assert first is not None
    assert second is not None
    now, then = leaves(first, 45), leaves(second, 45)
    assert now is not None
    assert then is not None
    # ln(27 / 25) ÷ (ln(29 / 27) / 60)
    assert now.minutes == pytest.approx(64.6, abs=0.1)
    assert now.minutes - then.minutes == pytest.approx(10, abs=0.01)


def test_reducer_goes_and_takes_two_hydroxide_a_mole() -> None:
    """Three hours: less of it, between two ends, and for each gram 2 × 39.997 ÷ 108.12 g of lye less."""
    state = hourly(VatMade(), reading(47))
    now, then = account(state), account(later(state, 3))
    (_, before, _), (low, likely, high) = reducer_between(now, TDO), reducer_between(then, TDO)
    assert low < likely < high < before
    assert free_alkali_g(now) - free_alkali_g(then) == pytest.approx((before - likely) * 0.7399, rel=1e-3)
    assert predict(then, 25).pH < predict(now, 25).pH


def test_reducer_after_an_hour_by_hand() -> None:
    """Half falls apart in 10 × ½^0.6 = 6.6 h at pH 9.6 and 50 °C, × 2.5 for each 10 degrees colder: 10.4 h at 45."""
    state = hourly(VatMade(), reading(47))
    (_, before, _), (_, likely, _) = (reducer_between(account(one), TDO) for one in (state, later(state, 1)))
    apart = before * (1 - 2 ** (-1 / 10.4))
    # 0.6 cm/h of 5.9 mg/L through 0.068 m²: 2.4 mg of oxygen, 1.4 moles each
    air = 0.0024 * 1.4 * 108.12 / 32
    assert before - likely == pytest.approx(apart + air, rel=0.05)


def test_the_ends_differ_by_their_acid_alone() -> None:
    """With the most reducer left the pH is highest, and sulfur is neither made nor lost."""
    state = later(hourly(VatMade(), reading(47)), 5)
    least, most = ends(account(state), TDO)
    assert predict(least).pH < predict(account(state)).pH < predict(most).pH
    sulfur = {round(one.bath.sulfite + one.bath.sulfate + one.bath.thiourea_dioxide, 9) for one in (least, most)}
    assert len(sulfur) == 1


def test_a_vat_left_for_a_week_is_cold_and_spent_and_turns_blue() -> None:
    """By then it has the room's warmth, no reducer is likely left, and air has turned dye back."""
    state = later(hourly(VatMade(), reading(47)), 24 * 14)
    assert account(state).celsius == pytest.approx(20, abs=0.1)
    assert reducer_between(account(state), TDO)[1] == 0
    assert account(state).unreduced_g > 0
    assert account(state).indigotin_g == pytest.approx(account(hourly(VatMade())).indigotin_g)


def test_acid_is_held_back_while_reducer_may_be_left() -> None:
    """Where likely none is left but some may be, the vat counts as alive; stirred blue, it does not."""
    state = later(hourly(VatMade(), reading(47)), 24 * 7)
    low, likely, high = reducer_between(account(state), TDO)
    assert low == likely == 0
    assert high > 0
    assert account(state).is_alive
    assert not account(hourly(VatMade(), reading(47), VatSpent())).is_alive


def test_dye_is_neither_made_nor_lost_by_time() -> None:
    """Only its form changes."""
    state = hourly(VatMade(), reading(47))
    assert account(later(state, 100)).indigotin_g == pytest.approx(account(state).indigotin_g)


def test_a_kept_vat_goes_on_by_the_clock_under_its_lid() -> None:
    """A lid lets less air in, so that a day later more of it is left."""
    state = hourly(VatMade(), reading(47))
    kept = hourly(VatMade(), reading(47), keep(state.whole))
    open_, covered = (reducer_between(account(later(one, 24)), TDO)[1] for one in (later(state, 1), kept))
    assert covered > open_


def test_what_is_taken_back_takes_no_time_along() -> None:
    """After an undo the vat stands as if the act had never been."""
    plain, undone = hourly(VatMade(), reading(47)), hourly(VatMade(), reading(47), reading(30), Undone(4))
    assert later(undone, 0).tending == later(plain, 2).tending
    assert account(later(undone, 1)).celsius == pytest.approx(account(later(plain, 3)).celsius)


@given(st.floats(0, 200), st.floats(0, 200))
def test_later_is_never_warmer_nor_more_alive(first: float, more: float) -> None:
    """And a clock that goes back changes nothing."""
    state = hourly(VatMade(), reading(47))
    now, then = account(later(state, first)), account(later(state, first + more))
    assert 20 <= then.celsius <= now.celsius <= 47
    assert reducer_between(then, TDO)[1] <= reducer_between(now, TDO)[1] + 1e-9
    assert later(state, -first) is state


@given(st.floats(0, 10))
def test_reducer_put_back_is_what_was_spent(grams: float) -> None:
    """Spending and taking back agree, and never make more than there was."""
    bath = account(hourly(VatMade())).bath
    found = with_reducer(with_reducer(bath, TDO, 0), TDO, grams)
    assert found.thiourea_dioxide * 108.12 <= grams * 1.001
    assert found.thiourea_dioxide + found.sulfite == pytest.approx(bath.thiourea_dioxide + bath.sulfite)
