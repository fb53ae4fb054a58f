"""What people write of their water."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry.tap import CLASSES, PURE, UNKNOWN, Tap, read_tap
from vatside.units import Problem


def read(hardness: str, alkalinity: str = "") -> Tap:
    """What was read; a Problem fails the test."""
    found = read_tap(hardness, alkalinity)
    assert isinstance(found, Tap)
    return found


@pytest.mark.parametrize(
    ("hardness", "mg"),
    # a German degree is 17.848 mg/L of calcium carbonate, a French one 10, an English 14.254, a grain a gallon 17.118
    [
        ("300", 300), ("300 mg/L", 300), ("300 ppm", 300), ("300 mg/l CaCO3", 300), ("300 ppm as CaCO3", 300),
        ("14 °dH", 249.87), ("14 dh", 249.87), ("14°d", 249.87), ("30 °f", 300), ("30 °fH", 300), ("20 Clark", 285.08),
        ("20 °e", 285.08), ("12 gpg", 205.4), ("3 mmol/L", 300.26), ("6 meq/L", 300.26), ("120 mg/L Ca", 299.7),
        ("very hard", 400), ("Soft", 40), ("rain", 0),
    ],
)  # fmt: skip
def test_hardness(hardness: str, mg: float) -> None:
    """Every unit of a report, a kettle's word and a bare number are read."""
    assert read(hardness).likely.hardness_mg == pytest.approx(mg, rel=1e-3)


@pytest.mark.parametrize(
    ("alkalinity", "meq"),
    # 50.04 mg/L of calcium carbonate and 61.02 of bicarbonate a milliequivalent; a German degree of it 0.357
    [
        ("250", 4.996), ("250 mg/L", 4.996), ("305 mg/L HCO3-", 4.999), ("305 mg/L HCO₃⁻", 4.999), ("5 mmol/L", 5),
        ("5 meq/L", 5), ("14 dKH", 4.994), ("25 °f", 4.996),
    ],
)  # fmt: skip
def test_alkalinity(alkalinity: str, meq: float) -> None:
    """Alkalinity comes in units of its own besides: mmol/L are those of acid, the K_S4.3 of a report."""
    assert read("300", alkalinity).likely.alkalinity == pytest.approx(meq, rel=1e-3)


def test_not_known() -> None:
    """Nothing known is medium water between soft and hard."""
    assert read("") == read("unknown") == UNKNOWN


def test_a_word_with_a_report() -> None:
    """The hardness of a word goes with the alkalinity of a report; alone the word brings both."""
    assert read("hard") == Tap(CLASSES["hard"])
    assert read("pure") == Tap(PURE)
    assert read("hard", "100").likely.alkalinity_mg == pytest.approx(100)


def test_hardness_alone_leaves_the_alkalinity_open() -> None:
    """Alkalinity is 0.8 of the hardness, and anything from 0.4 to 1.0."""
    found = read("200")
    assert [water.alkalinity_mg for water in found.waters] == pytest.approx([160, 80, 200])


def test_the_band_of_a_strip() -> None:
    """A strip's band is its middle, and its ends are kept."""
    found = read("7-14 °dH", "100 to 140")
    assert [water.hardness_mg for water in found.waters] == pytest.approx([187.4, 124.9, 249.9], abs=0.1)
    assert [water.alkalinity_mg for water in found.waters] == pytest.approx([120, 100, 140])


@pytest.mark.parametrize(
    ("hardness", "alkalinity", "words"),
    [
        ("", "120", "hardness beside it"),
        ("wet", "", "a hardness of water"),
        ("3 g", "", "a hardness of water"),
        ("300", "2 mg/L Ca", "an alkalinity of water"),
        ("300-200", "", "lower end"),
        ("5000", "", "no tap water"),
        ("-3", "", "less than nothing"),
    ],
)
def test_what_cannot_be_read(hardness: str, alkalinity: str, words: str) -> None:
    """One sentence says what would be right."""
    found = read_tap(hardness, alkalinity)
    assert isinstance(found, Problem)
    assert words in found.text


@given(st.text(max_size=20), st.text(max_size=20))
def test_any_text_is_read_or_refused(hardness: str, alkalinity: str) -> None:
    """No text makes it fall over."""
    assert isinstance(read_tap(hardness, alkalinity), Tap | Problem)
