"""The folder of everything a person keeps."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from vatside.storage.flaws import SessionError
from vatside.storage.places import home, make_folder, make_ready

UMASKS = [0o000, 0o022, 0o077, 0o277, 0o777]


def test_the_variable_moves_it(tmp_path: Path) -> None:
    """What the variable names is taken, with ~ for one's own home."""
    assert home({"VATSIDE_HOME": str(tmp_path)}) == tmp_path
    assert home({"VATSIDE_HOME": "~/dye"}) == Path.home() / "dye"


def test_a_person_who_is_not_there(tmp_path: Path) -> None:
    """The home of nobody is refused, naming the variable."""
    with pytest.raises(SessionError, match="VATSIDE_HOME=~nobody-of-this-name/x: nobody of that name has a home"):
        home({"VATSIDE_HOME": "~nobody-of-this-name/x"})


def test_a_person_without_any_home(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system knows no home, nothing is written into whatever folder one stands in."""
    monkeypatch.setattr("platformdirs.user_data_path", lambda *_, **__: Path("~/.local/share/vatside"))
    with pytest.raises(SessionError, match="set VATSIDE_HOME"):
        home({})


@pytest.mark.parametrize(
    ("place", "why"),
    [("file/x", "a part of the path is no folder"), ("file", "no folder"), ("n" * 300, "the name is too long")],
)
def test_a_place_that_can_be_no_folder(tmp_path: Path, place: str, why: str) -> None:
    """What cannot be a folder is refused with the reason and the way out."""
    (tmp_path / "file").touch()
    with pytest.raises(SessionError, match=rf"cannot be used: .*{why}; VATSIDE_HOME moves"):
        make_ready(tmp_path / place)


def test_a_folder_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder one may not look into is said to be that, not that it may not be written."""

    def refuse(_: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "scandir", refuse)
    with pytest.raises(SessionError, match="you may not read it"):
        make_ready(tmp_path)


@pytest.mark.skipif(sys.platform == "win32", reason="modes are a thing of POSIX")
@pytest.mark.parametrize("umask", UMASKS)
def test_every_folder_we_make_is_the_owners_alone(tmp_path: Path, umask: int) -> None:
    """Those above it too, and whatever the umask is; what was there before keeps its mode."""
    tmp_path.chmod(0o755)
    old = os.umask(umask)
    try:
        make_folder(tmp_path / "a" / "b" / "c")
        make_folder(tmp_path / "a" / "b" / "c")
    finally:
        os.umask(old)
    made = ("a", "a/b", "a/b/c")
    assert [(tmp_path / name).stat().st_mode & 0o777 for name in made] == [0o700] * 3
    assert tmp_path.stat().st_mode & 0o777 == 0o755
