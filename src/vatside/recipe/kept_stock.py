"""Stock in a jar beside the vat: what of another vat's is at hand and goes in first, and what this one leaves."""

from __future__ import annotations

from attrs import frozen

from vatside.plan.figure_text import plain
from vatside.plan.measures import held, litres, method_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Input, Stage, Weight
from vatside.plan.wanted_hour import is_hour
from vatside.recipe.stages.kept_vat import in_tub
from vatside.recipe.worksheet import Worksheet
from vatside.units import Amount, Kind, to_base

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
    return InJar(litres(plan, there.volume), _g(there.indigotin), _g(there.alkali), _g(there.reducer))


def _g(amount: Amount) -> float:
    return to_base(amount, Kind.MASS)


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
    keeps = method_of(sheet.plan).stock.keeps
    sheet.put("stock.keeps", "It keeps for", 1440 * keeps.value, "min",
              sheet.worked("by method, in a full closed jar", source=keeps.source))  # fmt: skip
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
