"""Starting the app on a sample, beside two Textual apps of one label, each in a terminal of its own."""

from __future__ import annotations

import json
import shutil
import sys
from pathlib import Path

from attrs import frozen
from tests.bench.measure import Pairs
from tests.bench.run import APPS, ROOT, Run, workplace
from tests.bench.terminal import Terminal

SAMPLE = ROOT / "sample_sessions" / "finished-day.json"
TITLE: str = json.loads(SAMPLE.read_text("utf-8"))["plan"]["title"]
"""What the sample is called; its copy lies where no list finds it, so that only the day's screen says so."""


@frozen
class Start:
    """One start of one app."""

    words: float
    """Milliseconds from the start of the process to the first word painted."""
    whole: float
    """Milliseconds to the screen that was asked for."""
    memory: float
    """Resident then, MiB."""


@frozen
class Starts:
    """All starts, round by round."""

    ours: tuple[Start, ...]
    label: tuple[Start, ...]
    libraries: tuple[Start, ...]


def watch_starts(rounds: int) -> Starts:
    """Start each app once a round, in another order every time; the first round warms the disk and is not counted."""
    taken: dict[str, list[Start]] = {"ours": [], "label": [], "libraries": []}
    names = list(taken)
    with workplace() as folder:
        for number in range(rounds + 1):
            for name in names[number % 3 :] + names[: number % 3]:
                taken[name].append(_start(name, folder, number))
    return Starts(*(tuple(series[1:]) for series in taken.values()))


def _start(name: str, folder: Path, number: int) -> Start:
    if name == "ours":
        file = folder / f"day{number}.json"
        shutil.copy(SAMPLE, file)
        return _watch([sys.executable, "-m", "vatside", str(file)], TITLE, {"VATSIDE_HOME": str(folder / "home")})
    script = {"label": "one_label.py", "libraries": "with_libraries.py"}[name]
    return _watch([sys.executable, str(APPS / script)], "Painted", {})


def _watch(command: list[str], words: str, environment: dict[str, str]) -> Start:
    with Terminal(command, environment) as terminal:
        first = terminal.until_any_words()
        whole = terminal.until(words)
        return Start(first * 1000, whole * 1000, terminal.memory()[0])


def paint_beside_label(run: Run) -> Pairs:
    """First words of the app against first words of a one-label app."""
    starts = run.starts
    return Pairs(tuple(one.words for one in starts.ours), tuple(one.words for one in starts.label))


def paint_beside_libraries(run: Run) -> Pairs:
    """First words of the app against those of an app that imports pint and cattrs."""
    starts = run.starts
    return Pairs(tuple(one.words for one in starts.ours), tuple(one.words for one in starts.libraries))


def day_beside_libraries(run: Run) -> Pairs:
    """The day's own screen against the screen of an app that imports pint and cattrs."""
    starts = run.starts
    return Pairs(tuple(one.whole for one in starts.ours), tuple(one.whole for one in starts.libraries))


def memory_beside_libraries(run: Run) -> Pairs:
    """Memory once the day is on the screen against that of an app that imports pint and cattrs."""
    starts = run.starts
    return Pairs(tuple(one.memory for one in starts.ours), tuple(one.memory for one in starts.libraries))
