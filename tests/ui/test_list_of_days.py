"""The list of days says for when each is planned, and tells those of one name apart."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, session
from tests.ui.hands import Bench

from vatside.bench import acts
from vatside.bench.open_day import new_day
from vatside.days.kept_vats import StandingVat
from vatside.log.events.day import NoteWritten
from vatside.log.waits import Moment
from vatside.plan.starter import starter_plan
from vatside.storage.folder import SessionCard
from vatside.storage.folder import samples as loaded_samples
from vatside.storage.session_text import encode
from vatside.ui.opening.rows import Listed, in_hand, shelf_rows, told_apart
from vatside.ui.text.rows import UNICODE, cells
from vatside.vat.kept_vat import KeptVat

NOW = datetime(2026, 12, 2, 15, 0, tzinfo=UTC)


def card(name: str, ready_by: str | None = None, age: int = 0, title: str = "Towels, again") -> SessionCard:
    """A day of the folder."""
    return SessionCard(Path(f"{name}.json"), title, NOW - timedelta(days=age), ready_by=ready_by)


@pytest.mark.parametrize("width", [60, 80, 120])
def test_a_day_s_line_says_when_the_vat_is_planned(width: int) -> None:
    """5 December 2026 is a Saturday, by the calendar; nothing is cut for it."""
    listed = Listed((card("a", "2026-12-05T14:00"), card("b", "2026-12-12T14:00")))
    lines = [row.text for row in shelf_rows(listed, NOW, width, UNICODE)]
    assert sum("Towels, again" in line and "Sat 5 Dec 14:00" in line for line in lines) == 1
    assert sum("Towels, again" in line and "Sat 12 Dec 14:00" in line for line in lines) == 1
    assert all(cells(line) <= width for line in lines)


def test_of_a_day_that_is_past_no_hour_is_wanted() -> None:
    """Nor is its vat planned any more; one of this morning still is."""
    listed = Listed((card("a", "2026-12-01T14:00", title="Past"), card("b", "2026-12-02T10:00", title="Today")))
    lines = [row.text for row in shelf_rows(listed, NOW, 80, UNICODE)]
    assert [("by" in line.split()) for line in lines if "Past" in line or "Today" in line] == [False, True]


def test_a_day_that_is_over_bears_another_sign_than_one_to_come() -> None:
    """Its vat was kept or let go: it is ticked."""
    listed = Listed((evolve(card("a", title="Gone"), over=True), card("b", title="To come")), loaded_samples())
    signs = {row.text.split()[1]: row.text.split()[0] for row in shelf_rows(listed, NOW, 80, UNICODE) if row.key}
    assert (signs["Gone"], signs["To"], signs["Panels"]) == ("✓", "·", "✓")


def test_of_a_sample_nothing_runs() -> None:
    """It is no day of hers until it is opened as a copy; one of hers with two waits says so."""
    listed = Listed((evolve(card("a"), waits=2),), loaded_samples())
    lines = [row.text for row in shelf_rows(listed, NOW, 80, UNICODE) if "running" in row.text]
    assert ["Towels, again" in line for line in lines] == [True]


def test_days_of_one_name_are_numbered_by_age() -> None:
    """No two lines have one name, whatever their dates; other names need no number."""
    cards = (card("new"), card("old", age=3), card("dated", "2026-12-05T14:00"), card("other", title="Scarves"))
    assert [found.title for found in told_apart(cards)] == [
        "Towels, again (2)", "Towels, again (1)", "Towels, again (3)", "Scarves",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("planned", "waits", "chosen"),
    [
        ({"past": "2026-12-01T10:00"}, 0, None),
        ({"open": None}, 0, None),
        ({"later": "2026-12-05T14:00", "today": "2026-12-02T10:00", "past": "2026-12-01T10:00"}, 0, "today.json"),
        ({"runs": None, "today": "2026-12-02T10:00"}, 1, "runs.json"),
    ],
)
def test_the_cursor_waits_on_the_day_that_is_next(
    planned: dict[str, str | None], waits: int, chosen: str | None
) -> None:
    """On the morning of a planned day the first Enter opens that day, not one more."""
    cards = [card(name, ready_by) for name, ready_by in planned.items()]
    day = in_hand((evolve(cards[0], waits=waits), *cards[1:]), NOW.date())
    assert (day.path.name if day else None) == chosen


async def test_a_new_day_takes_no_title_that_another_has(bench: Bench, tmp_path: Path) -> None:
    """`A new day` stands in the folder: the next one is `A new day 2`."""
    folder = tmp_path / "sessions"
    folder.mkdir()
    first = session(NoteWritten("once"))
    (folder / "a.json").write_bytes(encode(evolve(first, plan=evolve(first.plan, title=starter_plan().title))))
    async with bench(folder=folder) as hands:
        await hands.until(lambda: "A new day " in hands.screen and "looking" not in hands.screen)
        await hands.new_day()
        assert hands.desk.plan.title == f"{starter_plan().title} 2"


async def test_the_list_rings_for_a_day_that_was_left_until_it_is_heard(bench: Bench, tmp_path: Path) -> None:
    """Also after the program was gone meanwhile; one key, which the key line names, hears it."""
    folder, clock = tmp_path / "sessions", VirtualClock()
    desk = new_day(folder, clock)
    acts.own_wait(desk, 5, "rinse")
    desk.keeping.close()
    clock.advance(600)
    async with bench(folder=folder, clock=clock) as hands:
        rung: list[float] = []
        hands.app.bell = lambda: rung.append(hands.clock.elapsed)  # type: ignore[method-assign]
        await hands.until(lambda: "rinse, " in hands.screen and "OVER +5:0" in hands.screen)
        assert "q quiet" in hands.screen
        await hands.later(5)
        assert rung
        await hands.press("q")
        assert "OVER" not in hands.screen
        rung.clear()
        await hands.later(10)
        assert not rung


@pytest.mark.parametrize(("seconds", "said"), [(5, "just kept"), (59, "just kept"), (3600, "1 h old")])
def test_a_kept_vat_is_aged_in_minutes_at_the_least(seconds: float, said: str) -> None:
    """The list stands still while one looks at it: no seconds are told."""
    vat = KeptVat(10.0, 5.0, "sodium hydroxide", 1.0, "thiourea dioxide", 1.0)
    kept = StandingVat(Path("monday.json"), "Monday", Moment(CREATED, 0, "virtual1"), vat)
    rows = shelf_rows(Listed(saved=(), kept=(kept,)), CREATED + timedelta(seconds=seconds), 80, UNICODE)
    assert any(item.text.rstrip().endswith(said) for item in rows)
