"""`vatside handout`: a class card of a session's plan, as Markdown or as a page to print."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from vatside.days.class_card.as_html import html
from vatside.days.class_card.as_markdown import markdown
from vatside.days.class_card.card import handout
from vatside.log.fold import fold
from vatside.plain.new_file import write_new
from vatside.plain.say import Refusal, Words, read_day, tell, whole
from vatside.storage.files import Fs
from vatside.units.one_line import plain


def run(words: Sequence[str]) -> int:
    """Print a card or write it into a new file; exit code 0, or a Refusal."""
    parser = Words(prog="vatside handout", add_help=False)
    parser.add_argument("file")
    parser.add_argument("--tables", type=whole, default=1)
    parser.add_argument("--html", action="store_true")
    parser.add_argument("--output", type=Path)
    asked = parser.parse_args(list(words))
    try:
        card = handout(fold(read_day(asked.file)).plan, asked.tables, datetime.now(UTC))
    except ValueError as error:
        raise Refusal(f"--tables: {error}.") from None
    text = html(card) if asked.html else markdown(card)
    if asked.output is None:
        tell(text.rstrip("\n"))
    else:
        write(asked.output, text)
    return 0


def write(path: Path, text: str, fs: Fs | None = None) -> None:
    """Write a new file, whole or not at all."""
    write_new(path, text.encode("utf-8", "replace"), fs)
    tell(f"{plain(str(path))} written")
