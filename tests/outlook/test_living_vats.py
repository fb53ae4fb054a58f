"""Vats of bran, fruit and sugar: what never came to life has spent nothing, no advice goes in a circle, acid stinks."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.log.makers import session
from tests.plan.plans import plan_with

from vatside.catalogue.load import methods
from vatside.catalogue.looks import Clarity, Colour, Smell, Strip, Surface
from vatside.dayline.day_steps import steps
from vatside.log.events.day import Event, PlanChanged
from vatside.log.events.vat import ReadingTaken, VatMade, VatSpent
from vatside.log.fold import State, fold
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_end import refusal
from vatside.outlook.vat_facts import findings_of
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.reading import PHBy, Reading

BLUE = Reading(Amount(28, "degC"), 9.8, pH_by=PHBy.METER, colour=Colour.BLUE, surface=Surface.BARE, smell=Smell.USUAL)
YELLOW = evolve(BLUE, colour=Colour.YELLOW_GREEN, surface=Surface.COPPERY)


def vat(method: str, *readings: Reading, spent: bool = False) -> State:
    """A vat for linen of some kind, its readings a minute apart, and perhaps seen to stay blue at the end."""
    begin = PlanChanged("lots.a.fibre", "linen"), PlanChanged("method", method)
    end: tuple[Event, ...] = (VatSpent(),) if spent else ()
    return fold(session(*begin, VatMade(), *(ReadingTaken(one) for one in readings), *end))


def named(state: State) -> list[str]:
    """The ids of what is found, the first to put right in front."""
    return [found.id for found in findings_of(state, compute(state.plan))]


def test_what_never_came_to_life_has_spent_nothing() -> None:
    """Aino et al. (2018): it is blue until the fourth day at least. On its first it sleeps; bran would only sour it."""
    found = named(vat("fermentation", BLUE))
    assert found[0] == "asleep"
    assert not {"air-in", "short-of-reducer"} & set(found)


def test_once_it_was_yellow_air_can_get_in() -> None:
    """Yellow, then blue with a strip that comes out blue: the reducer is spent."""
    after = evolve(BLUE, strip=Strip.BLUE, clarity=Clarity.CLOUDY)
    assert "air-in" in named(vat("fermentation", YELLOW, after))


def test_another_kind_of_vat_can_be_spent_from_the_first() -> None:
    """A vat of sugar that is blue and cloudy after its rest is short of reducer whether it was yellow or not."""
    seen = Reading(Amount(45, "degC"), colour=Colour.BLUE, clarity=Clarity.CLOUDY, strip=Strip.BLUE)
    assert "air-in" in named(vat("fructose-lime", seen))


def test_bran_is_tried_as_a_brew() -> None:
    """It dissolves in nothing: half a litre gets the brew of so much, not so many mL of a solution."""
    after = evolve(BLUE, strip=Strip.BLUE, clarity=Clarity.CLOUDY)
    state = vat("fermentation", YELLOW, after)
    bran = next(way for way in Outlook(state, compute(state.plan)).ways("air-in") if way.material == "bran")
    assert "brew of" in bran.sample
    assert "dissolved" not in bran.sample


@pytest.mark.parametrize("method", sorted(methods()))
@pytest.mark.parametrize("colour", [Colour.BLUE, Colour.GREEN])
def test_no_advice_warms_a_vat_out_of_its_window(method: str, colour: Colour) -> None:
    """What a reading is advised, done and read again, is not too warm for the same vat a moment later."""
    cold = Reading(Amount(10, "degC"), colour=colour, clarity=Clarity.CLOUDY, strip=Strip.BLUE, surface=Surface.BARE)
    state = vat(method, YELLOW, cold)
    view = Outlook(state, compute(state.plan))
    told = [way for found in view.findings for way in view.ways(found.id) if way.first]
    for way in told:
        degrees = float(way.first.split("Warm the vat to ")[1].split(" °C")[0])
        assert f"{degrees:.0f} °C" in way.text
        assert "too-warm" not in named(vat(method, YELLOW, evolve(cold, temperature=Amount(degrees, "degC"))))


def test_a_fermenting_vat_is_cautioned_at_its_steps() -> None:
    """Gas and germs, when the bran goes in and while it stands for days."""
    state = vat("fermentation")
    warned = {step.id for step in steps(state.plan, compute(state.plan)) if "ferment" in {c.id for c in step.cautions}}
    assert {"vat.reducer_in", "vat.rest_covered"} <= warned


@pytest.mark.parametrize(
    ("method", "gas"),
    [("fermentation", "hydrogen sulphide"), ("plant-lime", "hydrogen sulphide"), ("fructose-lime", "hydrogen sulphide"),
     ("tdo-lye", "sulphur dioxide"), ("dithionite-lye", "sulphur dioxide")],
)  # fmt: skip
def test_acid_is_cautioned_by_what_it_drives_out(method: str, gas: str) -> None:
    """Sulphur dioxide comes only of reducers with sulphur; life makes sulphides [Packer]."""
    plan = plan_with(None, lots__a__fibre="linen", method=method, finish__keep="0 d")
    acid = next(
        caution for step in steps(plan, compute(plan)) if step.id == "finish.neutralise"
        for caution in step.cautions if caution.id == "acid"
    )  # fmt: skip
    said = " ".join(acid.lines)
    others = {"hydrogen sulphide", "sulphur dioxide"} - {gas}
    assert gas in said
    assert not any(other in said for other in others)


def test_no_acid_while_it_smells_of_rotten_eggs() -> None:
    """Seen to stay blue or not; once it was aired and smells as usual it is not held back any more."""
    stinks = evolve(BLUE, smell=Smell.ROTTEN)
    held = refusal(vat("fermentation", YELLOW, stinks, evolve(BLUE, smell=None), spent=True))
    assert held is not None
    assert "hydrogen sulphide" in held.why
    assert refusal(vat("fermentation", YELLOW, stinks, BLUE, spent=True)) is None
