"""How fast this vat cools, from its own readings or as is usual, and what brings it back."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from vatside.chemistry import heat
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.dips.run import cools
from vatside.plan.measures import celsius
from vatside.plan.plan import Plan
from vatside.units import show_minutes, show_temperature, show_volume

LEAST_DROP_C = 1.0
"""Two readings tell nothing unless the vat has cooled by this much between them."""
PLAIN_DROP_C, PLAIN_MIN = 3.0, 30.0
"""They tell only if they lie so many degrees or minutes apart: a kitchen thermometer is off by a degree. Ours."""
USUAL_ERROR = 0.5
"""How far off the usual rate may be, as a share: a judgement of our own."""
KETTLE_C = 95.0
"""Water just off the boil: common practice, no source."""


@frozen
class TimedReading:
    """A temperature and when it was taken."""

    minute: float
    """On any clock that all readings share."""
    celsius: float


@frozen
class Cooling:
    """The rate of this vat [Newton]."""

    per_minute: float
    error: float
    """Share by which the rate may be off; by readings, each being off by half a degree."""
    room: float
    """Degrees C."""
    now: TimedReading
    """The latest reading."""
    usual_l: float = 0.0
    """Litres of the tub whose usual rate this is; 0 for a rate by readings."""
    colder: float = 0.0
    """K by which it may be colder by now than `now` says."""
    warmer: float = 0.0
    """K by which it may be warmer."""

    def at(self, minute: float) -> float:
        """Give the temperature to expect at a minute of the same clock, degrees C; that read, before it was."""
        return heat.temperature_after(self.now.celsius, self.room, max(minute - self.now.minute, 0.0), self.per_minute)

    @property
    def per_hour(self) -> float:
        """Degrees lost in the next hour."""
        return self.now.celsius - self.at(self.now.minute + 60)

    @property
    def text(self) -> str:
        """The rate with its uncertainty, and where it is from unless it is the vat's own."""
        if self.usual_l:
            return (
                f"A tub of {show_volume(self.usual_l)} usually loses about {self.per_hour:.1f} °C an hour "
                f"(±{100 * self.error:.0f} %); readings {PLAIN_DROP_C:.0f} °C or {PLAIN_MIN:.0f} min apart tell of "
                "this one."
            )
        return f"It loses about {self.per_hour:.1f} °C an hour now (±{100 * self.error:.0f} %)."


def cooling(readings: Sequence[TimedReading], room_C: float) -> Cooling | None:
    """Take the rate from the latest stretch in which the vat only cooled; None if no two readings tell.

    They tell from `LEAST_DROP_C` on, `PLAIN_DROP_C` or `PLAIN_MIN` apart. A reading warmer than the one before means
    that it was heated or fed: what lies before does not count.
    """
    stretch = _latest_fall(readings)
    if len(stretch) < 2:
        return None
    first, last = stretch[0], stretch[-1]
    drop, minutes = first.celsius - last.celsius, last.minute - first.minute
    if drop < LEAST_DROP_C or (drop < PLAIN_DROP_C and minutes < PLAIN_MIN):
        return None
    try:
        rate = heat.cooling_constant(first.celsius, last.celsius, room_C, minutes)
        error = heat.cooling_error(first.celsius, last.celsius, room_C)
    except OutOfRange:
        return None
    return Cooling(rate, error, room_C, last)


def usual(now: TimedReading, litres: float, room_C: float) -> Cooling | None:
    """Give the rate at which a tub of so many litres usually cools, as its dips go by; None in a room as warm."""
    if now.celsius <= room_C + heat.READING_ERROR_C:
        return None
    return Cooling(cools(litres), USUAL_ERROR, room_C, now, litres)


def _latest_fall(readings: Sequence[TimedReading]) -> list[TimedReading]:
    stretch: list[TimedReading] = []
    for item in sorted(readings, key=lambda one: one.minute):
        if stretch and item.celsius > stretch[-1].celsius + heat.READING_ERROR_C:
            stretch = []
        stretch.append(item)
    return stretch


@frozen
class Leaving:
    """When the vat falls below a temperature: minutes from the latest reading."""

    minutes: float
    soonest: float
    latest: float

    @property
    def text(self) -> str:
        """How long it stays, with its uncertainty."""
        if self.minutes <= 0:
            return "It is below already."
        soonest = show_minutes(self.soonest) if self.soonest > 0 else "now"
        return f"about {show_minutes(self.minutes)} ({soonest} to {show_minutes(self.latest)})"


def leaves(found: Cooling, low_C: float) -> Leaving | None:
    """Say when the vat comes down to a temperature; None if the room is as warm as that."""
    now, rate, room = found.now.celsius, found.per_minute, found.room
    if now <= low_C:
        return Leaving(0.0, 0.0, 0.0)
    try:
        minutes = heat.minutes_to_cool(now, low_C, room, rate)
        latest = heat.minutes_to_cool(now + found.warmer, low_C, room, rate * least_share(found.error))
    except CannotReach:
        return None
    cold = now - found.colder
    soonest = heat.minutes_to_cool(cold, low_C, room, rate * (1 + found.error)) if cold > low_C else 0.0
    return Leaving(minutes, soonest, latest)


def least_share(error: float) -> float:
    """Give the share of a rate that is left of it where it is off by so much, as a share: never none. Ours."""
    return max(1 - error, 0.2)


def says_when(found: Cooling, low_C: float, what: str) -> str:
    """Say in one sentence when the vat leaves its window."""
    left = leaves(found, low_C)
    if left is None:
        return f"In a room at {show_temperature(found.room)} it stays above {show_temperature(low_C)}."
    if is_at(found, low_C):
        return f"It is down to the {show_temperature(low_C)} that {what} wants at the least."
    if left.minutes <= 0:
        return f"It is below the {show_temperature(low_C)} that {what} wants."
    return f"{found.text} It falls below the {show_temperature(low_C)} that {what} wants in {left.text}."


def is_at(found: Cooling, low_C: float) -> bool:
    """Tell whether the vat stands at a temperature as far as a thermometer tells."""
    return abs(found.now.celsius - low_C) < heat.READING_ERROR_C


def room_C(plan: Plan) -> float:
    """Temperature of the plan's room, degrees C."""
    return celsius(plan.water.room)
