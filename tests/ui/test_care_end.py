"""The end of a vat on the screen: oxidise, how much acid, give it, let it go."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.ui.care_hands import account, at, begin_vat, cotton_vat, fill, said, take
from tests.ui.hands import Bench, Hands

from vatside.log.events.vat import CorrectionMade, PHTrusted, VatLetGo
from vatside.outlook.vat_end import BY_SAMPLE, Choices, dose_of, portion
from vatside.ui.vat.spent import SpentScreen
from vatside.units import Amount
from vatside.vat.account import predict
from vatside.vat.spent import Acid, AcidDose

SIZES = [(60, 20), (80, 24), (120, 40)]


async def at_its_end(hands: Hands) -> None:
    """Stand at the first page of a live vat's end."""
    await cotton_vat(hands)
    await hands.press("v")
    await at(hands, "VatScreen")
    await hands.press("x")
    await at(hands, "SpentScreen")


async def oxidised(hands: Hands) -> None:
    """Stand at the second page, the vat seen to stay blue."""
    await at_its_end(hands)
    await hands.press("space")
    await hands.later(7)


def dose(hands: Hands) -> AcidDose:
    """The dose that the pages tell, by what is chosen there."""
    screen = hands.app.screen
    assert isinstance(screen, SpentScreen)
    told = dose_of(screen.outlook.stands, screen.ending.choices)
    assert isinstance(told, AcidDose)
    return told


async def read(hands: Hands, **rows: str) -> None:
    """Take a reading from the pages of the end."""
    await hands.press("r")
    await at(hands, "ReadingScreen")
    await fill(hands, **rows)
    await hands.press("escape")
    await at(hands, "SpentScreen")


@pytest.mark.parametrize("size", SIZES)
async def test_the_way_to_the_end_by_keys_alone(bench: Bench, size: tuple[int, int]) -> None:
    """Blue, acid in two portions with its wait and reading, then where it went: a record of it all."""
    async with bench(size=size) as hands:
        await cotton_vat(hands)
        await take(hands, temperature="45", pH="11.4", pH_by="m")
        await hands.press("v")
        await at(hands, "VatScreen")
        await hands.press("x")
        await at(hands, "SpentScreen")
        await hands.press("space")
        await read(hands, temperature="22", pH="11.2")
        await hands.press("right", "space")
        await at(hands, "CautionWindow")
        await hands.read_on()
        await at(hands, "SpentScreen")
        assert [wait.label for wait in hands.desk.state.waits] == ["Acid at work"]
        await hands.long_later(11)
        await read(hands, temperature="22", pH="7.9")
        assert hands.desk.state.waits == ()
        await hands.press("right", "space")
        await at(hands, "AskWindow")
        await hands.write("the sewer, as the water company said")
        await hands.press("enter")
        await at(hands, "SpentScreen")
        gone = hands.desk.state.tending.let_go
        assert isinstance(gone, VatLetGo)
        assert (gone.pH_before, gone.pH_after, gone.acid) == (11.2, 7.9, "vinegar")
        assert gone.where == "the sewer, as the water company said"
        assert hands.desk.state.tending.account is None
        await hands.later(7)
        assert "Vat let go" in hands.screen


async def test_acid_into_a_living_vat_is_refused(bench: Bench) -> None:
    """Before it was seen to stay blue the third page refuses, and says what to do first."""
    async with bench() as hands:
        await at_its_end(hands)
        await hands.press("right", "right")
        assert "No acid yet" in hands.screen
        await hands.press("space")
        assert "Refused: Acid into a vat with reducer left gives off sulphur dioxide" in said(hands)
        assert hands.desk.state.tending.corrections == ()


async def test_a_yellow_reading_takes_it_back(bench: Bench) -> None:
    """A liquor that is amber after all is alive: no acid, whatever was said before."""
    async with bench() as hands:
        await oxidised(hands)
        await read(hands, colour="am")
        await hands.press("right", "space")
        assert "The liquor is amber" in said(hands)
        assert hands.desk.state.tending.corrections == ()


async def test_the_dose_in_vinegar_and_in_citric_acid(bench: Bench) -> None:
    """The second page gives the dose to pH 8 in one acid, and what it would be in the other."""
    async with bench(size=(120, 40)) as hands:
        await oxidised(hands)
        await read(hands, temperature="22", pH="11")
        assert "of vinegar to pH 8" in said(hands)
        assert "of citric acid" in said(hands)
        await hands.press("enter")
        await hands.press("right")
        assert "of citric acid to pH 8" in said(hands)


async def test_the_sample_of_a_soda_vat_is_told_to_go_on_below_the_pH_aimed_at(bench: Bench) -> None:
    """Before she doses: page two names the pH at which the sample ends, and why it is not 8."""
    async with bench(size=(120, 40)) as hands:
        await begin_vat(hands, lots__a__fibre="silk", water__tap="hard")
        await hands.press("v")
        await at(hands, "VatScreen")
        await hands.press("x")
        await at(hands, "SpentScreen")
        await hands.press("space")
        await hands.later(7)
        await hands.press("enter", "down")
        await hands.press("right")
        assert "Stop at pH 5." in said(hands)
        assert "not at 8: there it has taken only about" in said(hands)


async def test_a_titrated_sample_counts_by_litres_and_ten(bench: Bench) -> None:
    """100 mL that took 4 mL of vinegar: 40 mL for each litre of the vat."""
    async with bench(size=(120, 40)) as hands:
        await oxidised(hands)
        await hands.press("enter", "down", "down")
        await hands.write("4")
        screen = hands.app.screen
        assert screen.ending.choices.by == BY_SAMPLE  # type: ignore[attr-defined]
        litres = account(hands).litres
        assert f"{40 * litres:.0f} mL of vinegar to pH 8 (from your sample)" in said(hands)


async def test_what_a_sample_took_of_one_acid_says_nothing_of_the_other(bench: Bench) -> None:
    """5 mL of vinegar are not 5 g of citric acid: with the other acid the sample is asked for anew."""
    async with bench(size=(120, 40)) as hands:
        await oxidised(hands)
        await hands.press("enter", "down", "down")
        await hands.write("5")
        await hands.press("up", "up", "right")
        assert hands.app.screen.ending.choices.acid is Acid.CITRIC  # type: ignore[attr-defined]
        assert "Say what the sample took" in said(hands)
        assert "of citric acid to pH 8" not in said(hands)


async def test_a_sample_taken_after_acid_asks_for_all_that_it_took(bench: Bench) -> None:
    """The acid that was in before knows of itself; only what goes in after a sample is taken off."""
    async with bench(size=(120, 40)) as hands:
        await oxidised(hands)
        state, chosen, sampled = hands.desk.state, Choices(by=BY_SAMPLE, took=4), account(hands).litres
        first = portion(state, chosen)
        assert isinstance(first, CorrectionMade)
        sampled = account(hands).litres
        hands.desk.record(first)
        left = dose_of(hands.desk.state, chosen)
        fresh = dose_of(hands.desk.state, evolve(chosen, took=1, portions=1))
        assert isinstance(left, AcidDose)
        assert isinstance(fresh, AcidDose)
        assert first.amount is not None
        assert left.millilitres == pytest.approx(40 * sampled - first.amount.value, abs=1)
        assert fresh.millilitres == pytest.approx(10 * account(hands).litres, rel=0.02)


async def test_no_amount_before_a_fresh_pH(bench: Bench) -> None:
    """A pH read while the reducer lived does not count: the page names what to expect, and asks for a reading."""
    async with bench(size=(120, 40)) as hands:
        await cotton_vat(hands)
        await take(hands, temperature="45", pH="9.9", pH_by="m")
        await hands.press("v")
        await at(hands, "VatScreen")
        await hands.press("x")
        await at(hands, "SpentScreen")
        await hands.press("space")
        for _ in range(2):
            assert "First read the pH of a cooled sample" in said(hands)
            assert "The pH 9.9 was read before that and does not count" in said(hands)
            assert "That is worked out, not read" in said(hands)
            assert "of vinegar to" not in said(hands)
            assert "no acid." not in said(hands)
            await hands.press("right")
        await at(hands, "SpentScreen")
        assert "Its pH was not read since it stayed blue" in said(hands)


async def test_every_page_follows_the_pH_read(bench: Bench) -> None:
    """A vat that reads 9.9 takes acid on the second and third page, and the fourth holds it back for that."""
    async with bench(size=(120, 40)) as hands:
        await oxidised(hands)
        await read(hands, temperature="22", pH="9.9")
        assert dose(hands).millilitres > 0
        assert "of vinegar to pH 8" in said(hands)
        await hands.press("right")
        assert "Stir in" in said(hands)
        await hands.press("right")
        assert "pH 9.9 is above 9: more acid" in said(hands)


async def test_the_range_is_the_dyer_s(bench: Bench) -> None:
    """A range that the aim lies outside of is told; one that holds it is taken."""
    async with bench() as hands:
        await oxidised(hands)
        await hands.press("enter", "down", "down", "down", "down", "down")
        await hands.press("ctrl+u")
        await hands.write("7")
        assert "lies outside" in said(hands)
        await hands.press("ctrl+u")
        await hands.write("10")
        assert hands.app.screen.ending.choices.aim.high == 10  # type: ignore[attr-defined]


async def test_three_quarters_first(bench: Bench) -> None:
    """The first portion is three quarters of the dose, the second all that the pH read after it still wants."""
    async with bench() as hands:
        await oxidised(hands)
        await read(hands, temperature="22", pH="11")
        whole = dose(hands).millilitres
        await hands.press("right", "space")
        await at(hands, "CautionWindow")
        await hands.read_on()
        await at(hands, "SpentScreen")
        [made] = hands.desk.state.tending.corrections
        assert made.event.amount is not None
        assert made.event.amount.value == pytest.approx(0.75 * whole, abs=1)
        assert "Acid went in: wait, read the pH" in said(hands)
        await read(hands, temperature="22", pH="9.5")
        rest = portion(hands.desk.state, Choices())
        assert isinstance(rest, CorrectionMade)
        assert rest.amount is not None
        assert rest.amount.value == pytest.approx(dose(hands).millilitres, abs=0.05)


async def test_local_rules_come_last(bench: Bench) -> None:
    """The last page defers to local rules, and says what still stands in the way."""
    async with bench(size=(120, 40)) as hands:
        await oxidised(hands)
        await read(hands, temperature="22", pH="10.5")
        await hands.press("right", "right")
        assert "pH 10.5 is above 9: more acid" in said(hands)
        assert "ask the water company" in said(hands)


async def test_what_is_out_of_the_range_is_not_let_go(bench: Bench) -> None:
    """At pH 9.9 and 45 °C space refuses; only saying so twice goes on."""
    async with bench(size=(120, 40)) as hands:
        await oxidised(hands)
        await read(hands, temperature="45", pH="9.9")
        await hands.press("right", "right", "space")
        await at(hands, "InsistWindow")
        assert "more acid" in said(hands)
        assert "Let it cool below 40 °C" in said(hands)
        await hands.press("y", "escape")
        await at(hands, "SpentScreen")
        assert hands.desk.state.tending.account is not None
        await hands.press("space")
        await at(hands, "InsistWindow")
        await hands.press("y", "y")
        await at(hands, "AskWindow")


async def test_undo_brings_the_vat_back(bench: Bench) -> None:
    """A vat let go by mistake is there again after `u`."""
    async with bench() as hands:
        await oxidised(hands)
        await read(hands, temperature="22", pH="8.2")
        await hands.press("right", "right", "space")
        await at(hands, "AskWindow")
        await hands.write("nowhere")
        await hands.press("enter")
        await at(hands, "SpentScreen")
        assert hands.desk.state.tending.account is None
        await hands.later(1)
        await hands.press("u")
        assert hands.desk.state.tending.account is not None


async def sour_end(hands: Hands) -> None:
    """Stand at the end of a vat whose reducer, once air has spent it, is more acid than there is alkali."""
    await cotton_vat(hands)
    hands.desk.record(CorrectionMade(material="reducer", amount=Amount(30, "g")))
    await hands.press("v")
    await at(hands, "VatScreen")
    await hands.press("x")
    await at(hands, "SpentScreen")


async def test_no_acid_is_announced_where_none_is_expected(bench: Bench) -> None:
    """A vat expected to turn sour is read first, and no acid is spoken of but as not needed."""
    async with bench(size=(120, 40)) as hands:
        await sour_end(hands)
        await hands.press("space")
        assert "Now read the pH of a cooled sample (r); it should need no acid" in said(hands)
        await hands.later(7)
        told = dose_of(hands.desk.state, Choices())
        assert isinstance(told, str)
        assert told.endswith(
            "It should need no acid. If it is below 6, a little soda ash brings it up; how much follows from "
            "the reading."
        )
        assert "Acid may go in" not in said(hands)


async def test_the_pH_comes_before_acid_too(bench: Bench) -> None:
    """A vat that stays alkaline is read first as well; acid may follow."""
    async with bench(size=(120, 40)) as hands:
        await at_its_end(hands)
        await hands.press("space")
        assert "Now read the pH of a cooled sample (r); acid may go in after that" in said(hands)


async def test_a_sour_vat_is_brought_up(bench: Bench) -> None:
    """A pH read below the range gives the soda ash for it, and the soda brings the account to the pH aimed at."""
    async with bench(size=(120, 40)) as hands:
        await sour_end(hands)
        await hands.press("space")
        await read(hands, temperature="22", pH="2.6", pH_by="m")
        await hands.later(7)
        assert "2.6 is below 6: no acid. About" in said(hands)
        told = dose_of(hands.desk.state, Choices())
        assert isinstance(told, str)
        grams = told.partition("About ")[2].partition(" g")[0]
        hands.desk.record(
            PHTrusted(2.6, Amount(22, "degC")), CorrectionMade(material="soda-ash", amount=Amount(float(grams), "g"))
        )
        assert predict(account(hands), 25).pH == pytest.approx(8, abs=0.4)


async def test_a_vat_that_is_handed_over_asks_for_no_acid(bench: Bench) -> None:
    """By keys alone: blue, no acid, parted, to the waste office; no page speaks of a dose or of the water company."""
    async with bench() as hands:
        await begin_vat(hands, method="zinc-lime")
        await hands.press("v")
        await at(hands, "VatScreen")
        await hands.press("x")
        await at(hands, "SpentScreen")
        assert "ydrogen" in said(hands)
        assert "sulphur dioxide" not in hands.screen
        await hands.press("space")
        await hands.later(7)
        for word in ("no vinegar", "open plastic pail", "waste office"):
            assert word in said(hands)
            assert "water company" not in hands.screen
            if word != "waste office":
                await hands.press("space")
        await hands.press("space")
        await at(hands, "AskWindow")
        await hands.write("the waste office, two cans and a pail")
        await hands.press("enter")
        await at(hands, "SpentScreen")
        assert isinstance(hands.desk.state.tending.let_go, VatLetGo)


async def test_blue_said_twice_keeps_the_pH_that_was_read(bench: Bench) -> None:
    """Back on the first page, one more space goes on from there: the reading still counts for the dose."""
    async with bench() as hands:
        await oxidised(hands)
        await read(hands, temperature="22", pH="11.4", pH_by="m")
        before = dose(hands)
        await hands.press("left", "left", "left", "space")
        assert "already" in hands.screen
        assert dose(hands) == before
        assert hands.kinds.count("vat_spent") == 1
