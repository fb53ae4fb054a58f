"""`vatside log`: what happened in a session, one line an event."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.plain.check_file import log_lines
from vatside.plain.say import Words, read_day, tell


def run(words: Sequence[str]) -> int:
    """Print the log of a file; exit code 0, or a Refusal."""
    parser = Words(prog="vatside log", add_help=False)
    parser.add_argument("file")
    tell("\n".join(log_lines(read_day(parser.parse_args(list(words)).file))))
    return 0
