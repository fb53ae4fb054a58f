"""Every key of every screen is pressed: what its table says is run, and nothing falls over."""

from __future__ import annotations

import shutil
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime
from functools import wraps
from pathlib import Path
from typing import Any

import pytest
from tests.ui.hands import Bench, Hands
from tests.ui.test_keymaps import TABLES, explained
from textual.screen import Screen

from vatside.dayline.steps import Step
from vatside.plan.sheet import Stage
from vatside.shelf.events import Item, ItemBought
from vatside.shelf.shelf_file import ShelfFile
from vatside.storage.places import samples_folder
from vatside.ui.base.keymap import AMOUNTS, COMMANDS, Key, chooses, in_turn, label, parts, shown, typing
from vatside.ui.day.screen import DayScreen
from vatside.ui.opening.rows import REPLAY
from vatside.ui.routes import opening
from vatside.ui.routes.day import HERE, show
from vatside.ui.widgets.form import Form
from vatside.ui.windows.ask import CautionWindow, TroubleWindow
from vatside.ui.windows.questions import InsistWindow, TubWindow
from vatside.units import Amount
from vatside.vat.interlocks import Block

LONG_AGO = datetime(2020, 1, 1, tzinfo=UTC)
Way = Callable[[Hands], Awaitable[None]]


def from_day(stage: str, *keys: str) -> Way:
    """Open the day at a stage, and go on with some keys."""

    async def way(hands: Hands) -> None:
        if not keys or not back_to_day(hands):
            show(hands.app, hands.desk)
        await hands.until(lambda: isinstance(hands.app.screen, DayScreen) and bool(hands.day.steps.keys))
        hands.day.go(Stage(stage))
        await hands.press("escape", *keys)

    return way


def back_to_day(hands: Hands) -> bool:
    """Take what stands on the day away, so that only the screen above it is a fresh one; False: no day stands there."""
    if not any(isinstance(screen, DayScreen) for screen in hands.app.screen_stack):
        return False
    while not isinstance(hands.app.screen, DayScreen):
        hands.app.pop_screen()
    return True


def from_list(*keys: str) -> Way:
    """Stand on a day in the list, and go on with some keys."""

    async def way(hands: Hands) -> None:
        while len(hands.app.screen_stack) > 1:
            hands.app.pop_screen()
        await hands.settle()
        await hands.press("escape", "home", "down", "down", *keys)

    return way


def window(make: Callable[[], Screen[Any]]) -> Way:
    """Put a window on."""

    async def way(hands: Hands) -> None:
        hands.app.push_screen(make())
        await hands.settle()

    return way


async def play_back(hands: Hands) -> None:
    """Play the day back."""
    opening.go(hands.app, REPLAY, hands.app.file)
    await hands.until(lambda: isinstance(hands.app.screen, DayScreen))
    await hands.settle()


STEP = Step("vat.x", Stage.VAT, "Put it in", 1)
WAYS: dict[str, Way] = {
    "OpeningScreen": from_list(),
    "CompareScreen": from_list("m", "down", "m"),
    "RepeatScreen": from_list("c"),
    "DayScreen": from_day("vat"),
    "DayScreen, played back": play_back,
    "FarScreen": from_day("vat", "f"),
    "VatScreen": from_day("vat", "v"),
    "MeaningScreen": from_day("vat", "v", "enter"),
    "ReadingScreen": from_day("vat", "r"),
    "SpentScreen": from_day("vat", "v", "x"),
    "LineScreen": from_day("vat", "o", "z"),
    "DipScreen": from_day("dip", "d"),
    "ShelfScreen": from_day("vat", "o", "o"),
    "BagScreen": from_day("vat", "o", "o", "enter"),
    "LadderWindow": from_day("plan", "d"),
    "ColourWindow": from_day("finish", "g"),
    "WorkingWindow": from_day("vat", "="),
    "NoticesWindow": from_day("vat", "i"),
    "ReadingWindow": from_day("vat", "l"),
    "ChooseWindow": from_day("vat", "o"),
    "AskWindow": from_day("vat", "n"),
    "CautionWindow": window(lambda: CautionWindow(STEP)),
    "TubWindow": window(lambda: TubWindow(STEP)),
    "InsistWindow": window(lambda: InsistWindow("No.", Block("It can burn.", "Wait."))),
    "TroubleWindow": window(lambda: TroubleWindow("Which?", lambda _width: (), ((HERE, lambda: None),))),
}
"""How each screen is come to."""


class Ear:
    """Hears which actions of a screen and of its app are run."""

    def __init__(self, hands: Hands) -> None:
        self.heard: list[str] = []
        self.hands = hands

    def listen(self, table: tuple[Key, ...]) -> None:
        """Listen to the screen in front."""
        for action in {action.partition("(")[0] for key in table for _, action in parts(key)}:
            app, _, name = action.rpartition(".")
            self._listen(self.hands.app if app else self.hands.app.screen, name, goes_on=not app or name == "days")

    def _listen(self, node: Any, name: str, *, goes_on: bool) -> None:
        method = f"action_{name}"
        run = getattr(type(node), method).__get__(node)

        @wraps(run)
        def hear(*given: Any) -> Any:
            self.heard.append(name)
            return run(*given) if goes_on else None

        setattr(node, method, hear)


def presses(table: tuple[Key, ...]) -> list[tuple[str, str]]:
    """Every key with the action that it is to run; what closes the screen comes last."""
    found = [(name, action) for key in explained(table) for names, action in parts(key) for name in names.split(",")]
    return sorted(found, key=lambda pair: pair[1].partition("(")[0] in ("back", "leave", "save", "have_read"))


@pytest.fixture(name="day")
def _day(tmp_path: Path) -> Path:
    """Two sample days in a folder, and a bag on the shelf."""
    folder = tmp_path / "sessions"
    folder.mkdir()
    for sample in sorted(samples_folder().glob("*.json")):
        shutil.copy(sample, folder)
    bag = Item("n", "indigo", Amount(100, "g"), Amount(38, "%"), lot="A")
    ShelfFile(tmp_path / "shelf.json").note([ItemBought(bag)], LONG_AGO)
    return folder / "at-the-stove.json"


def test_a_way_leads_to_every_screen() -> None:
    """A new one is told here."""
    assert set(WAYS) == set(TABLES)


@pytest.mark.parametrize("name", WAYS)
async def test_every_key_runs_what_its_table_says(bench: Bench, day: Path, name: str) -> None:
    """From a fresh screen each time that a key has closed it, without a fault."""
    async with bench(size=(120, 40), file=day) as hands:
        ear, deaf = await stand(hands, name), []
        screen = hands.app.screen
        line = {one.label for one in shown(TABLES[name], screen)}
        assert {label(key) for key in explained(TABLES[name]) if key.when is in_turn and counts(key, screen)} <= line
        for key, action in presses(TABLES[name]):
            if hands.app.screen is not screen or typing(screen) not in (COMMANDS, AMOUNTS):
                ear = await stand(hands, name)
                screen = hands.app.screen
            ear.heard.clear()
            if typing(screen) and not stays(name, key):
                continue
            await hands.press(key)
            if action.partition("(")[0].rpartition(".")[2] not in ear.heard:
                deaf.append((key, action, *ear.heard))
        assert deaf == []


def counts(key: Key, screen: Screen[Any]) -> bool:
    """Tell whether a key without a condition stands in the line of a screen just now."""
    now = typing(screen)
    return now == COMMANDS or (key.typed and bool(label(key, typed=now)))


def stays(name: str, key: str) -> bool:
    """Tell whether a key keeps its meaning where an amount is typed."""
    found = [one for one in TABLES[name] if key in one.keys.replace(",", " ").split()]
    return found[0].typed and bool(label(found[0], typed=AMOUNTS))


async def stand(hands: Hands, name: str) -> Ear:
    """Come to a screen, and listen; in a form to a row of choices, where no key is a letter of a text."""
    app, table = hands.app, TABLES[name]
    kind = name.partition(",")[0]
    await WAYS[name](hands)
    await hands.until(lambda: type(app.screen).__name__ == kind)
    forms = app.screen.query(Form)
    if kind in ("ReadingScreen", "BagScreen") and forms:
        rows = [row.path for row in forms.first().rows if row.field.choices] or [""]
        forms.first().take(rows[0])
        await hands.settle()
        assert chooses(app.screen) or typing(app.screen) != COMMANDS
    ear = Ear(hands)
    ear.listen(table)
    return ear
