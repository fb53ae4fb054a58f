"""Figures as words: grams and spoons, marks, and the working on demand."""

from __future__ import annotations

from attrs import evolve, frozen

from vatside.catalogue.load import materials, sources
from vatside.plan.measures import BY_VOLUME
from vatside.plan.plan import Measure, Plan
from vatside.plan.sheet import Figure
from vatside.units import Spoonful, printed_grams, show_amount, show_mass, show_value, show_volume, spoonfuls

ROUNDING_WORTH_SAYING = 0.05
"""Rounding to an eighth of a spoon is said from here on."""


@frozen
class FigureText:
    """A figure ready for the screen."""

    main: str
    """The amount in what the dyer measures with."""
    second: str
    """The same the other way; empty where there is only one way."""
    marks: tuple[str, ...]
    """`set 4 tsp`, `3 to 8`, `±30 %`, `least 1.5 g`, `rounded -8 %`."""


def plain(value: float, unit: str) -> str:
    """Print a value of one of the sheet's units; what a jug measures to 10 mL."""
    if unit == "K":
        return f"{value:.1f} °C"
    jug = unit == "L" and 0.0995 <= value < 1
    return show_value(round(value, 2) if jug else value, unit)


SPOON_STEPS = (0.0, 1 / 8, 1 / 2, 1.0)
"""What is added before rounding to spoons, in level teaspoons, so that it comes to no less; see `spoonfuls`."""
NEARLY_ENOUGH = 0.02
"""A spoon that lacks less of a minimum than this share has it: half an eighth of the smallest that matters. Ours."""


def figure_text(figure: Figure, plan: Plan) -> FigureText:
    """Print a figure in the way the plan measures, with its marks."""
    rounded = as_told(figure)
    mass = f"{figure.value:.1f}" if _is_acidity(figure) else plain(rounded, figure.unit)
    mass = mass if figure.fewest is None else f"{plain(figure.fewest, figure.unit)} to {mass}"
    if figure.pin is not None and figure.unit == "min" and not figure.value:
        mass = show_amount(figure.pin)  # no time at all is as much in days as in minutes: as she set it
    if figure.teaspoons is None:
        return FigureText(mass, "", tuple(_marks(figure)))
    spoon = _spoon(figure, rounded, figure.teaspoons / figure.value if figure.value else 0.0, plan)
    by_spoon = plan.measure is Measure.SPOONS
    main, second = (spoon.text, mass) if by_spoon else (mass, spoon.text)
    marks = _marks(figure)
    if figure.spread and (by_spoon or figure.pin is not None):
        marks.append(f"±{100 * figure.spread:.0f} %")
    if by_spoon and spoon.teaspoons and abs(spoon.error) > ROUNDING_WORTH_SAYING:
        marks.append(f"rounded {100 * spoon.error:+.0f} %")
    return FigureText(main, second, tuple(marks))


def _spoon(figure: Figure, rounded: float, a_gram: float, plan: Plan) -> Spoonful:
    """Round to spoons that hold no less than the minimum; `a_gram` is the level teaspoons of a gram."""
    nearest = in_spoons(rounded, rounded * a_gram, plan)
    enough = min(figure.minimum or 0.0, figure.value) * a_gram * (1 - NEARLY_ENOUGH)
    if not nearest.teaspoons or nearest.teaspoons >= enough:
        return nearest
    wanted = rounded * a_gram
    more = next(
        spoonful for step in SPOON_STEPS if (spoonful := spoonfuls(wanted + step, plan.spoons)).teaspoons >= enough
    )
    return evolve(more, error=more.teaspoons / wanted - 1)


def in_spoons(grams: float, teaspoons: float, plan: Plan) -> Spoonful:
    """Round the level teaspoons of an amount (g), counted from its grams as printed: one amount has one spoon."""
    return spoonfuls(teaspoons * printed_grams(grams) / grams if grams else 0.0, plan.spoons)


def _is_acidity(figure: Figure) -> bool:
    """A pH always shows its tenth, as it does in sentences."""
    return figure.id.rpartition(".")[2] in ("pH", "pH_25", "pH_awake", "pH_spent")


def as_told(figure: Figure) -> float:
    """Round a guess to two digits, and a part of a sum so that the parts add up to it."""
    if figure.parts is not None:
        hot, cold = told_parts(*figure.parts)
        return hot if figure.id.endswith("hot") else cold
    return float(f"{figure.value:.2g}") if figure.rough else figure.value


def show_weighed(material: str, grams: float) -> str:
    """Write grams as the material is measured out: by weight, or by volume."""
    if material in BY_VOLUME:
        return show_volume(grams / 1000 / materials()[material].bulk.value)
    return show_mass(grams)


def told_parts(whole_l: float, one_l: float, other_l: float) -> tuple[float, float]:
    """Divide a volume (L), as it is printed, into two parts that are printed to the same place and add up to it."""
    places = next((places for below, places in _PLACES if whole_l < below), 0)
    whole, both = round(whole_l, places), one_l + other_l
    one = round(whole * one_l / both, places) if both else 0.0
    return one, round(whole - one, places)


_PLACES = ((0.00995, 4), (0.0995, 3), (2.995, 2), (99.95, 1))
"""Decimals to which `plain` prints litres below so many."""


def _end(figure: Figure, value: float) -> str:
    """Print one end of a range: as a pH, or rounded as a guess is, in the unit of the figure."""
    if _is_acidity(figure):
        return f"{value:.1f}"
    return plain(float(f"{value:.2g}"), figure.unit)


def _marks(figure: Figure) -> list[str]:
    marks = [f"set {show_amount(figure.pin)}"] if figure.pin is not None else []
    if figure.between and figure.between != (figure.fewest, figure.value):  # the value says that range itself
        low, high = (_end(figure, end) for end in figure.between)
        marks += [f"{low} to {high}"] if low != high else []
    if figure.minimum:
        marks.append(f"least {plain(figure.minimum, figure.unit)}")
    return marks


def working_lines(figure: Figure, plan: Plan) -> tuple[str, ...]:
    """Say how a figure came about: formula, inputs, result, source."""
    text = figure_text(figure, plan)
    lines = [f"{figure.label} = {figure.working.formula}"]
    lines += [f"  {item.label}: {plain(item.value, item.unit)}" for item in figure.working.inputs]
    lines.append(f"  worked out: {plain(figure.worked, figure.unit)}")
    if figure.pin is not None:
        same = f" = {plain(figure.value, figure.unit)}" if figure.unit else ""
        lines.append(f"  set by you: {show_amount(figure.pin)}{same}")
    if text.second:
        lines.append(f"  that is {text.main} or {text.second}")
    if figure.spread:
        lines.append(f"  a level spoon of it is sure to ±{100 * figure.spread:.0f} %")
    if figure.minimum:
        lines.append(f"  the reaction alone takes {plain(figure.minimum, figure.unit)}")
    lines.append(f"Source: {source_text(figure.working.source)}")
    return tuple(lines)


def source_text(key: str) -> str:
    """Give the citation behind a source key of the catalogue or of the chemistry; several are joined with ` + `."""
    if " + " in key:
        return "; ".join(source_text(part) for part in key.split(" + "))
    if key in sources():
        return sources()[key].text
    from vatside.chemistry.sources import SOURCES

    if key in SOURCES:
        return SOURCES[key].text
    return key


def two_digits(value: float) -> float:
    """Round to two digits: more would promise what an estimate does not hold."""
    return float(f"{value:.2g}")
