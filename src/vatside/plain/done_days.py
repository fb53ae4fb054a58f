"""What is told of days that are done: `vatside card` and `vatside compare` of one or two, `vatside labels` of one."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path

from attrs import asdict

from vatside.days.blue_card import card_text, label_sheet, labels
from vatside.days.compare import Row, compare
from vatside.days.day_record import DayRecord, day_record
from vatside.days.why_apart import apart_lines
from vatside.plain.say import Words, read_day, tell, write_new
from vatside.units.show import plain


def run_card(words: Sequence[str]) -> int:
    """Print the card of one file, or of two with what parts them; exit code 0, or a Refusal."""
    parser = Words(prog="vatside card", add_help=False)
    parser.add_argument("file")
    parser.add_argument("other", nargs="?")
    asked = parser.parse_args(list(words))
    day = day_record(read_day(asked.file))
    tell(card_text(day))
    if asked.other is not None:
        other = day_record(read_day(asked.other))
        tell("\n".join(("", card_text(other), "", *apart_lines(day, other))))
    return 0


WIDE, NARROW = 34, 20


def run_compare(words: Sequence[str]) -> int:
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
        tell("\n".join(side_by_side(left, right, rows)))
    return 0


def side_by_side(left: DayRecord, right: DayRecord, rows: Sequence[Row]) -> Iterator[str]:
    """Print rows under their groups, left and right beside each other."""
    yield f"left:  {_named(left)}"
    yield f"right: {_named(right)}"
    if not rows:
        yield "  nothing differs"
    for group, members in groupby(rows, key=lambda row: row.group):
        yield ""
        yield group
        for row in members:
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


def run_labels(words: Sequence[str]) -> int:
    """Print the labels, or write them into a new file; exit code 0, or a Refusal."""
    parser = Words(prog="vatside labels", add_help=False)
    parser.add_argument("file")
    parser.add_argument("--html", action="store_true")
    parser.add_argument("--output", type=Path)
    asked = parser.parse_args(list(words))
    day = read_day(asked.file)
    all_labels = labels(day)
    text = "\n\n".join("\n".join((label.heading, *label.lines)) for label in all_labels)
    page = label_sheet(f"Labels: {Path(asked.file).stem}", all_labels) if asked.html else text
    if asked.output is None:
        tell(page.rstrip("\n"))
    else:
        write_new(asked.output, page.encode("utf-8", "replace"))
        tell(f"{plain(str(asked.output))} written")
    return 0
