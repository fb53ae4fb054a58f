"""What the dyer should hear of a lot's dips: that it comes out pale, or came, or takes far too many."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.dips.depth import WHAT_HELPS, WHAT_IS_LEFT, is_pale
from vatside.dips.so_far import SoFar
from vatside.dips.uptake import Tank
from vatside.plan.figure_text import plain, two_digits
from vatside.plan.sheet import Weight
from vatside.recipe import cures
from vatside.recipe.cures import instead_of
from vatside.recipe.stages.dip_lot import Dipped
from vatside.recipe.worksheet import Worksheet


def work_out(sheet: Worksheet, lots: Sequence[Dipped], tank: Tank, so_far: SoFar) -> None:
    """Say what is to be said of the dips: of the plan as a whole, or of each lot that is under way."""
    if not so_far.pieces:
        cures.work_out(sheet, lots)
        return
    for lot in lots:
        if is_pale(lot.depth, lot.item.depth):
            _pale(sheet, lot, tank)
        elif not lot.done and lot.dips > lot.item.usual.accepted_dips:
            takes = f"{lot.item.lot.name} takes {cures.dips_in_words(lot.ends)}"
            words = f"{takes}, {cures.up_to(lot.item)}: the vat is weak for it. {WHAT_HELPS}"
            sheet.say(Weight.CARE, words, lot.item.id("dips"))


def _pale(sheet: Worksheet, lot: Dipped, tank: Tank) -> None:
    """Say that a lot will come out pale, or that it did."""
    item, instead = lot.item, instead_of(lot)
    if lot.done:
        sheet.say(Weight.NOTE, f"{item.lot.name} came out {instead} by the account of the vat.", item.id("reaches"))
        return
    left = f"{plain(two_digits(tank.strength), 'g/L')} is left. {WHAT_HELPS if lot.brings else WHAT_IS_LEFT}"
    sheet.say(Weight.CARE, f"{item.lot.name} will come out {instead}: {left}", item.id("reaches"))
