"""A notice's advice as one event: what it sets, how it is read back, and one undo."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.log.makers import CREATED, logged, session
from tests.plan.any_plan import any_plan
from tests.plan.plans import plan_with
from tests.recipe.test_advice import lands

from vatside.bench.commands import take
from vatside.log.events.day import AdviceTaken, Entry, PinSet, PlanChanged, Put, StepDone, Undone
from vatside.log.fold import apply, fold, history, sheet_of
from vatside.log.state import Session
from vatside.log.words.day import log_lines
from vatside.plan.plan import Plan
from vatside.plan.sheet import Notice, Sheet
from vatside.recipe.compute import compute, taken
from vatside.storage.session_text import decode, encode
from vatside.units import Amount

LYE = AdviceTaken("1.6 g of lye", (Put("stock.alkali", Amount(1.6, "g")), Put("vat.alkali", None)))


@examples(20)
@given(st.just(plan_with()) | any_plan())
def test_one_event_takes_all_of_it_and_one_undo_takes_it_back(plan: Plan) -> None:
    """Every remedy that a plan offers is carried out whole; undone, the plan is the one before, to the last amount."""
    for notice in compute(plan).notices:
        for remedy in notice.remedies:
            done = fold(Session("s", CREATED, plan, logged(take(remedy))))
            assert done.misfits == ()
            assert done.plan == taken(plan, remedy)
            undone = fold(Session("s", CREATED, plan, logged(take(remedy), Undone(1))))
            assert undone.plan == plan


def test_it_is_read_back_as_written() -> None:
    """Label and places come back from a file, a place that follows the plan again as well."""
    day = session(LYE)
    assert decode(encode(day)).session == day


def test_each_place_is_set() -> None:
    """One figure is held, the other, held before, follows the plan again."""
    state = fold(session(PinSet("vat.alkali", Amount(4, "g")), LYE))
    held = {pin.figure: pin.amount for pin in state.plan.pins}
    assert held["stock.alkali"] == Amount(1.6, "g")
    assert "vat.alkali" not in held


def test_replay_goes_through_it() -> None:
    """Step by step as in one go."""
    day = session(LYE, Undone(1), LYE)
    held = [any(pin.figure == "stock.alkali" for pin in state.plan.pins) for state in history(day)]
    assert held == [False, True, False, True]


def test_the_log_says_it_was_taken_back() -> None:
    """The undo is named by the advice."""
    lines = log_lines(session(LYE, Undone(1)))
    assert lines[0].endswith("Put right: 1.6 g of lye [taken back]")
    assert lines[1].endswith("Taken back: Put right: 1.6 g of lye")


def test_old_logs_hold_figure_by_figure() -> None:
    """A day whose advice was taken as one pin after another comes to the same plan."""
    old = fold(session(PinSet("stock.alkali", Amount(1.6, "g")), PinSet("vat.alkali", Amount(0, "g"))))
    places = (Put("stock.alkali", Amount(1.6, "g")), Put("vat.alkali", Amount(0, "g")))
    assert fold(session(AdviceTaken("lye", places))).plan == old.plan


COTTON, MUCH_LYE = PlanChanged("lots.a.fibre", "cotton"), PinSet("stock.alkali", Amount(60, "g"))


def test_once_the_lye_is_in_no_other_amount_of_it_is_offered() -> None:
    """Far too much lye held for the stock can be put right until the step that stirs it in is done."""

    def offered(*events: StepDone) -> set[str]:
        notices = sheet_of(fold(session(COTTON, MUCH_LYE, *events))).notices
        return {path for notice in notices for remedy in notice.remedies for path, _ in remedy.places}

    assert "stock.alkali" in offered(StepDone("stock.paste"))
    assert "stock.alkali" not in offered(StepDone("stock.paste"), StepDone("stock.alkali_in"))


SAMPLES = Path(__file__).parents[2] / "sample_sessions"


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.json")), ids=lambda path: path.stem)
def test_in_a_sample_every_remedy_of_every_moment_lands(path: Path) -> None:
    """At each point of the day what is offered can be taken: its notice is gone, none of weight has come, one undo."""
    day = decode(path.read_bytes()).session
    seen: set[tuple[str, str]] = set()
    state = fold(day.upto(0))
    for seq in range(len(day.entries) + 1):
        part = day.upto(seq)
        state = apply(state, day.entries[seq - 1]) if seq else state
        sheet = sheet_of(state)
        for notice in sheet.notices:
            for remedy in notice.remedies:
                if (notice.text, remedy.label) not in seen:
                    seen.add((notice.text, remedy.label))
                    _lands(part, sheet, notice, take(remedy))


def _lands(part: Session, before: Sheet, notice: Notice, event: AdviceTaken) -> None:
    at = part.entries[-1].at if part.entries else logged(event)[0].at
    seq = len(part.entries) + 1
    entries = (*part.entries, Entry(seq, at, event))
    state = fold(evolve(part, entries=entries))
    lands(before, sheet_of(state), notice)
    undone = fold(evolve(part, entries=(*entries, Entry(seq + 1, at, Undone(seq)))))
    assert undone.plan == fold(part).plan
