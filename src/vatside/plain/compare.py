"""`vatside compare`: two sessions side by side, as text or JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from itertools import groupby

from attrs import asdict

from vatside.days.compare import Row, compare
from vatside.days.day_record import DayRecord, day_record
from vatside.plain.say import Words, read_day, tell
from vatside.units.one_line import plain

WIDE, NARROW = 34, 20


def run(words: Sequence[str]) -> int:
    """Print what differs between two files; exit code 0, or a Refusal."""
    parser = Words(prog="vatside compare", add_help=False)
    parser.add_argument("first")
    parser.add_argument("second")
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(list(words))
    left, right = day_record(read_day(asked.first)), day_record(read_day(asked.second))
    rows = [row for row in compare(left, right) if row.differs or asked.all]
    if asked.json:
        tell(json.dumps([{**asdict(row), "differs": row.differs} for row in rows], ensure_ascii=False, indent=1))
    else:
        tell("\n".join(text(left, right, rows)))
    return 0


def text(left: DayRecord, right: DayRecord, rows: Sequence[Row]) -> Iterator[str]:
    """Print rows under their groups, left and right beside each other."""
    yield f"left:  {_named(left)}"
    yield f"right: {_named(right)}"
    if not rows:
        yield "  nothing differs"
    for group, some in groupby(rows, key=lambda row: row.group):
        yield ""
        yield group
        for row in some:
            yield from _lines(row)


def _named(day: DayRecord) -> str:
    return f"{day.day} {plain(day.plan.title)}"


def _lines(row: Row) -> Iterator[str]:
    label, left, right = (plain(part) for part in (row.label, row.left or "–", row.right or "–"))
    if len(left) <= NARROW and len(right) <= 2 * NARROW:
        yield f"  {label:<{WIDE}} {left:<{NARROW}} {right}".rstrip()
        return
    yield f"  {label}"
    yield f"    left:  {left}"
    yield f"    right: {right}"
