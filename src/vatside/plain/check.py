"""`vatside check`: every problem of session files, in words."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from vatside.plain.say import Refusal, Words, tell
from vatside.session.check import problems


def run(words: Sequence[str]) -> int:
    """Print each file's problems; exit code 1 if there is any, else 0.

    A Refusal, after the others, for files that are not there.
    """
    parser = Words(prog="vatside check", add_help=False)
    parser.add_argument("files", nargs="+")
    found, gone = 0, []
    for name in parser.parse_args(list(words)).files:
        if not Path(name).is_file():
            gone.append(name)
            continue
        lines = problems(Path(name))
        found += len(lines)
        tell("\n".join(f"{name}: {line}" for line in lines) if lines else f"{name}: well")
    if gone:
        raise Refusal(f"{', '.join(gone)}: no such file.")
    return 1 if found else 0
