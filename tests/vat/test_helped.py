"""Did it help: the reading before a correction and the one after its wait."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import plan_with
from tests.vat.vats import READINGS, setting_of

from vatside.catalogue.findings import rows
from vatside.catalogue.looks import Clarity, Colour, Smell, Strip
from vatside.units import Amount
from vatside.vat.helped import Verdict, helped
from vatside.vat.reading import PHBy, Reading

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
    """From greenish to blue: bluer than before."""
    greenish = Reading(colour=Colour.GREEN, clarity=Clarity.CLOUDY, strip=Strip.BLUE)
    assert helped("air-in", greenish, BLUE, PLAIN).verdict is Verdict.WORSE


def test_looking_at_more_is_no_change() -> None:
    """Blue before and blue after: that the strip was looked at too makes it surer, not worse."""
    assert helped("air-in", Reading(colour=Colour.BLUE), BLUE, PLAIN).verdict is Verdict.NO
    assert helped("air-in", BLUE, Reading(colour=Colour.BLUE), PLAIN).verdict is Verdict.NO


def _pH(value: float, by: PHBy, celsius: float = 46, sample: float | None = None) -> Reading:
    """A reading of the pH, of a sample as warm as the vat or as said."""
    at = None if sample is None else Amount(sample, "degC")
    return Reading(temperature=Amount(celsius, "degC"), pH=value, pH_by=by, pH_temperature=at)


@pytest.mark.parametrize(
    ("before", "after", "verdict"),
    [
        (_pH(7.6, PHBy.METER), _pH(7.6, PHBy.STRIP, sample=9.2), Verdict.WORSE),
        (_pH(7.6, PHBy.METER), _pH(7.6, PHBy.STRIP), Verdict.NO),
        (_pH(7.6, PHBy.STRIP), _pH(7.6, PHBy.METER), Verdict.NO),
        (_pH(7.6, PHBy.STRIP), _pH(7.9, PHBy.STRIP), Verdict.NO),
        (_pH(7.6, PHBy.METER), _pH(7.9, PHBy.METER), Verdict.PARTLY),
        (_pH(7.6, PHBy.METER), _pH(7.0, PHBy.METER), Verdict.WORSE),
    ],
)
def test_better_and_worse_follow_the_pH(before: Reading, after: Reading, verdict: Verdict) -> None:
    """The pH in the vat tells, beyond what both instruments can: not how far an instrument is trusted.

    A sample of 7.6 at 9 °C is a vat of about 6.5 at 46 °C, by the 0.03 a degree of lye.
    """
    plain = evolve(setting_of(plan_with(lots__a__fibre="alpaca or mohair")), slope=0.03)
    found = helped("short-of-alkali", before, after, plain)
    assert found.verdict is verdict
    assert "pH 7.6 in the vat" in found.text


def test_better_and_worse_follow_the_warmth() -> None:
    """From 30 to 36 °C a vat that wants 40 is better, though almost surely still too cold; to 26 it is worse."""

    def cold(celsius: float) -> Reading:
        return Reading(temperature=Amount(celsius, "degC"))

    assert helped("too-cold", cold(30), cold(36), PLAIN).verdict is Verdict.PARTLY
    assert helped("too-cold", cold(30), cold(26), PLAIN).verdict is Verdict.WORSE


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


def test_what_nobody_smelled_again_is_not_gone() -> None:
    """Rotten eggs, then a reading without the nose: hydrogen sulphide is not said to be gone; with it, it is."""
    bran = setting_of(plan_with(method="fermentation", lots__a__fibre="cotton"))
    rotten = Reading(colour=Colour.BLUE, smell=Smell.ROTTEN)
    unsmelled = helped("sulphide", rotten, Reading(colour=Colour.BLUE, pH=10), bran)
    assert unsmelled.verdict is Verdict.UNKNOWN
    assert "rotten eggs" in unsmelled.text
    smelled = helped("sulphide", rotten, Reading(colour=Colour.BLUE, smell=Smell.USUAL), bran)
    assert "no longer" in smelled.text
