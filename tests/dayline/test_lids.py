"""Where gas comes off, nothing is shut tightly: jars, vat and sludge."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_with

from vatside.catalogue.load import materials, methods
from vatside.chemistry.reducers import REDUCERS
from vatside.dayline.day_steps import steps
from vatside.recipe.compute import compute

BREATHE = [key for key, item in methods().items() if REDUCERS[materials()[item.reducer].species].breathes]


def texts(method: str, **hand: str) -> dict[str, str]:
    """Give the sentence of each step."""
    plan = plan_with(method=method, lots__a__fibre="linen", **hand)
    return {step.id: step.text for step in steps(plan, compute(plan))}


def test_zinc_and_bran_breathe() -> None:
    """Hydrogen comes off the one, the gas of fermentation off the other."""
    assert set(BREATHE) == {"zinc-lime", "fermentation"}


@pytest.mark.parametrize("method", BREATHE)
def test_a_kept_vat_that_breathes_has_a_loose_lid(method: str) -> None:
    """The lid is laid on, never tight."""
    assert "never tight" in texts(method, finish__keep="7 days")["finish.keep_fill"]


def test_a_jar_of_zinc_stock_is_never_screwed_tight() -> None:
    """What is left of the stock stands under a loose lid, and so does the jar while it rests."""
    said = texts("zinc-lime", vat__stock="0.1 L")
    assert "never screwed tight" in said["finish.jar"]
    assert "close them" not in said["finish.jar"]
    assert "never tight" in said["stock.hold_warm"]


def test_zinc_sludge_stands_open_and_out_of_doors() -> None:
    """Bagged wet it would give off hydrogen in the bag."""
    assert "out of doors" in texts("zinc-lime", finish__keep="0 days")["finish.sludge"]
    assert "out of doors" not in texts("copperas-lime", finish__keep="0 days")["finish.sludge"]


@pytest.mark.parametrize("method", [key for key in methods() if key not in BREATHE])
def test_the_others_are_closed(method: str) -> None:
    """Air is kept out of them."""
    assert "lid on" in texts(method, finish__keep="7 days")["finish.keep_fill"]


def test_every_powder_of_zinc_has_its_cautions() -> None:
    """Dust, fire, hydrogen and the waste office are said before zinc goes in, and have to be read."""
    plan = plan_with(method="zinc-lime", lots__a__fibre="linen")
    step = next(item for item in steps(plan, compute(plan)) if item.id == "stock.reducer_in")
    (caution,) = [item for item in step.cautions if item.id == "zinc"]
    assert caution.must_acknowledge
    said = " ".join(caution.lines)
    assert all(word in said for word in ("Dust mask", "dry sand", "Hydrogen", "waste office"))


@pytest.mark.parametrize("method", ["zinc-lime", "copperas-lime"])
def test_no_step_warms_a_vat_that_breathes_over_a_hob(method: str) -> None:
    """In a cold room both come out of their rest too cool; beside hydrogen there is no flame."""
    said = texts(method, water__room="2 C", vat__temperature="20 C")["vat.rest_covered"]
    assert "warm it to 20 °C" in said
    assert ("on the hob" in said) is (method == "copperas-lime")
    assert ("no hob or flame near" in said) is (method == "zinc-lime")


@pytest.mark.parametrize(("stuff", "said"), [("stainless steel", "of the hob"), ("heat-proof plastic", "a pot of it")])
def test_no_plastic_tub_is_sent_to_the_hob(stuff: str, said: str) -> None:
    """A tub of steel may stand there; of one of plastic a pot of it does, for whole minutes."""
    text = texts("tdo-lye", water__room="2 C", vessels__tub__stuff=stuff)["vat.rest_covered"]
    assert said in text
    assert "." not in text.partition("about ")[2].partition(" min")[0]
