"""Plans for the tests: the starter with some fields set, by path."""

from __future__ import annotations

from attrs import evolve

from vatside.forms.fields import read, set_value
from vatside.plan.paths import add_lot
from vatside.plan.plan import Condition, Dosing, Form, Kept, Lot, Pin, Plan, TapKind
from vatside.plan.sheet import Notice, Sheet
from vatside.plan.starter import new_lot, starter_plan
from vatside.units import Amount, Problem


def wool_plan(title: str = "A new day") -> Plan:
    """Half a pound of wool, medium, in a full tub of 24 L with a whole jar of stock: the numbers worked by hand."""
    plan = starter_plan(title)
    lot = Lot("a", "Wool skeins", "wool", Amount(227, "g"), 2, Form.SKEINS, Condition.CLEAN, Amount(0.8, "%"))
    vessels = evolve(plan.vessels, tub=evolve(plan.vessels.tub, volume=Amount(24, "L")), others=())
    held = (Pin("vat.fill", Amount(20.4, "L")), Pin("stock.water", Amount(1, "L")))
    water = evolve(plan.water, tap=TapKind.PURE)
    return evolve(plan, lots=(lot,), vessels=vessels, water=water, dosing=Dosing.SPENT, pins=held)


def hand_plan(plan: Plan | None = None) -> Plan:
    """Give the same (or a plan) with fourteen dips held of each lot: no indigo is added to spare dips."""
    plan = plan or wool_plan()
    return evolve(plan, pins=(*plan.pins, *(Pin(f"dip.{lot.id}.dips", Amount(14, "")) for lot in plan.lots)))


def hand_with(plan: Plan | None = None, /, **changes: str) -> Plan:
    """Set fields of the hand-worked plan (or of another) from typed text."""
    return plan_with(plan or hand_plan(), **changes)


def hand_of_lots(*lots: tuple[str, str], plan: Plan | None = None, **changes: str) -> Plan:
    """Give the hand-worked plan with several lots."""
    return hand_plan(plan_of_lots(*lots, plan=plan, **changes))


def free_plan() -> Plan:
    """Give the same with nothing held: half a pound of wool in a tub of 24 L, spent at the end."""
    return evolve(wool_plan(), pins=())


def plan_with(plan: Plan | None = None, /, **changes: str) -> Plan:
    """Set fields of a plan (half a pound of wool by default) from typed text; `__` in a name stands for a dot."""
    plan = plan or wool_plan()
    for name, text in changes.items():
        plan = told(plan, name.replace("__", "."), text)
    return plan


def told(plan: Plan, path: str, text: str) -> Plan:
    """Set one field from typed text; the text must be understood."""
    value = read(plan, path, text)
    assert not isinstance(value, Problem), value
    return set_value(plan, path, value)


def plan_of_lots(*lots: tuple[str, str], plan: Plan | None = None, **changes: str) -> Plan:
    """Give a plan with one lot for each (fibre, mass); `a`, `b`, `c` and so on."""
    plan = plan_with(plan, **changes)
    for number, (fibre, mass) in enumerate(lots):
        if number:
            plan = add_lot(plan, new_lot(plan))
        lot = plan.lots[-1].id
        plan = told(told(plan, f"lots.{lot}.fibre", fibre), f"lots.{lot}.mass", mass)
    return plan


def kept_vat(
    litres: float = 20, celsius: float = 20, indigotin_g: float = 1, alkali_g: float = 4, reducer_g: float = 0
) -> Kept:
    """Twenty cold litres with a gram of indigotin and four of lye to spare, their reducer gone."""
    masses = (Amount(grams, "g") for grams in (indigotin_g, alkali_g, reducer_g))
    return Kept(Amount(litres, "L"), Amount(celsius, "degC"), *masses)


def says(sheet: Sheet, part: str) -> tuple[Notice, ...]:
    """Give the notices of a sheet that hold some words."""
    return tuple(notice for notice in sheet.notices if part in notice.text)
