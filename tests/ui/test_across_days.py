"""From one day to another: again, side by side, the blue card, the kept vat, the class card."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.log.makers import session
from tests.ui.hands import Bench, Hands

from vatside.days.repeat import Offer, again
from vatside.log.events.day import (
    ColourNoted,
    Event,
    NoteWritten,
    PinSet,
    PlanChanged,
    StepDone,
    WaitEnded,
    WaitStarted,
)
from vatside.log.events.vat import SwatchRecorded
from vatside.storage.session_file import SessionFile
from vatside.ui.day.screen import DayScreen
from vatside.ui.past.compare import CompareScreen
from vatside.ui.past.repeat import RepeatScreen, repeat_rows
from vatside.ui.text.rows import UNICODE, cells
from vatside.units import Amount

SIZES = [(60, 20), (80, 24), (120, 40)]
MONDAY = (
    PlanChanged("title", "Blue [b]Monday"),
    PinSet("stock.pigment", Amount(12, "g")),
    StepDone("stock.water"),
    StepDone("stock.paste"),
    WaitStarted("w5", "stock.hold_warm", "Stock rest", 60),
    *(NoteWritten("at rest"),) * 44,
    WaitEnded("w5"),
)
"""One event a minute: the hour's rest took 45 minutes."""
FRIDAY = (PlanChanged("title", "Blue Friday"), PlanChanged("lots.a.mass", Amount(500, "g")))


def on_disk(tmp_path: Path, name: str, *events: Event) -> Path:
    """Write a day into the folder of sessions."""
    path = tmp_path / "sessions" / f"{name}.json"
    SessionFile.write_new(path, session(*events)).close()
    return path


@pytest.mark.parametrize("width", range(56, 100))
def test_what_an_amount_becomes_is_never_cut(width: int) -> None:
    """However wide the window, the new number stands there whole, on a row of its own if need be."""
    offer = Offer("vat.reducer", "Vat: Reducer to sharpen", "0.5 g", "1.6 g with corrections", Amount(1.6, "g"))
    rows = repeat_rows("Day", "360 g", "", (), [offer], (), lambda _path: "0.5 g", width, UNICODE)
    assert any(item.text.rstrip().endswith("→ now 0.5 g") for item in rows)
    assert all(cells(item.text) <= width for item in rows)


async def choose(hands: Hands, path: Path) -> None:
    """Put the cursor of the opening screen on a day."""
    await hands.until(lambda: bool(hands.app.opening.listed.saved))
    hands.app.opening.parts["shelf"].choose(f"saved:{path}")


async def again_screen(hands: Hands, path: Path) -> RepeatScreen:
    """Ask for a day again."""
    await choose(hands, path)
    await hands.press("c")
    screen = hands.app.screen
    assert isinstance(screen, RepeatScreen)
    await hands.settle()
    return screen


# Again


@pytest.mark.parametrize("size", SIZES)
async def test_offers_stand_on_one_screen(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """What was held and the real length of the rest are offered, with plan, fact and what it becomes."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench(size=size) as hands:
        screen = await again_screen(hands, path)
        offered = {offer.path for offer in screen.choice.offers}
        assert offered == {"vat.fill", "stock.water", "stock.pigment", "stock.hold"}
        for words in ("take", "leave", "was 12 g", "was 45 min", "Blue [b]Monday"):
            assert words in hands.screen


async def test_what_was_held_is_taken_and_one_key_leaves_it(bench: Bench, tmp_path: Path) -> None:
    """Space on the pigment leaves it to the plan; space on the rest takes its real length over."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        screen = await again_screen(hands, path)
        for offer in ("stock.pigment", "stock.hold"):
            screen.parts["list"].choose(offer)
            await hands.press("space")
        await hands.press("enter")
        await hands.until(lambda: hands.app.desk is not None)
        held = {pin.figure: pin.amount.value for pin in hands.desk.plan.pins}
        assert held == {"vat.fill": 20.4, "stock.water": 1, "stock.hold": 45}
        assert hands.desk.plan.title == again("Blue [b]Monday")
        assert hands.desk.state.entries == ()


async def test_more_fibre_takes_more_of_what_was_held(bench: Bench, tmp_path: Path) -> None:
    """Twice the fibre: the lot weighs twice as much, and the held 12 g become 24 g."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        screen = await again_screen(hands, path)
        twice = 2 * screen.choice.grams
        await hands.press("m", "ctrl+u")
        await hands.write(f"{twice:g} g")
        await hands.press("enter", "enter")
        await hands.until(lambda: hands.app.desk is not None)
        assert hands.grams("stock.pigment") == pytest.approx(24)


@pytest.mark.parametrize("size", SIZES)
async def test_less_fibre_fills_less_of_the_tub(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """Half the fibre: the fill goes along unasked, and the strength stays; left, what changes is said and marked."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench(size=size) as hands:
        screen = await again_screen(hands, path)
        await hands.press("m", "ctrl+u")
        await hands.write(f"{screen.choice.grams / 2:g} g")
        await hands.press("enter")
        strength = " ".join(next(words for words, _ in screen.choice.blue(">")).split())
        assert ">" not in strength
        assert strength in " ".join(hands.screen.split())
        screen.parts["list"].choose("vat.fill")
        await hands.press("space")
        await hands.settle()
        words, differs = screen.choice.blue(">")[0]
        assert differs
        assert words.startswith("Strength ")
        marked = [span for line in screen.parts["list"].rows for span in line.spans if span.role == "care"]
        assert any("Strength " in span.text for span in marked)


async def test_nonsense_fibre_is_answered(bench: Bench, tmp_path: Path) -> None:
    """A ton of wool cannot be made of this day; the sentence says so and nothing changes."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        screen = await again_screen(hands, path)
        before = screen.choice.grams
        await hands.press("m", "ctrl+u")
        await hands.write("900 kg")
        assert "cannot be made of" in " ".join(hands.screen.split())
        await hands.press("enter", "escape")
        assert screen.choice.grams == before


async def test_going_back_begins_nothing(bench: Bench, tmp_path: Path) -> None:
    """Escape leads back to the list; no file was made."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        await again_screen(hands, path)
        await hands.press("z", "escape")
        assert hands.app.screen is hands.app.opening
    assert [file.name for file in path.parent.glob("*.json")] == ["monday.json"]


# Side by side


@pytest.mark.parametrize("size", SIZES)
async def test_what_differs_comes_first(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """Marked, then picked: both names, the differing weight above, what is the same below."""
    monday, friday = on_disk(tmp_path, "monday", *MONDAY), on_disk(tmp_path, "friday", *FRIDAY)
    async with bench(size=size) as hands:
        await choose(hands, monday)
        await hands.press("m")
        assert "compare with" in hands.screen
        await choose(hands, friday)
        await hands.press("m")
        await hands.settle()
        screen = hands.app.screen
        assert isinstance(screen, CompareScreen)
        rows = [row.text for row in screen.parts["list"].rows]
        unlike = [number for number, text in enumerate(rows) if text.startswith("≠")]
        same = next(number for number, text in enumerate(rows) if "The same in both" in text)
        assert max(unlike) < same
        assert "500 g" in hands.screen
        assert "Blue Friday" in hands.screen
        assert all(len(text) <= size[0] - 2 for text in rows)


async def test_sides_change_and_the_same_goes_away(bench: Bench, tmp_path: Path) -> None:
    """`←` changes sides, `z` leaves out what is the same."""
    monday, friday = on_disk(tmp_path, "monday", *MONDAY), on_disk(tmp_path, "friday", *FRIDAY)
    async with bench() as hands:
        await choose(hands, monday)
        await hands.press("m")
        await choose(hands, friday)
        await hands.press("m", "left", "z")
        head = hands.screen.splitlines()[0]
        assert head.index("Blue Friday") < head.index("Blue [b]Monday")
        rows = [row.text for row in hands.app.screen.query_one("#list").rows]  # type: ignore[attr-defined]
        assert not any("The same in both" in text for text in rows)


async def test_the_same_day_twice_is_unmarked(bench: Bench, tmp_path: Path) -> None:
    """A second press on the marked day forgets it."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        await choose(hands, path)
        await hands.press("m", "m")
        assert hands.app.opening.listed.marked == ""
        assert hands.app.screen is hands.app.opening


async def test_why_two_blues_came_out_apart(bench: Bench, tmp_path: Path) -> None:
    """From side by side, `g` names the likeliest reason and shows both cards."""
    came = ColourNoted(session().plan.lots[0].id, "blue")
    monday, friday = on_disk(tmp_path, "monday", *MONDAY, came), on_disk(tmp_path, "friday", *FRIDAY, came)
    async with bench() as hands:
        await choose(hands, monday)
        await hands.press("m")
        await choose(hands, friday)
        await hands.press("m", "g")
        await hands.settle()
        assert "1. Indigotin" in hands.screen


async def test_the_blue_card_of_a_day(bench: Bench, tmp_path: Path) -> None:
    """`g` on a day shows what made its blue."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        await choose(hands, path)
        await hands.press("g")
        await hands.settle()
        assert "What made this blue" in hands.screen
        assert "Strength" in hands.screen


# The kept vat


async def kept(hands: Hands, path: Path) -> None:
    """Keep the vat of a day with a note."""
    await choose(hands, path)
    await hands.press("enter")
    await hands.until(lambda: hands.app.desk is not None)
    await hands.press("escape", "o", "v", "ctrl+u")
    await hands.write("blue tub [x]")
    await hands.press("enter")


async def test_a_vat_is_kept_with_its_note(bench: Bench, tmp_path: Path) -> None:
    """Keeping logs the vat, the note and a week's wait as one act, and one undo takes all of it back."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        await kept(hands, path)
        assert hands.kinds[-3:] == ["vat_kept", "note_written", "wait_started"]
        assert hands.desk.waits(hands.clock.now())[0].left == pytest.approx(7 * 24 * 3600)
        assert "6 d 23 h" in hands.screen or "7 d 0 h" in hands.screen
        await hands.press("u")
        assert hands.desk.state.waits == ()


async def test_the_kept_vat_stands_in_the_list(bench: Bench, tmp_path: Path) -> None:
    """The opening screen shows how strong it is, that it has only just been kept, and the note, as typed."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        await kept(hands, path)
        await hands.press("b")
        await hands.until(lambda: bool(hands.app.opening.listed.kept))
        await hands.settle()
        [vat] = hands.app.opening.listed.kept
        assert f"{vat.vat.strength:.2f}"[:3] in hands.screen
        assert "just kept" in hands.screen
        assert "blue tub [x]" in hands.screen


async def test_a_new_day_carries_on_from_it(bench: Bench, tmp_path: Path) -> None:
    """Enter on the kept vat asks, `c` begins a day on it; once something is done there, it stands no more."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench() as hands:
        await kept(hands, path)
        await hands.press("b")
        await hands.until(lambda: bool(hands.app.opening.listed.kept))
        lines = hands.app.opening.parts["shelf"]
        lines.choose(f"kept:{hands.app.opening.listed.kept[0].path}")
        await hands.press("enter", "escape")
        assert hands.app.screen is hands.app.opening
        await hands.press("enter", "c")
        await hands.until(lambda: isinstance(hands.app.screen, DayScreen) and hands.kinds == ["vat_carried_on"])
        assert "Carries on from" in hands.screen
        await hands.press("escape", "b")
        await hands.until(lambda: bool(hands.app.opening.listed.kept and hands.app.opening.listed.kept[0].carried))
        assert "where nothing is done yet" in hands.screen
        hands.desk.record(StepDone("stock.water"))
        await hands.press("b")
        hands.app.opening.look()
        await hands.until(lambda: not hands.app.opening.listed.kept)


async def test_the_help_says_that_enter_on_a_kept_vat_asks_first(bench: Bench) -> None:
    """What the keys say of a kept vat is what they do: Enter asks, `c` begins."""
    async with bench() as hands:
        await hands.press("question_mark", "end")
        assert "a kept vat, or a kept stock: Enter asks first" in " ".join(hands.screen.split())


# The class card


async def test_the_class_card_is_written_beside_the_day(bench: Bench, tmp_path: Path) -> None:
    """Both files, for four tables, and the screen says where; a second one takes another name."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench(file=path) as hands:
        for _ in range(2):
            await hands.press("escape", "o", "s", "ctrl+u")
            await hands.write("4")
            await hands.press("enter")
        assert "monday-class-card-2.html" in "".join(hands.screen.split())
    names = sorted(file.name for file in path.parent.glob("*class-card*"))
    assert names == [f"monday-class-card{end}" for end in ("-2.html", "-2.md", ".html", ".md")]
    assert "4 tables" in (path.parent / "monday-class-card.md").read_text("utf-8")


async def test_no_class_has_no_tables(bench: Bench, tmp_path: Path) -> None:
    """Nothing is written for 0 tables, and the sentence says what would be right."""
    path = on_disk(tmp_path, "monday", *MONDAY)
    async with bench(file=path) as hands:
        await hands.press("escape", "o", "s", "ctrl+u")
        await hands.write("0")
        assert "1 to 60" in hands.screen
        await hands.press("enter", "escape")
    assert not list(path.parent.glob("*class-card*"))


async def test_the_blue_of_a_lot_is_noted(bench: Bench, tmp_path: Path) -> None:
    """The same window as on the board: words and L*a*b* in one line come apart into the log."""
    async with bench(file=on_disk(tmp_path, "monday", *MONDAY)) as hands:
        await hands.press("escape", "g")
        await hands.write("deep, even 2 %, 30 -2,5 -28")
        await hands.press("enter")
        lot = hands.desk.plan.lots[0].id
        events = [entry.event for entry in hands.desk.state.entries[-2:]]
        assert events == [SwatchRecorded(lot, (30.0, -2.5, -28.0)), ColourNoted(lot, "deep, even 2 %")]
