"""The vat over the day: its temperature and pH as the account has them, and some way ahead, beside what was read.

What is expected is the account's own: of each moment the course says what the vat's screen showed then. It begins anew
where something was read or done; ahead of now it is that of a vat to which nobody does anything.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from math import ceil

from attrs import evolve, frozen

from vatside.chemistry.rates import Estimate
from vatside.dayline.day_steps import ROTATE
from vatside.log.state import State, Stood
from vatside.log.vat_account import SHOWN_EVERY_S, gone_on, keeping, shown_minute
from vatside.log.waits import Moment, after, seconds_between
from vatside.plan.sheet import Sheet
from vatside.recipe.vat_needs import Setting, pH_at
from vatside.vat.account_changes import pH_between
from vatside.vat.reading import Reading

BACK_MIN = 24 * 60.0
"""The course goes back no farther: what lies a day before tells nothing of today. Ours."""
AHEAD_MIN = (60.0, 12 * 60.0)
"""It looks ahead to the end of the dips, did they go on from now; so far at the least and at the most. Ours."""
EVERY_MIN = 30.0
"""It is worked out so often at the least; straight lines between are off by less than a tenth of a degree."""


@frozen
class Expected:
    """What the account says of one moment."""

    minute: float
    """Since the course begins."""
    celsius: Estimate
    """By the slowest and the fastest that such a vat cools since its temperature was read."""
    pH: Estimate | None  # noqa: N815  (chemistry's own symbol)
    """At its temperature, by the least and the most reducer that may be left; None where it cannot be worked out."""


@frozen
class Course:
    """The vat over the day. All minutes are since `begin`."""

    begin: Moment
    expected: tuple[Expected, ...]
    """In order; two of one minute are before and after something happened."""
    now: float | None = None
    """The minute of now; None once the vat is gone."""
    read_C: tuple[tuple[float, float], ...] = ()  # noqa: N815  (chemistry's own symbol)
    """Minutes, and the degrees C that were read."""
    read_pH: tuple[tuple[float, float], ...] = ()  # noqa: N815  (chemistry's own symbol)
    """Minutes, and the pH that was read, brought to the temperature that the vat had then."""
    put_in: tuple[float, ...] = ()
    """Minutes at which something was put into the vat, or done to it."""
    dips: tuple[float, ...] = ()
    """Minutes at which pieces went in."""

    @property
    def end(self) -> float:
        """The last minute."""
        return self.expected[-1].minute

    def at(self, minute: float) -> Expected:
        """Give what is expected at a minute, after what happened in it; beyond an end, what is at that end."""
        place = bisect_right(self.expected, minute, key=lambda one: one.minute)
        one, other = self.expected[max(place - 1, 0)], self.expected[min(place, len(self.expected) - 1)]
        if not one.minute <= minute < other.minute:
            return one
        share = (minute - one.minute) / (other.minute - one.minute)
        pH = _between(one.pH, other.pH, share) if one.pH and other.pH else None
        return Expected(minute, _between(one.celsius, other.celsius, share), pH)


def _between(one: Estimate, other: Estimate, share: float) -> Estimate:
    ends = ((one.low, other.low), (one.likely, other.likely), (one.high, other.high))
    return Estimate(*(start + share * (there - start) for start, there in ends))


def course_of(state: State, sheet: Sheet, setting: Setting, now: Moment) -> Course | None:
    """Give the vat's course from when it was set, a day ago at the earliest; None where nothing is known of one."""
    tending = state.tending
    if tending.account is None or tending.clocked is None:
        return _with_log(_course(tending.stood, (), None), state, setting) if tending.stood else None
    current = Stood(tending.account, tending.clocked, keeping(state))
    shown = after(current.known.at, 60 * shown_minute(state, now))
    until = (shown, after(shown, 60 * forecast_min(state, sheet)))
    return _with_log(_course((*tending.stood, current), until, now), state, setting)


def forecast_min(state: State, sheet: Sheet) -> float:
    """Give the minutes that the course looks ahead."""
    least, most = AHEAD_MIN
    return least if ROTATE in state.done else min(max(sheet.value("dip.minutes", 0.0), least), most)


def _course(stood: Sequence[Stood], until: Sequence[Moment], now: Moment | None) -> Course:
    """Follow the vat through all that happened, and from its last change to each of some moments more."""
    first, last = stood[0].known.at, now or stood[-1].known.at
    begin = after(first, max(seconds_between(first, last) - 60 * BACK_MIN, 0.0))
    moments = [*(vat.known.at for vat in stood), *until]
    expected: list[Expected] = []
    for place, begun in enumerate(moments[:-1] if until else moments):
        vat = stood[min(place, len(stood) - 1)]
        ends = moments[min(place + 1, len(moments) - 1)]
        expected += _stretch(vat, begin, begun, ends)
    return Course(begin, tuple(expected), None if now is None else max(seconds_between(begin, now) / 60, 0.0))


def _stretch(vat: Stood, begin: Moment, since: Moment, until: Moment) -> Iterator[Expected]:
    """Work out a vat from one moment to another, as far as that lies within the course."""
    zero = seconds_between(begin, vat.known.at)
    first, last = (max(seconds_between(vat.known.at, at), -zero, 0.0) for at in (since, until))
    if zero + last <= 0 and zero < 0:
        return
    pieces = ceil((last - first) / 60 / EVERY_MIN) if last - first >= SHOWN_EVERY_S else 0
    for piece in range(pieces + 1):
        seconds = first + (last - first) * piece / max(pieces, 1)
        yield Expected((zero + seconds) / 60, *_said(vat, seconds))


@lru_cache(maxsize=256)
def _said(vat: Stood, seconds: float) -> tuple[Estimate, Estimate | None]:
    """Give temperature and pH of a vat some seconds later. Remembered: what is past is asked again each minute."""
    later = gone_on(vat, seconds)
    account, known = later.account, later.known
    celsius = Estimate(account.celsius - known.colder, account.celsius, account.celsius + known.warmer)
    try:
        return celsius, pH_between(account, vat.how.reducer)
    except ValueError:
        return celsius, None


def _with_log(course: Course, state: State, setting: Setting) -> Course:
    """Put what was read and done beside what is expected."""

    def minutes(moments: Iterable[Moment]) -> tuple[float, ...]:
        passed = (seconds_between(course.begin, at) / 60 for at in moments)
        return tuple(minute for minute in passed if 0 <= minute <= course.end)

    tending = state.tending
    read = [(minute, taken.reading) for taken in tending.readings for minute in minutes([taken.at])]
    pH = [(minute, _pH_read(taken, course.at(minute).celsius.likely, setting)) for minute, taken in read]
    return evolve(
        course,
        read_C=tuple((minute, taken.celsius) for minute, taken in read if taken.celsius is not None),
        read_pH=tuple((minute, value) for minute, value in pH if value is not None),
        put_in=minutes(made.at for made in tending.corrections),
        dips=minutes(item.start for item in state.dipping.entered),
    )


def _pH_read(reading: Reading, vat_C: float, setting: Setting) -> float | None:
    """Give the pH that was read as it was in the vat."""
    return None if reading.pH is None else pH_at(reading.pH, reading.sample_in(vat_C), vat_C, setting)
