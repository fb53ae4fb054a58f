"""The open waits of a session as one frozen value."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED

from vatside.log.persistent import Waits
from vatside.log.waits import Wait

NOW = VirtualClock(CREATED).now()


def wait(number: int) -> Wait:
    """A wait of its own id."""
    return Wait(f"w{number}", None, f"Wait {number}", 5.0, started=NOW, since=NOW)


@given(st.lists(st.tuples(st.booleans(), st.integers(0, 12))))
def test_a_new_wait_has_the_lowest_number_that_none_has(acts: list[tuple[bool, int]]) -> None:
    """After any beginnings and ends: by counting through the numbers; the order is that of beginning."""
    waits, ids = Waits(), list[str]()
    for begins, number in acts:
        known = waits.get(f"w{number}")
        if begins and known is None:
            taken = {other.number for other in waits}
            waits = waits.begun(wait(number))
            ids.append(f"w{number}")
            begun = waits.get(f"w{number}")
            assert begun is not None
            assert begun.number == min(set(range(1, 20)) - taken)
        elif not begins and known is not None:
            waits = waits.without(known.id)
            ids.remove(known.id)
        assert [each.id for each in waits] == ids
        assert len({each.number for each in waits}) == len(waits)


def test_a_change_leaves_the_others_and_the_older_value_alone() -> None:
    """What was there before the change still is."""
    before = Waits().begun(wait(1)).begun(wait(2)).begun(wait(3))
    second = before.get("w2")
    assert second is not None
    after = before.changed(evolve(second, minutes=9.0))
    assert [each.minutes for each in before] == [5, 5, 5]
    assert [each.minutes for each in after] == [5, 9, 5]
    assert [each.minutes for each in after.each(lambda old: evolve(old, minutes=1.0))] == [1, 1, 1]
    assert len(before.without("w1")) == 2
    assert len(before) == 3


def test_it_is_a_sequence() -> None:
    """It can be counted, indexed and compared like a tuple."""
    waits = Waits().begun(wait(1)).begun(wait(2))
    assert waits == tuple(waits)
    assert hash(waits) == hash(tuple(waits))
    assert (waits[0].id, waits[-1].id, waits[:1]) == ("w1", "w2", (waits[0],))
    assert Waits() == ()


def test_one_id_runs_once() -> None:
    """A second wait of the same id is refused."""
    with pytest.raises(ValueError, match="wait w1 runs already"):
        Waits().begun(wait(1)).begun(wait(1))
