"""The sour bath: as much acid as her tap water takes, and the pH that it then has.

The bicarbonate of the tap takes nearly all the acid; what rinsed fibre carries in is next to nothing. Lime in the
fibre takes more than any table tells: there the paper decides.
"""

from __future__ import annotations

from functools import lru_cache

from attrs import evolve

from vatside.chemistry.adjust import Acid, acid_for_pH
from vatside.chemistry.bath import Bath, add_vinegar
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.liquor import open_to_air, solve
from vatside.chemistry.substances import VINEGAR_STRENGTH
from vatside.chemistry.tap import TapWater, tap_bath
from vatside.plan.batches import Batch
from vatside.plan.measures import celsius, powder, tap_of
from vatside.plan.sheet import Input
from vatside.recipe.worksheet import Worksheet

CARRIED = 2e-5
"""Alkali that fibre rinsed twice carries into a litre of sour bath, mol at most [SourBath]."""
STEP_ML = 1e-3
"""Vinegar a litre is told apart to so much, mL, so that a bath is solved once."""


def work_out(sheet: Worksheet, batch: Batch) -> None:
    """Put vinegar, citric acid and the pH that they give on the worksheet."""
    target = batch.finish.sour_pH.value
    _vinegar(sheet, batch, target)
    _citric(sheet, batch, target)
    _pH(sheet, batch)


def _vinegar(sheet: Worksheet, batch: Batch, target: float) -> None:
    vinegar, water = powder(sheet.plan, "vinegar"), batch.id("water")
    a_litre = _dose(sheet, target, "vinegar")
    sheet.put(
        batch.id("vinegar"), "Vinegar to sour",
        sheet[water] * a_litre / 1000 * VINEGAR_STRENGTH / max(vinegar.purity, 0.001), "L",
        sheet.worked("water × what a litre of your water takes to that pH × 5 % ÷ its strength", water,
                     *_inputs(sheet, target), Input("a litre of bath, mL of 5 %", a_litre, ""),
                     Input("its strength", 100 * vinegar.purity, "%"), source="SourBath"),
        pinnable=True,
    )  # fmt: skip


def _citric(sheet: Worksheet, batch: Batch, target: float) -> None:
    citric, water = powder(sheet.plan, "citric-acid"), batch.id("water")
    a_litre = _dose(sheet, target, "citric acid")
    sheet.put(
        batch.id("citric"), "or citric acid", sheet[water] * a_litre / citric.purity, "g",
        sheet.worked("water × what a litre of your water takes to that pH ÷ purity", water,
                     *_inputs(sheet, target), Input("a litre of bath", a_litre, "g/L"),
                     Input("purity", 100 * citric.purity, "%"), source="SourBath"),
        powder=citric, pinnable=True,
    )  # fmt: skip


def _inputs(sheet: Worksheet, target: float) -> tuple[Input, ...]:
    likely = tap_of(sheet.plan).likely
    return (Input("pH", target, ""), Input("alkalinity, mg/L CaCO₃", likely.alkalinity_mg, ""),
            Input("hardness, mg/L CaCO₃", likely.hardness_mg, ""))  # fmt: skip


def _pH(sheet: Worksheet, batch: Batch) -> None:
    """The pH of the vinegar's bath, and between which ends it may be: her water, and carbonic acid that goes off."""
    water, room = sheet[batch.id("water")], celsius(sheet.plan.water.room)
    strong = powder(sheet.plan, "vinegar").purity / VINEGAR_STRENGTH
    a_litre = 1000 * strong * sheet[batch.id("vinegar")] / water if water else 0.0
    waters = tap_of(sheet.plan).waters
    try:
        pairs = [_ends(tap_water, room, STEP_ML * round(a_litre / STEP_ML)) for tap_water in waters]
    except OutOfRange:
        return
    ends = [pH for pair in pairs for pH in pair]
    sheet.put(
        batch.id("sour_pH"), "Sour at pH", pairs[0][0], "",
        sheet.worked("charge balance of tap water and vinegar; from when it is mixed to when its carbonic acid has "
                     "gone into the air, over the waters that yours may be; lime in the fibre raises it",
                     batch.id("vinegar"), batch.id("water"), Input("at", room, "degC"), source="IAPWS-R11"),
        between=(min(ends), max(ends)), rough=True,
    )  # fmt: skip


def _dose(sheet: Worksheet, target: float, acid: Acid) -> float:
    return a_litre_takes(tap_of(sheet.plan).likely, celsius(sheet.plan.water.room), target, acid)


@lru_cache(maxsize=64)
def a_litre_takes(water: TapWater, t_C: float, target_pH: float, acid: Acid) -> float:
    """Give the vinegar (mL of 5 %) or citric acid (g, pure) that brings a litre of sour bath to a pH.

    Carbonic acid still in it; 0 to 60 degrees C, pH 4 to 7. Raises as `acid_for_pH`. [SourBath]
    """
    return acid_for_pH(_litre(water, t_C), target_pH, acid)


@lru_cache(maxsize=64)
def _ends(water: TapWater, t_C: float, vinegar_ml: float) -> tuple[float, float]:
    """Give the pH of a litre with so much vinegar: as mixed, and open to the air for long."""
    sour = add_vinegar(_litre(water, t_C), vinegar_ml)
    return solve(sour).pH, solve(open_to_air(sour)).pH


def _litre(water: TapWater, t_C: float) -> Bath:
    bath = tap_bath(1, t_C, water)
    return evolve(bath, sodium=bath.sodium + CARRIED)
