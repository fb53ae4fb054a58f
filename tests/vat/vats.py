"""Vats and readings for the tests of looking after one."""

from __future__ import annotations

from typing import Any

from attrs import evolve
from hypothesis import strategies as st
from tests.plan.plans import plan_with

from vatside.catalogue.findings import Row, Sign
from vatside.catalogue.looks import LOOKS, Bottom, Clarity, Cloth, Colour, Feel, Smell, Strip, Surface
from vatside.chemistry.bath import Bath, add_grams, water_bath
from vatside.chemistry.substances import moles
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute
from vatside.recipe.vat_needs import Setting, setting
from vatside.units import Amount
from vatside.vat.account import Account, planned_account
from vatside.vat.corrections import Vat
from vatside.vat.diagnosis import limit, window
from vatside.vat.reading import PHBy, Reading

METHODS = ("tdo-lye", "dithionite-lye", "fructose-lime", "copperas-lime")
FIBRES = ("wool", "silk", "cotton")


def setting_of(plan: Plan) -> Setting:
    """Give what a plan's vat is supposed to be like."""
    return setting(plan, compute(plan))


def vat_with(reading: Reading | None = None, **changes: str) -> Vat:
    """Give the vat of the starter plan with some fields set, and a reading of it."""
    plan = plan_with(None, **changes)
    sheet = compute(plan)
    return Vat(plan, planned_account(plan, sheet), setting(plan, sheet), reading or Reading())


def account_with(litres: float = 1.0, t_C: float = 25.0, alkali: str = "sodium hydroxide", **grams: float) -> Account:
    """Give an account of plain water with pure substances in it; `sodium_hydroxide=2` stands for 2 g of it."""
    bath: Bath = water_bath(litres, t_C)
    account = Account(bath, alkali)
    for name, amount in grams.items():
        account = evolve(account, bath=add_grams(account.bath, name.replace("_", " "), amount))
    return account


def grams_for(name: str, millimoles: float) -> float:
    """Give the grams of so many mmol of a pure substance."""
    return millimoles / 1000 / moles(name, 1.0)


def own_signs(row: Row, plain: Setting) -> tuple[Reading, dict[str, Any]]:
    """Give a reading by meter that shows each of a row's signs, and what the log knows besides."""
    found: dict[str, object] = {}
    for sign in row.signs:
        found[sign.about] = _shown(sign, plain) if sign.about not in found or not sign.seen else found[sign.about]
    known: dict[str, Any] = {name: found.pop(name) for name in ("tried", "holds", "lime", "age") if name in found}
    known["tried"] = round(float(known.get("tried", 0)))
    warm = float(str(found.pop("temperature", plain.aim)))
    if "pH_25" in found:
        found["pH"], found["pH_temperature"] = found.pop("pH_25"), Amount(25, "degC")
    return Reading(temperature=Amount(warm, "degC"), pH_by=PHBy.METER, **found), known  # type: ignore[arg-type]


def _shown(sign: Sign, plain: Setting) -> object:
    """Give a look or a number that a sign speaks for, well inside its range."""
    if sign.seen:
        look = LOOKS[sign.about](sign.seen[0])
        return (look,) if sign.about == "cloth" else look
    low, high = window(sign.about, plain)
    if sign.in_window:
        return (low + high) / 2
    if sign.below is not None:
        return limit(sign, plain) - 0.5
    if sign.above is not None:
        return sign.above + 0.5
    return low - sign.below_window - 0.5 if sign.below_window is not None else high + (sign.above_window or 0) + 0.5


def _maybe(strategy: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
    return st.none() | strategy


TEMPERATURES = st.builds(Amount, st.floats(0, 100), st.just("degC")) | st.builds(
    Amount, st.floats(32, 212), st.just("degF")
)
READINGS = st.builds(
    Reading,
    temperature=_maybe(TEMPERATURES),
    pH=_maybe(st.floats(0, 14.5)),
    pH_temperature=_maybe(TEMPERATURES),
    pH_by=st.sampled_from(PHBy),
    redox=_maybe(st.floats(-1500, 1000)),
    colour=_maybe(st.sampled_from(Colour)),
    clarity=_maybe(st.sampled_from(Clarity)),
    surface=_maybe(st.sampled_from(Surface)),
    strip=_maybe(st.sampled_from(Strip)),
    seconds=_maybe(st.floats(0, 3600)),
    smell=_maybe(st.sampled_from(Smell)),
    feel=_maybe(st.sampled_from(Feel)),
    bottom=_maybe(st.sampled_from(Bottom)),
    cloth=st.lists(st.sampled_from(Cloth), max_size=4, unique=True).map(tuple),
)
"""Any reading that can be written down."""
