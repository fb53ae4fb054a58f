"""What the commands do when nobody can read what they print, or when a name plays tricks."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from vatside.__main__ import main

SAMPLES = Path(__file__).parents[2] / "sample_sessions"
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the shell's words for streams")
COMMANDS = {
    "sheet": "sheet day.json --json",
    "check": "check day.json",
    "replay": "replay day.json --plain",
    "shelf": "shelf",
    "help": "--help",
}
ESCAPE = "a\x1b[31mb"


@pytest.fixture(name="folder")
def _folder(tmp_path: Path) -> Path:
    """Give a folder with a day."""
    shutil.copy(SAMPLES / "at-the-stove.json", tmp_path / "day.json")
    return tmp_path


def run(folder: Path, line: str) -> subprocess.CompletedProcess[str]:
    """Run a line of the shell in which $V is the command."""
    environment = {**os.environ, "V": f"{sys.executable} -m vatside", "VATSIDE_HOME": str(folder / "home")}
    return subprocess.run(["sh", "-c", line], cwd=folder, env=environment, capture_output=True, text=True, check=False)


Said = Callable[..., tuple[int, str]]
"""Runs a command in this process; gives its code and what it says, printed or complained."""


@pytest.fixture(name="said")
def _said(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Said:
    monkeypatch.chdir(folder)
    monkeypatch.setenv("VATSIDE_HOME", str(folder / "home"))

    def run_here(*words: str) -> tuple[int, str]:
        code = main(words)
        out = capsys.readouterr()
        return code, out.out + out.err

    return run_here


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="Linux has this device")
@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS)
def test_a_full_disk_behind_the_output_is_one_sentence(folder: Path, command: str) -> None:
    """What was to be printed is lost: that is told once, with code 2."""
    done = run(folder, f"$V {command} >/dev/full")
    assert done.returncode == 2
    assert done.stderr.endswith("the output takes nothing: the disk is full.\n")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS)
def test_a_closed_output_is_one_sentence(folder: Path, command: str) -> None:
    """Without any output the command says so, once, with code 2."""
    done = run(folder, f"$V {command} >&-")
    assert done.returncode == 2
    assert done.stderr.endswith("the output is closed: there is nowhere to print.\n")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS)
def test_a_reader_that_has_gone_is_no_error(folder: Path, command: str) -> None:
    """A reader that reads nothing, or has seen enough, gets no complaint."""
    done = run(folder, f"({{ $V {command}; echo code $? >&2; }} | true)")
    assert done.stderr == "code 0\n"


@pytest.mark.parametrize("closed", ["2>&-", ">&- 2>&-", "<&- >&- 2>&-"])
def test_a_refusal_that_nobody_can_hear_keeps_its_code(folder: Path, closed: str) -> None:
    """With the error stream closed a refused command says nothing anywhere and ends with 2."""
    done = run(folder, f"$V log none.json {closed}")
    assert (done.returncode, done.stdout, done.stderr) == (2, "", "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="Linux has this device")
def test_a_refusal_onto_a_full_disk_keeps_its_code(folder: Path) -> None:
    """The code stays 2 when the sentence itself cannot be written."""
    assert run(folder, "$V log none.json 2>/dev/full").returncode == 2


def test_no_file_gets_the_number_of_a_closed_stream(folder: Path) -> None:
    """A crash writes to number 2 whatever stands there: no file of hers may."""
    code = (
        "import os, sys; sys.argv = ['vatside', '--version']; from vatside.__main__ import main; main();"
        "os._exit(0 if os.open('day.json', os.O_RDONLY) > 2 else 1)"
    )
    assert run(folder, f'{sys.executable} -c "{code}" <&- >&- 2>&-').returncode == 0


def test_an_app_without_any_stream_is_refused(folder: Path) -> None:
    """A full screen with nothing to show it on is refused like any other without a terminal."""
    assert run(folder, "$V day.json <&- >&- 2>&-").returncode == 2


def test_a_time_zone_that_is_none_is_one_sentence(folder: Path) -> None:
    """The system takes a zone four days from UTC, and no clock can show it."""
    done = run(folder, "TZ=XXX-99 $V log day.json")
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert "TZ=XXX-99 is no time zone" in done.stderr


class TestNames:
    """Names that a system cannot have, or that would do something to the terminal."""

    @pytest.mark.parametrize("name", ["n" * 300, "a/" * 3000 + "b", "n" * 300 + "/b"])
    @pytest.mark.parametrize("command", ["sheet NAME", "check NAME", "handout day.json --output NAME", "sample NAME"])
    def test_too_long(self, said: Said, command: str, name: str) -> None:
        """A name longer than the system allows is refused in one sentence."""
        code, words = said(*command.replace("NAME", name).split())
        assert code == 2
        assert words.startswith("vatside ")
        assert words.count("\n") == 1

    def test_no_name(self, said: Said) -> None:
        """An empty name is refused in one sentence."""
        code, words = said("sheet", "")
        assert (code, words.count("\n")) == (2, 1)

    @pytest.mark.parametrize(
        "words",
        [
            ("handout", "day.json", "--output", f"{ESCAPE}.md"),
            ("handout", "day.json", "--output", f"none/{ESCAPE}.md"),
            ("handout", "day.json", "--output", "two\nlines.md"),
            ("sheet", f"{ESCAPE}.json"),
            ("sheet", "two\nlines.json"),
            ("check", f"{ESCAPE}.json"),
            ("check", "day.json", f"--{ESCAPE}"),
            ("replay", f"{ESCAPE}.json"),
        ],
    )
    def test_no_control_gets_to_the_terminal(self, said: Said, words: tuple[str, ...]) -> None:
        """Whatever a name holds, what is said of it is one line without an escape, written or refused."""
        for _ in range(2):  # the second time the card is there already
            _, printed = said(*words)
            assert "\x1b" not in printed
            assert printed.count("\n") == 1

    def test_a_files_own_name_is_cleaned(self, folder: Path) -> None:
        """A file that is there is named without its escapes, whether it is well or damaged."""
        shutil.copy(folder / "day.json", folder / f"{ESCAPE}.json")
        (folder / f"bad {ESCAPE}.json").write_text("{")
        done = run(folder, "$V check *b.json")
        assert done.returncode == 1
        assert "\x1b" not in done.stdout
        assert [line.rpartition(": ")[0].count("[31mb.json") for line in done.stdout.splitlines()] == [1, 1]
