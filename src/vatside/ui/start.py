"""Starting the app from the command line, and what is said when it has ended."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from vatside.plain.streams import Refusal, tell
from vatside.storage.places import home, make_ready, themes_folder
from vatside.storage.settings import read_settings
from vatside.ui.app import VatsideApp
from vatside.ui.base.host import put_away
from vatside.ui.opening.rows import GUIDE, REPLAY, SAVED
from vatside.ui.theme.choice import Looks

if TYPE_CHECKING:
    from vatside.clocks.clock import Clock
    from vatside.storage.settings import Settings


def refusal(path: Path | None, *, replay: bool = False) -> str:
    """Say why there can be no full screen here; empty if there can."""
    if _is_terminal(sys.stdin) and _is_terminal(sys.stdout) and os.environ.get("TERM", "") not in ("dumb", ""):
        return ""
    name = path or "FILE"
    words = f"`vatside replay {name} --plain` prints it" if replay else f"`vatside sheet {name}` prints the figures"
    return f"a full screen needs a terminal; {words} without one."


def _is_terminal(stream: TextIO | None) -> bool:
    return stream is not None and stream.isatty()


def make_app(
    path: Path | None,
    clock: Clock | None = None,
    folder: Path | None = None,
    *,
    replay: bool = False,
    guide: bool = False,
) -> VatsideApp:
    """Build the app with the machine's clock, the person's folder and every look there is.

    SessionError if a person's files can be nowhere; a day that was named can still be where it is.
    """
    own = home()
    if path is None and folder is None:
        make_ready(own / "sessions")
    looks = Looks((themes_folder(), own / "themes"), own / "look")
    settings, wrong = read_settings(own)
    sentences = (*_own_vats(own / "vats"), *([wrong] if wrong else []))
    first = GUIDE if guide else REPLAY if replay else SAVED
    app = VatsideApp(path, clock, folder or own / "sessions", looks=looks, said=sentences, first=first)
    _tell_outside(app, settings)
    return app


def _tell_outside(app: VatsideApp, settings: Settings) -> None:
    """Let alarms be told outside the app, if anything of that is set."""
    if settings.notice == "off" and not settings.command:
        return
    from vatside.ui.alarm_notice import AlarmNotice

    def write(text: str) -> None:
        if app._driver is not None and not app.is_headless:  # the library has no public way to write to its terminal
            app._driver.write(text)

    app.alarm_notice = AlarmNotice(settings, write)


def _own_vats(folder: Path) -> tuple[str, ...]:
    """Take the dyer's own kinds of vat in, if there is a folder of them; give what is to be said of it."""
    try:
        there = folder.is_dir()
    except OSError:  # a folder that cannot be looked for holds no vat
        there = False
    if not there:
        return ()
    from vatside.storage.own_vats import take_folder_in

    return take_folder_in(folder)


def run(
    path: Path | str | None = None,
    clock: Clock | None = None,
    folder: Path | None = None,
    *,
    replay: bool = False,
    guide: bool = False,
) -> int:
    """Run the app until it is left; the exit code is 0, or 1 after a crash, or 128 and the signal's number.

    SessionError, before anything is shown, if it cannot run here.
    """
    app = make_app(Path(path) if path is not None else None, clock, folder, replay=replay, guide=guide)
    try:
        app.run()
    except OSError as error:
        # The terminal itself is gone: there is nobody to talk to, and the log is on the disk.
        app.words = app.words or f"vatside: the terminal is gone ({error})"
    finally:
        _last_words(app)
    return app.return_code or 0


def _last_words(app: VatsideApp) -> None:
    """Say where the session is, also after a crash."""
    words = app.words or put_away(app.desk)
    if not words:
        return
    with suppress(OSError, Refusal):
        tell(words)
