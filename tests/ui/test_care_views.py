"""The rows about a live vat: they fit their width, in both alphabets, and say what the picture shows."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.effort import examples
from tests.vat.vats import READINGS, vat_with

from vatside.bench.vat_forms import ReadingDraft
from vatside.catalogue.load import fibres
from vatside.ui.text.rows import ASCII, UNICODE, Row, Signs, cells
from vatside.ui.vat.finding_rows import Meaning, comparison_rows, deed_rows, meaning_rows
from vatside.ui.vat.history_rows import Happened, history_rows
from vatside.ui.vat.pictures import Stand, scale_rows, words
from vatside.ui.vat.reading import Panel, panel_rows
from vatside.units import Amount
from vatside.vat.corrections import corrections
from vatside.vat.diagnosis import ask, judge
from vatside.vat.reading import Reading
from vatside.vat.trust import compare

WIDTHS = st.integers(34, 118)
ALPHABETS = st.sampled_from([UNICODE, ASCII])
PHS = st.floats(0, 14.5)


def fit(rows: tuple[Row, ...], width: int) -> bool:
    """Tell whether every row stays within its width."""
    return all(cells(item.text.rstrip()) <= width for item in rows)


@given(PHS, st.none() | PHS, st.sampled_from(["wool", "silk", "cotton"]), WIDTHS, ALPHABETS)
def test_the_picture_fits(worked: float, read: float | None, fibre: str, width: int, signs: Signs) -> None:
    """Marks and numbers stay inside, also beyond the ends of the scale."""
    stand = Stand(fibre, fibres()[fibre].window, 45, worked, read)
    assert fit(scale_rows(stand, width, signs), width)


@pytest.mark.parametrize(("pH", "column"), [(8.0, 1), (13.0, 51), (10.5, 26)])
def test_a_mark_stands_over_its_pH(pH: float, column: int) -> None:
    """In 51 columns a tenth of pH is one column."""
    stand = Stand("wool", fibres()["wool"].window, 45, pH)
    line = scale_rows(stand, 53, ASCII)[0].text
    assert line.index("v") == column


@pytest.mark.parametrize(
    ("pH", "said"),
    [
        (9.3, "within the 8.5 to 9.8 that wool likes (best 9.3)."),
        (10.3, "0.5 above the 8.5 to 9.8 that wool likes (best 9.3)."),
        (8.0, "0.5 below the 8.5 to 9.8 that wool likes (best 9.3)."),
        (11.5, "1.7 above the 8.5 to 9.8 that wool likes (best 9.3); above 10.5 it is harmed."),
    ],
)
def test_the_picture_in_words(pH: float, said: str) -> None:
    """How far above or below, and whether it harms."""
    assert words(Stand("wool", fibres()["wool"].window, 45, pH)) == f"pH {pH:.1f} at 45 °C: {said}"


def test_the_pH_read_counts() -> None:
    """Where a pH was read, the words are about that one."""
    assert words(Stand("wool", fibres()["wool"].window, 45, 11.5, 9.4)).startswith("pH 9.4 at 45 °C: within")


@examples(30)
@given(READINGS, WIDTHS, ALPHABETS, st.booleans())
def test_whatever_was_read_fits(reading: Reading, width: int, signs: Signs, opened: bool) -> None:
    """Any reading: findings, comparison and deeds stay within the width, and nothing breaks."""
    vat = vat_with(reading)
    found = judge(reading, vat.setting)
    try:
        comparison = compare(vat.account, reading)
    except ValueError:
        comparison = None
    meaning = Meaning(found, comparison, ask(reading, vat.setting), "It helped.", ())
    assert fit(meaning_rows(meaning, meaning.first, width, signs, all_open=opened), width)
    for finding in found[:2]:
        for way in corrections(finding, vat):
            assert fit(deed_rows(way, "done", width), width)
    if comparison is not None:
        assert fit(comparison_rows(comparison, width), width)


def test_signs_that_fit_no_state_are_not_called_too_few() -> None:
    """Bright yellow, clear, a coppery film and a strip that is blue in 5 s: much was seen, it fits no one state."""
    meaning = Meaning((), None, (), "", ())
    [said] = meaning_rows(meaning, meaning.first, 80, ASCII)
    assert said.text.strip() == "What was seen points to no one state of the vat."


@settings(deadline=None)
@given(READINGS, st.floats(0, 400), WIDTHS, ALPHABETS)
def test_the_panel_fits(reading: Reading, seconds: float, width: int, signs: Signs) -> None:
    """Stopwatch, choices and what the signs say so far stay within the panel."""
    draft = ReadingDraft(Reading(), reading)
    plain = vat_with(reading).setting
    for here in draft.rows():
        assert fit(panel_rows(Panel(here, seconds, judge(reading, plain), plain, reading), width, signs), width)


def test_the_latest_comes_first() -> None:
    """The list begins with what happened last; what was done carries its arrow."""
    happened = [
        Happened(datetime(2026, 5, 2, 8, 0), "46 °C", done=False),
        Happened(datetime(2026, 5, 2, 8, 5), "1 g of reducer", done=True),
    ]
    rows = history_rows(happened, (), 40, ASCII)
    assert [item.text.split() for item in rows] == [
        ["08:05", "^", "1", "g", "of", "reducer"],
        ["08:00", ".", "46", "°C"],
    ]


@pytest.mark.parametrize(
    ("path", "text"), [("temperature", "300"), ("pH", "99"), ("colour", "pink"), ("seconds", "2 d"), ("redox", "x")]
)
def test_a_wrong_row_keeps_the_last_good_value(path: str, text: str) -> None:
    """What cannot be is told, the text stays, and the reading keeps what it had."""
    draft = ReadingDraft(Reading())
    draft.type("temperature", "46 C")
    before = draft.reading
    draft.type(path, text)
    assert draft.reading == before
    assert draft.wrong[path].text == text
    assert next(item for item in draft.rows() if item.path == path).text == text


def test_hints_are_of_the_reading_before() -> None:
    """A new draft holds nothing but how the pH was read; the rest is hinted at."""
    last = Reading(temperature=Amount(46, "degC"), pH=9.5)
    draft = ReadingDraft(last)
    hints = {item.path: (item.text, item.hint) for item in draft.rows()}
    assert hints["temperature"] == ("", "was 46 °C")
    assert hints["pH"] == ("", "was 9.5")
    assert hints["pH_by"] == ("strip", "")
    assert not draft.is_new
