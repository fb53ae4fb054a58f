"""Whether the live vat is in order by its latest reading: one answer for head, stages, board and vat."""

from __future__ import annotations

from attrs import frozen

from vatside.dips.pieces import Place
from vatside.log.moment import Moment, seconds_between
from vatside.log.state import State
from vatside.outlook.gap_reading import reading_wanted
from vatside.outlook.vat_facts import findings_of
from vatside.plan.sheet import Notice, Sheet, Stage, Weight
from vatside.vat.diagnosis import Finding

HOLDS_BACK = ("temperature", "pH", "reducer")
"""What is put right before the next dip, by axis; the rest is only said."""
STAGES = (Stage.VAT, Stage.DIP)


@frozen
class Disorder:
    """What the latest reading found out of order, the first thing to put right in front."""

    findings: tuple[Finding, ...]
    corrected: bool
    """Something was done about it since: a reading has to say whether it helped."""

    @property
    def name(self) -> str:
        """What is wrong, in a few words."""
        return self.findings[0].name.partition(":")[0]

    @property
    def text(self) -> str:
        """What is wrong, and what to do next."""
        found, more = self.findings[0], len(self.findings) - 1
        others = f", and {more} more" if more else ""
        told = f"The latest reading says {found.name} ({found.sure}){others}."
        return f"{told} Something was done since: read it again (r)." if self.corrected else f"{told} v, then Enter."


def disorder(state: State, sheet: Sheet) -> Disorder | None:
    """Give what is out of order; None for a vat that is well, was not read, is spent, or is none."""
    tending = state.tending
    if not tending.readings or tending.account is None:
        return None
    out = tuple(found for found in findings_of(state, sheet) if found.is_out)
    if not out:
        return None
    return Disorder(out, any(made.readings == len(tending.readings) for made in tending.corrections))


def in_short(state: State, sheet: Sheet, now: Moment) -> str:
    """Say in a few words what is out of order, or that the vat is to be read; empty where all is well."""
    if reading_wanted(state, now) and _some_left(state):
        return "read it first"
    found = disorder(state, sheet)
    return "" if found is None else "read it again" if found.corrected else found.name


def _some_left(state: State) -> bool:
    done = sum(where.place is Place.DONE for where in state.dipping.pieces.values())
    return done < sum(lot.pieces for lot in state.plan.lots)


def vat_notices(state: State, sheet: Sheet) -> tuple[Notice, ...]:
    """Give what is to be said of it on the stages of the vat and of the dips; empty where all is well."""
    found = disorder(state, sheet)
    return tuple(Notice(stage, Weight.CARE, found.text) for stage in STAGES) if found else ()


def not_in_order(state: State, sheet: Sheet) -> Disorder | None:
    """Give what holds the next dip back; None once a piece went in all the same after that reading."""
    found = disorder(state, sheet)
    if found is None or found.findings[0].axis not in HOLDS_BACK:
        return None
    taken, entered = state.tending.readings[-1], state.dipping.entered[-1:]
    return None if any(seconds_between(taken.at, item.start) > 0 for item in entered) else found
