"""The vat's account and history on the screen, and its warmth."""

from __future__ import annotations

import re

import pytest
from tests.ui.care_hands import account, at, begin_vat, cotton_vat, fill, said, take
from tests.ui.hands import Bench, Hands

from vatside.log.events.vat import CorrectionMade
from vatside.units import Amount

SIZES = [(60, 20), (80, 24), (120, 40)]


async def read_and_go_back(hands: Hands, **rows: str) -> None:
    """Take a reading and go back to the day."""
    await take(hands, **rows)
    await hands.press("escape")
    await at(hands, "DayScreen")


async def open_vat(hands: Hands) -> None:
    """Open the view of the vat."""
    await hands.press("v")
    await at(hands, "VatScreen")


def account_side(hands: Hands) -> str:
    """The account as one line of words, without the history that may stand beside it."""
    width = hands.app.size.width
    shown = width if width < 80 else width // 2
    return " ".join(" ".join(line[:shown] for line in hands.screen.splitlines()).split())


@pytest.mark.parametrize("size", SIZES)
async def test_both_pH_are_labelled(bench: Bench, size: tuple[int, int]) -> None:
    """The pH at the temperature of the vat and at 25 °C, and the shares of the dye in whole percents."""
    async with bench(size=size) as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        sheet = hands.desk.sheet
        warm, cool = sheet.value("vat.pH"), sheet.value("vat.pH_25")
        assert f"{warm:.1f} at {sheet.value('vat.temperature'):.0f} °C {cool:.1f} at 25 °C" in said(hands)
        assert "goes on best" in account_side(hands)


@pytest.mark.parametrize("size", SIZES)
async def test_the_window_in_a_picture_and_in_words(bench: Bench, size: tuple[int, int]) -> None:
    """The scale runs from pH 8 to 13, and a sentence says what it shows."""
    async with bench(size=size) as hands:
        await begin_vat(hands)
        await open_vat(hands)
        assert any(line.split()[:6] == ["8", "9", "10", "11", "12", "13"] for line in hands.screen.splitlines())
        assert "that wool likes (best 9.3)" in account_side(hands)


async def test_as_planned_until_it_is_made(bench: Bench) -> None:
    """Before the stock is in, the account says that it is the plan's."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("vat")
        await open_vat(hands)
        assert "As planned: the account begins" in said(hands)
        await hands.press("h")
        assert "There is no vat yet" in said(hands)


async def test_two_readings_tell_when_it_leaves_its_window(bench: Bench) -> None:
    """From 47 to 45 °C in half an hour: a rate with its uncertainty, and when it will be too cold."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await read_and_go_back(hands, temperature="47")
        await hands.long_later(30)
        await read_and_go_back(hands, temperature="45")
        await open_vat(hands)
        assert "°C an hour now (±" in said(hands)
        assert "It falls below the 40 °C" in said(hands)


async def test_a_reading_does_not_count_against_what_went_in_after_it(bench: Bench) -> None:
    """A pH of 9.9 disagrees with the account until lye goes in; then it is to be read again."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await read_and_go_back(hands, temperature="47", pH="9.9", pH_by="m")
        await open_vat(hands)
        assert "They disagree" in said(hands)
        hands.desk.record(CorrectionMade(material="lye", amount=Amount(6, "g")))
        hands.app.screen.renew()  # type: ignore[attr-defined]
        await hands.settle()
        assert "They disagree" not in said(hands)
        await hands.press("m")
        assert "Something went in since that reading" in said(hands)


async def test_a_call_before_it_is_cold(bench: Bench) -> None:
    """`k` starts a wait that ends when the vat may be leaving its warmth, by the usual rate before its own is known."""
    async with bench() as hands:
        await cotton_vat(hands)
        await hands.later(1)
        await open_vat(hands)
        await hands.press("k")
        assert "it calls when that may be so" in said(hands)
        await hands.press("u", "escape")
        await read_and_go_back(hands, temperature="47")
        await hands.long_later(30)
        await read_and_go_back(hands, temperature="45")
        await open_vat(hands)
        await hands.press("k")
        [wait] = hands.desk.state.waits
        assert wait.label == "Vat down to 40 °C"
        assert 30 < wait.minutes < 120


async def test_kettle_water_and_what_it_costs(bench: Bench) -> None:
    """The view says how much hot water brings it back and what strength is left; `h` writes it down."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await read_and_go_back(hands, temperature="40")
        await open_vat(hands)
        assert "of kettle water (it keeps" in said(hands)
        assert "on the hob" in said(hands)
        before = account(hands)
        await hands.press("h")
        await at(hands, "AskWindow")
        await hands.press("enter")
        await at(hands, "VatScreen")
        after = account(hands)
        assert after.celsius == pytest.approx(hands.desk.sheet.value("vat.temperature"), abs=0.3)
        assert after.strength < before.strength


async def test_something_of_her_own(bench: Bench) -> None:
    """`a` takes `2 g lye` into the account."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        before = account(hands)
        await hands.press("a")
        await at(hands, "AskWindow")
        await hands.write("2 g lye")
        await hands.press("enter")
        await at(hands, "CautionWindow")
        await hands.read_on()
        await at(hands, "VatScreen")
        after = account(hands)
        assert (after.bath.sodium - before.bath.sodium) * 39.997 == pytest.approx(2, rel=0.05)


async def put(hands: Hands, text: str) -> None:
    """Write what went in."""
    await hands.press("a")
    await at(hands, "AskWindow")
    await hands.write(text)
    await hands.press("enter")


async def test_the_cautions_of_an_addition_are_read_once(bench: Bench) -> None:
    """The first lye by hand shows its cautions, and not to have read them puts nothing in; the second one does not."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        await put(hands, "2 g lye")
        await at(hands, "CautionWindow")
        await hands.press("escape")
        await at(hands, "VatScreen")
        assert hands.desk.state.tending.corrections == ()
        await put(hands, "2 g lye")
        await at(hands, "CautionWindow")
        await hands.read_on()
        await at(hands, "VatScreen")
        await hands.long_later(16)
        await put(hands, "1 g lye")
        await at(hands, "VatScreen")
        assert len(hands.desk.state.tending.corrections) == 2


async def test_the_tub_of_a_reducer_by_hand_is_asked_about(bench: Bench) -> None:
    """Reducer by hand asks whether its tub is dry, as the steps do."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        await put(hands, "2 g reducer")
        await at(hands, "TubWindow")


async def test_much_lye_is_asked_about(bench: Bench) -> None:
    """200 g of lye are asked about first, cautions come after; Escape writes nothing down."""
    async with bench(size=(100, 40)) as hands:
        await begin_vat(hands, lots__a__fibre="alpaca or mohair")
        await open_vat(hands)
        await put(hands, "200 g lye")
        await at(hands, "InsistWindow")
        assert "Is that so?" in said(hands)
        assert "above 10.5 alpaca or mohair is harmed" in said(hands)
        await hands.press("escape")
        await at(hands, "VatScreen")
        assert hands.desk.state.tending.corrections == ()
        await put(hands, "200 g lye")
        await at(hands, "InsistWindow")
        await hands.press("y", "y")
        await at(hands, "CautionWindow")
        assert "although" not in said(hands)
        await hands.read_on()
        await at(hands, "VatScreen")
        assert len(hands.desk.state.tending.corrections) == 1


async def test_after_an_addition_the_vat_stands_where_it_is_worked_out(bench: Bench) -> None:
    """A pH of 9.3, read before lye went in, no longer says that mohair likes it there."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands, lots__a__fibre="alpaca or mohair")
        await read_and_go_back(hands, temperature="47", pH="9.3", pH_by="m")
        await open_vat(hands)
        assert "within the 8.5 to 9.8" in said(hands)
        hands.desk.record(CorrectionMade(material="lye", amount=Amount(40, "g")))
        hands.app.screen.renew()  # type: ignore[attr-defined]
        await hands.settle()
        assert "above 10.5 it is harmed" in said(hands)
        assert "within the 8.5 to 9.8" not in said(hands)


async def test_what_it_comes_to_is_said_before(bench: Bench) -> None:
    """The sentence below an addition names its unit, and the pH and the warmth that follow."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        await hands.press("a")
        await at(hands, "AskWindow")
        await hands.write("2 lye")
        assert "Vat: 2 g of lye, then about pH" in said(hands)


async def test_more_water_than_the_tub_holds(bench: Bench) -> None:
    """40 L of water are told off before they are taken; what was typed stays."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        await put(hands, "40 L water")
        await at(hands, "AskWindow")
        assert "! Not taken. The tub holds" in said(hands)
        assert "40 L water" in hands.screen
        await hands.press("escape")
        assert hands.desk.state.tending.corrections == ()


@pytest.mark.parametrize(("key", "typed", "why"), [
    ("a", "5 g", "5 g of what?"),
    ("a", "abc", "abc does not begin with an amount"),
    ("w", "abc", "abc: no length of time is in it"),
    ("w", "5 g", "5 g is a mass; here a length of time is wanted"),
    ("w", "1 tsp sugar", "1 tsp is a volume; here a length of time is wanted"),
    ("w", "-5 min x", "-5 min is less than nothing"),
    ("w", "0 min x", "A wait is longer than nothing"),
])  # fmt: skip
async def test_a_bad_entry_is_told_and_stays(bench: Bench, key: str, typed: str, why: str) -> None:
    """Enter on what cannot be read says why, and keeps what was typed until it is put right."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        await hands.press(key)
        await at(hands, "AskWindow")
        await hands.write(typed)
        await hands.press("enter")
        await hands.settle()
        assert f"! Not taken. {why}" in said(hands)
        assert typed in hands.screen
        await hands.press("x")
        assert "Not taken" not in said(hands)


async def test_acid_of_her_own_is_refused(bench: Bench) -> None:
    """Much vinegar into a living vat is refused for good, with the reason."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        await hands.press("a")
        await at(hands, "AskWindow")
        await hands.write("500 mL vinegar")
        await hands.press("enter")
        await at(hands, "InsistWindow")
        assert "There is reducer alive in this vat" in said(hands)
        await hands.press("y", "y", "escape")
        await at(hands, "VatScreen")
        assert hands.desk.state.tending.corrections == ()


async def test_the_litres_as_measured(bench: Bench) -> None:
    """`=` sets how much liquor stands in the tub; the indigo stays."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        before = account(hands)
        await hands.press("=")
        await at(hands, "AskWindow")
        await hands.press("ctrl+u")
        await hands.write("18 L")
        await hands.press("enter")
        await at(hands, "VatScreen")
        after = account(hands)
        assert after.litres == pytest.approx(18)
        assert after.indigotin_g == pytest.approx(before.indigotin_g)


async def test_more_stock_than_there_is(bench: Bench) -> None:
    """Stock that is not in the jar cannot have gone in: it is told, and not written down."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        await hands.press("a")
        await at(hands, "AskWindow")
        await hands.write("2 L stock")
        await hands.press("enter")
        await at(hands, "VatScreen")
        assert "Not written down: There are 0.00 L of stock left" in said(hands)
        assert hands.kinds[-1] == "vat_made"


async def test_the_pH_read_can_be_taken_as_true_here_too(bench: Bench) -> None:
    """The account says that the two disagree; `m` lets it follow the reading."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await read_and_go_back(hands, temperature="45", pH="10.6", pH_by="m")
        await open_vat(hands)
        assert "They disagree" in said(hands)
        await hands.press("m")
        assert "They disagree" not in said(hands)
        assert "Less lye" in said(hands)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_history_is_drawn_and_listed(bench: Bench, size: tuple[int, int]) -> None:
    """Warmth and pH as the account has them now, each reading in its place, then what happened, the latest first."""
    async with bench(size=size) as hands:
        await cotton_vat(hands)
        await read_and_go_back(hands, temperature="47", pH="11.2", pH_by="m")
        await hands.long_later(90)
        await read_and_go_back(hands, temperature="43", pH="11", pH_by="m")
        await hands.long_later(20)
        await open_vat(hands)
        history = [line[size[0] // 2 :] for line in hands.screen.splitlines()]
        words = "\n".join(history)
        found = hands.app.screen.outlook  # type: ignore[attr-defined]
        assert f"Warmth  {found.account.celsius:.0f} °C now" in words
        assert "pH  {:.1f} now ({:.1f}–{:.1f})".format(found.prediction.pH, *found.pH_between) in words
        assert sum(line.count("●") for line in history) == 2 + 2 + 1  # and once in the words below
        assert " now " in words
        hands.app.screen.parts["history"].scroll_end(animate=False)  # type: ignore[attr-defined]
        await hands.settle()
        words = "\n".join(line[size[0] // 2 :] for line in hands.screen.splitlines())
        assert words.index("43 °C, pH 11") < words.index("47 °C, pH 11.2") < words.index("Vat made")


async def test_narrow_shows_one_region_at_a_time(bench: Bench) -> None:
    """At 60 columns Tab goes from the account to the history."""
    async with bench(size=(60, 20)) as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        assert "Indigotin" in hands.screen
        await hands.press("tab")
        assert "Vat made, as planned" in hands.screen
        assert "Indigotin" not in hands.screen


async def test_waits_stay_in_sight(bench: Bench) -> None:
    """What runs stands at the bottom edge of every screen about the vat."""
    async with bench(size=(60, 20)) as hands:
        await cotton_vat(hands)
        await hands.press("w")
        await hands.write("30 min rest")
        await hands.press("enter", "v")
        await at(hands, "VatScreen")
        assert "30:00" in hands.screen
        await hands.press("r")
        await at(hands, "ReadingScreen")
        assert "30:00" in hands.screen
        await fill(hands, temperature="46")
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        await hands.press("v")
        await at(hands, "VatScreen")
        await hands.press("x")
        await at(hands, "SpentScreen")
        assert "30:00" in hands.screen


async def test_the_plan_s_picture_on_the_vat_stage(bench: Bench) -> None:
    """On the Vat stage the figures carry the window's picture before anything is weighed."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.to("vat")
        assert "that linen likes" in said(hands)


async def test_the_temperature_says_when_it_was_read(bench: Bench) -> None:
    """As read while nothing went in; what is poured in after it is reckoned with, from then on."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await read_and_go_back(hands, temperature="46")
        await open_vat(hands)
        assert re.search(r"46 °C, read \d\d:\d\d, is within", said(hands))
        hands.desk.record(CorrectionMade(water=Amount(2, "L"), water_temperature=Amount(15, "degC")))
        hands.app.screen.renew()  # type: ignore[attr-defined]
        await hands.settle()
        liquor = round(account(hands).celsius)
        assert liquor < 46
        assert f"at {liquor} °C" in said(hands)
        assert re.search(rf"{liquor} °C, reckoned since 46 °C was read at \d\d:\d\d, is", account_side(hands))


async def test_no_call_for_a_warmth_that_it_is_down_to(bench: Bench) -> None:
    """A vat read at the 40 °C that it wants at the least is there: `k` says so and starts nothing."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await read_and_go_back(hands, temperature="46")
        hands.desk.record(CorrectionMade(water=Amount(4, "L"), water_temperature=Amount(14, "degC")))
        await read_and_go_back(hands, temperature="40")
        await open_vat(hands)
        await hands.press("k")
        assert hands.desk.state.waits == ()
        assert "It is down to the 40 °C that the vat wants at the least" in said(hands)


async def test_the_account_follows_the_clock_while_it_is_looked_at(bench: Bench) -> None:
    """A tub loses some degrees in an hour and a half: the screen that was open all the while says so."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_vat(hands)
        assert "L at 45 °C" in account_side(hands)
        await hands.long_later(90)
        assert "L at 45 °C" not in account_side(hands)
