"""How often a long session is written anew."""

from __future__ import annotations

from itertools import accumulate

import pytest

from vatside.storage.session_file import TIDY_EVERY, tidy_after


def test_short_sessions_are_tidied_every_five_hundred_entries() -> None:
    """A day's own length changes nothing up to a thousand entries."""
    assert {tidy_after(entries) for entries in (0, 10, 1000)} == {TIDY_EVERY}


@pytest.mark.parametrize("entries", [2_000, 10_000, 100_000])
def test_an_entry_is_rewritten_a_few_times_at_most(entries: int) -> None:
    """However long a session gets, tidying has written no more than three times as many entries as there are."""
    lengths = list(accumulate(range(200), lambda length, _: length + tidy_after(length), initial=0))
    written = [length for length in lengths if length <= entries]
    assert sum(written) <= 3 * entries
