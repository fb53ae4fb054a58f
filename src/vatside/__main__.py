"""The `vatside` command: the full-screen app, or one of the plain commands."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

from vatside.plain.streams import Refusal, ended, tell
from vatside.storage.flaws import SessionError
from vatside.units.show import plain

PLAIN = {
    "plan": "sheet", "sheet": "sheet", "check": "file_contents", "log": "file_contents", "replay": "file_contents",
    "day": "day", "liquor": "liquor", "compare": "papers", "card": "papers", "labels": "papers",
    "handout": "papers", "csv": "papers", "shelf": "shelf",
}  # fmt: skip
"""Commands that print and end, and the module of `vatside.plain` that has `run_COMMAND(arguments) -> int`."""

FIRST_SAMPLE = "at-the-stove"

USAGE = """\
vatside                          open the app: saved sessions, a new day, the samples
vatside FILE                     open a session
vatside sample [NAME]            open a copy of a sample day
vatside guide                    see a whole day in some minutes, stop by stop; nothing is written
vatside plan --lot "linen, 320 g, 4 pieces, medium" [--lot ...] [--tub 24L ...] [--purity 40%] [--method ID]
             [--dosing spent|working] [--ready 14:00] [--save FILE] [--all] [--json]
                                 work a plan out from nothing and print its sheet; --save keeps it as a session
vatside sheet FILE [--all] [--json] [--set PATH=AMOUNT ...] [--paths]
                                 print what a session weighs and draws, all its figures, or the paths --set takes
vatside check FILE...            name every problem of session files, or of your own kinds of vat (.toml)
vatside log FILE                 print what happened
vatside replay FILE [--plain]    replay a session on the screen, or print it from beginning to end
vatside compare FILE FILE [--all] [--json]
                                 print what differs between two sessions
vatside card FILE [FILE]         print what made a blue, and why another came out apart
vatside handout FILE [--tables N] [--html] [--output FILE]
                                 print a class card with the amounts of each table
vatside day FILE [--people N] [--hobs N] [--lunch MINUTES] [--from HH:MM]
            [--done-by HH:MM] [--why] [--json] [--ics FILE] [--csv FILE]
                                 print when each step begins, what is in hand and what is needed when;
                                 --ics writes an iCalendar file, or brings one of before up to date
vatside labels FILE [--html] [--output FILE]
                                 print labels for the jar of stock and for each dyed piece
vatside shelf [FILE] [--days N] [--shelf FILE] [--json]
                                 print what is on the shelf; for a session what it lasts for, lacks and costs
vatside csv figures|readings|cost FILE, vatside csv shelf [FILE] [--shelf FILE] [--output FILE]
                                 a table for other programs (RFC 4180)
vatside liquor --water VOLUME [--at TEMPERATURE] [--add MATERIAL=AMOUNT ...]
               [--hardness HARDNESS] [--alkalinity ALKALINITY] [--spent SHARE] [--open-air]
               [--to-pH PH --with MATERIAL] [--json]
                                 pH and leuco shares of any bath, from fresh to spent;
                                 HARDNESS: soft, medium, hard, unknown, 300, "14 °dH", "7-14 °dH"
vatside --version"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and give its exit code: 0 well, 1 problems found, 2 not understood or not to be done."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    name = f"vatside {words[0]}" if words and words[0] in (*PLAIN, "sample") else "vatside"
    return ended(name, lambda: _main(words))


def _main(words: list[str]) -> int:
    _check_zone()
    first = words[0] if words else ""
    usage = _usage_of(first) if {"-h", "--help"} & set(words) else ""
    if usage:
        tell(usage)
        return 0
    if first == "replay" and "--plain" not in words and len(words) == len(["replay", "FILE"]):
        return _full_screen(Path(words[1]), replay=True)
    if first in PLAIN:
        return _plain(first, words[1:])
    if words == ["--version"]:
        from importlib.metadata import version

        tell(f"vatside {version('vatside')}")
        return 0
    if first == "sample" and len(words) < 3:
        return _full_screen(_sample(words[1] if len(words) > 1 else FIRST_SAMPLE))
    if words == ["guide"]:
        from vatside.storage.places import guided_day

        return _full_screen(guided_day(), guide=True)
    if len(words) > 1 or first.startswith("-"):
        raise Refusal(f"{' '.join(words)!r} is not understood. `vatside --help` lists what is.")
    return _full_screen(Path(first) if words else None)


def _usage_of(first: str) -> str:
    """Give how a command is called, or all of them where it is asked for alone; nothing for a file."""
    if first in ("-h", "--help"):
        return USAGE
    calls = USAGE.replace("\nvatside", "\0vatside").split("\0")
    return "\n".join(call for call in calls if call.split()[1:2] == [first])


def _check_zone() -> None:
    """Refuse a time zone that no clock can follow; the system takes some that are further from UTC than a day."""
    if "TZ" not in os.environ:
        return
    from datetime import datetime

    try:
        datetime.now().astimezone()
    except ValueError:
        raise Refusal(f"TZ={os.environ['TZ']} is no time zone: set another, or leave the variable away.") from None


def _full_screen(path: Path | None, *, replay: bool = False, guide: bool = False) -> int:
    """Open the app; a sample is opened as a copy, so that the shipped one stays as it is."""
    from vatside.ui.start import refusal, run

    if why := refusal(path, replay=replay):
        raise Refusal(why)
    return run(path if path is None or replay or guide else _own(path), replay=replay, guide=guide)


def _own(path: Path) -> Path:
    """Give the file, or a copy of it if it is a sample."""
    from vatside.storage.places import samples_folder

    if path.resolve().parent != samples_folder().resolve() or not path.is_file():
        return path
    from vatside.clocks.clock import SystemClock
    from vatside.storage.folder import copy_sample, sessions_folder

    return copy_sample(path, sessions_folder(), SystemClock().now())


def _sample(name: str) -> Path:
    from vatside.storage.places import samples_folder

    samples = {path.stem: path for path in samples_folder().glob("*.json")}
    if name not in samples:
        raise Refusal(f"there is no {name!r}; there are {', '.join(sorted(samples))}.")
    return samples[name]


def _plain(name: str, words: Sequence[str]) -> int:
    _own_vats(silent=name == "check")
    result: int = getattr(import_module(f"vatside.plain.{PLAIN[name]}"), f"run_{name}")(words)
    return result


def _own_vats(*, silent: bool) -> None:
    """Take the dyer's own kinds of vat in, and say which are left out, but where they are looked at anyway."""
    from vatside.storage.places import home

    try:
        folder = home() / "vats"
        there = folder.is_dir()
    except (SessionError, OSError):  # there is no such place
        return
    if there:
        from vatside.storage.own_vats import take_folder_in

        for sentence in take_folder_in(folder):
            if not silent:
                print(f"vatside: {plain(sentence)}", file=sys.stderr)


if __name__ == "__main__":
    sys.exit(main())
