"""The end of a vat never contradicts itself: a spent one wants no alkali, own acid counts, enough is enough."""

from __future__ import annotations

import pytest
from tests.log.makers import session
from tests.plan.plans import wool_plan

from vatside.catalogue.looks import Colour
from vatside.log.events.day import Event, LotAdded, PlanChanged
from vatside.log.events.pieces import PieceDone
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade, VatSpent
from vatside.log.fold import State, fold
from vatside.outlook.vat_end import NEUTRALISE, Choices, acid_given, dose_of, given_g
from vatside.outlook.vat_facts import findings_of, setting_of
from vatside.outlook.vat_order import disorder
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.reading import PHBy, Reading
from vatside.vat.spent import Acid, AcidDose

COTTON = PlanChanged("lots.a.fibre", "cotton")


def day(*events: Event) -> State:
    """Give the state after these events, a minute apart."""
    return fold(session(*events))


def read(pH: float, colour: Colour = Colour.BLUE) -> ReadingTaken:
    """A reading of a cooled sample."""
    return ReadingTaken(Reading(Amount(25, "degC"), pH, pH_by=PHBy.METER, colour=colour))


def test_a_spent_vat_is_short_of_nothing() -> None:
    """Blue and sour is what a spent vat is: nothing is found out of order, while a living one would be."""
    living, spent = day(COTTON, VatMade(), read(7.5)), day(COTTON, VatMade(), VatSpent(), read(7.5))
    sheet = compute(living.plan)
    assert any(found.is_out for found in findings_of(living, sheet))
    assert findings_of(spent, sheet) == ()
    assert disorder(spent, sheet) is None


def test_acid_of_her_own_counts_as_given() -> None:
    """50 mL written down as what went in are 50 mL, beside what the page asked for; not before the end."""
    own = CorrectionMade(material="vinegar", amount=Amount(50, "mL"))
    asked = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(100, "mL"))
    state = day(COTTON, VatMade(), VatSpent(), asked, own)
    assert len(acid_given(state)) == 2
    # vinegar of 1.01 g/mL
    assert given_g(state, Acid.VINEGAR) == pytest.approx(150 * 1.01, rel=0.01)
    assert acid_given(day(COTTON, VatMade(), own)) == ()


@pytest.mark.parametrize(("pH", "more"), [(6.5, False), (8.6, False), (9.4, True)])
def test_acid_is_asked_for_only_outside_the_range(pH: float, more: bool) -> None:
    """Once acid is in and the pH lies within 6 to 9 no more is asked for, whatever was aimed at."""
    asked = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(20, "mL"))
    found = dose_of(day(COTTON, VatMade(), VatSpent(), read(10), asked, read(pH)), Choices())
    assert isinstance(found, AcidDose) is more
    if not more:
        assert "no more acid is needed" in str(found)


def test_wool_that_is_done_no_longer_sets_the_window() -> None:
    """With its last dip behind it the reading is held against what is still to go in: cotton bears pH 11."""
    wool = wool_plan()
    cotton = PlanChanged("lots.b.fibre", "cotton")
    begin = (LotAdded(new_lot(wool)), cotton, VatMade(), read(10.9, Colour.YELLOW_GREEN))
    pieces = tuple(PieceDone(f"a.{number}") for number in range(1, wool.lots[0].pieces + 1))
    before, part, after = day(*begin), day(*begin, *pieces[:-1]), day(*begin, *pieces)
    assert [setting_of(one, compute(one.plan)).group for one in (before, part, after)] == [
        "protein", "protein", "cellulose",
    ]  # fmt: skip
    assert any(found.id == "too-alkaline" and found.is_out for found in findings_of(before, compute(before.plan)))
    assert not any(found.id == "too-alkaline" and found.is_out for found in findings_of(after, compute(after.plan)))
