"""Did it help: the reading before a correction and the one after its wait."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from tests.recipe.care.vats import READINGS, setting_of
from tests.recipe.plans import plan_with

from vatside.catalogue.findings import rows
from vatside.catalogue.looks import Clarity, Colour, Strip
from vatside.recipe.care.helped import Verdict, helped
from vatside.recipe.care.reading import PHBy, Reading
from vatside.units import Amount

PLAIN = setting_of(plan_with(lots__a__fibre="cotton"))
BLUE = Reading(colour=Colour.BLUE, clarity=Clarity.CLOUDY, strip=Strip.BLUE)
GREEN = Reading(colour=Colour.GREEN, clarity=Clarity.CLEAR, strip=Strip.BLUISH_GREEN, seconds=20)
GOOD = Reading(
    temperature=Amount(45, "degC"), pH=11, pH_by=PHBy.METER, colour=Colour.YELLOW_GREEN, clarity=Clarity.CLEAR,
    strip=Strip.GREEN_YELLOW, seconds=60,
)  # fmt: skip


def test_it_helped() -> None:
    """From blue to yellow-green: it helped, and nothing else is out."""
    found = helped("air-in", BLUE, GOOD, PLAIN)
    assert found.verdict is Verdict.YES
    assert not found.counts_as_tried


def test_it_helped_and_the_next_thing_shows() -> None:
    """From blue to green: the worst is over, the next axis or row is named."""
    found = helped("air-in", BLUE, GREEN, PLAIN)
    assert found.verdict is Verdict.PARTLY
    assert "short of reducer" in found.text


def test_nothing_changed() -> None:
    """Still blue: it counts as tried in vain."""
    found = helped("air-in", BLUE, BLUE, PLAIN)
    assert found.verdict is Verdict.NO
    assert found.counts_as_tried


def test_it_got_worse() -> None:
    """Bluer than before."""
    found = helped("air-in", Reading(colour=Colour.BLUE), BLUE, PLAIN)
    assert found.verdict is Verdict.WORSE


def test_no_reading_after_it() -> None:
    """Without a second reading nobody can tell."""
    assert helped("air-in", BLUE, Reading(), PLAIN).verdict is Verdict.UNKNOWN


def test_a_correction_for_nothing_seen() -> None:
    """What was not seen before cannot have been put right."""
    assert helped("foam", BLUE, GOOD, PLAIN).verdict is Verdict.UNKNOWN


@given(READINGS, READINGS, st.sampled_from(sorted(rows())))
def test_two_readings_always_have_an_answer(before: Reading, after: Reading, key: str) -> None:
    """Whatever was read, there is a sentence."""
    assert helped(key, before, after, PLAIN).text.endswith((".", ")."))
