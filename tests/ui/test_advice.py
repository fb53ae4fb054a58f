"""One key puts right what a notice is about, wherever the notice stands."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.ui.hands import Bench, Hands

from vatside.log.events.day import PinSet, PlanChanged
from vatside.plan.sheet import Notice, Remedy, Stage, Weight
from vatside.ui.day.screen import DayScreen
from vatside.ui.day.working_window import WorkingWindow
from vatside.ui.widgets.entry import ADVICE
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows import notices
from vatside.ui.windows.ask import ChooseWindow
from vatside.ui.windows.notices import NoticesWindow
from vatside.units import Amount, Kind, Problem, parse_amount
from vatside.units.names import UNITS

HARM = "alkali harms wool"


def done(hands: Hands) -> list[str]:
    """Give the kinds of what was done since the day of wool began."""
    return hands.kinds[3:]


def dangers(hands: Hands) -> list[Notice]:
    """Give what is in danger."""
    return [notice for notice in hands.desk.sheet.notices if notice.weight is Weight.DANGER]


async def at_work(hands: Hands) -> None:
    """Begin a day of wool whose lye is too much, without what would take it."""
    await hands.new_day()
    hands.desk.record(
        PlanChanged("lots.a.fibre", "wool"),
        PinSet("vat.alkali", Amount(10, "g")),
        PinSet("vat.baking-soda", Amount(0, "g")),
    )
    hands.day.renew()
    await hands.settle()
    assert [HARM in notice.text for notice in dangers(hands)] == [True]


async def test_one_key_and_one_undo_at_the_stage(bench: Bench) -> None:
    """The banner names the key; it takes all the amounts, and one undo takes them all back."""
    async with bench() as hands:
        await at_work(hands)
        await hands.to("vat")
        before = hands.desk.plan
        assert "j puts it right" in hands.screen
        await hands.press("j")
        assert dangers(hands) == []
        assert done(hands) == ["advice_taken"]
        assert "Put right; u takes it back." in hands.screen
        await hands.press("u")
        assert hands.desk.plan == before
        assert "j puts it right" in hands.screen


async def test_from_the_plan_as_well(bench: Bench) -> None:
    """The plan shows the notices of the whole day, and puts them right."""
    async with bench() as hands:
        await at_work(hands)
        await hands.press("escape", "j")
        assert dangers(hands) == []


async def test_a_stage_without_such_a_notice_says_so(bench: Bench) -> None:
    """Where nothing is offered the key does nothing but say so, and is not named."""
    async with bench() as hands:
        await at_work(hands)
        await hands.to("scour")
        assert "put right" not in hands.screen
        await hands.press("j")
        assert done(hands) == []
        assert "Nothing here can be put right" in hands.screen


async def test_what_is_being_typed_is_read_first(bench: Bench) -> None:
    """In the form the key is no part of an amount: the draft is logged, then what is offered for it is taken."""
    async with bench() as hands:
        await at_work(hands)
        await hands.field("lots.a.mass")
        await hands.write("500")
        await hands.press("j")
        assert done(hands) == ["plan_changed", "advice_taken"]
        assert hands.desk.plan.lots[0].mass == Amount(500, "g")
        assert dangers(hands) == []


async def test_the_field_in_hand_shows_what_is_set(bench: Bench) -> None:
    """A field whose figure the advice lets go is no longer held at once."""
    async with bench() as hands:
        await at_work(hands)
        await hands.to("vat")
        await hands.field("vat.alkali")
        [entry] = (entry for entry in hands.day.form.entries if entry.path == "vat.alkali")
        assert entry.value == "10 g"
        await hands.press("j")
        assert entry.value == ""


async def test_words_keep_their_letters(bench: Bench) -> None:
    """In a field for words the key is a letter."""
    async with bench() as hands:
        await at_work(hands)
        await hands.field("title")
        await hands.write("jeans")
        await hands.press("escape")
        assert hands.desk.plan.title == "jeans"
        assert "advice_taken" not in done(hands)


async def test_in_the_window_of_all_notices(bench: Bench) -> None:
    """The notice in hand is put right, the window stays and says so, and takes it back."""
    async with bench() as hands:
        await at_work(hands)
        await hands.press("escape", "i")
        assert isinstance(hands.app.screen, NoticesWindow)
        await hands.press("j")
        assert dangers(hands) == []
        assert HARM not in hands.screen
        assert "Put right; u takes it back." in hands.screen
        assert "Esc back" in hands.screen
        await hands.press("u")
        assert len(dangers(hands)) == 1
        await hands.press("escape")
        assert isinstance(hands.app.screen, DayScreen)
        assert done(hands) == ["advice_taken", "undone"]


async def test_a_notice_that_offers_nothing_says_so_in_its_window(bench: Bench) -> None:
    """The key on a notice without a remedy changes nothing."""
    async with bench() as hands:
        await at_work(hands)
        await hands.press("escape", "i", "end", "j")
        assert done(hands) == []
        assert "Nothing is offered" in hands.screen


@pytest.mark.parametrize("figure", ["vat.alkali", "vat.pH"])
async def test_in_the_window_of_the_working(bench: Bench, figure: str) -> None:
    """The working of a figure shows what is said about it, and puts it right, whether it can be held or not."""
    async with bench(size=(100, 40)) as hands:
        await at_work(hands)
        await hands.to("vat")
        hands.day.open_working(figure)
        await hands.settle()
        window = hands.app.screen
        assert isinstance(window, WorkingWindow)
        assert HARM in hands.screen
        await hands.press("j")
        assert dangers(hands) == []
        assert not [row for row in window.query_one("#working", Lines).rows if HARM in row.text]
        assert window.at == figure
        await hands.press("escape", "u")
        assert len(dangers(hands)) == 1


async def test_several_ways_are_a_list(bench: Bench) -> None:
    """A digit picks one, Enter the one in hand, Escape none."""
    ways = [Remedy(f"way {number}", (("water.room", Amount(number, "degC")),)) for number in (1, 2, 3)]
    notice = Notice(Stage.VAT, Weight.CARE, "Cold.", None, tuple(ways))
    async with bench() as hands:
        await at_work(hands)
        took: list[Remedy] = []
        for keys in (("3",), ("down", "enter"), ("escape",)):
            notices.choose_remedy(hands.app, notice, took.append)
            await hands.settle()
            assert isinstance(hands.app.screen, ChooseWindow)
            assert "way 2" in hands.screen
            await hands.press(*keys)
        assert took == [ways[2], ways[1]]


async def test_a_replay_names_no_key(bench: Bench) -> None:
    """What cannot be changed says what would put it right, and no key that does it."""
    async with bench() as hands:
        await at_work(hands)
        hands.desk.record(PlanChanged("title", "Blue"))
        await hands.press("escape", "o", "p")
        await hands.until(lambda: "AS IT WENT" in hands.screen)
        await hands.press("i")
        assert "To put it right" in hands.screen
        assert "j put" not in hands.screen
        await hands.press("j", "escape", "j")
        assert "A replay shows the day as it was" in hands.screen


async def test_the_one_of_the_figure_in_hand_comes_first(bench: Bench) -> None:
    """Among the figures the key puts the one in hand right, with the graver notice that hangs on it."""
    async with bench() as hands:
        await at_work(hands)
        hands.desk.record(PinSet("vat.temperature", Amount(30, "degC")))
        await hands.to("vat")
        await hands.press("tab")
        hands.day.parts["figures"].choose("vat.temperature")
        await hands.press("j")
        assert [pin.figure for pin in hands.desk.plan.pins] == []
        assert dangers(hands) == []


def test_no_amount_has_the_letter() -> None:
    """No unit is spelled with the key's letter, so it can be pressed while an amount is typed."""
    assert not [name for name in UNITS.values() if ADVICE in name.casefold()]
    for kind in Kind:
        assert isinstance(parse_amount(f"2 {ADVICE}", kind), Problem)


def test_the_gravest_comes_first() -> None:
    """Danger before care, those about the figure asked for before all."""
    one = Remedy("x", (("stock.start", None),))
    care = Notice(Stage.STOCK, Weight.CARE, "a", "stock.start", (one,))
    danger = Notice(Stage.VAT, Weight.DANGER, "b", "vat.pH", (evolve(one, places=(("vat.alkali", None),)),))
    none = Notice(Stage.VAT, Weight.DANGER, "c", "vat.pH")
    assert notices.offered((care, none, danger)) == (danger, care)
    assert notices.offered((care, none, danger), "stock.start") == (care, danger)
    assert notices.offered((care, danger), "vat.alkali") == (danger, care)
