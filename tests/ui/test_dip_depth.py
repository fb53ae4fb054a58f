"""Depth as a picture: the ladder on the plan, and the colour that came out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.ui.hands import Bench, Hands, of_wool, wool_day

from vatside.bench import depths
from vatside.bench.depths import Ladder
from vatside.bench.desk import Desk
from vatside.dips.depth import swatches
from vatside.log.colours import swatches_of
from vatside.log.events.vat import DipEnded, DipStarted, SwatchRecorded, UptakeLearned
from vatside.plan.measures import fibre_of
from vatside.ui.dips.dip_rows import ladder_rows
from vatside.ui.dips.ladder import ColourWindow, LadderWindow
from vatside.ui.text.rows import ASCII, UNICODE
from vatside.units import Amount

NAMES = ["very pale", "pale", "light", "medium", "full", "dark", "very dark", "near black"]


def ladder(hands: Hands, *, painted: bool) -> Ladder:
    """The ladder of the first lot, dark set."""
    fibre = fibre_of(hands.desk.plan.lots[0])
    steps = swatches(fibre)
    return Ladder("wool", steps, steps[5], "an estimate: no result of yours yet", painted)


async def depth_field(hands: Hands) -> None:
    """Begin a day and put the cursor on the depth of its lot."""
    await wool_day(hands)
    await hands.press("escape")
    await hands.field("lots.a.depth")
    await hands.later(1)


async def test_the_ladder_stands_beside_the_depth(bench: Bench) -> None:
    """While the depth has the cursor, every step stands there by name and number, and the one that is set is marked."""
    async with bench() as hands:
        await depth_field(hands)
        for name in NAMES:
            assert name in hands.screen
        assert "estimate" in hands.screen
        line = next(line for line in hands.screen.splitlines() if line.endswith("set") or "  set " in line)
        assert "medium" in line
        assert "0.8 %" in line


async def test_the_mark_goes_with_what_is_typed(bench: Bench) -> None:
    """A depth between two steps gets a rung of its own while it is typed."""
    async with bench() as hands:
        await depth_field(hands)
        await hands.write("2.4 %")
        await hands.later(1)
        line = next(line for line in hands.screen.splitlines() if line.rstrip().endswith("set"))
        assert "2.4 %" in line
        assert "▸" in line


async def test_other_fields_show_the_figures(bench: Bench) -> None:
    """With the cursor elsewhere the figures are back."""
    async with bench() as hands:
        await depth_field(hands)
        await hands.press("down")
        await hands.later(1)
        assert "near black   4.5" not in hands.screen
        assert "Indigo powder" in hands.screen


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_a_depth_is_chosen_from_the_ladder(bench: Bench, size: tuple[int, int]) -> None:
    """`=` on the depth opens the ladder; down and Enter set the next step, `u` takes it back."""
    async with bench(size=size) as hands:
        await depth_field(hands)
        await hands.press("=")
        assert isinstance(hands.app.screen, LadderWindow)
        assert "near black" in hands.screen
        await hands.press("down", "enter")
        depth = hands.desk.state.plan.lots[0].depth
        assert depth is not None
        assert depth.value == 1.4
        assert next(entry.value for entry in hands.day.form.entries if entry.path == "lots.a.depth") == "1.4 %"
        await hands.press("escape", "u")
        assert hands.desk.state.plan.lots[0].depth != depth


async def test_escape_leaves_the_depth(bench: Bench) -> None:
    """The arrows alone set nothing."""
    async with bench() as hands:
        await wool_day(hands)
        before = hands.kinds
        await hands.press("escape", "d", "down", "down", "escape")
        assert hands.kinds == before


async def test_a_depth_that_cannot_be_is_not_taken(bench: Bench) -> None:
    """Nonsense is answered in words and Enter does not take it."""
    async with bench() as hands:
        await wool_day(hands)
        before = hands.kinds
        await hands.press("escape", "d")
        await hands.write("blue")
        await hands.press("enter")
        assert isinstance(hands.app.screen, LadderWindow)
        await hands.press("escape")
        assert hands.kinds == before


async def test_with_true_colour_the_swatches_are_painted(bench: Bench) -> None:
    """Each step has its own colour behind it, darker from step to step."""
    async with bench() as hands:
        await wool_day(hands)
        rows = ladder_rows(ladder(hands, painted=True), 40, UNICODE)
        colours = [span.role for row in rows for span in row.spans if span.role.startswith("on #")]
        assert len(set(colours)) == len(NAMES)
        light = [sum(int(colour[start : start + 2], 16) for start in (4, 6, 8)) for colour in colours]
        assert light == sorted(light, reverse=True)


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
async def test_without_true_colour_words_and_numbers_say_it(bench: Bench, signs: object) -> None:
    """No colour at all: the words, the numbers and a bar that grows."""
    async with bench() as hands:
        await wool_day(hands)
        rows = ladder_rows(ladder(hands, painted=False), 40, ASCII if signs is ASCII else UNICODE)
        assert not any(span.role.startswith("on ") for row in rows for span in row.spans)
        bars = [row.spans[2].text.rstrip() for row in rows[: len(NAMES)]]
        assert [len(bar) for bar in bars] == sorted(len(bar) for bar in bars)
        assert all(name in row.text for name, row in zip(NAMES, rows, strict=False))


async def record(hands: Hands, text: str) -> None:
    """Record the colour of the first lot."""
    await hands.to("finish")
    await hands.press("g")
    assert isinstance(hands.app.screen, ColourWindow)
    await hands.write(text)
    await hands.press("enter")


@pytest.mark.parametrize("text", ["medium", "0.8 %", "medium 4 darker", "35.2 -2.1 -20"])
async def test_a_colour_is_recorded_in_each_way(bench: Bench, text: str) -> None:
    """Picked, graded or measured, what came out goes into the log."""
    async with bench() as hands:
        await wool_day(hands)
        await record(hands, text)
        assert list(swatches_of(hands.desk.state)) == ["a"]
        assert "Colour of Wool skeins" in hands.screen


async def test_a_recorded_colour_is_told_again(bench: Bench) -> None:
    """Asked once more, the window says what was recorded, and the ladder rests on it."""
    async with bench() as hands:
        await wool_day(hands)
        await record(hands, "pale")
        await hands.press("g")
        words = " ".join(hands.screen.split())
        assert "Recorded: 0.2 %" in words


async def test_a_picked_step_can_be_graded(bench: Bench) -> None:
    """The arrows write a step; typing on adds its grade."""
    async with bench() as hands:
        await wool_day(hands)
        await hands.to("finish")
        await hands.press("g", "down", "down")
        await hands.write(" 4 darker")
        await hands.press("enter")
        assert len(swatches_of(hands.desk.state)) == 1


async def test_a_piece_can_be_recorded_alone(bench: Bench) -> None:
    """Tab goes from the lot to its pieces."""
    async with bench() as hands:
        await wool_day(hands)
        await hands.to("finish")
        await hands.press("g", "tab")
        await hands.write("dark")
        await hands.press("enter")
        assert list(swatches_of(hands.desk.state)) == ["a.1"]


async def test_words_that_are_no_colour_are_kept_and_explained(bench: Bench) -> None:
    """The window stays, and says how a colour is written."""
    async with bench() as hands:
        await wool_day(hands)
        await record(hands, "quite nice")
        assert isinstance(hands.app.screen, ColourWindow)
        assert "quite nice" in hands.screen
        assert "Write L* a* b*" in hands.screen
        assert not swatches_of(hands.desk.state)


async def test_a_lot_named_like_markup_is_shown_as_typed(bench: Bench) -> None:
    """The ladder shows a lot's name letter by letter."""
    async with bench() as hands:
        await wool_day(hands)
        hands.desk.type("lots.a.name", "[red]x[/red]")
        hands.desk.settle()
        await hands.press("escape", "d")
        assert "[red]x[/red]" in hands.screen


async def test_the_dips_go_by_own_results(bench: Bench) -> None:
    """Without a result nothing changes; after a dip and a colour `m` lets what the fibre takes go by it."""
    async with bench() as hands:
        await wool_day(hands)
        await hands.to("dip")
        await hands.press("d", "m")
        assert "No result" in hands.screen
        hands.desk.record(DipStarted("a.1", 10))
        await hands.later(601)
        hands.desk.record(DipEnded("a.1", 15))
        await hands.press("g")
        if "Wool skeins 1, dry" not in hands.screen:
            await hands.press("shift+tab")
        await hands.write("very pale")
        await hands.press("enter")
        usual = hands.desk.sheet["dip.a.factor"].value
        await hands.press("m")
        assert hands.desk.sheet["dip.a.factor"].value != usual
        assert [(item.group, item.results) for item in hands.desk.state.plan.learned] == [("protein", 1)]
        logged = len(hands.desk.state.entries)
        await hands.press("m")
        assert "The dips go by your own results already" in hands.screen
        assert len(hands.desk.state.entries) == logged


def dip_and_record(hands: Hands) -> None:
    """Dip one piece for ten minutes and record what it came out."""
    hands.desk.record(DipStarted("a.1", 10))
    hands.clock.advance(600)
    hands.desk.record(DipEnded("a.1", 15), SwatchRecorded("a.1", step=Amount(0.4, "%")))


async def test_own_results_are_told_by_the_lots_name(bench: Bench) -> None:
    """`m` names the dyer's lot, what it takes and how the dips change, and no group of fibres."""
    async with bench() as hands:
        await wool_day(hands)
        dip_and_record(hands)
        await hands.to("dip")
        await hands.press("d", "m")
        words = " ".join(hands.screen.split())
        assert "By your own results: Wool skeins takes" in words
        assert "(one result of your own" in words
        assert "protein" not in words


async def test_results_of_earlier_days_count(bench: Bench, tmp_path: Path) -> None:
    """A new day in the same folder goes from its start by what was recorded on the one before."""
    folder = tmp_path / "days"
    async with bench(folder=folder) as hands:
        await wool_day(hands)
        assert hands.desk.sheet["dip.a.factor"].value == 100
        dip_and_record(hands)
        hands.desk.keeping.close()
    async with bench(folder=folder) as hands:
        await wool_day(hands)
        assert [(item.group, item.results) for item in hands.desk.plan.learned] == [("protein", 1)]
        assert hands.desk.sheet["dip.a.factor"].value != 100


async def test_a_copied_day_counts_once(bench: Bench, tmp_path: Path) -> None:
    """A day and a copy of its file in the folder hold one result between them; nothing was dipped on the new day."""
    folder = tmp_path / "days"
    async with bench(folder=folder) as hands:
        await wool_day(hands)
        dip_and_record(hands)
        path = hands.desk.keeping.path
        hands.desk.keeping.close()
    assert path is not None
    shutil.copy(path, path.with_name(f"copy-{path.name}"))
    async with bench(folder=folder) as hands:
        await wool_day(hands)
        assert [item.results for item in hands.desk.plan.learned] == [1]
        assert "go by your own results already" in depths.go_by_own(hands.desk, folder)


async def test_what_is_on_the_pieces_stays_and_is_said_to(bench: Bench) -> None:
    """`m` changes the dips to come; the account of the dips that were had stands, and the sentence says so."""
    async with bench() as hands:
        await wool_day(hands)
        dip_and_record(hands)
        before = hands.desk.state.dipping.pieces["a.1"].on
        said = depths.go_by_own(hands.desk, hands.app.folder)
        assert "What is on the pieces already stays as worked out before." in said
        assert hands.desk.state.dipping.pieces["a.1"].on == before


async def test_one_dip_in_place_of_several_is_no_dips(bench: Bench, tmp_path: Path) -> None:
    """Where the own result of an earlier day leaves a pale lot a single dip, the sentence counts 1 dip, not dips.

    By the table the first dip falls just short of the 95 % of 0.4 % that count as reached; with the result it does not.
    """
    folder = tmp_path / "days"
    async with bench(folder=folder) as hands:
        await wool_day(hands)
        dip_and_record(hands)
        hands.desk.keeping.close()
    async with bench(folder=folder) as hands:
        await wool_day(hands)
        for path, text in (("lots.a.pieces", "1"), ("lots.a.depth", "0.4 %"), ("stock.pigment", "40 g")):
            hands.desk.type(path, text)
            hands.desk.settle()
        hands.desk.record(UptakeLearned(()))
        assert hands.grams("dip.a.dips") == 2
        said = depths.go_by_own(hands.desk, folder)
        assert hands.grams("dip.a.dips") == 1
        assert ", 1 dip instead of 2" in said


async def test_a_colour_stands_among_the_figures_of_the_finish(bench: Bench) -> None:
    """Recorded with `g`, it shows beside what the scale says."""
    async with bench(size=(120, 60)) as hands:
        await wool_day(hands)
        await record(hands, "light; like the sea")
        assert "Colour: light" in hands.screen
        assert hands.kinds[-2:] == ["swatch_recorded", "colour_noted"]


async def test_the_weight_when_dry_gives_the_true_gain(bench: Bench) -> None:
    """227 g before and 230 g after are a gain of 1.3 % on the weight of fibre."""
    async with bench() as hands:
        await wool_day(hands)
        await hands.to("finish")
        await hands.field("finish.before.a")
        await hands.write("227 g")
        await hands.press("down")
        await hands.write("230 g")
        await hands.press("enter")
        assert hands.grams("finish.gain.a") == pytest.approx(100 * 3 / 227)


async def test_all_of_the_window_of_a_colour_is_seen_in_the_smallest_window(bench: Bench) -> None:
    """At 60 by 20 the eight steps, what they rest on and the keys have room."""

    def of_cotton(desk: Desk) -> None:
        of_wool(desk)
        desk.type("lots.a.fibre", "cotton")

    async with bench(size=(60, 20)) as hands:
        await hands.begin(of_cotton, "finish")
        await hands.press("g")
        assert "near black" in hands.screen
        assert "yours yet." in hands.screen
        assert "Enter yes" in hands.screen
        assert "Esc no" in hands.screen
