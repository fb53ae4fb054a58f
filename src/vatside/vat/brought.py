"""What reducer that is fed to a vat brings along: all of it turns to acid in the end, and takes its alkali with it."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.chemistry.alkalis import ALKALIS, LYE
from vatside.chemistry.buffer import RULES
from vatside.chemistry.indigo import naoh_equivalent
from vatside.chemistry.reducers import REDUCERS, as_usual, hydroxide_of
from vatside.chemistry.substances import substance
from vatside.plan.delicate import BUFFERS
from vatside.plan.measures import Powder, powder
from vatside.recipe.dose import Dose, named_amount
from vatside.recipe.vat_needs import Setting
from vatside.vat.correction import NO_WAIT, NOTHING, Correction, Vat
from vatside.vat.remedies import with_dose

WITH_IT = "-with-it"
"""Ends the name of a way that goes with the reducer before it."""


def holds_by_soda(plain: Setting) -> bool:
    """Tell a vat for wool, hair or silk, which soda ash and baking soda hold in its window."""
    return ALKALIS[plain.alkali].gentle and plain.group in RULES


def its_alkali(found: Correction, vat: Vat) -> Iterator[Correction]:
    """Give what goes into a vat of lye or soda with the reducer of a correction; nothing where none is fed.

    In a lye vat all the hydroxide that the reducer takes until it is spent [Reactions]; for wool and silk as much soda
    ash and baking soda as it was made with for each gram of reducer, so that it ends where it ended before [Buffered].
    """
    if found.does == NOTHING or not found.grams or not ALKALIS[vat.setting.alkali].gentle:
        return
    reducer = powder(vat.plan, found.material)
    pure = found.grams * reducer.purity
    if found.does != "add" or not _is_counted(reducer):
        return
    for what, grams in _amounts(reducer.material.species, pure, vat):
        yield _with_it(found, Dose(what, grams / what.purity), vat)


def _is_counted(reducer: Powder) -> bool:
    """Tell a reducer of which theory says what it takes."""
    return reducer.material.role == "reducer" and not REDUCERS[reducer.material.species].assumed


def _amounts(species: str, pure: float, vat: Vat) -> Iterator[tuple[Powder, float]]:
    """Give each powder with its pure grams."""
    if holds_by_soda(vat.setting):
        rule, counts = RULES[vat.setting.group], as_usual(species, pure)
        for key, share in zip(BUFFERS, (rule.soda_reducer, rule.baking_reducer), strict=True):
            yield powder(vat.plan, key), share * counts
        return
    alkali = powder(vat.plan, "alkali")
    lye = hydroxide_of(species, pure) * substance(LYE).molar_mass
    yield alkali, lye / naoh_equivalent(alkali.material.species)


def _with_it(found: Correction, dose: Dose, vat: Vat) -> Correction:
    plain = Correction(
        found.finding, f"{dose.powder.id}{WITH_IT}", "add",
        f"With it goes {named_amount(vat.plan, dose)}: spent reducer turns to acid", NO_WAIT, "",
        "Buffered" if holds_by_soda(vat.setting) else "Reactions",
    )  # fmt: skip
    return evolve(with_dose(plain, dose, vat), sample="")
