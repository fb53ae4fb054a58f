"""A pipe or a device in the place of a file that a person may write: it is told, and nobody waits for its end."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from vatside.storage.files import plain_text
from vatside.storage.own_vats import take_folder_in
from vatside.storage.settings import read_settings
from vatside.ui.guard import write_down
from vatside.ui.theme.choice import Looks
from vatside.ui.theme.looks import read_looks

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="these are things of POSIX")
NOWHERE = "/dev/null"
"""A device that does end, so that a mistake fails and does not hang."""


def test_a_text_has_an_end(tmp_path: Path) -> None:
    """What is larger than asked for is not read."""
    (tmp_path / "text").write_text("x" * 11)
    assert plain_text(tmp_path / "text", 11) == "x" * 11
    with pytest.raises(OSError, match="too large"):
        plain_text(tmp_path / "text", 10)


def test_a_kind_of_vat_that_is_a_device(tmp_path: Path) -> None:
    """It is left out with the reason."""
    (tmp_path / "mine.toml").symlink_to(NOWHERE)
    assert take_folder_in(tmp_path) == ("vats/mine.toml is left out: it is no plain file.",)


def test_settings_that_are_a_device(tmp_path: Path) -> None:
    """They are left out with the reason."""
    (tmp_path / "settings.toml").symlink_to(NOWHERE)
    assert read_settings(tmp_path)[1] == "settings.toml is left out: it is no plain file."


def test_a_theme_that_is_a_device(tmp_path: Path) -> None:
    """It is left out with the reason."""
    (tmp_path / "mine.toml").symlink_to(NOWHERE)
    assert read_looks([tmp_path])[1] == ("Theme mine.toml: it cannot be read (it is no plain file).",)


def test_a_choice_of_look_that_is_a_pipe(tmp_path: Path) -> None:
    """The usual look stands, and the next one can be chosen."""
    os.mkfifo(tmp_path / "look")
    held = os.open(tmp_path / "look", os.O_RDWR | os.O_NONBLOCK)  # so that a mistake fails and does not hang
    try:
        os.write(held, b"x")
        Looks((), tmp_path / "look").after("night-vat")
        assert os.read(held, 100) == b"x"
    finally:
        os.close(held)


def test_a_file_of_faults_that_is_a_pipe(tmp_path: Path) -> None:
    """Nobody reads it, so the fault is written down nowhere."""
    os.mkfifo(tmp_path / "errors.txt")
    assert write_down(tmp_path, RuntimeError("new")) is None
