"""Filling the step templates of the catalogue with the amounts of a sheet."""

from __future__ import annotations

import re

from vatside.plan.figure_text import figure_text, plain
from vatside.plan.plan import Form, Plan
from vatside.plan.sheet import Figure, Sheet
from vatside.units import show_count

COUNTED = {
    "jars": ("jar", "jars"),
    "rinses": ("time", "times"),
    "last_rinses": ("time", "times"),
    "steps_down": ("bath", "baths"),
}
"""Figures that are counted, by the last part of their id."""

NOTHING_L = 0.0005
"""A draw that would be printed as no water at all, L."""

_BLANK = re.compile(r"\{([A-Za-z_.0-9-]+)\}")


def amount_words(figure: Figure, plan: Plan) -> str:
    """Print a figure inside a sentence: `6.5 g (2 7/8 tsp)`, `2 jars`, `60 °C`."""
    counted = COUNTED.get(figure.id.rpartition(".")[2])
    if counted:
        return show_count(round(figure.value), *counted)
    text = figure_text(figure, plan)
    return f"{text.main} ({text.second})" if text.second else text.main


def draw_words(prefix: str, sheet: Sheet, plan: Plan) -> str:
    """Say how water is drawn: `3.2 L hot and 4.3 L cold`, `7.5 L hot, then 12 min on the hob`."""
    taps = [(sheet[f"{prefix}{tap}"], tap) for tap in ("hot", "cold")]
    parts = [f"{amount_words(figure, plan)} {tap}" for figure, tap in taps if figure.value > NOTHING_L]
    drawn = " and ".join(parts) or "none"
    if not has(sheet, f"{prefix}kettle"):
        return drawn
    minutes = max(round(sheet.value(f"{prefix}kettle")), 1)
    return f"{drawn}, then {plain(minutes, 'min')} on the hob"


def ties(plan: Plan) -> str:
    """Say what to look for in skeins; empty where there are none."""
    skeins = any(lot.form is Form.SKEINS for lot in plan.lots)
    return "; ties of skeins loose, each one checked" if skeins else ""


def has(sheet: Sheet, figure_id: str) -> bool:
    """Tell whether a sheet holds a figure."""
    return figure_id in sheet


def fill(template: str, sheet: Sheet, plan: Plan, **words: str) -> str:
    """Fill `{figure.id}`, `{PREFIXdraw}` and `{word}` blanks; a figure the sheet does not have leaves a dash."""

    def blank(found: re.Match[str]) -> str:
        name = found[1]
        if name in words:
            return words[name]
        try:
            if name.endswith("draw"):
                return draw_words(name.removesuffix("draw"), sheet, plan)
            return amount_words(sheet[name], plan)
        except KeyError:
            return "–"

    return _BLANK.sub(blank, template)
