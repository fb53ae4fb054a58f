"""What the dyer should hear of a lot's dips: that the vat is weak for it, that it comes out pale, or came."""

from __future__ import annotations

from vatside.recipe.depth import depth_name
from vatside.recipe.dip_item import DipLot
from vatside.recipe.forecast import WHAT_HELPS, WHAT_IS_LEFT
from vatside.recipe.kept import in_tub, share_kept
from vatside.recipe.measures import powder
from vatside.recipe.sheet import Weight
from vatside.recipe.show import plain
from vatside.recipe.uptake import Outcome, Tank
from vatside.recipe.worksheet import Worksheet

MOST_DIPS = 20
"""Dips of the darkest blue: more of them mean that the vat is too weak; common practice, no source."""


def too_weak(sheet: Worksheet, item: DipLot, outcome: Outcome, *, pale: bool) -> None:
    """Say that a lot which is yet to begin comes out pale, or takes more dips than usual; and what would spare them."""
    usual = item.most_usual
    cure = _cure(sheet, item, usual)
    if pale:
        many = f" after {outcome.dips} dips" if outcome.dips > MOST_DIPS else ""
        words = f"{item.lot.name} will come out {_instead(item, outcome)}{many}: the vat too weak, or the dips too few."
        sheet.say(Weight.CARE, f"{words} {cure}", item.id("reaches"))
    else:
        words = f"{item.lot.name} would take {outcome.dips} dips, {usual} at most are usual: the vat is weak for it."
        weight = Weight.CARE if outcome.dips > MOST_DIPS else Weight.NOTE
        sheet.say(weight, f"{words} {cure}", item.id("dips"))


def many_dips(sheet: Worksheet, item: DipLot, dips: int) -> None:
    """Say that a lot under way takes far too many dips, if it does."""
    if dips > MOST_DIPS:
        words = f"{item.lot.name} takes {dips} dips, {item.most_usual} at most are usual: the vat is weak for it."
        sheet.say(Weight.CARE, f"{words} {WHAT_HELPS}", item.id("dips"))


def pale(sheet: Worksheet, item: DipLot, tank: Tank, outcome: Outcome, *, done: bool, over: bool) -> None:
    """Say that a lot under way will come out pale, or that it did; `over`: its planned dips are had."""
    instead = _instead(item, outcome)
    if done:
        sheet.say(Weight.NOTE, f"{item.lot.name} came out {instead} by the account of the vat.", item.id("reaches"))
        return
    left = f"{plain(_rough(tank.strength), 'g/L')} is left. {WHAT_IS_LEFT if over else WHAT_HELPS}"
    sheet.say(Weight.CARE, f"{item.lot.name} will come out {instead}: {left}", item.id("reaches"))


def _instead(item: DipLot, outcome: Outcome) -> str:
    """Say what comes in place of what is wanted."""
    come, wanted = plain(_rough(outcome.depth), "%"), plain(item.depth, "%")
    names = depth_name(outcome.depth), depth_name(item.depth)
    return f"{names[0]} ({come}), not {names[1]} ({wanted})" if names[0] != names[1] else f"{come}, not {wanted}"


def _cure(sheet: Worksheet, item: DipLot, usual: int) -> str:
    """Say what vat would do it in the usual dips, and how much powder that takes."""
    strength, pigment = sheet[item.id("strength")], powder(sheet.plan, "indigo")
    there = in_tub(sheet.plan).indigotin_g * share_kept(sheet)
    grams = max(strength * sheet["vat.liquor"] - there, 0.0) / pigment.purity
    whole = "beside what stands in the tub" if there else "in all"
    much = f"{plain(_rough(grams), 'g')} of {pigment.material.short.lower()} {whole}, or a smaller tub"
    return f"About {plain(_rough(strength), 'g/L')} would do it in {usual}: {much}."


def _rough(value: float) -> float:
    return float(f"{value:.2g}")
