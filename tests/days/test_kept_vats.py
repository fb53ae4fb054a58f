"""Which vats are kept, over a folder of sessions."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, logged, session

from vatside.days.keep_vat import carry_on, keep
from vatside.days.kept_vats import StandingVat, standing_vats
from vatside.log.events.day import Entry, Event, NoteWritten, StepDone, Undone
from vatside.log.events.vat import VatLetGo, VatMade, VatSpent
from vatside.log.state import Session
from vatside.storage.session_file import SessionFile
from vatside.units import Amount

GONE = VatLetGo(Amount(20, "L"), None, "", None, None, "down the drain")


def kept(*more: Event) -> Session:
    """A session that kept its vat with a note of the same moment, and what happened later."""
    made = session(NoteWritten("cold kitchen"))
    clock = VirtualClock(CREATED)
    clock.advance(3600)
    entries = [*made.entries, Entry(2, clock.now(), keep(made)), Entry(3, clock.now(), NoteWritten("blue tub"))]
    for event in more:
        clock.advance(60)
        entries.append(Entry(len(entries) + 1, clock.now(), event))
    return evolve(made, entries=tuple(entries))


def listed(folder: Path, *sessions: Session) -> tuple[StandingVat, ...]:
    """Write sessions into a folder and look which vats stand."""
    for made in sessions:
        SessionFile.write_new(folder / f"{made.id}.json", made).close()
    return standing_vats(sorted(folder.glob("*.json")))


def test_a_kept_vat_stands(tmp_path: Path) -> None:
    """With its day, the time it was kept, its strength and the note of that moment."""
    made = kept()
    [vat] = listed(tmp_path, made)
    assert (vat.title, vat.note, vat.kept) == ("Blue Saturday", "blue tub", made.entries[1].at)
    assert vat.vat.strength > 0


def test_a_keeping_that_only_the_journal_holds(tmp_path: Path) -> None:
    """A day that is still open in a window counts with what its journal says."""
    made = kept()
    file = SessionFile.write_new(tmp_path / "s1.json", made.upto(1))
    for entry in made.entries[1:]:
        file.append(entry.event, entry.at)
    assert len(standing_vats([tmp_path / "s1.json"])) == 1
    file.close()


def test_taken_back_is_not_kept(tmp_path: Path) -> None:
    """A keeping that was undone keeps nothing."""
    assert listed(tmp_path, kept(Undone(2))) == ()


def test_let_go_is_not_kept(tmp_path: Path) -> None:
    """A vat that was let go after it was kept is gone."""
    assert listed(tmp_path, kept(GONE)) == ()


def test_oxidised_is_not_kept(tmp_path: Path) -> None:
    """A kept vat that was stirred in the air until it stays blue is no vat to carry on from."""
    assert listed(tmp_path, kept(VatMade(), VatSpent())) == ()


def test_carried_on_stands_with_the_later_day(tmp_path: Path) -> None:
    """Once something is done in another session that carries on from it, it stands no more."""
    assert listed(tmp_path, kept(), second_day(StepDone("vat.skim"))) == ()


def test_a_day_with_nothing_done_in_it_leaves_the_vat_standing(tmp_path: Path) -> None:
    """Begun, planned, noted, a step done and taken back: the vat is offered, and the day named."""
    untouched = second_day(NoteWritten("perhaps"), StepDone("vat.skim"), Undone(3))
    [vat] = listed(tmp_path, kept(), untouched)
    assert vat.carried == untouched.plan.title


def test_of_two_days_on_a_vat_the_one_with_something_done_counts(tmp_path: Path) -> None:
    """Whichever is read first."""
    for number, ids in enumerate((("s2", "s3"), ("s3", "s2"))):
        folder = tmp_path / f"{number}"
        folder.mkdir()
        idle, busy = second_day(), second_day(StepDone("vat.skim"))
        assert listed(folder, kept(), evolve(idle, id=ids[0]), evolve(busy, id=ids[1])) == ()


def second_day(*more: Event) -> Session:
    """A day later, a session that carries on from the kept vat, and what happened in it."""
    later = VirtualClock(CREATED)
    later.advance(86400)
    carried = carry_on(kept(), later.now())
    return Session("s2", later.utc, carried.plan, logged(carried.event, *more, clock=later))


def test_a_file_that_cannot_be_read_keeps_none(tmp_path: Path) -> None:
    """Damage is told elsewhere; here it only does not stand in the way."""
    (tmp_path / "broken.json").write_text('{"vat_kept"', "utf-8")
    assert len(listed(tmp_path, kept())) == 1


def test_let_go_by_a_clock_that_was_set_back(tmp_path: Path) -> None:
    """What came first is told by the order of the log, not by the hours in it."""
    made = kept()
    earlier = evolve(made.entries[0].at, utc=made.entries[1].at.utc - timedelta(hours=2))
    gone = evolve(made, entries=(*made.entries, Entry(4, earlier, GONE)))
    assert listed(tmp_path, gone) == ()


def test_kept_again_after_it_was_let_go_stands(tmp_path: Path) -> None:
    """A vat that was let go by mistake and then kept is kept."""
    made = kept(GONE)
    again = Entry(5, made.entries[-1].at, keep(made.upto(3)))
    assert len(listed(tmp_path, evolve(made, entries=(*made.entries, again)))) == 1
