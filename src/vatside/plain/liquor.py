"""`vatside liquor`: what any bath comes to, and what would bring it to another pH."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from typing import Any, cast

from attrs import frozen

from vatside.catalogue.load import materials
from vatside.chemistry.adjust import Acid, acid_for_pH, alkali_for_pH
from vatside.chemistry.bath import Bath, add_grams, add_vinegar, aerate, reduce, water_bath
from vatside.chemistry.errors import CannotReach, Dangerous, OutOfRange
from vatside.chemistry.life import FRESH, HALF, SPENT, course, liquor_of, spent_to
from vatside.chemistry.liquor import (
    IN_THE_AIR,
    LEFT_OUT,
    SULFUR_DIOXIDE_DANGER,
    SULFUR_DIOXIDE_DAY,
    SULFUR_DIOXIDE_MINUTES,
    at_25,
    open_to_air,
    solve,
)
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import ALKALIS, SUBSTANCES
from vatside.chemistry.tap import PURE, Tap, TapWater, fill, read_tap
from vatside.plain.say import Refusal, Words, acidity, tell
from vatside.units import Amount, Kind, Problem, is_spoon, parse_amount, show_mass, show_volume, to_base

ACIDS = ("vinegar", "citric acid", "citric acid monohydrate")


LEAST_SAID_PPM = 0.05
"""Less sulphur dioxide than this is not worth a line: no nose finds it."""


@frozen
class _Asked:
    """What the bath is made of, as typed."""

    litres: float
    at_C: float  # noqa: N815  (chemistry's own symbol)
    additions: tuple[str, ...]
    tap: Tap | None
    """None: no water was named, and it counts as pure."""
    spent: float
    open_air: bool

    def bath(self, water: TapWater) -> Bath:
        """Mix the bath, and let a reducer among the additions reduce the indigotin."""
        bath = fill(water_bath(self.litres, self.at_C), water, self.litres)
        for addition in self.additions:
            name, equals, typed = addition.rpartition("=")
            if not equals:
                raise Refusal(f"--add {addition!r}: write MATERIAL=AMOUNT, such as 'sodium hydroxide=13.5g'.")
            bath = _added(bath, name.strip(), typed)
        return reduce(bath)

    @property
    def waters(self) -> tuple[TapWater, ...]:
        """All the waters it may be, the likeliest first."""
        return (PURE,) if self.tap is None else self.tap.waters


def run_liquor(words: Sequence[str]) -> int:
    """Print the liquor of a bath; exit code 0, or a Refusal."""
    typed = _words().read(words)
    if (typed.target is None) != (typed.adjuster is None):
        raise Refusal("--to-pH and --with go together, such as --to-pH 8 --with vinegar.")
    asked = _asked(typed)
    try:
        bath = spent_to(asked.bath(asked.waters[0]), asked.spent)
        answer = _answer(bath, asked) | _once_spent(bath)
        if typed.target is not None:
            answer["dose"] = _dose(bath, typed.target, typed.adjuster)
    except (OutOfRange, CannotReach, Dangerous) as reason:
        raise Refusal(str(reason)) from None
    tell(json.dumps(answer, indent=1) if typed.json else "\n".join(_lines(answer, typed.adjuster or "")))
    return 0


def _words() -> Words:
    parser = Words("liquor", "--json", hardness=str)
    parser.allow_abbrev = False
    parser.add_argument("--water", required=True, metavar="VOLUME")
    parser.add_argument("--at", default="25 C", metavar="TEMPERATURE")
    parser.add_argument("--alkalinity", default="", metavar="ALKALINITY")
    parser.add_argument("--add", action="append", default=[], metavar="MATERIAL=AMOUNT")
    parser.add_argument("--spent", default="0 %", metavar="SHARE")
    parser.add_argument("--open-air", action="store_true", dest="open_air")
    parser.add_argument("--to-pH", type=acidity, dest="target", metavar="PH")
    parser.add_argument("--with", dest="adjuster", metavar="MATERIAL")
    return parser


def _asked(typed: argparse.Namespace) -> _Asked:
    spent = to_base(_amount("--spent", typed.spent, Kind.PERCENT, "%"), Kind.PERCENT) / 100
    if spent > 1:
        raise Refusal(f"--spent {typed.spent}: no more than 100 % of a reducer can be spent.")
    litres = to_base(_amount("--water", typed.water, Kind.VOLUME), Kind.VOLUME)
    warm = to_base(_amount("--at", typed.at, Kind.TEMPERATURE), Kind.TEMPERATURE)
    return _Asked(litres, warm, tuple(typed.add), _tap(typed.hardness, typed.alkalinity), spent, typed.open_air)


def _tap(hardness: str | None, alkalinity: str) -> Tap | None:
    if hardness is None and not alkalinity:
        return None
    tap = read_tap(hardness or "", alkalinity)
    if isinstance(tap, Problem):
        raise Refusal(f"--hardness and --alkalinity: {tap.text}.")
    return tap


def _added(bath: Bath, name: str, typed: str) -> Bath:
    amount = _amount(f"--add {name}", typed, Kind.POWDER)
    if name == "vinegar" and is_spoon(amount):
        return add_vinegar(bath, 1000 * to_base(amount, Kind.VOLUME))
    if is_spoon(amount):
        raise Refusal(f"--add {name}: grams are wanted here; a spoon of it could be anything.")
    pure, share = _named(name)
    return add_grams(bath, pure, to_base(amount, Kind.MASS) * share)


def _named(name: str) -> tuple[str, float]:
    """Give the pure substance behind a material's name, with spaces or hyphens, and its share in what is weighed."""
    known = {key: item for key, item in materials().items() if item.species}
    if name not in known and name in _SOLUBLE:
        return name, 1.0
    material = known.get(name) or known.get(name.replace(" ", "-"))
    if material is None:
        raise Refusal(f"--add {name!r} is not known; known are {', '.join((*known, *_SOLUBLE))}.")
    return material.species, material.purity.value / 100


_SOLUBLE = tuple(name for name, one in SUBSTANCES.items() if one.gives)


def _amount(place: str, typed: str, kind: Kind, unit: str | None = None) -> Amount:
    amount = parse_amount(typed, kind, unit=unit)
    if isinstance(amount, Problem):
        raise Refusal(f"{place}: {amount.text}.")
    return amount


def _answer(bath: Bath, asked: _Asked) -> dict[str, Any]:
    there = liquor_of(bath, asked.open_air, chalk=False)
    settled = liquor_of(bath, asked.open_air, chalk=True)
    cool = at_25(open_to_air(bath) if asked.open_air else bath)
    leuco = there.leuco
    return {
        "pH": there.pH,
        "pH_at_25C": cool.pH,
        "temperature_C": there.temperature_C,
        "ionic_strength": there.ionic_strength,
        "leuco": {"acid": leuco.acid, "mono": leuco.mono, "di": leuco.di},
        "undissolved_lime_g": there.undissolved_lime_g,
        "pH_settled": settled.pH,
        "settled_chalk_g": settled.chalk_g,
        **_life(asked),
        "water": _water(asked),
        "left_out": list(LEFT_OUT if asked.open_air else (IN_THE_AIR, *LEFT_OUT)),
    }


def _life(asked: _Asked) -> dict[str, Any]:
    """Give the pH from fresh to spent, nothing settling; its ends over chalk and water; and the gas at its worst."""
    mixed = asked.bath(asked.waters[0])
    fresh, half, spent = (liquor_of(spent_to(mixed, share), asked.open_air, False).pH for share in (FRESH, HALF, SPENT))
    life = course(*(asked.bath(water) for water in asked.waters), open_air=asked.open_air)
    return {
        "pH_fresh": fresh,
        "pH_half": half,
        "pH_spent": spent,
        "pH_low": life.low,
        "pH_high": life.high,
        "sulphur_dioxide_ppm": life.sulfur_dioxide_ppm,
    }


def _water(asked: _Asked) -> dict[str, Any]:
    likely = asked.waters[0]
    ends = [{"hardness": end.hardness_mg, "alkalinity": end.alkalinity_mg} for end in asked.waters[1:]]
    data = {"hardness": likely.hardness_mg, "alkalinity": likely.alkalinity_mg, "unit": "mg/L CaCO3"}
    return data | {"named": asked.tap is not None, "ends": ends}


def _once_spent(bath: Bath) -> dict[str, Any]:
    """Give the pH once air has spent the reducer that is left [Reactions]; nothing for a bath without one."""
    if not any(getattr(bath, kind.total) for kind in REDUCERS.values() if kind.air_spends):
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
        amount, unit, dosed = grams / purity, "g", add_grams(bath, pure, grams)
    return {"value": amount, "unit": unit, "pH": solve(dosed).pH, "pH_at_25C": at_25(dosed).pH}


def _pure(name: str) -> tuple[str, float]:
    """Give the substance behind a name, and its share in what is weighed; Refusal for what shifts no pH."""
    if name in ACIDS:
        return name, 1.0
    listed = [key for key, item in materials().items() if item.role in ("alkali", "buffer", "acid")]
    try:
        pure, share = _named(name)
    except Refusal:
        pure, share = "", 1.0
    if pure not in ACIDS and pure not in ALKALIS:
        raise Refusal(f"--with {name!r} is neither an acid nor an alkali; try {', '.join(listed)}.")
    return pure, share


def _lines(answer: dict[str, Any], adjuster: str) -> list[str]:
    leuco, temperature = answer["leuco"], answer["temperature_C"]
    lines = [
        f"pH {answer['pH']:.2f} at {temperature:.0f} °C · {answer['pH_at_25C']:.2f} at 25 °C",
        f"ionic strength {answer['ionic_strength']:.3f} mol/kg",
        "leuco-indigo: " + ", ".join(f"{100 * leuco[form]:.0f} % {form}" for form in ("acid", "mono", "di")),
        _water_line(answer["water"]),
    ]
    if abs(answer["pH_settled"] - answer["pH"]) >= 0.005:
        lines.append(f"once chalk and the like have settled: pH {answer['pH_settled']:.2f} at {temperature:.0f} °C")
    if "reducer_spent" in answer:
        lines += _spent_lines(answer, temperature)
    if answer["undissolved_lime_g"] > 0:
        lines.append(f"lime at the bottom: {answer['undissolved_lime_g']:.1f} g")
    if "dose" in answer:
        lines.append(_dose_line(answer["dose"], adjuster, temperature))
    return [*lines[:-1], *_left_out(answer), lines[-1]] if "dose" in answer else [*lines, *_left_out(answer)]


def _water_line(water: dict[str, Any]) -> str:
    if not water["named"]:
        return "water: taken as pure; --hardness and --alkalinity tell what the tap brings"
    line = f"water: hardness {water['hardness']:.0f}, alkalinity {water['alkalinity']:.0f} mg/L of calcium carbonate"
    if not water["ends"]:
        return line
    low, high = water["ends"]
    return (
        f"{line}, a guess between {low['hardness']:.0f} and {low['alkalinity']:.0f}, "
        f"and {high['hardness']:.0f} and {high['alkalinity']:.0f}"
    )


def _spent_lines(answer: dict[str, Any], temperature: float) -> list[str]:
    """Say what the reducer does to the pH, and what may come off."""
    spent = answer["reducer_spent"]
    lines = [
        "assumed above: the reducer is unspent but for what the indigo here took",
        f"as the reducer goes: pH {answer['pH_fresh']:.1f} fresh, {answer['pH_half']:.1f} half spent, "
        f"{answer['pH_spent']:.1f} spent; {answer['pH_low']:.1f} to {answer['pH_high']:.1f} with what may settle",
        f"once air has spent it: pH {spent['pH']:.2f} at {temperature:.0f} °C · {spent['pH_at_25C']:.2f} at 25 °C; "
        "spent reducer is acid",
    ]
    ppm = answer["sulphur_dioxide_ppm"]
    if ppm >= LEAST_SAID_PPM:
        lines.append(
            f"sulphur dioxide: up to {ppm:.2g} ppm could stand in still, closed air over it; "
            f"{SULFUR_DIOXIDE_DAY:.0f} is the limit for a day, {SULFUR_DIOXIDE_MINUTES:.0f} for a quarter of an hour, "
            f"{SULFUR_DIOXIDE_DANGER:.0f} is dangerous at once"
        )
    return lines


def _left_out(answer: dict[str, Any]) -> list[str]:
    return ["left out: " + "; ".join(answer["left_out"])]


def _dose_line(dose: dict[str, Any], adjuster: str, temperature: float) -> str:
    """Say how much goes in, and the pH after it."""
    if not dose["value"]:
        return f"{adjuster}: none; the pH is there already, or on the other side"
    amount = show_volume(dose["value"] / 1000) if dose["unit"] == "mL" else show_mass(dose["value"])
    after = f"pH {dose['pH']:.2f} at {temperature:.0f} °C · {dose['pH_at_25C']:.2f} at 25 °C"
    return f"with {amount} of {adjuster}: {after}"
