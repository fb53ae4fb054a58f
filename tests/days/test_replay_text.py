"""A replay in words."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, timedelta, timezone

import pytest
from attrs import evolve
from hypothesis import given
from tests.bench.long_log import long_session
from tests.clocks.virtual_clock import VirtualClock
from tests.effort import examples
from tests.log.played import BEGAN, Played
from tests.log.strategies import sessions
from tests.plan.plans import plan_with, wool_plan

from vatside.bench.commands import free_wait, start_wait
from vatside.days.replay_text import replay_lines
from vatside.dips.uptake import SoFar
from vatside.log.events.day import AlarmQuieted, LotAdded, LotRemoved, NoteWritten, Undone, WaitEnded, WaitPaused
from vatside.log.state import Session
from vatside.log.words import day as day_words
from vatside.log.words.day import log_lines
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.plan.starter import new_lot
from vatside.recipe import compute as computing


def told(day: Played) -> list[str]:
    """The replay of a day, in UTC."""
    return list(replay_lines(day.session, UTC))


def test_it_begins_with_the_plan() -> None:
    """Title, kind of vat and lots stand before the first time."""
    lines = told(Played())
    assert lines[0] == "A new day"
    assert any("Wool skeins: 227 g, depth 0.8 %" in line for line in lines)


def test_an_empty_day_says_that_nothing_happened() -> None:
    """A plan without a log is told as such."""
    assert told(Played())[-1] == "Nothing was logged."
    assert "Nothing was logged." not in told(Played().happen(NoteWritten("fine")))


def test_figures_that_changed_stand_below_what_changed_them() -> None:
    """Half the fibre takes half the pigment: 6.5 g become 3.2 g."""
    lines = told(Played().set("lots.a.mass", "113.5 g"))
    at = lines.index("06:01:00  Wool skeins, dry weight set to 113.5 g")
    assert "          stock: Indigo powder 6.5 g → 3.2 g" in lines[at:]


@pytest.mark.parametrize(("tell", "sheets"), [(log_lines, 4), (lambda day: list(replay_lines(day)), 9)])
def test_a_long_day_is_told_with_one_sheet_for_each_weight_and_warmth(
    tell: Callable[[Session], object], sheets: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Four turns of two changes and a step each: no remedy is tried for them, and a new title takes no sheet."""
    worked_out, plans = computing._worked_out, []

    def counted(plan: Plan, so_far: SoFar, **how: bool) -> Sheet:
        plans.append(plan)
        return worked_out(plan, so_far, **how)

    monkeypatch.setattr(computing, "_worked_out", counted)
    for remembers in (computing._untried, computing._planned, day_words._step_texts):
        remembers.cache_clear()
    tell(long_session(40))
    assert len(plans) == sheets


def test_pins_that_the_day_began_with_are_named() -> None:
    """By the field's own name, with its stage, and with its bath where there are several."""
    cotton = evolve(new_lot(wool_plan()), fibre="cotton")
    plan = plan_with(evolve(wool_plan(), lots=(*wool_plan().lots, cotton)), scour__cotton__hold="50 min")
    lines = told(Played(plan_with(plan, stock__pigment="4 g")))
    assert "          Scour, cotton: Hold for set to 50 min" in lines
    assert "          Stock: Indigo powder set to 4 g" in lines


def test_the_rests_of_two_stages_are_told_apart() -> None:
    """Stock and vat both rest: a day that began with both held says of which stage each is."""
    lines = told(Played(plan_with(stock__hold="50 min", vat__rest="40 min")))
    assert "          Stock: Rest for set to 50 min" in lines
    assert "          Vat: Rest for set to 40 min" in lines


def test_a_warning_that_stays_is_not_repeated() -> None:
    """It was there before; only its numbers changed."""
    first = told(Played().set("stock.start", "62 C"))
    again = told(Played().set("stock.start", "62 C").set("stock.start", "63 C"))
    assert sum(line.strip().startswith("!") for line in again) == sum(line.strip().startswith("!") for line in first)


def test_a_figure_that_is_new_is_not_called_changed() -> None:
    """It stands among the new ones of its bath only."""
    cotton = evolve(new_lot(wool_plan()), fibre="cotton")
    assert not any("scour, cotton:" in line and "→" in line for line in told(Played().happen(LotAdded(cotton))))


def test_a_pin_is_said_as_held() -> None:
    """A held figure says by what it is held."""
    lines = told(Played().set("stock.pigment", "4 g"))
    assert "          stock: Indigo powder 6.5 g → 4.0 g set 4 g" in lines


def test_what_there_is_to_look_out_for_is_said_when_it_comes_up() -> None:
    """Water at 62 °C for the stock is above its ceiling of 60: a warning that was not there before."""
    lines = told(Played().set("stock.start", "62 C"))
    assert any(line.startswith("          !! ") and "60 °C" in line for line in lines)


def test_a_bath_that_comes_or_goes_is_said_in_one_line() -> None:
    """A lot of cotton brings a scour of its own, and takes it away again."""
    cotton = evolve(new_lot(wool_plan()), fibre="cotton")
    lines = told(Played().happen(LotAdded(cotton)).happen(LotRemoved(cotton.id)))
    assert sum(line.strip().startswith("new in scour, cotton: ") for line in lines) == 1
    assert sum(line.strip().startswith("gone from scour, cotton: ") for line in lines) == 1


def test_a_wait_is_over_at_its_own_time() -> None:
    """Started at 06:01 for 20 minutes, it is over at 06:21, whenever the dyer comes."""
    day = Played().happen(free_wait("Soak", 20, 1)).happen(WaitEnded("w1"), 30)
    lines = told(day)
    assert "06:21:00  Over: Soak" in lines
    assert "06:31:00  Wait ended: Soak (10 min over)" in lines


def test_a_wait_ended_early_or_in_time_says_so() -> None:
    """Five minutes early is early, ten seconds after the end is on time."""
    early = Played().happen(free_wait("Soak", 20, 1)).happen(WaitEnded("w1"), 15)
    assert "06:16:00  Wait ended: Soak (5 min early)" in told(early)
    on_time = Played().happen(free_wait("Soak", 20, 1)).happen(WaitEnded("w1"), 20 + 1 / 6)
    assert "06:21:10  Wait ended: Soak (on time)" in told(on_time)


def test_a_nudge_is_due_at_its_minute() -> None:
    """The stock's rest calls for a stir every 15 minutes."""
    day = Played()
    wait = start_wait(day.step("stock.hold_warm"), 1)
    lines = told(day.happen(wait).happen(NoteWritten("x"), 40))
    assert [line for line in lines if "Due:" in line] == [
        "06:16:00  Due: stir gently, read the temperature (Stock rest)",
        "06:31:00  Due: stir gently, read the temperature (Stock rest)",
    ]


def test_an_overdue_wait_is_called_so_once() -> None:
    """While she does other things, the first of them says that the soak is overdue."""
    day = Played().happen(free_wait("Soak", 20, 1)).happen(NoteWritten("tea"), 25).happen(NoteWritten("cake"), 5)
    assert [line.strip() for line in told(day) if "overdue" in line] == [
        "overdue 5 min: Soak",
        "At the end: Soak, overdue by 10 min",
    ]


def test_a_paused_wait_is_never_over() -> None:
    """A wait that stands still does not run out."""
    day = Played().happen(free_wait("Soak", 20, 1)).happen(WaitPaused("w1"), 5).happen(NoteWritten("x"), 60)
    lines = told(day)
    assert not any("Over: " in line for line in lines)
    assert lines[-1] == "At the end: Soak, paused with 15 min to go"


def test_what_is_taken_back_later_stands_as_it_stood_then() -> None:
    """The pin is told when it was set, and its undoing when it was undone."""
    lines = told(Played().set("stock.pigment", "4 g").happen(Undone(1)))
    assert "          stock: Indigo powder 6.5 g → 4.0 g set 4 g" in lines
    assert "06:02:00  Taken back: Indigo powder set to 4 g" in lines
    assert "          stock: Indigo powder 4.0 g set 4 g → 6.5 g" in lines


def test_what_did_not_fit_is_said_with_its_reason() -> None:
    """Ending a wait that never ran changes nothing, and the replay says why."""
    lines = told(Played().happen(WaitEnded("w9")))
    assert "06:01:00  Wait ended: w9 [not carried out: there is no running wait w9 here]" in lines


def test_each_day_has_its_heading_in_local_time() -> None:
    """A night between two entries makes two headings; the zone decides where it falls."""
    day = Played().happen(NoteWritten("x"), 17 * 60 + 30).happen(NoteWritten("y"), 60)
    assert [line for line in told(day) if line.endswith("2026")] == ["Saturday 2 May 2026", "Sunday 3 May 2026"]
    east = list(replay_lines(day.session, timezone(timedelta(hours=2))))
    assert [line for line in east if line.endswith("2026")] == ["Sunday 3 May 2026"]


def test_a_wait_goes_on_over_a_restart_of_the_machine() -> None:
    """A week's wait begun before a restart is over seven days later by the time of day."""
    clock = VirtualClock(BEGAN)
    day = Played(clock=clock).happen(free_wait("Feed the vat", 7 * 24 * 60, 1))
    clock.reboot(3 * 86400)
    day.happen(NoteWritten("half way")).happen(NoteWritten("later"), 5 * 24 * 60)
    assert "06:01:00  Over: Feed the vat" in told(day)
    assert "Saturday 9 May 2026" in told(day)


def test_hostile_words_stay_on_their_line() -> None:
    """Line ends and terminal controls that somebody typed reach no terminal."""
    day = Played(evolve(wool_plan(), title="x\x1b[2J\ny")).happen(NoteWritten("\x1b]0;gone\x07\r\n06:00 Done: all"))
    for line in told(day):
        assert line.isprintable(), line


@examples(40)
@given(sessions())
def test_any_session_can_be_told(past: Session) -> None:
    """Every entry gets a line with its time, and nothing is printed that a terminal would act on."""
    lines = list(replay_lines(past, UTC))
    assert all(line.isprintable() for line in lines)
    timed = [line for line in lines if re.match(r"\d\d:\d\d:\d\d  ", line) and not re.match(r".{10}(Over|Due): ", line)]
    assert len(timed) == len(past.entries)


def test_an_alarm_says_how_late_it_was_heard() -> None:
    """Heard two minutes after the end."""
    day = Played().happen(free_wait("Soak", 20, 1)).happen(AlarmQuieted("w1"), 22)
    assert "06:23:00  Alarm heard: Soak (2 min over)" in told(day)
