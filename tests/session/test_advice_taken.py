"""A notice's advice as one event: what it sets, how it is read back, and one undo."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.recipe.any_plan import any_plan
from tests.recipe.plans import plan_with
from tests.session.makers import CREATED, logged, session

from vatside.recipe.advice import taken
from vatside.recipe.compute import compute
from vatside.recipe.plan import Plan
from vatside.session.commands import take
from vatside.session.events import AdviceTaken, PinSet, Put, StepDone, Undone
from vatside.session.loglines import log_lines
from vatside.session.session import Session
from vatside.session.so_far import sheet_of
from vatside.session.state import fold, history
from vatside.session.text import decode, encode
from vatside.units import Amount

LYE = AdviceTaken("1.6 g of lye", (Put("stock.alkali", Amount(1.6, "g")), Put("vat.alkali", None)))


@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)
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
    assert [(pin.figure, pin.amount) for pin in state.plan.pins] == [("stock.alkali", Amount(1.6, "g"))]


def test_replay_goes_through_it() -> None:
    """Step by step as in one go."""
    day = session(LYE, Undone(1), LYE)
    assert [bool(state.plan.pins) for state in history(day)] == [False, True, False, True]


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


def test_once_the_lye_is_in_no_other_amount_of_it_is_offered() -> None:
    """The starter's lye for the stock can be put right until the step that stirs it in is done."""

    def offered(*events: StepDone) -> set[str]:
        notices = sheet_of(fold(session(*events))).notices
        return {path for notice in notices for remedy in notice.remedies for path, _ in remedy.places}

    assert "stock.alkali" in offered(StepDone("stock.paste"))
    assert "stock.alkali" not in offered(StepDone("stock.paste"), StepDone("stock.alkali_in"))
