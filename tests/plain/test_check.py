"""Checking a session file, and reading its log."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any, get_args
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, a_day, session
from tests.log.strategies import sessions
from tests.plan.plans import wool_plan

from vatside.log.events.day import (
    AdviceTaken,
    AlarmQuieted,
    CautionAcknowledged,
    ClockCorrected,
    ClockSlept,
    ClockStepped,
    Event,
    LotAdded,
    LotRemoved,
    NoteWritten,
    PinCleared,
    PinSet,
    PlanChanged,
    StepDone,
    Undone,
    Unknown,
    WaitExtended,
    WaitStarted,
)
from vatside.log.fold import fold
from vatside.log.state import Session, State
from vatside.log.words.day import local, words
from vatside.plain.file_contents import log_lines, problems
from vatside.plan.starter import new_lot
from vatside.storage.flaws import MOST_TOLD, first_problems
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import encode, plan_of, session_of
from vatside.units import Amount


@pytest.fixture(name="path")
def _path(tmp_path: Path) -> Path:
    return tmp_path / "day.json"


def said(*events: Event) -> list[str]:
    """What the log says, without the time."""
    return [line.split("  ", 1)[1] for line in log_lines(session(*events), UTC)]


def test_a_sound_file_has_no_problems(path: Path) -> None:
    """A day as it should be has nothing to tell."""
    path.write_bytes(encode(session(*a_day())))
    assert problems(path) == ()


def test_checking_changes_nothing(path: Path) -> None:
    """Looking for problems writes nothing, not even a lock."""
    path.write_bytes(encode(session(*a_day())))
    path.with_name("day.json.journal").write_bytes(b"torn")
    before = {found: found.read_bytes() for found in path.parent.iterdir()}
    assert problems(path) == ("the last record of the journal is broken off (4 bytes)",)
    assert {found: found.read_bytes() for found in path.parent.iterdir()} == before


def test_problems_of_all_kinds_are_told_together(path: Path) -> None:
    """Events that do not fit, unknown kinds and a clock that went back are each told with their number."""
    clock = VirtualClock(CREATED)
    day = session(PlanChanged("nothing", 1), Unknown("reading", {"pH": 11}), clock=clock)
    path.write_bytes(encode(day))
    file = SessionFile.open(path).file
    clock.reboot(-3600)
    file.append(NoteWritten("x"), clock.now())
    found = problems(path)
    assert len(found) == 3
    assert found[0] == "event 1: not carried out, there is no nothing here"
    assert found[1] == "event 2: 'reading' is a kind that this version does not know"
    assert found[2].startswith("event 3: its time, ")


def test_an_unreadable_file_is_told(path: Path) -> None:
    """What cannot be read gives the same sentences as opening it."""
    path.write_text("{}")
    assert problems(path) == ("this is not a Vatside session",)
    assert problems(path.with_name("none.json")) == ("none.json cannot be read: there is no such file",)


def test_the_log_is_in_local_time_with_its_offset() -> None:
    """The same moment is told on each zone's clock, offset beside it, through a change to summer time."""
    moment = datetime(2026, 3, 29, 0, 59, 59, tzinfo=UTC)
    berlin = ZoneInfo("Europe/Berlin")
    assert local(moment, berlin) == "2026-03-29 01:59:59 +01:00"
    assert local(moment + timedelta(seconds=1), berlin) == "2026-03-29 03:00:00 +02:00"
    assert local(moment, timezone(timedelta(hours=-3, minutes=-30))) == "2026-03-28 21:29:59 -03:30"


def test_a_line_is_time_and_words() -> None:
    """One line an event."""
    assert log_lines(session(NoteWritten("pale green")), UTC) == ["2026-05-02 08:01:00 +00:00  Note: pale green"]


@pytest.mark.parametrize(
    ("event", "line"),
    [
        (PlanChanged("lots.a.mass", Amount(250, "g")), "Wool skeins, dry weight set to 250 g"),
        (PlanChanged("lots.a.fibre", "cotton"), "Wool skeins, fibre set to cotton"),
        (PlanChanged("ready_by", None), "Vat ready by left open"),
        (PlanChanged("title", "Blue"), "Day set to Blue"),
        (PinSet("stock.pigment", Amount(4, "tsp")), "Indigo powder set to 4 tsp"),
        (PinCleared("stock.pigment"), "Indigo powder follows the plan again"),
        (AdviceTaken("1.6 g of lye in the stock", ()), "Put right: 1.6 g of lye in the stock"),
        (LotAdded(new_lot(wool_plan())), "Lot taken in: Lot 2, 100 g"),
        (LotRemoved("a"), "Lot taken out: Wool skeins [not carried out: the last lot stays]"),
        (StepDone("no.such.step"), "Done: no.such.step"),
        (CautionAcknowledged("x", ("no.such",)), "Cautions read: no.such (before: x)"),
        (
            CautionAcknowledged("care.short-of-alkali.alkali-to-window", ("no.such",)),
            "Cautions read: no.such (before: what goes into the vat, short of alkali)",
        ),
        (CautionAcknowledged("care.added.lye", ("no.such",)), "Cautions read: no.such (before: lye into the vat)"),
        (
            CautionAcknowledged("care.neutralise", ("no.such",)),
            "Cautions read: no.such (before: what goes into the vat)",
        ),
        (WaitStarted("w", None, "Scour hold", 60), "Wait started: Scour hold, 1 h"),
        (ClockSlept(1380), "The machine slept or stood still for 23 min"),
        (ClockStepped(-3600), "The clock was set back by 1 h"),
        (ClockCorrected(600), "The waits were put forward by 10 min"),
        (Unknown("reading_taken", {}), "Something that this version does not know: reading_taken"),
    ],
    ids=lambda value: value.kind if not isinstance(value, str) else "",
)
def test_each_event_has_its_words(event: Event, line: str) -> None:
    """The log speaks of lots, figures and waits by their names."""
    assert said(event)[0] == line


def test_a_done_step_is_told_in_its_own_words() -> None:
    """A step is told by the sentence that stood on the screen."""
    from vatside.dayline.day_steps import steps
    from vatside.recipe.compute import compute

    plan = session().plan
    first = steps(plan, compute(plan))[0]
    assert said(StepDone(first.id)) == [f"Done: {first.text}"]


def test_waits_are_told_by_their_names() -> None:
    """What happens to a wait names it."""
    lines = said(WaitStarted("w1", None, "Soak", 20), WaitExtended("w1", -5), AlarmQuieted("w1"))
    assert lines[1:] == ["Wait 5 min shorter: Soak", "Alarm heard: Soak"]


def test_an_undo_tells_what_it_takes_back() -> None:
    """Taking back, and bringing back again, name the event; the event taken back is marked."""
    assert said(NoteWritten("a"), Undone(1)) == ["Note: a [taken back]", "Taken back: Note: a"]
    assert said(NoteWritten("a"), Undone(1), Undone(2)) == [
        "Note: a",
        "Taken back: Note: a [taken back]",
        "Brought back: Note: a",
    ]


def test_an_event_that_did_not_fit_says_so() -> None:
    """The log does not pretend that it was carried out."""
    assert said(WaitExtended("zz", 5)) == ["Wait 5 min longer: zz [not carried out: there is no running wait zz here]"]


def test_a_note_cannot_play_tricks_on_the_terminal() -> None:
    """Escape sequences and line ends in a note stay harmless, on one line."""
    assert said(NoteWritten("a\x1b[31m\r\nb\x07\u202e")) == ["Note: a [31m  b  "]


def test_every_kind_has_words_of_its_own() -> None:
    """No kind of event that this version knows is told by its bare name; an undo is told by its target."""
    state = fold(session())
    assert {cls.kind for cls in get_args(Event) if is_told_by_name(cls, state)} <= {"undone"}


def is_told_by_name(cls: type[Any], state: State) -> bool:
    """Tell whether an event of a class is named by its kind; one with words of its own is looked into for them."""
    try:
        return bool(words(object.__new__(cls), state) == cls.kind.replace("_", " ").capitalize())
    except AttributeError:
        return False


@given(sessions())
def test_any_log_can_be_told(random: Session) -> None:
    """Whatever the events, there is one printable line for each."""
    lines = log_lines(random, UTC)
    assert len(lines) == random.seq
    assert all(line.isprintable() for line in lines)


def test_a_plan_is_read_as_it_stands_after_the_log(path: Path) -> None:
    """Commands without a screen see the plan of now, journal included."""
    file = SessionFile.create(path, wool_plan("Old"), VirtualClock().now())
    file.append(PlanChanged("title", "New"), VirtualClock().now())
    assert plan_of(path).title == "New"
    assert session_of(str(path)) == file.session


def test_one_problem_too_many_is_counted_as_one() -> None:
    """Of eleven problems ten are told; the rest is one more problem, not problems."""
    assert first_problems([f"flaw {number}" for number in range(MOST_TOLD + 1)])[-1] == "and 1 more problem"
