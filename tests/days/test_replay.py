"""Replay: any entry, any moment, and a time line that runs."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, a_day, logged, session
from tests.log.strategies import sessions
from tests.plan.plans import wool_plan

from vatside.days.replay import FASTEST, Player, forward, state_at, state_at_seq, timeline
from vatside.log import waits
from vatside.log.events.day import NoteWritten, PlanChanged, Undone, WaitStarted
from vatside.log.fold import apply, fold, initial_state
from vatside.log.state import Session
from vatside.recipe.compute import compute
from vatside.storage.session_text import decode, encode
from vatside.units import Amount

DAY = session(*a_day())
LINE = timeline(DAY)


def test_the_time_line_begins_at_the_creation() -> None:
    """Eighteen entries a minute apart lie at 60, 120, … seconds."""
    assert LINE.positions[:3] == (60, 120, 180)
    assert LINE.length == 18 * 60


def test_the_state_at_an_entry_is_what_it_was_then() -> None:
    """A change that was taken back later still stands at the time."""
    day = session(PlanChanged("lots.a.mass", Amount(250, "g")), Undone(1))
    assert state_at_seq(day, 1).plan.lots[0].mass == Amount(250, "g")
    assert state_at_seq(day, 2).plan == day.plan
    assert state_at_seq(day, 0) == initial_state(day)


def test_a_replay_is_the_day_as_it_was_lived() -> None:
    """At every entry a file written and read gives the very state, and the very figures, that were on the screen."""
    again = decode(encode(DAY)).session
    live = initial_state(DAY)
    for entry in DAY.entries:
        live = apply(live, entry)
        replayed = state_at_seq(again, entry.seq)
        assert replayed == live
        assert repr(compute(replayed.plan)) == repr(compute(live.plan))


def test_between_two_entries_time_goes_on() -> None:
    """Half a minute after the start of a wait it has half a minute less to go."""
    position = LINE.positions[6] + 30
    state = state_at(LINE, position)
    assert state.seq == 7
    assert waits.remaining(state.wait("w7"), LINE.moment_at(position)) == 3600 - 30


def test_a_clock_set_back_does_not_turn_the_time_line_round() -> None:
    """Entries with equal or decreasing stamps lie in their order, none before another."""
    clock = VirtualClock(CREATED)
    first = logged(NoteWritten("a"), clock=clock)[0]
    clock.reboot(-7200)
    second = logged(NoteWritten("x"), NoteWritten("b"), clock=clock)[1]
    line = timeline(Session("s", CREATED, wool_plan(), (first, second)))
    assert line.positions == (60.0, 60.0)
    assert line.seq_at(60.0) == 2


def test_an_empty_log_has_a_time_line() -> None:
    """A session without entries is a time line of no length."""
    line = timeline(session())
    assert (line.length, line.seq_at(0), line.next_position(0)) == (0.0, 0, None)
    assert line.moment_at(5).utc.second == 5


@given(sessions(), st.floats(0, 1e7))
def test_any_log_can_be_replayed(random: Session, position: float) -> None:
    """Positions never fall, and every position has its state and its moment."""
    line = timeline(random)
    assert list(line.positions) == sorted(line.positions)
    position = min(position, line.length)
    assert state_at(line, position) == fold(random.upto(line.seq_at(position)))
    line.moment_at(position)


@given(st.lists(st.floats(0, 1200), max_size=8))
def test_going_forward_and_back_is_as_folding_anew(positions: list[float]) -> None:
    """Wherever the replay is moved, in whatever order, the state is the one of that place."""
    state = state_at(LINE, 0)
    for position in positions:
        state = forward(state, LINE, position)
        assert state == state_at(LINE, position)


def test_playing_is_arithmetic() -> None:
    """At 60-fold speed one real second is a minute; asking twice changes nothing."""
    player = Player(LINE, speed=60).play(100.0)
    assert player.position(101.0) == player.position(101.0) == 60.0
    assert player.position(103.5) == 210.0


def test_playing_stops_at_the_end() -> None:
    """Behind the last entry nothing comes; playing once more begins anew."""
    player = Player(LINE, speed=600).play(0.0)
    assert player.position(1e6) == LINE.length
    assert player.at_end(1e6)
    assert player.play(1e6).position(1e6) == 0.0


def test_a_pause_holds_the_place() -> None:
    """Paused, the position stays; resumed, it goes on from there."""
    player = Player(LINE).play(0.0).pause(2.0)
    assert not player.playing
    assert player.position(99.0) == 120.0
    assert player.play(99.0).position(100.0) == 180.0


def test_the_speed_changes_without_a_jump() -> None:
    """A new speed counts from here on, kept within 1 and 600."""
    player = Player(LINE).play(0.0).at_speed(10, 2.0)
    assert player.position(2.0) == 120.0
    assert player.position(3.0) == 130.0
    assert player.at_speed(1e9, 3.0).speed == FASTEST
    assert player.at_speed(0.1, 3.0).speed == 1.0


@pytest.mark.parametrize(("position", "expected"), [(-5.0, 0.0), (90.0, 90.0), (1e9, 18 * 60)])
def test_jumps_stay_on_the_line(position: float, expected: float) -> None:
    """A jump beyond either end stops at it."""
    assert Player(LINE).jump(position, 0.0).position(0.0) == expected


def test_stepping_from_entry_to_entry() -> None:
    """Forth and back, entry by entry, and staying at either end."""
    player = Player(LINE).next_event(0.0).next_event(0.0)
    assert player.position(0.0) == 120.0
    assert player.previous_event(0.0).position(0.0) == 60.0
    assert Player(LINE).previous_event(0.0).position(0.0) == 0.0
    assert Player(LINE).jump(1e9, 0.0).next_event(0.0).position(0.0) == LINE.length


def test_a_player_shows_the_clocks_of_then() -> None:
    """The waits of a replay count by the replay's own moment."""
    day = session(WaitStarted("w1", None, "Hold", 60))
    player = Player(timeline(day)).jump(60.0, 0.0)
    assert player.now(0.0) == day.entries[0].at
