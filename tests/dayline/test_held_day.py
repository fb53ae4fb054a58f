"""A day under way: the plan is held, a delay moves what it has to, and one sentence says what moved."""

from datetime import timedelta

import pytest
from attrs import evolve
from tests.dayline.instances import form_of, form_of_day
from tests.dayline.line_checker import faults
from tests.dayline.test_need import EIGHT, plan_of
from tests.plan.plans import plan_with

from vatside.dayline.day_steps import steps
from vatside.dayline.going import NOT_BEGUN, Going, Waiting, passed
from vatside.dayline.held_day import day_under_way, end_words, held_day, what_moved
from vatside.dayline.hours import DAY_MIN
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.warn import outlook
from vatside.dips.entry_rule import VatWork
from vatside.dips.rotation import Place, Standing, pieces
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
    assert "more steps; all done" in what_moved(day, after)


def test_lunch_that_was_taken_is_not_taken_again() -> None:
    """Ten minutes after it began nobody works for the rest of it, and none is planned."""
    plan = evolve(WOOL, place=Workplace(lunch=45))
    day = laid(plan)
    (begin,) = day.laid.breaks
    after = later(day, plan, begin + 10, as_planned(day, begin + 10))
    assert after.laid.breaks == ()
    assert after.needed.day.resources["hands"].away[0] == (0, 35, 1)


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
    assert "Scour wool 1: nobody is there to stir slowly." in outlook(after).sentences


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
    air = pieces(WOOL, compute(WOOL))[0].air_min
    standings = {
        entry.pieces[0]: Standing(Place.AIRING, 1, 0.0, 60 * (began + entry.end + air)) for entry in first.entries
    }
    worked = VatWork(began, len(first.entries), began + first.end - first.begin, 1.0)
    after = later(day, WOOL, now, evolve(as_planned(day, now), standings=standings, worked=worked))
    assert len(after.needed.rounds) == len(day.needed.rounds) - 1
    assert after.at(after.laid.starts[next(iter(after.needed.rounds))]) == day.at(day.laid.starts[second])
    assert what_moved(day, after) == ""


def test_an_end_that_stays_is_said_to_stay() -> None:
    """A step that moves within its slack does not move the end: no hour is said not to be itself."""
    day = laid(WOOL)
    name = max((task.id for task in day.needed.day.tasks if task.uses), key=lambda task: day.latest[task])
    starts = {**day.laid.starts, name: day.laid.starts[name] + 10}
    said = what_moved(day, evolve(day, laid=evolve(day.laid, starts=starts)))
    assert said.endswith(f"all done {day.at(day.laid.end):%H:%M} as before.")


def test_an_end_on_another_date_is_said_with_its_weekday() -> None:
    """All done at the same hour a day later is not as before; 1 December 2026 is a Tuesday, by the calendar."""
    day = laid(WOOL)
    assert f"{day.begin:%Y-%m-%d}" == "2026-12-01"
    late = evolve(day, laid=evolve(day.laid, end=day.laid.end + DAY_MIN))
    hour = f"{day.at(day.laid.end):%H:%M}"
    assert end_words(day, late) == f"all done {hour} (Wed), not {hour}"


def test_once_a_piece_was_in_all_that_comes_before_the_dips_has_passed() -> None:
    """The pieces kept wet, gloves, the strip, the look at the vat and the scour are no step any more, ticked or not."""
    day = laid(WOOL)
    name, first = next(iter(day.needed.rounds.items()))
    now = day.laid.starts[name] + 5
    pieces = {f"{WOOL.lots[0].id}.1": Standing(Place.IN_VAT, 1, 300.0, 300.0)}
    going = Going(standings=pieces, worked=VatWork(-5.0, 1, 5.0, 1.0))
    after = later(day, WOOL, now, going)
    coming = [task.id for task in after.needed.day.tasks if task.id not in after.needed.day.running]
    assert first.pieces
    assert [task for task in coming if task.startswith(("scour.", "stock.", "vat.", "dip.w", "dip.s"))] == []
    assert any(task in after.needed.rounds for task in coming)
    assert faults(form_of_day(after.needed.day), form_of(after.laid)) == []


def test_a_lot_that_was_not_in_yet_still_has_its_scour() -> None:
    """Wool is in the vat while cotton simmers: the cotton's rinse is still to come."""
    made = plan_of("wool, 300 g, 3 pieces, medium", "cotton, 400 g, 4 pieces, medium")
    day = laid(made)
    going = Going(standings={f"{made.lots[0].id}.1": Standing(Place.IN_VAT, 1, 300.0, 300.0)})
    after = later(day, made, day.laid.starts[next(iter(day.needed.rounds))] + 5, going)
    coming = {task.id for task in after.needed.day.tasks if task.id not in after.needed.day.running}
    assert "scour.cotton.hang" in coming
    assert not any(task.startswith("scour.wool") for task in coming)


@pytest.mark.parametrize(("pot", "washed", "other"), [("10 L", "wash", "wash_each"), ("40 L", "wash_each", "wash")])
def test_a_wash_that_was_begun_is_not_done_the_other_way(pot: str, washed: str, other: str) -> None:
    """At once in a pot that is named as a smaller one afterwards, or in parts before a larger one was found."""
    made = plan_with(plan_of("cotton, 800 g, 4 pieces, medium"), vessels__scour_pot=pot)
    sheet = compute(made)
    stood = {f"{made.lots[0].id}.1": Standing(Place.DONE, 6)}
    for going in (Going(standings=stood), Going({f"finish.cotton.{washed}": 5}, standings=stood)):
        gone = passed(made, sheet, steps(made, sheet), going)
        assert (f"finish.cotton.{other}" in gone) is bool(going.done)


def test_what_must_come_before_something_begun_has_passed() -> None:
    """She heats and has ticked neither filling nor the agents: both are behind her."""
    heat = Going(waits={"scour.cotton.heat": Waiting(5, 25)})
    made = plan_of("cotton, 300 g, 3 pieces, medium")
    after = later(laid(made), made, 60, heat)
    assert {"scour.cotton.soak", "scour.cotton.fill", "scour.cotton.agents"} <= set(after.needed.day.running)
    assert "scour.cotton.hold" not in after.needed.day.running


def test_a_day_opened_again_goes_on_with_its_own_times_and_takes_lunch_once() -> None:
    """Laid as it was when it began and held since; ten minutes into lunch the rest of it is left."""
    made = evolve(WOOL, place=Workplace(lunch=45, lunch_from="08:30", lunch_to="09:30"))
    day, sheet = laid(made), compute(made)
    begin = day.laid.breaks[0] + 10
    again = day_under_way(
        made, sheet, steps(made, sheet), EIGHT, EIGHT + timedelta(minutes=begin), as_planned(day, begin), evaluations=60
    )
    assert again.laid.breaks == ()
    assert again.needed.day.resources["hands"].away[0] == (0, 35, 1)
    for task in again.needed.day.tasks:
        assert abs(again.at(again.laid.starts[task.id]) - day.at(day.laid.starts[task.id])) <= timedelta(minutes=1)


def test_what_must_follow_sooner_leaves_the_others_their_times() -> None:
    """The pot is filled early, while the linen soaks: only what goes into it is begun sooner, no stock and no vat."""
    made = plan_of("linen, 300 g, 6 pieces, medium")
    day = laid(made)
    soak, fill = "scour.linen.soak", "scour.linen.fill.1"
    wait = next(task.minutes for task in day.needed.day.tasks if task.id == soak)
    going = Going(done={fill: 0.0}, waits={soak: Waiting(1, wait - 1)})
    after = later(day, made, 1, going)
    early = [
        task.id
        for task in after.needed.day.tasks
        if task.id not in after.needed.day.running
        and after.at(after.laid.starts[task.id]) < day.at(day.laid.starts[task.id])
    ]
    assert set(early) <= {"scour.linen.agents.1", "scour.linen.heat.1"}
    assert after.laid.overrun <= 10  # soap in the pot may wait ten minutes, and the linen soaks for half an hour


def test_what_moved_counts_each_way_by_itself() -> None:
    """Two steps come later and one sooner: none of them is said to go another way than it does."""
    day = laid(WOOL)
    coming = [task for task, at in day.laid.starts.items() if at > 30]
    names = sorted(coming, key=lambda task: day.laid.starts[task])
    by = dict(zip(names[:3], (-10, 20, 20), strict=True))
    starts = {task: at + by.get(task, 0) for task, at in day.laid.starts.items()}
    said = what_moved(day, evolve(day, laid=evolve(day.laid, starts=starts)))
    assert ": 20 min later, and 1 more step, 1 step sooner; all done" in said


def test_a_lunch_that_is_in_the_way_of_a_late_day_is_moved() -> None:
    """Ten minutes late the look at the stock would fall into lunch and the vat come three quarters of an hour late."""
    made = plan_of("cotton, 1000 g, 10 pieces, medium, ready scoured", lunch=45)
    made = evolve(made, ready_by="2026-12-01T14:00")
    sheet = compute(made)
    todo = steps(made, sheet)
    day = lay_day(made, sheet, todo, EIGHT, evaluations=60)
    paste = next(task for task in day.needed.day.tasks if task.id == "stock.paste")
    for late in range(0, 25, 4):
        minutes = day.laid.starts["stock.paste"] + paste.minutes + late
        now = day.begin + timedelta(minutes=minutes)
        found = held_day(day, made, sheet, todo, now, Going(done={"stock.paste": float(late)}), evaluations=25)
        assert found.spare is not None
        assert found.spare >= -late - 15, late


def test_what_two_bowls_and_one_pot_leave_no_order_for_is_laid_with_a_third_and_told() -> None:
    """A day under way is always laid: two lots soak in both bowls while the wool, to cool in one, is in the pot."""
    lots = ("wool, 200 g, 2 pieces, medium", "cotton, 200 g, 2 pieces, medium", "silk, 60 g, 2 pieces, medium")
    made = plan_of(*lots, bowls=2)
    begun = {f"scour.wool.{step}": 10.0 for step in ("soak", "fill", "agents")}
    soaking = {f"scour.{lot}.soak": Waiting(5, 25) for lot in ("cotton", "silk")}
    going = Going(begun, {**soaking, "scour.wool.heat": Waiting(5, 15)})
    after = later(laid(made), made, 60, going)
    assert faults(form_of_day(after.needed.day), form_of(after.laid)) == []
    (said,) = [words for words in outlook(after).sentences if "bowls" in words]
    third = min(after.laid.starts[task] for task in ("scour.wool.cool", "stock.hold_warm"))
    assert said == f"With what is under way 3 bowls are wanted from {after.at(third):%H:%M} on, and there are 2."


def test_facts_that_contradict_all_limits_are_laid_all_the_same() -> None:
    """The last load's pot was ticked as filled, the first is to come, and there is one pot: it is said to take two."""
    made = plan_of("linen, 1 kg, 10 pieces, medium")
    after = later(laid(made), made, 20, Going({"scour.linen.fill.3": 5.0}))
    assert set(after.laid.starts) == {task.id for task in after.needed.day.tasks}
    assert "With what is under way 2 pots are wanted" in outlook(after).sentences[0]


def test_a_lunch_that_holds_up_a_late_day_gives_way_in_what_is_held_too() -> None:
    """Twenty minutes late the linen does not fit in before lunch any more: held alone, all ends hours later."""
    made = plan_of("silk, 100 g, 2 pieces, medium", "linen, 300 g, 4 pieces, medium", people=2, lunch=45, bowls=4)
    day = laid(made)
    for now in range(5, day.laid.breaks[0], 20):
        done = {step: max(since - 20, 0.0) for step, since in as_planned(day, now).done.items() if since >= 20}
        waits = {s: Waiting(w.gone, w.left) for s, w in as_planned(day, now - 20).waits.items()}
        after = later(day, made, now, Going(done, waits))
        assert after.laid.end + now <= day.laid.end + 20 + 30, now


def test_another_plan_under_way_makes_the_vat_no_sooner_than_its_fibre_wants_it() -> None:
    """Twenty minutes late a better plan is followed: the vat would stand ready for an hour and a half longer in it."""
    made = plan_of("wool, 300 g, 3 pieces, medium", "cotton, 400 g, 4 pieces, medium", lunch=45)
    day = laid(made)
    begun = as_planned(day, 5)
    waits = {step: Waiting(wait.gone + 20, wait.left - 20) for step, wait in begun.waits.items()}
    after = later(day, made, 25, Going(begun.done, waits), evaluations=25)
    assert after.is_other
    assert stands_ready(after) <= stands_ready(day)


def stands_ready(day: LaidDay) -> int:
    """Minutes from the look that finds the vat ready to the first piece in it."""
    vat = day.needed.vat
    assert vat is not None
    assert day.ready is not None
    return day.ready - day.laid.starts[vat] - next(task.minutes for task in day.needed.day.tasks if task.id == vat)
