"""Words broken into lines: a number keeps its unit, whatever the width."""

from __future__ import annotations

import re

import pytest

from vatside.ui.text.rows import cells, wrap

SENTENCE = "Stir 17.5 g (1 1/2 tsp) of lye into 1 L at 55 °C, wait 1 h 30 min, add 4 tbsp 1/2 tsp: 0.8 % in 20 L."


@pytest.mark.parametrize("width", range(12, 121))
def test_a_number_and_its_unit_never_part(width: int) -> None:
    """Wherever the longest amount has room, no line ends in a number whose unit stands below."""
    lines = wrap(SENTENCE, width)
    assert " ".join(lines) == SENTENCE
    assert all(cells(line) <= width for line in lines)
    assert not [
        line for line in lines[1:] if re.match(r"(g|L|°C|tsp|tbsp|h|min|%|1/2)\b|[%°]", line) and line[:3] != "1/2"
    ]
    assert not [line for line in lines if re.search(r"\(1$", line)]


def test_where_there_is_no_room_nothing_is_lost() -> None:
    """A column narrower than an amount parts it rather than cut it."""
    assert wrap("1 1/2 tsp", 4) == ("1", "1/2", "tsp")
    assert wrap("17.5 g", 4) == ("17.5", "g")


def test_the_number_of_a_thing_may_part() -> None:
    """Only units stay: the lines of a narrow screen are filled."""
    assert wrap("in bath 2 wool goes", 9) == ("in bath 2", "wool goes")
