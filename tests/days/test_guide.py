"""A day shown to a newcomer: its stops come in order, each names a key that there is, and the whole job is in them."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench.replay_desk import GuidedDesk
from vatside.days.replay import stops
from vatside.plan.sheet import Stage
from vatside.storage.places import guided_day
from vatside.storage.session_file import ReadOnly
from vatside.storage.session_text import loaded_of
from vatside.ui.base.keymap import label
from vatside.ui.day.keys import DAY_KEYS
from vatside.ui.dips.keys import BOARD_KEYS
from vatside.ui.vat.keys import MEANING_KEYS, VAT_KEYS

SESSION = loaded_of(guided_day()).session
STOPS = stops(SESSION)


@pytest.fixture(name="clock")
def _clock() -> VirtualClock:
    return VirtualClock()


@pytest.fixture(name="desk")
def _desk(clock: VirtualClock) -> GuidedDesk:
    return GuidedDesk(SESSION, clock)


def test_the_stops_stand_in_the_order_of_the_day() -> None:
    """From its beginning to its last entry, none twice."""
    seqs = [stop.seq for stop in STOPS]
    assert seqs == sorted(set(seqs))
    assert (seqs[0], seqs[-1]) == (0, len(SESSION.entries))


def test_the_whole_job_is_shown() -> None:
    """Plan, wait, alarm, caution, lye, vat, reading, correction, dips, sour, end and blue."""
    shown = {SESSION.entries[stop.seq - 1].event.kind for stop in STOPS[1:]}
    assert shown >= {
        "plan_changed", "wait_started", "alarm_quieted", "caution_acknowledged", "step_done", "vat_made",
        "reading_taken", "correction_made", "dip_started", "dip_ended", "vat_spent", "swatch_recorded",
    }  # fmt: skip


def test_each_stop_names_a_key_that_there_is() -> None:
    """Of the day, the board, the vat or a reading's meaning."""
    keys = {name for key in (*DAY_KEYS, *BOARD_KEYS, *VAT_KEYS, *MEANING_KEYS) for name in label(key).split()}
    assert {stop.key for stop in STOPS} <= keys


@pytest.mark.parametrize("stop", STOPS, ids=lambda stop: str(stop.seq))
def test_a_stop_is_one_short_sentence(stop: object) -> None:
    """Two lines of the smallest screen."""
    assert len(stop.words) <= 104  # type: ignore[attr-defined]


def test_it_runs_at_sixty_to_one_and_stands_at_each_stop(desk: GuidedDesk, clock: VirtualClock) -> None:
    """However coarse the looks at the clock are, no stop is run over; 24 s of the day are 0.4 s."""
    desk.play()
    seen = [desk.stop]
    clock.advance(0.4 - 0.01)
    desk.advance()
    assert desk.running
    for _ in range(2 * len(STOPS)):
        clock.advance(24 * 3600 / 60)
        desk.advance()
        assert not desk.running
        if desk.stop not in seen:
            seen.append(desk.stop)
        if desk.stop != STOPS[-1]:
            desk.play()
    assert tuple(seen) == STOPS


def test_a_key_goes_from_stop_to_stop(desk: GuidedDesk) -> None:
    """Forward to the end, and back to the beginning."""
    there, back = [], []
    for _ in STOPS[1:]:
        desk.to_event(1)
        desk.advance()
        there.append((desk.stop, desk.state.seq))
    assert there == [(stop, stop.seq) for stop in STOPS[1:]]
    for _ in STOPS[1:]:
        desk.to_event(-1)
        desk.advance()
        back.append(desk.stop)
    assert back == list(STOPS[-2::-1])


def test_where_the_vat_stands_its_stage_is_shown(desk: GuidedDesk) -> None:
    """Its tub is filled on the stage of the vat; a key that skips what came between still leads there."""
    while "The vat stands." not in desk.stop.words:
        desk.to_event(1)
    desk.advance()
    assert desk.stage_of_latest() is Stage.VAT


def test_nothing_is_written(desk: GuidedDesk, tmp_path: Path) -> None:
    """There is no file behind it, and whatever is tried is refused."""
    before = guided_day().read_bytes()
    with pytest.raises(ReadOnly):
        desk.log(SESSION.entries[-1].event)
    assert desk.keeping.path is None
    assert guided_day().read_bytes() == before
    assert not list(tmp_path.iterdir())


def test_from_its_end_it_begins_again(desk: GuidedDesk, clock: VirtualClock) -> None:
    """Run once more, it stands at the first stop after the beginning."""
    desk.jump(desk.player.line.length)
    assert desk.stop == STOPS[-1]
    desk.play()
    clock.advance(3600)
    desk.advance()
    assert desk.stop == STOPS[1]
