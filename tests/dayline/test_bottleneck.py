"""What a day waits for longest, by laying it with plenty of each thing."""

from datetime import timedelta

from attrs import evolve
from tests.dayline.test_need import EIGHT, day_of, plan_of

from vatside.dayline.day_steps import steps
from vatside.dayline.laid_day import lay_day
from vatside.dayline.line.planning import replan
from vatside.dayline.what_if import WORTH_NAMING, Bottleneck, bottleneck
from vatside.plan.plan import Plan, Workplace
from vatside.recipe.compute import compute
from vatside.units import Amount


def held_up_by(plan: Plan) -> Bottleneck | None:
    """Of a day from eight in the morning."""
    sheet = compute(plan)
    return bottleneck(lay_day(plan, sheet, steps(plan, sheet), EIGHT, evaluations=200))


def test_three_fibres_in_one_pot_on_one_hob_wait_for_both() -> None:
    """More of one alone hardly helps; pots and hobs together do."""
    found = held_up_by(
        plan_of("wool, 300 g, 3 pieces, dark", "cotton, 400 g, 4 pieces, dark", "silk, 60 g, 2 pieces, dark")
    )
    assert found is not None
    assert found.more_helps
    assert "pots" in found.name


def test_a_class_with_scoured_cloth_and_many_hands_waits_for_what_takes_its_time() -> None:
    """Nothing more of anything helps: stock, rest, dips and air take as long as they take."""
    place = Workplace(people=3, hobs=2, sinks=2, pots=(Amount(30, "L"),))
    found = held_up_by(evolve(plan_of("cotton, 1000 g, 10 pieces, dark, ready scoured"), place=place))
    assert found is not None
    assert not found.more_helps
    assert found.minutes > 60


def test_a_lunch_that_costs_the_evening_is_named() -> None:
    """Two loads of linen, begun at ten: no hold may be left alone for a whole lunch, so both wait until it is over."""
    place = Workplace(lunch=45, lunch_from="12:00", lunch_to="13:30")
    plan = evolve(plan_of("linen, 500 g, 10 pieces, medium"), place=place)
    sheet = compute(plan)
    day = lay_day(plan, sheet, steps(plan, sheet), EIGHT + timedelta(hours=2), evaluations=25)
    found = bottleneck(day)
    assert found is not None
    assert found.name == "lunch"
    later = evolve(plan, place=evolve(place, lunch_to="14:30"))
    moved = lay_day(later, sheet, steps(later, sheet), EIGHT + timedelta(hours=2), evaluations=25)
    assert day.laid.end - moved.laid.end >= found.minutes - place.lunch


THREE = plan_of("wool, 300 g, 3 pieces, medium", "cotton, 400 g, 4 pieces, medium", "silk, 60 g, 2 pieces, medium")


def test_what_holds_a_day_up_is_told_however_few_layings_find_an_order() -> None:
    """With plenty of pots a short search finds none by itself: the order that the day is laid in still has a plan."""
    day = day_of(evolve(THREE, ready_by="2026-12-01T14:00"))
    assert bottleneck(day) is not None


def test_a_day_that_is_ready_in_time_is_also_done_as_soon_as_a_short_search_finds() -> None:
    """It is laid backwards from two o'clock by the soonest vat, and then what comes after it is looked at too."""
    plan = evolve(THREE, ready_by="2026-12-01T14:00")
    sheet = compute(plan)
    day = lay_day(plan, sheet, steps(plan, sheet), EIGHT)
    assert (day.spare or 0) >= 0
    assert day.laid.end < replan(day.needed.day, day.laid, 60).end + WORTH_NAMING
