"""Whole plans from nothing against the trade's own bands, in `plan_cases.csv`.

Columns: id, description, lots, brims of the tubs owned, headspace, way of dosing, purity of the powder, and bands for
litres, grams of powder, strength, dips of every piece, hours of dips without warming the vat again, and indigotin that
is kept. The last columns name what a band was set by: common practice where they name no author; Knecht, Rawson &
Loewenthal 1920 and Mairet 1916 (strengths of wool vats), Packer (strength of a dark vat), and Şahin et al. 2004 (the
strengths of industry). Depths and pieces are as the lots say; the fibre comes ready scoured.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from attrs import evolve

from vatside.plan.plan import Condition, Dosing, Form, Lot, Plan, ShelfEntry
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.recipe.sizing import size_of
from vatside.units import Amount

CASES = {row["id"]: row for row in csv.DictReader((Path(__file__).parent / "plan_cases.csv").open(encoding="utf-8"))}
ONE = re.compile(r"(\w+) (\d+)(?: g)? ?/ ?(\d+)(?: @ ([\d.]+) %)?$")
MANY = re.compile(r"(\d+) lots: (.*)$")
ALL = re.compile(r", all @ ([\d.]+) %$")


def lots_of(text: str) -> Iterator[Lot]:
    """Read `wool 227 g / 2 @ 0.8 %`, several of them, or so many lots of one."""
    many, common = MANY.match(text), ALL.search(text)
    parts = [many[2]] * int(many[1]) if many else (text[: common.start()] if common else text).split(", ")
    for letter, part in zip("abcdefghij", parts, strict=False):
        found = ONE.match(part)
        assert found, part
        depth = found[4] or (common[1] if common else "")
        yield Lot(
            letter, f"Lot {letter}", found[1], Amount(float(found[2]), "g"), int(found[3]), Form.SKEINS,
            Condition.READY, Amount(float(depth), "%"),
        )  # fmt: skip


def plan_of(row: dict[str, str]) -> Plan:
    """Give the plan that a case describes."""
    plan = starter_plan()
    first, *others = (Amount(float(brim), "L") for brim in row["tubs_L_brim"].split())
    tub = evolve(plan.vessels.tub, volume=first, headspace=Amount(float(row["headspace_pct"]), "%"))
    return evolve(
        plan,
        lots=tuple(lots_of(row["lots"])),
        dosing={"spent": Dosing.SPENT, "working": Dosing.WORKING}[row["dosing"]],
        vessels=evolve(plan.vessels, tub=tub, others=tuple(others)),
        shelf=(ShelfEntry("indigo", Amount(float(row["purity_pct"]), "%"), None),),
    )


@pytest.mark.parametrize("case", CASES)
def test_plan_lies_in_its_bands(case: str) -> None:
    """Litres, powder, strength, dips of every piece, hours and what is kept; every piece within 5 % of its depth."""
    row, plan = CASES[case], plan_of(CASES[case])
    sheet, size = compute(plan), size_of(plan)
    dips = [float(end.dips) for end in size.run.ends]
    found: dict[str, list[float]] = {
        "litres": [sheet["vat.fill"].value],
        "powder_g": [sheet["stock.pigment"].value],
        "strength_gL": [sheet["vat.strength"].value],
        "dips": dips,
        "dip_hours": [size.run.minutes / 60],
        "kept_indigotin_g": [sheet["dip.kept"].value],
    }
    for name, values in found.items():
        low, high = float(row[f"{name}_low"]), float(row[f"{name}_high"])
        assert all(low <= value <= high for value in values), (name, values, low, high)
    assert min(end.on / end.piece.wants for end in size.run.ends) >= 0.95


@pytest.mark.parametrize("case", CASES)
def test_the_sheet_shows_the_dips_that_size_the_vat(case: str) -> None:
    """What the vat was sized by and what the sheet says of each lot are the same dips."""
    plan = plan_of(CASES[case])
    sheet, size = compute(plan), size_of(plan)
    for lot in plan.lots:
        most = max(end.dips for end in size.run.ends if end.piece.id.startswith(f"{lot.id}."))
        assert sheet[f"dip.{lot.id}.dips"].value == most
    assert sheet["dip.minutes"].value >= size.run.minutes - 1e-6


@pytest.mark.parametrize("case", CASES)
def test_indigotin_of_the_powder_is_on_the_fibre_rinsed_or_kept(case: str) -> None:
    """To nine digits."""
    sheet = compute(plan_of(CASES[case]))
    out = sum(sheet[name].value for name in ("dip.on_fibre", "dip.rinsed", "dip.kept"))
    assert out == pytest.approx(sheet["stock.indigotin"].value, rel=1e-9)


def test_half_a_pound_of_wool_is_not_put_into_a_large_tub() -> None:
    """Of tubs of 5, 10 and 24 L the smallest does it; the 24 L one is not taken, and nor is the 10 L one."""
    assert compute(plan_of(CASES["wool-half-pound"]))["vat.tub"].value == 5


def test_the_tub_that_is_taken_holds_what_is_filled_in() -> None:
    """Up to its headspace."""
    for row in CASES.values():
        sheet = compute(plan_of(row))
        assert sheet["vat.fill"].value <= 0.85 * sheet["vat.tub"].value + 1e-9


def test_a_working_vat_loses_half_its_strength_at_most() -> None:
    """So that the last lot is dyed as the first: at least half of the strength is left, to a twentieth."""
    for case in ("linen-full", "mixed-day", "wool-strong-vat"):
        sheet = compute(plan_of(CASES[case]))
        assert sheet["dip.left_strength"].value >= 0.475 * sheet["vat.strength"].value


def test_a_vat_for_its_fibre_ends_with_most_of_its_dye_on_it() -> None:
    """Common practice: 60 to 80 % of what was weighed in reaches the fibre of a vat that is spent at the end."""
    for case in ("wool-half-pound", "class-ten-spent", "cotton-dark"):
        sheet = compute(plan_of(CASES[case]))
        assert 0.6 <= sheet["dip.on_fibre"].value / sheet["stock.indigotin"].value <= 0.8
