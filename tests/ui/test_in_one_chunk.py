"""Keys that arrive together do what the same keys do one after the other."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.ui.hands import Bench, Hands, key_event

from vatside.log.state import Session
from vatside.log.words import day as day_words
from vatside.log.words.day import log_lines
from vatside.storage.folder import copy_sample
from vatside.storage.places import samples_folder
from vatside.ui.base.screens import ReadingWindow
from vatside.ui.day.screen import DayScreen
from vatside.ui.dips.ladder import LadderWindow
from vatside.ui.windows.ask import AskWindow


def at_work(tmp_path: Path) -> Path:
    """Give a copy of the sample that is in the middle of its day."""
    return copy_sample(samples_folder() / "at-the-stove.json", tmp_path / "sessions", VirtualClock().now())


async def begin(hands: Hands) -> None:
    """Leave the question open that a sample asks, and stand in its day."""
    await hands.settle()
    while not isinstance(hands.app.screen, DayScreen):
        await hands.press("escape")


async def chunk(hands: Hands, *keys: str) -> None:
    """Let keys arrive together."""
    for key in keys:
        hands.app.post_message(key_event(key))
    await hands.settle()


WAIT = ("w", *"5 min")
CHUNKS = [
    (*WAIT, "enter", "enter"),
    (*WAIT, "enter", "enter", "enter"),
    (*WAIT, "escape", "escape"),
    ("equals_sign", "enter", "enter", "enter"),
    ("equals_sign", "equals_sign", "equals_sign", "equals_sign"),
    ("o", "o", "o", "o"),
    ("o", "escape", "escape"),
    ("f", "f", "f", "f", "f", "f"),
    ("f", "escape", "escape", "escape"),
    ("l", "l", "escape", "l"),
    ("question_mark", "question_mark", "question_mark"),
    ("v", "escape", "escape"),
    ("v", "r", "escape", "escape", "escape"),
    ("v", "x", "v", "enter", "escape"),
    ("d", "d", "d", "escape"),
    ("o", "g", "escape", "escape"),
    ("n", *"a word", "enter", "enter", "n", *"another", "enter"),
    ("e", "e", "u", "u"),
]


@pytest.mark.parametrize("keys", CHUNKS, ids=" ".join)
async def test_a_chunk_does_what_the_keys_do_slowly(bench: Bench, tmp_path: Path, keys: tuple[str, ...]) -> None:
    """The same screens stand, and the same is in the log, however fast the keys came."""
    found = []
    for name, together in (("slow", False), ("fast", True)):
        async with bench(file=at_work(tmp_path / name), folder=tmp_path / name / "sessions") as hands:
            await begin(hands)
            await (chunk(hands, *keys) if together else hands.press(*keys))
            screens = [type(screen).__name__ for screen in hands.app.screen_stack]
            found.append((screens, hands.kinds, hands.day.stage, hands.day.hand))
    assert found[0] == found[1]


FROM_THE_LIST = [
    (("o", "a", "escape"), ["OpeningScreen", "ShelfScreen"]),
    (("p", "space", "full_stop", "c"), ["OpeningScreen", "DayScreen"]),
    (("c", "z", "enter"), ["OpeningScreen", "DayScreen"]),
    (("m", "down", "m", "g"), ["OpeningScreen", "CompareScreen", "ReadingWindow"]),
    (("g", "escape", "p"), ["OpeningScreen", "DayScreen"]),
]


@pytest.mark.parametrize(("keys", "stands"), FROM_THE_LIST, ids=str)
async def test_a_chunk_on_the_list_of_days(
    bench: Bench, tmp_path: Path, keys: tuple[str, ...], stands: list[str]
) -> None:
    """What a key opens takes the next one of the chunk."""
    async with bench(file=at_work(tmp_path)) as hands:
        await begin(hands)
        await hands.press("b", "down")
        await chunk(hands, *keys)
        assert [type(screen).__name__ for screen in hands.app.screen_stack] == stands


async def test_a_second_enter_stays_in_the_day(bench: Bench, tmp_path: Path) -> None:
    """Whoever presses Enter twice after a wait has the wait, and stands in the day."""
    async with bench(file=at_work(tmp_path)) as hands:
        await begin(hands)
        before = len(hands.desk.state.waits)
        await chunk(hands, *WAIT, "enter", "enter")
        assert len(hands.desk.state.waits) == before + 1
        assert isinstance(hands.app.screen, DayScreen)


async def test_typing_ahead_of_a_window_goes_into_it(bench: Bench, tmp_path: Path) -> None:
    """What follows the key of a window belongs to the window, not to the day below."""
    async with bench(file=at_work(tmp_path)) as hands:
        await begin(hands)
        kinds = hands.kinds
        await chunk(hands, "w", *"12 min rinse")
        assert isinstance(hands.app.screen, AskWindow)
        assert "rinse, 12 min" in hands.screen
        assert hands.kinds == kinds


async def test_leaving_from_a_day_that_is_just_coming(bench: Bench, tmp_path: Path) -> None:
    """Back to the list, a new day and ctrl+q, all at once, leave in order."""
    async with bench(file=at_work(tmp_path)) as hands:
        await begin(hands)
        await chunk(hands, "b", "a", "ctrl+q")
        assert hands.app.desk is None


async def test_every_window_can_be_left_by_ctrl_q(bench: Bench) -> None:
    """The ladder of depths as well."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "d")
        assert isinstance(hands.app.screen, LadderWindow)
        await hands.press("ctrl+q")
        assert hands.app.desk is None


async def test_a_screen_closes_once(bench: Bench, tmp_path: Path) -> None:
    """To close what is closed already is nothing."""
    async with bench(file=at_work(tmp_path)) as hands:
        await begin(hands)
        await hands.press("l")
        window = hands.app.screen
        assert isinstance(window, ReadingWindow)
        window.dismiss()
        window.dismiss()
        await hands.settle()
        window.dismiss()
        assert isinstance(hands.app.screen, DayScreen)


async def test_the_log_is_worded_once(bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However often its window asks for rows: the sentences of a long day take seconds."""
    worded: list[Session] = []

    def counted(session: Session) -> list[str]:
        worded.append(session)
        return log_lines(session)

    monkeypatch.setattr(day_words, "log_lines", counted)
    async with bench(file=at_work(tmp_path)) as hands:
        await begin(hands)
        await hands.press("l")
        await hands.pilot.resize_terminal(60, 20)
        await hands.settle()
        assert isinstance(hands.app.screen, ReadingWindow)
    assert len(worded) == 1


async def test_a_covered_screen_closes_when_it_is_in_front(bench: Bench, tmp_path: Path) -> None:
    """A window that something else came in front of takes nothing but itself away."""
    async with bench(file=at_work(tmp_path)) as hands:
        await begin(hands)
        await hands.press("l")
        below = hands.app.screen
        hands.app.push_screen(ReadingWindow("In front", lambda width: ()))
        await hands.settle()
        below.dismiss()
        await hands.settle()
        assert [type(screen).__name__ for screen in hands.app.screen_stack[1:]] == [
            "DayScreen", "ReadingWindow", "ReadingWindow",
        ]  # fmt: skip
        await hands.press("escape")
        assert isinstance(hands.app.screen, DayScreen)


async def test_the_working_of_a_figure_that_is_gone(bench: Bench) -> None:
    """In a small window the figures stand behind the form: those of another fibre are not asked for."""
    async with bench(size=(60, 20)) as hands:
        await hands.new_day()
        await hands.press("escape", "tab")
        figures = hands.day.parts["figures"]
        figures.show((*figures.rows, *(row.__class__(row.spans, "scour.none.soda-ash") for row in figures.rows[:1])))
        await hands.press("end", "equals_sign", "up", "up", "down", "escape")
        assert isinstance(hands.app.screen, DayScreen)


async def test_a_step_in_hand_that_is_no_stage(bench: Bench) -> None:
    """On the plan, what the hidden steps had in hand before opens nothing."""
    async with bench(size=(60, 20)) as hands:
        await hands.new_day()
        await hands.press("escape")
        hands.day.parts["steps"].key = "stock.alkali_in"
        await hands.press("space")
        assert hands.day.stage.value == "plan"
