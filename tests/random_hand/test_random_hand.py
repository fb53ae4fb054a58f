"""Random hands at the app: a short form with every run, a longer one in a real terminal; `python -m` runs the whole."""

from __future__ import annotations

import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from tests.random_hand import in_process, in_pty
from tests.random_hand.__main__ import main
from tests.random_hand.acts import KEYS, REST, Act, acts_of, read, written
from tests.random_hand.shrink import shrunk
from tests.random_hand.ways import WAYS, acts_of_way, hand
from tests.ui.test_keymaps import TABLES


@pytest.mark.parametrize("seed", [1, 31, 61])
def test_a_random_hand_brings_nothing_down(seed: int) -> None:
    """No fault, no hang, no deaf screen, no lost entry, no file that does not check."""
    start, acts = hand(seed, 150)
    found = in_process.trial(acts, start)
    assert not found, f"python -m tests.random_hand --first {seed} --play '{written(acts)}'"


@pytest.mark.parametrize("name", TABLES)
def test_a_way_leads_to_every_screen(name: str) -> None:
    """A hand can begin on each that has keys; a new one is told in `ways`."""
    start, way = next((start, ways[name]) for start, ways in WAYS.items() if name in ways)
    seen = set[str]()
    assert not in_process.trial(acts_of_way(way), start, seen)
    assert name in seen


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are a thing of POSIX")
@pytest.mark.parametrize("seed", [2, 41])
def test_a_random_hand_at_a_real_terminal(seed: int) -> None:
    """The same in a process of its own, behind a pseudo-terminal."""
    start, acts = hand(seed, 200)
    found = in_pty.trial(acts, start)
    assert not found, f"python -m tests.random_hand --pty --first {seed} --play '{written(acts)}'"


@pytest.mark.parametrize("place", ["elsewhere", "~/elsewhere", ""])
def test_what_a_hand_saves_elsewhere_goes_with_its_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: str
) -> None:
    """Typed as a bare name, below the home, or left as it is proposed: nothing stays where the tests were started."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    typed = f"\x15{place}" if place else ""
    acts = [Act(KEYS, text) for text in ("a", "\x1b", "s", typed, "\r") if text]
    assert not in_process.trial([act for one in acts for act in (one, Act(REST))], "")
    assert list(tmp_path.iterdir()) == []


def test_a_seed_gives_the_same_acts_again() -> None:
    """What failed once can be played again, also from what was printed."""
    acts = acts_of(7, 100)
    assert acts == acts_of(7, 100)
    assert read(written(acts)) == acts


def test_the_whole_tells_which_screens_were_never_seen(capsys: pytest.CaptureFixture[str]) -> None:
    """A hand that begins in the list of days and does nothing sees that alone; nothing was found."""
    assert main(["--seeds", "1", "--inputs", "0", "--hands", "1"]) == 0
    told = capsys.readouterr().out.splitlines()[-1]
    assert told.startswith(f"on 1 of {len(TABLES)} screens; never on ")
    assert "BagScreen" in told


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are a thing of POSIX")
def test_the_ends_are_counted_by_kind(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """What went wrong is told with its kind and seed, and is the exit code."""
    monkeypatch.setattr("tests.random_hand.__main__.ProcessPoolExecutor", ThreadPoolExecutor)
    monkeypatch.setattr("tests.random_hand.ends.KINDS", {"killed": lambda stage: "", "gone": lambda stage: "bad"})
    assert main(["--ends", "2", "--hands", "1"]) == 1
    assert capsys.readouterr().out.splitlines() == [
        "killed: 2 of 2 trials well", "gone, seed 0: bad", "gone, seed 1: bad", "gone: 0 of 2 trials well",
    ]  # fmt: skip


def test_what_fails_is_made_short() -> None:
    """Of many acts only the letters stay that it takes."""
    acts = tuple(Act(KEYS, text) for text in ("abc", "dxe", "f", "gyh", "i"))

    def fails(some: object) -> bool:
        text = "".join(act.text for act in some)  # type: ignore[attr-defined]
        return "x" in text and "y" in text

    assert [act.text for act in shrunk(acts, fails)] == ["x", "y"]
