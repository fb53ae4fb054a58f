"""The vat cools while it is dipped in: when it is warmed again, by how much, on the hob or by kettle water."""

from __future__ import annotations

from collections.abc import Callable

from attrs import evolve

from vatside.dips.run import COOLS, Run, Warming, Warmth
from vatside.plan.figure_text import plain, two_digits
from vatside.plan.measures import celsius, fibre_of, method_of
from vatside.plan.sheet import Input, Weight
from vatside.recipe.worksheet import Worksheet
from vatside.units import Kind, show_count, to_base

KETTLE_C = 95.0
"""Water from a kettle that has just boiled, as it is poured: common practice, no source."""
NARROW_K = 2.0
"""A vat that starts cooler than suits the fibre is warmed again this far below its start: ours."""


def warmth(sheet: Worksheet) -> Warmth:
    """Give how warm the vat is at first, and between what limits all lots are dipped, degrees C."""
    suits = [method_of(sheet.plan).vat.warmth.of(fibre_of(lot).group) for lot in sheet.plan.lots]
    start = sheet["vat.temperature"]
    low = max((fact.value if fact.low is None else fact.low for fact in suits), default=start)
    high = min((fact.value if fact.high is None else fact.high for fact in suits), default=start)
    return Warmth(
        start, min(low, start - NARROW_K), max(high, start), celsius(sheet.plan.water.room),
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
