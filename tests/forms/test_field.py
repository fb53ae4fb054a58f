"""The engine of all forms, on rows of its own: what it reads, prints and refuses."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.forms.field import Field, read, show
from vatside.plan.sheet import Stage
from vatside.units import Amount, Kind, Problem

AT = Stage.PLAN
MASS = Field("mass", "Mass", AT, Kind.MASS, "g", 1, 1000)
COUNT = Field("count", "Count", AT, Kind.NUMBER, "", 0, 10)
PH = Field("pH", "pH", AT, Kind.NUMBER, "", 0, 14, decimal=True)
REDOX = Field("redox", "Redox", AT, Kind.NUMBER, "", -1500, 1000, decimal=True)
COLOUR = Field("colour", "Colour", AT, choices=(("b", "blue"), ("g", "green"), ("gy", "green-yellow")))
NAME = Field("name", "Name", AT, optional=True)
ROWS = (MASS, COUNT, PH, REDOX, COLOUR, NAME)


@pytest.mark.parametrize(
    ("row", "text", "value"),
    [
        (MASS, "250", Amount(250, "g")), (MASS, "1/2 lb", Amount(0.5, "lb")), (COUNT, "3", Amount(3, "")),
        (PH, "9,3", Amount(9.3, "")), (REDOX, "-720", Amount(-720, "")), (REDOX, "−720", Amount(-720, "")),
        (COLOUR, "b", "b"), (COLOUR, "Green", "g"), (COLOUR, "green-", "gy"), (NAME, "", None), (NAME, " a ", "a"),
    ],
)  # fmt: skip
def test_what_is_typed_is_read(row: Field, text: str, value: object) -> None:
    """Numbers in the row's unit, choices by their beginning, a minus where there is something below zero."""
    assert read(row, text) == value


@pytest.mark.parametrize(
    ("row", "text", "says"),
    [
        (MASS, "", "nothing stands here; between 1 g and 1 kg"), (MASS, "0 g", "0 g cannot be; between"),
        (MASS, "-5 g", "less than nothing"), (COUNT, "2.5", "2.5 cannot be; a whole number between 0 and 10"),
        (PH, "15", "15 cannot be; between 0 and 14"), (COLOUR, "puce", "puce is none of blue, green, green-yellow"),
        (COLOUR, "gre", "gre could be green, green-yellow"), (NAME, "a\x07", "characters that cannot be shown"),
        (NAME, "x" * 81, "81 letters are too many; at most 80"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told(row: Field, text: str, says: str) -> None:
    """The sentence begins with the row's name, and says what would be right."""
    problem = read(row, text)
    assert isinstance(problem, Problem)
    assert problem.text.startswith(f"{row.label}: ")
    assert says in problem.text


@given(st.sampled_from(ROWS), st.text(max_size=30))
def test_any_text_is_read_or_told(row: Field, text: str) -> None:
    """What is read prints as what reads back as the same; what is not is a printable sentence."""
    value = read(row, text)
    if isinstance(value, Problem):
        assert value.text.isprintable()
    else:
        assert read(row, show(row, value)) == value
