"""What reducer that is fed to a vat brings along: all of it turns to acid in the end, and takes its alkali with it."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.chemistry.buffer import AS_THIOUREA_DIOXIDE, RULES
from vatside.chemistry.indigo import naoh_equivalent
from vatside.chemistry.reducers import hydroxide_of
from vatside.chemistry.substances import substance
from vatside.plan.measures import Powder, powder
from vatside.recipe.baths import BUFFERS
from vatside.recipe.dose import Dose, named_amount
from vatside.recipe.vat_needs import Setting
from vatside.vat.correction import NO_WAIT, NOTHING, Correction, Vat
from vatside.vat.remedies import with_dose

LYE = "sodium hydroxide"
AS_REDUCER = {"thiourea dioxide": 1.0, "sodium dithionite": AS_THIOUREA_DIOXIDE}
"""Grams of thiourea dioxide that a gram counts for."""
WITH_IT = "-with-it"
"""Ends the name of a way that goes with the reducer before it."""


def holds_by_soda(plain: Setting) -> bool:
    """Tell a vat of lye for wool, hair or silk, which soda ash and baking soda hold in its window."""
    return plain.alkali == LYE and plain.group in RULES


def its_alkali(found: Correction, vat: Vat) -> Iterator[Correction]:
    """Give what goes into a vat of lye with the reducer of a correction; nothing where none is fed.

    In a lye vat all the hydroxide that the reducer takes until it is spent [Reactions]; for wool and silk as much soda
    ash and baking soda as it was made with for each gram of reducer, so that it ends where it ended before [Buffered].
    """
    if found.does == NOTHING or not found.grams or vat.setting.alkali != LYE:
        return
    reducer = powder(vat.plan, found.material)
    pure = found.grams * reducer.purity
    if reducer.material.role != "reducer" or reducer.material.species not in AS_REDUCER or found.does != "add":
        return
    for what, grams in _amounts(reducer.material.species, pure, vat):
        yield _with_it(found, Dose(what, grams / what.purity), vat)


def _amounts(species: str, pure: float, vat: Vat) -> Iterator[tuple[Powder, float]]:
    """Give each powder with its pure grams."""
    if holds_by_soda(vat.setting):
        rule, counts = RULES[vat.setting.group], AS_REDUCER[species] * pure
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
