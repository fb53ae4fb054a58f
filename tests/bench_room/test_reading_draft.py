"""A reading while it is written: a pH in the row of the warmth is moved, a warmth stays."""

from __future__ import annotations

import pytest

from vatside.bench.vat_forms import ReadingDraft
from vatside.units import Amount
from vatside.vat.reading import Reading


@pytest.mark.parametrize("typed", ["11.6", "11,6", "9", " 10.5 ", "14"])
def test_a_ph_is_not_taken_for_a_warmth(typed: str) -> None:
    """A bare number as low as a pH goes to the pH, and the sentence says how a cold vat is written."""
    draft = ReadingDraft(Reading())
    draft.type("temperature", typed)
    said = draft.leave("temperature")
    assert draft.reading.temperature is None
    assert draft.reading.pH == float(typed.replace(",", "."))
    assert f"write {typed.strip()} C" in said


@pytest.mark.parametrize(("typed", "degrees"), [("11.6 C", 11.6), ("46", 46), ("14.5", 14.5), ("115 F", 115)])
def test_a_warmth_stays_one(typed: str, degrees: float) -> None:
    """With its unit, or above any pH."""
    draft = ReadingDraft(Reading())
    draft.type("temperature", typed)
    assert draft.leave("temperature") == ""
    assert draft.reading.temperature is not None
    assert draft.reading.temperature.value == degrees
    assert draft.reading.pH is None


def test_a_ph_that_stands_there_is_not_run_over() -> None:
    """Where the pH is written already, the other number is the warmth."""
    draft = ReadingDraft(Reading())
    draft.type("pH", "10.5")
    draft.type("temperature", "12")
    assert draft.leave("temperature") == ""
    assert draft.reading == Reading(temperature=Amount(12, "degC"), pH=10.5)


def test_what_was_begun_with_is_left_alone() -> None:
    """A reading that is gone on with holds a cold vat: leaving its row moves nothing."""
    draft = ReadingDraft(Reading(), Reading(temperature=Amount(12, "degC")))
    assert draft.leave("temperature") == ""
    assert draft.reading.temperature == Amount(12, "degC")


def test_a_cold_vat_may_be_as_cold_as_a_ph_is_high() -> None:
    """A vat of zinc or copperas works from 15 °C on: 12 may well be its warmth, 12.4 is a pH there as well."""
    draft = ReadingDraft(Reading(), cold=True)
    draft.type("temperature", "12")
    assert draft.leave("temperature") == ""
    draft.type("temperature", "12.4")
    assert "12.4 was taken for the pH" in draft.leave("temperature")
