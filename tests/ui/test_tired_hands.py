"""What a tired dyer meets on her way from the plan to the dips: one cursor, true hints, ways that lead on."""

from __future__ import annotations

import re

import pytest
from tests.ui.care_hands import at, begin_vat
from tests.ui.hands import STANDS, Bench, wool_day

from vatside.bench.dip_view import Board
from vatside.catalogue.looks import Colour
from vatside.dips.rotation import Call, Do
from vatside.log.events.day import StepDone
from vatside.log.events.vat import DipEnded, DipStarted, PieceDone, ReadingTaken, VatMade
from vatside.plain import sheet as plain_sheet
from vatside.plan.sheet import Notice, Stage, Weight
from vatside.ui.day.figure_table import figure_rows
from vatside.ui.dips.board import DipScreen
from vatside.ui.dips.dip_rows import call_rows
from vatside.ui.text.rows import UNICODE
from vatside.ui.vat.meaning import MeaningScreen
from vatside.ui.windows.notices import all_rows
from vatside.units import Amount
from vatside.vat.reading import PHBy, Reading

TROUBLE = ReadingTaken(
    Reading(temperature=Amount(40, "degC"), pH=7.6, pH_by=PHBy.METER, colour=Colour.BLUE)
)  # fmt: skip
"""Too cold, short of alkali and blue: more than one thing to put right."""


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_one_mark_alone_says_which_finding_is_in_hand(bench: Bench, size: tuple[int, int]) -> None:
    """It stands on the first finding, and goes with the arrows."""
    async with bench(size=size) as hands:
        await begin_vat(hands)
        hands.desk.record(TROUBLE)
        await hands.press("v", "enter")
        await at(hands, "MeaningScreen")
        for number in range(2):
            marked = [line for line in hands.screen.splitlines() if line.lstrip().startswith("▸")]
            assert len(marked) == 1
            found = hands.app.screen
            assert isinstance(found, MeaningScreen)
            name = next(item.name for item in found.outlook.findings if item.id == found.parts["findings"].key)
            assert name in marked[0], number
            await hands.press("down")


async def test_a_screen_is_left_alone_by_the_clock_until_it_stands(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A beat that comes between its making and its first look breaks nothing."""
    async with bench() as hands:
        await begin_vat(hands)
        hands.desk.record(TROUBLE)
        begin = MeaningScreen.on_mount

        def beat_first(screen: MeaningScreen) -> None:
            hands.app.tick()
            begin(screen)

        monkeypatch.setattr(MeaningScreen, "on_mount", beat_first)
        await hands.press("v", "enter")
        await at(hands, "MeaningScreen")
        assert "Something went wrong" not in hands.screen


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_the_row_in_hand_is_seen_in_the_form_of_another_stage(bench: Bench, size: tuple[int, int]) -> None:
    """Also after the form of the plan was left at its last row, further down than the new form begins."""
    async with bench(size=size) as hands:
        await hands.new_day()
        await hands.press(*["pagedown"] * 6)
        await hands.to("vat")
        await hands.press("enter")
        await hands.until(lambda: "▸Tub given by" in hands.screen)


async def test_one_more_lot_from_the_steps_goes_on_with_its_fibre(bench: Bench) -> None:
    """From the foot of the form, Esc and a: not back to the row of the lots."""
    async with bench(size=(60, 20)) as hands:
        await hands.new_day()
        await hands.press("pagedown", "pagedown", "escape", "a")
        assert "▸Fibre" in hands.screen
        await hands.press("w")
        assert [lot.fibre for lot in hands.desk.plan.lots] == ["linen", "wool"]
        await hands.press("escape")
        assert "add a lot" in hands.screen.splitlines()[-1]


async def test_a_hint_names_no_key_that_is_a_letter_here(bench: Bench) -> None:
    """In the form and in a reading, w is a letter: only that nothing runs is said."""
    async with bench(size=(80, 24)) as hands:
        await hands.new_day()
        assert "Nothing is running" in hands.screen
        assert "w starts" not in hands.screen
        await hands.press("escape")
        assert "Nothing is running; w starts a wait of your own" in hands.screen
        hands.desk.record(StepDone("vat.stock_in"), VatMade())
        await hands.to("vat")
        await hands.press("r")
        await at(hands, "ReadingScreen")
        assert "w starts" not in hands.screen


async def test_the_dips_are_one_key_away_from_what_a_reading_means(bench: Bench) -> None:
    """And back on the board that lies below, not on a second one."""
    async with bench() as hands:
        await begin_vat(hands)
        hands.desk.record(TROUBLE)
        await hands.press("v", "enter")
        await at(hands, "MeaningScreen")
        await hands.press("d")
        await at(hands, "DipScreen")
        await hands.press("v", "enter")
        await at(hands, "MeaningScreen")
        await hands.press("d")
        await at(hands, "DipScreen")
        await hands.press("escape")
        await at(hands, "DayScreen")


async def test_a_vat_that_does_not_stand_yet_is_told_as_planned(bench: Bench) -> None:
    """On the board of a day whose stock is not in the tub; once it is, the vat is there."""
    async with bench(size=(80, 24)) as hands:
        await wool_day(hands)
        await hands.to("dip")
        await hands.press("d")
        await at(hands, "DipScreen")
        assert "vat as planned" in hands.screen.splitlines()[0]
        hands.desk.record(StepDone("vat.stock_in"), VatMade())
        await hands.later(1)
        assert "planned" not in hands.screen.splitlines()[0]
        assert "g/L" in hands.screen.splitlines()[0]


async def test_no_wait_is_marked_for_a_piece_that_has_none(bench: Bench) -> None:
    """Piece 1 is in the vat, piece 2 is called for: + and - have nothing in hand, and say what chooses."""
    async with bench(size=(80, 24)) as hands:
        await wool_day(hands)
        hands.desk.record(*STANDS)
        await hands.to("dip")
        await hands.press("d")
        await at(hands, "DipScreen")
        await hands.press("space")
        board = hands.app.screen
        assert isinstance(board, DipScreen)
        assert board.piece == "a.2"
        assert "‹1›" not in hands.screen
        await hands.press("plus")
        assert "1 to 9 choose one" in hands.screen
        await hands.press("1")
        assert "‹1›" in hands.screen


async def test_the_board_opens_on_who_is_next_in(bench: Bench) -> None:
    """Not on the first piece, which has had its last dip, while the other one airs."""
    async with bench(size=(80, 24)) as hands:
        await wool_day(hands)
        ends = (DipEnded("a.1", 15), DipEnded("a.2", 15), PieceDone("a.1"))
        hands.desk.record(*STANDS, DipStarted("a.1", 5), DipStarted("a.2", 5), *ends)
        await hands.to("dip")
        await hands.press("d")
        await at(hands, "DipScreen")
        board = hands.app.screen
        assert isinstance(board, DipScreen)
        assert board.piece == "a.2"


@pytest.mark.parametrize("width", [32, 36, 40, 58])
def test_the_stage_of_the_dips_cuts_with_a_sign_and_keeps_its_key_apart(width: int) -> None:
    """A long call ends with an ellipsis; between the count of pieces and the key there is a gap."""
    why = "after 9 entries; look at it, warm it, read it, and only then go on with the next one"
    call = Call(Do.REST, seconds=600, why=why)
    first, second, key, _ = call_rows(Board(call, (), None), width)
    assert "".join(span.text for span in second.spans).rstrip().endswith("…")
    assert "".join(span.text for span in first.spans).strip().startswith("Let the vat rest")
    assert "  d board" in "".join(span.text for span in key.spans)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
@pytest.mark.parametrize("stage", ["plan", "stock"])
async def test_words_of_the_steps_stand_apart_from_the_amounts(bench: Bench, size: tuple[int, int], stage: str) -> None:
    """The last column of the steps is empty."""
    async with bench(size=size) as hands:
        await wool_day(hands)
        await hands.to(stage)
        place = hands.day.steps.region
        lines = hands.screen.splitlines()[place.y + 1 : place.bottom]
        assert [line for line in lines if line[place.right - 1] != " "] == []


async def test_the_form_says_which_of_several_tubs_is_taken(bench: Bench) -> None:
    """One of 8 L and one of 20 L: the one that the plan takes stands below them, and is a field like others."""
    async with bench(size=(80, 24)) as hands:
        await wool_day(hands)
        hands.desk.type("vessels.tub.volume", "8 L")
        hands.desk.type("vessels.others", "20 L")
        hands.desk.leave()
        await hands.to("vat")
        await hands.press("enter")
        taken = next(line for line in hands.screen.splitlines() if "Take the tub of" in line)
        assert f"{hands.grams('vat.tub'):g} L" in taken


async def test_a_good_vat_is_told_without_a_source_of_something_else(bench: Bench) -> None:
    """Nothing is to be put right: no citation of a stock for cotton stands below a vat for wool."""
    async with bench(size=(80, 24)) as hands:
        await begin_vat(hands)
        good = Reading(temperature=Amount(47, "degC"), pH=9.4, pH_by=PHBy.METER, colour=Colour.YELLOW_GREEN)
        hands.desk.record(ReadingTaken(good))
        await hands.press("v", "enter")
        await at(hands, "MeaningScreen")
        assert "Nothing is to be put right: dye" in hands.screen
        assert "source" not in hands.screen
        await hands.later(90 * 60)
        assert "Nothing is to be put right" not in hands.screen
        assert "By the clock the vat is down to" in hands.screen


async def test_a_small_cold_vat_is_warmed_to_one_temperature_on_every_screen(bench: Bench) -> None:
    """In a wait of 25 min it cools too: above the plan's 47 °C, by the day's screen, the vat's and the remedy."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands)
        hands.desk.record(ReadingTaken(Reading(temperature=Amount(47, "degC"), colour=Colour.YELLOW_GREEN)))
        await hands.later(90 * 60)
        await hands.to("dip")
        day = " ".join(hands.screen.split())
        await hands.press("v")
        await at(hands, "VatScreen")
        vat = " ".join(" ".join(line[:58] for line in hands.screen.splitlines()).split())
        hands.desk.record(ReadingTaken(Reading(temperature=Amount(40, "degC"))))
        await hands.later(90)
        assert "40 °C, reckoned since 40 °C" not in hands.screen
        await hands.press("enter")
        await at(hands, "MeaningScreen")
        remedy = " ".join(hands.screen.split())
        said = {
            found[1]
            for words in (day, vat, remedy)
            for found in re.finditer(r"(?:warm it|Back|Warm it) to (\d+) °C", words)
        }
        assert len(said) == 1
        assert said.pop() > "47"


async def test_a_vat_below_its_warmth_is_said_to_be_so_once(bench: Bench) -> None:
    """And once more by what brings it back."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands)
        hands.desk.record(TROUBLE)
        await hands.press("v")
        await at(hands, "VatScreen")
        said = " ".join(" ".join(line[:58] for line in hands.screen.splitlines()).split())
        assert "is below the 45 to 50 °C at which it works" in said
        assert "It is below" not in said
        assert "Back to" in said


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_a_caution_counts_as_read_once_its_last_line_was_seen(bench: Bench, size: tuple[int, int]) -> None:
    """Where it does not fit, Enter first shows the rest."""
    async with bench(size=size) as hands:
        await wool_day(hands)
        step = next(step for step in hands.desk.steps if step.id == "stock.alkali_in")
        last = step.cautions[-1].lines[-1].split()[-1]
        before = [one for one in hands.desk.steps if one.stage in (Stage.SCOUR, Stage.STOCK)]
        hands.desk.record(*(StepDone(one.id) for one in before[: before.index(step)]))
        await hands.to("stock")
        await hands.press("space")
        await at(hands, "CautionWindow")
        for _ in range(9):
            seen = last in hands.screen
            assert ("Enter I have read this" in hands.screen) is seen
            assert ("Enter read on" in hands.screen) is not seen
            await hands.press("enter")
            assert (step.id in hands.desk.state.done) is seen
            if seen:
                break
        else:
            pytest.fail("the cautions never came to an end")


async def test_nothing_is_called_a_scour_where_all_comes_ready_scoured(bench: Bench) -> None:
    """Neither over its notices nor over its figures, on the screen or in plain text, nor its pot."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        hands.desk.type("lots.a.condition", "ready scoured")
        hands.desk.leave()
        plan, sheet = hands.desk.plan, hands.desk.sheet
        heads = [line.strip() for line in plain_sheet.text(plan, sheet).splitlines()]
        assert "Wet out" in heads
        assert "Scour" not in heads
        notice = Notice(Stage.SCOUR, Weight.NOTE, "something")
        assert all_rows((notice,), plan, 60)[0].text == "Wet out"
        figures = figure_rows(sheet.of(Stage.SCOUR), plan, {}, 60, UNICODE, by_stage=True)
        assert [row.text.strip() for row in figures if row.spans and row.spans[0].role == "head"] == ["Wet out"]
        await hands.to("scour")
        await hands.press("enter")
        assert "Scour pot" not in hands.screen
        assert "▸Pot" in hands.screen
