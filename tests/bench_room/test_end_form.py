"""The form of the end of a vat while it is being written: what is refused stays beside the last good value."""

from __future__ import annotations

from vatside.bench.vat_forms import Ending
from vatside.outlook.vat_end import BY_ACCOUNT, BY_SAMPLE
from vatside.vat.spent import Acid


def test_a_refused_text_stays_and_changes_nothing() -> None:
    """The text and the reason are kept beside the last good value, until the row is put right."""
    form = Ending()
    form.type("high", "9.5")
    form.type("high", "99")
    assert form.choices.aim.high == 9.5
    assert next(row.text for row in form.rows() if row.path == "high") == "99"
    assert "99 cannot be" in form.wrong["high"].words
    form.type("high", "10")
    assert (form.wrong, form.choices.aim.high) == ({}, 10)


def test_what_does_not_go_with_the_other_rows_is_told() -> None:
    """Nobody aims at a pH beyond the highest that may be let go."""
    form = Ending()
    form.type("target", "9.5")
    assert "lies outside 6 to 9" in form.wrong["target"].words
    assert form.choices.aim.target == 8


def test_what_a_sample_took_goes_with_its_acid() -> None:
    """Told, it is what the dose is worked out from; of another acid it says nothing."""
    form = Ending()
    form.portions = 2
    form.type("took", "3.2")
    assert (form.choices.by, form.choices.took, form.choices.portions) == (BY_SAMPLE, 3.2, 2)
    form.type("acid", "citric acid")
    assert (form.choices.acid, form.choices.took) == (Acid.CITRIC, None)
    assert next(row.field.label for row in form.rows() if row.path == "took") == "100 mL took, g"
    form.type("by", BY_ACCOUNT)
    assert form.choices.by == BY_ACCOUNT
