"""Keys that must do no harm when they are pressed once too often."""

from __future__ import annotations

import pytest
from tests.ui.hands import Bench, Hands

from vatside.bench.commands import acknowledge, start_wait
from vatside.log.events.day import PlanChanged, StepDone
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.lines import Lines
from vatside.units import Amount

SIZES = [(60, 20), (80, 24), (120, 40)]


def foot(hands: Hands) -> str:
    """The words where the keys stand."""
    return " ".join(row.text for row in hands.day.parts["keys"].rows)


def entry_in_hand(hands: Hands) -> Entry:
    """The field that has the cursor."""
    found = hands.app.focused
    assert isinstance(found, Entry)
    return found


async def at_the_last_field(hands: Hands) -> None:
    """Begin a day and go to the last field of the stock."""
    await hands.new_day()
    await hands.to("stock")
    await hands.press("enter")
    await hands.field(hands.day.form.rows[-1].path)


@pytest.mark.parametrize("key", ["down", "enter", "tab", "pagedown"])
async def test_the_form_ends_with_its_last_field(bench: Bench, key: str) -> None:
    """Whoever goes on from the last field stays there and is told so; letters stay letters."""
    async with bench() as hands:
        await at_the_last_field(hands)
        last = hands.day.form.at
        await hands.press(key, key)
        assert entry_in_hand(hands).path == last
        assert "That was the last field" in foot(hands)
        await hands.press("escape")
        assert hands.day.hand == "doing"
        assert "That was the last field" not in foot(hands)


@pytest.mark.parametrize("size", SIZES)
async def test_tab_goes_from_the_steps_to_the_figures(bench: Bench, size: tuple[int, int]) -> None:
    """One key reaches what is to be weighed, down scrolls it, and one key goes back."""
    async with bench(size=size) as hands:
        await hands.new_day()
        await hands.to("stock")
        await hands.press("tab")
        figures = hands.day.parts["figures"]
        assert hands.app.focused is figures
        await hands.press("end")
        assert figures.key == figures.keys[-1]
        assert figures.scroll_offset.y == max(len(figures.rows) - figures.size.height, 0)
        await hands.press("shift+tab")
        assert hands.app.focused is hands.day.parts["steps"]


async def test_f1_helps_where_a_question_mark_is_a_letter(bench: Bench) -> None:
    """In the name of the day `?` is typed, F1 explains, and the foot says so."""
    async with bench() as hands:
        await hands.new_day()
        assert "F1 help" in foot(hands)
        await hands.press("?")
        assert hands.desk.plan.title == "?"
        await hands.press("f1")
        assert type(hands.app.screen).__name__ == "ReadingWindow"


@pytest.mark.parametrize("path", ["lots.a.fibre", "lots.a.mass", "ready_by"])
async def test_a_question_mark_helps_elsewhere(bench: Bench, path: str) -> None:
    """In a choice, an amount and an hour `?` explains, and the foot says so."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field(path)
        assert "? help" in foot(hands)
        await hands.press("?")
        assert type(hands.app.screen).__name__ == "ReadingWindow"


async def test_a_long_text_shows_its_beginning_once_left(bench: Bench) -> None:
    """A name longer than its field is seen from the front when the cursor has gone on."""
    async with bench() as hands:
        await hands.new_day()
        field = entry_in_hand(hands)
        await hands.write("Saturday class in the barn with the two long tables")
        assert field.scroll_offset.x > 0
        await hands.press("down")
        assert field.scroll_offset.x == 0
        assert "Saturday class" in hands.screen.split("Set")[1]


async def test_a_done_step_opens_again_only_by_yes(bench: Bench) -> None:
    """Space says that it is done, however often; only the key that it names opens it again."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        first = hands.desk.steps_in(hands.day.stage)[0].id
        await hands.press("space")
        hands.day.parts["steps"].choose(first)
        await hands.press("space", "space", "space")
        assert first in hands.desk.state.done
        assert "y opens it again" in foot(hands)
        await hands.press("y")
        assert first not in hands.desk.state.done


async def test_space_over_a_wait_asks_once(bench: Bench) -> None:
    """A hold begun while its heating still runs is asked about: anything but `y` waits, one `y` is enough."""
    async with bench() as hands:
        await hands.new_day()
        heat, hold = (hands.desk.step(f"scour.linen.{name}.1") for name in ("heat", "hold"))
        assert heat is not None
        assert hold is not None
        hands.desk.record(acknowledge(hold), start_wait(heat, hands.desk.state.seq + 1))
        await hands.later(1)
        await hands.to("scour")
        hands.day.parts["steps"].choose(hold.id)
        await hands.press("space")
        assert f"! {heat.wait_label} has" in hands.screen
        assert "y all the same" in hands.screen
        await hands.press("space")
        assert [wait.step for wait in hands.desk.state.waits] == [heat.id]
        await hands.press("space", "y")
        assert {wait.step for wait in hands.desk.state.waits} == {heat.id, hold.id}
        await hands.press("u")
        assert [wait.step for wait in hands.desk.state.waits] == [heat.id]


async def test_space_does_not_cut_a_wait_short(bench: Bench) -> None:
    """Space on a running step says how long it has to go and changes nothing."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        step = hands.day.steps.key
        await hands.press("space")
        hands.day.steps.choose(step)
        await hands.later(1)
        await hands.press("space")
        assert len(hands.desk.state.waits) == 1
        assert "to go" in hands.screen
        assert hands.day.steps.key == step


async def test_what_is_taken_back_comes_to_hand_again(bench: Bench) -> None:
    """A step ticked by a slip: `u`, and then space does that one, not the next."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        first = hands.day.steps.key
        await hands.press("space")
        assert hands.day.steps.key != first
        await hands.press("u")
        assert hands.day.steps.key == first
        assert first not in hands.desk.state.done


async def test_a_yes_long_after_does_not_count(bench: Bench) -> None:
    """Whoever comes back later is asked anew."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        first = hands.desk.steps_in(hands.day.stage)[0].id
        hands.desk.record(StepDone(first))
        hands.day.parts["steps"].choose(first)
        await hands.press("space")
        await hands.later(10)
        await hands.press("y")
        assert first in hands.desk.state.done


async def test_the_last_step_of_a_stage_stays_in_hand(bench: Bench) -> None:
    """Nothing jumps back to the top; the words say which stage is next."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        steps = hands.desk.steps_in(hands.day.stage)
        hands.desk.record(*(StepDone(step.id) for step in steps[:-1]))
        hands.day.renew()
        hands.day.parts["steps"].choose(steps[-1].id)
        await hands.press("space")
        if steps[-1].minutes:
            await hands.press("e")
        assert hands.day.parts["steps"].key == steps[-1].id
        assert "Scour is done" in foot(hands)
        assert "→ Stock is next" in foot(hands)


async def test_the_arrow_points_back_to_a_stage_left_open(bench: Bench) -> None:
    """With Finish done and Dip not, the words point left, where the dips are."""
    async with bench() as hands:
        await hands.new_day()
        left_open = {step.id for step in hands.desk.steps if step.stage.value == "dip"}
        steps = [step for step in hands.desk.steps if step.id not in left_open]
        hands.desk.record(*(StepDone(step.id) for step in steps[:-1]))
        await hands.to("finish")
        hands.day.parts["steps"].choose(steps[-1].id)
        await hands.press("space")
        await hands.read_on()  # the weekly reducer and lye of a kept vat: read, and done
        assert "Finish is done; ← Dip is next" in foot(hands)


async def test_a_finished_stage_opens_at_its_last_step(bench: Bench) -> None:
    """A stage with nothing left to do does not put its first step to hand."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("plan")
        steps = [step for step in hands.desk.steps if step.stage.value == "scour"]
        hands.desk.record(*(StepDone(step.id) for step in steps))
        await hands.press("right")
        assert hands.day.parts["steps"].key == steps[-1].id


async def test_the_list_of_the_day_begins_at_what_comes_next(bench: Bench) -> None:
    """On the plan space goes to the stage whose turn it is, on a new day and with the scour done; never to the end."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape")
        await hands.later(1)  # the list stands once the day is laid
        assert hands.day.steps.key == "scour"
        await hands.to("stock")
        hands.desk.record(*(StepDone(step.id) for step in hands.desk.steps if step.stage.value == "scour"))
        await hands.to("plan")
        await hands.later(1)
        assert hands.day.steps.key == "stock"
        await hands.press("space")
        assert hands.day.stage.value == "stock"


async def test_what_a_long_day_brings_is_among_what_to_look_out_for(bench: Bench) -> None:
    """That a day ends on the next morning stands in its list, and in the window of everything to look out for."""
    async with bench() as hands:
        await hands.new_day()
        hands.desk.record(PlanChanged("lots.a.mass", Amount(1000, "g")), PlanChanged("lots.a.pieces", 10))
        await hands.press("escape", "i")
        assert "From the first step until all is done it takes" in hands.screen
        await hands.press("escape")
        hands.desk.record(StepDone(hands.desk.steps[0].id))
        await hands.press("i")
        assert "From the first step until all is done it takes" not in hands.screen


@pytest.mark.parametrize("size", SIZES)
async def test_labels_of_the_form_are_whole(bench: Bench, size: tuple[int, int]) -> None:
    """However long the longest label of a stage is, none is cut; in every stage."""
    async with bench(size=size) as hands:
        await hands.new_day()
        for stage in ("plan", "scour", "stock", "vat", "dip", "finish"):
            await hands.to(stage)
            await hands.press("enter")
            rows = [row.text for row in hands.day.form.query_one("#labels", Lines).rows]
            assert [text[1:].strip() for text in rows] == [row.field.label for row in hands.day.form.rows], stage
