"""Telling sleep, a set clock and a stopped program apart."""

from __future__ import annotations

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.clocks.clock import (
    Away,
    ClockSetBack,
    ClockWatch,
    Happening,
    Slept,
    Stalled,
    Stepped,
    look,
    missed,
    missed_sentence,
    reopened,
)
from vatside.log.events.day import ClockSlept, ClockStepped
from vatside.log.waits import Wait
from vatside.units.show import span


@pytest.fixture(name="clock")
def _clock() -> VirtualClock:
    return VirtualClock()


def between(clock: VirtualClock, *, advance: float = 0.25, sleep: float = 0, step: float = 0) -> tuple[Happening, ...]:
    """Look, let something happen, and look again."""
    before = look(clock)
    clock.advance(advance)
    clock.sleep(sleep)
    clock.step_wall(step)
    return ClockWatch(clock.counts_sleep).compare(before, look(clock))


def test_mostly_nothing_happens(clock: VirtualClock) -> None:
    """A quarter of a second between two looks is nothing, nor is a clock slewed by a little."""
    assert between(clock) == ()
    assert between(clock, advance=1.0, step=0.5) == ()


def test_sleep(clock: VirtualClock) -> None:
    """Counted but not awake: the machine slept, and it goes into the log."""
    (found,) = between(clock, sleep=23 * 60)
    assert found == Slept(23 * 60)
    assert "asleep for 23 min" in found.sentence
    assert found.event() == ClockSlept(23 * 60)


@pytest.mark.parametrize(("step", "way"), [(3600, "forward"), (-3600, "back")])
def test_a_set_clock(clock: VirtualClock, step: float, way: str) -> None:
    """The time of day moved and nothing else did: the clock was set."""
    (found,) = between(clock, step=step)
    assert found == Stepped(step)
    assert f"{way} by 1 h" in found.sentence
    assert found.event() == ClockStepped(step)


def test_a_stopped_program(clock: VirtualClock) -> None:
    """Awake for long between two looks: the program stood still."""
    (found,) = between(clock, advance=600)
    assert found == Stalled(600)
    assert "stood still for 10 min" in found.sentence


def test_sleep_and_a_set_clock_together(clock: VirtualClock) -> None:
    """A clock put right on waking up does not hide the sleep."""
    assert between(clock, sleep=1000, step=-50) == (Slept(1000), Stepped(-50))


def test_without_a_counting_clock_a_jump_is_asked_about() -> None:
    """Where sleep looks like a set clock, a jump of more than a minute is a question, a small one is not."""
    clock = VirtualClock(counts_sleep=False)
    (long,) = between(clock, sleep=600)
    (short,) = between(clock, sleep=30)
    assert long == Stepped(600, ask=True)
    assert long.sentence.endswith("?")
    assert short == Stepped(30, ask=False)


def test_closed_for_a_while(clock: VirtualClock) -> None:
    """After a restart the time of day says how long the session was closed."""
    last = clock.now()
    clock.reboot(3 * 3600)
    found = reopened(last, clock.now())
    assert found == Away(3 * 3600)
    assert "closed for 3 h" in found.sentence


def test_closed_within_one_boot_ignores_the_time_of_day(clock: VirtualClock) -> None:
    """Without a restart a set clock does not matter."""
    last = clock.now()
    clock.advance(60)
    clock.step_wall(-86400)
    assert reopened(last, clock.now()) == Away(60)


def test_a_clock_set_back_over_a_restart_asks(clock: VirtualClock) -> None:
    """If the clocks say that the last entry is yet to come, both times are shown and the dyer is asked."""
    last = clock.now()
    clock.reboot(-1800)
    found = reopened(last, clock.now())
    assert isinstance(found, ClockSetBack)
    assert found.seconds == 1800
    assert found.sentence.endswith("?")


def test_what_went_over_meanwhile(clock: VirtualClock) -> None:
    """After a sleep the waits that went over unseen are named, the first one first."""
    now = clock.now()
    waits = tuple(
        Wait(name, None, name, minutes, now, now) for name, minutes in (("Rest", 12), ("Hold", 1), ("Soak", 90))
    )
    before = clock.now()
    clock.sleep(23 * 60)
    assert [wait.label for wait in missed(waits, before, clock.now())] == ["Hold", "Rest"]
    assert missed_sentence(waits, before, clock.now()) == "Over meanwhile: Hold 22 min ago, Rest 11 min ago."
    assert missed_sentence(waits[2:], before, clock.now()) == ""


def test_what_went_over_this_very_second(clock: VirtualClock) -> None:
    """A wait that ends just as the machine wakes is over for nothing, and not for less."""
    before = clock.now()
    clock.sleep(60)
    assert missed_sentence([Wait("w", None, "Hold", 1, before, before)], before, clock.now()).endswith("Hold 0 s ago.")


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (0, "0 s"),
        (89, "89 s"),
        (90, "2 min"),
        (3599, "1 h"),
        (3 * 3600 + 600, "3 h 10 min"),
        (50 * 3600, "2 days 2 h"),
        (48 * 3600, "2 days"),
    ],
)
def test_lengths_are_said_as_a_person_does(seconds: float, said: str) -> None:
    """No length comes out as `60 min` or `0 h`."""
    assert span(seconds) == said
