"""What is ten times as large: each command and view on it against the same on a tenth. A quick run takes less of both.

A ratio of ten is what looking at everything once costs, thirteen what sorting it does (10 × log 10,000 / log 1,000).
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from contextlib import ExitStack
from datetime import timedelta
from pathlib import Path

from attrs import evolve
from tests.bench.long_log import long_session
from tests.bench.measure import NotHere, Pairs, cpu_ms, interleaved
from tests.bench.run import Run, workplace
from tests.log.makers import CREATED, logged
from tests.shelf.shelves import MAY, item, used

from vatside.log.events.day import Event, NoteWritten, PlanChanged, WaitEnded, WaitStarted
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.plain.file_contents import log_lines
from vatside.plan.starter import starter_plan
from vatside.shelf.events import ItemBought, Noted, ShelfEvent
from vatside.shelf.shelf import shelf
from vatside.storage.folder import list_sessions
from vatside.storage.session_text import decode, encode
from vatside.units import Amount


def many_waits(count: int) -> Session:
    """A session in which so many waits were started and none has ended."""
    events = (WaitStarted(f"w{number}", None, f"Wait {number}", 24 * 60) for number in range(count))
    return Session("bench", CREATED, starter_plan("Many waits"), logged(*events, every=1.0))


Made = Callable[[int], Session]
"""Makes a session of so many."""


def many_lots(count: int) -> Session:
    """A session of so many lots of a few pieces each, of three fibres by turns."""
    plan = starter_plan("Many lots")
    lots = (
        evolve(plan.lots[0], id=f"l{number}", name=f"Lot {number}", pieces=1 + number % 3, fibre=FIBRES[number % 3])
        for number in range(count)
    )
    return Session("bench", CREATED, evolve(plan, lots=tuple(lots)), logged(NoteWritten("even")))


FIBRES = ("linen", "wool", "cotton")


def fold_of_events(run: Run) -> Pairs:
    """Reading and folding 50,000 events against 5,000."""
    large, small = (encode(long_session(count)) for count in (run.size(50_000), run.size(5_000)))
    return interleaved(
        run.rounds(5, 1),
        lambda: cpu_ms(lambda: fold(decode(large).session)),
        lambda: cpu_ms(lambda: fold(decode(small).session)),
    )


def log_of_events(run: Run) -> Pairs:
    """The log of 50,000 notes, changes and waits against that of 5,000.

    Steps are left out: to name one takes the sheet of its plan, which costs thousands of other lines.
    """
    large, small = _talk(run.size(50_000)), _talk(run.size(5_000))
    return interleaved(
        run.rounds(3, 1), lambda: cpu_ms(lambda: log_lines(large)), lambda: cpu_ms(lambda: log_lines(small))
    )


def _talk(count: int) -> Session:
    turns = (
        (NoteWritten(f"Skein {turn}"), PlanChanged("lots.a.mass", Amount(200 + turn % 90, "g")),
         WaitStarted(f"w{turn}", None, "Hold", 20.0), NoteWritten("even"), WaitEnded(f"w{turn}"))
        for turn in range(count // 5)
    )  # fmt: skip
    events: list[Event] = [event for turn in turns for event in turn]
    return Session("bench", CREATED, starter_plan("Much said"), logged(*events, every=1.0))


def bags(run: Run) -> Pairs:
    """A shelf of 2,000 bags, each used once, against one of 200."""
    large, small = many_bags(run.size(2_000)), many_bags(run.size(200))
    return interleaved(run.rounds(9, 3), lambda: cpu_ms(lambda: shelf(large)), lambda: cpu_ms(lambda: shelf(small), 10))


def many_bags(count: int) -> tuple[Noted, ...]:
    """Give a shelf of so many bags, of four materials by turns, each used once."""
    materials = ("indigo", "lye", "soda-ash", "soap")
    events: list[ShelfEvent] = [ItemBought(item(f"i{number}", materials[number % 4])) for number in range(count)]
    events += [used(f"i{number}", 3) for number in range(count)]
    return tuple(Noted(seq, f"e{seq}", MAY + timedelta(minutes=seq), event) for seq, event in enumerate(events, 1))


def list_of_days(run: Run) -> Pairs:
    """A list of 5,000 days that was never read against one of 500."""
    with ExitStack() as stack:
        large, small = (many_days(stack.enter_context(workplace()), count) for count in map(run.size, (5_000, 500)))
        return interleaved(
            run.rounds(5, 1), lambda: cpu_ms(lambda: _fresh(large)), lambda: cpu_ms(lambda: _fresh(small))
        )


def first_page(run: Run) -> Pairs:
    """The first page of 5,000 days against a list of 500, both never read."""
    with ExitStack() as stack:
        large, small = (many_days(stack.enter_context(workplace()), count) for count in map(run.size, (5_000, 500)))
        return interleaved(
            run.rounds(5, 1), lambda: cpu_ms(lambda: _fresh(large, most=50)), lambda: cpu_ms(lambda: _fresh(small))
        )


def many_days(folder: Path, count: int) -> Path:
    """Save so many days of thirty entries in a folder."""
    text = json.loads(encode(long_session(30)))
    for number in range(count):
        (folder / f"{number}.json").write_text(json.dumps(text | {"id": f"s{number}"}), "utf-8")
    return folder


def _fresh(folder: Path, most: int | None = None) -> object:
    (folder / ".list.json").unlink(missing_ok=True)
    return list_sessions(folder, most=most)


def steady(run: Run) -> Pairs:
    """Memory after thirty simulated hours of six waits, with every look at the clock, against that after two, MiB."""
    from tests.bench.ticking import resident_after

    if not Path("/proc/self/statm").exists():
        raise NotHere("no /proc")
    with workplace() as folder:
        early, late = resident_after(folder, (1, 2) if run.quick else (2, run.rounds(30, 4)))
    return Pairs((late,), (early,))


def resident_mib() -> float:
    """Memory of this process that is not shared with others or swapped out, MiB."""
    pages = int(Path("/proc/self/statm").read_text("ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20
