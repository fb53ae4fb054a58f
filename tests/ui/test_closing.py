"""A screen or window closes once, and what comes for it later is left out."""

from __future__ import annotations

from tests.ui.hands import settled
from textual import events
from textual.app import App
from textual.screen import Screen

from vatside.ui.base.screens import Closing, FullScreen, Window


class Under(App[None]):
    """An app with one screen that was opened over the library's own."""

    def __init__(self) -> None:
        super().__init__()
        self.answers: list[str | None] = []

    def open(self) -> Window[str]:
        """Open a window whose answer is noted."""
        window: Window[str] = Window()
        self.push_screen(window, self.answers.append)
        return window


async def test_a_window_hands_back_one_answer() -> None:
    """Of two keys that both close it the second one is for nobody."""
    async with Under().run_test() as pilot:
        app = pilot.app
        assert isinstance(app, Under)
        window = app.open()
        await settled(pilot.app)
        window.dismiss("first")
        window.dismiss("second")
        await settled(pilot.app)
        assert app.answers == ["first"]
        assert window not in app.screen_stack


async def test_a_covered_screen_closes_once_nothing_is_in_front_of_it() -> None:
    """What is in front of it stays until it is answered."""
    async with Under().run_test() as pilot:
        app, below = pilot.app, FullScreen()
        assert isinstance(app, Under)
        await app.push_screen(below)
        window = app.open()
        await settled(pilot.app)
        below.dismiss()
        await settled(pilot.app)
        assert app.screen is window
        window.dismiss("answer")
        await settled(app)
        assert below not in app.screen_stack
        assert app.answers == ["answer"]


async def test_what_is_gone_takes_no_keys_but_is_taken_down_in_order() -> None:
    """Keys, pastes and callbacks are left out; the library's own messages are not."""
    async with Under().run_test() as pilot:
        screen: Screen[None] = Screen()
        closing: Closing[None] = Closing(screen, screen.dismiss)
        await pilot.app.push_screen(screen)
        key, unmount = events.Key("q", "q"), events.Unmount()
        assert not closing.leaves_out(key)
        closing.close(None)
        await settled(pilot.app)
        assert closing.is_gone
        assert closing.leaves_out(key)
        assert not closing.leaves_out(unmount)
