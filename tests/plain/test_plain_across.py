"""The plain commands that reach across sessions, as somebody in a terminal runs them."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.log.played import Played
from tests.shelf.shelves import MAY, item, used

from vatside.__main__ import main
from vatside.bench.commands import free_wait
from vatside.log.events.day import ColourNoted, NoteWritten, PowderTaken, StepDone
from vatside.log.events.vat import CorrectionMade
from vatside.plain.say import Refusal, give
from vatside.plan.plan import ShelfEntry
from vatside.shelf.events import ItemBought, PriceSet
from vatside.shelf.shelf_file import ShelfFile
from vatside.storage.files import Fs
from vatside.storage.session_file import SessionFile
from vatside.units import Amount

NAMES = ("replay", "compare", "card", "handout", "shelf")


@pytest.fixture(name="day")
def _day(tmp_path: Path) -> str:
    """A played day on the disk."""
    played = Played().set("stock.pigment", "4 g").done("stock.paste").waited("stock.hold_warm", 75)
    path = tmp_path / "day.json"
    SessionFile.write_new(path, played.happen(NoteWritten("fine")).happen(ColourNoted("a", "mid blue")).session).close()
    return str(path)


@pytest.fixture(name="other")
def _other(tmp_path: Path) -> str:
    """Another one."""
    path = tmp_path / "other.json"
    SessionFile.write_new(
        path, Played(ident="s2").set("water.hot", "60 C").happen(ColourNoted("a", "blue")).session
    ).close()
    return str(path)


@pytest.fixture(name="owned")
def _owned(tmp_path: Path) -> str:
    """A shelf with a bag of indigo."""
    path = tmp_path / "shelf.json"
    price = PriceSet("kwh", Amount(0.3, ""))
    ShelfFile(path).note([ItemBought(item(lot="A", price=Amount(18, ""))), used("i1", 6, session="s0"), price], MAY)
    return str(path)


def said(capsys: pytest.CaptureFixture[str], words: Sequence[str], code: int = 0) -> str:
    """Run a command; give what it printed."""
    assert main(list(words)) == code
    out = capsys.readouterr()
    return out.out if code < 2 else out.err


@pytest.mark.parametrize("words", [("log",), ("card",), ("handout",), ("replay", "--plain"), ("compare",)])
def test_what_is_missing_is_said_beside_what_is_printed(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, other: str, words: Sequence[str]
) -> None:
    """A file copied without its journal is read, and a sentence says that it is behind; a whole one says nothing."""
    file = SessionFile.write_new(tmp_path / "open.json", Played().session)
    file.append(NoteWritten("fine"), VirtualClock().now())
    alone = tmp_path / "alone.json"
    alone.write_bytes(file.path.read_bytes())
    name, *more = words
    for path, behind in ((alone, True), (file.path, False)):
        assert main([name, str(path), *((other,) if name == "compare" else ()), *more]) == 0
        out = capsys.readouterr()
        assert out.out
        assert ("alone.json was copied while the day went on" in out.err) is behind
    file.close()


def test_a_replay_is_printed_without_a_terminal(capsys: pytest.CaptureFixture[str], day: str) -> None:
    """From the plan to the last note, with the figure that a pin changed and the wait that was over."""
    text = said(capsys, ["replay", day, "--plain"])
    assert "stock: Indigo powder 6.5 g → 4.0 g set 4 g" in text
    assert "Over: Stock rest" in text
    assert "Note: fine" in text


def test_a_comparison_shows_what_differs(capsys: pytest.CaptureFixture[str], day: str, other: str) -> None:
    """Only the rows that differ, unless all are asked for."""
    text = said(capsys, ["compare", day, other])
    assert "Hot tap" in text
    assert "Cold tap" not in text
    assert "Cold tap" in said(capsys, ["compare", day, other, "--all"])


def test_a_comparison_with_itself_says_so(capsys: pytest.CaptureFixture[str], day: str) -> None:
    """Nothing differs."""
    assert "nothing differs" in said(capsys, ["compare", day, day])


def test_a_comparison_as_data(capsys: pytest.CaptureFixture[str], day: str, other: str) -> None:
    """Rows with their group, label and both sides."""
    rows = json.loads(said(capsys, ["compare", day, other, "--json"]))
    assert {"group": "Plan", "label": "Hot tap", "left": "55 °C", "right": "60 °C", "differs": True} in rows


def test_a_card_and_what_parts_it(capsys: pytest.CaptureFixture[str], day: str, other: str) -> None:
    """One card alone, or two and the likeliest reason."""
    assert "Pigment" in said(capsys, ["card", day])
    assert "1. Indigotin" in said(capsys, ["card", day, other])


def test_a_handout_goes_into_a_new_file(capsys: pytest.CaptureFixture[str], day: str, tmp_path: Path) -> None:
    """As Markdown or as a page; one that is there is never written over."""
    target = tmp_path / "card.html"
    said(capsys, ["handout", day, "--tables", "3", "--html", "--output", str(target)])
    page = target.read_text("utf-8")
    assert page.startswith("<!DOCTYPE html>")
    assert said(capsys, ["handout", day, "--output", str(target)], 2).endswith("is there already; name a new file.\n")
    assert target.read_text("utf-8") == page


def test_a_handout_is_printed_as_markdown(capsys: pytest.CaptureFixture[str], day: str) -> None:
    """Beginning with the day's name."""
    assert said(capsys, ["handout", day]).startswith("# A new day\n")


def test_a_handout_that_does_not_fit_the_disk_leaves_nothing(tmp_path: Path) -> None:
    """Half a card is no card."""

    class Full(Fs):
        def write(self, fd: int, data: bytes | memoryview) -> int:
            super().write(fd, data[:10])
            raise OSError(28, "No space left on device")

    target = tmp_path / "card.md"
    with pytest.raises(Refusal, match="the disk is full"):
        give("x" * 100, target, Full())
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("tables", ["0", "61", "x"])
def test_a_wrong_number_of_tables_is_refused(capsys: pytest.CaptureFixture[str], day: str, tables: str) -> None:
    """In one sentence, with exit code 2."""
    assert said(capsys, ["handout", day, "--tables", tables], 2).startswith("vatside handout: ")


def test_the_shelf_is_printed(capsys: pytest.CaptureFixture[str], owned: str) -> None:
    """What is left of each bag, and its price."""
    line = said(capsys, ["shelf", "--shelf", owned]).splitlines()[0]
    assert line.startswith("natural indigo powder, A")
    assert "94.0 g" in line
    assert "18.00 for 100 g" in line


def test_the_shelf_beside_a_session(capsys: pytest.CaptureFixture[str], owned: str, day: str) -> None:
    """Of 94 g the day used four, and 90 g last for 22 more days; the rest is to be bought.

    Reducer of 99 %: as much as the 1.6 g of indigotin for the stock, and 0.1 g for each of the 20.2 L: 3.66 g.
    """
    text = said(capsys, ["shelf", day, "--shelf", owned])
    assert (
        "lasts for 22 days like this and 1 piece over, 45 pieces in all; natural indigo powder runs out first" in text
    )
    assert "to buy: 3.7 g of thiourea dioxide" in text
    assert "0.72" in text


def test_what_nothing_is_priced_of_costs_no_nought(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, day: str
) -> None:
    """Without any price the sum is not known, and is not said to be 0.00."""
    text = said(capsys, ["shelf", day, "--shelf", str(tmp_path / "shelf.json")])
    assert "in all: not known" in text
    assert "0.00" not in text


def test_a_shelf_for_a_single_piece(capsys: pytest.CaptureFixture[str], tmp_path: Path, day: str) -> None:
    """3 g are left where two pieces take four: enough for 1 piece, not pieces."""
    path = tmp_path / "shelf.json"
    ShelfFile(path).note([ItemBought(item(lot="A")), used("i1", 93, session="s0")], MAY)
    assert "lasts for less than a day like this, 1 piece; natural" in said(capsys, ["shelf", day, "--shelf", str(path)])


def test_what_the_day_used_and_nobody_booked_is_counted_and_not_written(
    capsys: pytest.CaptureFixture[str], owned: str, day: str
) -> None:
    """94 g are noted, four went in since: 90 g are left, and the file is as it was."""
    before = Path(owned).read_bytes()
    text = " ".join(said(capsys, ["shelf", day, "--shelf", owned]).split())
    assert "natural indigo powder, A 90.0 g" in text
    assert "used by this day, and not booked yet: 4.0 g of natural indigo powder, A." in text
    assert Path(owned).read_bytes() == before


def test_what_nobody_can_tell_the_bag_of_is_said(capsys: pytest.CaptureFixture[str], tmp_path: Path, day: str) -> None:
    """Two bags alike: not counted, and told."""
    path = tmp_path / "two.json"
    ShelfFile(path).note([ItemBought(item("i1", lot="A")), ItemBought(item("i2", lot="B"))], MAY)
    text = said(capsys, ["shelf", day, "--shelf", str(path)])
    assert "Not counted: 4.0 g of natural indigo powder that this day used" in text


def test_the_shelf_says_where_the_plan_reckons_otherwise(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, day: str
) -> None:
    """A bag of 24 %, 18.50 for 100 g, and 4 g held in a plan of 40 %: grams are grams of that bag, 0.74 for four."""
    path = tmp_path / "grams.json"
    bag = evolve(item(lot="A", price=Amount(18.5, "")), purity=Amount(24, "%"))
    ShelfFile(path).note([ItemBought(bag)], MAY)
    text = " ".join(said(capsys, ["shelf", day, "--shelf", str(path)]).split())
    assert "! natural indigo powder, A counts as 24 %, the plan reckons with 40 %" in text
    assert "natural indigo powder 4.0 g have 96.0 g" in text
    assert "natural indigo powder 4.0 g 0.74" in text


def test_the_shelf_as_data(capsys: pytest.CaptureFixture[str], owned: str, day: str) -> None:
    """Grams as numbers."""
    data = json.loads(said(capsys, ["shelf", day, "--shelf", owned, "--json"]))
    assert data["items"][0]["left_g"] == 90
    assert data["more_days"] == 22
    assert data["not_booked_g"] == {"i1": 4}
    assert data["to_buy"]["thiourea dioxide"] == pytest.approx((1.6 + 0.1 * 20.227) / 0.99, abs=0.01)


def test_an_empty_shelf_says_where_it_would_be(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Nothing is created by looking."""
    assert "The shelf is empty" in said(capsys, ["shelf", "--shelf", str(tmp_path / "none.json")])
    assert list(tmp_path.iterdir()) == []


def test_a_damaged_shelf_is_told_with_exit_code_1(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """What can be read is printed all the same."""
    path = tmp_path / "shelf.json"
    path.write_text("{", "utf-8")
    assert said(capsys, ["shelf", "--shelf", str(path)], 1).startswith("! ")


@pytest.mark.parametrize("name", NAMES)
def test_a_missing_file_is_one_sentence(capsys: pytest.CaptureFixture[str], tmp_path: Path, name: str) -> None:
    """No traceback, exit code 2."""
    more = {"replay": ["--plain"], "compare": [str(tmp_path / "no2.json")]}.get(name, [])
    text = said(capsys, [name, str(tmp_path / "no.json"), *more], 2)
    assert text.startswith(f"vatside {name}: ")
    assert text.count("\n") == 1


@pytest.mark.parametrize("name", NAMES)
def test_words_that_are_not_understood_are_one_sentence(capsys: pytest.CaptureFixture[str], name: str) -> None:
    """Whatever is not an option of the command."""
    assert "--help" in said(capsys, [name, "--frobnicate", "a", "b", "c"], 2)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_typed_reaches_the_terminal_as_a_command(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, name: str
) -> None:
    """Escape sequences in notes, labels, lots and ids come out as blanks, in every command."""
    evil = "\x1b]0;gone\x07\x1b[2J\u202e"
    day = Played().happen(NoteWritten(evil)).happen(free_wait(evil, 5, 2)).happen(ColourNoted("a", evil))
    day.happen(PowderTaken("indigo", "i1", evil, ShelfEntry("indigo", Amount(40, "%"), None)))
    day.happen(CorrectionMade(material=evil, amount=Amount(1, "g"))).happen(StepDone(evil))
    path = tmp_path / "evil.json"
    SessionFile.write_new(path, day.session).close()
    more = {"replay": ["--plain"], "compare": [str(path), "--all"], "card": [str(path)]}.get(name, [])
    text = said(capsys, [name, str(path), *more])
    assert all(letter.isprintable() or letter == "\n" for letter in text)


@pytest.mark.parametrize("name", NAMES)
def test_a_terminal_without_the_letters_gets_question_marks(day: str, other: str, name: str) -> None:
    """ASCII only: what it cannot show is replaced, and nothing fails."""
    words = [name, day, *({"replay": ["--plain"], "compare": [other]}.get(name, []))]
    done = subprocess.run(
        [sys.executable, "-m", "vatside", *words],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"},
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.isascii()


@pytest.mark.parametrize("name", NAMES)
def test_no_command_loads_the_screen(day: str, other: str, name: str) -> None:
    """Without a terminal textual stays out."""
    words = [name, day, *({"replay": ["--plain"], "compare": [other]}.get(name, []))]
    code = f"import sys; from vatside.__main__ import main; main({words!r}); sys.exit('textual' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=False).returncode == 0


def test_every_command_stands_in_the_help(capsys: pytest.CaptureFixture[str]) -> None:
    """`vatside --help` shows how each is called."""
    text = said(capsys, ["--help"])
    assert all(f"vatside {name}" in text for name in NAMES)
