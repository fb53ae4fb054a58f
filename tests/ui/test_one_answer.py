"""Head, stages, board and the vat's own screens give one answer to how the vat is, whatever was read."""

from __future__ import annotations

import pytest
from tests.ui.care_hands import at, begin_vat, said
from tests.ui.hands import Bench, Hands

from vatside.bench import dip_acts
from vatside.bench.vat_acts import outlook_of
from vatside.catalogue.looks import Clarity, Cloth, Colour, Strip, Surface
from vatside.dips.rotation import Do
from vatside.log.events.day import StepDone
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, ReadingTaken
from vatside.plan.sheet import Stage
from vatside.ui.day.screen import DayScreen
from vatside.units import Amount
from vatside.vat.reading import PHBy, Reading


def reading(celsius: float = 47, **more: object) -> Reading:
    """A reading by meter."""
    return Reading(temperature=Amount(celsius, "degC"), pH_by=PHBy.METER, **more)  # type: ignore[arg-type]


GOOD = reading(
    pH=9.3, colour=Colour.YELLOW_GREEN, clarity=Clarity.CLEAR, surface=Surface.COPPERY, strip=Strip.GREEN_YELLOW,
    seconds=60,
)  # fmt: skip
HOLD_BACK = {
    "too cold": reading(40),
    "warmer than the fibre": reading(58),
    "short of alkali": reading(pH=7.9),
    "too alkaline": reading(pH=10.6),
    "air got in": reading(pH=9.3, colour=Colour.BLUE, strip=Strip.BLUE),
    "short of reducer": reading(pH=9.3, colour=Colour.GREEN, clarity=Clarity.CLEAR, seconds=20),
    "grey and cloudy": reading(pH=9.3, colour=Colour.GREY, clarity=Clarity.CLOUDY),
}
"""Words of what is out of order, and a reading that shows it."""
ONLY_SAID = {"lime or sediment": reading(pH=9.3, colour=Colour.YELLOW_GREEN, cloth=(Cloth.DUST,))}


async def all_ticked(hands: Hands, taken: Reading, *, begun: bool = False) -> None:
    """Begin a vat (unless it is) whose steps are all done, up to the dips, and read it."""
    if not begun:
        await begin_vat(hands)
    before = [step for step in hands.desk.steps if step.stage in (Stage.SCOUR, Stage.STOCK, Stage.VAT)]
    hands.desk.record(*(StepDone(step.id) for step in before if step.id not in hands.desk.state.done))
    hands.desk.record(ReadingTaken(taken))
    hands.day.renew()
    await hands.settle()


def marks(hands: Hands, stage: str) -> bool:
    """Tell whether the tab of a stage carries a sign."""
    row = hands.screen.splitlines()[1]
    name = stage.upper() if stage.upper() in row else stage.capitalize()
    return "!" in row.split(name, 1)[1][:8]


@pytest.mark.parametrize("name", [*HOLD_BACK, *ONLY_SAID])
async def test_what_is_out_of_order_is_said_everywhere(bench: Bench, name: str) -> None:
    """In the head, on the tabs, on both stages, on the board, in the vat's meaning; nowhere is the vat ready.

    What holds dips back does so until it was put right and read again.
    """
    async with bench(size=(120, 40)) as hands:
        await all_ticked(hands, (HOLD_BACK | ONLY_SAID)[name])
        found = outlook_of(hands.desk).findings
        assert found[0].name.startswith(name)
        assert found[0].is_out
        for stage in ("vat", "dip"):
            await hands.to(stage)
            assert "vat not ready" in hands.screen
            assert "the vat is ready" not in hands.screen.splitlines()[0]
            assert marks(hands, "vat")
            assert marks(hands, "dip")
            assert name in said(hands)
        await hands.press("d")
        await at(hands, "DipScreen")
        assert name in said(hands)
        call = dip_acts.board(hands.desk, hands.clock.now()).call
        assert call.do is (Do.MEND if name in HOLD_BACK else Do.ENTER)
        assert ("PUT IN" in hands.screen) is (name in ONLY_SAID)
        if name in HOLD_BACK:
            await hands.press("space")
            await at(hands, "MeaningScreen")
            assert name in said(hands)
            await hands.press("escape", "escape")
            await at(hands, "DayScreen")
            await put_right_it_asks_for_a_reading_and_a_good_one_ends_it(hands)


async def test_the_plan_says_once_what_vat_and_dips_both_say(bench: Bench) -> None:
    """Its few rows of notices are of the whole day: one sentence takes one of them."""
    async with bench(size=(120, 40)) as hands:
        await all_ticked(hands, HOLD_BACK["short of reducer"])
        await hands.to("plan")
        assert hands.screen.count("The latest reading says short of reducer") == 1


async def put_right_it_asks_for_a_reading_and_a_good_one_ends_it(hands: Hands) -> None:
    """After a correction head and board ask to read again; a good reading makes the vat ready."""
    finding = outlook_of(hands.desk).findings[0].id
    hands.desk.record(CorrectionMade(finding=finding, remedy="by hand"))
    hands.day.renew()
    await hands.settle()
    assert "vat not ready: read it again" in hands.screen
    call = dip_acts.board(hands.desk, hands.clock.now()).call
    assert call.do is Do.READ
    assert call.why.endswith("; something was done since.")  # whether about this finding or about another
    hands.desk.record(ReadingTaken(GOOD))
    hands.day.renew()
    await hands.settle()
    assert "the vat is ready" in hands.screen
    assert dip_acts.board(hands.desk, hands.clock.now()).call.do is Do.ENTER


async def test_a_good_vat_is_ready_everywhere(bench: Bench) -> None:
    """No sign, no notice, no wait: who is next goes in."""
    async with bench(size=(120, 40)) as hands:
        await all_ticked(hands, GOOD)
        assert not outlook_of(hands.desk).findings[0].is_out
        assert hands.desk.notices == hands.desk.sheet.notices
        assert "the vat is ready" in hands.screen
        assert dip_acts.board(hands.desk, hands.clock.now()).call.do is Do.ENTER


async def test_a_dip_all_the_same_ends_the_holding_back_and_not_the_words(bench: Bench) -> None:
    """She said so: the board goes on; head and tabs still say what was read."""
    async with bench(size=(120, 40)) as hands:
        await all_ticked(hands, HOLD_BACK["too alkaline"])
        hands.clock.advance(60)
        piece = dip_acts.board(hands.desk, hands.clock.now()).call.piece
        assert piece is not None
        hands.desk.record(DipStarted(piece, 1))
        assert dip_acts.board(hands.desk, hands.clock.now()).call.do is not Do.MEND
        assert isinstance(hands.app.screen, DayScreen)
        hands.day.renew()
        await hands.settle()
        assert "vat not ready: too alkaline" in hands.screen


async def test_after_a_break_head_and_board_ask_for_the_same_reading(bench: Bench) -> None:
    """A vat that was good an hour ago is not called ready while the board asks to read it."""
    async with bench(size=(120, 40)) as hands:
        await all_ticked(hands, GOOD)
        await hands.long_later(60)
        hands.day.renew()
        await hands.settle()
        assert "vat not ready: read it first" in hands.screen
        assert dip_acts.board(hands.desk, hands.clock.now()).call.do is Do.READ


async def test_a_vat_that_cooled_by_the_clock_alone_is_ready_nowhere(bench: Bench) -> None:
    """40 minutes in 4 L take it from 47 °C below the 45 it works from: head, tabs, stages and board say so."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands, vessels__tub__volume="5 L", lots__a__mass="40 g")
        await all_ticked(hands, GOOD, begun=True)
        await hands.long_later(40)
        hands.day.renew()
        await hands.settle()
        for stage in ("vat", "dip"):
            await hands.to(stage)
            assert "vat not ready: too cold by the clock" in hands.screen
            assert marks(hands, "vat")
            assert marks(hands, "dip")
            assert "By the clock the vat is down to 4" in said(hands)
        assert dip_acts.board(hands.desk, hands.clock.now()).call.do is Do.READ
        await hands.press("d")
        await at(hands, "DipScreen")
        assert "PUT IN" not in hands.screen
        assert "it works from 45 °C" in said(hands)
        await hands.press("space")
        await at(hands, "ReadingScreen")
        hands.desk.record(ReadingTaken(GOOD))
        assert dip_acts.board(hands.desk, hands.clock.now()).call.do is Do.ENTER
        assert hands.desk.notices == hands.desk.sheet.notices


async def test_a_dip_into_a_cooled_vat_all_the_same_ends_the_holding_back(bench: Bench) -> None:
    """The next piece is called for; what was dipped while the vat was warm ends nothing."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands, vessels__tub__volume="5 L", lots__a__mass="40 g")
        await all_ticked(hands, GOOD, begun=True)
        hands.clock.advance(60)
        hands.desk.record(DipStarted("a.1", 5))
        hands.clock.advance(300)
        hands.desk.record(DipEnded("a.1", 15))
        await hands.long_later(35)
        assert dip_acts.board(hands.desk, hands.clock.now()).call.do is Do.READ
        hands.desk.record(DipStarted("a.2", 5))
        hands.clock.advance(300)
        hands.desk.record(DipEnded("a.2", 15))
        assert dip_acts.board(hands.desk, hands.clock.now()).call.do is Do.ENTER
        hands.day.renew()
        await hands.settle()
        assert "vat not ready: too cold by the clock" in hands.screen


async def test_an_old_reading_is_no_longer_how_the_vat_is(bench: Bench) -> None:
    """An hour later the pH read then is neither shown nor taken as true, and warming starts from what stands there."""
    async with bench(size=(120, 40)) as hands:
        await all_ticked(hands, reading(44, pH=10.6))
        found = outlook_of(hands.desk)
        assert found.measured_pH == pytest.approx(10.6)
        assert found.comparison is not None
        first = next(way for way in found.ways("too-cold") if way.litres)
        await hands.long_later(60)
        found = outlook_of(hands.desk)
        assert found.measured_pH is None
        assert found.comparison is None
        # from 44 °C three degrees are missing, an hour later about seven
        later = next(way for way in found.ways("too-cold") if way.litres)
        assert later.litres > 1.6 * first.litres
