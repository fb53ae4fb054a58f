"""The day of a session: how far it has come, and the plan of its hours that it is held to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, tzinfo
from math import ceil

from attrs import evolve

from vatside.dayline.going import Going, Waiting, passed
from vatside.dayline.held_day import Followed, day_under_way, followed, held_day
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.line.planning import EVALUATIONS
from vatside.dayline.steps import Step
from vatside.dips.entry_rule import Rests, VatWork, as_entries, rests
from vatside.dips.rotation import Place, Standing
from vatside.log import waits
from vatside.log.events.day import DayLaid, Event, StepDone, WaitStarted
from vatside.log.events.vat import DipStarted, LotDipped, VatKept
from vatside.log.state import State, events_of, happened
from vatside.log.waits import Moment, seconds_between
from vatside.outlook.dip_board import at_work, standings
from vatside.outlook.vat_order import LOOKED
from vatside.plan.grouping import gathered
from vatside.plan.hours import on_wall
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet


def going_of(state: State, now: Moment, when: Rests) -> Going:
    """What is done, what waits, where the pieces are and what the vat has done; `when` are the plan's rests.

    All is counted from the whole minute that has begun, as a laid day is: at each of its seconds the same is shown.
    """
    now = _minute_of(now)
    done = {step: seconds_between(at, now) / 60 for step, at in state.done.items()}
    if LOOKED in done and state.tending.readings:  # who reads the vat has looked at it
        done[LOOKED] = min(done[LOOKED], seconds_between(state.tending.readings[-1].at, now) / 60)
    running = {
        wait.step: Waiting(waits.elapsed(wait, now) / 60, waits.remaining(wait, now) / 60)
        for wait in state.waits
        if wait.step is not None
    }
    stand = _by_lot(state) | standings(state, now)
    return Going(
        done, running, stand, _worked(state, now, when), _away(state, now), _vat_over(state),
        entered=len(_entries(state, now)),
        at_work=_at_work(state, now),
    )  # fmt: skip


def _by_lot(state: State) -> dict[str, Standing]:
    """Where the pieces are of lots whose dips were written down for the lot as a whole: each had its share of them."""
    entered = gathered((event.lot, event.pieces) for event in events_of(state, LotDipped))
    lots = ((lot, sum(entered.get(lot.id, ())) // max(lot.pieces, 1)) for lot in state.plan.lots)
    return {
        f"{lot.id}.{n}": Standing(Place.AIRING, dips) for lot, dips in lots if dips for n in range(1, lot.pieces + 1)
    }


def _vat_over(state: State) -> bool:
    tending = state.tending
    gone = tending.let_go is not None and tending.account is None
    return gone or tending.seen_spent or bool(happened(state, VatKept))


def passed_of(state: State, sheet: Sheet, steps: Sequence[Step]) -> frozenset[str]:
    """Give the steps that nobody ticked and that have become pointless by what the log says."""
    if state.last is None:
        return frozenset()
    return passed(state.plan, sheet, steps, going_of(state, state.last, rests(sheet)))


def _minute_of(now: Moment) -> Moment:
    seconds = now.utc.second + now.utc.microsecond / 1e6
    return evolve(now, utc=now.utc.replace(second=0, microsecond=0), elapsed=now.elapsed - seconds)


def began_at(state: State) -> Moment | None:
    """Give when the first step was begun or done, or the first piece went in; None for a day that has not begun."""
    for entry in state.entries:
        if entry.seq not in state.undone and is_begin(entry.event):
            return entry.at
    return None


def is_begin(event: Event) -> bool:
    """Tell what begins a day that has not begun."""
    return isinstance(event, StepDone | DipStarted) or (isinstance(event, WaitStarted) and event.step is not None)


def followed_of(state: State, zone: tzinfo | None = None) -> Followed | None:
    """Give the plan that a day under way is held to; None where the log has none."""
    laid = state.laid
    if laid is None:
        return None
    units = {int(span): unit for span, unit in laid.units.items()}
    return Followed(on_wall(laid.begin, zone), zone, laid.starts, laid.rounds, laid.nudges, laid.breaks, units)


def as_laid(day: LaidDay) -> DayLaid:
    """Say how a day is laid out, for the log."""
    of = followed(day)
    units = {str(span): unit for span, unit in of.units.items()}
    nudges = {task: tuple(minutes) for task, minutes in of.nudges.items()}
    begin = of.begin.astimezone(UTC)
    return DayLaid(begin, dict(of.starts), tuple(of.rounds), nudges, tuple(of.breaks), units)


def day_of(
    state: State,
    plan: Plan,
    sheet: Sheet,
    steps: Sequence[Step],
    now: Moment,
    zone: tzinfo | None = None,
    evaluations: int = EVALUATIONS,
) -> LaidDay:
    """The day of a session as it stands: one under way is held to the plan that is followed. Raises NoPlanError."""
    going, began, before = going_of(state, now, rests(sheet)), began_at(state), followed_of(state, zone)
    if began is None or not going.begun:
        return lay_day(plan, sheet, steps, now.utc, going, zone=zone, evaluations=evaluations)
    if before is not None:
        return held_day(before, plan, sheet, steps, now.utc, going)
    return day_under_way(plan, sheet, steps, began.utc, now.utc, going, zone=zone, evaluations=evaluations)


def _away(state: State, now: Moment) -> tuple[tuple[int, int, int], ...]:
    """Everybody, until the end of each break that runs, in minutes from now."""
    pauses = (wait for wait in state.waits if waits.is_break(wait))
    left = (ceil(waits.remaining(wait, now) / 60) for wait in pauses)
    return tuple((0, minutes, state.plan.place.people) for minutes in left if minutes > 0)


def _at_work(state: State, now: Moment) -> float:
    """Minutes for which what was done to the vat since it was read still works: as long as the board lets it rest."""
    return max(at_work(state, now) / 60, 0.0) if state.tending.made_since else 0.0


def _worked(state: State, now: Moment, when: Rests) -> VatWork:
    """What the vat has done, its minutes below zero."""
    worked = VatWork()
    for begin, end in _entries(state, now):
        worked = worked.then(begin, end, 1.0, when)
    return worked


def _entries(state: State, now: Moment) -> list[tuple[float, float]]:
    """The vat's entries so far, in minutes below zero; one that is still in ends now at the earliest."""
    return as_entries(
        (seconds_between(now, stay.start) / 60, 0.0 if stay.end is None else seconds_between(now, stay.end) / 60)
        for stay in state.dipping.entered
    )
