"""After a gap nobody knows how the vat stands: it is to be read before the next dip."""

from __future__ import annotations

from vatside.log.moment import Moment, seconds_between
from vatside.log.state import State
from vatside.units import show_minutes

GAP_MIN = 45.0
"""Longer than a usual airing or short rest; in it a small tub loses three degrees or more: a judgement of our own."""
LOOKED = "vat.look"
"""The step in which the vat is looked at before the first dip."""


def reading_wanted(state: State, now: Moment) -> str:
    """Say why the vat is to be read before the next dip; empty where it is known well enough, and without a vat.

    After a break or a night, and of a vat kept from another day until its first reading. A dip that went in all the
    same ends the asking until the next gap.
    """
    known = state.tending.clocked
    if known is None or state.tending.account is None:
        return ""
    if state.plan.kept is not None and not state.tending.readings and not state.dipping.entered:
        return "This vat was kept from another day, and nobody has read it since."
    minutes = min(seconds_between(then, now) for then in _known(state, known.at)) / 60
    if minutes <= GAP_MIN:
        return ""
    return f"Nobody has looked at the vat for {show_minutes(round(minutes))}."


def _known(state: State, at: Moment) -> list[Moment]:
    """Give when it was last known: by the account, by who went in, by the look before the dips."""
    entered, looked = state.dipping.entered[-1:], state.done.get(LOOKED)
    return [at, *(item.start for item in entered), *([looked] if looked else [])]
