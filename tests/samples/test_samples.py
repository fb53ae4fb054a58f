"""The sample days are calm, are done on their day, and agree with themselves."""

from __future__ import annotations

from datetime import UTC, date
from math import log
from pathlib import Path

import pytest

from vatside.catalogue.dyeing import ladder, usual_for
from vatside.dayline.day_steps import steps
from vatside.dayline.laid_day import lay_day
from vatside.days.class_card import dangers, handout
from vatside.dips.entry_rule import rests
from vatside.log.events.vat import DipEnded, SwatchRecorded
from vatside.log.fold import State, fold, history, sheet_of
from vatside.log.waits import is_paused
from vatside.outlook.dip_board import forecasts, warnings
from vatside.outlook.session_day import going_of
from vatside.plan.measures import clean_grams, delicate_lot, fibre_of, share, total_grams, window_of
from vatside.plan.plan import Dosing
from vatside.plan.sheet import Stage, Weight
from vatside.recipe.compute import compute
from vatside.recipe.sizing import size_of
from vatside.storage.file_format import VERSION
from vatside.storage.session_text import loaded_of

FOLDER = Path(__file__).parents[2] / "sample_sessions"
CLASS, FINISHED = "at-the-stove", "finished-day"
MOST_DIPS = 6


def state_of(name: str) -> State:
    """Give how a sample stands at its end."""
    return fold(loaded_of(FOLDER / f"{name}.json").session)


def dipped_until(state: State) -> date:
    """Give the day on which the last piece comes out: as it was, or as the day is laid out."""
    out = [entry.at.utc for entry in state.entries if isinstance(entry.event, DipEnded)]
    if out:
        return out[-1].date()
    todo = [step for step in steps(state.plan, sheet_of(state)) if step.id not in state.done]
    last = state.entries[-1].at.utc
    going = going_of(state, state.entries[-1].at, rests(sheet_of(state)))
    return lay_day(state.plan, sheet_of(state), todo, last, going, zone=UTC).starts["dip.cover"].date()


@pytest.mark.parametrize("name", [CLASS, FINISHED])
def test_a_sample_is_of_this_version_and_whole(name: str) -> None:
    """Nothing is damaged, everything in it was carried out."""
    found = loaded_of(FOLDER / f"{name}.json")
    assert (found.version, found.damage, found.gone, found.held) == (VERSION, (), "", "")
    assert state_of(name).misfits == ()


@pytest.mark.parametrize("name", [CLASS, FINISHED])
def test_a_sample_is_calm(name: str) -> None:
    """Neither its plan, its sheet, its board nor its class card has a danger or a warning."""
    state = state_of(name)
    for sheet in (compute(state.plan), sheet_of(state)):
        assert [item.text for item in sheet.notices if item.weight is not Weight.NOTE] == []
        assert dangers(sheet) == ()
        lot = delicate_lot(state.plan)
        assert lot is not None
        window = window_of(state.plan, fibre_of(lot))
        assert window.low <= round(sheet.value("vat.pH"), 1) <= window.high
    last = state.entries[-1].at
    assert warnings(state, sheet_of(state), last) == ()
    assert handout(state, 2, last.utc, UTC, 1).notices == ()


@pytest.mark.parametrize("name", [CLASS, FINISHED])
def test_a_sample_stays_within_the_dips_that_are_accepted(name: str) -> None:
    """Six dips a piece at most, and no more than its depth asks for."""
    state = state_of(name)
    sheet = sheet_of(state)
    for lot in state.plan.lots:
        dips = sheet.value(f"dip.{lot.id}.dips")
        assert 1 <= dips <= min(MOST_DIPS, usual_for(100 * share(lot.depth)).accepted_dips)
    assert all(where.dips <= MOST_DIPS for where in state.dipping.pieces.values())


@pytest.mark.parametrize("name", [CLASS, FINISHED])
def test_a_sample_is_dipped_on_its_day(name: str) -> None:
    """The last piece comes out on the day on which the scour begins."""
    state = state_of(name)
    assert dipped_until(state) == state.entries[0].at.utc.date()


@pytest.mark.parametrize("name", [CLASS, FINISHED])
def test_a_sample_is_a_scenario_of_its_own(name: str) -> None:
    """Not half a pound of fibre, and not spoons first."""
    plan = state_of(name).plan
    assert abs(total_grams(plan) - 227) > 20
    assert plan.measure.value == "scale"


def test_the_class_is_at_work() -> None:
    """Eight people have their names on their pieces; a working vat; two waits run at the stove."""
    state = state_of(CLASS)
    names = [name for lot in state.plan.lots for name in lot.names]
    assert len(names) == len(set(names)) == sum(lot.pieces for lot in state.plan.lots) == 8
    assert size_of(state.plan).dosing is Dosing.WORKING
    assert len(state.waits) == 2
    assert not any(is_paused(wait) for wait in state.waits)


def test_the_finished_day_is_finished() -> None:
    """Every step of it is done, the last of the finish too, and the vat is gone."""
    state = state_of(FINISHED)
    todo = [step for step in steps(state.plan, sheet_of(state)) if step.stage is Stage.FINISH]
    assert todo
    assert [step.id for step in steps(state.plan, sheet_of(state)) if step.id not in state.done] == []
    assert state.waits == ()
    assert state.tending.let_go is not None
    assert forecasts(state, sheet_of(state)) == ()


def test_account_and_recorded_colour_agree() -> None:
    """Each piece is like the step of the ladder that is nearest to what the account has on it; the scale agrees."""
    state = state_of(FINISHED)
    swatches = [entry.event for entry in state.entries if isinstance(entry.event, SwatchRecorded)]
    assert {event.piece for event in swatches} == set(state.dipping.pieces)
    (lot,) = state.plan.lots
    depths = []
    for event in swatches:
        depth = state.dipping.pieces[event.piece].on.depth(clean_grams(state.plan, lot) / lot.pieces)
        nearest = min((rung.depth for rung in ladder()), key=lambda rung: abs(log(rung / depth)))
        assert event.step is not None
        assert event.step.value == nearest
        depths.append(depth)
    assert sheet_of(state).value("finish.gain.a") == pytest.approx(sum(depths) / len(depths), abs=0.1)


def test_the_finished_day_never_warned() -> None:
    """At no moment of it did its plan hold a danger."""
    for state in history(loaded_of(FOLDER / f"{FINISHED}.json").session):
        assert dangers(compute(state.plan)) == ()
