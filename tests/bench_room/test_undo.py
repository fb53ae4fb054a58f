"""What can be taken back, in which sitting, and how it comes back; what asks before it goes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts, commands
from vatside.bench.commands import ASKS_FOR, OnceMore
from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day, open_day
from vatside.bench.undo import bring_back, last_undo, take_back
from vatside.plan.plan import Plan


@pytest.fixture(name="clock")
def _clock() -> VirtualClock:
    return VirtualClock()


@pytest.fixture(name="desk")
def _desk(tmp_path: Path, clock: VirtualClock) -> Iterator[Desk]:
    desk = new_day(tmp_path, clock)
    yield desk
    desk.keeping.close()


def typed(desk: Desk, clock: VirtualClock, *masses: str) -> list[Plan]:
    """Type one mass after the other, a minute apart; give the plans that came of them."""
    plans = []
    for mass in masses:
        clock.advance(60)
        desk.type("lots.a.mass", mass)
        desk.leave()
        plans.append(desk.plan)
    clock.advance(60)
    return plans


def test_what_was_taken_back_comes_back_in_turn(desk: Desk, clock: VirtualClock) -> None:
    """Three acts back and three forward end where they began, with every plan between on the way."""
    first = desk.plan
    one, two, three = typed(desk, clock, "100 g", "200 g", "400 g")
    seen = []
    for act in (take_back, take_back, take_back, bring_back, bring_back, bring_back):
        clock.advance(1)
        act(desk)
        seen.append(desk.plan)
    assert seen == [two, one, first, one, two, three]
    assert not last_undo(desk.state)
    assert bring_back(desk) == "There is nothing to bring back."


def test_at_one_moment_too(desk: Desk, clock: VirtualClock) -> None:
    """Keys that arrive in one chunk take and bring back one act each."""
    first = desk.plan
    one, two = typed(desk, clock, "100 g", "200 g")
    take_back(desk)
    take_back(desk)
    assert desk.plan == first
    bring_back(desk)
    assert desk.plan == one
    bring_back(desk)
    assert desk.plan == two


def test_what_came_back_can_be_taken_back_again(desk: Desk, clock: VirtualClock) -> None:
    """To and fro, as often as one likes."""
    first = desk.plan
    (one,) = typed(desk, clock, "100 g")
    for _ in range(3):
        take_back(desk)
        assert desk.plan == first
        assert bring_back(desk).startswith("Brought back: ")
        assert desk.plan == one


def test_a_new_act_leaves_nothing_to_bring_back(desk: Desk, clock: VirtualClock) -> None:
    """What was taken back before something else was done is gone for good."""
    typed(desk, clock, "100 g")
    take_back(desk)
    acts.note(desk, "a cat in the yarn")
    assert not last_undo(desk.state)
    assert bring_back(desk) == "There is nothing to bring back."


def test_an_act_of_several_entries_comes_back_whole(desk: Desk, clock: VirtualClock) -> None:
    """A wait that is ended and its step that is done go and come with one key each."""
    step = next(step for step in desk.steps if step.minutes)
    desk.record(*(commands.acknowledge(item) for item in desk.steps if item.cautions))
    acts.do(desk, step)
    clock.advance(60)
    acts.end(desk, desk.waits(clock.now())[0])
    clock.advance(60)
    take_back(desk)
    assert step.id not in desk.state.done
    assert len(desk.state.waits) == 1
    bring_back(desk)
    assert step.id in desk.state.done
    assert not desk.state.waits


def test_an_earlier_sitting_is_taken_back_only_when_asked_once_more(
    desk: Desk, clock: VirtualClock, tmp_path: Path
) -> None:
    """The sentence says what would go and from when (2 May 2026 is a Saturday); only the next press does it."""
    (one,) = typed(desk, clock, "100 g")
    path = desk.keeping.path
    assert path is not None
    desk.keeping.close()
    again = open_day(path, clock)
    said = take_back(again)
    assert "Sat 2 May" in said
    assert "100 g" in said
    assert "u once more" in said
    assert again.plan == one
    clock.advance(ASKS_FOR + 1)
    take_back(again)
    assert again.plan == one, "asked again, for the first press is forgotten"
    assert take_back(again).startswith("Taken back: ")
    assert again.plan != one
    again.keeping.close()


def test_a_lot_with_anything_in_it_goes_only_when_asked_once_more(desk: Desk, clock: VirtualClock) -> None:
    """One that was just added goes at once; one that was weighed or named is asked about."""
    fresh = acts.add_lot(desk)
    assert acts.remove_lot(desk, fresh).endswith("is out; u brings it back.")
    lot = acts.add_lot(desk)
    desk.type(f"lots.{lot}.name", "Scarves")
    desk.leave()
    assert "Scarves (100 g, 1 piece)" in acts.remove_lot(desk, lot)
    assert [item.id for item in desk.plan.lots] == ["a", lot]
    clock.advance(1)
    assert acts.remove_lot(desk, lot) == "Scarves is out; u brings it back."
    assert [item.id for item in desk.plan.lots] == ["a"]


def test_a_lot_that_changed_since_the_question_is_asked_about_anew(desk: Desk) -> None:
    """The answer is to what was asked, and to nothing else."""
    lot = acts.add_lot(desk)
    desk.type(f"lots.{lot}.mass", "50 g")
    desk.leave()
    acts.remove_lot(desk, lot)
    desk.type(f"lots.{lot}.mass", "75 g")
    desk.leave()
    assert "75 g" in acts.remove_lot(desk, lot)
    assert len(desk.plan.lots) == 2


def test_an_answer_counts_for_its_question_alone() -> None:
    """Another question, or too late, is no yes; a yes is used up."""
    again = OnceMore(5)
    assert [again.answers(*asked) for asked in (("a", 0), ("b", 1), ("b", 2), ("b", 3), ("b", 8), ("b", 9))] == [
        False, False, True, False, False, True,
    ]  # fmt: skip
