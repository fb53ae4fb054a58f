"""Steps of a dye day."""

from __future__ import annotations

import re

import pytest
from tests.plan.plans import plan_with, told, wool_plan

from vatside.catalogue.load import methods
from vatside.dayline.day_steps import steps
from vatside.dayline.steps import Step
from vatside.plan.paths import add_lot
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute


def day(plan: Plan) -> dict[str, Step]:
    """Give the steps of a plan by id."""
    return {step.id: step for step in steps(plan, compute(plan))}


@pytest.mark.parametrize("method", methods())
def test_every_blank_is_filled(method: str) -> None:
    """No template of any method leaves a blank or a dash where an amount belongs."""
    for step in day(plan_with(method=method)).values():
        assert not re.search(r"[{}–]", step.text), step.text


def test_step_ids_are_unique() -> None:
    """Two baths and several pot loads still give every step an id of its own."""
    plan = add_lot(plan_with(lots__a__mass="2 kg"), new_lot(wool_plan()))
    plan = told(plan, "lots.b.fibre", "cotton")
    ids = [step.id for step in steps(plan, compute(plan))]
    assert len(ids) == len(set(ids))


def test_stages_come_in_order() -> None:
    """Scour, then stock, then vat."""
    stages = [step.stage for step in day(wool_plan()).values()]
    assert stages == sorted(stages, key=list(Stage).index)


def test_lye_and_reducer_steps_must_be_acknowledged() -> None:
    """The steps that put lye or reducer in carry cautions that open them."""
    found = day(plan_with(lots__a__fibre="cotton"))
    for step_id in ("stock.alkali_in", "stock.reducer_in", "vat.alkali_in", "vat.reducer_in"):
        assert any(item.must_acknowledge for item in found[step_id].cautions)


def test_every_caution_defers() -> None:
    """Each caution ends with the safety sheet and local rules."""
    for step in day(wool_plan()).values():
        assert all("safety sheet" in item.lines[-1] for item in step.cautions)


def test_wool_is_stirred_every_12_min_and_turned_at_half_time() -> None:
    """Nudges of an hour's scour: stirs at 12, 24, 36, 48 and the turn at 30 min."""
    nudges = day(wool_plan())["scour.wool.hold"].nudges
    assert [(nudge.minute, nudge.label.split()[0]) for nudge in nudges] == [
        (12, "stir"), (24, "stir"), (30, "turn"), (36, "stir"), (48, "stir"),
    ]  # fmt: skip


def test_greasy_wool_has_two_baths() -> None:
    """Fill, dissolve, heat, hold and rinse come twice."""
    found = day(plan_with(lots__a__condition="greasy"))
    assert {"scour.wool-greasy.hold.1", "scour.wool-greasy.hold.2"} <= set(found)


def test_amounts_follow_a_pin() -> None:
    """Four teaspoons held stand in the step's words."""
    assert "4 tsp" in day(plan_with(stock__pigment="4 tsp"))["stock.paste"].text


def test_nothing_to_sharpen_with_is_no_step() -> None:
    """With no lye to sharpen held, nobody is told to dissolve 0 g of it."""
    assert "vat.alkali_in" in day(plan_with(lots__a__fibre="cotton"))
    assert "vat.alkali_in" not in day(plan_with(lots__a__fibre="cotton", vat__alkali="0 g"))


def test_wool_is_sharpened_with_soda_instead_of_lye() -> None:
    """A vat for wool has a step for each soda, that of soda ash with its caution, and none for lye."""
    found = day(wool_plan())
    assert "vat.alkali_in" not in found
    assert "soda ash" in found["vat.soda_in"].text
    assert "baking soda" in found["vat.buffer_in"].text
    assert any(item.id == "soda" for item in found["vat.soda_in"].cautions)


@pytest.mark.parametrize(("figure", "step"), [("soda__ash", "vat.soda_in"), ("baking__soda", "vat.buffer_in")])
def test_a_soda_of_which_nothing_goes_in_is_no_step(figure: str, step: str) -> None:
    """One of the two may be nothing: the other still has its step, and nobody is told to stir in 0 g."""
    found = day(told(wool_plan(), f"vat.{figure.replace('__', '-')}", "0 g"))
    assert step not in found
    assert len({"vat.soda_in", "vat.buffer_in"} & set(found)) == 1
