"""Rows, columns, bars and large digits: plain functions."""

from __future__ import annotations

import re

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from vatside.bench.glance import WaitView
from vatside.ui.day.far_view import far_rows
from vatside.ui.text.large import best_scale, big, dots, rows_high
from vatside.ui.text.rows import (
    ASCII,
    UNICODE,
    Span,
    bar,
    cells,
    clip,
    column,
    day_bar,
    left,
    parts,
    right,
    row,
    signs_for,
    spread,
    wrap,
)
from vatside.ui.text.wait_rows import clock_text, wait_rows
from vatside.units.show import clean

TEXTS = st.text(st.characters(exclude_categories=["C"]), max_size=60)


@given(TEXTS, st.integers(1, 40))
def test_left_and_right_fill_exactly(text: str, width: int) -> None:
    """Whatever the letters, wide ones included, the width is kept."""
    assert cells(left(text, width)) == width
    assert cells(right(text, width)) == width
    assert cells(clip(text, width)) <= width


@given(TEXTS, st.integers(2, 40))
def test_wrapping_loses_no_word_and_keeps_the_width(text: str, width: int) -> None:
    """All letters are there in order, no line is too wide."""
    lines = wrap(text, width)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(cells(line) <= width for line in lines)


@given(st.text(max_size=30))
def test_clean_text_is_printable(text: str) -> None:
    """No control character survives."""
    assert clean(text).isprintable()


def test_the_right_edge_has_precedence() -> None:
    """Where there is too little room the words at the left give way."""
    assert spread((Span("a long title"),), (Span("10:00"),), 12).text == "a lon… 10:00"


@pytest.mark.parametrize(
    ("text", "taken"),
    [
        ("10.4 L", ("10", ".4", "L")),
        ("1 1/2 tsp", ("1", " 1/2", "tsp")),
        ("1/2 tsp", ("", " 1/2", "tsp")),
        ("227 g", ("227", "", "g")),
        ("1 h 30 min", ("1", "", "h 30 min")),
        ("3", ("3", "", "")),
        ("less than 0.01 g", ("<0", ".01", "g")),
        ("less than 1/8 tsp", ("", " <1/8", "tsp")),
        ("as needed", ("", "", "as needed")),
    ],
)
def test_amounts_are_taken_apart(text: str, taken: tuple[str, str, str]) -> None:
    """Number before the point or fraction, the rest, the unit."""
    found = parts(text)
    assert (found.whole, found.rest, found.unit) == taken


def test_a_column_aligns_on_the_point() -> None:
    """The points of all amounts stand one below the other."""
    amounts = ["10.4 L", "0.5 L", "227 g", "8.25 g"]
    found = column(amounts)
    lines = ["".join(span.text for span in found.spans(text, "")) for text in amounts]
    assert [line.find(".") for line in lines if "." in line] == [3, 3, 3]
    assert len({len(line) for line in lines}) == 1


@given(st.floats(-1, 2), st.integers(0, 60))
def test_a_bar_is_as_wide_as_it_should_be(share: float, width: int) -> None:
    """What has elapsed and what has not fill the width, and only what is over is solid."""
    spans = bar(share, width, UNICODE)
    assert sum(cells(span.text) for span in spans) == width
    assert ("█" in spans[0].text) <= (share >= 1)


def test_a_bar_ripens_from_straw_to_indigo() -> None:
    """Tone and shading go deeper together, never back."""
    roles = [bar(share / 10, 10, UNICODE)[0].role for share in range(1, 11)]
    assert roles == sorted(roles)
    assert (roles[0], roles[-1]) == ("ripe0", "ripe4")


@given(st.floats(0, 1), st.integers(0, 200))
def test_the_day_fills_the_width(share: float, width: int) -> None:
    """At any share the line of the day is whole."""
    assert sum(cells(span.text) for span in day_bar(share, width, UNICODE)) == width


@given(st.from_regex(r"[0-9:+]{1,8}", fullmatch=True), st.integers(1, 6))
def test_large_digits_are_rectangular(text: str, scale: int) -> None:
    """Every row of large digits is equally wide, as wide as was said, and as high."""
    lines = big(text, scale, UNICODE)
    assert {cells(line) for line in lines} == {dots(text) * scale}
    assert len(lines) == rows_high(scale)


def test_large_digits_without_half_blocks() -> None:
    """The plain alphabet draws with whole cells only."""
    scale = best_scale("12:30", 80, 20, ASCII)
    assert scale % 2 == 0
    assert set("".join(big("12:30", scale, ASCII))) == {" ", "="} - {"="} | {ASCII.shades[-1]}


def test_all_ten_digits_differ() -> None:
    """No two digits look the same."""
    assert len({big(digit, 2, UNICODE) for digit in "0123456789"}) == 10


def wait(number: int, left_s: float, label: str = "Stock rest", **more: object) -> WaitView:
    """Make a wait of an hour."""
    return WaitView(f"w{number}", number, label, left_s, min(1 - left_s / 3600, 1.0), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("count", [0, 1, 2, 3, 4, 7])
@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
def test_the_far_view_fills_the_screen(count: int, size: tuple[int, int]) -> None:
    """For any number of waits and any size the rows fit and the names are in capitals."""
    width, height = size
    waits = [wait(number, 100.0 * number, f"lot {number}") for number in range(1, count + 1)]
    rows = far_rows(waits, "Stir", "f back", width, height, UNICODE)
    assert len(rows) == height
    assert all(cells(item.text) <= width for item in rows)
    text = "\n".join(item.text for item in rows)
    assert all(f"{number} LOT {number}" in text for number in range(1, min(count, 4) + 1))
    assert ("more" in text) is (count > 4)


def test_only_the_block_that_rings_turns_and_what_was_heard_keeps_its_edge() -> None:
    """Of four waits in two rows copper ground stands left above alone; the one heard has edges at the right."""
    calls = [wait(1, -5.0, ringing=True), wait(2, -600.0), wait(3, 700.0), wait(4, 800.0)]
    rows = far_rows(calls, "Stir", "f back", 80, 24, UNICODE)
    for line in rows[:8]:
        at = 0
        for span in line.spans:
            assert (span.role == "over") is (at < 40), line.text
            at += cells(span.text)
    assert all(line.text[40] == line.text[79] == UNICODE.rule for line in rows[:8])
    assert not any(span.role == "over" for line in rows[12:] for span in line.spans)


def test_that_it_is_over_is_never_cut() -> None:
    """Its name gives way to the state, beside three others in a small window."""
    calls = [wait(number, -1100.0, f"Air Window panels {number}", ringing=number > 2) for number in (1, 2, 3, 4)]
    text = "\n".join(item.text for item in far_rows(calls, "Stir", "f back", 60, 20, UNICODE))
    assert text.count("over, quiet") == text.count("OVER !") == 2
    assert all(re.search(rf"{number} AIR W[A-Z ]*… {number}  (OVER|over)", text) for number in (1, 2, 3, 4))


def test_names_are_as_large_as_letters_go() -> None:
    """Words that find no room are left out; the number that tells like pieces apart stays."""
    rows = far_rows([wait(1, 700.0, "Air Linen tea towels of the far table 7")], "Stir", "f back", 80, 24, UNICODE)
    text = [item.text.strip() for item in rows]
    drawn = [line.rstrip() for line in big("AIR LINEN TEA 7", 1, UNICODE)]
    assert all(any(line in shown for shown in text) for line in drawn)
    assert any("1 AIR LINEN TEA TOWELS" in line for line in text)


def test_over_says_over_and_counts_up() -> None:
    """A wait that is over says so in words, with a plus and an exclamation mark."""
    late = wait(1, -151.0, ringing=True)
    assert clock_text(late) == "+2:31"
    [found] = wait_rows([late], None, 80, 3, UNICODE)
    assert "OVER +2:31" in found.text
    assert found.text.rstrip().endswith("!")


@pytest.mark.parametrize("late", [23 * 60.0, 2 * 3600.0, 17 * 3600.0])
@pytest.mark.parametrize("most", [1, 4])
def test_however_long_it_is_over_its_time_stands_off_its_name(late: float, most: int) -> None:
    """Alone in a row or two to a row, ringing or quiet, a space stands before the time, which is whole."""
    waits = [wait(number, -late, "Air Silk cloth 2", ringing=number % 2 == 0) for number in range(1, most + 1)]
    for found in wait_rows(waits, None, 80, 2, UNICODE):
        times = re.findall(r" (?:over |OVER )?(\+[\d:]+) ", found.text)
        assert times == [clock_text(waits[0])] * (2 if most > 1 else 1)


def test_a_quieted_wait_looks_unlike_one_that_rings() -> None:
    """After it was heard a wait is over and quiet, in small letters, near and far."""
    heard = wait(1, -12 * 60.0)
    [found] = wait_rows([heard], None, 80, 3, UNICODE)
    assert "over +12:00" in found.text
    assert "quiet" in found.text
    for late, words in ((heard, "over, quiet"), (evolve(heard, ringing=True), "OVER !")):
        text = "\n".join(item.text for item in far_rows([late], "", "f back", 80, 24, UNICODE))
        assert words in text
        assert ("OVER" in text) is late.ringing


@pytest.mark.parametrize("width", [60, 80])
def test_when_a_call_comes_is_never_cut(width: int) -> None:
    """However long the words of a nudge are, its time stands before them; the wait's name is whole."""
    long = wait(1, 4000.0, "pH sample cooling", nudge="stir gently, read the temperature", nudge_left=65.0)
    [found] = wait_rows([long], None, width, 3, UNICODE)
    assert "in 1:05: stir" in found.text
    assert "pH sample cooling" in found.text


def test_more_waits_than_rows_are_counted() -> None:
    """What finds no row is not forgotten."""
    rows = wait_rows([wait(number, 60.0 * number) for number in range(1, 10)], "w1", 80, 3, UNICODE)
    assert len(rows) == 3
    assert "5 more" in rows[-1].text


@pytest.mark.parametrize("width", [60, 80, 120])
def test_more_than_two_waits_stand_two_to_a_row(width: int) -> None:
    """Four are seen at once in two rows, each with its number, its name and its time."""
    waits = [wait(number, 600.0 * number, f"Lot {number}") for number in range(1, 5)]
    rows = wait_rows(waits, "w3", width, 2, UNICODE)
    assert len(rows) == 2
    assert all(cells(item.text) <= width for item in rows)
    for number, text in ((1, rows[0].text), (2, rows[0].text), (3, rows[1].text), (4, rows[1].text)):
        assert f"{number}  Lot {number}" in text.replace("›", " ")
        assert f"{10 * number}:00" in text
    assert "‹3›" in rows[1].text


def test_a_ringing_wait_has_its_own_row_while_there_is_room() -> None:
    """What it asks for is read in full; where room is short it still rings in the first place."""
    calls = [wait(1, 900.0, "Scour", ringing=True, nudge="stir gently"), *(wait(number, 600.0) for number in (2, 3, 4))]
    roomy = wait_rows(calls, None, 80, 3, UNICODE)
    assert "! stir gently" in roomy[0].text
    assert len(roomy) == 3
    tight = wait_rows(calls, None, 80, 2, UNICODE)
    assert "1  Scour" in tight[0].text
    assert "!" in tight[0].text
    assert len(tight) == 2


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_waits_fit_their_width(width: int) -> None:
    """However long the name and the nudge, the row fits."""
    long = wait(1, 4000.0, "A very long name of a wait that nobody needs", nudge="turn the fibre over", nudge_left=65.0)
    assert all(cells(item.text) <= width for item in wait_rows([long], None, width, 3, UNICODE))


def test_the_alphabet_follows_the_encoding() -> None:
    """Where the terminal cannot carry the signs, plain ones are taken."""
    assert signs_for("utf-8") is UNICODE
    assert signs_for("latin-1") is ASCII
    assert signs_for(None) is ASCII


def test_a_row_knows_its_words() -> None:
    """The words of a row are those of its spans."""
    assert row("a ", Span("b", "care"), key="k").text == "a b"


def test_a_cut_name_keeps_its_number() -> None:
    """Two like pieces airing side by side are told apart where the window is narrow."""
    waits = [wait(number, 600.0, f"Air Linen tea towels of the far table {number}") for number in (1, 2)]
    found = [item.text for item in wait_rows(waits, None, 60, 3, UNICODE)]
    assert all(f"… {number} " in text for number, text in zip((1, 2), found, strict=True))
