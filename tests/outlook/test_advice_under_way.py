"""An advice of several powders stays as it was given while it is being carried out."""

from __future__ import annotations

import pytest
from tests.log.makers import session
from tests.plan.plans import wool_plan

from vatside.catalogue.looks import Clarity, Colour, Strip
from vatside.log.events.day import PinSet, PlanChanged
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade
from vatside.log.fold import fold
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_deeds import as_proposed
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.interlocks import Correction
from vatside.vat.reading import Reading

GREEN = Reading(
    temperature=Amount(47, "degC"), colour=Colour.GREEN, clarity=Clarity.CLEAR, strip=Strip.BLUISH_GREEN, seconds=15
)
SHORT = "short-of-reducer"


def ways(fibre: str, *done: CorrectionMade) -> tuple[Correction, ...]:
    """What is advised in a small vat that is short of reducer, after some of it was done."""
    small = PinSet("vat.tub", Amount(5, "L")), PinSet("vat.fill", Amount(4, "L"))
    state = fold(session(*small, PlanChanged("lots.a.fibre", fibre), VatMade(), ReadingTaken(GREEN), *done))
    return Outlook(state, compute(state.plan)).ways(SHORT)


@pytest.mark.parametrize("fibre", ["wool", "silk", "cotton"])
def test_what_goes_with_the_reducer_stays_as_it_was_said(fibre: str) -> None:
    """The water in which the first of it is dissolved makes no more of the next: to the last of them, what was said."""
    (said,), plan = ways(fibre), wool_plan()
    powders = (*said.along, said)
    done = [as_proposed(way, plan) for way in powders]
    assert len(done) > 1
    for count in range(1, len(done) + 1):
        (then,) = ways(fibre, *done[:count])
        later = (*then.along, then)
        assert [way.material for way in later] == [way.material for way in powders]
        assert [way.grams for way in later] == pytest.approx([way.grams for way in powders], rel=0.005)


def test_after_another_amount_the_advice_follows_what_went_in() -> None:
    """A litre of water with the reducer is more vat to look after: the advice is worked out anew."""
    said = ways("wool")
    own = CorrectionMade(SHORT, said[0].remedy, material=said[0].material, amount=Amount(0.2, "g"),
                         water=Amount(1, "L"))  # fmt: skip
    assert ways("wool", own)[0].along[0].grams > said[0].along[0].grams * 1.03
