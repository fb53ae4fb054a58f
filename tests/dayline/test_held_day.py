"""A day under way: the plan is held, a delay moves what it has to, and one sentence says what moved."""

from datetime import timedelta

from attrs import evolve
from tests.dayline.instances import form_of, form_of_day
from tests.dayline.line_checker import faults
from tests.dayline.test_need import EIGHT, plan_of

from vatside.dayline.day_steps import steps
from vatside.dayline.laid_day import LaidDay, held_day, lay_day, what_moved
from vatside.dayline.needed import NOT_BEGUN, Going, Waiting
from vatside.dayline.warn import outlook
from vatside.dips.rotation import Place, Standing
from vatside.dips.turns import Worked
from vatside.plan.plan import Plan, Workplace
from vatside.recipe.compute import compute

WOOL = plan_of("wool, 300 g, 3 pieces, medium")


def laid(plan: Plan) -> LaidDay:
    """From eight in the morning."""
    sheet = compute(plan)
    return lay_day(plan, sheet, steps(plan, sheet), EIGHT, evaluations=60)


def later(day: LaidDay, plan: Plan, minutes: int, going: Going, evaluations: int = 0) -> LaidDay:
    """So many minutes after eight."""
    sheet = compute(plan)
    now = EIGHT + timedelta(minutes=minutes)
    return held_day(day, plan, sheet, steps(plan, sheet), now, going, evaluations=evaluations)


def as_planned(day: LaidDay, minutes: int) -> Going:
    """Everything done when it was to be; the dips are the board's."""
    done, waits = {}, {}
    for task in (task for task in day.needed.day.tasks if task.id not in day.needed.rounds):
        start, step = day.laid.starts[task.id], day.needed.steps[task.id].id
        if start + task.minutes <= minutes:
            done[step] = float(minutes - start - task.minutes)
        elif start < minutes:
            waits[step] = Waiting(minutes - start, start + task.minutes - minutes)
    return Going(done, waits)


def test_a_day_that_goes_as_planned_is_held_to_the_minute() -> None:
    """An hour later every step still begins when it was to, and nothing is said to have moved."""
    day = laid(WOOL)
    after = later(day, WOOL, 60, as_planned(day, 60))
    for task in after.needed.day.tasks:
        assert after.at(after.laid.starts[task.id]) == day.at(day.laid.starts[task.id]), task.id
    assert what_moved(day, after) == ""


def test_twenty_minutes_late_at_the_second_step_moves_only_later_and_is_said() -> None:
    """Nothing was done after the first step for twenty minutes."""
    day = laid(WOOL)
    first, second = sorted(day.laid.starts, key=lambda name: day.laid.starts[name])[:2]
    now = day.laid.starts[second] + 20
    going = Going(done={}, waits={first: Waiting(now - 3, day.needed.day.tasks[0].minutes - now)})
    after = later(day, WOOL, now, going)
    assert faults(form_of_day(after.needed.day), form_of(after.laid)) == []
    to_come = [task.id for task in after.needed.day.tasks if task.id not in after.needed.day.running]
    assert all(after.at(after.laid.starts[name]) >= day.at(day.laid.starts[name]) for name in to_come)
    assert "20 min later" in what_moved(day, after)
    assert "all done" in what_moved(day, after)


def test_lunch_that_was_taken_is_not_taken_again() -> None:
    """Ten minutes after it began nobody works for the rest of it, and none is planned."""
    plan = evolve(WOOL, place=Workplace(lunch=45))
    day = laid(plan)
    (begin,) = day.laid.breaks
    after = later(day, plan, begin + 10, as_planned(day, begin + 10))
    assert after.laid.breaks == ()
    assert after.needed.day.resources["hands"].away == ((0, 35, 1),)


def test_everybody_stops_for_forty_minutes_and_what_can_wait_waits() -> None:
    """A break by one key is an absence from now; no rule is broken but what a fact makes late, and that is counted."""
    day = laid(WOOL)
    going = evolve(as_planned(day, 25), absences=((0, 40, 1),))
    after = later(day, WOOL, 25, going)
    wrong = faults(form_of_day(after.needed.day), form_of(after.laid))
    assert all("is the most" in fault for fault in wrong)
    assert bool(wrong) == (after.laid.overrun > 0)
    assert "longer than is good for it" in outlook(after).sentences[0]
    coming = [task for task in after.needed.day.tasks if task.id not in after.needed.day.running]
    assert all(after.laid.starts[task.id] >= 40 for task in coming if task.uses)


def test_a_stir_that_nobody_is_there_for_is_named() -> None:
    """The wait runs on while everybody is away."""
    day = laid(WOOL)
    after = later(day, WOOL, 60, evolve(as_planned(day, 60), absences=((0, 40, 1),)))
    assert "Stock rest: nobody is there to stir gently, read the temperature." in outlook(after).sentences


def test_a_search_from_the_held_plan_never_ends_later() -> None:
    """It may only gain."""
    plan = plan_of("wool, 300 g, 3 pieces, medium", "cotton, 400 g, 4 pieces, medium")
    day = laid(plan)
    held, searched = (later(day, plan, 45, as_planned(day, 45), count) for count in (0, 30))
    assert searched.laid.value <= held.laid.value
    assert later(day, plan, 0, NOT_BEGUN).laid.end == day.laid.end


def test_rounds_that_are_over_leave_the_others_where_they_were() -> None:
    """Rounds are numbered from the next one on: the second of before is the first now, at the same time."""
    day = laid(WOOL)
    (name, first), (second, _) = list(day.needed.rounds.items())[:2]
    now = day.laid.starts[second] - 1
    began = day.laid.starts[name] - now
    pieces = {f"{WOOL.lots[0].id}.{number}": Standing(Place.AIRING, 1, 0.0, 60.0) for number in (1, 2, 3)}
    worked = Worked(began, len(first.entries), began + first.end - first.begin, 1.0)
    after = later(day, WOOL, now, evolve(as_planned(day, now), standings=pieces, worked=worked))
    assert len(after.needed.rounds) == len(day.needed.rounds) - 1
    assert after.at(after.laid.starts[next(iter(after.needed.rounds))]) == day.at(day.laid.starts[second])
    assert what_moved(day, after) == ""
