"""What is on the screen can be seen: in every look, on every ground, with few colours and with none."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from rich.color import Color as RichColor
from rich.color import ColorSystem
from rich.style import Style
from tests.ui.hands import Bench, Hands
from tests.ui.seen import Pair, pairs, seen
from textual.color import Color

from vatside.storage.places import themes_folder
from vatside.ui.theme.choice import GroundAnswer, Looks, ground_by_environment
from vatside.ui.theme.looks import COLOURS, SHAPES, WORDS, Ground, Look, contrast, inks, look_for, read_looks

SAMPLES = Path(__file__).resolve().parents[2] / "sample_sessions"
SHIPPED = read_looks([themes_folder()])[0]
EIGHT_BIT = ColorSystem.EIGHT_BIT
CGA = (
    *("#000000", "#aa0000", "#00aa00", "#aa5500", "#0000aa", "#aa00aa", "#00aaaa", "#aaaaaa"),
    *("#555555", "#ff5555", "#55ff55", "#ffff55", "#5555ff", "#ff55ff", "#55ffff", "#ffffff"),
)
"""The sixteen colours of the IBM Colour Graphics Adapter, which the library and many consoles take."""
XTERM = (
    *("#000000", "#cd0000", "#00cd00", "#cdcd00", "#0000ee", "#cd00cd", "#00cdcd", "#e5e5e5"),
    *("#7f7f7f", "#ff0000", "#00ff00", "#ffff00", "#5c5cff", "#ff00ff", "#00ffff", "#ffffff"),
)
"""Those of xterm (XTerm-col.ad)."""
WALKS = {
    "the day": ("", "down", "enter", "down", "a", "escape"),
    "the windows": ("?", "escape", "i", "escape", "=", "escape", "w", "escape"),
    "the day line": ("o", "z", "enter", "escape", "="),
    "the ways on": ("b", "m", "n", "escape", "o"),
    "the vat": ("right", "v", "tab"),
}
"""Keys after which the screen is looked at, each."""


def _too_faint(hands: Hands) -> list[tuple[str, Pair]]:
    """Look at the screen, and think of it in every look that comes along."""
    found = pairs(hands.app)
    return [(look.id, pair) for look in SHIPPED for pair in found if pair.is_too_faint(look.theme().variables)]


@pytest.mark.parametrize("walk", WALKS.values(), ids=list(WALKS))
@pytest.mark.parametrize("sample", ["at-the-stove", "finished-day"])
async def test_everything_can_be_read_in_every_look(
    bench: Bench, tmp_path: Path, sample: str, walk: tuple[str, ...]
) -> None:
    """Words have 4.5:1 on whatever they stand, lines and bars 3:1 (WCAG 2.1, 1.4.3 and 1.4.11)."""
    file = tmp_path / "sessions" / "day.json"
    file.parent.mkdir()
    shutil.copy(SAMPLES / f"{sample}.json", file)
    async with bench((100, 30), file) as hands:
        for key in walk:
            if key:
                await hands.press(key)
            assert _too_faint(hands) == [], key


async def test_the_list_of_days_can_be_read_in_every_look(bench: Bench, tmp_path: Path) -> None:
    """So can the first screen, with a day chosen, and a new day's form with its hints in empty rows."""
    folder = tmp_path / "sessions"
    folder.mkdir()
    shutil.copy(SAMPLES / "finished-day.json", folder / "day.json")
    async with bench((80, 24)) as hands:
        await hands.press("down")
        assert _too_faint(hands) == []
        await hands.new_day()
        assert _too_faint(hands) == []
        await hands.field("ready_by")
        assert _too_faint(hands) == []


@pytest.mark.parametrize("look", SHIPPED, ids=lambda look: look.id)
def test_the_chosen_row_cannot_be_missed(look: Look) -> None:
    """Its ground has 3:1 to the paper around it, and every role of words on it 4.5:1."""
    colours = {**look.colours} | {f"ripe{step}": look.colours["leaf"] for step in range(5)}
    chosen = inks(colours, Ground.CHOSEN)
    grounds = {style.bgcolor.get_truecolor().hex for style in chosen.values() if style.bgcolor is not None}
    assert contrast(look.colours["ink"], look.colours["paper"]) >= SHAPES
    assert look.colours["ink"] in grounds
    for role, style in chosen.items():
        assert style.color is not None
        assert style.bgcolor is not None
        assert contrast(style.color.get_truecolor().hex, style.bgcolor.get_truecolor().hex) >= WORDS, role


async def test_an_empty_note_is_refused_in_a_sentence(bench: Bench) -> None:
    """It says what is wanted, from a capital on."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "n", "enter")
        assert "! Not taken. Write it here: it goes into the log with the time." in hands.screen


@pytest.mark.parametrize("look", SHIPPED, ids=lambda look: look.id)
def test_a_strip_of_cloth_looks_the_same_on_the_chosen_row(look: Look) -> None:
    """In light ink on a dark row, the piece with the most dips would look the palest."""
    colours = look.theme().variables
    for step in range(5):
        chosen, usual = inks(colours, Ground.CHOSEN)[f"ripe{step}"], inks(colours)[f"ripe{step}"]
        assert chosen.color == usual.color
        assert chosen.bgcolor == Style.parse(f"on {colours['paper']}").bgcolor


@pytest.mark.parametrize("look", SHIPPED, ids=lambda look: look.id)
def test_thumbs_and_seams_can_be_told_from_the_paper(look: Look) -> None:
    """What a scroll bar and a line are drawn with has 3:1."""
    assert contrast(look.colours["seam"], look.colours["paper"]) >= SHAPES


def _is_readable(shown: dict[str, str]) -> None:
    for name in COLOURS[2:]:
        assert contrast(shown[name], shown["paper"]) >= (SHAPES if name == "seam" else WORDS), name
    for name in ("ink", "faint"):
        assert contrast(shown[name], shown["cloth"]) >= WORDS, name


@pytest.mark.parametrize("look", SHIPPED, ids=lambda look: look.id)
def test_256_colours_are_enough(look: Look) -> None:
    """All inks keep their contrast on paper and cloth, and what harms does not look like what wants care."""
    brought_down = look_for(look, "256").colours
    shown = {
        name: RichColor.parse(value).downgrade(EIGHT_BIT).get_truecolor().hex for name, value in brought_down.items()
    }
    _is_readable(shown)
    if look.id != "grey-morning":
        assert shown["madder"] != shown["copper"]


@pytest.mark.parametrize("table", [CGA, XTERM], ids=["CGA", "xterm"])
@pytest.mark.parametrize("look", SHIPPED, ids=lambda look: look.id)
def test_16_colours_are_enough(look: Look, table: tuple[str, ...]) -> None:
    """So they do in two tables that terminals use."""
    colours = look_for(look, "standard").colours
    numbers = {name: RichColor.parse(value).downgrade(ColorSystem.STANDARD).number for name, value in colours.items()}
    shown = {name: table[number] for name, number in numbers.items() if number is not None}
    _is_readable(shown)
    assert shown["madder"] != shown["copper"]


@pytest.mark.parametrize("look", SHIPPED, ids=lambda look: look.id)
def test_the_paper_of_256_colours_is_grey(look: Look) -> None:
    """No dark paper becomes navy for want of a nearer colour."""
    paper = Color.parse(look_for(look, "256").colours["paper"])
    assert paper.r == paper.g == paper.b


def test_a_full_terminal_gets_the_look_as_it_is() -> None:
    """True colours are left alone, and so is a terminal of unknown colours."""
    assert [look_for(SHIPPED[0], system) for system in ("truecolor", None)] == [SHIPPED[0]] * 2


async def test_what_is_not_typed_yet_is_no_fault(bench: Bench) -> None:
    """A hint below an empty line is faint; only what cannot be taken is copper."""
    async with bench() as hands:
        await hands.new_day()
        colours = hands.app.current_theme.variables
        for keys, wrong in (("escape", "w"), False), (("enter",), True):
            await hands.press(*keys)
            [ink] = {item.ink.hex for item in seen(hands.app) if "how long and what for" in item.text}
            assert ink.lower() == colours["copper" if wrong else "faint"].lower(), keys


async def test_no_colour_means_none(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """With NO_COLOR nothing that is painted has a colour, and the chosen row is reversed (no-color.org)."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with bench() as hands:
        await hands.new_day()
        painted = [
            segment.style
            for strip in hands.app.screen._compositor.render_strips()
            for segment in strip.apply_filter(hands.app.get_line_filters()[0], Color.parse("#141414"))
            if segment.style is not None
        ]
        assert {(style.color, style.bgcolor) for style in painted} == {(None, None)}
        assert any(style.reverse for style in painted)


async def test_one_key_turns_the_look_and_names_it(bench: Bench) -> None:
    """`t` goes to the next look and says its name."""
    async with bench() as hands:
        await hands.press("t")
        assert f"Look: {hands.app.looks.title(hands.app.theme)}" in hands.screen


@pytest.mark.parametrize(
    ("sent", "kept", "told"),
    [
        (["\x1b]11;rgb:ffff/ffff/f0f0\x1b\\"], "", [False]),
        (["\x1b]11;rgb:12/16/1f\x07"], "", [True]),
        (["a\x1b]11;rgb:ff/ff/ff\x07b"], "ab", [False]),
        (["\x1b]11;rgb:00", "00/0000/0000\x1b", "\\x"], "x", [True]),
        (["\x1b", "x"], "\x1bx", []),
        (["\x1b]"], "\x1b]", []),
        (["abc"], "abc", []),
    ],
)
def test_the_terminal_s_answer_is_never_a_key(sent: list[str], kept: str, told: list[bool]) -> None:
    """Whole, in parts or among keys: the answer says dark or light, and what was typed stays (xterm, OSC 11)."""
    heard: list[bool] = []
    answer = GroundAnswer(heard.append)
    assert "".join(answer.without(part) for part in sent) == kept
    assert heard == told


@pytest.mark.parametrize(("value", "dark"), [("15;0", True), ("0;15", False), ("0;default;7", False), ("", None)])
def test_a_terminal_may_say_its_ground_at_the_start(value: str, dark: bool | None) -> None:
    """COLORFGBG ends in the number of the ground."""
    assert ground_by_environment({"COLORFGBG": value}) is dark


def test_a_light_terminal_gets_a_light_look(tmp_path: Path) -> None:
    """Unless she chose one."""
    looks = Looks([themes_folder()], tmp_path / "look")
    assert looks.on_ground(looks.first, dark=False) == "undyed"
    assert looks.on_ground("undyed", dark=True) == "night-vat"
    assert looks.on_ground("copper-film", dark=False) == "copper-film"
    looks.after("undyed")
    assert looks.on_ground("night-vat", dark=False) == "night-vat"
