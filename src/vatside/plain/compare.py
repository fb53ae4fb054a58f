"""`vatside compare`: two sessions side by side, as text or JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from itertools import groupby

from attrs import asdict

from vatside.days.compare import Row, compare
from vatside.log.fold import fold
from vatside.log.session import Session
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
    a, b = read_day(asked.first), read_day(asked.second)
    found = [row for row in compare(a, b) if row.differs or asked.all]
    if asked.json:
        tell(json.dumps([{**asdict(row), "differs": row.differs} for row in found], ensure_ascii=False, indent=1))
    else:
        tell("\n".join(text(a, b, found)))
    return 0


def text(a: Session, b: Session, found: Sequence[Row]) -> Iterator[str]:
    """Print rows under their groups, left and right beside each other."""
    yield f"left:  {_named(a)}"
    yield f"right: {_named(b)}"
    if not found:
        yield "  nothing differs"
    for group, some in groupby(found, key=lambda row: row.group):
        yield ""
        yield group
        for row in some:
            yield from _lines(row)


def _named(session: Session) -> str:
    return f"{session.created.astimezone():%Y-%m-%d} {plain(fold(session).plan.title)}"


def _lines(row: Row) -> Iterator[str]:
    label, left, right = (plain(part) for part in (row.label, row.left or "–", row.right or "–"))
    if len(left) <= NARROW and len(right) <= 2 * NARROW:
        yield f"  {label:<{WIDE}} {left:<{NARROW}} {right}".rstrip()
        return
    yield f"  {label}"
    yield f"    left:  {left}"
    yield f"    right: {right}"
