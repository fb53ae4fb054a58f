"""What six running waits cost, beside a Textual app whose one clock is written once a second."""

from __future__ import annotations

import sys
from contextlib import ExitStack
from pathlib import Path

from tests.bench.measure import NotHere, Pairs
from tests.bench.run import APPS, Run, workplace
from tests.bench.terminal import Terminal
from tests.plan.plans import wool_plan

from vatside.clocks.clock import SystemClock
from vatside.log.events.day import WaitStarted
from vatside.storage.session_file import SessionFile

WAITS = 6
TITLE = "Six waits at once"
SETTLE = 5.0
"""Seconds after which an app has done everything that a start brings with it, the search for a shorter day included."""


def waits_beside_digits(run: Run) -> Pairs:
    """Milliseconds of processor time a second, side by side over the same seconds; one clock counts six times."""
    seconds = run.rounds(10, 5)
    rounds = [_side_by_side(seconds) for _ in range(run.rounds(3, 1))]
    return Pairs(tuple(ours for ours, _ in rounds), tuple(WAITS * digits for _, digits in rounds))


def _side_by_side(seconds: int) -> tuple[float, float]:
    with ExitStack() as stack:
        home = stack.enter_context(workplace())
        apps = (
            stack.enter_context(Terminal(_app(home), {"VATSIDE_HOME": str(home / "home")})),
            stack.enter_context(Terminal([sys.executable, str(APPS / "one_digits.py")])),
        )
        apps[0].until(TITLE)
        _listen(apps, SETTLE)
        before = [app.cpu_seconds() for app in apps]
        _listen(apps, seconds)
        ours, digits = ((app.cpu_seconds() - spent) * 1000 / seconds for app, spent in zip(apps, before, strict=True))
    if not digits:
        raise NotHere("the system's clock for processes is too coarse")
    return ours, digits


def _listen(apps: tuple[Terminal, ...], seconds: float) -> None:
    """Read what both paint, a little of each in turn."""
    turn = 0.1
    for _ in range(round(seconds / turn / len(apps))):
        for app in apps:
            app.listen(turn)


def _app(home: Path) -> list[str]:
    """Begin a day whose waits have just been started."""
    clock, path = SystemClock(), home / "day.json"
    file = SessionFile.create(path, wool_plan(TITLE), clock.now())
    for number in range(WAITS):
        file.append(WaitStarted(f"w{number}", None, f"Wait {number}", 30 + 5 * number, (10.0,), ("stir",)), clock.now())
    file.close()
    return [sys.executable, "-m", "vatside", str(path)]
