"""The form of a reading: few keys, wet hands, nothing lost."""

from __future__ import annotations

import re

import pytest
from tests.ui.care_hands import at, cotton_vat, fill, open_form, said, take
from tests.ui.hands import Bench, key_event

from vatside.catalogue.looks import Clarity, Cloth, Colour, Strip
from vatside.units import Amount
from vatside.vat.reading import PHBy, Reading

SIZES = [(60, 20), (80, 24), (120, 40)]


@pytest.mark.parametrize("size", SIZES)
async def test_a_reading_by_keys_alone(bench: Bench, size: tuple[int, int]) -> None:
    """Numbers are typed, looks chosen by their first letters, and Escape writes it all down."""
    async with bench(size=size) as hands:
        await cotton_vat(hands)
        await take(hands, temperature="46", pH="11.2", pH_temperature="25", pH_by="m", colour="am", clarity="cl")
        assert hands.desk.state.tending.readings[-1].reading == Reading(
            temperature=Amount(46, "degC"),
            pH=11.2,
            pH_temperature=Amount(25, "degC"),
            pH_by=PHBy.METER,
            colour=Colour.AMBER,
            clarity=Clarity.CLEAR,
        )


async def test_every_row_is_optional(bench: Bench) -> None:
    """A temperature alone is a reading."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="46")
        assert hands.desk.state.tending.readings[-1].reading == Reading(temperature=Amount(46, "degC"))


async def test_an_empty_form_writes_nothing(bench: Bench) -> None:
    """Escape out of a form that nothing was written into leaves the log as it was."""
    async with bench() as hands:
        await cotton_vat(hands)
        before = hands.kinds
        await open_form(hands)
        await hands.press("escape")
        await at(hands, "DayScreen")
        assert hands.kinds == before


async def test_arrows_turn_a_choice_and_back_to_not_looked(bench: Bench) -> None:
    """Right takes the first choice; left again is not having looked."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, colour="")
        await hands.press("right")
        assert hands.app.screen.draft.reading.colour is Colour.YELLOW_GREEN  # type: ignore[attr-defined]
        await hands.press("left")
        assert hands.app.screen.draft.reading.colour is None  # type: ignore[attr-defined]


async def test_the_stopwatch_takes_the_seconds(bench: Bench) -> None:
    """Space starts it, space stops it, and the seconds between are the strip's."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, strip="green")
        await hands.press("space")
        await hands.later(48)
        assert "strip 48 s" in hands.screen
        await hands.press("space", "escape")
        await at(hands, "MeaningScreen")
        reading = hands.desk.state.tending.readings[-1].reading
        assert (reading.strip, reading.seconds) == (Strip.GREEN_YELLOW, 48)


async def test_the_stopwatch_runs_on_while_other_rows_are_filled(bench: Bench) -> None:
    """Looking at something else does not stop it, and leaving the form does, with its seconds."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, colour="")
        await hands.press("space")
        await hands.later(30)
        await fill(hands, clarity="cl", surface="co")
        await hands.later(3)
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        assert hands.desk.state.tending.readings[-1].reading.seconds == 33


async def test_seconds_that_are_typed_end_the_stopwatch(bench: Bench) -> None:
    """A space in front of `90 s` starts the watch; what is then written stands, whenever the form is left."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, seconds=" 90 s")
        await hands.later(2)
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        assert hands.desk.state.tending.readings[-1].reading.seconds == 90


async def test_seconds_that_stand_there_are_not_timed_over(bench: Bench) -> None:
    """Back in the row with its seconds, a space starts nothing and says how to time again."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, seconds="90")
        await hands.press("up", "down", "space")
        assert "empty the row" in said(hands)
        await hands.later(2)
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        assert hands.desk.state.tending.readings[-1].reading.seconds == 90


async def test_a_space_in_a_half_typed_amount_is_a_space(bench: Bench) -> None:
    """`115 F` can be typed with its space."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="115 F")
        assert hands.desk.state.tending.readings[-1].reading.temperature == Amount(115, "degF")


async def test_a_space_in_an_empty_row_is_a_space(bench: Bench) -> None:
    """A space before the first figure of a temperature starts no stopwatch."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature=" 45 C")
        assert hands.desk.state.tending.readings[-1].reading == Reading(temperature=Amount(45, "degC"))


@pytest.mark.parametrize(("row", "text"), [("temperature", "45 C"), ("seconds", "90 s")])
async def test_a_text_that_comes_all_at_once_keeps_its_space(bench: Bench, row: str, text: str) -> None:
    """Keys faster than the form takes them are letters in their order; no strip is timed."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, **{row: ""})
        for key in text:
            hands.app.post_message(key_event(key))
        await hands.settle()
        screen = hands.app.screen
        assert (screen.focused.value, screen.draft.started) == (text, None)  # type: ignore[union-attr, attr-defined]


async def test_its_own_row_is_the_stopwatch_s(bench: Bench) -> None:
    """In the row of the seconds space starts and stops it."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, seconds=" ")
        await hands.later(50)
        await hands.press("space", "escape")
        await at(hands, "MeaningScreen")
        assert hands.desk.state.tending.readings[-1].reading.seconds == 50


@pytest.mark.parametrize("size", SIZES)
async def test_the_keys_say_where_space_is_the_stopwatch(bench: Bench, size: tuple[int, int]) -> None:
    """In a row of text the keys send her to a row of choices for it."""
    async with bench(size=size) as hands:
        await cotton_vat(hands)
        await open_form(hands)
        assert "space stopwatch in ‹›" in said(hands)
        await fill(hands, colour="")
        assert "space stopwatch" in said(hands)


async def test_the_cloth_can_show_two_things(bench: Bench) -> None:
    """A second row takes a second choice, and changing the first keeps it."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, cloth="blue")
        await fill(hands, **{"cloth+": "un"})
        await fill(hands, cloth="white")
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        assert hands.desk.state.tending.readings[-1].reading.cloth == (Cloth.DUST, Cloth.UNEVEN)


async def test_a_wrong_number_is_told_and_nothing_is_lost(bench: Bench) -> None:
    """A pH of 55 cannot be: Escape goes to it and says why; put right, all of the reading is written down."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, temperature="46", pH="55")
        await hands.press("escape")
        assert "55 cannot be; between 0 and 14.5" in hands.screen
        assert hands.app.screen.query_one("Form").at == "pH"  # type: ignore[attr-defined]
        await hands.press("backspace", "backspace", *"11", "escape")
        await at(hands, "MeaningScreen")
        reading = hands.desk.state.tending.readings[-1].reading
        assert (reading.celsius, reading.pH) == (46, 11)


async def test_signs_so_far_stand_beside_the_form(bench: Bench) -> None:
    """What the signs speak for is said while they are written."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, temperature="30")
        assert "too cold for its reducer" in hands.screen


async def test_the_reading_before_is_hinted_at(bench: Bench) -> None:
    """An empty row says what it held the last time."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="46", colour="am")
        await hands.press("escape")
        await hands.long_later(60)
        await open_form(hands)
        assert "was 46 °C" in hands.screen
        assert "was amber" in hands.screen


async def test_a_reading_is_gone_on_with(bench: Bench) -> None:
    """`r` just after a reading adds to it; the log keeps both, the vat one."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="46")
        await hands.later(60)
        await hands.press("r")
        await at(hands, "ReadingScreen")
        await fill(hands, colour="am")
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        [taken] = hands.desk.state.tending.readings
        assert (taken.reading.celsius, taken.reading.colour) == (46, Colour.AMBER)
        assert hands.kinds.count("reading_taken") == 2


async def test_undo_gives_back_the_reading_that_was_gone_on_with(bench: Bench) -> None:
    """Taking back what was added leaves the reading as it was."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="46")
        await hands.later(60)
        await hands.press("r")
        await at(hands, "ReadingScreen")
        await fill(hands, colour="am")
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        await hands.later(1)
        await hands.press("u")
        [taken] = hands.desk.state.tending.readings
        assert taken.reading == Reading(temperature=Amount(46, "degC"))


async def test_an_old_reading_is_not_gone_on_with(bench: Bench) -> None:
    """An hour later `r` begins a new reading."""
    async with bench() as hands:
        await cotton_vat(hands)
        await take(hands, temperature="46")
        await hands.long_later(60)
        await hands.press("r")
        await at(hands, "ReadingScreen")
        await fill(hands, temperature="42")
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        assert [taken.reading.celsius for taken in hands.desk.state.tending.readings] == [46, 42]


async def test_leaving_the_app_keeps_a_half_written_reading(bench: Bench) -> None:
    """ctrl+q in the form writes down what stands in it."""
    async with bench() as hands:
        await cotton_vat(hands)
        desk = hands.desk
        await open_form(hands)
        await fill(hands, temperature="46")
        await hands.press("ctrl+q")
        assert desk.state.tending.readings[-1].reading.celsius == 46


async def test_an_alarm_is_quieted_from_the_form(bench: Bench) -> None:
    """`q` quiets what rings, also in a row of the form."""
    async with bench() as hands:
        await cotton_vat(hands)
        await hands.press("w")
        await hands.write("1 min rinse")
        await hands.press("enter")
        await open_form(hands)
        await hands.later(61)
        assert hands.app.screen.glance.ringing  # type: ignore[attr-defined]
        await hands.press("q")
        assert not hands.app.screen.glance.ringing  # type: ignore[attr-defined]


async def test_a_reading_of_the_stock(bench: Bench) -> None:
    """Before the vat is made, `r` at the stock reads the jar and says how warm it should be."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        await open_form(hands)
        await fill(hands, temperature="64", pH="12.3", clarity="mi")
        await hands.press("escape")
        await at(hands, "ReadingWindow")
        assert "above the 60 °C" in hands.screen
        assert "reduced and not dissolved" in hands.screen
        assert hands.kinds == ["reading_taken"]


async def test_a_stock_is_read_by_its_own_rules(bench: Bench) -> None:
    """55 °C is right for it and far too warm for the vat: the form says what its window says, and asks of the jar."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.to("stock")
        await open_form(hands)
        assert "Stock at" in hands.screen
        assert "Vat at" not in hands.screen
        await fill(hands, temperature="55")
        assert "55 °C is right" in said(hands)
        assert "warmer than" not in said(hands)


async def test_no_reading_of_the_scour(bench: Bench) -> None:
    """Where there is neither stock nor vat, `r` says so."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        await hands.press("r")
        assert "A reading is of the stock or of the vat" in hands.screen


async def test_a_reading_before_the_stock_is_in(bench: Bench) -> None:
    """Water alone can be read; what it means waits for the stock."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("vat")
        await open_form(hands)
        await fill(hands, temperature="44")
        await hands.press("escape")
        await at(hands, "DayScreen")
        assert "told once the stock is in" in hands.screen.replace("\n", " ").replace("  ", " ")


async def test_the_vat_begins_with_its_step(bench: Bench) -> None:
    """Doing the step that brings the stock in begins the account; opening it again takes that back."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("vat")
        steps = hands.day.parts["steps"]
        steps.choose("vat.stock_in")
        await hands.press("space")
        assert hands.desk.state.tending.account is not None
        await hands.later(2)
        steps.choose("vat.stock_in")
        await hands.press("space", "y")
        assert hands.desk.state.tending.account is None
        await hands.later(2)
        await hands.press("u")
        assert hands.desk.state.tending.account is not None


async def test_a_ph_in_the_first_row_is_moved(bench: Bench) -> None:
    """11.6 and Enter stands as the pH, with a sentence; Escape after a key there does not close over it unsaid."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await hands.write("11.6")
        await hands.press("escape")
        assert type(hands.app.screen).__name__ == "ReadingScreen"
        assert "11.6 was taken for the pH" in " ".join(hands.screen.split())
        assert re.search(r"\bpH +11\.6", hands.screen)
        assert not re.search(r"Vat at +11\.6", hands.screen)
        await hands.press("escape")
        await at(hands, "MeaningScreen")
        [taken] = hands.desk.state.tending.readings
        assert (taken.reading.temperature, taken.reading.pH) == (None, 11.6)


async def test_a_ph_and_enter_in_the_first_row(bench: Bench) -> None:
    """The cursor goes on to the pH, and 11.6 stands there to be seen."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await hands.write("11.6")
        await hands.press("enter")
        assert re.search(r"\bpH +11\.6", hands.screen)
        assert not re.search(r"Vat at +11\.6", hands.screen)
