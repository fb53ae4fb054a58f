"""The vat over the day: what is expected is the account's own, worked out by hand or asked of the screen's outlook."""

from __future__ import annotations

from math import exp

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.effort import examples
from tests.log.makers import CREATED, logged, session

from vatside.log.events.day import Event, PlanChanged
from vatside.log.events.vat import (
    CorrectionMade,
    DipEnded,
    DipStarted,
    PHTrusted,
    ReadingTaken,
    VatLetGo,
    VatMade,
    VatSpent,
)
from vatside.log.fold import State, fold
from vatside.log.waits import after, seconds_between
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_course import Course
from vatside.recipe.compute import compute
from vatside.recipe.cooling import leaves
from vatside.units import Amount
from vatside.vat.account import Account
from vatside.vat.reading import PHBy, Reading

ROOM = PlanChanged("water.room", Amount(20, "degC"))
COLD = CorrectionMade(water=Amount(1, "L"), water_temperature=Amount(15, "degC"))
GONE = VatLetGo(Amount(20, "L"), 11.9, "vinegar", Amount(400, "mL"), 7.9, "kitchen drain, after asking")


def reading(celsius: float | None, **more: object) -> ReadingTaken:
    """A reading by meter."""
    warm = None if celsius is None else Amount(celsius, "degC")
    return ReadingTaken(Reading(temperature=warm, pH_by=PHBy.METER, **more))  # type: ignore[arg-type]


def hourly(*events: Event) -> State:
    """Give the state after these events, an hour apart, in a room at 20 °C."""
    return fold(evolve(session(), entries=logged(ROOM, *events, clock=VirtualClock(CREATED), every=3600)))


def seen(state: State, hours: float) -> Outlook:
    """Give what the screen of the vat shows so many hours after the last entry."""
    assert state.last is not None
    return Outlook(state, compute(state.plan), after(state.last, 3600 * hours))


def course(state: State, hours: float = 0.0) -> Course:
    """Give the course seen then, which must be there."""
    found = seen(state, hours).course
    assert found is not None
    return found


def litres(state: State) -> float:
    """Give the litres of the vat."""
    assert state.tending.account is not None
    return state.tending.account.litres


@pytest.mark.parametrize("hours", [1, 2, 3])
def test_the_expected_temperature_by_hand(hours: float) -> None:
    """Newton: 20 + 27 e^(-0.17 t (20 / V)^(1/3)), the band by half and by one and a half times that rate."""
    state = hourly(VatMade(), reading(47))
    rate = 0.17 * (20 / litres(state)) ** (1 / 3)
    found = course(state, hours)
    assert found.now is not None
    here = found.at(found.now).celsius
    for value, share in ((here.low, 1.5), (here.likely, 1.0), (here.high, 0.5)):
        assert value == pytest.approx(20 + 27 * exp(-rate * share * hours), abs=0.01)


def test_at_a_reading_the_band_is_what_was_read() -> None:
    """44 °C, read an hour ago: no colder and no warmer; just before, it was the band of two hours."""
    state = hourly(VatMade(), reading(47), reading(None), reading(44))
    found = course(state, 1)
    at = found.read_C[-1][0]
    here = found.at(at).celsius
    assert (here.low, here.likely, here.high) == (44, 44, 44)
    before = found.at(at - 0.01).celsius
    assert before.high - before.low > 4


def test_at_a_reading_the_pH_is_the_account_s() -> None:
    """What the screen showed at that moment, likely and at both ends."""
    state = hourly(VatMade(), reading(47), reading(45, pH=10.9))
    then = seen(state, 0)
    assert then.prediction is not None
    found = course(state, 2)
    pH = found.at(found.read_pH[-1][0]).pH
    assert pH is not None
    assert pH.likely == pytest.approx(then.prediction.pH, abs=1e-9)
    assert (pH.low, pH.high) == then.pH_between


EVENTS = st.sampled_from(
    [reading(46), reading(41, pH=9.2), reading(None, pH=9.5), COLD, DipStarted("a.1", 5), DipEnded("a.1", 15),
     CorrectionMade(material="lye", amount=Amount(1, "g")), PHTrusted(9.4, Amount(45, "degC")), VatSpent()]
)  # fmt: skip


@examples(25)
@given(st.lists(EVENTS, max_size=6), st.integers(0, 8 * 60))
def test_of_each_moment_it_says_what_the_screen_showed(events: list[Event], minutes: int) -> None:
    """Whatever happened: at each whole minute since the last event, and at each event, account and course agree."""
    state = hourly(VatMade(), *events)
    then, found = seen(state, minutes / 60), course(state, minutes / 60)
    account, here = then.account, found.at(found.now or 0.0)
    assert isinstance(account, Account)
    assert here.celsius.likely == pytest.approx(account.celsius, abs=1e-6)
    assert here.celsius.low <= here.celsius.likely <= here.celsius.high
    assert here.pH is not None
    assert then.pH_between is not None
    assert (here.pH.low, here.pH.high) == pytest.approx(then.pH_between, abs=1e-6)
    earlier = fold(state.whole.upto(2))  # the vat just made
    assert found.at(0.0).celsius.likely == pytest.approx(earlier.tending.account.celsius)  # type: ignore[union-attr]


def test_the_band_leaves_the_window_when_the_words_say_so() -> None:
    """Soonest and latest of "it falls below 45 °C in …" are where the lower and the upper end come down to it."""
    state = hourly(VatMade(), reading(50))
    then, found = seen(state, 0.25), course(state, 0.25)
    assert then.cooling is not None
    left = leaves(then.cooling, 45)
    assert left is not None
    now = found.now or 0.0
    # straight lines between half hours are off by less than a tenth of a degree
    assert found.at(now + left.soonest).celsius.low == pytest.approx(45, abs=0.1)
    assert found.at(now + left.minutes).celsius.likely == pytest.approx(45, abs=0.1)
    assert found.at(now + left.latest).celsius.high == pytest.approx(45, abs=0.1)


def test_cold_water_lowers_the_band_and_leaves_it_as_wide() -> None:
    """A litre at 15 into V litres at t: (V t + 15) ÷ (V + 1) from that minute on; nobody read how warm it was."""
    state = hourly(VatMade(), reading(47), COLD)
    found = course(state, 1)
    [at] = found.put_in
    before, here = found.at(at - 1e-6).celsius, found.at(at).celsius
    liquor = litres(state) - 1
    assert here.likely == pytest.approx((liquor * before.likely + 15) / (liquor + 1), abs=0.1)
    assert here.high - here.low == pytest.approx(before.high - before.low, abs=0.01)


def test_a_pH_read_cold_is_brought_to_the_vat() -> None:
    """11.0 of a sample at 25 °C, read when the vat was at 45: 20 degrees times the slope of such a vat lower."""
    state = hourly(VatMade(), reading(45, pH=11.0, pH_temperature=Amount(25, "degC")))
    [(_, pH)] = course(state).read_pH
    assert pH == pytest.approx(11.0 - 20 * seen(state, 0).setting.slope)


def test_a_pH_read_without_a_temperature_is_of_the_vat_as_it_stood() -> None:
    """A sample at 25 °C two hours after 47 were read: the slope counts from the temperature of the account."""
    state = hourly(VatMade(), reading(47), reading(None), reading(None, pH=9.8, pH_temperature=Amount(25, "degC")))
    account = state.tending.account
    assert account is not None
    [(_, pH)] = course(state).read_pH
    assert pH == pytest.approx(9.8 - (account.celsius - 25) * seen(state, 0).setting.slope)


def test_dips_and_what_went_in_have_their_minutes() -> None:
    """An hour after each other, from the vat on."""
    found = course(hourly(VatMade(), DipStarted("a.1", 5), DipEnded("a.1", 15), COLD, DipStarted("a.2", 5)))
    assert found.dips == pytest.approx((60, 240))
    assert found.put_in == pytest.approx((180,))


def test_it_looks_ahead_to_the_end_of_the_dips() -> None:
    """As many minutes as the sheet has for them; an hour once their step is done."""
    from vatside.log.events.day import StepDone

    state = hourly(VatMade())
    found = course(state, 0.5)
    assert found.now is not None
    assert found.end - found.now == pytest.approx(compute(state.plan).value("dip.minutes"), abs=1)
    done = course(hourly(VatMade(), StepDone("dip.rotate")))
    assert done.now is not None
    assert done.end - done.now == pytest.approx(60, abs=1)


def test_without_a_vat_there_is_none() -> None:
    """Before the stock goes in there is nothing to expect."""
    assert seen(hourly(), 0).course is None


def test_a_vat_that_was_let_go_ends_then() -> None:
    """Three hours after it was made, whenever one looks; there is no now in it."""
    found = course(hourly(VatMade(), reading(47), VatSpent(), GONE), 5)
    assert found.now is None
    assert found.end == pytest.approx(180)
    assert [minute for minute, _ in found.read_C] == pytest.approx([60])


def test_another_vat_begins_anew() -> None:
    """Of the vat before it nothing is shown."""
    state = hourly(VatMade(), reading(47), VatSpent(), GONE, VatMade())
    found = course(state)
    assert seconds_between(found.begin, state.last or found.begin) == 0
    assert found.read_C == ()


def test_it_goes_back_a_day() -> None:
    """A vat made two days ago is shown from yesterday on, colder by then than in its first hours."""
    found = course(hourly(VatMade(), reading(47)), 48)
    assert found.now == pytest.approx(24 * 60)
    assert found.expected[0].minute == pytest.approx(0)
    assert found.at(0).celsius.likely < 30
    assert found.read_C == ()
