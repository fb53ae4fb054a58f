"""Filling the step templates of the catalogue with the amounts of a sheet."""

from __future__ import annotations

import re

from vatside.recipe.plan import Plan
from vatside.recipe.sheet import Figure, Sheet
from vatside.recipe.show import figure_text

COUNTED = {
    "jars": ("jar", "jars"),
    "rinses": ("time", "times"),
    "steps_down": ("step", "steps"),
}
"""Figures that are counted, by the last part of their id."""

_BLANK = re.compile(r"\{([a-z_.0-9-]+)\}")


def amount_words(figure: Figure, plan: Plan) -> str:
    """Print a figure inside a sentence: `6.5 g (2 7/8 tsp)`, `2 jars`, `60 °C`."""
    counted = COUNTED.get(figure.id.rpartition(".")[2])
    if counted:
        number = round(figure.value)
        return f"{number} {counted[number != 1]}"
    text = figure_text(figure, plan)
    return f"{text.main} ({text.second})" if text.second else text.main


def fill(template: str, sheet: Sheet, plan: Plan, **words: str) -> str:
    """Fill `{figure.id}` and `{word}` blanks; a figure the sheet does not have leaves a dash."""

    def blank(found: re.Match[str]) -> str:
        name = found[1]
        if name in words:
            return words[name]
        try:
            return amount_words(sheet[name], plan)
        except KeyError:
            return "–"

    return _BLANK.sub(blank, template)
