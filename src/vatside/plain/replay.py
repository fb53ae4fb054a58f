"""`vatside replay FILE --plain`: a session told from beginning to end, without a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.days.replay_text import replay_lines
from vatside.plain.say import Words, read_day, tell


def run(words: Sequence[str]) -> int:
    """Print the replay of a file; exit code 0, or a Refusal."""
    parser = Words(prog="vatside replay", add_help=False)
    parser.add_argument("file")
    parser.add_argument("--plain", action="store_true", required=True)
    tell("\n".join(replay_lines(read_day(parser.parse_args(list(words)).file))))
    return 0
