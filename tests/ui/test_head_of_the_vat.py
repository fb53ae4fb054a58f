"""What keeps a vat from being ready whose steps are done."""

from __future__ import annotations

from tests.ui.care_hands import begin_vat, cotton_vat, take
from tests.ui.hands import Bench, Hands

from vatside.bench.commands import free_wait
from vatside.bench.evening_acts import keep_vat
from vatside.log.events.day import StepDone
from vatside.log.events.vat import VatLetGo, VatSpent
from vatside.plan.sheet import Stage
from vatside.ui.text.head_rows import vat_words
from vatside.units import Amount


def words(hands: Hands) -> str:
    """What stands in place of the vat being ready."""
    return vat_words(hands.desk.state, hands.desk.waits(hands.clock.now()), hands.desk.disorder(hands.clock.now()))


async def cold_vat(hands: Hands) -> None:
    """Begin a vat, read that it is too cold, and warm it as is proposed."""
    await begin_vat(hands)
    await take(hands, temperature="38")
    await hands.press("space")
    await hands.until(lambda: bool(hands.desk.state.waits))


async def test_a_vat_that_is_being_warmed_is_not_ready(bench: Bench) -> None:
    """While the wait of a correction runs the head names it; once its time is up it asks for a reading."""
    async with bench() as hands:
        await cold_vat(hands)
        (wait,) = hands.desk.state.waits
        assert words(hands) == f"vat not ready: {wait.label}"
        hands.clock.advance(wait.minutes * 60 + 1)
        assert words(hands) == "vat not ready: read it again"


async def test_a_wait_of_her_own_leaves_the_vat_ready(bench: Bench) -> None:
    """The kettle for tea says nothing about the vat."""
    async with bench() as hands:
        await cotton_vat(hands)
        hands.desk.record(free_wait("Tea", 5, hands.desk.state.seq + 1))
        assert words(hands) == ""


async def test_a_kept_vat_is_not_ready(bench: Bench) -> None:
    """Once the vat is kept for another day the head says that."""
    async with bench() as hands:
        await cotton_vat(hands)
        keep_vat(hands.desk, "")
        assert words(hands) == "the vat is kept"


async def test_a_vat_led_to_its_end_is_not_ready(bench: Bench) -> None:
    """A spent vat is spent; one that went down the drain is let go."""
    async with bench() as hands:
        await cotton_vat(hands)
        hands.desk.record(VatSpent())
        assert words(hands) == "the vat is spent"
        hands.desk.record(VatLetGo(Amount(20, "L"), 9.0, "", None, 8.0, "the drain"))
        assert words(hands) == "the vat is let go"


async def test_the_head_says_so(bench: Bench) -> None:
    """With every step of the vat done and its warming begun, the first line names the wait, not a ready vat."""
    async with bench() as hands:
        await cold_vat(hands)
        hands.desk.record(*(StepDone(step.id) for step in hands.desk.steps_in(Stage.VAT)))
        await hands.press("escape")
        await hands.later(1)
        assert "vat not ready: Warm vat at work" in hands.screen.splitlines()[0]


async def test_once_every_piece_is_dipped_the_head_speaks_of_the_pieces(bench: Bench) -> None:
    """The dips ticked, nobody asks whether the vat is ready, however cold it has become the day after."""
    async with bench() as hands:
        await cotton_vat(hands)
        hands.desk.record(StepDone("dip.rotate"))
        assert words(hands) == "every piece is dipped"
