"""`vatside check`: every problem of session files, in words."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from vatside.plain.say import Words, tell
from vatside.session.check import problems


def run(words: Sequence[str]) -> int:
    """Print each file's problems; exit code 1 if there is any, else 0."""
    parser = Words(prog="vatside check", add_help=False)
    parser.add_argument("files", nargs="+")
    found = 0
    for name in parser.parse_args(list(words)).files:
        lines = problems(Path(name))
        found += len(lines)
        tell("\n".join(f"{name}: {line}" for line in lines) if lines else f"{name}: well")
    return 1 if found else 0
