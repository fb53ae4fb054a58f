"""What the dyer writes of something of her own that went into the vat: an amount and a name."""

from __future__ import annotations

from vatside.catalogue.load import materials
from vatside.catalogue.values import Material
from vatside.log.events.vat import CorrectionMade
from vatside.outlook.vat_deeds import read_amount, read_volume
from vatside.plan.measures import method_of, powder
from vatside.plan.plan import Plan
from vatside.recipe.cooling import KETTLE_C
from vatside.units import Amount, Kind, Problem, parse_amount

HOW = "2 g lye, 1/2 tsp reducer, 1 L water, 500 mL stock"


def addition(plan: Plan, text: str) -> CorrectionMade | Problem:
    """Read something that she put in of her own: `2 g lye`, `1/2 tsp reducer`, `1 L hot water`, `500 mL stock`.

    A bare number is in grams, of a liquid in litres, as in the forms. Tap water is cold unless she says otherwise.
    """
    words = [word for word in text.split() if word.casefold() != "of"]
    for count in range(1, len(words)):
        found = _addition(plan, " ".join(words[:count]), " ".join(words[count:]).casefold())
        if found is not None:
            return found
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
    kind, found, behind = name.partition("water")
    if not found or kind.strip() not in ("", "cold", "tap", "cold tap", "hot", "hot tap", "kettle", "boiling", "warm"):
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
