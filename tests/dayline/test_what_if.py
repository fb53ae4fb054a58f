"""When a day is said to be tight or late, and what is said to help: each change laid again."""

from datetime import timedelta
from itertools import pairwise

import pytest
from attrs import evolve
from tests.dayline.test_need import EIGHT, plan_of

from vatside.dayline.day_steps import steps
from vatside.dayline.going import NOT_BEGUN, Going
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.line.planning import AT_ONCE, EVALUATIONS
from vatside.dayline.warn import Fit, buffer_of, outlook
from vatside.dayline.what_if import Help, best, what_would_help
from vatside.plan.plan import Plan, Workplace
from vatside.recipe.compute import compute
from vatside.units import Amount

THREE = ("wool, 300 g, 3 pieces, medium", "cotton, 400 g, 4 pieces, medium", "silk, 60 g, 2 pieces, medium")


def laid(plan: Plan, going: Going = NOT_BEGUN) -> LaidDay:
    """A day from eight in the morning."""
    sheet = compute(plan)
    return lay_day(plan, sheet, steps(plan, sheet), EIGHT, going, evaluations=200)


def helps(plan: Plan) -> tuple[LaidDay, list[Help]]:
    """The day and all that gains something."""
    day, sheet = laid(plan), compute(plan)
    return day, list(what_would_help(day, plan, sheet, steps(plan, sheet)))


def test_a_pot_or_a_hob_alone_gains_little_and_both_together_much() -> None:
    """Three fibres, one pot, one hob: the loads take turns at both, so pairs have to be tried."""
    day, found = helps(plan_of(*THREE))
    gains = {frozenset(each.labels): each.gains for each in found}
    both = gains[frozenset({"another hob", "another pot"})]
    alone = max(gains.get(frozenset({name}), 0) for name in ("another hob", "another pot"))
    assert both > 90
    assert alone < both / 3
    assert outlook(day).fit is Fit.FREE


@pytest.mark.long
def test_what_is_enough_comes_first_and_three_at_most_are_named() -> None:
    """A day that is late by as much as a pot and a hob gain: they are enough."""
    day, found = helps(plan_of(*THREE))
    spare = next(each.gains for each in found if set(each.labels) == {"another hob", "another pot"})
    home = f"{8 + (day.laid.end - spare + 10) // 60:02d}:{(day.laid.end - spare + 10) % 60:02d}"
    _, late = helps(evolve(plan_of(*THREE), place=Workplace(home_by=home)))
    named = best(late)
    assert 0 < len(named) <= 3
    assert named[0].enough
    assert all(first.enough or not second.enough for first, second in pairwise(named))


def test_a_day_is_late_only_by_its_laid_plan() -> None:
    """All done by six in the evening fits a small day, by nine in the morning does not."""
    small = plan_of("wool, 200 g, 2 pieces, medium")
    fits, late = (laid(evolve(small, place=Workplace(home_by=home))) for home in ("20:00", "09:00"))
    assert outlook(fits).fit is Fit.FITS
    assert outlook(late).fit is Fit.LATE
    assert outlook(late).spare == 60 - late.laid.end
    assert "late" in outlook(late).sentences[0]


def test_a_day_with_less_in_hand_than_one_more_look_is_tight() -> None:
    """It ends two minutes before the wanted hour."""
    day = laid(plan_of("wool, 200 g, 2 pieces, medium"))
    close = evolve(day, home=day.laid.end + 2)
    assert buffer_of(close) > 2
    assert outlook(close).fit is Fit.TIGHT
    assert "tight, with 2 min in hand" in outlook(close).sentences[0]
    assert " Begin by " not in outlook(close).sentences[0], "that hour has gone by: it begins as soon as it can"
    assert " Begin by " in outlook(evolve(close, soonest=close.begin - timedelta(hours=1))).sentences[0]


def test_what_stands_too_long_is_named_with_its_minutes() -> None:
    """A simmer that was over two hours ago may stand one."""
    names = ("soak", "fill", "agents", "heat")
    done = {f"scour.cotton.{name}": 300.0 - 10 * k for k, name in enumerate(names)} | {"scour.cotton.hold": 120.0}
    day = laid(plan_of("cotton, 300 g, 3 pieces, medium"), Going(done=done))
    assert outlook(day).sentences == ("Scour cotton: stands 1 h longer than is good for it.",)


def test_it_is_the_vat_that_stands_too_long_after_a_look_at_it() -> None:
    """Found ready two hours ago, before the fibre is through its scour: nobody says that the look stands."""
    plan = plan_of("cotton, 300 g, 3 pieces, medium")
    before = [step.id for step in steps(plan, compute(plan)) if step.id.startswith(("stock.", "vat."))]
    day = laid(plan, Going(done={name: 120.0 + 10 * k for k, name in enumerate(reversed(before))}))
    [sentence] = [one for one in outlook(day).sentences if "longer than is good for it" in one]
    assert sentence.startswith("Vat: stands ")


def test_a_scour_the_day_before_is_among_the_helps() -> None:
    """It spares the whole bath; fibre that is ready scoured, and a day that has begun, have no such help."""
    day, found = helps(evolve(plan_of("linen, 300 g, 3 pieces, medium"), place=Workplace(home_by="09:00")))
    (scour,) = [each for each in found if each.labels == ("scour the day before",)]
    assert scour.gains > 60
    assert outlook(day).fit is Fit.LATE
    _, ready = helps(plan_of("linen, 300 g, 3 pieces, medium, ready scoured"))
    assert all("scour the day before" not in each.labels for each in ready)


def test_what_a_longer_search_finds_is_not_put_down_to_a_change() -> None:
    """A class laid at once, eleven minutes later than it can be: no bowl brings those, nor does a sink."""
    plan = plan_of("cotton, 600 g, 10 pieces, medium", hobs=2, pots=(Amount(10, "L"),), lunch=45)
    plan = evolve(plan, ready_by="2026-12-01T10:30")
    sheet = compute(plan)
    made = steps(plan, sheet)
    day, best_laid = (lay_day(plan, sheet, made, EIGHT, evaluations=count) for count in (AT_ONCE, EVALUATIONS))
    named = {label for each in best(list(what_would_help(day, plan, sheet, made))) for label in each.labels}
    assert (best_laid.spare or 0) >= (day.spare or 0) + 5
    assert not named & {"another bowl", "another sink"}
