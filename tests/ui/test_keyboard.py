"""What a terminal sends on a slow line: pastes without an end, keys in parts, characters that there are not."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from textual.events import Key, Paste

from vatside.ui.driver import BY_HAND, LARGEST_PASTE, PASTE_ENDS, SEQUENCE_ENDS, Keyboard

START, END = "\x1b[200~", "\x1b[201~"


class Line:
    """A line to the keyboard that goes as slowly as it is told to."""

    def __init__(self) -> None:
        self.now = 0.0
        self.keyboard = Keyboard(lambda: self.now)
        self.found: list[str] = []

    def send(self, *parts: str, pause: float = 0.0) -> Line:
        """Send parts, each after a pause in which the keyboard is ticked."""
        for part in parts:
            self._take(list(self.keyboard.feed(part)))
            self.rest(pause)
        return self

    def rest(self, seconds: float) -> Line:
        """Let time go by."""
        while seconds > 0:
            self.now += min(seconds, 0.05)
            seconds -= 0.05
            self._take(list(self.keyboard.tick()))
        return self

    def _take(self, messages: Sequence[object]) -> None:
        for message in messages:
            if isinstance(message, Key):
                self.found.append(message.key)
            elif isinstance(message, Paste):
                self.found.append(f"paste {message.text}")


# An Escape that nothing follows for a while is an Escape.
CUTS = [(at, pause) for at in range(1, len(START + "3 g" + END)) for pause in (0.0, 0.3, 0.7) if at > 1 or not pause]


@pytest.mark.parametrize(("at", "pause"), CUTS)
def test_a_paste_cut_anywhere_is_one_paste(at: int, pause: float) -> None:
    """Wherever the line halts, less than a second, the paste comes whole and the next key is a key."""
    whole = START + "3 g" + END
    line = Line().send(whole[:at], whole[at:], pause=pause).send("a")
    assert line.found == ["paste 3 g", "a"]


def test_a_paste_without_its_end_deafens_nobody() -> None:
    """After a second it is taken as it is, and keys are keys again."""
    line = Line().send(START + "3 g").rest(PASTE_ENDS + 0.1).send("\x11", "q")
    assert line.found == ["paste 3 g", "ctrl+q", "q"]


def test_keys_by_hand_do_not_make_a_paste_longer() -> None:
    """Whoever presses keys because nothing happens is heard after a second all the same."""
    line = Line().send(START + "3 g")
    line.send(*("x" * BY_HAND), pause=0.2)
    assert line.found[0].startswith("paste 3 gx")
    assert line.found[-1] == "x"


@pytest.mark.parametrize("cut", range(1, len(END)))
def test_an_end_that_comes_too_late_is_no_key(cut: int) -> None:
    """The rest of an end mark is left out, however late it is."""
    line = Line().send(START + "3 g" + END[:cut]).rest(PASTE_ENDS + 0.1).send(END[cut:]).send("a")
    assert line.found == ["paste 3 g", "a"]


def test_a_whole_end_that_comes_too_late_is_nothing() -> None:
    """As above, in one piece."""
    assert Line().send(START + "3 g").rest(PASTE_ENDS + 0.1).send(END).send("a").found == ["paste 3 g", "a"]


def test_an_escape_within_a_paste_is_left_out() -> None:
    """Nothing that was pasted is a key."""
    assert Line().send(START + "a\x1b[Ab" + END).found == ["paste a[Ab"]


def test_two_pastes_and_keys_in_one_piece() -> None:
    """Each comes in its turn."""
    line = Line().send("a" + START + "1" + END + "b" + START + "2" + END + "c")
    assert line.found == ["a", "paste 1", "b", "paste 2", "c"]


def test_a_very_long_paste_is_cut() -> None:
    """No field takes a megabyte."""
    [paste] = Line().send(START, *["x" * 4096] * 300, END).found
    assert len(paste) == LARGEST_PASTE + len("paste ")


@pytest.mark.parametrize("pause", [0.0, 0.2, 0.8])
def test_an_arrow_in_parts_is_an_arrow(pause: float) -> None:
    """On a slow line it is no Escape and two letters."""
    assert Line().send("\x1b[", "A", pause=pause).found == ["up"]


@pytest.mark.parametrize("cut", [0, 1, 2])
@pytest.mark.parametrize(
    ("key", "name"), [("l", "l"), ("0", "0"), ("=", "equals_sign"), (" ", "space"), ("\r", "enter")]
)
def test_a_key_that_comes_with_an_escape_comes_after_it(key: str, name: str, cut: int) -> None:
    """As the two do slowly, in one piece and in two: a slow line and a quick hand send no Alt."""
    sent = f"\x1b{key}"
    assert Line().send(sent[:cut], sent[cut:]).rest(1).found == ["escape", name]


def test_many_escapes_and_keys_in_one_piece() -> None:
    """Each is a key of its own; arrows, and the moves by words that some keyboards send, stay what they are."""
    found = Line().send("\x1b\x1bn\x1b[A\x1b\x1b[Bx\x1bb\x1b\t").rest(1).found
    assert found == ["escape", "escape", "n", "up", "escape", "down", "x", "ctrl+left", "escape", "tab"]


def test_a_sequence_without_an_end_becomes_keys() -> None:
    """It does not wait for ever."""
    line = Line().send("\x1b[").rest(SEQUENCE_ENDS + 0.1).send("a")
    assert line.found[-1] == "a"


def test_escape_alone_is_told_at_once() -> None:
    """Nobody waits a second for it."""
    assert Line().send("\x1b").rest(0.2).found == ["escape"]


@pytest.mark.parametrize(
    "senseless",
    ["\x1b[999999999;1u", "\x1b[<99999999999999999999;1M", "\x1b[;;;;;;u", "\x1b]0;x\x07", "\x00", "\x1b[<M"],
)
def test_what_has_no_sense_is_survived(senseless: str) -> None:
    """A character that there is not ends no reader: the next key is heard."""
    assert Line().send(senseless).rest(2).send("a").found[-1] == "a"
