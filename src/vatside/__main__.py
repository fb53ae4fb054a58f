"""The `vatside` command: the full-screen app, or one of the plain commands."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

PLAIN = ("sheet", "check", "log", "liquor", "replay", "compare", "card", "handout", "shelf")
"""Commands that print and end; each is a module of `vatside.plain` with `run(arguments) -> int`."""

FIRST_SAMPLE = "at-the-stove"

USAGE = """\
vatside                          open the app: saved sessions, a new day, the samples
vatside FILE                     open a session
vatside sample [NAME]            open a copy of a sample day
vatside sheet FILE [--json] [--set PATH=AMOUNT ...] [--paths]
                                 print all figures of a session's plan, or the paths that --set takes
vatside check FILE...            name every problem of session files
vatside log FILE                 print what happened
vatside replay FILE [--plain]    replay a session on the screen, or print it from beginning to end
vatside compare FILE FILE [--all] [--json]
                                 print what differs between two sessions
vatside card FILE [FILE]         print what made a blue, and why another came out apart
vatside handout FILE [--tables N] [--html] [--output FILE]
                                 print a class card with the amounts of each table
vatside shelf [FILE] [--days N] [--shelf FILE] [--json]
                                 print what is on the shelf; for a session what it lasts for, lacks and costs
vatside liquor --water VOLUME [--at TEMPERATURE] [--add MATERIAL=AMOUNT ...]
               [--hardness HARDNESS] [--alkalinity ALKALINITY] [--spent SHARE] [--open-air]
               [--to-pH PH --with MATERIAL] [--json]
                                 pH and leuco shares of any bath, from fresh to spent;
                                 HARDNESS: soft, medium, hard, unknown, 300, "14 °dH", "7-14 °dH"
vatside --version"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and give its exit code: 0 well, 1 problems found, 2 not understood."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    if words and words[0] == "replay" and "--plain" not in words and len(words) == len(["replay", "FILE"]):
        return _replay(Path(words[1]))
    if words and words[0] in PLAIN:
        return _plain(words[0], words[1:])
    if words in (["-h"], ["--help"]):
        print(USAGE)
        return 0
    if words == ["--version"]:
        from importlib.metadata import version

        print(f"vatside {version('vatside')}")
        return 0
    if words and words[0] == "sample" and len(words) < 3:
        return _sample(words[1] if len(words) > 1 else FIRST_SAMPLE)
    if len(words) > 1 or (words and words[0].startswith("-")):
        print(f"vatside: {' '.join(words)!r} is not understood. `vatside --help` lists what is.", file=sys.stderr)
        return 2
    return _open(Path(words[0]) if words else None)


def _replay(path: Path) -> int:
    """Open the app in a replay of a session."""
    from vatside.ui.app import run

    return run(path, replay=True)


def _open(path: Path | None) -> int:
    """Open the app; a sample is opened as a copy, so that the shipped one stays as it is."""
    from vatside.session.shipped import samples_folder
    from vatside.ui.start import own_folder, run

    if path is not None and path.is_file() and path.resolve().parent == samples_folder().resolve():
        from vatside.session.clock import SystemClock
        from vatside.session.folder import copy_sample

        path = copy_sample(path, own_folder() / "sessions", SystemClock().now())
    return run(path)


def _sample(name: str) -> int:
    from vatside.session.shipped import samples_folder

    path = samples_folder() / f"{name}.json"
    if not path.is_file():
        names = ", ".join(sorted(found.stem for found in samples_folder().glob("*.json")))
        print(f"vatside sample: there is no {name!r}; there are {names}.", file=sys.stderr)
        return 2
    return _open(path)


def _plain(name: str, words: Sequence[str]) -> int:
    from vatside.plain.say import Refusal, refused
    from vatside.session.flaws import SessionError

    try:
        result: int = import_module(f"vatside.plain.{name}").run(words)
    except (Refusal, SessionError) as refusal:
        print(f"vatside {name}: {refused(refusal)}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        # The reader of the pipe has seen enough; Python would complain again while closing the stream.
        sys.stderr.close()
        return 0
    return result


if __name__ == "__main__":
    sys.exit(main())
