"""Every command on what is large against the same on a tenth of it: of each large thing, the command that grows most.

Each reads its files, works out and prints. A day that cannot be laid is refused in a sentence: that is its answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from itertools import count as count_up
from pathlib import Path

from attrs import evolve
from tests.bench.large import Made, many_bags, many_lots, many_waits
from tests.bench.long_log import long_session
from tests.bench.measure import Pairs, cpu_ms, interleaved
from tests.bench.run import Run, workplace

from vatside.__main__ import main
from vatside.log.state import Session
from vatside.shelf.shelf_file import encode as encode_shelf
from vatside.storage.session_text import encode

TOLD = ("log DAY", "replay DAY --plain")
OF_THE_SHELF = ("csv cost DAY --shelf SHELF", "shelf DAY --shelf SHELF")
OTHERS = (
    "check DAY", "sheet DAY --all", "sheet DAY --paths", "day DAY", "labels DAY", "card DAY", "handout DAY",
    "compare DAY DAY --all", "csv figures DAY", "csv readings DAY", *OF_THE_SHELF,
)  # fmt: skip


def on_waits(run: Run) -> Pairs:
    """On 10,000 open waits against 1,000."""
    return _worst(run, (*TOLD, *OTHERS), many_waits, 10_000)


def on_lots(run: Run) -> Pairs:
    """On 3,000 lots against 300."""
    return _worst(run, (*TOLD, *OTHERS), many_lots, 3_000)


def on_events(run: Run) -> Pairs:
    """On 50,000 events against 5,000."""
    return _worst(run, OTHERS, long_session, 50_000)


def told(run: Run) -> Pairs:
    """Log and replay of 4,000 events against 400: fewer, for each change of the plan under a step takes a sheet."""
    return _worst(run, TOLD, long_session, 4_000)


def on_bags(run: Run) -> Pairs:
    """With 2,000 bags on the shelf against 200, and one usual day."""
    commands = (*OF_THE_SHELF, "shelf --shelf SHELF", "csv shelf --shelf SHELF")
    return _worst(run, commands, lambda _: long_session(30), 100, bags=2_000)


Files = tuple[bytes, Path]
"""The text of a day, and the place of a shelf."""


def _worst(run: Run, commands: Sequence[str], made: Made, count: int, bags: int = 0) -> Pairs:
    part = 10 if run.quick else 1  # of all these commands, so that a quick run stays quick
    with workplace() as folder:
        large, small = (_files(folder, made(count // size), bags // size) for size in (part, 10 * part))
        return max((_beside(run, command, large, small) for command in commands), key=lambda pairs: pairs.ratio)


def _beside(run: Run, command: str, large: Files, small: Files) -> Pairs:
    # The small one comes first to warm up, the large one between: no liquor of the small one is remembered then.
    pairs = interleaved(run.rounds(3, 1), lambda: _cpu_ms(command, *small), lambda: _cpu_ms(command, *large))
    return Pairs(pairs.baseline, pairs.ours, command.partition(" DAY")[0])


def _cpu_ms(command: str, text: bytes, shelf: Path) -> float:
    day = shelf.with_name("day.json")
    day.write_bytes(text.replace(TITLE, b"Day %d" % next(_numbers), 1))
    words = command.replace("DAY", str(day)).replace("SHELF", str(shelf)).split()
    ended: list[int] = []
    with redirect_stdout(StringIO()), redirect_stderr(StringIO()) as said:
        taken = cpu_ms(lambda: ended.append(main(words)))
    assert ended[0] < 2 or words[0] == "day", said.getvalue()
    return taken


TITLE = b"A large day"
"""Stands once in a file, for another title: no sheet of the same day is remembered then."""
_numbers = count_up()


def _files(folder: Path, session: Session, bags: int) -> Files:
    shelf = folder / f"shelf-{bags}.json"
    shelf.write_bytes(encode_shelf(many_bags(bags)))
    return encode(evolve(session, plan=evolve(session.plan, title=TITLE.decode()))), shelf
