"""What the vat has done since it rested, in minutes."""

from __future__ import annotations

import pytest

from vatside.catalogue.dyeing import pauses
from vatside.dips.entry_rule import NEVER, Rests, Stay, VatUse, as_entries, rest_due, vat_use

WHEN = Rests(after_work=180, long=60, after_entries=6, short=12)


def test_nothing_went_in() -> None:
    """A vat nobody was in has not worked."""
    assert vat_use([], 20, WHEN) == VatUse()


def test_entries_add_up_while_pieces_follow_one_another() -> None:
    """Three pieces with half a minute between them are three entries of work; two at once make one."""
    stays = [Stay(0, 5, 1), Stay(5.5, 10.5, 0.5), Stay(5.5, 10.5, 0.5), Stay(11, None, 1)]
    assert vat_use(stays, 12, WHEN) == VatUse(worked=12, entries=3, idle=0)


def test_pieces_go_in_with_others_until_one_of_these_is_out() -> None:
    """Two together and one that goes in as the first is out, by hand two entries; alone again, a third."""
    assert as_entries([(0.2, 5.2), (0, 5), (5, 10), (24, 29)]) == [(0, 5.2), (5, 10), (24, 29)]


def test_an_entry_that_is_not_full_is_an_entry() -> None:
    """One piece alone, where four go in at once, is as much of an entry as all four."""
    assert vat_use([Stay(0, 5, 0.25), Stay(20, 25, 0.25)], 25, Rests(0, 0, 6, 60)).entries == 2


def test_pieces_that_slide_through_the_vat_make_as_many_entries_as_they_fill() -> None:
    """Five halves, each going in while the one before is still in: the first two, the next two, and the last."""
    stays = [Stay(4 * number, 4 * number + 5, 0.5) for number in range(5)]
    assert vat_use(stays, 21, WHEN).entries == 3


def test_a_gap_that_is_long_enough_is_a_rest() -> None:
    """Ten minutes with nobody in count as the short rest of twelve: entries begin anew, work goes on."""
    found = vat_use([Stay(0, 5, 1), Stay(15, 20, 1)], 20, WHEN)
    assert (found.entries, found.worked) == (1, 20)


@pytest.mark.parametrize(("gap", "entries"), [(7.9, 2), (8.0, 1)])
def test_two_thirds_of_a_short_rest_are_one(gap: float, entries: int) -> None:
    """Of twelve minutes eight count as a rest, and a little less does not: ours, stated in the code."""
    assert vat_use([Stay(0, 5, 1), Stay(5 + gap, 20, 1)], 20, WHEN).entries == entries


@pytest.mark.parametrize(("gap", "worked"), [(39.9, 64.9), (40.0, 20)])
def test_two_thirds_of_a_long_rest_are_one(gap: float, worked: float) -> None:
    """Of an hour forty minutes count."""
    stays = [Stay(0, 5, 1), Stay(5 + gap, 25 + gap, 1)]
    assert vat_use(stays, 25 + gap, WHEN).worked == pytest.approx(worked)


def test_the_rests_of_the_catalogue() -> None:
    """An hour after three hours (Mairet 1938); ten to fifteen minutes after five or six entries (practice)."""
    facts = pauses()
    assert (facts.work.value, facts.rest.value) == (180, 60)
    assert (facts.entries.value, facts.entries.low, facts.entries.high) == (6, 5, 6)
    assert (facts.short_rest.value, facts.short_rest.low, facts.short_rest.high) == (12, 10, 15)


def test_an_hour_without_anybody_is_the_long_rest() -> None:
    """After it the work counts from the next entry."""
    assert vat_use([Stay(0, 5, 1), Stay(70, 75, 1)], 75, WHEN).worked == 5


def test_the_rest_going_on_counts_once_it_is_over() -> None:
    """Eleven minutes of twelve are not enough; twelve are."""
    stays = [Stay(number, number + 1, 1) for number in range(6)]
    assert vat_use(stays, 6 + 11, WHEN).entries == 6
    assert vat_use(stays, 6 + 12, WHEN).entries == 0


@pytest.mark.parametrize(
    ("vat", "minutes"),
    [(VatUse(60, 5), None), (VatUse(60, 6), 12), (VatUse(180, 0), 60), (VatUse(180, 6), 60)],
)
def test_what_is_due(vat: VatUse, minutes: float | None) -> None:
    """A short rest after six entries, an hour after three hours of work, the longer one first."""
    due = rest_due(vat, WHEN)
    assert (due[0] if due else None) == minutes


def test_rests_can_be_put_off() -> None:
    """A plan that asks for no rests never calls for one."""
    assert rest_due(VatUse(1e6, 1000), NEVER) is None


def test_a_rest_after_a_single_entry() -> None:
    """A vat that rests after each entry says so of one entry, not of entries."""
    assert rest_due(VatUse(entries=1), Rests(0, 0, 1, 12)) == (12, "1 entry")
