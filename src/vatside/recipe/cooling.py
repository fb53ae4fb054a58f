"""How fast this vat cools, what brings it back, and when it is warmed again while it is dipped in."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import evolve, frozen

from vatside.chemistry import heat
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.dips.run import BELOW_HIGHEST, COOLS, TOO_COOL, Run, Warming, Warmth, cools
from vatside.plan.figure_text import plain, two_digits
from vatside.plan.measures import celsius, fibre_of, method_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Input, Weight
from vatside.recipe.worksheet import Worksheet
from vatside.units import Kind, show_count, show_minutes, show_temperature, show_volume, to_base

LEAST_DROP_C = 1.0
"""Two readings tell nothing unless the vat has cooled by this much between them."""
PLAIN_DROP_C, PLAIN_MIN = 3.0, 30.0
"""They tell only if they lie so many degrees or minutes apart: a kitchen thermometer is off by a degree. Ours."""
LEAST_MIN = 10.0
"""Nor do two that are closer together than this: in a minute stirring and the place of the thermometer tell. Ours."""
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
    if minutes < LEAST_MIN or drop < LEAST_DROP_C or (drop < PLAIN_DROP_C and minutes < PLAIN_MIN):
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


def leaves(vat_cooling: Cooling, low_C: float) -> Leaving | None:
    """Say when the vat comes down to a temperature; None if the room is as warm as that."""
    now, rate, room = vat_cooling.now.celsius, vat_cooling.per_minute, vat_cooling.room
    if now <= low_C:
        return Leaving(0.0, 0.0, 0.0)
    try:
        minutes = heat.minutes_to_cool(now, low_C, room, rate)
        latest = heat.minutes_to_cool(now + vat_cooling.warmer, low_C, room, rate * least_share(vat_cooling.error))
    except CannotReach:
        return None
    cold = now - vat_cooling.colder
    soonest = heat.minutes_to_cool(cold, low_C, room, rate * (1 + vat_cooling.error)) if cold > low_C else 0.0
    return Leaving(minutes, soonest, latest)


def least_share(error: float) -> float:
    """Give the share of a rate that is left of it where it is off by so much, as a share: never none. Ours."""
    return max(1 - error, 0.2)


def says_when(vat_cooling: Cooling, low_C: float, what: str) -> str:
    """Say in one sentence when the vat leaves its window."""
    left = leaves(vat_cooling, low_C)
    if left is None:
        return f"In a room at {show_temperature(vat_cooling.room)} it stays above {show_temperature(low_C)}."
    if is_at(vat_cooling, low_C):
        return f"It is down to the {show_temperature(low_C)} that {what} wants at the least."
    if left.minutes <= 0:
        return f"It is below the {show_temperature(low_C)} that {what} wants."
    return f"{vat_cooling.text} It falls below the {show_temperature(low_C)} that {what} wants in {left.text}."


def is_at(vat_cooling: Cooling, low_C: float) -> bool:
    """Tell whether the vat stands at a temperature as far as a thermometer tells."""
    return abs(vat_cooling.now.celsius - low_C) < heat.READING_ERROR_C


def room_C(plan: Plan) -> float:
    """Temperature of the plan's room, degrees C."""
    return celsius(plan.water.room)


NARROW_K = 2.0
"""A vat that starts cooler than suits the fibre is warmed again this far below its start, none by less: ours."""


def warmth(sheet: Worksheet) -> Warmth:
    """Give how warm the vat is at first, and between what limits all lots are dipped, degrees C."""
    suits = [method_of(sheet.plan).vat.warmth.of(fibre_of(lot).group) for lot in sheet.plan.lots]
    start = sheet["vat.temperature"]
    low = max((fact.lowest for fact in suits), default=start)
    high = min((fact.highest for fact in suits), default=start)
    high = max(high, start)
    low = min(low, start - NARROW_K, high - BELOW_HIGHEST - TOO_COOL - NARROW_K)
    return Warmth(
        start, low, high, celsius(sheet.plan.water.room),
        to_base(sheet.plan.water.hob, Kind.POWER),
    )  # fmt: skip


def work_out(sheet: Worksheet, made: Run, by_kettle: Callable[[Warmth], Run], entries: int = 0) -> None:
    """Put on the worksheet how the dips of the whole day cool the vat, and when it is still to be warmed again.

    `by_kettle` dips the same in a vat that is warmed otherwise. So many `entries` are over; how warm it is after them
    the readings tell.
    """
    start, room = sheet["vat.temperature"], celsius(sheet.plan.water.room)
    sheet.put(
        "dip.cools",
        "Pieces and room cool the vat by",
        max(start - made.coolest, 0.0) if made.entries else 0.0,
        "K",
        sheet.worked(
            "entry by entry: wet pieces as cold as the room mix in; in between it loses by Newton's law",
            "vat.temperature",
            Input("room", room, "degC"),
            "vat.liquor",
            Input("loses of its warmth in an hour", 100 * COOLS, "%"),
        ),
        rough=True,
    )
    to_come = tuple(item for item in made.warmings if item.after >= entries)
    if to_come:
        _again(sheet, evolve(made, warmings=to_come), by_kettle)


def held_up(made: Run) -> dict[int, float]:
    """Give the minutes for which an entry waits until the vat is warm again, by the entries before it in all."""
    return {item.after: item.holds_up for item in made.warmings if item.holds_up > NO_TIME_MIN}


NO_TIME_MIN = 0.05
"""Less than nobody waits for: ours."""


def _again(sheet: Worksheet, made: Run, by_kettle: Callable[[Warmth], Run]) -> None:
    """Say when it is warmed again, by how much, and how long that takes on the hob."""
    first = made.warmings[0]
    down = "when it is down at the coolest that suits the fibre, in a rest or while pieces air"
    sheet.put("dip.warm_after", "First warmed again after entry", first.after, "", sheet.worked(down))
    limits = Input("up to", first.warm, "degC"), Input("down at", first.cold, "degC")
    by = sheet.worked("warmest that suits the fibre − what it is down at", *limits)
    sheet.put("dip.warm_by", "Warm it again by", first.warm - first.cold, "K", by)
    hob = Input("hob", to_base(sheet.plan.water.hob, Kind.POWER), "kW")
    heat = "liquor × heat capacity of water × rise ÷ (hob × 80 % that stays)"
    lit = sheet.worked(heat, "vat.liquor", "dip.warm_by", hob)
    sheet.put("dip.warm_hob", "On the hob", first.minutes, "min", lit, rough=True)
    _kettle(sheet, made, first, by_kettle)


def _kettle(sheet: Worksheet, made: Run, first: Warming, by_kettle: Callable[[Warmth], Run]) -> None:
    """Give the kettle water that does the same, what it thins, and say both ways in one sentence."""
    kelvin = first.warm - first.cold
    changed = "liquor × rise ÷ (kettle − what it is down at); take as much out first"
    working = sheet.worked(changed, "vat.liquor", "dip.warm_by", Input("kettle", KETTLE_C, "degC"))
    litres = made.tank.litres * kelvin / (KETTLE_C - first.cold)
    sheet.put("dip.warm_kettle", "or change for kettle water", litres, "L", working, rough=True)
    dips = by_kettle(evolve(warmth(sheet), kettle=KETTLE_C)).dips
    cost = f" (up to {show_count(dips, 'dip')} then)" if dips != made.dips else ""
    often = " each time" if len(made.warmings) > 1 else ""
    lit, hot = plain(two_digits(first.minutes), "min"), plain(two_digits(litres), "L")
    sheet.say(
        Weight.NOTE,
        f"The dips cool the vat: warm it again {_after(made)}, by {plain(kelvin, 'K')}{often}: {lit} "
        f"on the hob, a pot of it if the tub may not stand there; or change {hot} of it for kettle "
        f"water, which thins it by {100 * litres / made.tank.litres:.0f} %{often}{cost}. Read its colour before the "
        "next piece.",
        "dip.warm_by",
    )


MOST_NAMED = 4
"""Entries that a sentence names: ours."""


def _after(made: Run) -> str:
    """Say after which entries."""
    entries = [str(item.after) for item in made.warmings]
    if len(entries) == 1:
        return f"after entry {entries[0]}"
    more = " and so on" if len(entries) > MOST_NAMED else ""
    return f"after entries {', '.join(entries[:MOST_NAMED])}{more}"
