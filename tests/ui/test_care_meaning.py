"""What a reading means on the screen, and one key that puts it right."""

from __future__ import annotations

import pytest
from tests.ui.care_hands import SHORT_OF_REDUCER, account, at, begin_vat, cotton_vat, fill, said, take
from tests.ui.hands import Bench, Hands

from vatside.log.events.vat import CorrectionMade, PHTrusted

SIZES = [(60, 20), (80, 24), (120, 40)]


def made(hands: Hands) -> list[CorrectionMade]:
    """The corrections of the log."""
    return [item.event for item in hands.desk.state.tending.corrections]


async def find(hands: Hands, finding: str) -> None:
    """Choose a finding with the arrows."""
    lines = hands.app.screen.parts["findings"]  # type: ignore[attr-defined]
    while lines.key != finding:
        before = lines.key
        await hands.press("down")
        assert lines.key != before, f"no {finding} on the screen"


async def through_cautions(hands: Hands, most: int = 6) -> None:
    """Read every caution that stands before the act, the tub of reducer too, until it is done."""
    for _ in range(most):
        await hands.settle()
        if type(hands.app.screen).__name__ in ("CautionWindow", "TubWindow"):
            await hands.read_on()
    await at(hands, "MeaningScreen")


@pytest.mark.parametrize("size", SIZES)
async def test_one_key_puts_it_right(bench: Bench, size: tuple[int, int]) -> None:
    """Space and the caution's Enter log the reducer as proposed and start its wait."""
    async with bench(size=size) as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        assert "short of reducer" in hands.screen
        await hands.press("space")
        await through_cautions(hands)
        lye, event = made(hands)
        assert lye.material == "lye"
        [wait] = hands.desk.state.waits
        assert (event.finding, event.material) == ("short-of-reducer", "thiourea-dioxide")
        assert event.amount is not None
        assert f"{event.amount.value:g} g" in said(hands)
        assert (wait.label, wait.minutes) == ("Reducer at work", 20)
        assert "caution_acknowledged" in hands.kinds


async def test_the_first_thing_is_the_warmth(bench: Bench) -> None:
    """Cold, off in pH and green: the temperature stands first, then the pH, then the reducer."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="34", pH="12.4", colour="gr", strip="bluish", seconds="15")
        places = [hands.screen.index(word) for word in ("too cold", "too alkaline", "short of reducer")]
        assert places == sorted(places)


async def test_signs_for_and_against_and_how_sure(bench: Bench) -> None:
    """The chosen finding shows its signs, and how well they fit in words."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        assert "almost surely" in hands.screen
        assert "strip turns in 15 s" in said(hands).split("What it is")[1]


@pytest.mark.parametrize("size", SIZES)
async def test_a_doubtful_pH_is_read_again_first(bench: Bench, size: tuple[int, int]) -> None:
    """Far from the account: space puts a sample to cool and starts its wait; nothing goes into the vat."""
    async with bench(size=size) as hands:
        await cotton_vat(hands)
        before = account(hands)
        await take(hands, temperature="45", pH="9")
        await find(hands, "short-of-alkali")
        assert "Read the pH once more" in hands.screen
        await hands.press("space")
        [wait] = hands.desk.state.waits
        assert wait.label == "pH sample cooling"
        assert account(hands) == before
        await hands.long_later(11)
        await hands.press("r")
        await at(hands, "ReadingScreen")
        await fill(hands, temperature="45", pH="9")
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        await find(hands, "short-of-alkali")
        assert "Read the pH once more" not in hands.screen
        assert hands.desk.state.waits == ()


async def test_it_says_how_and_what_to_try_first(bench: Bench) -> None:
    """How it goes in, the wait, the half litre to try it on, all on the screen."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        for words in ("Dry scoop", "20 min", "Half a litre of the vat in a jar", "stay dry and cool"):
            assert words in said(hands)


async def test_another_amount_as_typed(bench: Bench) -> None:
    """Enter asks for the amount that really went in, in grams or spoons."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        await hands.press("enter")
        await at(hands, "AskWindow")
        await hands.press("ctrl+u")
        await hands.write("1/2 tsp")
        await hands.press("enter")
        await at(hands, "CautionWindow")
        await hands.read_on()
        await at(hands, "TubWindow")
        assert "1/2 tsp of reducer" in hands.screen
        await hands.read_on()
        _, event = made(hands)
        assert event.amount is not None
        assert (event.amount.value, event.amount.unit) == (0.5, "tsp")


async def test_a_slip_of_the_keyboard_is_told(bench: Bench) -> None:
    """A hundred times the dose is not taken; the window says why and waits."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        await hands.press("enter")
        await at(hands, "AskWindow")
        await hands.press("ctrl+u")
        await hands.write("150 g")
        await hands.press("enter")
        assert "times what was worked out" in hands.screen
        assert made(hands) == []


async def test_a_damp_tub_is_refused(bench: Bench) -> None:
    """`1` says that the tub is damp: nothing goes in, and the reason stands there."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        await hands.press("space")
        await at(hands, "CautionWindow")
        await hands.read_on()
        await at(hands, "TubWindow")
        await hands.press("1")
        assert "can catch fire" in hands.screen
        await hands.press("enter")
        await at(hands, "MeaningScreen")
        assert made(hands) == []


async def test_the_next_reading_says_whether_it_helped(bench: Bench) -> None:
    """After the wait a good reading says that it helped, and the wait is over with it."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        await hands.press("space")
        await through_cautions(hands)
        await hands.long_later(21)
        await hands.press("r")
        await at(hands, "ReadingScreen")
        await fill(hands, temperature="46", colour="am", clarity="cl", surface="co", strip="green", seconds="50")
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        assert "It helped: short of reducer no longer" in said(hands)
        assert hands.desk.state.waits == ()


async def test_nothing_changed_is_said_too(bench: Bench) -> None:
    """The same signs again: nothing changed."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        await hands.press("space")
        await through_cautions(hands)
        await hands.long_later(21)
        await hands.press("r")
        await at(hands, "ReadingScreen")
        await fill(hands, **SHORT_OF_REDUCER)
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        assert "Nothing changed: still short of reducer" in said(hands)


async def test_it_helped_is_said_once(bench: Bench) -> None:
    """Short again an hour later: that it helped then is not said of the new reading."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        await hands.press("space")
        await through_cautions(hands)
        await hands.press("escape")
        await at(hands, "DayScreen")
        await hands.long_later(21)
        await take(hands, temperature="46", colour="am", clarity="cl", surface="co", strip="green", seconds="50")
        await hands.press("escape")
        await hands.long_later(60)
        await take(hands, **SHORT_OF_REDUCER)
        assert "helped" not in hands.screen


async def test_what_was_done_is_marked(bench: Bench) -> None:
    """Once done, the finding says so until the next reading."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        await hands.press("space")
        await through_cautions(hands)
        await hands.later(7)
        assert "done" in hands.screen
        assert "of reducer (short of reducer)" in said(hands)


async def test_what_was_given_is_not_asked_for_twice(bench: Bench) -> None:
    """Below what is done stands that the vat is read before any more of it."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        assert "read again before" not in said(hands)
        await hands.press("space")
        await through_cautions(hands)
        assert "read again before the next thing" in said(hands)


async def test_another_way_waits_for_what_was_given(bench: Bench) -> None:
    """Once alkali went in by one way, the other ways to put the same pH right say to read again first."""
    async with bench() as hands:
        await begin_vat(hands)
        await take(hands, temperature="47", pH="8", colour="yel")
        await find(hands, "short-of-alkali")
        await hands.press("left")
        assert "repeat by the pH" in said(hands)
        await hands.press("space")
        await through_cautions(hands)
        assert [event.remedy for event in made(hands)] == ["soda"]
        while "to pH" not in said(hands):
            await hands.press("right")
        assert "read again before the next thing" in said(hands)


async def test_one_thing_at_a_time(bench: Bench) -> None:
    """Once something was done, the next finding says to let it work and read again first."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="34", colour="gr", strip="bluish", seconds="15")
        await hands.press("space")
        await find(hands, "short-of-reducer")
        assert "let it work, and read again" in said(hands)


async def test_undo_takes_the_correction_and_its_wait_back(bench: Bench) -> None:
    """One `u` and the account is as before."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, **SHORT_OF_REDUCER)
        before = account(hands)
        await hands.press("space")
        await at(hands, "CautionWindow")
        await hands.read_on()
        await at(hands, "TubWindow")
        await hands.later(1)
        await hands.read_on()
        await at(hands, "MeaningScreen")
        assert account(hands) != before
        await hands.later(1)
        await hands.press("u")
        assert account(hands) == before
        assert hands.desk.state.waits == ()


async def test_kettle_water_or_a_hot_bath(bench: Bench) -> None:
    """Two ways to warm it: right turns to the bath, which adds nothing to the vat."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="35")
        assert "kettle water" in hands.screen
        water = account(hands).bath.water_kg
        await hands.press("right")
        assert "2 of 2: a hot bath" in hands.screen
        await hands.press("space")
        [event] = made(hands)
        assert (event.finding, event.water) == ("too-cold", None)
        assert account(hands).bath.water_kg == water
        assert account(hands).celsius > 40
        assert [wait.label for wait in hands.desk.state.waits] == ["Warm vat at work"]


async def test_kettle_water_warms_and_thins_the_account(bench: Bench) -> None:
    """Done with kettle water, the account is warmer and weaker."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="35")
        before = account(hands)
        await hands.press("space")
        after = account(hands)
        assert after.celsius > before.celsius + 5
        assert after.strength < before.strength


async def test_acid_into_a_living_vat_is_refused_in_words(bench: Bench) -> None:
    """Vinegar for a wool vat that is too alkaline: refused with the reason; only saying so twice does it."""
    async with bench() as hands:
        await begin_vat(hands)
        await take(hands, temperature="47", pH="10.6", pH_by="m")
        await find(hands, "too-alkaline")
        while "vinegar" not in hands.screen.split("What to do")[1].splitlines()[0]:
            await hands.press("right")
        assert "sulphur dioxide" in hands.screen
        await hands.press("space")
        await at(hands, "InsistWindow")
        await hands.press("enter")
        await at(hands, "MeaningScreen")
        assert made(hands) == []
        await hands.press("space")
        await at(hands, "InsistWindow")
        await hands.press("y")
        assert "once more" in hands.screen
        await hands.press("y")
        await at(hands, "CautionWindow")
        await hands.read_on()
        assert len(made(hands)) == 1
        assert "done_all_the_same" in hands.kinds


async def test_the_measured_pH_is_taken_as_true(bench: Bench) -> None:
    """A pH that does not fit is told with what could explain it; `m` puts the account right."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await take(hands, temperature="45", pH="10.5", pH_by="m")
        assert "they disagree" in hands.screen
        await find(hands, "@pH")
        assert "carbonate" in said(hands)
        await hands.press("m")
        assert isinstance(hands.desk.state.entries[-1].event, PHTrusted)
        await hands.until(lambda: "they agree" in hands.screen)


async def test_the_picture_of_the_window_in_words_too(bench: Bench) -> None:
    """With a pH that is out, the scale says where the vat stands."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands)
        await take(hands, temperature="47", pH="11.4", pH_by="m")
        await find(hands, "too-alkaline")
        beside = " ".join(" ".join(line[60:] for line in hands.screen.splitlines()).split())
        assert "1.6 above the 8.5 to 9.8 that wool likes" in beside
        assert "worked out" in beside


async def test_a_good_vat_is_left_alone(bench: Bench) -> None:
    """All signs good: ready to dye, and neither space nor an amount has anything to do."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="46", colour="am", clarity="cl", surface="co", strip="green", seconds="50")
        assert "good: ready to dye" in hands.screen
        for key in ("space", "enter"):
            await hands.press(key)
            assert "nothing to do here" in hands.screen
        assert made(hands) == []


async def test_what_was_typed_is_no_markup(bench: Bench) -> None:
    """A day called like markup stands on the screen as typed."""
    async with bench() as hands:
        await begin_vat(hands, title="[b]vat[/b]")
        await hands.press("v")
        await at(hands, "VatScreen")
        assert "[b]vat[/b]" in hands.screen


async def test_a_pH_taken_as_true_is_still_put_right(bench: Bench) -> None:
    """PH 7.6 in a vat for hair, among looks that say something else: `m` moves the account, alkali is next."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands, lots__a__fibre="alpaca or mohair")
        await take(hands, pH="7.6", colour="bright", clarity="clo", surface="co", strip="stays", bottom="blue")
        assert hands.app.screen.way.does == "confirm"  # type: ignore[attr-defined]
        await hands.press("m")
        way = hands.app.screen.way  # type: ignore[attr-defined]
        assert (way.finding, way.does) == ("short-of-alkali", "to window")
        await hands.later(6)
        await hands.press("m")
        assert "The two agree: the account stands as it was read. It is still short of alkali" in said(hands)


async def test_one_key_gives_reducer_and_its_soda(bench: Bench) -> None:
    """Three powders of one order go in by one key, with one wait, and one key takes them back."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands, method="dithionite-soda", lots__a__fibre="wool")
        await take(hands, temperature="47", colour="gr", clarity="cl", strip="bluish", seconds="15")
        assert "of 3" not in hands.screen
        assert "First" in hands.screen
        await hands.press("space")
        await through_cautions(hands)
        given = [event.material for event in made(hands)]
        assert given[:2] == ["soda-ash", "baking-soda"]
        assert len(given) == 3
        assert len(hands.desk.state.waits) == 1
