"""How far a session has come, as the day line asks it."""

from __future__ import annotations

from vatside.dayline.need.going import Going, Waiting
from vatside.dips.rests import Rests, Worked
from vatside.log import waits
from vatside.log.moment import Moment, seconds_between
from vatside.log.state import State
from vatside.outlook.dip_board import standings


def going_of(state: State, now: Moment, when: Rests) -> Going:
    """What is done, what waits, where the pieces are and what the vat has done; `when` are the plan's rests."""
    done = {step: seconds_between(at, now) / 60 for step, at in state.done.items()}
    running = {
        wait.step: Waiting(waits.elapsed(wait, now) / 60, waits.remaining(wait, now) / 60)
        for wait in state.waits
        if wait.step is not None
    }
    return Going(done, running, standings(state, now), _worked(state, now, when))


def _worked(state: State, now: Moment, when: Rests) -> Worked:
    """The vat's entries so far, its minutes below zero; one that is still in ends now at the earliest."""
    worked = Worked()
    for stay in sorted(state.dipping.entered, key=lambda item: seconds_between(now, item.start)):
        end = 0.0 if stay.end is None else seconds_between(now, stay.end) / 60
        worked = worked.then(seconds_between(now, stay.start) / 60, end, 1.0, when)
    return worked
