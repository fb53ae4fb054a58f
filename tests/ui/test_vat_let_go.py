"""What is shown of a vat that is no more."""

from __future__ import annotations

from pathlib import Path

from tests.ui.care_hands import at, cotton_vat, said
from tests.ui.hands import STANDS, Bench, of_wool

from vatside.bench import dip_view
from vatside.bench.desk import Desk
from vatside.log.events.day import PinSet, StepDone
from vatside.log.events.vat import DipEnded, DipStarted, ReadingTaken, VatLetGo, VatMade, VatSpent
from vatside.storage.places import samples_folder
from vatside.units import Amount
from vatside.vat.reading import Reading


async def test_a_vat_that_was_let_go_has_no_strength(bench: Bench, tmp_path: Path) -> None:
    """The board of a finished day has nothing left in the vat, as its sheet has."""
    path = tmp_path / "sessions" / "day.json"
    path.parent.mkdir()
    path.write_bytes((samples_folder() / "finished-day.json").read_bytes())
    async with bench(file=path) as hands:
        assert dip_view.strength(hands.desk) == hands.desk.sheet["dip.now"].value == 0


async def test_the_last_step_asks_where_the_vat_went(bench: Bench) -> None:
    """Ticked in the list, the pouring off is not written down yet: the sentence says by which keys."""

    def log(desk: Desk) -> None:
        desk.record(PinSet("finish.keep", Amount(0, "min")), VatMade(), VatSpent())
        desk.record(*(StepDone(step.id) for step in desk.steps if step.id != "finish.drain"))
        desk.record(ReadingTaken(Reading(Amount(20, "degC"), 8.0)))

    async with bench() as hands:
        await hands.begin(log, "finish")
        await hands.press("space")
        assert "finish.drain" in hands.desk.state.done
        assert "x writes down where it went" in hands.screen


async def test_the_dye_of_an_oxidised_vat_is_blue(bench: Bench) -> None:
    """Nothing of it is said to be dissolved and to go on well."""
    async with bench() as hands:
        await cotton_vat(hands)
        hands.desk.record(VatSpent())
        await hands.press("v")
        await at(hands, "VatScreen")
        assert "all of it blue" in said(hands)
        assert "goes on best" not in said(hands)


async def test_a_vat_that_was_let_go_is_neither_kept_nor_looked_at(bench: Bench, tmp_path: Path) -> None:
    """No key makes a vat of 5 litres stand in the list of days again that went down a drain."""
    path = tmp_path / "sessions" / "day.json"
    path.parent.mkdir()
    path.write_bytes((samples_folder() / "finished-day.json").read_bytes())
    async with bench(file=path) as hands:
        await hands.press("o", "v")
        assert "let go: there is nothing to keep" in hands.screen
        await hands.press("v", "enter")
        assert "This vat was let go" in hands.screen
        assert "Look next" not in hands.screen
        await hands.press("h")
        assert "no vat yet" not in hands.screen


async def test_a_spent_vat_is_read_by_what_it_may_be_let_go_at(bench: Bench) -> None:
    """40 CFR 420 has pH 6 to 9 for what is let go; what cotton likes is past, and nothing is dipped to look at it."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        hands.desk.record(VatSpent(), ReadingTaken(Reading(Amount(20, "degC"), 8.6)))
        await hands.press("v")
        await at(hands, "VatScreen")
        assert "within the 6 to 9 at which it may be let go" in said(hands)
        assert "likes" not in said(hands)
        await hands.press("enter")
        await at(hands, "MeaningScreen")
        assert "Look next" not in said(hands)


async def test_nothing_is_to_be_dipped_in_a_vat_that_was_let_go(bench: Bench) -> None:
    """A piece that had one dip of its planned ones had its last."""

    def log(desk: Desk) -> None:
        of_wool(desk, 1)
        desk.record(*STANDS, DipStarted("a.1", 10))

    async with bench() as hands:
        await hands.begin(log, "dip")
        hands.clock.advance(600)
        hands.desk.record(DipEnded("a.1", 15))
        assert hands.grams("dip.all_entries") > 0
        hands.desk.record(VatLetGo(Amount(20, "L"), 8.0, "", None, 8.0, "the town's works"))
        assert hands.grams("dip.all_entries") == 0
        assert hands.grams("dip.minutes") == 0
