"""`vatside card`: what made a blue, and why another one came out apart from it."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.days.blue_card import card_text
from vatside.days.day_record import day_record
from vatside.days.why_apart import apart_lines
from vatside.plain.say import Words, read_day, tell


def run(words: Sequence[str]) -> int:
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
