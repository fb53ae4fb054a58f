"""Waits looked up by when something is due: the same as asking each of them at each entry."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, timedelta
from unittest.mock import patch

from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED
from tests.log.strategies import sessions
from tests.plan.plans import wool_plan

from vatside.days import replay_text
from vatside.log.events.day import (
    AlarmQuieted,
    ClockCorrected,
    Entry,
    Event,
    NoteWritten,
    Undone,
    WaitEnded,
    WaitExtended,
    WaitPaused,
    WaitResumed,
    WaitStarted,
)
from vatside.log.state import Session
from vatside.log.waits import Moment, Wait

IDS = st.sampled_from([f"w{number}" for number in range(5)])
MINUTES = st.sampled_from([0.0, 0.5, 1.0, 2.0, 5.0, 12.5, 40.0])
EVENTS: st.SearchStrategy[Event] = st.one_of(
    st.builds(WaitStarted, IDS, st.none(), st.just("Hold"), MINUTES, st.lists(MINUTES, max_size=3).map(tuple)),
    st.builds(WaitPaused, IDS),
    st.builds(WaitResumed, IDS),
    st.builds(WaitExtended, IDS, st.sampled_from([-3.0, 0.5, 4.0])),
    st.builds(WaitEnded, IDS),
    st.builds(AlarmQuieted, IDS),
    st.builds(ClockCorrected, st.sampled_from([-90.0, 30.0, 600.0])),
    st.builds(Undone, st.integers(1, 12)),
    st.just(NoteWritten("even")),
)
TIMES = st.tuples(
    st.sampled_from(["advance", "advance", "advance", "sleep", "step_wall", "reboot"]),
    st.sampled_from([0.0, 1.0, 29.5, 60.0, 61.0, 300.0, 4000.0]),
)


class Everyone:
    """Asks each wait at each entry."""

    def __init__(self, _seconds: object) -> None: ...

    def until(self, waits: Sequence[Wait], _last: Moment, _now: Moment) -> list[Wait]:
        """Give them all."""
        return list(waits)


def same_either_way(past: Session) -> None:
    """The replay in words of both ways is one."""
    told = list(replay_text.replay_lines(past, UTC))
    with patch.object(replay_text, "Due", Everyone):
        assert told == list(replay_text.replay_lines(past, UTC))


@given(sessions())
def test_any_session_is_told_as_if_each_wait_was_asked(past: Session) -> None:
    """Nothing is called out twice, late or not at all."""
    same_either_way(past)


@given(st.lists(st.tuples(EVENTS, TIMES), max_size=40))
def test_any_waits_on_any_clocks(happened: list[tuple[Event, tuple[str, float]]]) -> None:
    """Also where waits are stopped, lengthened, taken back, and clocks are set, sleep and begin anew."""
    clock, entries = VirtualClock(CREATED), []
    for seq, (event, (how, seconds)) in enumerate(happened, 1):
        back = -1 if how == "step_wall" and seq % 2 else 1
        getattr(clock, how)(back * seconds)
        entries.append(Entry(seq, clock.now(), event))
    same_either_way(Session("s", CREATED, wool_plan(), tuple(entries)))


def test_what_has_gone_by_is_not_lost_on_a_clock_that_goes_back() -> None:
    """A wait that was lengthened by nothing a minute later, on another start of the machine, is overdue before that."""
    start, later = Moment(CREATED, 0.0, "one"), Moment(CREATED + timedelta(minutes=1), 0.0, "two")
    happened: list[tuple[Moment, Event]] = [
        (start, WaitStarted("w1", None, "Hold", 0.0, ())),
        (later, WaitExtended("w1", 0.0)),
        (start, NoteWritten("back")),
    ]
    entries = tuple(Entry(seq, at, event) for seq, (at, event) in enumerate(happened, 1))
    past = Session("s", CREATED, wool_plan(), entries)
    assert any("overdue 60 s" in line for line in replay_text.replay_lines(past, UTC))
    same_either_way(past)
