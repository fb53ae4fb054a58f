"""A break of the whole day: what can wait moves, what cannot says so, one undo takes it back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts, commands
from vatside.bench.acts import read_break, take_break
from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day
from vatside.bench.undo import take_back
from vatside.dayline.day_words import deeds
from vatside.dayline.lanes import BREAK, lanes
from vatside.log.events.day import PlanChanged
from vatside.log.events.vat import DipStarted
from vatside.log.waits import BREAK_NAME
from vatside.outlook.session_day import began_at
from vatside.units import Problem


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A new day."""
    found = new_day(tmp_path, VirtualClock())
    yield found
    found.keeping.close()


def left(desk: Desk) -> dict[str, int]:
    """Whole minutes to go of each wait."""
    return {wait.label: round(wait.left / 60) for wait in desk.waits(desk.clock.now())}


def test_what_would_be_over_waits_for_the_end_and_the_rest_runs_on(desk: Desk) -> None:
    """A rinse of 5 min lasts until the end of 30 min, one of 60 min does not change; the break itself rings."""
    acts.own_wait(desk, 5, "rinse")
    acts.own_wait(desk, 60, "soak")
    desk.clock.advance(1)  # type: ignore[attr-defined]
    said = take_break(desk, 30)
    assert left(desk) == {"rinse": 30, "soak": 60, BREAK_NAME: 30}
    assert "Moved to its end: rinse." in said
    take_back(desk)
    assert left(desk) == {"rinse": 5, "soak": 60}


def test_a_wait_that_is_over_already_rings_at_the_end(desk: Desk) -> None:
    """It stands as long as the break lasts."""
    acts.own_wait(desk, 5, "rinse")
    desk.clock.advance(600)  # type: ignore[attr-defined]
    take_break(desk, 20)
    assert left(desk)["rinse"] == 20


def test_a_piece_in_the_vat_does_not_wait(desk: Desk) -> None:
    """It is named with its time, and comes out when it would have."""
    piece = f"{desk.plan.lots[0].id}.1"
    desk.record(DipStarted(piece, 10))
    [wait] = desk.waits(desk.clock.now())
    said = take_break(desk, 30)
    assert f"Cannot wait: {wait.label} comes out of the vat in 10:00." in said
    assert left(desk)[wait.label] == 10


def test_a_pot_on_the_hob_does_not_wait(desk: Desk) -> None:
    """Nothing hot is left alone longer than its step."""
    pot = next(step for step in desk.steps if step.template and step.template.heats)
    desk.record(commands.start_wait(evolve(pot, minutes=20.0, wait_label="Heat"), 1))
    assert "Heat stands on the hob, over in 20:00" in take_break(desk, 30)


def test_a_call_to_stir_does_not_wait(desk: Desk) -> None:
    """What it asks for is said."""
    step = next(step for step in desk.steps if step.nudges)
    desk.record(commands.start_wait(step, 1))
    assert "calls in" in take_break(desk, step.nudges[0].minute + 1)


@pytest.mark.parametrize("text", ["0", "-5 min", "9 h", "5 g", "soon"])
def test_what_is_no_length_of_a_break_is_said(text: str) -> None:
    """Longer than nothing, and at most eight hours."""
    assert isinstance(read_break(text), Problem)


def test_a_bare_number_is_minutes() -> None:
    """As everywhere for a wait."""
    assert read_break("20") == 20


def test_it_says_what_it_makes_of_the_day_and_what_is_next(desk: Desk) -> None:
    """By the wanted hour what was in hand and what is left of it; the next step stands at its end or later."""
    now = desk.clock.now().utc
    step = next(step for step in desk.steps if step.minutes)
    acts.do(desk, step)
    desk.record(PlanChanged("place.home_by", f"{now.astimezone() + timedelta(hours=14):%Y-%m-%dT%H:%M}"))
    desk.clock.advance(60)  # type: ignore[attr-defined]
    said = take_break(desk, 240)
    found = re.search(r"in hand became .* (in hand|late); next at \d\d:\d\d", said)
    assert found, said


def test_nobody_begins_a_step_before_its_end(desk: Desk) -> None:
    """On the day line it is an absence of all hands, drawn as a break; what it moved is not told a second time."""
    acts.do(desk, next(step for step in desk.steps if step.minutes))
    desk.clock.advance(60)  # type: ignore[attr-defined]
    line = line_of(desk)
    job = line.job(desk.clock.now())
    assert job is not None
    line.take(job())
    take_break(desk, 45)
    job = line.job(desk.clock.now())
    assert job is not None
    found = job()
    assert found.moved == ""
    line.take(found)
    assert line.day is not None
    assert all(deed.at >= 45 for deed in deeds(line.day) if deed.hands_end > deed.at)
    hands = lanes(line.day)[0]
    assert any(bar.label == BREAK and bar.end == 45 for bar in hands.bars)


def test_a_step_taken_back_has_begun_no_day(desk: Desk) -> None:
    """The day is laid anew, from the first step that counts."""
    acts.do(desk, next(step for step in desk.steps if step.minutes))
    assert began_at(desk.state) is not None
    take_back(desk)
    assert began_at(desk.state) is None


def test_one_that_is_over_is_ended_by_the_first_thing_that_is_done(desk: Desk) -> None:
    """Who works is back; taken back, it rings again."""
    take_break(desk, 15)
    desk.clock.advance(16 * 60)  # type: ignore[attr-defined]
    assert BREAK_NAME in left(desk)
    acts.do(desk, next(step for step in desk.steps if step.minutes))
    assert BREAK_NAME not in left(desk)
    take_back(desk)
    assert BREAK_NAME in left(desk)


def test_one_that_runs_is_not_ended_by_what_is_done(desk: Desk) -> None:
    """Only its own key ends it."""
    take_break(desk, 15)
    acts.do(desk, next(step for step in desk.steps if step.minutes))
    assert BREAK_NAME in left(desk)
