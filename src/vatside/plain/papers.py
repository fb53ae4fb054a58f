"""What is told of days that are done, and goes to others: `csv`, `handout`, `card`, `compare` and `labels`.

Tables are of figures, readings, the shelf or a day's cost; a class card is Markdown, or a page to print.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, datetime
from io import StringIO
from itertools import groupby
from pathlib import Path

from attrs import asdict

from vatside.days.blue_card import card_text, label_sheet, labels
from vatside.days.class_card import handout
from vatside.days.class_print import html, markdown
from vatside.days.compare import Row, compare
from vatside.days.day_record import DayRecord, day_record
from vatside.days.done import PARTS, part_text, readings
from vatside.days.why_apart import apart_lines
from vatside.log.fold import fold, sheet_of
from vatside.log.state import Session
from vatside.plain.say import Refusal, Words, give, read_day, tell, whole
from vatside.plain.sheet import rows as figures_of
from vatside.shelf.booking import as_booked
from vatside.shelf.booking import book as to_book
from vatside.shelf.cost import day_cost
from vatside.shelf.shelf import Shelf
from vatside.shelf.shelf_file import ShelfFile, shelf_path
from vatside.units.show import plain

Cell = str | float | int | None
Table = Iterator[Sequence[Cell]]
FORMULA_STARTS = "=+-@\t\r"
"""What begins so is taken for a formula by table programs: an apostrophe goes in front. Common practice, no source."""

NUMBERS = ("temperature", "pH")
"""Parts of a reading that have columns of their own as numbers."""


def run_csv(words: Sequence[str]) -> int:
    """Print a table, or write it into a new file; exit code 0, or a Refusal."""
    parser = Words("csv", shelf=Path, output=Path)
    parser.add_argument("what", choices=("figures", "readings", "shelf", "cost"))
    parser.add_argument("file", nargs="?")
    asked = parser.read(words)
    if asked.file is None and asked.what != "shelf":
        raise Refusal(f"{asked.what}: name the session that they are of.")
    day = read_day(asked.file) if asked.file else None
    return give(as_csv(_table(asked.what, day, asked.shelf)), asked.output)


def as_csv(table: Iterable[Sequence[Cell]]) -> str:
    """Write rows as RFC 4180 has them: commas, CRLF, quotes doubled; numbers with a full stop, nothing for None."""
    text = StringIO()
    csv.writer(text, lineterminator="\r\n").writerows([_safe(cell) for cell in row] for row in table)
    return text.getvalue()


def _safe(cell: Cell) -> str:
    if cell is None:
        return ""
    if not isinstance(cell, str):
        return f"{cell:.12g}"
    return f"'{cell}" if cell.startswith(tuple(FORMULA_STARTS)) else cell


def _table(what: str, day: Session | None, shelf: Path | None) -> Table:
    if what == "shelf" or day is None:
        return _shelf(_owned(shelf, day))
    tables: dict[str, Callable[[], Table]] = {
        "figures": lambda: _figures(day),
        "readings": lambda: _readings(day),
        "cost": lambda: _cost(day, _owned(shelf, day)),
    }
    return tables[what]()


def _owned(path: Path | None, day: Session | None) -> Shelf:
    """The shelf, with what a day used and its file does not know yet."""
    opened = ShelfFile(shelf_path(path))
    if opened.unreadable:
        raise Refusal(f"{opened.unreadable}.")
    return as_booked(opened.shelf, to_book(opened.shelf, day)) if day else opened.shelf


def _figures(day: Session) -> Table:
    state = fold(day)
    yield "stage", "id", "label", "value", "unit", "text", "held"
    labels = {figure.id: figure.label for figure in sheet_of(state).figures}
    for row in figures_of(state.plan, sheet_of(state)):
        held = "yes" if row["pinned"] else "no"
        yield row["stage"], row["id"], labels[row["id"]], row["value"], row["unit"], row["text"], held


def _readings(day: Session) -> Table:
    yield ("time", "temperature_C", "pH", "pH_at_C", "pH_by", *(name for name in PARTS if name not in NUMBERS))
    for read in readings(fold(day)):
        seen = read.reading
        yield (
            read.at.utc.isoformat(timespec="seconds"),
            seen.celsius, seen.pH, seen.sample_celsius, seen.pH_by.value if seen.pH is not None else None,
            *(part_text(seen, name) for name in PARTS if name not in NUMBERS),
        )  # fmt: skip


def _shelf(shelf: Shelf) -> Table:
    yield "id", "name", "material", "lot", "left_g", "bought", "opened", "finished", "purity_percent", "price"
    for owned in shelf.owned:
        item = owned.item
        price = None if item.price is None else item.price.value
        yield (
            item.id, owned.name, item.material, item.lot, owned.left, item.bought or None, owned.opened or None,
            "yes" if owned.finished else "no", 100 * owned.purity, price,
        )  # fmt: skip


def _cost(day: Session, shelf: Shelf) -> Table:
    costs = day_cost(day, shelf)
    yield "what", "amount", "money", "currency", "pieces"
    yield from ((row.label, row.amount, row.money, costs.currency, None) for row in costs.rows)
    yield from ((lot.name, "lot", lot.total, costs.currency, lot.pieces) for lot in costs.lots)
    yield "in all", "", costs.total, costs.currency, None


def run_handout(words: Sequence[str]) -> int:
    """Print a card or write it into a new file; exit code 0, or a Refusal."""
    asked = Words("handout", "file", "--html", tables=whole, output=Path).read(words)
    try:
        tables = 1 if asked.tables is None else asked.tables
        card = handout(fold(read_day(asked.file)), tables, datetime.now(UTC))
    except ValueError as error:
        raise Refusal(f"--tables: {error}.") from None
    return give(html(card) if asked.html else markdown(card), asked.output)


def run_card(words: Sequence[str]) -> int:
    """Print the card of one file, or of two with what parts them; exit code 0, or a Refusal."""
    asked = Words("card", "file", "other?").read(words)
    day = day_record(read_day(asked.file))
    tell(card_text(day))
    if asked.other is not None:
        other = day_record(read_day(asked.other))
        tell("\n".join(("", card_text(other), "", *apart_lines(day, other))))
    return 0


WIDE, NARROW = 34, 20


def run_compare(words: Sequence[str]) -> int:
    """Print what differs between two files; exit code 0, or a Refusal."""
    asked = Words("compare", "first", "second", "--all", "--json").read(words)
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
    asked = Words("labels", "file", "--html", output=Path).read(words)
    day = read_day(asked.file)
    all_labels = labels(day)
    text = "\n\n".join("\n".join((label.heading, *label.lines)) for label in all_labels)
    page = label_sheet(f"Labels: {Path(asked.file).stem}", all_labels) if asked.html else text
    return give(page, asked.output)
