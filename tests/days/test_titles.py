"""What a day is called beside the others."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.days.repeat import again, free_title
from vatside.forms.fields import LONGEST_TEXT


def test_a_day_again_is_named_after_the_first_once() -> None:
    """Neither does `again` pile up, nor its number, nor does a name outgrow its field."""
    assert again(again("Fair")) == "Fair, again"
    assert again("Fair, again 2") == "Fair, again"
    assert len(again("x" * 80)) == 80


@pytest.mark.parametrize(
    ("taken", "free"),
    [
        ((), "Towels, again"),
        (("Towels",), "Towels, again"),
        (("Towels, again",), "Towels, again 2"),
        (("Towels, again", "Towels, again 2", "Towels, again 4"), "Towels, again 3"),
    ],
)
def test_a_taken_title_gets_the_next_number(taken: tuple[str, ...], free: str) -> None:
    """The first number that no other day has."""
    assert free_title("Towels, again", taken) == free


@given(st.text("ab 1", min_size=1, max_size=LONGEST_TEXT), st.integers(1, 30))
def test_a_free_title_is_free_and_fits(title: str, days: int) -> None:
    """However many days are begun one after the other, each has a title of its own that its field takes."""
    taken: list[str] = []
    for _ in range(days):
        taken.append(free_title(title, taken))
    assert len(set(taken)) == days
    assert all(len(name) <= LONGEST_TEXT for name in taken)
