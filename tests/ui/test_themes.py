"""Looks: every one that comes along can be read, and a bad one harms nobody."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from textual.color import Color

from vatside.storage.places import themes_folder
from vatside.ui.theme.choice import Looks
from vatside.ui.theme.looks import COLOURS, Look, ThemeProblem, contrast, read_look, read_looks

GOOD = 'name = "Mine"\ndark = true\n[colours]\n' + "\n".join(
    f'{name} = "#80{n}0{n}0"' for n, name in enumerate(COLOURS)
)
SHIPPED = read_looks([themes_folder()])[0]


def test_at_least_four_looks_come_along() -> None:
    """Dark, light, high contrast and one without colour."""
    looks, problems = read_looks([themes_folder()])
    assert problems == ()
    assert {"night-vat", "undyed", "bright-bench", "grey-morning"} <= {look.id for look in looks}


@pytest.mark.parametrize("look", SHIPPED, ids=lambda look: look.id)
def test_words_can_be_read_on_paper(look: Look) -> None:
    """Ink has 7:1 on paper and cloth, fainter and coloured words 4.5:1 on paper (WCAG 2.1, 1.4.3 and 1.4.6)."""
    paper = look.colours["paper"]
    assert contrast(look.colours["ink"], paper) >= 7
    assert contrast(look.colours["ink"], look.colours["cloth"]) >= 7
    for name in ("faint", "straw", "leaf", "indigo", "copper", "madder"):
        assert contrast(look.colours[name], paper) >= 4.5, name


def test_high_contrast_is_higher() -> None:
    """The look for steam and sun has 10:1 for every word."""
    [look] = [item for item in SHIPPED if item.id == "bright-bench"]
    for name in ("ink", "faint", "straw", "leaf", "indigo", "copper"):
        assert contrast(look.colours[name], look.colours["paper"]) >= 10, name


def test_colourless_means_grey() -> None:
    """No colour of the colourless look has any hue."""
    [look] = [item for item in SHIPPED if item.id == "grey-morning"]
    for value in look.colours.values():
        colour = Color.parse(value)
        assert colour.r == colour.g == colour.b


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (('"#800000"', '"burgundish"'), "is no colour"),
        (("paper = ", "papyrus = "), "lacks the colour paper"),
        (("dark = true", 'dark = "yes"'), "dark must be"),
        (('name = "Mine"', "name = 3"), "needs a name"),
        (("[colours]", "[colors]"), "table of colours"),
        (("[colours]", "[colours"), "cannot be read"),
        (('"#800000"', '"#80000080"'), "opaque"),
        (('"#800000"', '"ansi_red"'), "opaque"),
    ],
)
def test_a_bad_theme_is_left_out_with_a_notice(tmp_path: Path, change: tuple[str, str], said: str) -> None:
    """The notice names the file and what is wrong with it; the other themes stay."""
    (tmp_path / "bad.toml").write_text(GOOD.replace(*change, 1))
    (tmp_path / "good.toml").write_text(GOOD)
    looks, [problem] = read_looks([tmp_path])
    assert [look.name for look in looks] == ["Mine"]
    assert problem.startswith("Theme bad.toml")
    assert said in problem


def test_an_unreadable_theme_is_a_problem(tmp_path: Path) -> None:
    """Bytes that are no text are told like any other fault."""
    (tmp_path / "bad.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(ThemeProblem, match=r"bad\.toml"):
        read_look(tmp_path / "bad.toml")


def test_ones_own_theme_takes_the_place_of_one_that_comes_along(tmp_path: Path) -> None:
    """The later folder wins."""
    (tmp_path / "mine.toml").write_text(GOOD.replace('"Mine"', '"Night vat"'))
    looks, _ = read_looks([themes_folder(), tmp_path])
    [look] = [item for item in looks if item.id == "night-vat"]
    assert look.colours["paper"] == "#800000"


def test_the_choice_is_kept(tmp_path: Path) -> None:
    """The look chosen last is the first one next time."""
    looks = Looks([themes_folder()], tmp_path / "look")
    chosen = looks.after(looks.first)
    assert Looks([themes_folder()], tmp_path / "look").first == chosen


def test_a_choice_that_is_gone_harms_nobody(tmp_path: Path) -> None:
    """An unknown name gives the usual look."""
    (tmp_path / "look").write_text("no such look")
    assert Looks([themes_folder()], tmp_path / "look").first == "night-vat"


def test_without_any_file_there_is_a_look(tmp_path: Path) -> None:
    """Vatside starts even if its themes are missing."""
    assert Looks([tmp_path]).names == ("night-vat",)


def test_a_place_without_a_look_is_no_harm(tmp_path: Path) -> None:
    """A folder that cannot be looked into leaves the looks that come along."""
    names = Looks([themes_folder(), tmp_path / ("n" * 300)]).names
    assert names == Looks([themes_folder()]).names


@pytest.mark.skipif(sys.platform == "win32", reason="modes are a thing of POSIX")
def test_the_choice_is_kept_for_its_owner_alone(tmp_path: Path) -> None:
    """The look chosen last is kept in a file and a folder of her own, whatever the umask is."""
    choice, old = tmp_path / "mine" / "look", os.umask(0)
    try:
        chosen = Looks([themes_folder()], choice).after("night-vat")
    finally:
        os.umask(old)
    assert Looks([themes_folder()], choice).first == chosen
    assert [path.stat().st_mode & 0o777 for path in (choice, choice.parent)] == [0o600, 0o700]
