"""`vatside labels`: for the jar of stock that is left and for each dyed piece, as text or as a page to print."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from vatside.days.label_sheet import label_sheet
from vatside.days.labels import labels
from vatside.plain.new_file import write_new
from vatside.plain.say import Words, read_day, tell
from vatside.units.one_line import plain


def run(words: Sequence[str]) -> int:
    """Print the labels, or write them into a new file; exit code 0, or a Refusal."""
    parser = Words(prog="vatside labels", add_help=False)
    parser.add_argument("file")
    parser.add_argument("--html", action="store_true")
    parser.add_argument("--output", type=Path)
    asked = parser.parse_args(list(words))
    day = read_day(asked.file)
    found = labels(day)
    text = "\n\n".join("\n".join((label.title, *label.lines)) for label in found)
    page = label_sheet(f"Labels: {Path(asked.file).stem}", found) if asked.html else text
    if asked.output is None:
        tell(page.rstrip("\n"))
    else:
        write_new(asked.output, page.encode("utf-8", "replace"))
        tell(f"{plain(str(asked.output))} written")
    return 0
