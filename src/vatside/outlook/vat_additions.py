"""Something of the dyer's own on its way into the live vat: what she writes, what it comes to, what is asked first."""

from __future__ import annotations

from vatside.catalogue.load import materials
from vatside.catalogue.values import Material
from vatside.chemistry.substances import naoh_equivalent
from vatside.log.effects.vat import corrected, grams
from vatside.log.events.vat import CorrectionMade
from vatside.log.fold import State
from vatside.outlook.vat_deeds import read_amount, read_volume
from vatside.outlook.vat_facts import setting_of
from vatside.plan.measures import Powder, method_of, powder, species_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.cooling import KETTLE_C
from vatside.recipe.vat_needs import at_warmth
from vatside.units import Amount, Kind, Problem, parse_amount, show_temperature
from vatside.vat.account import Account, free_alkali_g, predict
from vatside.vat.interlocks import Block

LEAST_JUG_L = 0.05
"""No lye is dissolved in less: common practice, no source."""
MANY_TIMES = 2.0
"""More than so many times what the vat is made with is more likely a slip of the keyboard: a judgement of our own."""
RAISES = 0.02
"""A pH that goes up by less than this stays as it is."""


# What it comes to


def comes_to(state: State, event: CorrectionMade) -> str:
    """Say what pH the vat comes to with it, and how warm where that changes; empty where that cannot be told."""
    account = state.tending.account
    if account is None:
        return ""
    try:
        after = corrected(account, event, state.plan)
        return f"then about pH {predict(after).pH:.1f} at {show_temperature(after.celsius)}"
    except (KeyError, ValueError):
        return ""


# What is asked first


def doubt(state: State, sheet: Sheet, event: CorrectionMade) -> Block | None:
    """Doubt, not for good, what would put the vat where its fibre is harmed, or is far more than the vat is made with.

    KeyError for no such material, ValueError for an amount that does not fit it.
    """
    account = state.tending.account
    if account is None or event.amount is None:
        return None
    what = powder(state.plan, event.material)
    much = grams(what, event.amount, state.plan) * what.purity
    if harm := _harms(account, state, sheet, event):
        return harm
    # What was worked out for a finding is more than it is made with only where the vat has lost that much.
    return None if event.finding else _many_times(account, state, sheet, what, much)


def _harms(account: Account, state: State, sheet: Sheet, event: CorrectionMade) -> Block | None:
    try:
        before, after = predict(account), predict(corrected(account, event, state.plan))
    except ValueError:
        return None
    plain = at_warmth(setting_of(state, sheet), after.celsius)
    if after.pH <= plain.window.block or after.pH < before.pH + RAISES:
        return None
    return Block(
        f"That brings the vat to about pH {after.pH:.1f} at {after.celsius:.0f} °C, by the account; above "
        f"{plain.window.block:g} {plain.fibre} is harmed.",
        "Give less, wait and read the pH; Esc goes back and nothing is written down.",
        final=False,
    )


def _many_times(account: Account, state: State, sheet: Sheet, what: Powder, pure_g: float) -> Block | None:
    role = what.material.role
    if role not in ("alkali", "reducer"):
        return None
    if role == "alkali":
        added, own = pure_g * naoh_equivalent(what.material.species), _own_alkali(account, state.plan, sheet)
    else:
        added, own = pure_g, _own_reducer(account, state.plan, sheet)
    if own <= 0 or added <= MANY_TIMES * own:
        return None
    return Block(
        f"That is {added / own:.0f} times the {role} that the vat is made with.",
        "Look at the amount and its unit once more; a little, a wait and a reading tell more than much at once.",
        final=False,
    )


def _planned_g(plan: Plan, sheet: Sheet, role: str) -> float:
    """Give the grams of a role, pure, that the plan puts into stock and vat."""
    return (sheet.value(f"vat.{role}") + sheet.value(f"stock.{role}")) * powder(plan, role).purity


def _own_alkali(account: Account, plan: Plan, sheet: Sheet) -> float:
    """Give the alkali of the vat, g as lye: what the plan puts in, or what is free in it, whichever is more."""
    planned = _planned_g(plan, sheet, "alkali") * naoh_equivalent(species_of(plan, "alkali"))
    return max(planned, free_alkali_g(account))


def _own_reducer(account: Account, plan: Plan, sheet: Sheet) -> float:
    """Give the reducer of the vat, pure g: what the plan puts in, or what sharpens so much water."""
    return max(_planned_g(plan, sheet, "reducer"), method_of(plan).vat.reducer_per_litre.value * account.litres)


HOW = "2 g lye, 1/2 tsp reducer, 1 L water, 500 mL stock"


def addition(plan: Plan, text: str) -> CorrectionMade | Problem:
    """Read something that she put in of her own: `2 g lye`, `1/2 tsp reducer`, `1 L hot water`, `500 mL stock`.

    A bare number is in grams, of a liquid in litres, as in the forms. Tap water is cold unless she says otherwise.
    """
    words = [word for word in text.split() if word.casefold() != "of"]
    for count in range(1, len(words)):
        event = _addition(plan, " ".join(words[:count]), " ".join(words[count:]).casefold())
        if event is not None:
            return event
    return Problem(_what_is_wrong(plan, words))


def _addition(plan: Plan, amount: str, name: str) -> CorrectionMade | Problem | None:
    if name == "stock":
        volume = read_volume(plan, amount)
        return volume if isinstance(volume, Problem) else CorrectionMade(stock=volume)
    warm = _water(plan, name)
    if warm is not None:
        volume = read_volume(plan, amount)
        if isinstance(warm, Problem):
            return warm
        return volume if isinstance(volume, Problem) else CorrectionMade(water=volume, water_temperature=warm)
    key = _named(plan, name)
    if not key:
        return None
    read = read_amount(powder(plan, key), plan, amount)
    return read if isinstance(read, Problem) else CorrectionMade(material=key, amount=read)


def _water(plan: Plan, name: str) -> Amount | Problem | None:
    """Give how warm a water is by its name: of a tap, off the kettle, or `water at 45 C`; None for no water."""
    kind, water, behind = name.partition("water")
    if not water or kind.strip() not in ("", "cold", "tap", "cold tap", "hot", "hot tap", "kettle", "boiling", "warm"):
        return None
    degrees = behind.strip().removeprefix("at ")
    if degrees:
        return parse_amount(degrees, Kind.TEMPERATURE, unit="degC")
    if kind.startswith("warm"):
        return Problem("How warm is it? Write 1 L water at 45 C.")
    if kind.startswith(("kettle", "boiling")):
        return Amount(KETTLE_C, "degC")
    return plan.water.hot if kind.startswith("hot") else plan.water.cold


def _named(plan: Plan, name: str) -> str:
    """Find a powder or liquid that the liquor knows by its role, its id or its name; the method's own come first."""
    if name in ("alkali", "reducer", "indigo"):
        return powder(plan, name).id
    known = _known(plan)
    return next((key for key, item in known.items() if name in (key, item.name.casefold(), item.short.casefold())), "")


def _known(plan: Plan) -> dict[str, Material]:
    method = method_of(plan)
    keys = dict.fromkeys((method.alkali, method.reducer, method.indigo, *materials()))
    return {key: materials()[key] for key in keys if materials()[key].species}


def _what_is_wrong(plan: Plan, words: list[str]) -> str:
    """Say what is missing: the amount, what it is an amount of, or a name that is known."""
    if not words:
        return f"Write how much of what: {HOW}."
    text = " ".join(words)
    if _is_amount(plan, text):
        return f"{text} of what? Write its name behind it: {HOW}."
    if _addition(plan, "1", text.casefold()) is not None:
        return f"How much {text}? Write the amount in front of it: {HOW}."
    counts = [count for count in range(1, len(words)) if _is_amount(plan, " ".join(words[:count]))]
    if not counts:
        return f"{text} does not begin with an amount. Write how much of what: {HOW}."
    names = ", ".join(item.short.lower() for item in _known(plan).values())
    return f"No {' '.join(words[counts[-1] :])} is known for a vat: it can be {names}, water or stock."


def _is_amount(plan: Plan, text: str) -> bool:
    kinds = (Kind.POWDER, "g"), (Kind.VOLUME, "L")
    return any(isinstance(parse_amount(text, kind, unit=unit, spoons=plan.spoons), Amount) for kind, unit in kinds)
