"""The fold: what follows from a log."""

from __future__ import annotations

from typing import Any, get_args

import pytest
from attrs import evolve
from hypothesis import given
from tests.clocks.virtual_clock import VirtualClock
from tests.effort import examples
from tests.log.makers import a_day, logged, session
from tests.log.strategies import EVENTS, fitting_plans, sessions
from tests.plan.plans import wool_plan

from vatside.dayline.day_steps import steps
from vatside.forms.fields import plan_problems
from vatside.log import waits
from vatside.log.effects.day import carry_out
from vatside.log.events.day import (
    AdviceTaken,
    AlarmQuieted,
    CautionAcknowledged,
    ClockCorrected,
    ClockStepped,
    Event,
    LotAdded,
    LotRemoved,
    NoteWritten,
    PinCleared,
    PinSet,
    PlanChanged,
    Put,
    SessionReopened,
    StepDone,
    StepReopened,
    Undone,
    Unknown,
    WaitEnded,
    WaitExtended,
    WaitPaused,
    WaitResumed,
    WaitStarted,
)
from vatside.log.fold import State, apply, fold, history, initial_state, taken_back
from vatside.log.persistent import AppendOnly
from vatside.log.state import Session
from vatside.plan.plan import Pin, Plan
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute
from vatside.units import Amount


def folded(*events: Event) -> State:
    """The state after these events."""
    return fold(session(*events))


def mass(state: State) -> Amount:
    """The mass of the first lot."""
    return state.plan.lots[0].mass


def test_an_empty_log_is_the_bare_plan() -> None:
    """Before the first event nothing but the plan stands."""
    state = folded()
    assert (state.plan, state.seq, state.last, tuple(state.waits)) == (state.began.plan, 0, None, ())


def test_the_plan_changes_and_the_initial_one_stays() -> None:
    """A change of the plan shows in the plan, and the plan of the beginning is kept."""
    state = folded(PlanChanged("lots.a.mass", Amount(250, "g")))
    assert mass(state) == Amount(250, "g")
    assert state.began.plan.lots[0].mass != Amount(250, "g")


def test_pins_live_in_the_plan() -> None:
    """A figure held by hand is a pin of the plan until it is let go."""
    held = PinSet("stock.pigment", Amount(4, "tsp"))
    before = folded().plan.pins
    assert folded(held).plan.pins == (*before, Pin("stock.pigment", Amount(4, "tsp")))
    assert folded(held, PinCleared("stock.pigment")).plan.pins == before


def test_lots_come_and_go() -> None:
    """A lot joins the plan and leaves it again."""
    lot = new_lot(wool_plan())
    assert len(folded(LotAdded(lot)).plan.lots) == 2
    assert len(folded(LotAdded(lot), LotRemoved(lot.id)).plan.lots) == 1


def test_steps_are_done_and_opened_again() -> None:
    """A finished step carries its moment; opened again it is as if never done."""
    state = folded(StepDone("scour.fill"))
    assert state.done == {"scour.fill": state.last}
    assert folded(StepDone("scour.fill"), StepReopened("scour.fill")).done == {}


def test_cautions_are_read_step_by_step() -> None:
    """What was read before one step is kept for that step, each caution once."""
    state = folded(CautionAcknowledged("s", ("lye",)), CautionAcknowledged("s", ("lye", "heat")))
    assert {step: tuple(read) for step, read in state.acknowledged.items()} == {"s": ("lye", "heat")}


def test_notes_are_kept_with_their_moment() -> None:
    """A note is in the state, with when it was written."""
    state = folded(NoteWritten("green under film"))
    assert [(note.text, note.at) for note in state.notes] == [("green under film", state.last)]


def test_several_waits_run_side_by_side() -> None:
    """Each wait counts from its own start; an ended one moves to the past."""
    state = folded(WaitStarted("w1", None, "Soak", 20), WaitStarted("w2", None, "Hold", 60), WaitEnded("w1"))
    assert state.last is not None
    assert [wait.id for wait in state.waits] == ["w2"]
    assert [wait.id for wait in state.past_waits] == ["w1"]
    assert waits.elapsed(state.past_waits[0], state.last) == 120
    assert waits.remaining(state.wait("w2"), state.last) == 59 * 60


def test_a_wait_keeps_its_number_when_another_ends() -> None:
    """Three run as 1, 2 and 3; the second ends, the third is still 3, and the next one begun is 2."""
    three = [WaitStarted(name, None, "Soak", 20) for name in ("w1", "w2", "w3")]
    state = folded(*three, WaitEnded("w2"))
    assert {wait.id: wait.number for wait in state.waits} == {"w1": 1, "w3": 3}
    state = folded(*three, WaitEnded("w2"), WaitStarted("w4", None, "Rest", 60))
    assert {wait.id: wait.number for wait in state.waits} == {"w1": 1, "w3": 3, "w4": 2}


def test_a_pause_and_more_minutes_show_in_the_wait() -> None:
    """Paused for a minute and five minutes longer: 62 of 25 minutes' seconds less a pause."""
    state = folded(
        WaitStarted("w1", None, "Soak", 20), WaitPaused("w1"), WaitResumed("w1"), WaitExtended("w1", 5)
    )  # fmt: skip
    assert state.last is not None
    assert waits.remaining(state.wait("w1"), state.last) == 25 * 60 - 120


def test_quieting_silences_one_wait() -> None:
    """Hearing one alarm leaves the other ringing."""
    clock = VirtualClock()
    starts = (WaitStarted("w1", None, "A", 1), WaitStarted("w2", None, "B", 1))
    entries = logged(*starts, NoteWritten(""), AlarmQuieted("w1"), clock=clock)
    state = fold(Session("s", clock.utc, wool_plan(), entries))
    rings = [waits.ringing(wait, clock.now()) for wait in state.waits]
    assert [ring and ring.label for ring in rings] == [None, "B"]


def test_an_alarm_heard_of_a_wait_that_was_taken_back_is_no_fault() -> None:
    """The wait is undone, not the ear: nothing is said to be not carried out."""
    state = folded(WaitStarted("w1", None, "Soak", 20), AlarmQuieted("w1"), Undone(1))
    assert not state.misfits
    assert not list(state.waits)


def test_undo_takes_one_event_back() -> None:
    """An undone event is as if it had never been; the others stay."""
    changed = PlanChanged("lots.a.mass", Amount(250, "g"))
    state = folded(changed, NoteWritten("n"), Undone(1))
    assert mass(state) == mass(folded())
    assert len(state.notes) == 1
    assert len(state.entries) == 3


def test_an_undo_can_be_undone() -> None:
    """Taking back the taking back brings the event back, and so on."""
    changed = PlanChanged("lots.a.mass", Amount(250, "g"))
    assert mass(folded(changed, Undone(1), Undone(2))) == Amount(250, "g")
    assert mass(folded(changed, Undone(1), Undone(2), Undone(3))) == mass(folded())


def test_undoing_the_end_of_a_wait_lets_it_run_on() -> None:
    """A wait ended by mistake has lost no time once that is undone."""
    state = folded(WaitStarted("w1", None, "Hold", 60), WaitEnded("w1"), Undone(2))
    assert state.last is not None
    assert waits.remaining(state.wait("w1"), state.last) == 58 * 60


@pytest.mark.parametrize("target", [0, -1, 3, 4, 99])
def test_an_undo_of_nothing_is_a_misfit(target: int) -> None:
    """An undo that names itself, a later entry or none at all changes nothing and says so."""
    state = folded(NoteWritten("a"), NoteWritten("b"), Undone(target))
    assert [misfit.seq for misfit in state.misfits] == [3]
    assert len(state.notes) == 2


@pytest.mark.parametrize(
    "event",
    [
        PlanChanged("nothing.here", "x"),
        PlanChanged("lots.zz.mass", Amount(1, "g")),
        PlanChanged("lots.a.mass", Amount(5, "degC")),
        PlanChanged("lots.a.mass", Amount(-5, "g")),
        PlanChanged("lots.a.mass", "a lot"),
        PlanChanged("lots.a.mass", None),
        PlanChanged("lots.a.pieces", 0),
        PlanChanged("lots.a.id", "b"),
        PlanChanged("pins", None),
        PlanChanged("shelf.indigo.purity", Amount(0, "%")),
        PlanChanged("title", "x" * 1000),
        PlanChanged("title", "\x1b[31m"),
        PlanChanged("title", 5),
        PlanChanged("ready_by", "ten"),
        PlanChanged("method", "magic"),
        PinSet("title", Amount(1, "g")),
        PinSet("stock.pigment", Amount(1, "degC")),
        PinSet("stock.nothing", Amount(1, "g")),
        PinCleared("title"),
        AdviceTaken("too hot", (Put("stock.pigment", Amount(4, "g")), Put("vat.temperature", Amount(200, "degC")))),
        AdviceTaken("no lot", (Put("stock.pigment", Amount(4, "g")), Put("lots.a.mass", None))),
        AdviceTaken("nowhere", (Put("stock.pigment", Amount(4, "g")), Put("stock.nothing", None))),
        LotAdded(evolve(new_lot(wool_plan()), mass=Amount(1, "degC"))),
        LotAdded(evolve(new_lot(wool_plan()), id="a.b")),
        LotRemoved("zz"),
        LotRemoved("a"),
        StepReopened("never done"),
        WaitPaused("zz"),
        WaitResumed("zz"),
        WaitEnded("zz"),
        WaitExtended("zz", 1),
    ],
    ids=repr,
)
def test_what_does_not_fit_changes_nothing_and_says_so(event: Event) -> None:
    """An event that does not fit stays in the log as a misfit, in words, and the rest goes on."""
    state = folded(event, NoteWritten("after"))
    assert [misfit.seq for misfit in state.misfits] == [1]
    assert state.misfits[0].text
    assert state.plan == state.began.plan
    assert len(state.notes) == 1


@pytest.mark.parametrize("event", [WaitResumed("w1"), WaitStarted("w1", None, "Twice", 5)])
def test_a_running_wait_cannot_be_resumed_or_started(event: Event) -> None:
    """The wait stays as it was."""
    state = folded(WaitStarted("w1", None, "Hold", 60), event)
    assert len(state.misfits) == 1
    assert [wait.label for wait in state.waits] == ["Hold"]


def test_a_pin_of_another_bath_cannot_come_alive_wrongly() -> None:
    """A pin that waits for a bath of cotton and does not fit it keeps the lot from becoming cotton."""
    bad = evolve(wool_plan(), pins=(evolve(_pin(), figure="scour.cotton.hold", amount=Amount(5, "degC")),))
    entries = logged(PlanChanged("lots.a.fibre", "cotton"))
    state = fold(Session("s", entries[0].at.utc, bad, entries))
    assert len(state.misfits) == 1
    compute(state.plan)


def _pin() -> Any:
    return folded(PinSet("stock.pigment", Amount(4, "tsp"))).plan.pins[0]


def test_waits_are_tied_once_to_the_clocks_of_a_new_boot() -> None:
    """The time of day bridges a restart; set afterwards (a network clock put right), it moves nothing."""
    clock = VirtualClock()
    started = logged(WaitStarted("w1", None, "Hold", 60), clock=clock)
    clock.reboot(600)
    reopened = evolve(logged(SessionReopened(), clock=clock, every=0)[0], seq=2)
    state = fold(Session("s", clock.utc, wool_plan(), (*started, reopened)))
    clock.step_wall(10 * 365 * 86400)
    clock.advance(60)
    assert waits.remaining(state.wait("w1"), clock.now()) == 3600 - 600 - 60


def test_a_correction_moves_running_waits_only() -> None:
    """What the dyer says about lost time counts for the waits that ran, not for a paused one."""
    state = folded(
        WaitStarted("w1", None, "A", 60), WaitStarted("w2", None, "B", 60), WaitPaused("w2"), ClockCorrected(600)
    )  # fmt: skip
    assert state.last is not None
    assert waits.remaining(state.wait("w1"), state.last) == 3600 - 180 - 600
    assert waits.remaining(state.wait("w2"), state.last) == 3600 - 60


def test_clock_events_and_unknown_kinds_change_nothing() -> None:
    """What only the log keeps leaves the state alone."""
    state = folded(ClockStepped(-3600), Unknown("reading", {"pH": 11}))
    assert state.misfits == ()
    assert state.plan == state.began.plan


def test_every_kind_has_its_effect_or_needs_none() -> None:
    """Each kind of event either has a function of its own or is one that only the log keeps."""
    logged_only = {"undone", "clock_slept", "clock_stepped", "session_reopened", "unknown"}
    logged_only |= {"vat_kept", "done_all_the_same"}
    without = {cls.kind for cls in get_args(Event) if carry_out.dispatch(cls) is carry_out.dispatch(object)}
    assert without == logged_only


def test_entries_must_be_in_the_state() -> None:
    """The state carries the log it came from, taken-back entries included."""
    day = session(*a_day())
    assert fold(day).entries == day.entries
    assert fold(day).misfits == ()


def test_live_equals_reopening() -> None:
    """Applying a day's events one by one gives the state that folding them gives."""
    day = session(*a_day())
    state = initial_state(day)
    for entry in day.entries:
        state = apply(state, entry)
    assert state == fold(day)


@given(sessions())
def test_live_reopening_and_replay_are_the_same(random: Session) -> None:
    """For any log whatever, applying, folding and replaying give the same states, and nothing crashes."""
    live = [initial_state(random)]
    for entry in random.entries:
        live.append(apply(live[-1], entry))
    assert live == [fold(random.upto(seq)) for seq in range(random.seq + 1)]
    assert [evolve(state, entries=AppendOnly()) for state in live] == list(history(random))


@given(sessions())
def test_undone_entries_are_as_if_they_had_never_been(random: Session) -> None:
    """The plan and what was done are those of a log in which the taken-back entries say nothing."""
    undone = taken_back(random.entries)
    silent = tuple(evolve(entry, event=SessionReopened()) if entry.seq in undone else entry for entry in random.entries)
    without = fold(evolve(random, entries=silent))
    state = fold(random)
    assert (state.plan, state.done, state.waits) == (without.plan, without.done, without.waits)


@given(sessions())
def test_no_log_makes_a_plan_that_cannot_be_worked_out(random: Session) -> None:
    """Whatever the events, the plan stays one that the form lets through, with a sheet and steps."""
    plan = fold(random).plan
    assert plan_problems(plan) == ()
    assert steps(plan, compute(plan))


@given(fitting_plans())
@examples(60)
def test_a_plan_that_the_form_lets_through_can_be_worked_out(plan: Plan) -> None:
    """Anywhere within the form's ranges there is a sheet."""
    assert plan_problems(plan) == ()
    assert compute(plan).figures


@given(EVENTS)
def test_any_single_event_is_borne(event: Event) -> None:
    """No event crashes the fold."""
    assert len(folded(event).entries) == 1
