"""`vatside liquor`: what any bath comes to, and what would bring it to another pH."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any, cast

from vatside.catalogue.load import materials
from vatside.chemistry.adjust import Acid, acid_for_pH, alkali_for_pH
from vatside.chemistry.bath import Bath, water_bath
from vatside.chemistry.errors import CannotReach, Dangerous, OutOfRange
from vatside.chemistry.indigo import HYDROXIDE
from vatside.chemistry.liquor import Liquor, at_25, solve
from vatside.chemistry.substances import SUBSTANCES
from vatside.chemistry.vat import add, add_vinegar, reduce
from vatside.plain.say import Refusal, Words, tell
from vatside.units import Amount, Kind, Problem, is_spoon, parse_amount, to_base

ACIDS = ("vinegar", "citric acid", "citric acid monohydrate")


def run(words: Sequence[str]) -> int:
    """Print the liquor of a bath; exit code 0, or a Refusal."""
    parser = Words(prog="vatside liquor", add_help=False)
    parser.add_argument("--water", required=True, metavar="VOLUME")
    parser.add_argument("--at", default="25 C", metavar="TEMPERATURE")
    parser.add_argument("--add", action="append", default=[], metavar="MATERIAL=AMOUNT")
    parser.add_argument("--to-pH", type=float, dest="target", metavar="PH")
    parser.add_argument("--with", dest="adjuster", metavar="MATERIAL")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(list(words))
    if (asked.target is None) != (asked.adjuster is None):
        raise Refusal("--to-pH and --with go together, such as --to-pH 8 --with vinegar.")
    try:
        bath = _bath(asked.water, asked.at, asked.add)
        answer = _answer(solve(bath), at_25(bath))
        if asked.target is not None:
            answer["dose"] = _dose(bath, asked.target, asked.adjuster)
    except (OutOfRange, CannotReach, Dangerous) as reason:
        raise Refusal(str(reason)) from None
    tell(json.dumps(answer, indent=1) if asked.json else "\n".join(_lines(answer, asked.adjuster or "")))
    return 0


def _bath(water: str, at: str, additions: Sequence[str]) -> Bath:
    """Mix the bath, and let a reducer among the additions reduce the indigotin."""
    litres = to_base(_amount("--water", water, Kind.VOLUME), Kind.VOLUME)
    bath = water_bath(litres, to_base(_amount("--at", at, Kind.TEMPERATURE), Kind.TEMPERATURE))
    for addition in additions:
        name, equals, typed = addition.rpartition("=")
        if not equals:
            raise Refusal(f"--add {addition!r}: write MATERIAL=AMOUNT, such as 'sodium hydroxide=13.5g'.")
        bath = _added(bath, name.strip(), typed)
    return reduce(bath).bath


def _added(bath: Bath, name: str, typed: str) -> Bath:
    amount = _amount(f"--add {name}", typed, Kind.POWDER)
    if name == "vinegar" and is_spoon(amount):
        return add_vinegar(bath, 1000 * to_base(amount, Kind.VOLUME))
    if is_spoon(amount):
        raise Refusal(f"--add {name}: grams are wanted here; a spoon of it could be anything.")
    grams = to_base(amount, Kind.MASS)
    material = materials().get(name)
    if material is not None and material.species:
        return add(bath, material.species, grams * material.purity.value / 100)
    if name not in SUBSTANCES:
        known = [key for key, item in materials().items() if item.species]
        raise Refusal(f"--add {name!r} is not known; known are {', '.join((*known, *SUBSTANCES))}.")
    return add(bath, name, grams)


def _amount(place: str, typed: str, kind: Kind) -> Amount:
    amount = parse_amount(typed, kind)
    if isinstance(amount, Problem):
        raise Refusal(f"{place}: {amount.text}.")
    return amount


def _answer(there: Liquor, cool: Liquor) -> dict[str, Any]:
    leuco = there.leuco
    return {
        "pH": there.pH,
        "pH_at_25C": cool.pH,
        "temperature_C": there.temperature_C,
        "ionic_strength": there.ionic_strength,
        "leuco": {"acid": leuco.acid, "mono": leuco.mono, "di": leuco.di},
        "undissolved_lime_g": there.undissolved_lime_g,
    }


def _dose(bath: Bath, target: float, name: str) -> dict[str, Any]:
    """Work out how much of an acid or alkali brings the bath to a pH at its own temperature."""
    material = materials().get(name)
    pure = material.species if material is not None and name not in ACIDS else name
    if name == "citric-acid":
        pure = "citric acid"
    if pure in ACIDS:
        value = acid_for_pH(bath, target, cast(Acid, pure))
        return {"value": value, "unit": "mL" if pure == "vinegar" else "g"}
    if pure not in HYDROXIDE:
        raise Refusal(f"--with {name!r} is neither an acid nor an alkali; try {', '.join((*ACIDS, *HYDROXIDE))}.")
    return {"value": alkali_for_pH(bath, target, pure), "unit": "g"}


def _lines(answer: dict[str, Any], adjuster: str) -> list[str]:
    leuco, temperature = answer["leuco"], answer["temperature_C"]
    lines = [
        f"pH {answer['pH']:.2f} at {temperature:.0f} °C · {answer['pH_at_25C']:.2f} at 25 °C",
        f"ionic strength {answer['ionic_strength']:.3f} mol/kg",
        "leuco-indigo: " + ", ".join(f"{100 * leuco[form]:.0f} % {form}" for form in ("acid", "mono", "di")),
    ]
    if answer["undissolved_lime_g"] > 0:
        lines.append(f"lime at the bottom: {answer['undissolved_lime_g']:.1f} g")
    if "dose" in answer:
        lines.append(f"{adjuster}: {answer['dose']['value']:.1f} {answer['dose']['unit']}")
    return lines
