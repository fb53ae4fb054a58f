"""Through a day of dips: what was planned of each piece, and of the warming, stays true."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from attrs import evolve
from tests.log.played import Played

from vatside.dayline.day_steps import steps
from vatside.dips.entry_rule import rests
from vatside.dips.rotation import Do
from vatside.forms.lot_text import with_lot
from vatside.log.events.day import StepDone, WaitStarted
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade
from vatside.log.fold import so_far
from vatside.outlook import dip_board
from vatside.outlook.session_day import day_of, going_of
from vatside.plan.plan import Pin, Plan
from vatside.plan.starter import starter_plan
from vatside.units import Amount
from vatside.vat.reading import Reading


def plan_of(*lots: str) -> Plan:
    """Give a plan of these lots, or the one of a new day."""
    plan = evolve(starter_plan(), lots=()) if lots else starter_plan()
    for text in lots:
        more = with_lot(plan, text)
        assert isinstance(more, Plan)
        plan = more
    return plan


def dipped_by_the_board(day: Played) -> Iterator[Do]:
    """Do what the board calls for until nobody goes in any more."""
    while True:
        sheet, now = day.sheet, day.clock.now()
        found = {piece.id: piece for piece in dip_board.pieces_of(day.state, sheet)}
        call = dip_board.next_move(day.state, sheet, now)
        if call.do is Do.ENTER:
            day.happen(dip_board.lower(found[call.piece or ""]), 0.2)
        elif call.do is Do.LIFT:
            day.happen(dip_board.lift(found[call.piece or ""]), 0.1)
        elif call.do in (Do.WAIT, Do.REST):
            day.clock.advance(max(call.seconds, 1.0))
        elif call.do is Do.READ:  # it has cooled: warmed as the plan says, and read
            day.happen(ReadingTaken(Reading(Amount(sheet.value("vat.temperature"), "degC"))), 0.1)
        else:
            return
        yield call.do


def planned(day: Played) -> dict[str, int]:
    """The dips of each piece as the board has them."""
    return {piece.id: piece.dips for piece in dip_board.pieces_of(day.state, day.sheet)}


@pytest.mark.parametrize(
    "lots",
    [(), ("wool, 200 g, 4 pieces, medium", "cotton, 200 g, 4 pieces, light"), ("linen, 320 g, 4 pieces, medium",)],
)
def test_the_planned_dips_of_a_piece_stay_while_it_is_dipped_as_planned(lots: tuple[str, ...]) -> None:
    """From before the first piece goes in to the last: no piece has one more now and one less then."""
    day = Played(plan_of(*lots))
    wanted = planned(day)
    day.happen(VatMade())
    seen = [planned(day) for _ in dipped_by_the_board(day)]
    assert len(seen) > sum(wanted.values())
    assert [one for one in seen if one != wanted] == []


def test_a_weak_vat_is_told_of_only_while_somebody_still_goes_in() -> None:
    """Of a held tub it takes more dips than are usual; once the last piece is out, no stock helps any more."""
    plan = evolve(plan_of("linen, 100 g, 1 piece, medium"), pins=(Pin("vat.fill", Amount(12, "L")),))
    day = Played(plan).happen(VatMade())
    told = [any("the vat is weak" in one.text for one in day.sheet.notices) for _ in dipped_by_the_board(day)]
    assert told[0]
    assert not told[-1]


def test_the_warming_is_said_until_its_last_entry_is_over() -> None:
    """Before the dips, after entries 2, 6 and 10; once three are over, 6 and 10; the figures stay as long."""
    day = Played(plan_of()).happen(VatMade())
    said: list[tuple[int, tuple[int, ...]]] = []
    for do in dipped_by_the_board(day):
        sheet = day.sheet
        entries = len({item.start for item in day.state.dipping.entered})
        told = [notice.text for notice in sheet.notices if notice.figure == "dip.warm_by"]
        after = re.findall(r"\d+(?=[,: ])", told[0].partition("entr")[2].partition(", by")[0] + ",") if told else []
        assert bool(told) is ("dip.warm_by" in {figure.id for figure in sheet.figures})
        said += [(entries, tuple(map(int, after)))] if do is Do.LIFT else []
    first, *_, last = said
    assert first[1][:1] == (2,)
    assert last[1] == ()
    assert all(min(after) >= entries / 3 - 1 for entries, after in said if after)


def test_a_stronger_vat_still_spares_dips() -> None:
    """Three times the indigo, held before the first dip: fewer dips than were planned."""
    day = Played(plan_of())
    before = max(planned(day).values())
    day.set("stock.pigment", "26 g").happen(VatMade())
    assert max(planned(day).values()) < before
    next(dipped_by_the_board(day))
    assert max(planned(day).values()) < before


def test_entries_that_a_lot_does_not_fill_are_counted_as_they_went_in() -> None:
    """Three skeins, two at once: by hand two entries a round, and with those to come they stay the day's number."""
    day = Played(plan_of("cotton, 800 g, 3 pieces, medium"))
    whole = day.sheet.value("dip.all_entries")
    day.happen(VatMade())
    counted = []
    for do in dipped_by_the_board(day):
        if do is Do.LIFT and all(stay.end for stay in day.state.dipping.entered):
            over = so_far(day.state).entries
            counted.append((over, over + day.sheet.value("dip.all_entries")))
            assert going_of(day.state, day.clock.now(), rests(day.sheet)).entered == over
    assert (4, whole) in counted
    assert {in_all for _, in_all in counted} == {whole}


def test_the_hours_let_the_vat_rest_as_long_as_what_was_done_to_it_works() -> None:
    """Read too cold and warmed, it is read again in 25 min: no round is laid before."""
    day = Played(plan_of()).happen(VatMade())
    for do in dipped_by_the_board(day):
        if do is Do.LIFT and all(stay.end for stay in day.state.dipping.entered):
            break
    warm = CorrectionMade(finding="too-cold", remedy="warm", warmed_to=Amount(45, "degC"))
    day.happen(ReadingTaken(Reading(Amount(30, "degC")))).happen(warm)
    day.happen(WaitStarted("w", None, "Warm vat at work", 25), 0)
    sheet, now = day.sheet, day.clock.now()
    call = dip_board.next_move(day.state, sheet, now)
    assert (call.do, call.seconds) == (Do.REST, 25 * 60), "not the shorter wait for a piece that airs"
    laid = day_of(day.state, day.state.plan, sheet, steps(day.state.plan, sheet), now)
    first = laid.at(laid.laid.starts[next(iter(laid.needed.rounds))])
    assert 24 <= (first - now.utc).total_seconds() / 60 <= 26


def test_a_vat_covered_for_a_night_is_put_away_after_its_last_round() -> None:
    """Covered in the evening with dips to come: in the morning it is not skimmed and shut before them."""
    day = Played(plan_of()).happen(VatMade())
    for do in dipped_by_the_board(day):
        if do is Do.LIFT and all(stay.end for stay in day.state.dipping.entered):
            break
    day.happen(StepDone("dip.cover"))
    sheet, now = day.sheet, day.clock.now()
    laid = day_of(day.state, day.state.plan, sheet, steps(day.state.plan, sheet), now)
    [*_, last] = laid.needed.rounds
    assert laid.laid.starts["finish.keep_fill"] > laid.laid.starts[last]


def test_a_vat_that_is_read_does_not_stand_since_it_was_found_ready() -> None:
    """Found ready, put right for an hour and a half and read again: for the hours it was looked at just now."""
    day = Played(plan_of()).happen(VatMade()).happen(StepDone("vat.look"))
    day.happen(ReadingTaken(Reading(Amount(45, "degC"))), 90)
    assert going_of(day.state, day.clock.now(), rests(day.sheet)).done["vat.look"] == 0
