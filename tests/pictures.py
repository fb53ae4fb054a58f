"""The pictures of the README, taken from the real app: `python -m tests.pictures` puts them in anew.

Each stands in a code block behind a line `<!-- picture: NAME -->`; a test says when one is stale.
"""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.ui.hands import Hands

from vatside.storage.folder import moved
from vatside.storage.places import samples_folder, themes_folder
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import loaded_of
from vatside.ui.app import VatsideApp
from vatside.ui.theme.choice import Looks

README = Path(__file__).parents[1] / "README.md"
SIZE = (80, 24)
AT_THE_BOARD = 71
"""The entry of the finished day after which two panels are airing and two come out of the vat."""
READ_AGAIN = 62
"""The entry after which its vat was fed, warmed and read once more."""
_BLOCK = re.compile(r"(<!-- picture: ([a-z]+) -->\n```\n).*?(\n```\n)", re.DOTALL)

Scene = tuple[str, int | None, tuple[str, ...]]
"""A sample, the number of its entry to stop at (None: its end), and the keys that are pressed then."""
SCENES: dict[str, Scene] = {
    "stock": ("at-the-stove", None, ("left",)),
    "board": ("finished-day", AT_THE_BOARD, ("d",)),
    "vat": ("finished-day", READ_AGAIN, ("v",)),
}


def pictures() -> dict[str, str]:
    """Take every picture, as the clock on a wall in UTC shows it."""
    with _in_utc():
        return {name: asyncio.run(_taken(*scene)) for name, scene in SCENES.items()}


async def _taken(sample: str, upto: int | None, keys: tuple[str, ...]) -> str:
    """Open a sample as it stood after an entry, press keys, and give the screen."""
    clock = VirtualClock(boot="picture")  # another start of the machine than the samples were made in
    session = loaded_of(samples_folder() / f"{sample}.json").session
    session = session if upto is None else session.upto(upto)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "day.json"
        SessionFile.write_new(path, evolve(moved(session, clock.now()), id="picture")).close()
        app = VatsideApp(path, clock, Path(folder), looks=Looks([themes_folder()]))
        async with app.run_test(size=SIZE) as pilot:
            hands = Hands(app, pilot, clock)
            await hands.until(lambda: app.desk is not None and type(app.screen).__name__ == "DayScreen")
            await hands.later(30)  # what was said on opening is gone
            await hands.press(*keys)
            await hands.until(lambda: app.screen.focused is not None)
            await hands.settle()
            return "\n".join(line.rstrip() for line in hands.screen.splitlines())


@contextmanager
def _in_utc() -> Iterator[None]:
    before = os.environ.get("TZ")
    os.environ["TZ"] = "UTC"
    time.tzset()
    try:
        yield
    finally:
        os.environ.pop("TZ") if before is None else os.environ.update(TZ=before)
        time.tzset()


def with_pictures(text: str, found: dict[str, str]) -> str:
    """Put the pictures into their places; KeyError for one that there is not."""
    return _BLOCK.sub(lambda match: f"{match[1]}{found[match[2]]}{match[3]}", text)


def shown(text: str) -> dict[str, str]:
    """Give the pictures that stand in a text."""
    return {match[2]: match[0].removeprefix(match[1]).removesuffix(match[3]) for match in _BLOCK.finditer(text)}


def main() -> None:
    """Put them in anew."""
    text = README.read_text("utf-8")
    README.write_text(with_pictures(text, pictures()), "utf-8")


if __name__ == "__main__":
    main()
