"""Whether the live vat is in order, as read and by the clock, and whether it is to be read: one answer for all.

After a gap nobody knows how the vat stands: it is to be read before the next dip.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from attrs import frozen

from vatside.dayline.day_steps import ROTATE
from vatside.dips.rotation import Do, Place, pieces
from vatside.log.events.vat import VatKept
from vatside.log.state import State, happened
from vatside.log.vat_account import standing_at
from vatside.log.waits import Moment, seconds_between
from vatside.plan.sheet import Notice, Sheet, Stage, Weight
from vatside.recipe.cooling import NARROW_K
from vatside.units import show_minutes, show_temperature

if TYPE_CHECKING:
    from vatside.recipe.vat_needs import Setting
    from vatside.vat.diagnosis import Finding

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


HOLDS_BACK = ("air", "temperature", "pH", "reducer")
"""What is put right before the next dip, by axis; the rest is only said."""
STAGES = (Stage.VAT, Stage.DIP)
COUNTS_K = 1.0
"""The clock's guess at a vat's warmth is this much off at the least: ours."""


@frozen
class Disorder:
    """What is out of order with the vat."""

    name: str
    """In a few words."""
    text: str
    """And what to do next."""
    do: Do
    """What the board calls for where it holds the next dip back: to read the vat, or to put it right."""
    why: str
    """For the board, in a sentence."""
    holds_back: bool
    """The next dip waits until it is put right; else it is only said."""


def disorder(state: State, sheet: Sheet, now: Moment) -> Disorder | None:
    """Give what is out of order; None for a vat that is well, is spent, or is none, and once every piece is dipped.

    What the latest reading found comes first, then what has become of the vat by the clock.
    """
    return (_as_read(state, sheet) or _cooled(state, sheet, now)) if some_left(state) else None


def _as_read(state: State, sheet: Sheet) -> Disorder | None:
    tending = state.tending
    if not tending.readings or tending.account is None:
        return None
    from vatside.outlook.vat_facts import findings_of  # late: only a live vat has a state to be found

    out = tuple(finding for finding in findings_of(state, sheet) if finding.is_out)
    if not out:
        return None
    return _disorder_of(out, holds_back=not _dipped_since_reading(state), corrected=bool(tending.made_since))


def _disorder_of(out: tuple[Finding, ...], *, holds_back: bool, corrected: bool) -> Disorder:
    """Give what a reading found, the first thing to put right in front."""
    first, more = out[0], len(out) - 1
    others = f", and {more} more" if more else ""
    sentence = f"The latest reading says {first.name} ({first.sure}){others}."
    holds_back = holds_back and first.axis in HOLDS_BACK
    why = f"Last read: {_short(first)}"
    if corrected:
        text = "Something was done since: read it again (r)."
        return Disorder("read it again", f"{sentence} {text}", Do.READ, f"{why}; something was done since.", holds_back)
    return Disorder(first.name, f"{sentence} v, then Enter.", Do.MEND, f"{why}.", holds_back)


def _short(finding: Finding) -> str:
    return finding.name.partition(":")[0]


def _cooled(state: State, sheet: Sheet, now: Moment) -> Disorder | None:
    """Give that by the clock it is cooler than it works at, while pieces are still to go in."""
    stands = standing_at(state, now)
    account = stands.tending.account
    if account is None or not _at_work(state):
        return None
    from vatside.outlook.vat_facts import cooling_of, setting_of  # late: as above

    wanted = setting_of(state, sheet)
    if account.celsius >= _too_cold(wanted) or not _some_to_go_in(state, sheet):
        return None
    from vatside.vat.interlocks import Vat  # late: as above
    from vatside.vat.warmth import warm_to

    aim = show_temperature(warm_to(Vat(state.plan, account, wanted, cooling=cooling_of(stands))))
    down, entered = f"By the clock the vat is down to {show_temperature(account.celsius)}", state.dipping.entered[-1:]
    return Disorder(
        "too cold by the clock",
        f"{down}: warm it to {aim} (v says how) and read it (r).",
        Do.READ,
        f"{down}; it works from {show_temperature(wanted.coolest)}.",
        holds_back=not any(_went_in_cold(item.celsius, wanted) for item in entered),
    )


def _some_to_go_in(state: State, sheet: Sheet) -> bool:
    """Tell whether a piece has dips to come, as far as planned."""
    known = ((piece, state.dipping.pieces.get(piece.id)) for piece in pieces(state.plan, sheet, state.dipping.names))
    return any(at is None or (at.place is not Place.DONE and at.dips < piece.dips) for piece, at in known)


def _at_work(state: State) -> bool:
    """Tell whether it stands for today's pieces: not spent, not put away, and topped up if it was kept."""
    put_away = state.tending.seen_spent or happened(state, VatKept)
    begun = state.plan.kept is None or state.tending.topped_up
    return begun and not put_away


def _went_in_cold(celsius: float | None, wanted: Setting) -> bool:
    return celsius is not None and celsius < _too_cold(wanted)


def _too_cold(wanted: Setting) -> float:
    """Below this it is warmed again, degrees C: where the plan's own warming of the vat begins, and what counts."""
    return min(wanted.coolest, wanted.aim - NARROW_K) - COUNTS_K


def in_short(state: State, sheet: Sheet, now: Moment) -> str:
    """Say in a few words what is out of order, or that the vat is to be read; empty where all is well."""
    if reading_wanted(state, now) and some_left(state):
        return "read it first"
    amiss = disorder(state, sheet, now)
    return "" if amiss is None else amiss.name


def some_left(state: State) -> bool:
    """Tell whether pieces are still to come to their end: none are once the step of the dips is done."""
    if ROTATE in state.done:
        return False
    done = sum(where.place is Place.DONE for where in state.dipping.pieces.values())
    return done < sum(lot.pieces for lot in state.plan.lots)


def vat_notices(state: State, sheet: Sheet, now: Moment) -> tuple[Notice, ...]:
    """Give what is to be said of it on the stages of the vat and of the dips; empty where all is well."""
    amiss = disorder(state, sheet, now)
    return tuple(Notice(stage, Weight.CARE, amiss.text) for stage in STAGES) if amiss else ()


def not_in_order(state: State, sheet: Sheet, now: Moment) -> Disorder | None:
    """Give what holds the next dip back; None once a piece went in all the same, into a vat that was so by then."""
    amiss = disorder(state, sheet, now)
    return amiss if amiss is not None and amiss.holds_back else None


def _dipped_since_reading(state: State) -> bool:
    taken, entered = state.tending.readings[-1], state.dipping.entered[-1:]
    return any(seconds_between(taken.at, item.start) > 0 for item in entered)
