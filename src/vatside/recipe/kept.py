"""What another day left: a vat in the tub, stock in a jar; how much of it goes in first, and what is left."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry import heat
from vatside.chemistry.water import HIGHEST_C, LOWEST_C, enthalpy
from vatside.dips.run import COOLS
from vatside.plan.figure_text import plain
from vatside.plan.hours import is_hour
from vatside.plan.measures import celsius, held, litres, method_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Input, Stage, Weight
from vatside.recipe import cooling
from vatside.recipe.drawn_water import draw
from vatside.recipe.worksheet import Worksheet
from vatside.units import Amount, Kind, to_base

LEAST_POUR_L = 0.1
"""Less than a cup more or less is nothing in a tub: common practice, no source."""
WARM_ENOUGH_K = 0.5
"""A vat that is cooler or warmer by less than this is warm as wanted: common practice, no source."""


@frozen
class InTub:
    """What stands in the tub, as plain floats; all nought where the vat is made anew."""

    litres: float = 0.0
    celsius: float = 20.0
    indigotin_g: float = 0.0
    alkali_g: float = 0.0
    """As lye."""
    reducer_g: float = 0.0
    """Pure."""
    carbonate_g: float | None = None
    """As baking soda; None: what the tap brought."""
    salts_g: float = 0.0
    """As sodium sulfate."""
    oxidised_g: float = 0.0
    """Of the indigotin what is blue."""


def in_tub(plan: Plan) -> InTub:
    """Give what stands in the tub before anything goes in."""
    kept = plan.kept
    if kept is None:
        return InTub()
    return InTub(
        litres(plan, kept.volume), celsius(kept.temperature),
        _grams(kept.indigotin), _grams(kept.alkali), _grams(kept.reducer),
        _grams(kept.carbonate) if kept.carbonate else None, _grams(kept.salts) if kept.salts else 0.0,
        min(_grams(kept.oxidised), _grams(kept.indigotin)) if kept.oxidised else 0.0,
    )  # fmt: skip


def _grams(amount: Amount) -> float:
    return to_base(amount, Kind.MASS)


def share_kept(sheet: Worksheet) -> float:
    """Give the share of the kept liquor that stays once room is made for the stock; 0 where there is none."""
    there = in_tub(sheet.plan).litres
    return 1 - sheet["vat.surplus"] / there if there else 0.0


def blue_kept(sheet: Worksheet) -> float:
    """Give the indigotin of the kept liquor that stays and wants reducing again, g."""
    return in_tub(sheet.plan).oxidised_g * share_kept(sheet)


def worth_pouring(litres: float) -> float:
    """Give litres to pour in or out, or none where nobody sees them in the tub."""
    return litres if litres >= LEAST_POUR_L else 0.0


def room(sheet: Worksheet, stock_l: float) -> None:
    """Put on the sheet what stands in the tub, and what must come out of it for the stock (L)."""
    there = in_tub(sheet.plan).litres
    if sheet.plan.kept is None:
        return
    sheet.put("vat.kept", "Stands in the tub", there, "L", sheet.worked("as measured"))
    sheet.put(
        "vat.surplus", "Take out first", min(worth_pouring(there + stock_l - sheet["vat.liquor"]), there), "L",
        sheet.worked("what stands in the tub + stock − liquor", "vat.kept", "vat.stock", "vat.liquor"),
    )  # fmt: skip


def warmth(sheet: Worksheet, water_l: float, target_C: float) -> None:
    """Draw the water that tops a kept vat up so warm that all comes to target_C.

    What that leaves short is heated; what it leaves over is put on the sheet, with the time it takes to cool.
    """
    there, water = in_tub(sheet.plan), sheet.plan.water
    stays = heat.water_mass(there.litres * share_kept(sheet), there.celsius)
    hot = max(celsius(water.hot), celsius(water.cold))
    drawn_C = min(max(_wanted(stays, there.celsius, water_l, target_C), celsius(water.cold)), hot)
    added = heat.water_mass(water_l, target_C)
    draw(sheet, "vat.", heat.water_volume(added, drawn_C), drawn_C, whole_l=water_l)
    parts = [(stays, there.celsius), (added, drawn_C)]
    mixed = heat.mix_temperature(parts) if sum(kg for kg, _ in parts) else target_C
    if mixed > target_C + WARM_ENOUGH_K:
        sheet.put(
            "vat.mixed", "With that it comes to", mixed, "degC",
            sheet.worked("heat of what stays + heat of the water, shared by both",
                         Input("kept vat", there.litres, "L"), Input("stands at", there.celsius, "degC"),
                         "vat.surplus", "vat.water", Input("drawn at", drawn_C, "degC"), source="Popiel1998"),
        )  # fmt: skip
        _cooling(sheet, sum(kg for kg, _ in parts), mixed, target_C)
    if mixed < target_C - WARM_ENOUGH_K:
        kilojoules = sum(kg for kg, _ in parts) * (enthalpy(target_C) - enthalpy(mixed))
        power = to_base(water.hob, Kind.POWER)
        sheet.put(
            "vat.warming", "Then warm it for", kilojoules / power / 60, "min",
            sheet.worked("(kept vat + water) × heat capacity × rise ÷ hob power, without losses",
                         Input("kept vat", there.litres, "L"), Input("stands at", there.celsius, "degC"),
                         "vat.water", "vat.temperature", Input("hob", power, "kW"), source="Popiel1998"),
        )  # fmt: skip


def _cooling(sheet: Worksheet, kg: float, mixed_C: float, target_C: float) -> None:
    """Say about how long a covered tub takes until it is cool enough; nothing in a room that is as warm as that."""
    litres_, room_C = heat.water_volume(kg, mixed_C), cooling.room_C(sheet.plan)
    rate = cooling.usual(cooling.TimedReading(0.0, mixed_C), litres_, room_C)
    left = cooling.leaves(rate, target_C + WARM_ENOUGH_K) if rate else None
    if left is None:
        return
    sheet.put(
        "vat.cooling", "Then it cools for about", left.minutes, "min",
        sheet.worked(f"as a tub that loses {100 * COOLS:.0f} % of its warmth an hour where it holds 20 L, "
                     f"a smaller one more; ±{100 * cooling.USUAL_ERROR:.0f} %",
                     "vat.mixed", "vat.temperature", Input("near enough", WARM_ENOUGH_K, "K"),
                     Input("room", room_C, "degC"), Input("in the tub", litres_, "L"), source="practice"),
        rough=True,
    )  # fmt: skip


def _wanted(kept_kg: float, kept_C: float, water_l: float, target_C: float) -> float:
    """Temperature of the water that would bring all to the target, degrees C: water's heat capacity hardly varies."""
    if not water_l:
        return target_C
    wanted = target_C + kept_kg / heat.water_mass(water_l, target_C) * (target_C - kept_C)
    return min(max(wanted, LOWEST_C), HIGHEST_C)


ENOUGH = 0.05
"""No stock is made, and no jar opened, for less than this share of the dye: ours, no source."""
LEAST_KEPT_L = 0.05
"""Less is not worth a jar, and goes in with the rest: common practice, no source."""
CLINGS_L = 0.02
"""What stays in an emptied jar: common practice, no source."""
OTHERS, BROUGHT = "stock.others", "vat.stock_kept"
"""Powder for other vats of the same stock; litres of the kept stock that go into this one."""


@frozen
class InJar:
    """What stands in the jar of another vat's stock, as plain floats; all nought where there is none."""

    litres: float = 0.0
    indigotin_g: float = 0.0
    alkali_g: float = 0.0
    """As lye."""
    reducer_g: float = 0.0
    """Pure."""

    @property
    def strength(self) -> float:
        """Indigotin, g/L."""
        return self.indigotin_g / self.litres if self.litres else 0.0

    def grams_in(self, litres_: float) -> float:
        """Indigotin in so many litres of it, g; no more than there is."""
        return self.indigotin_g * self.share(litres_)

    def share(self, litres_: float) -> float:
        """Give the share of it that so many litres are, 0 to 1."""
        return min(max(litres_ / self.litres, 0.0), 1.0) if self.litres else 0.0


def in_jar(plan: Plan) -> InJar:
    """Give what is at hand of another vat's stock."""
    there = plan.stock_kept
    if there is None:
        return InJar()
    return InJar(litres(plan, there.volume), *map(_grams, (there.indigotin, there.alkali, there.reducer)))


def missing_of(wanted_g: float, there_g: float) -> float:
    """Give the indigotin that what stands there lacks, g; nothing where it lacks next to nothing."""
    lacks = wanted_g - there_g
    return 0.0 if there_g and lacks <= ENOUGH * wanted_g else lacks


def brought_l(plan: Plan, wanted_g: float, liquor_l: float) -> float:
    """Give the litres of the kept stock that go into a vat of so much indigotin (g): what the tub lacks, or as held."""
    own = held(plan, BROUGHT, Kind.VOLUME)
    return usual_l(plan, wanted_g, liquor_l) if own is None else min(own, in_jar(plan).litres)


def usual_l(plan: Plan, wanted_g: float, liquor_l: float) -> float:
    """Give the litres of the kept stock that bring what the tub lacks; all of it where a mere rest would stay."""
    jar = in_jar(plan)
    if jar.indigotin_g <= 0:
        return 0.0
    lacks = max(missing_of(wanted_g, in_tub(plan).indigotin_g), 0.0)
    wanted = lacks / jar.strength
    return min(jar.litres if wanted > 0 and jar.litres - wanted < LEAST_KEPT_L else wanted, liquor_l)


def others_g(plan: Plan) -> float:
    """Give the powder that is weighed in for other vats of the same stock, g."""
    return held(plan, OTHERS, Kind.MASS) or 0.0


def at_hand(sheet: Worksheet, wanted_g: float, liquor_l: float) -> float:
    """Put on the sheet what stands in the jar; give the indigotin of it that goes into this vat, g."""
    if sheet.plan.stock_kept is None:
        return 0.0
    jar = in_jar(sheet.plan)
    sheet.put("stock.kept", "Stands in the jar", jar.litres, "L", sheet.worked("as left by another vat"))
    sheet.put("stock.kept_strength", "It holds", jar.strength, "g/L",
              sheet.worked("indigotin ÷ litres", Input("indigotin", jar.indigotin_g, "g"), "stock.kept"))  # fmt: skip
    _past(sheet)
    return jar.grams_in(brought_l(sheet.plan, wanted_g, liquor_l))


def bring_in(sheet: Worksheet, wanted_g: float, liquor_l: float) -> float:
    """Put the litres of the kept stock that go into the vat on the sheet, and give them."""
    plan, jar = sheet.plan, in_jar(sheet.plan)
    if plan.stock_kept is None:
        return 0.0
    poured = sheet.put(
        BROUGHT, "Kept stock to bring in", usual_l(plan, wanted_g, liquor_l), "L",
        sheet.worked("(indigotin − what stands in the tub) ÷ its strength, no more than there is", "stock.wanted",
                     Input("in the tub", in_tub(plan).indigotin_g, "g"), "stock.kept_strength", "stock.kept"),
        pinnable=True,
    )  # fmt: skip
    if poured > jar.litres * 1.001:
        text = f"The jar holds {plain(jar.litres, 'L')}: no more of it goes in, the rest is made anew."
        sheet.say(Weight.CARE, text, BROUGHT)
    return min(poured, jar.litres)


def others(sheet: Worksheet) -> float:
    """Put the powder that other vats take on the sheet, and give it, g: it is part of what is weighed for the stock."""
    return sheet.put(OTHERS, "Of the powder, for other vats", 0.0, "g", sheet.worked("none, unless you say so"),
                     pinnable=True)  # fmt: skip


def left_over(sheet: Worksheet) -> None:
    """Put on the sheet what stays in the jars once this vat has its stock; nothing where they are emptied."""
    jar, stage = in_jar(sheet.plan), sheet.stage
    water, poured, share = sheet["stock.water"], brought_on(sheet), stock_share(sheet)
    litres_ = max(water * (1 - share), 0.0) + jar.litres - poured
    if litres_ <= CLINGS_L:
        return
    grams = sheet["stock.indigotin"] * (1 - share) + jar.indigotin_g * (1 - jar.share(poured))
    kept = (Input("left of the kept stock", jar.litres - poured, "L"),) if jar.litres else ()
    sheet.stage = Stage.STOCK
    sheet.put("stock.left", "Stays in the jar", litres_, "L",
              sheet.worked("stock − what this vat takes", "stock.water", "vat.stock", *kept))  # fmt: skip
    sheet.put("stock.left_indigotin", "of it indigotin", grams, "g",
              sheet.worked("indigotin of the stock × share that stays", "stock.indigotin", "stock.left"))  # fmt: skip
    sheet.put("stock.left_strength", "at", grams / litres_, "g/L",
              sheet.worked("indigotin ÷ litres", "stock.left_indigotin", "stock.left"))  # fmt: skip
    sheet.fact("stock.keeps", "It keeps for", method_of(sheet.plan).stock.keeps, "min",
               "by method, in a full closed jar", scale=1440, pinnable=False)  # fmt: skip
    sheet.stage = stage


def brought_on(sheet: Worksheet) -> float:
    """Give the litres of the kept stock that go into the vat, of a sheet that has them."""
    row = sheet.rows.get(BROUGHT)
    return min(row.value, in_jar(sheet.plan).litres) if row else 0.0


def stock_share(sheet: Worksheet) -> float:
    """Share of the new stock that goes into the vat."""
    return min(sheet["vat.stock"] / sheet["stock.water"], 1.0) if sheet["stock.water"] else 0.0


# Its days


def past_days(plan: Plan, made: str | None, hour: str | None) -> float | None:
    """Give the days that a stock is past its keeping at an hour (local, with its date); None if it is not, or unknown.

    `made` is its own such hour.
    """
    from datetime import datetime  # late: only a kept stock has days

    dated = [text for text in (made, hour) if text is not None and "T" in text and is_hour(text)]
    if len(dated) < 2:
        return None
    began, then = (datetime.fromisoformat(text) for text in dated)
    past = (then - began).total_seconds() / 86400 - method_of(plan).stock.keeps.value
    return past if past > 0 else None


READ_IT = "Its reducer counts as spent: read it, and sharpen it before it goes in."


def _past(sheet: Worksheet) -> None:
    plan, there = sheet.plan, sheet.plan.stock_kept
    hours = (plan.ready_by, there.taken) if there else ()
    if there and any(past_days(plan, there.made, hour) is not None for hour in hours):
        keeps = plain(1440 * method_of(plan).stock.keeps.value, "min")
        sheet.say(Weight.CARE, f"The kept stock is past the {keeps} that its kind keeps. {READ_IT}", "stock.kept")
