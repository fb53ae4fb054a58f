"""What a day line shows of a day under way: lunch taken once, what went before now, a lane for each lot, why then."""

from datetime import timedelta

import pytest
from attrs import evolve
from tests.dayline.test_held_day import as_planned
from tests.dayline.test_need import EIGHT, day_of, plan_of

from vatside.dayline.day_steps import steps
from vatside.dayline.day_words import deeds, why
from vatside.dayline.going import Going, Waiting
from vatside.dayline.held_day import held_day
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.lanes import DIPS, Pens, axis, lanes, lot_lanes, since_when, strokes
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute

TWO = plan_of("wool, 200 g, 2 pieces, medium", "cotton, 200 g, 2 pieces, medium", lunch=30)
SOAK = "scour.wool.soak"


def after(old: LaidDay, made: Plan, minutes: int, going: Going) -> LaidDay:
    """The day so many minutes after eight."""
    sheet = compute(made)
    return held_day(old, made, sheet, steps(made, sheet), EIGHT + timedelta(minutes=minutes), going)


def soaking(day: LaidDay, minutes: int, longer: float = 0.0) -> Going:
    """The first step was begun when it was planned, its wait runs."""
    begun = minutes - day.laid.starts[SOAK]
    task = next(each for each in day.needed.day.tasks if each.id == SOAK)
    return Going(waits={SOAK: Waiting(begun, task.minutes - begun + longer)})


def test_a_break_that_began_as_planned_is_not_taken_twice() -> None:
    """Ten minutes into lunch twenty are left, nobody begins anything before, and later there is none."""
    old = day_of(TWO)
    begin = old.laid.breaks[0]
    going = soaking(old, 2)
    old = after(old, TWO, 2, going)
    in_it = after(old, TWO, begin + 10, evolve(going, waits={SOAK: Waiting(begin + 10, 0)}))
    assert in_it.stopped is not None
    assert in_it.needed.day.breaks == ()
    assert min(deed.at for deed in deeds(in_it) if deed.hands_end > deed.at) >= 20
    over = after(in_it, TWO, begin + 40, evolve(going, waits={SOAK: Waiting(begin + 40, -30)}))
    assert over.needed.day.breaks == ()
    assert deeds(over)[0].at == 0


def test_lunch_that_is_still_to_come_is_not_moved_up_by_the_clock() -> None:
    """A quarter of an hour into its window, it still begins when it was to."""
    made = evolve(TWO, place=evolve(TWO.place, lunch_from="08:00", lunch_to="13:30"))
    old = day_of(made)
    new = after(old, made, 17, as_planned(old, 17))
    assert timedelta(0) <= new.at(new.laid.breaks[0]) - old.at(old.laid.breaks[0]) < timedelta(minutes=5)


def test_lanes_show_what_went_before_now() -> None:
    """The wetting out that runs stands in the lane of its lot from before now on."""
    old = day_of(TWO)
    new = after(old, TWO, 9, soaking(old, 9))
    since = since_when(new)
    assert since == -9 + old.laid.starts[SOAK]
    wool = next(lane for lane in lot_lanes(new, TWO, since) if lane.name == TWO.lots[0].name)
    assert wool.bars[0].begin == since
    assert all(bar.begin >= 0 for lane in lanes(new) for bar in lane.bars)


def test_every_lot_has_a_lane_with_its_dips() -> None:
    """As many bars of dips as the rounds that a piece of it is in."""
    day = day_of(TWO)
    for lane, lot in zip(lot_lanes(day, TWO), TWO.lots, strict=True):
        turns = [turn for turn in day.needed.rounds.values() if any(p.startswith(f"{lot.id}.") for p in turn.pieces)]
        assert 1 <= sum(bar.label == DIPS for bar in lane.bars) <= len(turns)


@pytest.mark.parametrize("columns", [40, 60, 80, 110])
def test_no_name_in_a_bar_is_cut_in_a_word(columns: int) -> None:
    """A bar bears its name, the words of it that it has room for, or the one letter that the legend tells."""
    day = day_of(TWO)
    over = axis(day, columns)
    for stroke in (each for lane in lanes(day) for each in strokes(day, lane, over, Pens())):
        if stroke.is_word and len(stroke.text) > 1:
            assert f"{stroke.of} ".startswith(f"{stroke.text} ")


def test_every_step_of_a_day_says_why_it_stands_there() -> None:
    """At least one sentence each, none longer than a person reads at the stove."""
    day = day_of(TWO)
    for deed in deeds(day):
        said = why(day, deed.task)
        assert said
        assert all(sentence.endswith(".") and len(sentence) < 240 for sentence in said)


def test_a_step_that_begins_once_another_is_over_names_it() -> None:
    """Wherever a step begins just as what it waits for ends, the first sentence says until when."""
    day, starts = day_of(TWO), day_of(TWO).laid.starts
    tight = [link for link in day.needed.day.links if starts[link.last] == starts[link.first] + link.least > 0]
    assert len(tight) > 10
    assert all(why(day, link.last)[0].startswith(f"Until {day.at(starts[link.last]):%H:%M}: ") for link in tight)
