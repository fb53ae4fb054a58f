"""Her own settings: what stands in the file counts, a bad file is named in one sentence and changes nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from vatside.storage.settings import LARGEST, Escape, Settings, read_settings


def test_without_a_file_nothing_is_told_outside(tmp_path: Path) -> None:
    """Off at first."""
    assert read_settings(tmp_path) == (Settings(Escape.OFF, ()), "")


def test_what_stands_there_counts(tmp_path: Path) -> None:
    """A way of the terminal, and a command word by word."""
    (tmp_path / "settings.toml").write_text('notice = "osc777"\ncommand = ["say", "a b"]\n', "utf-8")
    assert read_settings(tmp_path) == (Settings(Escape.OSC_777, ("say", "a b")), "")


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (b'notice = "loud"', "notice must be one of 'off', 'osc9', 'osc777'"),
        (b"notice = 9", "notice must be one of"),
        (b"notice = [[]]", "notice must be one of"),
        (b'command = "notify-send; rm -r x"', "command must be a list of words"),
        (b"command = [1]", "command must be a list of words"),
        (b'command = [""]', "command names no program"),
        (b"command = [" + b'"a",' * 40 + b"]", "command may have 32 words"),
        (b'command = ["a\\u0000b"]', "command may have"),
        (b"sound = true", "'sound' is no setting; there are command, notice"),
        (b"notice = \n", "line 1"),
        (b"\xff\xfe", "no text in UTF-8"),
        (b"#" * (LARGEST + 1), "too large"),
    ],
)
def test_a_bad_file_is_named_in_one_sentence(tmp_path: Path, text: bytes, why: str) -> None:
    """The usual settings stand in."""
    (tmp_path / "settings.toml").write_bytes(text)
    settings, said = read_settings(tmp_path)
    assert settings == Settings()
    assert said.startswith("settings.toml is left out: ")
    assert why in said
    assert "\n" not in said


def test_a_folder_in_its_place_is_named(tmp_path: Path) -> None:
    """Whatever stands there, the app begins."""
    (tmp_path / "settings.toml").mkdir()
    settings, said = read_settings(tmp_path)
    assert settings == Settings()
    assert said.startswith("settings.toml is left out: ")
