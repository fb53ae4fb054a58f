"""What a class must know of its plan before anything is weighed, and what becomes of the vat after it."""

from __future__ import annotations

from vatside.dayline.jar_label import label, made_of_kept
from vatside.days.lot_pairs import FEW
from vatside.plan.plan import Plan
from vatside.plan.sheet import Notice, Sheet, Stage, Weight

NOTED = (Stage.PLAN, Stage.VAT, Stage.DIP)
"""Stages whose notes tell a class whether the day can be done; those of the others only spare water or time."""
KEPT = "Afterwards the vat is kept for another day, by the steps of the app"
LET_GO = "Afterwards the vat is led to its end by the steps of the app: blue in the air first, and acid only then"
NEVER = "It is never poured off caustic; local rules come first."


def dangers(sheet: Sheet) -> tuple[str, ...]:
    """Give what can hurt someone or something."""
    return tuple(item.in_full for item in sheet.notices if item.weight is Weight.DANGER)


def looks(sheet: Sheet) -> tuple[str, ...]:
    """Give where the plan may not do what is wanted, the gravest first; of many notices the first."""
    found = sorted((item for item in sheet.notices if _counts(item)), key=lambda item: item.weight is not Weight.CARE)
    more = f"And {len(found) - FEW} more notices, in the app." if len(found) > FEW + 1 else ""
    shown = found[:FEW] if more else found
    return (*(item.in_full for item in shown), *([more] if more else ()))


def _counts(notice: Notice) -> bool:
    return notice.weight is Weight.CARE or (notice.weight is Weight.NOTE and notice.stage in NOTED)


def vat_end(sheet: Sheet, plan: Plan) -> str:
    """Say what becomes of the vat, and of the stock that is left, which is not the tables' to do."""
    return f"{KEPT if sheet.value('finish.keep') > 0 else LET_GO}. {NEVER}{_jar(sheet, plan)}"


def _jar(sheet: Sheet, plan: Plan) -> str:
    litres = sheet.value("stock.left", 0.0)
    if not litres:
        return ""
    words = "; ".join(label(plan, litres, sheet.value("stock.left_strength"), made_of_kept(plan, sheet)))
    return f" The stock that is left stays closed in its jar. Its label: {words}."
