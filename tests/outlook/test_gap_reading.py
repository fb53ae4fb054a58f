"""After a gap the vat is read before the next dip: asked for, not locked."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, logged, session
from tests.plan.plans import kept_vat, wool_plan

from vatside.dips.rotation import Do, pieces
from vatside.log.events.day import Event, StepDone, WaitEnded, WaitStarted
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, PieceDone, ReadingTaken, VatMade
from vatside.log.fold import State, fold
from vatside.log.vat_account import standing_at
from vatside.log.waits import Moment, after
from vatside.outlook.dip_board import next_move, warnings
from vatside.outlook.vat_facts import setting_of
from vatside.outlook.vat_order import in_short, reading_wanted, vat_notices
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.reading import Reading

READ = ReadingTaken(Reading(Amount(46, "degC")))
DIPPED = (DipStarted("a.1", 5), DipEnded("a.1", 15))


def day(*events: Event, kept: bool = False) -> State:
    """Give the state after these events, a minute apart."""
    plan = evolve(wool_plan(), kept=kept_vat()) if kept else wool_plan()
    return fold(evolve(session(), plan=plan, entries=logged(*events, clock=VirtualClock(CREATED))))


def later(state: State, minutes: float) -> Moment:
    """A moment so many minutes after the last entry."""
    assert state.last is not None
    return after(state.last, 60 * minutes)


@pytest.mark.parametrize(("minutes", "wanted"), [(10, False), (44, False), (46, True), (14 * 60, True)])
@pytest.mark.parametrize("events", [(VatMade(),), (VatMade(), READ), (VatMade(), *DIPPED)])
def test_a_break_or_a_night_asks_for_a_reading(events: tuple[Event, ...], minutes: float, wanted: bool) -> None:
    """Whatever was done last, the time since then decides."""
    state = day(*events)
    assert bool(reading_wanted(state, later(state, minutes))) is wanted


@pytest.mark.parametrize("event", [READ, StepDone("vat.look"), DipStarted("a.2", 5)])
def test_a_reading_a_look_or_a_dip_all_the_same_ends_it(event: Event) -> None:
    """An hour after the vat was made, and once more only after the next gap."""
    entries = (*logged(VatMade()), *logged(event, clock=VirtualClock(after(Moment(CREATED, 0, "virtual1"), 3600).utc)))
    state = day(VatMade())
    now = later(state, 60)
    state = fold(evolve(session(), entries=(entries[0], evolve(entries[1], seq=2, at=now))))
    assert reading_wanted(state, now) == ""
    assert reading_wanted(state, later(state, 50)) != ""


@pytest.mark.parametrize(("minutes", "cool"), [(1, False), (90, True)])
def test_the_board_says_that_the_vat_has_cooled(minutes: float, cool: bool) -> None:
    """47 °C and uncovered: 4.5 degrees an hour and more take it out of the 45 to 50 at which it works."""
    state = day(VatMade())
    stands = standing_at(state, later(state, minutes))
    said = " ".join(warnings(stands, compute(state.plan), later(state, minutes)))
    assert ("By the clock the vat is down to" in said) is cool
    assert ("warm it to 47 °C" in said) is cool


@pytest.mark.parametrize(("left_out", "said"), [(0, ""), (1, "too cold by the clock")])
def test_once_nobody_else_goes_in_it_may_cool(left_out: int, said: str) -> None:
    """Every piece has had its dips and airs: warm is wanted only while one is still to go in."""
    sheet = compute(wool_plan())
    times = [piece.id for piece in pieces(wool_plan(), sheet) for _ in range(piece.dips)]
    dips = [event for piece in times[left_out:] for event in (DipStarted(piece, 1), DipEnded(piece, 1))]
    state = day(VatMade(), *dips, ReadingTaken(Reading(Amount(46, "degC"))))
    assert in_short(state, sheet, later(state, 44)) == said


@pytest.mark.parametrize(("done", "said"), [((), "read it first"), ((StepDone("dip.rotate"),), "")])
def test_once_the_dips_are_done_it_may_cool(done: tuple[Event, ...], said: str) -> None:
    """Ticked by hand, no piece told of: nobody goes in any more, so neither reading nor warmth is asked for."""
    state = day(VatMade(), *done)
    sheet, late = compute(state.plan), later(state, 120)
    assert in_short(state, sheet, late) == said
    assert bool(vat_notices(state, sheet, late)) is bool(said)


def test_a_kept_vat_wants_a_reading_until_it_has_one() -> None:
    """However soon after; a reading ends it."""
    state, read = day(VatMade(), kept=True), day(VatMade(), READ, kept=True)
    assert "kept from another day" in reading_wanted(state, later(state, 1))
    assert reading_wanted(read, later(read, 1)) == ""


def test_no_vat_no_reading() -> None:
    """Before it is made there is nothing to read."""
    state = day(READ)
    assert reading_wanted(state, later(state, 600)) == ""


def test_the_board_calls_for_the_reading_and_then_for_the_piece() -> None:
    """It never says to put in while it asks."""
    state = day(VatMade())
    sheet = compute(state.plan)
    soon, late = (next_move(state, sheet, later(state, minutes)) for minutes in (5, 60))
    assert (soon.do, late.do) == (Do.ENTER, Do.READ)
    assert late.piece == soon.piece
    assert "Nobody has looked at the vat for 1 h" in late.why


def test_what_was_put_in_has_its_time_before_the_board_calls_for_the_reading() -> None:
    """A bath that warms it for 25 minutes: rest for as long, then read; a wait ended early is waited for no more."""
    cold = ReadingTaken(Reading(Amount(38, "degC")))
    *before, made, wait = logged(
        VatMade(), cold, CorrectionMade(remedy="by hand"), WaitStarted("w4", None, "Warm vat at work", 25)
    )
    begun = [*before, made, evolve(wait, at=made.at)]
    state = fold(evolve(session(), plan=wool_plan(), entries=(*begun,)))
    sheet = compute(state.plan)
    soon, late = (next_move(state, sheet, later(state, minutes)) for minutes in (5, 26))
    assert soon.do is Do.REST
    assert soon.seconds == pytest.approx(20 * 60)
    assert "Then read it" in soon.why
    assert late.do is Do.READ
    ended = evolve(wait, seq=5, at=later(state, 1), event=WaitEnded("w4"))
    over = fold(evolve(session(), plan=wool_plan(), entries=(*begun, ended)))
    assert next_move(over, sheet, later(over, 1)).do is Do.READ


def test_a_vat_whose_pieces_are_all_done_is_out_of_order_no_more() -> None:
    """Read cold before the last dip it was; once the last piece is out for good nothing is held back or called for."""
    dipped = (DipStarted("a.1", 5), DipEnded("a.1", 15), DipStarted("a.2", 5), DipEnded("a.2", 15))
    read = ReadingTaken(Reading(Amount(30, "degC")))
    state = day(VatMade(), *dipped, read, PieceDone("a.1"))
    sheet = compute(state.plan)
    assert in_short(state, sheet, later(state, 1)) != ""
    state = day(VatMade(), *dipped, read, *(PieceDone(f"a.{n}") for n in range(1, state.plan.lots[0].pieces + 1)))
    assert in_short(state, sheet, later(state, 1)) == ""
    assert vat_notices(state, sheet, later(state, 1)) == ()


def test_once_all_is_dipped_the_vat_is_judged_by_the_fibre_that_was_dipped_last() -> None:
    """Wool, then linen at pH 11: what the linen wanted is not too alkaline because the linen is done."""
    linen = evolve(wool_plan().lots[0], id="b", fibre="linen", pieces=1)
    plan = evolve(wool_plan(), lots=(evolve(wool_plan().lots[0], pieces=1), linen))
    events = (DipStarted("a.1", 5), DipEnded("a.1", 15), PieceDone("a.1"), DipStarted("b.1", 5), DipEnded("b.1", 15))
    entries = logged(VatMade(), *events, PieceDone("b.1"), clock=VirtualClock(CREATED))
    state = fold(evolve(session(), plan=plan, entries=entries))
    assert setting_of(state, compute(plan)).fibre == "linen"
