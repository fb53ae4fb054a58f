"""Rules that hold for any day: nothing is booked twice, a day that has not changed comes back, facts do not move."""

from typing import Any

from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.dayline.instances import day_of, form_of, plan_of
from tests.dayline.later import later, with_longer_wait
from tests.dayline.line_checker import faults, last_minute
from tests.dayline.random_days import random_day

from vatside.dayline.line.planning import hold, latest, plan, replan

SEEDS = st.integers(1000, 1_000_000)
PART = st.floats(0.05, 0.9)
any_day = settings(deadline=None, max_examples=25, suppress_health_check=list(HealthCheck))


def laid_and_later(seed: int, part: float) -> tuple[dict[str, Any], dict[str, Any]]:
    """A random day, laid, with a part of it gone."""
    form = random_day(seed)
    laid = form_of(plan(day_of(form), 10))
    return later(form, laid, int(last_minute(form, laid) * part))


@any_day
@given(SEEDS)
def test_no_rule_is_broken_on_any_day(seed: int) -> None:
    """Hands, hobs, sinks, pots, bowls and jars are never booked twice, every limit is kept."""
    form = random_day(seed)
    laid = plan(day_of(form), 20)
    assert faults(form, form_of(laid)) == []
    assert laid.end == last_minute(form, form_of(laid))


@any_day
@given(SEEDS, PART)
def test_a_day_under_way_that_has_not_changed_comes_back_to_the_minute(seed: int, part: float) -> None:
    """Whenever it is asked again."""
    form, old = laid_and_later(seed, part)
    held = form_of(hold(day_of(form), plan_of(old, last_minute(form, old))))
    assert held["starts"] == old["starts"]
    assert held["breaks"] == old["breaks"]
    assert held["nudges"] == {name: minutes for name, minutes in old["nudges"].items() if minutes}
    assert held["units"].items() <= old["units"].items()


@any_day
@given(SEEDS, PART)
def test_a_longer_wait_moves_the_rest_and_breaks_no_rule(seed: int, part: float) -> None:
    """What runs does not move; if a fact is left standing too long, that is said and nothing else is wrong."""
    form, old = laid_and_later(seed, part)
    with_longer_wait(form, 15)
    kept = plan_of(old, last_minute(form, old))
    for laid in (hold(day_of(form), kept), replan(day_of(form), kept, 10)):
        wrong = faults(form, form_of(laid))
        left_standing = [fault for fault in wrong if "is the most" in fault]
        assert wrong == left_standing
        assert bool(left_standing) == (laid.overrun > 0)


@any_day
@given(SEEDS, st.integers(0, 60))
def test_all_steps_as_late_as_they_may_begin_break_no_rule(seed: int, spare: int) -> None:
    """The latest starts together are a plan too, none before its planned start, all over within the spare time."""
    day = day_of(random_day(seed))
    laid = plan(day, 20)
    late = latest(day, laid, laid.end + spare)
    # Nudges are seated anew for it: a day of nothing but releases at those starts has to come out the same.
    fixed = evolve(day, tasks=tuple(evolve(task, release=late[task.id]) for task in day.tasks))
    assert dict(hold(fixed, evolve(laid, starts=late)).starts) == late
    assert all(late[name] >= start for name, start in laid.starts.items())
    assert max(late[task.id] + task.minutes for task in day.tasks) <= laid.end + spare


@any_day
@given(SEEDS, PART)
def test_a_held_plan_moves_nothing_forward(seed: int, part: float) -> None:
    """After a longer wait no step that keeps its limits begins before it was to."""
    form, old = laid_and_later(seed, part)
    with_longer_wait(form, 15)
    laid = hold(day_of(form), plan_of(old, last_minute(form, old)))
    if not laid.overrun:
        assert all(laid.starts[name] >= start for name, start in old["starts"].items())
