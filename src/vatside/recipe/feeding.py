"""Feeding a vat that is kept: the reducer a week, and the alkali that goes in with it."""

from __future__ import annotations

from vatside.catalogue.dyeing import ending
from vatside.chemistry.alkalis import LYE, naoh_equivalent
from vatside.chemistry.reducers import REDUCERS, hydroxide_of
from vatside.chemistry.substances import substance
from vatside.plan.delicate import BUFFERS, is_buffered
from vatside.plan.measures import Powder, method_of, powder
from vatside.plan.sheet import Input
from vatside.recipe.worksheet import Worksheet


def work_out(sheet: Worksheet) -> None:
    """Put on the worksheet how long the vat is kept, and what it is fed with each week."""
    _keeps(sheet)
    reducer = powder(sheet.plan, "reducer")
    feed = reducer.material.feed
    if feed is None:
        return
    grams = sheet.put(
        "finish.feed", f"{reducer.material.short} a week", feed.value * sheet["vat.liquor"] / reducer.purity, "g",
        sheet.worked("liquor × amount a litre ÷ purity", "vat.liquor", Input("a litre", feed.value, "g/L"),
                     Input("purity", 100 * reducer.purity, "%"), source=feed.source),
        powder=reducer, pinnable=True,
    )  # fmt: skip
    if is_buffered(sheet.plan):
        _soda(sheet, reducer, grams * reducer.purity)
    else:
        _alkali(sheet, reducer, grams * reducer.purity)


def _keeps(sheet: Worksheet) -> None:
    rules, days = ending(), method_of(sheet.plan).keeps_days
    worth = sheet["dip.left_strength"] >= rules.worth_keeping.value
    sheet.put(
        "finish.keep", "Keep the vat for", 1440.0 * days if worth else 0.0, "min",
        sheet.worked("as long as its kind keeps, if enough indigo is left; 0 lets it go",
                     "dip.left_strength", Input("enough", rules.worth_keeping.value, "g/L"),
                     Input("days it keeps", days, ""), source=rules.worth_keeping.source),
        pinnable=True,
    )  # fmt: skip


def _alkali(sheet: Worksheet, reducer: Powder, pure_g: float) -> None:
    """As much as the reducer takes until it is spent."""
    alkali = powder(sheet.plan, "alkali")
    lye = hydroxide_of(reducer.material.species, pure_g) * substance(LYE).molar_mass
    sheet.put(
        "finish.feed.alkali", f"{alkali.material.short} with it",
        lye / naoh_equivalent(alkali.material.species) / alkali.purity, "g",
        sheet.worked("what the reducer takes until it is spent ÷ purity", "finish.feed",
                     Input("purity", 100 * alkali.purity, "%"), source="Reactions"),
        powder=alkali,
    )  # fmt: skip


def _soda(sheet: Worksheet, reducer: Powder, pure_g: float) -> None:
    """Soda that holds the vat where it stands."""
    for name, a_gram in zip(BUFFERS, _with_a_gram(reducer.material.species), strict=True):
        what = powder(sheet.plan, name)
        sheet.put(
            f"finish.feed.{name}", f"{what.material.short} with it", a_gram * pure_g / what.purity, "g",
            sheet.worked("amount a gram of the reducer ÷ purity", "finish.feed", Input("a gram", a_gram, "g/g"),
                         Input("purity", 100 * what.purity, "%"), source="Buffered"),
            powder=what,
        )  # fmt: skip


def _with_a_gram(species: str) -> tuple[float, float]:
    """Give the soda ash and the baking soda for a gram of a reducer."""
    given = REDUCERS[species].in_soda
    return (given.soda_ash, given.baking_soda) if given else (0.0, 0.0)
