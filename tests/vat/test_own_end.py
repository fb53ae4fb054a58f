"""A kind of vat that is handed over has an end of its own: no acid, both parts to the waste office."""

from __future__ import annotations

import pytest
from tests.log.makers import session
from tests.plan.plans import plan_with

from vatside.catalogue import audit
from vatside.catalogue.load import methods
from vatside.catalogue.values import MethodEnd
from vatside.chemistry.bath import add_grams, aerate, water_bath
from vatside.chemistry.reducers import REDUCERS
from vatside.dayline.day_steps import steps
from vatside.log.events.day import Event, PinSet, PlanChanged
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade, VatSpent
from vatside.log.fold import State, fold, sheet_of
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_end import Choices, dose_of, holds_back, portion
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account import reducer_g
from vatside.vat.reading import Reading
from vatside.vat.spent import no_acid

ZINC = (
    PlanChanged("lots.a.fibre", "cotton"), PlanChanged("method", "zinc-lime"), PinSet("finish.keep", Amount(0, "min")),
)  # fmt: skip
HANDED_OVER = [key for key, item in methods().items() if item.end is not None]


def day(*events: Event) -> State:
    """Give the state of a zinc vat after these events, a minute apart."""
    return fold(session(*ZINC, *events))


def own(key: str) -> MethodEnd:
    """Give the end of a kind of vat that has one."""
    found = methods()[key].end
    assert found is not None
    return found


def test_zinc_is_handed_over() -> None:
    """Very harmful to life in water: its own caution sends liquor and sludge to the waste office."""
    assert HANDED_OVER == ["zinc-lime"]


@pytest.mark.parametrize("key", HANDED_OVER)
def test_its_pages_say_what_its_cautions_say(key: str) -> None:
    """Zinc, hydrogen, no flame, an open pail, the waste office and no drain at any pH stand on the pages."""
    said = " ".join(f"{page.text} {page.why}" for page in own(key).pages)
    for word in ("inc", "ydrogen", "no flame", "open plastic pail", "waste office", "at no pH", "No acid"):
        assert word in said
    assert "sulphur dioxide" not in said
    assert "pH 9" not in said


def test_no_step_of_it_neutralises() -> None:
    """No vinegar is titrated or stirred in, none is weighed out, and the last step is no drain to be asked about."""
    plan = plan_with(method="zinc-lime", lots__a__fibre="cotton", finish__keep="0 days")
    sheet = compute(plan)
    ending = {step.id: step for step in steps(plan, sheet) if step.id.startswith("finish.") and step.id.count(".") == 1}
    assert list(ending) == [
        "finish.use_up", "finish.oxidise", "finish.settle", "finish.decant", "finish.sludge", "finish.drain",
    ]  # fmt: skip
    assert "finish.vinegar" not in sheet
    assert not any("vinegar" in step.text or "ask before a drain" in step.text for step in ending.values())
    assert "waste office" in ending["finish.drain"].text
    assert [item.id for item in ending["finish.sludge"].cautions] == ["zinc"]


def test_no_acid_is_asked_for_and_any_pH_is_handed_over() -> None:
    """Seen blue, the vat is given no dose, only the reason; nothing waits for a pH."""
    state = day(VatMade(), VatSpent())
    found = dose_of(state, Choices())
    assert isinstance(found, str)
    assert "hydrogen" in found
    assert portion(state, Choices()) == found
    assert holds_back(state, Choices()) is None
    assert holds_back(day(VatMade()), Choices()) is not None


def test_air_leaves_the_metal() -> None:
    """A day of air turns the dye blue and leaves the zinc: the account still names its grams at the end."""
    assert aerate(add_grams(water_bath(1, 20), "zinc", 2)).zinc == pytest.approx(2 / 65.38)
    living, spent = day(VatMade()).tending.account, day(VatMade(), VatSpent()).tending.account
    assert living is not None
    assert spent is not None
    assert spent.bath.leuco == 0
    assert reducer_g(spent, "zinc") == pytest.approx(reducer_g(living, "zinc"), rel=0.02)


def test_no_remedy_pours_vinegar_on_zinc() -> None:
    """Of a zinc vat read far too alkaline, no way is vinegar."""
    state = day(VatMade(), ReadingTaken(Reading(Amount(20, "degC"), 13.5)))
    ways = Outlook(state, sheet_of(state)).ways("too-alkaline")
    assert ways
    assert not [way for way in ways if way.material == "vinegar"]


def test_acid_of_her_own_is_held_too() -> None:
    """Blue or not, vinegar into the tub is refused with the hydrogen as reason."""
    from tests.outlook.test_interlocks import STANDS, put
    from tests.outlook.test_interlocks import day as scene

    there = scene(*STANDS, VatSpent(), method="zinc-lime", lots__a__fibre="cotton")
    question = there.first(put("vinegar", 100, "mL"))
    assert question.rule == "no-acid"
    assert "hydrogen" in question.block.why
    assert no_acid(plan_with()) is None


@pytest.mark.parametrize(
    ("species", "gas"),
    [("thiourea dioxide", "sulphur dioxide"), ("sodium dithionite", "sulphur dioxide"),
     ("fermentable starch", "hydrogen sulphide"), ("fructose", "hydrogen sulphide"),
     ("ferrous sulfate heptahydrate", "")],
)  # fmt: skip
def test_the_reason_is_the_vats_own(species: str, gas: str) -> None:
    """Only sulphur makes sulphur dioxide; what sours may hold sulphide; iron makes no gas."""
    said = REDUCERS[species].in_acid
    assert gas in said
    assert gas or "gives off" not in said
    assert ("sulphur dioxide" in said) is (gas == "sulphur dioxide")


def test_an_end_has_all_its_pages() -> None:
    """The audit finds an end of three pages."""
    from attrs import evolve

    zinc = methods()["zinc-lime"]
    short = evolve(zinc, end=evolve(own("zinc-lime"), pages=own("zinc-lime").pages[:3]))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(audit, "methods", lambda: {**methods(), "zinc-lime": short})
        assert any("its end has 4 pages" in line for line in audit.problems())


def test_an_added_acid_event_is_known() -> None:
    """What was poured all the same is written down."""
    acid = CorrectionMade(material="vinegar", amount=Amount(10, "mL"))
    assert day(VatMade(), VatSpent(), acid).tending.corrections
