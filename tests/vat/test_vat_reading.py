"""A reading and its form: everything optional, choices in the dyer's words, mistakes in sentences."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.vat.vats import READINGS

from vatside.catalogue.looks import LOOKS, Cloth, Colour
from vatside.forms.field import read, show
from vatside.units import Amount, Problem
from vatside.vat.reading import PHBy, Reading, looks, parts
from vatside.vat.reading_form import reading_field, reading_fields, value, with_value


def test_a_new_reading_is_empty() -> None:
    """Nothing measured, nothing seen."""
    assert Reading().is_empty
    assert Reading(pH_by=PHBy.METER, pH_temperature=Amount(25, "degC")).is_empty
    assert not Reading(colour=Colour.BLUE).is_empty


def test_the_sample_is_as_warm_as_the_vat_unless_said() -> None:
    """A pH sample has the vat's temperature until the dyer says otherwise."""
    assert Reading(temperature=Amount(117, "degF")).sample_celsius == pytest.approx(47.2, abs=0.05)
    assert Reading(temperature=Amount(47, "degC"), pH_temperature=Amount(25, "degC")).sample_celsius == 25
    assert Reading().sample_celsius is None


@pytest.mark.parametrize(
    "broken",
    [
        {"pH": 15.0}, {"pH": -1.0}, {"pH": float("nan")}, {"seconds": -1.0}, {"redox": 5000.0},
        {"temperature": Amount(120, "degC")}, {"temperature": Amount(5, "g")}, {"pH_temperature": Amount(-3, "degC")},
    ],
)  # fmt: skip
def test_what_cannot_be_measured(broken: dict[str, object]) -> None:
    """A value outside its range is refused in words."""
    with pytest.raises(ValueError, match=r"between|temperature"):
        Reading(**broken)  # type: ignore[arg-type]


def test_looks_in_words() -> None:
    """What was seen, as the words it was chosen by."""
    seen = Reading(cloth=(Cloth.SPECKS, Cloth.UNEVEN), colour=Colour.AMBER)
    assert looks(seen, "cloth") == ("blue specks", "uneven")
    assert looks(seen, "colour") == ("amber",)
    assert looks(seen, "smell") == ()


@pytest.mark.parametrize(
    ("name", "typed", "value"),
    [
        ("temperature", "47", Amount(47, "degC")), ("temperature", "117 F", Amount(117, "degF")), ("pH", "9,3", 9.3),
        ("seconds", "45", 45.0), ("seconds", "1 min", 60.0), ("redox", "-720", -720.0), ("redox", "−720", -720.0),
        ("colour", "amb", Colour.AMBER), ("colour", "green", Colour.GREEN), ("pH_by", "m", PHBy.METER),
        ("cloth", "une", (Cloth.UNEVEN,)), ("colour", " ", None),
    ],
)  # fmt: skip
def test_typed_text(name: str, typed: str, value: object) -> None:
    """What a dyer would write is understood; nothing typed is nothing seen."""
    found = read(reading_field(name), typed)
    assert not isinstance(found, Problem)
    assert getattr(with_value(Reading(), name, found), name) == value


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("temperature", "300", "between 0 °C and 100 °C"), ("pH", "16", "between 0 and 14.5"),
        ("colour", "puce", "none of"),
        ("colour", "gre", "could be green"), ("seconds", "2h", "between 0 min and 1 h"), ("pH", "x", "pH:"),
        ("cloth", "holes", "none of"),
    ],
)  # fmt: skip
def test_mistakes_are_told(name: str, typed: str, said: str) -> None:
    """A mistake is a sentence that begins with the row's name."""
    found = read(reading_field(name), typed)
    assert isinstance(found, Problem)
    assert said in found.text
    assert found.text.startswith(reading_field(name).label)


def test_every_part_has_a_row() -> None:
    """The form has a row for each part of a reading, and no other."""
    assert {row.path for row in reading_fields()} == set(parts())
    assert set(LOOKS) < set(parts())


@given(READINGS)
def test_what_is_printed_is_read_back(reading: Reading) -> None:
    """A look's text reads back as itself; a row emptied is a row not looked at."""
    for row in reading_fields():
        stood = value(reading, row.path)
        again = read(row, show(row, stood))
        assert not isinstance(again, Problem)
        if row.choices:
            assert again == stood
        assert value(with_value(reading, row.path, None), row.path) in (None, "strip")


@given(st.sampled_from([row.path for row in reading_fields()]), st.text(max_size=20))
def test_any_text_is_read_or_told(name: str, typed: str) -> None:
    """No text whatever makes the form crash, and what it reads fits a reading."""
    found = read(reading_field(name), typed)
    if not isinstance(found, Problem):
        with_value(Reading(), name, found)
