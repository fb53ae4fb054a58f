"""The page for whoever carries on names files that are there, and every room."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
GUIDE = (ROOT / "DEVELOPERS.md").read_text("utf-8")
HOME = ROOT / "src" / "vatside"
OF_A_DYER = {"settings.toml", "FILE.toml", "errors.txt"}
"""Files of hers, which the project does not hold."""
NAMED = sorted(set(re.findall(r"`([\w/*.]+\.(?:py|toml|tcss))`", GUIDE)) - OF_A_DYER)
ROOMS = sorted(folder.name for folder in HOME.iterdir() if (folder / "__init__.py").is_file())


@pytest.mark.parametrize("name", NAMED)
def test_a_named_file_is_there(name: str) -> None:
    """A file that the page names stands where it says, or somewhere under that name."""
    assert any(next(top.rglob(name), None) for top in (HOME, ROOT / "tests")) or (ROOT / name).is_file()


@pytest.mark.parametrize("room", ROOMS)
def test_every_room_has_a_line(room: str) -> None:
    """The table of rooms tells what lies in each."""
    assert f"| `{room}` |" in GUIDE
