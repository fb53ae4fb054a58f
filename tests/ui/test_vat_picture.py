"""The picture of the vat over the day: where things stand in it, on a course made by hand."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples

from vatside.bench.desk import local
from vatside.chemistry.rates import Estimate
from vatside.log.waits import Moment, after
from vatside.outlook.vat_course import Course, Expected
from vatside.ui.text.rows import ASCII, UNICODE, Row, Signs, cells
from vatside.ui.vat.history_rows import AXIS, DOTS, HIGH, LEAST, LOW, Wanted, picture_rows, rows_of_a_curve

EIGHT = Moment(datetime(2026, 5, 2, 8, 0, tzinfo=UTC).astimezone().replace(minute=0).astimezone(UTC), 0.0, "b")
"""A full hour on the wall, wherever that hangs."""
WANTED = Wanted((40, 50), (9, 10))
TALL = 5
WIDE = 57
BRAILLE = range(0x2800, 0x2900)


def sure(value: float) -> Estimate:
    """A value without a band."""
    return Estimate(value, value, value)


DAY = Course(
    EIGHT,
    (
        Expected(0, sure(48), sure(9.8)),
        Expected(120, Estimate(41, 43, 45), Estimate(9.3, 9.5, 9.7)),
        Expected(120, sure(44), Estimate(9.3, 9.5, 9.7)),
        Expected(480, Estimate(25, 30, 35), Estimate(8.6, 9.0, 9.4)),
    ),
    now=240,
    read_C=((120, 44), (180, 41)),
    read_pH=((180, 9.4),),
    put_in=(60,),
    dips=(150,),
)
"""Six hours from now back and eight in all: made at 48 °C, read twice, in a room that cools it."""


def drawn(course: Course = DAY, width: int = WIDE, tall: int = TALL, signs: Signs = UNICODE) -> list[str]:
    """Give the rows of the picture as text."""
    return [item.text for item in picture_rows(course, WANTED, width, tall, signs)]


def hour_of(rows: list[str], minute: float) -> int:
    """Give the column in which the hours have a minute."""
    text = f"{local(after(EIGHT, 60 * minute)):%H:%M}"
    [line] = [line for line in rows if text in line]
    return line.index(text)


def columns(line: str, sign: str) -> list[int]:
    """Give the columns in which a sign stands."""
    return [column for column, each in enumerate(line) if each == sign]


def dots(rows: list[str], column: int) -> int:
    """Count the braille dots in a column of the first curve."""
    return sum((ord(line[column]) - 0x2800).bit_count() for line in rows[1 : TALL + 1] if ord(line[column]) in BRAILLE)


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("width", [37, 57, 90])
def test_a_reading_stands_in_the_column_of_its_hour(width: int, signs: Signs) -> None:
    """Read two and three hours after the vat was made: at these hours, or between two where there are few."""
    rows = drawn(width=width, signs=signs)
    read = [column for line in rows[1 : TALL + 1] for column in columns(line, signs.read)]
    assert min(read) == hour_of(rows, 120)
    assert max(read) == pytest.approx((hour_of(rows, 120) + hour_of(rows, 240)) / 2, abs=1)
    assert [column for line in rows[TALL + 2 : 2 * TALL + 2] for column in columns(line, signs.read)] == [max(read)]


def test_a_reading_stands_in_the_row_of_its_value() -> None:
    """44 °C was read between the rows of 50 and 40 °C, 41 °C no higher than that."""
    rows = drawn(tall=HIGH)
    at = {line.strip().split()[0]: number for number, line in enumerate(rows[: HIGH + 1])}
    [first, second] = [number for number, line in enumerate(rows[: HIGH + 1]) for _ in columns(line, "●")]
    assert at["50"] < first <= second <= at["40"]


def test_now_goes_through_both_curves() -> None:
    """One column from top to foot wherever no stroke is, at the hour that it is, with its word below."""
    rows = drawn()
    [column] = {column for line in rows for column in columns(line, "│")}
    assert column == hour_of(rows, 240)
    assert [line.index("now") for line in rows if "now" in line][-1] == column
    assert sum("│" in line for line in rows[1 : TALL + 1]) > 1
    assert sum("│" in line for line in rows[TALL + 2 : 2 * TALL + 2]) > 1


def test_a_vat_that_is_gone_has_no_now() -> None:
    """Neither line nor word."""
    rows = drawn(evolve(DAY, now=None))
    assert not any("│" in line or "now" in line for line in rows)
    assert "41 °C last read" in rows[0], "what was read last is known better than what is worked out"
    assert "30 °C at the end (25–35)" in drawn(evolve(DAY, now=None, read_C=()))[0]


def test_a_stroke_is_thin_where_the_vat_was_read_and_thicker_with_time() -> None:
    """Two dots to a column of cells at the beginning, more an hour and a half later, fewer after the reading."""
    rows = drawn()
    first, later, after_it = AXIS + 1, hour_of(rows, 120) - 1, hour_of(rows, 120) + 1
    assert dots(rows, first) <= 4
    assert dots(rows, later) > dots(rows, first)
    assert dots(rows, after_it) < dots(rows, later)


def test_ahead_it_is_dotted() -> None:
    """Right of now the second column of dots of each cell is empty."""
    rows = drawn()
    right = sum(two for _, two in DOTS)
    now = hour_of(rows, 240)
    there = [ord(sign) - 0x2800 for line in rows for sign in line[now + 1 :] if ord(sign) in BRAILLE]
    assert len(there) > TALL
    assert not any(cell & right for cell in there)


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
def test_the_windows_are_dashed_and_in_numbers(signs: Signs) -> None:
    """Rows of 50 and 40 °C and of pH 10.0 and 9.0, each with its number; both windows in words above the curve."""
    rows = drawn(signs=signs)
    labelled = {line[:AXIS].strip(): line for line in rows if line[:AXIS].strip()}
    assert all(signs.dash in labelled[number][AXIS:] for number in ("50", "40", "10.0", "9.0"))
    assert rows[0].endswith(f"{signs.dash} 40–50")
    assert rows[TALL + 1].endswith(f"{signs.dash} 9.0–10.0")


def test_what_is_expected_now_is_said() -> None:
    """Four hours on, a third of the way from 44 to 30: 39 °C, 36 to 41 by its ends."""
    rows = drawn()
    assert rows[0].startswith(" Warmth  39 °C now (38–41)")
    assert rows[TALL + 1].startswith(" pH  9.3 now (9.1–9.6)")


def test_what_was_done_stands_below() -> None:
    """An arrow an hour after the vat was made, a dot for the dip an hour and a half later."""
    rows = drawn()
    marks = rows[2 * TALL + 2]
    per_hour = (hour_of(rows, 240) - hour_of(rows, 120)) / 2
    assert columns(marks, "↑") == pytest.approx([AXIS + per_hour], abs=1)
    assert columns(marks, "·") == pytest.approx([AXIS + 2.5 * per_hour], abs=1)


def test_only_signs_that_are_there_are_explained() -> None:
    """Nothing read, put in or dipped: only the window and what lies ahead, which counts no dip that is planned."""
    bare = evolve(DAY, read_C=(), read_pH=(), put_in=(), dips=())
    assert drawn(bare)[-1].split() == ["╌", "wanted", "ahead:", "without", "dips"]
    assert "● read" in " ".join(drawn()[-2:])


def test_letters_alone_where_there_is_no_braille() -> None:
    """Every sign is of ASCII, but for the degrees and the dash between two numbers."""
    rows = drawn(signs=ASCII)
    assert all(sign.isascii() or sign in "°–" for line in rows for sign in line)
    now = hour_of(rows, 240)
    assert any(":" in line[AXIS:now] for line in rows[1 : TALL + 1])
    assert any("." in line[now:] for line in rows[1 : TALL + 1])


@pytest.mark.parametrize(("height", "tall"), [(20, LOW), (24, LOW + 1), (35, LOW + 1), (36, HIGH), (60, HIGH)])
def test_a_curve_has_more_rows_on_a_taller_screen(height: int, tall: int) -> None:
    """Both curves, their names, marks, hours and words stay below the rows of the smallest screen."""
    assert rows_of_a_curve(height) == tall


VALUES = st.floats(0, 100)


@st.composite
def courses(draw: st.DrawFn) -> Course:
    """Any course: values far out, moments that coincide, readings anywhere in it."""
    ends = st.lists(VALUES, min_size=3, max_size=3).map(sorted).map(lambda three: Estimate(*three))
    acid = st.none() | st.lists(st.floats(0, 14), min_size=3, max_size=3).map(sorted).map(
        lambda three: Estimate(*three)
    )
    minutes = sorted(draw(st.lists(st.floats(0, 2000), min_size=1, max_size=8)))
    minutes[0] = 0.0
    within = st.floats(0, minutes[-1])
    read = st.lists(st.tuples(within, VALUES), max_size=4).map(tuple)
    return Course(
        EIGHT, tuple(Expected(minute, draw(ends), draw(acid)) for minute in minutes), draw(st.none() | within),
        draw(read), draw(read), tuple(draw(st.lists(within, max_size=4))), tuple(draw(st.lists(within, max_size=4))),
    )  # fmt: skip


@examples(60)
@given(courses(), st.integers(5, 120), st.integers(LOW, HIGH), st.sampled_from([UNICODE, ASCII]))
def test_nothing_is_drawn_outside(course: Course, width: int, tall: int, signs: Signs) -> None:
    """Whatever the course: as many rows as there should be, none wider than its room, readings in their curve."""
    rows: tuple[Row, ...] = picture_rows(course, WANTED, width, tall, signs)
    assert all(cells(line.text) <= width for line in rows)
    if width < LEAST:
        assert rows == ()
        return
    assert 2 * tall + 4 <= len(rows) <= 2 * tall + 7
    for curve, read in ((rows[1 : tall + 1], course.read_C), (rows[tall + 2 : 2 * tall + 2], course.read_pH)):
        signs_read = sum(line.text.count(signs.read) for line in curve)
        assert bool(read) == bool(signs_read)
        assert signs_read <= len(read)
