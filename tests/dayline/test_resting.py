"""What the vat has done since it rested."""

from __future__ import annotations

import pytest

from vatside.dayline.resting import Rests, Stay, VatUse, rest_due, vat_use

WHEN = Rests(after_work=180, long=60, after_entries=6, short=12)


def test_nothing_went_in() -> None:
    """A vat nobody was in has not worked."""
    assert vat_use([], 1000, WHEN) == VatUse()


def test_entries_add_up_while_pieces_follow_one_another() -> None:
    """Three pieces with half a minute between them are three entries of work; two at once make one."""
    stays = [Stay(0, 300, 1), Stay(330, 630, 0.5), Stay(330, 630, 0.5), Stay(660, None, 1)]
    assert vat_use(stays, 700, WHEN) == VatUse(worked=700, entries=3, idle=0)


def test_a_gap_that_is_long_enough_is_a_rest() -> None:
    """Ten minutes with nobody in count as the short rest of twelve: entries begin anew, work goes on."""
    stays = [Stay(0, 300, 1), Stay(900, 1200, 1)]
    found = vat_use(stays, 1200, WHEN)
    assert (found.entries, found.worked) == (1, 1200)


def test_an_hour_without_anybody_is_the_long_rest() -> None:
    """After it the work counts from the next entry."""
    stays = [Stay(0, 300, 1), Stay(4000, 4300, 1)]
    assert vat_use(stays, 4300, WHEN).worked == 300


def test_the_rest_going_on_counts_once_it_is_over() -> None:
    """Eleven minutes of twelve are not enough; twelve are."""
    stays = [Stay(0, 300, 6)]
    assert vat_use(stays, 300 + 11 * 60, WHEN).entries == 6
    assert vat_use(stays, 300 + 12 * 60, WHEN).entries == 0


@pytest.mark.parametrize(
    ("vat", "minutes"),
    [(VatUse(3600, 5), None), (VatUse(3600, 6), 12), (VatUse(3 * 3600, 0), 60), (VatUse(3 * 3600, 6), 60)],
)
def test_what_is_due(vat: VatUse, minutes: float | None) -> None:
    """A short rest after six entries, an hour after three hours of work, the longer one first."""
    due = rest_due(vat, WHEN)
    assert (due[0] if due else None) == minutes


def test_rests_can_be_put_off() -> None:
    """A plan that asks for no rests never calls for one."""
    assert rest_due(VatUse(1e6, 1e3), Rests(0, 0, 0, 0)) is None


def test_a_rest_after_a_single_entry() -> None:
    """A vat that rests after each entry says so of one entry, not of entries."""
    assert rest_due(VatUse(entries=1), Rests(0, 0, 1, 12)) == (12, "1 entry")
