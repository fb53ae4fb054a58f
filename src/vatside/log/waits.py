"""Moments on the clock, and the waits that run between them: frozen values, and what they say at a given moment.

A moment stands on the clock of the day and on one that counts sleep. A wait is arithmetic on `now`: nothing ticks.
`banked` holds the seconds that went by before `since`; from there on the clock counts. A paused or ended wait stands.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from attrs import evolve, frozen


@frozen
class Moment:
    """One reading of the clocks."""

    utc: datetime
    """Aware, in UTC."""
    elapsed: float
    """Seconds on a clock that counts sleep and is never set; comparable within one boot only."""
    boot: str
    """Which run of the machine `elapsed` belongs to."""


def seconds_between(earlier: Moment, later: Moment) -> float:
    """Seconds from one moment to another; negative if a clock went backwards.

    Within one boot the counting clock decides, which nobody can set; across boots only the time of day is left.
    """
    if earlier.boot == later.boot:
        return later.elapsed - earlier.elapsed
    return (later.utc - earlier.utc).total_seconds()


def after(moment: Moment, seconds: float) -> Moment:
    """Give the moment that lies some seconds later on both clocks."""
    return evolve(moment, utc=moment.utc + timedelta(seconds=seconds), elapsed=moment.elapsed + seconds)


BREAK_NAME = "Break"
"""What the wait of no step is called for which everybody stops; it rings at its end."""

LONGEST_MINUTES = 1_000_000.0
"""About two years; a longer wait is a slip of the keyboard. Ours, no source."""


@frozen
class Wait:
    """One running of a soak, hold or rest."""

    id: str
    step: str | None
    label: str
    minutes: float
    """Its length, extensions included."""
    started: Moment
    since: Moment
    """Where the counting clock was last tied to it."""
    banked: float = 0.0
    """Seconds of the wait that went by before `since`."""
    paused: Moment | None = None
    """When it was stopped; None while it runs."""
    ended: Moment | None = None
    """When the dyer ended it."""
    nudges: tuple[float, ...] = ()
    """Minutes of the wait at which to stir or turn."""
    nudge_labels: tuple[str, ...] = ()
    """What each nudge asks for."""
    heard: float = -1.0
    """Nudges up to this second of the wait have been heard."""
    end_heard: bool = False
    """The alarm of its end has been heard."""
    number: int = 1
    """What the dyer calls it by, from when it is begun until it ends."""


@frozen
class Ring:
    """An alarm that repeats until the dyer hears it."""

    wait: str
    """Id of the wait."""
    label: str
    """What to call out: the wait's name, or what to do at the nudge."""
    over: bool
    """The wait itself is over; False for a nudge."""
    seconds: float
    """For how long it has been ringing."""


def is_break(wait: Wait) -> bool:
    """Tell whether it is one in which everybody stops."""
    return wait.step is None and wait.label == BREAK_NAME


def is_paused(wait: Wait) -> bool:
    """Tell whether the wait is stopped for a while."""
    return wait.paused is not None and wait.ended is None


def is_running(wait: Wait) -> bool:
    """Tell whether the wait counts, be it down or, once over, up."""
    return wait.paused is None and wait.ended is None


def elapsed(wait: Wait, now: Moment) -> float:
    """Seconds of the wait gone by; a clock set back never takes any away."""
    if not is_running(wait):
        return wait.banked
    return wait.banked + max(0.0, seconds_between(wait.since, now))


def remaining(wait: Wait, now: Moment) -> float:
    """Seconds still to go; negative once the wait is over."""
    return wait.minutes * 60 - elapsed(wait, now)


def is_over(wait: Wait, now: Moment) -> bool:
    """Tell whether the length has gone by and the dyer has not ended the wait."""
    return wait.ended is None and remaining(wait, now) <= 0


def elapsed_share(wait: Wait, now: Moment) -> float:
    """Share of the wait gone by, 0 to 1."""
    if wait.minutes <= 0:
        return 1.0
    return min(1.0, elapsed(wait, now) / (wait.minutes * 60))


def next_nudge(wait: Wait, now: Moment) -> float | None:
    """Seconds of the wait until the next nudge; None if none is left."""
    if wait.ended is not None:
        return None
    gone = elapsed(wait, now)
    left = [minute * 60 - gone for minute in _nudges_within(wait) if minute * 60 > gone]
    return min(left, default=None)


def ringing(wait: Wait, now: Moment) -> Ring | None:
    """Give the alarm that has not been heard yet: the end before a nudge, the latest nudge before older ones."""
    if not is_running(wait):
        return None
    late = -remaining(wait, now)
    if late >= 0:
        return None if wait.end_heard else Ring(wait.id, wait.label, True, late)
    return _nudge_ringing(wait, elapsed(wait, now))


def _nudge_ringing(wait: Wait, gone: float) -> Ring | None:
    due = [minute * 60 for minute in _nudges_within(wait) if wait.heard < minute * 60 <= gone]
    if not due:
        return None
    return Ring(wait.id, nudge_words(wait, max(due) / 60) or wait.label, False, gone - max(due))


def nudge_words(wait: Wait, minute: float) -> str:
    """What the nudge at a minute of the wait asks for; empty if there is no such nudge or it says nothing."""
    said = zip(wait.nudges, wait.nudge_labels, strict=False)
    return next((label for at, label in said if abs(at - minute) < 1 / 60), "")


def _nudges_within(wait: Wait) -> tuple[float, ...]:
    """A nudge at or after the end of the wait is swallowed by the end."""
    return tuple(minute for minute in wait.nudges if minute < wait.minutes)


def counted_from(wait: Wait, at: Moment) -> Wait:
    """Bank what went by and count from `at` on."""
    return evolve(wait, banked=elapsed(wait, at), since=at)


def paused(wait: Wait, at: Moment) -> Wait:
    """Stop the wait."""
    return evolve(counted_from(wait, at), paused=at)


def resumed(wait: Wait, at: Moment) -> Wait:
    """Let a stopped wait run on."""
    return evolve(wait, since=at, paused=None)


def extended(wait: Wait, minutes: float) -> Wait:
    """Add minutes to the wait (or take some off); its new end will ring."""
    return evolve(wait, minutes=sane_minutes(wait.minutes + minutes), end_heard=False)


def ended(wait: Wait, at: Moment) -> Wait:
    """End the wait for good."""
    return evolve(counted_from(wait, at), ended=at)


def quieted(wait: Wait, at: Moment) -> Wait:
    """Note that every alarm of the wait up to now has been heard."""
    return evolve(wait, heard=elapsed(wait, at), end_heard=is_over(wait, at))


def corrected(wait: Wait, seconds: float) -> Wait:
    """Let some seconds more (or less) have gone by."""
    if not is_running(wait):
        return wait
    return evolve(wait, banked=max(0.0, wait.banked + seconds))


def sane_minutes(minutes: float) -> float:
    """Keep a length between nothing and two years."""
    return min(max(minutes, 0.0), LONGEST_MINUTES)
