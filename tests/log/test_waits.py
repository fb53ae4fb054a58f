"""Waits are arithmetic on now."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock

from vatside.log import waits
from vatside.log.waits import Wait


@pytest.fixture(name="clock")
def _clock() -> VirtualClock:
    return VirtualClock()


def started(clock: VirtualClock, minutes: float = 60, **more: object) -> Wait:
    """A wait that starts now."""
    now = clock.now()
    return Wait("w1", "scour.hold", "Scour hold", minutes, now, now, **more)  # type: ignore[arg-type]


def test_remaining_counts_down_and_then_up(clock: VirtualClock) -> None:
    """An hour's wait has 59 minutes left after one, and is 90 s over after an hour and a half minutes."""
    wait = started(clock)
    clock.advance(60)
    assert waits.remaining(wait, clock.now()) == 59 * 60
    clock.advance(59 * 60 + 90)
    assert waits.remaining(wait, clock.now()) == -90


def test_nothing_ticks(clock: VirtualClock) -> None:
    """Asking twice changes nothing: the same moment gives the same answer."""
    wait = started(clock)
    clock.advance(1234.5)
    assert waits.remaining(wait, clock.now()) == waits.remaining(wait, clock.now()) == 3600 - 1234.5


def test_a_paused_wait_stands_still(clock: VirtualClock) -> None:
    """What goes by during a pause is not part of the wait."""
    wait = started(clock)
    clock.advance(600)
    wait = waits.paused(wait, clock.now())
    clock.advance(5000)
    assert waits.is_paused(wait)
    assert waits.remaining(wait, clock.now()) == 3000
    wait = waits.resumed(wait, clock.now())
    clock.advance(100)
    assert waits.remaining(wait, clock.now()) == 2900


def test_the_dye_goes_on_while_the_lid_is_shut(clock: VirtualClock) -> None:
    """Sleep counts."""
    wait = started(clock, 30)
    clock.sleep(40 * 60)
    assert waits.remaining(wait, clock.now()) == -600


def test_setting_the_clock_does_not_move_a_wait(clock: VirtualClock) -> None:
    """A wall clock that jumps an hour, either way, leaves the countdown alone."""
    wait = started(clock)
    clock.advance(60)
    for step in (3600, -7200):
        clock.step_wall(step)
        assert waits.remaining(wait, clock.now()) == 59 * 60


def test_a_clock_set_back_over_a_restart_takes_nothing_away(clock: VirtualClock) -> None:
    """If UTC says that less than nothing went by, the wait stands where it was tied."""
    wait = started(clock)
    clock.step_wall(-86400)
    clock.reboot()
    assert waits.remaining(wait, clock.now()) == 3600


def test_over_is_not_ended(clock: VirtualClock) -> None:
    """A wait that has run out is over until the dyer ends it."""
    wait = started(clock, 1)
    assert not waits.is_over(wait, clock.now())
    clock.advance(60)
    assert waits.is_over(wait, clock.now())
    assert waits.is_running(wait)
    wait = waits.ended(wait, clock.now())
    assert not waits.is_over(wait, clock.now())
    assert not waits.is_running(wait)


def test_an_ended_wait_keeps_how_long_it_was(clock: VirtualClock) -> None:
    """After the end no more time is counted."""
    wait = started(clock)
    clock.advance(100)
    wait = waits.ended(wait, clock.now())
    clock.advance(1000)
    assert waits.elapsed(wait, clock.now()) == 100


def test_nudges_come_in_turn(clock: VirtualClock) -> None:
    """The next nudge is the first that has not come yet; after the last there is none."""
    wait = started(clock, 60, nudges=(15, 30))
    assert waits.next_nudge(wait, clock.now()) == 900
    clock.advance(901)
    assert waits.next_nudge(wait, clock.now()) == 899
    clock.advance(900)
    assert waits.next_nudge(wait, clock.now()) is None


def test_a_nudge_rings_until_it_is_heard(clock: VirtualClock) -> None:
    """The alarm of a nudge repeats, says what to do, and stops when heard; the next one rings anew."""
    wait = started(clock, 60, nudges=(15, 30), nudge_labels=("Stir", "Turn over"))
    assert waits.ringing(wait, clock.now()) is None
    clock.advance(910)
    ring = waits.ringing(wait, clock.now())
    assert ring == waits.Ring("w1", "Stir", over=False, seconds=10)
    wait = waits.quieted(wait, clock.now())
    clock.advance(800)
    assert waits.ringing(wait, clock.now()) is None
    clock.advance(100)
    later = waits.ringing(wait, clock.now())
    assert later is not None
    assert later.label == "Turn over"


def test_the_end_rings_until_it_is_heard(clock: VirtualClock) -> None:
    """The end of a wait rings on, and being heard does not end the wait."""
    wait = started(clock, 1)
    clock.advance(60)
    assert waits.ringing(wait, clock.now()) == waits.Ring("w1", "Scour hold", over=True, seconds=0)
    clock.advance(1000)
    ring = waits.ringing(wait, clock.now())
    assert ring is not None
    assert ring.seconds == 1000
    wait = waits.quieted(wait, clock.now())
    clock.advance(5)
    assert waits.ringing(wait, clock.now()) is None
    assert waits.is_over(wait, clock.now())


def test_hearing_a_nudge_does_not_silence_the_end(clock: VirtualClock) -> None:
    """A nudge heard just before the end leaves the end its alarm."""
    wait = started(clock, 31, nudges=(30,))
    clock.advance(30 * 60)
    wait = waits.quieted(wait, clock.now())
    clock.advance(60)
    ring = waits.ringing(wait, clock.now())
    assert ring is not None
    assert ring.over


def test_more_minutes_ring_at_the_new_end(clock: VirtualClock) -> None:
    """A wait extended after its alarm was heard counts down again and rings again."""
    wait = started(clock, 1)
    clock.advance(70)
    wait = waits.extended(waits.quieted(wait, clock.now()), 5)
    assert waits.remaining(wait, clock.now()) == 290
    clock.advance(300)
    ring = waits.ringing(wait, clock.now())
    assert ring is not None
    assert ring.seconds == 10


def test_a_paused_wait_does_not_ring(clock: VirtualClock) -> None:
    """Stopping a wait stops its alarm as well."""
    wait = started(clock, 1)
    clock.advance(61)
    assert waits.ringing(waits.paused(wait, clock.now()), clock.now()) is None


def test_a_nudge_at_the_end_is_the_end(clock: VirtualClock) -> None:
    """A nudge that falls on the end or behind it does not ring of its own."""
    wait = started(clock, 30, nudges=(30, 45))
    assert waits.next_nudge(wait, clock.now()) is None


def test_the_share_ripens_from_nothing_to_all(clock: VirtualClock) -> None:
    """The share goes from 0 to 1 and stays there."""
    wait = started(clock, 10)
    shares = []
    for _ in range(3):
        shares.append(waits.elapsed_share(wait, clock.now()))
        clock.advance(300)
    clock.advance(1e6)
    assert shares == [0.0, 0.5, 1.0]
    assert waits.elapsed_share(wait, clock.now()) == 1.0


def test_an_empty_wait_is_over_at_once(clock: VirtualClock) -> None:
    """A wait of no minutes is over when it starts, and divides nothing by nothing."""
    wait = started(clock, 0)
    assert waits.is_over(wait, clock.now())
    assert waits.elapsed_share(wait, clock.now()) == 1.0


def test_a_length_stays_within_two_years() -> None:
    """A slip of the keyboard cannot make a countdown that no calendar can show."""
    assert waits.sane_minutes(1e300) == waits.LONGEST_MINUTES
    assert waits.sane_minutes(-5) == 0


@given(
    minutes=st.floats(0, 1e5),
    steps=st.lists(st.tuples(st.sampled_from(["run", "pause", "resume", "reboot", "set"]), st.floats(0, 1e4))),
)
def test_only_running_time_counts(minutes: float, steps: list[tuple[str, float]]) -> None:
    """Whatever pauses, restarts and clock settings come, what went by is the time it ran."""
    clock = VirtualClock()
    wait = started(clock, minutes)
    ran = 0.0
    for what, seconds in steps:
        ran += seconds if waits.is_running(wait) else 0.0
        clock.advance(seconds)
        wait = _changed(wait, what, clock)
    assert waits.elapsed(wait, clock.now()) == pytest.approx(ran, abs=1e-3)


def _changed(wait: Wait, what: str, clock: VirtualClock) -> Wait:
    now = clock.now()
    if what == "pause" and waits.is_running(wait):
        return waits.paused(wait, now)
    if what == "resume" and waits.is_paused(wait):
        return waits.resumed(wait, now)
    if what == "set":
        clock.step_wall(12345)
    if what == "reboot":
        wait = waits.counted_from(wait, now)
        clock.reboot()
        return waits.counted_from(wait, clock.now()) if waits.is_running(wait) else wait
    return wait
