"""Typing amounts: what follows is shown at once, what is wrong is said, nothing is lost."""

from __future__ import annotations

from datetime import datetime

import pytest
from tests.ui.hands import Bench, Hands

from vatside.bench.day_line import RESTED_S
from vatside.bench.desk import PAUSE
from vatside.forms.fields import show


async def at_the_pigment(hands: Hands) -> None:
    """Begin a day and put the cursor into the stock's indigo powder."""
    await hands.new_day()
    await hands.to("stock")
    await hands.field("stock.pigment")


async def test_figures_follow_each_key(bench: Bench) -> None:
    """After `8` there are 8 g, after `85` there are 85 g."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("8")
        assert hands.grams("stock.pigment") == pytest.approx(8)
        await hands.write("5")
        assert hands.grams("stock.pigment") == pytest.approx(85)


async def test_the_hours_follow_once_she_rests(bench: Bench) -> None:
    """The next key would have the day laid again; a quarter of a second without one, and head and list have it."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("ready_by")
        await hands.press("ctrl+u")
        await hands.write("sat 14:00")
        assert "14:00" not in hands.screen.splitlines()[0]
        await hands.later(2 * RESTED_S)
        assert "14:00" in hands.screen.splitlines()[0]


async def test_a_refused_entry_is_explained_among_what_to_look_out_for(bench: Bench) -> None:
    """The mark on the stage line is read behind `i`: where it stands, why it is refused, and what counts."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("9x")
        await hands.press("escape", "escape", "i")
        assert "! Not taken: Stock, Indigo powder: “9x” cannot be read" in hands.screen
        assert "it stays" in hands.screen
        assert "as worked out." in hands.screen


@pytest.mark.parametrize(("text", "grams"), [("8,5 g", 8.5), ("8.5", 8.5), ("2 x 100 g", 200)])
async def test_amounts_as_a_person_writes_them(bench: Bench, text: str, grams: float) -> None:
    """Commas, bare numbers and products are read key by key to the right amount."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write(text)
        assert hands.grams("stock.pigment") == pytest.approx(grams)


async def test_one_and_a_half_spoons(bench: Bench) -> None:
    """`1 1/2 tsp` is three times `1/2 tsp`."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("1/2 tsp")
        half = hands.grams("stock.pigment")
        await hands.press("ctrl+u")
        await hands.write("1 1/2 tsp")
        assert hands.grams("stock.pigment") == pytest.approx(3 * half)


async def test_a_wrong_entry_keeps_the_figures_and_says_why(bench: Bench) -> None:
    """Nonsense leaves the figures as they were before it was begun, and stands beside words about it."""
    async with bench() as hands:
        await at_the_pigment(hands)
        worked = hands.grams("stock.pigment")
        await hands.write("9")
        await hands.write("x")
        assert hands.grams("stock.pigment") == worked
        assert "“9x” cannot be read" in hands.screen
        assert "!!" in hands.screen


@pytest.mark.parametrize(
    ("path", "text", "stays"),
    [
        ("lots.a.mass", "1 1/2 tsp", "300 g"),
        ("lots.a.mass", "1e9 g", "300 g"),
        ("lots.a.mass", "0.001 g", "300 g"),
        ("water.cold", "500", "12 °C"),
    ],
)
async def test_refused_text_rests_on_what_stood_before_its_first_key(
    bench: Bench, path: str, text: str, stays: str
) -> None:
    """However far a text could be read on the way, once it is refused the value from before it counts, by name."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field(path)
        before = hands.desk.plan
        await hands.write(text)
        assert path in hands.desk.wrong
        assert hands.desk.plan == before
        assert f"figures rest on {stays}" in " ".join(hands.screen.split())
        await hands.press("down")
        assert hands.kinds == []


async def test_refused_text_counts_again_once_it_is_put_right(bench: Bench) -> None:
    """`500` is refused and `50` is not; refused once more, it rests on what stood before the first key again."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("water.cold")
        before = hands.desk.plan
        await hands.write("500")
        await hands.press("backspace")
        assert show(hands.desk.plan, "water.cold") == "50 °C"
        await hands.write("0")
        assert hands.desk.plan == before


async def test_a_pause_on_the_way_to_a_refused_text_is_put_right(bench: Bench) -> None:
    """The `1` of `1 1/2 tsp`, logged because the hands rested, does not stay in the log's plan."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.mass")
        before = hands.desk.plan
        await hands.write("1")
        await hands.later(PAUSE + 0.5)
        await hands.write(" 1/2 tsp")
        assert hands.desk.state.plan == before


async def test_a_refused_figure_rests_on_what_is_worked_out(bench: Bench) -> None:
    """A figure that nobody holds is named as worked out: 300 g × 0.8 % ÷ 70 % that goes on ÷ 40 % pure are 8.6 g."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("9x")
        form = " ".join(line[: hands.day.form.region.right].strip() for line in hands.screen.splitlines())
        assert "figures rest on 8.6 g, as worked out" in form


async def test_a_wrong_entry_is_not_lost(bench: Bench) -> None:
    """Text that cannot be read is still there after looking at another stage."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("nine")
        await hands.press("escape", "right", "left", "enter")
        assert hands.day.form.rows[0].text == "nine"
        assert "cannot be read" in hands.screen


async def test_a_refused_entry_leaves_what_stood_there(bench: Bench) -> None:
    """`1,500 g` is refused; once the field is left, the 8 g from before count again, not the 1.5 g it began with."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("8")
        await hands.press("enter", "up")
        await hands.press("ctrl+u")
        await hands.write("1,50")
        assert hands.grams("stock.pigment") == pytest.approx(1.5)
        await hands.write("0 g")
        assert hands.grams("stock.pigment") == pytest.approx(8)
        await hands.press("escape")
        assert hands.grams("stock.pigment") == pytest.approx(8)
        assert "1,500 could be" in " ".join(hands.screen.split()) or "!!" in hands.screen


def foot(hands: Hands) -> str:
    """The words where the keys stand."""
    return " ".join(" ".join(row.text for row in hands.day.parts["keys"].rows).split())


async def test_leaving_a_refused_entry_says_what_counts(bench: Bench) -> None:
    """Whoever goes to the steps with a refused text behind her is told what is wrong and which value stays."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("water.cold")
        await hands.write("500")
        await hands.press("escape")
        assert "Cold tap: 500 °C cannot be; between 0 °C and 60 °C; it stays 12 °C." in foot(hands)


async def test_leaving_a_form_with_refused_entries_counts_them(bench: Bench) -> None:
    """Five refused texts in the stock, and out of a sixth row that is fine: one is named, the others are counted."""
    async with bench() as hands:
        await at_the_pigment(hands)
        paths = [row.path for row in hands.day.form.rows if not row.field.choices]
        before = hands.desk.plan
        for path in paths[:5]:
            await hands.field(path)
            await hands.write("rubbish")
        await hands.field(paths[5])
        await hands.press("escape")
        assert "Indigo powder: “rubbish” cannot be read" in foot(hands)
        assert "it stays 8.6 g, as worked out. 4 other entries are refused too." in foot(hands)
        assert hands.desk.plan == before


async def test_the_head_marks_a_stage_with_refused_entries(bench: Bench) -> None:
    """`SCOUR !` stands in the head, also from another stage, until the text is put right."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        await hands.press("enter", "down", "down", "down")
        assert "SCOUR 0/11 !" not in hands.screen
        path = hands.day.form.at
        await hands.write("rubbish")
        assert "Scour !" in hands.screen or "SCOUR 0/11 !" in hands.screen
        await hands.press("escape", "left")
        assert "Scour !" in hands.screen
        await hands.press("right")
        await hands.field(path)
        await hands.press("ctrl+u", "escape")
        assert "SCOUR 0/11 !" not in hands.screen


async def test_a_refused_text_in_the_working_rests_on_what_stood_before(bench: Bench) -> None:
    """The `1` of `1x` is not held behind the working either."""
    async with bench() as hands:
        await at_the_pigment(hands)
        worked = hands.grams("stock.pigment")
        await hands.press("equals_sign")
        await hands.write("1x")
        assert hands.grams("stock.pigment") == worked
        await hands.press("escape")
        assert hands.kinds == []


async def test_leaving_an_entry_that_is_right_says_nothing(bench: Bench) -> None:
    """An entry that could be read needs no words."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("8 g")
        await hands.press("escape")
        assert "stays" not in foot(hands)


async def test_what_is_out_of_range_names_field_and_range(bench: Bench) -> None:
    """400 % purity is answered with the field, what is wrong, and what would be right."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.field("shelf.indigo.purity")
        await hands.write("400")
        words = " ".join(hands.screen.split())
        assert "purity: 400 % cannot be" in words
        assert "100" in words


async def test_not_every_key_is_an_event(bench: Bench) -> None:
    """Four keys in one field are one entry of the log, made when the field is left."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("8.25")
        assert hands.kinds == []
        await hands.press("enter")
        assert hands.kinds == ["pin_set"]


async def test_a_pause_logs_what_was_typed(bench: Bench) -> None:
    """Hands taken off the keys for a moment are enough."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("8")
        await hands.later(PAUSE + 0.5)
        assert hands.kinds == ["pin_set"]


async def test_typed_text_is_logged_before_what_is_done_next(bench: Bench) -> None:
    """A step done right after typing comes after the typed change in the log."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("8")
        await hands.press("escape", "space")
        assert hands.kinds == ["pin_set", "day_laid", "step_done"]


async def test_leaving_logs_what_was_typed(bench: Bench) -> None:
    """ctrl+q right behind the last digit loses neither."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("85")
        desk = hands.desk
        await hands.press("ctrl+q")
        assert desk.state.plan.pins[0].amount.value == 85


async def test_the_field_in_hand_is_left_alone(bench: Bench) -> None:
    """What is being typed is never rewritten; once left it reads as it would be printed."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("8,50")
        await hands.later(PAUSE + 0.5)
        entry = hands.day.form.entries[0]
        assert entry.value == "8,50"
        await hands.press("enter")
        await hands.until(lambda: entry.value == "8.5 g")


async def test_emptying_a_held_figure_frees_it(bench: Bench) -> None:
    """An empty field lets the figure follow the plan again."""
    async with bench() as hands:
        await at_the_pigment(hands)
        worked = hands.grams("stock.pigment")
        await hands.write("50")
        await hands.press("enter", "up", "delete")
        assert hands.grams("stock.pigment") == pytest.approx(worked)
        await hands.press("enter")
        assert hands.kinds == ["pin_set", "pin_cleared"]


async def test_a_held_figure_says_so(bench: Bench) -> None:
    """A figure fixed by hand carries `held` beside field and figure, and a spoon its uncertainty."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("4 tsp")
        await hands.press("enter")
        assert hands.screen.count(" set") >= 2
        assert "±" in hands.screen


def figures(hands: Hands) -> str:
    """What is weighed and drawn, as it stands on the screen."""
    return "\n".join(row.text for row in hands.day.figures.rows)


async def test_a_changed_figure_is_marked_for_a_moment(bench: Bench) -> None:
    """An arrow says which way a figure went, and goes away by itself."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.write("50")
        assert "↑" in figures(hands)
        await hands.later(6)
        assert "↑" not in figures(hands)


async def test_undo_takes_back_what_was_typed(bench: Bench) -> None:
    """`u` at the steps brings the figure back and says what it took back."""
    async with bench() as hands:
        await at_the_pigment(hands)
        worked = hands.grams("stock.pigment")
        await hands.write("50")
        await hands.press("escape", "u")
        assert hands.grams("stock.pigment") == pytest.approx(worked)
        assert "Taken back" in hands.screen


async def test_a_choice_turns_and_jumps(bench: Bench) -> None:
    """Left and right turn a choice; a letter jumps to the first that begins with it."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.fibre")
        await hands.write("c")
        assert hands.desk.plan.lots[0].fibre == "cotton"
        await hands.press("right")
        assert hands.desk.plan.lots[0].fibre != "cotton"
        await hands.press("left")
        assert hands.desk.plan.lots[0].fibre == "cotton"


@pytest.mark.parametrize(("typed", "chosen"), [("wool yarn", "wool"), ("cottons", "cotton"), ("silken", "silk")])
async def test_a_longer_word_than_the_name_keeps_the_choice(bench: Bench, typed: str, chosen: str) -> None:
    """Whoever says more of her fibre than its name has still chosen that fibre: no alpaca for the 'a' of yarn."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.fibre")
        await hands.write(typed)
        assert hands.desk.plan.lots[0].fibre == chosen


async def test_after_a_pause_a_letter_chooses_anew(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second after the last letter another word begins: from wool to silk without a key between."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.fibre")
        await hands.write("wool")
        monkeypatch.setattr("vatside.ui.widgets.entry.ONE_WORD", 0.0)
        await hands.write("silk")
        assert hands.desk.plan.lots[0].fibre == "silk"


async def test_turning_the_shape_of_the_tub_keeps_the_cursor(bench: Bench) -> None:
    """Rows that appear below leave the cursor where it is."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("vat")
        await hands.field("vessels.tub.shape")
        await hands.write("b")
        assert hands.day.form.at == "vessels.tub.shape"
        assert {"vessels.tub.length", "vessels.tub.width"} <= {row.path for row in hands.day.form.rows}
        assert hands.app.focused is hands.day.form.entries[0]


async def test_equals_asks_for_the_working_while_typing(bench: Bench) -> None:
    """`=` is no part of any amount: it opens the working, where the figure can be held as well."""
    async with bench() as hands:
        await at_the_pigment(hands)
        await hands.press("equals_sign")
        assert "Indigo powder = indigotin" in hands.screen
        await hands.write("7 g")
        await hands.press("escape")
        assert hands.grams("stock.pigment") == pytest.approx(7)
        assert hands.kinds == ["pin_set"]


async def test_the_working_goes_from_figure_to_figure(bench: Bench) -> None:
    """Down shows how the next figure came about, with its source."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        await hands.press("equals_sign", "down")
        assert "Source" in hands.screen
        assert "of it indigotin" in hands.screen


async def test_stages_turned_while_typing_never_mix_their_texts(bench: Bench) -> None:
    """Going through all stages with the form in between changes nothing of the plan."""
    async with bench() as hands:
        await hands.new_day()
        before = hands.desk.plan
        for way in ("right", "left"):
            for _ in range(5):
                await hands.press("escape", way, "enter", "down")
        assert hands.desk.plan == before
        assert hands.desk.wrong == {}
        assert hands.kinds == []


async def test_the_right_hour_takes_the_refusal_away(bench: Bench) -> None:
    """A field left with no time in it is told of; once the right text stands there, nothing speaks of it any more."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("ready_by")
        await hands.write("soon")
        await hands.press("down")
        assert "soon is no time" in hands.screen
        await hands.press("up", "ctrl+u")
        await hands.write("sat 14:00")
        assert "is no time" not in hands.screen
        wanted = datetime.fromisoformat(hands.desk.plan.ready_by or "")
        assert (wanted.weekday(), wanted.hour) == (5, 14)
        await hands.later(2 * RESTED_S)
        assert f"vat by {wanted:%a} {wanted.day} {wanted:%b} 14:00" in hands.screen or "vat by 14:00" in hands.screen


async def test_the_keys_of_a_working_stay_below_what_is_refused_there(bench: Bench) -> None:
    """What is wrong with the amount, and below it the way out."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        hands.day.open_working("stock.pigment")
        await hands.settle()
        await hands.write("x")
        assert "Indigo powder" in hands.screen
        assert "Esc back" in hands.screen


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_the_keys_stand_below_a_long_sentence(bench: Bench, size: tuple[int, int]) -> None:
    """Such as where a class card was written, with the whole way to it."""
    async with bench(size=size) as hands:
        await hands.new_day()
        hands.day.say(" ".join(["sentence"] * 4 * (size[0] // 9)))
        await hands.settle()
        assert "help" in hands.screen.splitlines()[-1]
