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
from vatside.chemistry.vat import add, add_vinegar, aerate, gives_off_sulfur_dioxide, reduce
from vatside.plain.say import Refusal, Words, acidity, tell
from vatside.units import Amount, Kind, Problem, is_spoon, parse_amount, show_mass, show_volume, to_base

ACIDS = ("vinegar", "citric acid", "citric acid monohydrate")


def run(words: Sequence[str]) -> int:
    """Print the liquor of a bath; exit code 0, or a Refusal."""
    parser = Words(prog="vatside liquor", add_help=False)
    parser.add_argument("--water", required=True, metavar="VOLUME")
    parser.add_argument("--at", default="25 C", metavar="TEMPERATURE")
    parser.add_argument("--add", action="append", default=[], metavar="MATERIAL=AMOUNT")
    parser.add_argument("--to-pH", type=acidity, dest="target", metavar="PH")
    parser.add_argument("--with", dest="adjuster", metavar="MATERIAL")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(list(words))
    if (asked.target is None) != (asked.adjuster is None):
        raise Refusal("--to-pH and --with go together, such as --to-pH 8 --with vinegar.")
    try:
        bath = _bath(asked.water, asked.at, asked.add)
        answer = _answer(solve(bath), at_25(bath)) | _once_spent(bath)
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


def _once_spent(bath: Bath) -> dict[str, Any]:
    """Give the pH once air has spent the reducer that is left [Reactions]; nothing for a bath without one."""
    if not (gives_off_sulfur_dioxide(bath) or bath.ferrous):
        return {}
    spent = aerate(bath)
    return {"reducer_spent": {"pH": solve(spent).pH, "pH_at_25C": at_25(spent).pH}}


def _dose(bath: Bath, target: float, name: str) -> dict[str, Any]:
    """Work out how much of an acid or alkali, as weighed, brings the bath to a pH at its own temperature."""
    pure, purity = _pure(name)
    if pure == "vinegar":
        amount, unit = acid_for_pH(bath, target, "vinegar"), "mL"
        dosed = add_vinegar(bath, amount)
    else:
        grams = acid_for_pH(bath, target, cast(Acid, pure)) if pure in ACIDS else alkali_for_pH(bath, target, pure)
        amount, unit, dosed = grams / purity, "g", add(bath, pure, grams)
    return {"value": amount, "unit": unit, "pH": solve(dosed).pH, "pH_at_25C": at_25(dosed).pH}


def _pure(name: str) -> tuple[str, float]:
    """Give the substance behind a name, and its share in what is weighed; Refusal for what shifts no pH."""
    material = materials().get(name) if name not in ACIDS else None
    pure, purity = (material.species, material.purity.value / 100) if material is not None else (name, 1.0)
    if pure not in ACIDS and pure not in HYDROXIDE:
        known = [key for key, item in materials().items() if item.role in ("alkali", "acid")]
        raise Refusal(f"--with {name!r} is neither an acid nor an alkali; try {', '.join(known)}.")
    return pure, purity


def _lines(answer: dict[str, Any], adjuster: str) -> list[str]:
    leuco, temperature = answer["leuco"], answer["temperature_C"]
    lines = [
        f"pH {answer['pH']:.2f} at {temperature:.0f} °C · {answer['pH_at_25C']:.2f} at 25 °C",
        f"ionic strength {answer['ionic_strength']:.3f} mol/kg",
        "leuco-indigo: " + ", ".join(f"{100 * leuco[form]:.0f} % {form}" for form in ("acid", "mono", "di")),
    ]
    if "reducer_spent" in answer:
        spent = answer["reducer_spent"]
        lines.append("assumed above: the reducer is unspent but for what the indigo here took")
        lines.append(
            f"once air has spent it: pH {spent['pH']:.2f} at {temperature:.0f} °C · {spent['pH_at_25C']:.2f} at 25 °C; "
            "spent reducer is acid"
        )
    if answer["undissolved_lime_g"] > 0:
        lines.append(f"lime at the bottom: {answer['undissolved_lime_g']:.1f} g")
    if "dose" in answer:
        lines.append(_dose_line(answer["dose"], adjuster, temperature))
    return lines


def _dose_line(dose: dict[str, Any], adjuster: str, temperature: float) -> str:
    """Say how much goes in, and the pH after it."""
    if not dose["value"]:
        return f"{adjuster}: none; the pH is there already, or on the other side"
    amount = show_volume(dose["value"] / 1000) if dose["unit"] == "mL" else show_mass(dose["value"])
    after = f"pH {dose['pH']:.2f} at {temperature:.0f} °C · {dose['pH_at_25C']:.2f} at 25 °C"
    return f"with {amount} of {adjuster}: {after}"
