"""What one laid day keeps to, on days of a few steps that can be counted on the fingers."""

from contextvars import copy_context

import pytest

from vatside.dayline.line.model import HANDS, Break, Day, Link, NoPlanError, Nudge, Resource, Span, Task, Use
from vatside.dayline.line.planning import hold, plan, replan
from vatside.dayline.line.search import GIVES_WAY


def hands(since: int, until: int, units: int = 1) -> Use:
    """Hands for some minutes of a step."""
    return Use(HANDS, since, until, units)


def day(*tasks: Task, links: tuple[Link, ...] = (), people: int = 1, **more: object) -> Day:
    """A day with one hob and two pots besides the hands."""
    resources = {HANDS: Resource(people), "hob": Resource(1), "pot": Resource(2, sizes=(8, 16))}
    return Day(resources, tasks, links, **more)  # type: ignore[arg-type]


def test_two_steps_of_one_person_come_one_after_the_other() -> None:
    """Ten and five minutes of the same hands end after fifteen."""
    two = day(Task("a", 10, (hands(0, 10),)), Task("b", 5, (hands(0, 5),)))
    assert plan(two).end == 15


def test_two_people_work_side_by_side() -> None:
    """With another pair of hands the longer step gives the end."""
    two = day(Task("a", 10, (hands(0, 10),)), Task("b", 5, (hands(0, 5),)), people=2)
    assert plan(two).end == 10


def test_lifting_a_full_tub_takes_both() -> None:
    """A step that takes two pairs of hands has neither for another."""
    two = day(Task("lift", 10, (hands(0, 10, 2),)), Task("b", 5, (hands(0, 5),)), people=2)
    assert plan(two).end == 15


def test_hands_are_free_while_a_step_waits() -> None:
    """A step is done in the wait of another."""
    two = day(Task("wait", 30, (hands(0, 2),)), Task("b", 10, (hands(0, 10),)))
    assert plan(two).end == 30


def test_what_must_not_wait_begins_to_the_minute() -> None:
    """The rinse begins when the hold ends, another step goes before or after it."""
    steps = (Task("hold", 30, (hands(0, 1),)), Task("rinse", 10, (hands(0, 10),)), Task("other", 35, (hands(0, 35),)))
    laid = plan(day(*steps, links=(Link("hold", "rinse", 30, 30),)))
    assert laid.starts["rinse"] == laid.starts["hold"] + 30
    assert laid.end == 75


def test_a_nudge_moves_for_a_step_that_wants_its_minute() -> None:
    """Eight minutes of hands in a row fit into ten of a wait only if the nudge leaves its own minute."""
    wait = Task("wait", 11, (hands(0, 1),), (Nudge(5, 4, 4),))
    laid = plan(day(wait, Task("other", 8, (hands(0, 8),))))
    assert laid.end == 11
    assert laid.nudges["wait"][0] in {1, 2, 9}


def test_one_person_answers_one_nudge_a_minute() -> None:
    """Three waits begun one after the other have their nudges in three minutes."""
    waits = [Task(name, 20, (hands(0, 1),), (Nudge(10, 4, 4),)) for name in "abc"]
    laid = plan(day(*waits))
    assert len({laid.nudges[name][0] for name in "abc"}) == 3


def test_a_pot_is_one_loads_until_its_rinse_has_ended() -> None:
    """Two loads that need the large pot take turns, though nothing else stands in the way."""
    loads = [Task(f"{part}{k}", 10) for k in (1, 2) for part in ("fill", "rinse")]
    links = tuple(Link(f"fill{k}", f"rinse{k}", 30) for k in (1, 2))
    spans = tuple(Span("pot", f"fill{k}", f"rinse{k}", size=12) for k in (1, 2))
    laid = plan(day(*loads, links=links, spans=spans))
    assert laid.end == 80
    assert set(laid.units.values()) == {1}


def test_a_small_load_takes_the_smallest_pot_that_is_large_enough() -> None:
    """Eight litres go into the pot of eight."""
    laid = plan(day(Task("fill", 10), Task("rinse", 10), links=(Link("fill", "rinse", 30),), spans=(_pot(8),)))
    assert laid.units == {0: 0}


def _pot(size: float) -> Span:
    return Span("pot", "fill", "rinse", size=size)


def test_a_hob_is_held_through_what_stands_between() -> None:
    """The second heat waits until the first bath has left the hob, which is the start of its rinse."""
    steps = [Task(f"{part}{k}", 10, (hands(0, 1),)) for k in (1, 2) for part in ("heat", "rinse")]
    links = tuple(Link(f"heat{k}", f"rinse{k}", 30) for k in (1, 2))
    spans = tuple(Span("hob", f"heat{k}", f"rinse{k}", to_end=False) for k in (1, 2))
    laid = plan(day(*steps, links=links, spans=spans))
    first, second = sorted(laid.starts[f"heat{k}"] for k in (1, 2))
    assert second - first >= 30
    assert laid.end == 71


def test_everybody_stops_for_the_break() -> None:
    """Forty minutes of work and a break of ten that begins between 10 and 20 end after fifty."""
    work = [Task(f"work{k}", 10, (hands(0, 10),)) for k in range(4)]
    laid = plan(day(*work, breaks=(Break(10, 10, 20),)))
    assert laid.end == 50
    assert all(not laid.breaks[0] - 10 < start < laid.breaks[0] + 10 for start in laid.starts.values())


def test_cloth_that_comes_later_is_waited_for() -> None:
    """A lot that comes at 45 begins then."""
    assert plan(day(Task("soak", 20, (hands(0, 3),), release=45))).starts == {"soak": 45}


def test_one_who_is_away_is_not_planned_with() -> None:
    """The only pair of hands comes back at 25."""
    away = Day({HANDS: Resource(1, away=((5, 25, 1),))}, (Task("a", 10, (hands(0, 10),)),))
    assert plan(away).starts["a"] == 25


def test_what_runs_stays_where_it_is() -> None:
    """A hold begun twenty minutes ago is over in ten, and its rinse may begin then."""
    steps = (Task("hold", 30, (hands(0, 1),)), Task("rinse", 10, (hands(0, 10),)))
    laid = plan(day(*steps, links=(Link("hold", "rinse", 30, 35),), running={"hold": -20}))
    assert laid.starts == {"hold": -20, "rinse": 10}


def test_what_a_running_bath_waits_for_goes_first() -> None:
    """The rinse of a bath that is up keeps its limit, the long step follows."""
    steps = (Task("hold", 30, (hands(0, 1),)), Task("rinse", 10, (hands(0, 10),)), Task("long", 60, (hands(0, 60),)))
    laid = plan(day(*steps, links=(Link("hold", "rinse", 30, 35),), running={"hold": -30}))
    assert laid.overrun == 0
    assert laid.starts["long"] == 10


def test_minutes_that_a_fact_is_left_standing_are_counted_where_nothing_helps() -> None:
    """A bath that was up twelve minutes ago with five minutes of play stands seven too long."""
    steps = (Task("hold", 30, (hands(0, 1),)), Task("rinse", 10, (hands(0, 10),)))
    laid = plan(day(*steps, links=(Link("hold", "rinse", 30, 35),), running={"hold": -42}))
    assert (laid.overrun, laid.starts["rinse"]) == (7, 0)


def test_the_wanted_hour_comes_before_the_end() -> None:
    """What is wanted in fifteen minutes goes first, though the day ends later for it."""
    wanted = Task("wanted", 15, (hands(0, 15),), due=15)
    laid = plan(day(Task("long", 10, (hands(0, 10),)), Task("wait", 60, (hands(0, 1),)), wanted))
    assert (laid.late, laid.end) == (0, 75)


def test_limits_that_contradict_each_other_are_refused() -> None:
    """No plan is made up for a link that no plan can keep."""
    steps = (Task("a", 10), Task("b", 10))
    with pytest.raises(NoPlanError, match="limits"):
        plan(day(*steps, links=(Link("a", "b", 20), Link("a", "b", 0, 10))))
    with pytest.raises(NoPlanError, match="circle"):
        plan(day(*steps, links=(Link("a", "b", 20), Link("b", "a", 20))))


def test_a_load_too_large_for_every_pot_is_refused() -> None:
    """Twenty litres go into no pot of sixteen, and the sentence names the step."""
    with pytest.raises(NoPlanError, match="no pot is large enough for fill"):
        plan(day(Task("fill", 10), Task("rinse", 10), links=(Link("fill", "rinse", 30),), spans=(_pot(20),)))


def test_more_hands_than_people_are_refused() -> None:
    """Two are wanted and one is there."""
    with pytest.raises(NoPlanError, match="2 of hands are wanted and there are 1"):
        plan(day(Task("lift", 10, (hands(0, 10, 2),))))


def test_an_empty_day_ends_at_once() -> None:
    """Nothing to lay is no error."""
    assert plan(day()).end == 0
    assert hold(day(), plan(day())) == plan(day())


def test_a_search_gives_way_before_each_laying_and_comes_to_the_same() -> None:
    """Five steps of one person in any order: whoever hears of each laying can let a key go first."""
    steps = day(
        *(Task(name, minutes, (hands(0, 5),)) for name, minutes in zip("abcde", (10, 40, 20, 30, 5), strict=True))
    )
    heard: list[int] = []

    def searched() -> object:
        GIVES_WAY.set(lambda: heard.append(1))
        return replan(steps, plan(steps, 1), 20)

    assert copy_context().run(searched) == replan(steps, plan(steps, 1), 20)
    assert 1 <= len(heard) <= 21
