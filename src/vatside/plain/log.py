"""`vatside log`: what happened in a session, one line an event."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.plain.say import Words, tell
from vatside.session.check import log_lines
from vatside.session.reading_files import session_of


def run(words: Sequence[str]) -> int:
    """Print the log of a file; exit code 0, or a Refusal."""
    parser = Words(prog="vatside log", add_help=False)
    parser.add_argument("file")
    tell("\n".join(log_lines(session_of(parser.parse_args(list(words)).file))))
    return 0
