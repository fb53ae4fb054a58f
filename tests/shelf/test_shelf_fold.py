"""What follows from the shelf's log, and that every window comes to the same."""

from __future__ import annotations

import random
from datetime import timedelta

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.shelf.shelves import EVENTS, MAY, item, logs, noted, of, used

from vatside.shelf.events import (
    ItemBought,
    ItemChanged,
    ItemFinished,
    ItemWeighed,
    Noted,
    NoteDropped,
    PriceSet,
    merged,
)
from vatside.shelf.shelf import shelf
from vatside.units import Amount


@given(logs(), st.data())
def test_what_is_dropped_is_as_if_it_had_not_been(log: tuple[Noted, ...], data: st.DataObject) -> None:
    """Every other entry counts as before."""
    log = tuple(entry for entry in log if not isinstance(entry.event, NoteDropped))
    if not log:
        return
    gone = data.draw(st.sampled_from(log))
    dropped = shelf((*log, Noted(99, "last", MAY, NoteDropped(gone.id))))
    without = shelf(tuple(entry for entry in log if entry is not gone))
    assert evolve(dropped, noted=()) == evolve(without, noted=())


def test_what_was_bought_is_there() -> None:
    """A bag of 100 g holds 100 g."""
    assert of(ItemBought(item())).owned[0].left == 100


def test_uses_come_off() -> None:
    """Two days took 6 g and 4 g of it."""
    assert of(ItemBought(item()), used("i1", 6, 1), used("i1", 4, 2, "s2")).owned[0].left == 90


def test_a_use_said_again_counts_once() -> None:
    """The same step of the same session: the later word counts."""
    owned = of(ItemBought(item()), used("i1", 6), used("i1", 6), used("i1", 5)).owned[0]
    assert (owned.left, len(owned.uses)) == (95, 1)


def test_a_use_can_move_to_another_item() -> None:
    """It was the other bag after all."""
    found = of(ItemBought(item()), ItemBought(item("i2")), used("i1", 6), used("i2", 6))
    assert [owned.left for owned in found.owned] == [100, 94]


def test_a_weighing_starts_afresh() -> None:
    """Weighed at 80 g on the 10th: what was used before no longer counts, what comes after does."""
    log = (
        *noted(ItemBought(item()), used("i1", 6, 1)),
        Noted(3, "w", MAY + timedelta(days=9), ItemWeighed("i1", Amount(80, "g"))),
        Noted(4, "u", MAY + timedelta(days=20), used("i1", 5, 15, "s2")),
    )
    assert shelf(log).owned[0].left == 75


def test_a_use_booked_late_counts_by_when_it_was() -> None:
    """Used on the 5th, booked after the weighing of the 10th: the scale has seen it already."""
    log = (
        *noted(ItemBought(item())),
        Noted(2, "w", MAY + timedelta(days=9), ItemWeighed("i1", Amount(80, "g"))),
        Noted(3, "u", MAY + timedelta(days=20), used("i1", 5, 5)),
    )
    assert shelf(log).owned[0].left == 80


def test_more_used_than_there_was_is_said_not_owed() -> None:
    """Nothing is left, and 5 g too much were booked."""
    owned = of(ItemBought(item(grams=10)), used("i1", 15)).owned[0]
    assert (owned.left, owned.over) == (0, 5)


def test_a_finished_item_is_no_longer_there_until_it_is_weighed() -> None:
    """Called finished, found again behind the soap."""
    gone = of(ItemBought(item()), ItemFinished("i1"))
    assert gone.there == ()
    assert gone.owned[0].finished
    assert of(ItemBought(item()), ItemFinished("i1"), ItemWeighed("i1", Amount(3, "g"))).there[0].left == 3


def test_an_item_is_dosed_by_its_label_and_its_strike() -> None:
    """40 % by the label, striking like 120 %, counts as 48 %; nothing is purer than pure."""
    strong = of(ItemBought(item()), ItemChanged("i1", "strike", Amount(120, "%"))).owned[0]
    assert strong.purity == pytest.approx(0.48)
    assert strong.active == pytest.approx(48)
    assert of(ItemBought(item()), ItemChanged("i1", "strike", Amount(500, "%"))).owned[0].purity == 1


def test_a_gram_costs_its_share_of_the_bag() -> None:
    """18 for 100 g are 0.18 a gram; without a price nobody knows."""
    assert of(ItemBought(item(price=Amount(18, "")))).owned[0].price_per_gram == pytest.approx(0.18)
    assert of(ItemBought(item())).owned[0].price_per_gram is None


@pytest.mark.parametrize(
    "change",
    [
        ItemChanged("zz", "lot", "A"),
        ItemChanged("i1", "id", "i9"),
        ItemChanged("i1", "colour", "blue"),
        ItemChanged("i1", "mass", Amount(5, "degC")),
        ItemChanged("i1", "mass", Amount(-5, "g")),
        ItemChanged("i1", "purity", Amount(400, "%")),
        ItemChanged("i1", "bought", "yesterday"),
        ItemChanged("i1", "lot", "two\nlines"),
        ItemChanged("i1", "purity", None),
        ItemWeighed("i1", Amount(-1, "g")),
        ItemWeighed("i1", Amount(5, "L")),
        ItemFinished("zz"),
        PriceSet("kwh", "dear"),
        PriceSet("gold", Amount(5, "")),
        used("i1", -5),
        used("zz", 5),
    ],
)
def test_what_does_not_fit_changes_nothing(change: ItemChanged) -> None:
    """It stays in the log, and the shelf is as it was."""
    before, after = of(ItemBought(item())), of(ItemBought(item()), change)
    assert (after.owned, after.prices) == (before.owned, before.prices)


def test_prices_are_set_and_taken_back() -> None:
    """A kilowatt-hour has a price until it has none."""
    assert of(PriceSet("kwh", Amount(0.3, "")), PriceSet("currency", "€")).prices.kwh == 0.3
    cleared = of(PriceSet("kwh", Amount(0.3, "")), PriceSet("kwh", None), PriceSet("currency", None)).prices
    assert (cleared.kwh, cleared.currency) == (None, "")


@given(logs(), logs())
def test_merging_is_the_same_either_way_round(one: tuple[Noted, ...], other: tuple[Noted, ...]) -> None:
    """Whoever merges whom, the log is the same, and so is the shelf."""
    assert merged(one, other) == merged(other, one)


@given(logs(), logs(), logs())
def test_merging_three_windows_needs_no_order(a: tuple[Noted, ...], b: tuple[Noted, ...], c: tuple[Noted, ...]) -> None:
    """Any two first, then the third."""
    assert merged(merged(a, b), c) == merged(a, merged(b, c))


@given(logs(), logs())
def test_merging_again_adds_nothing(one: tuple[Noted, ...], other: tuple[Noted, ...]) -> None:
    """A log that is in already changes nothing."""
    both = merged(one, other)
    assert merged(both, one) == both
    assert merged(both, both) == both


@given(logs(), logs())
def test_merging_loses_nothing(one: tuple[Noted, ...], other: tuple[Noted, ...]) -> None:
    """Every entry of either is in the result, once."""
    ids = [entry.id for entry in merged(one, other)]
    assert sorted(ids) == sorted({entry.id for entry in (*one, *other)})


@given(logs())
def test_any_log_gives_a_shelf(log: tuple[Noted, ...]) -> None:
    """Whatever it holds, nothing is negative, and every item can be named and priced."""
    for owned in shelf(merged(log, ())).owned:
        assert owned.left >= 0
        assert 0 <= owned.purity <= 1
        assert owned.name
        assert owned.price_per_gram is None or owned.price_per_gram >= 0


@given(st.lists(EVENTS, max_size=10), st.integers(0, 5))
def test_the_order_of_reading_does_not_matter(events: list[ItemBought], seed: int) -> None:
    """A log read in any order is put into its own order first."""
    log = list(noted(*events))
    random.Random(seed).shuffle(log)
    assert shelf(merged(tuple(log), ())) == shelf(noted(*events))


def test_bags_of_one_name_are_numbered_as_they_were_bought() -> None:
    """Also the finished one keeps its number; another lot has a name of its own and needs none."""
    found = of(
        ItemBought(item("i1", lot="A")), ItemBought(item("i2", lot="A")), ItemFinished("i1"),
        ItemBought(item("i3", lot="Old")),
    )  # fmt: skip
    assert [owned.name for owned in found.owned] == [
        "natural indigo powder, A, bag 1",
        "natural indigo powder, A, bag 2",
        "natural indigo powder, Old",
    ]


def test_a_bag_was_opened_when_it_was_first_used() -> None:
    """Unless the dyer wrote another day down; what was taken back opened nothing."""
    used_twice = of(ItemBought(item("i1")), used("i1", 5, day=9, session="s2"), used("i1", 5, day=4))
    assert used_twice["i1"].opened == "2026-05-04"
    assert of(ItemBought(item("i1", opened="2026-05-01")), used("i1", 5, day=4))["i1"].opened == "2026-05-01"
    assert of(ItemBought(item("i1")), used("i1", 0, day=4))["i1"].opened is None


def test_a_use_from_elsewhere_takes_nothing_off_any_bag() -> None:
    """The shelf knows of it, and every bag stays whole."""
    found = of(ItemBought(item("i1")), used("", 5))
    assert found["i1"].left == 100
    assert [use.grams for use in found.elsewhere] == [5]


def test_no_lot_is_dosed_as_more_than_pure() -> None:
    """95 % that strikes at 120 % would be 114 %: dosed as 100, and it says so."""
    found = of(ItemBought(evolve(item("i1"), purity=Amount(95, "%"), strike=Amount(120, "%"))))["i1"]
    assert (found.purity, found.purer_than_pure) == (1.0, True)
