"""The pictures of the README show the app as it is."""

from __future__ import annotations

import pytest
from tests.pictures import README, SCENES, SIZE, pictures, shown, with_pictures

from vatside.ui.text.rows import cells

SHOWN = shown(README.read_text("utf-8"))


def test_each_picture_has_its_place() -> None:
    """And there is none that nobody takes."""
    assert SHOWN.keys() == SCENES.keys()


@pytest.mark.parametrize("name", SCENES)
def test_a_picture_fits_a_plain_terminal(name: str) -> None:
    """24 lines of 80 columns."""
    lines = SHOWN[name].splitlines()
    assert len(lines) <= SIZE[1]
    assert all(cells(line) <= SIZE[0] for line in lines)


def test_no_picture_is_stale() -> None:
    """A regression: where the app looks otherwise now, `python -m tests.pictures` takes them anew."""
    assert pictures() == SHOWN, "a picture of the README is stale: run `python -m tests.pictures` and look at it"


def test_the_words_round_them_stay() -> None:
    """Only what stands in the blocks is written anew."""
    text = "a\n<!-- picture: stock -->\n```\nold\n```\nb\n"
    assert with_pictures(text, {"stock": "new"}) == text.replace("old", "new")
