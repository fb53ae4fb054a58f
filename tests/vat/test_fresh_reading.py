"""What a perfect reading of a fresh vat says, and one of a vat that has cooled."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import plan_with
from tests.vat.vats import setting_of, vat_with

from vatside.catalogue.load import methods
from vatside.catalogue.looks import Clarity, Cloth, Colour, Smell, Strip, Surface
from vatside.recipe.compute import compute
from vatside.recipe.vat_needs import Setting, at_warmth, lime_pH
from vatside.units import Amount
from vatside.vat.corrections import corrections
from vatside.vat.diagnosis import judge
from vatside.vat.reading import PHBy, Reading

LIMED = {"tdo-lime": 45, "fructose-lime": 45, "zinc-lime": 20, "copperas-lime": 20}
"""Kinds of vat with lime, and how warm they are planned, degrees C."""
BATES = {15: 12.81, 20: 12.63, 25: 12.45, 30: 12.29, 35: 12.13, 40: 11.98, 45: 11.84}
"""The pH of saturated calcium hydroxide [Bates, Bower & Smith 1956]."""


def perfect(plain: Setting) -> Reading:
    """A reading of a vat that lacks nothing."""
    return Reading(
        temperature=Amount(plain.aim, "degC"), pH=plain.window.target, pH_by=PHBy.METER, colour=Colour.YELLOW_GREEN,
        clarity=Clarity.CLEAR, surface=Surface.COPPERY, strip=Strip.GREEN_YELLOW, seconds=55, smell=Smell.USUAL,
    )  # fmt: skip


@pytest.mark.parametrize("method", methods())
def test_a_perfect_reading_is_good_and_nothing_else(method: str) -> None:
    """Every sign good and none against: it is ready to dye, and no other state is named before."""
    plain = setting_of(plan_with(method=method, lots__a__fibre="linen"))
    found = judge(perfect(plain), plain)
    assert found[0].id == "good"
    assert [item.id for item in found if item.is_out] == []
    assert "used-up" not in {item.id for item in found}


def test_pale_cloth_from_a_poor_vat_is_used_up() -> None:
    """Two dips that stay pale, all else right, a third of the dye left by the account."""
    plain = setting_of(plan_with(lots__a__fibre="linen"))
    pale = evolve(perfect(plain), cloth=(Cloth.PALE,), strip=Strip.PALE)
    found = {item.id: item for item in judge(pale, evolve(plain, holds=33))}
    assert found["used-up"].is_out


def test_never_against_a_full_account() -> None:
    """Pale cloth from a vat that holds all its dye: not used up, at most not ruled out."""
    plain = setting_of(plan_with(lots__a__fibre="linen"))
    pale = evolve(perfect(plain), cloth=(Cloth.PALE,))
    found = [item for item in judge(pale, evolve(plain, holds=100)) if item.id == "used-up"]
    assert not any(item.is_out for item in found)
    assert all("100 % of its dye by the account" in " ".join(item.speaks_against) for item in found)


@pytest.mark.parametrize("method", LIMED)
@pytest.mark.parametrize("t_C", BATES)
def test_what_lime_holds_is_never_too_alkaline(method: str, t_C: int) -> None:
    """Saturated lime has its pH of the table at the warmth that was read, whatever warmth was planned."""
    plain = setting_of(plan_with(method=method, lots__a__fibre="cotton"))
    reading = Reading(temperature=Amount(t_C, "degC"), pH=BATES[t_C], pH_by=PHBy.METER)
    assert "too-alkaline" not in {item.id for item in judge(reading, plain)}
    assert lime_pH(t_C) == pytest.approx(BATES[t_C], abs=0.05)


def test_above_what_lime_holds_is_too_alkaline_still() -> None:
    """Half a pH above saturated lime is no lime."""
    plain = setting_of(plan_with(method="tdo-lime", lots__a__fibre="cotton"))
    reading = Reading(temperature=Amount(35, "degC"), pH=12.8, pH_by=PHBy.METER)
    assert "too-alkaline" in {item.id for item in judge(reading, plain) if item.is_out}


@pytest.mark.parametrize("method", LIMED)
def test_no_thinning_over_lime(method: str) -> None:
    """With lime at the bottom neither water nor acid is advised: it dissolves and holds the vat there."""
    vat = vat_with(
        Reading(temperature=Amount(20, "degC"), pH=13.4, pH_by=PHBy.METER), method=method, lots__a__fibre="cotton"
    )
    found = next(item for item in judge(vat.reading, vat.setting) if item.id == "too-alkaline")
    ways = corrections(found, evolve(vat, confirmed=True))
    assert [way.remedy for way in ways] == ["lime-holds"]


def test_a_lye_vat_is_held_to_its_window_at_any_warmth() -> None:
    """Nothing holds lye: its window stays where the fibre has it."""
    plain = setting_of(plan_with(lots__a__fibre="cotton"))
    assert at_warmth(plain, 20) is plain


@pytest.mark.parametrize("method", LIMED)
def test_plan_and_vat_name_one_window(method: str) -> None:
    """The upper end on the plan is that of the vat's own screen."""
    plan = plan_with(method=method, lots__a__fibre="cotton")
    sheet = compute(plan)
    assert sheet.value("vat.window_high") == setting_of(plan).window.high
