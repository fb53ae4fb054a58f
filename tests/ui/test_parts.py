"""The widgets of the screens of a session, each mounted alone; and how few classes a screen is made of."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import session
from tests.ui.hands import key_event, settled
from textual.app import App, ComposeResult
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widget import Widget

import vatside.ui
from vatside.bench.desk import Desk
from vatside.bench.glance import Glance, WaitView
from vatside.bench.open_day import new_day
from vatside.bench.replay_desk import ReplayDesk
from vatside.log.events.day import StepDone
from vatside.plan.sheet import Stage
from vatside.plan.starter import starter_plan
from vatside.ui.app import VatsideApp
from vatside.ui.base.keymap import Shown
from vatside.ui.day.body import DayBody, Hand, StageForm
from vatside.ui.day.figure_table import FigureTable
from vatside.ui.day.head import Banner, Course, DayHead
from vatside.ui.day.step_list import StepList
from vatside.ui.text.rows import UNICODE, Row, Span, row
from vatside.ui.theme.choice import Looks
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.lines import SAID, KeyLine, Lines, WaitsBar

MOST_CLASSES = 3
"""Classes of ours that a screen is made of, itself among them, above those of the library."""
LONGEST_APP = 150
"""Lines of the app's class."""


def every_class_of_the_screens() -> list[type]:
    """Every class that a module of the screens defines."""
    names = [found.name for found in pkgutil.walk_packages(vatside.ui.__path__, "vatside.ui.")]
    modules = [importlib.import_module(name) for name in names]
    return [one for module in modules for one in vars(module).values() if inspect.isclass(one)]


def test_a_screen_is_made_of_few_classes() -> None:
    """No screen stands on a tower: at most three classes of ours lie above the library's own, mixins counted."""
    screens = {one for one in every_class_of_the_screens() if issubclass(one, Screen) and of_ours(one)}
    assert len(screens) > 20
    towers = {one.__name__: [base.__name__ for base in one.__mro__ if of_ours(base)] for one in screens}
    assert not {name: bases for name, bases in towers.items() if len(bases) > MOST_CLASSES}


def test_the_app_only_wires() -> None:
    """What the app does lies in parts of its own."""
    assert len(inspect.getsource(VatsideApp).splitlines()) <= LONGEST_APP


def of_ours(one: type) -> bool:
    """Tell whether a class is the project's own."""
    return one.__module__.startswith("vatside.")


class Alone(App[None]):
    """An app with nothing in it but one widget, in the look of the others."""

    def __init__(self, part: Widget) -> None:
        super().__init__()
        self.part = part
        self.heard: list[Any] = []
        Looks().put_on_first(self)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Give the colours that the parts are painted in."""
        return Looks.defaults()

    def compose(self) -> ComposeResult:
        """The one widget."""
        yield self.part

    def on_stage_form_changed(self, event: StageForm.Changed) -> None:
        """Note what the form tells."""
        self.heard.append(event.words)

    def on_stage_form_mended(self, event: StageForm.Mended) -> None:
        """Note what the form takes back."""
        self.heard.append(("mended", event.words))


@asynccontextmanager
async def alone(part: Widget, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Pilot[None]]:
    """Mount a widget alone."""
    async with Alone(part).run_test(size=size) as pilot:
        await settled(pilot.app)
        yield pilot


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys, each once the one before has done its work."""
    for key in keys:
        pilot.app.post_message(key_event(key))
        await settled(pilot.app)


def text_of(lines: Lines) -> str:
    """Everything that a region shows, filled anew."""
    lines.refill()
    return "\n".join(row.text for row in lines.rows)


def wait(number: int, **more: Any) -> WaitView:
    """A wait with ten minutes to go."""
    return WaitView(f"w{number}", number, f"Wait {number}", 600, 0.5, **more)


@pytest.fixture(name="desk")
def _desk(tmp_path: Path) -> Desk:
    """A day just begun."""
    return new_day(tmp_path, VirtualClock(), starter_plan())


def glance_of(desk: Desk) -> Glance:
    """One look at the clock of a day."""
    return desk.glance(desk.clock.now())


class TestKeyLine:
    """Sentences have a row of their own above the keys."""

    async def test_a_sentence_stands_above_the_keys_until_its_time_is_over(self) -> None:
        """Six seconds, unless it is said for longer."""
        seconds = 0.0
        line = KeyLine(lambda: (Shown("u", "undo", ""), Shown("?", "help", "")), lambda: seconds)
        line.resting = lambda width: (row(Span("how far the day is")),)
        async with alone(line):
            assert "undo" in text_of(line)
            line.say("Two waits moved.")
            assert [item.strip()[:6] for item in text_of(line).splitlines()] == ["Two wa", "u undo"]
            seconds = SAID
            line.refill()
            assert [item.strip()[:6] for item in text_of(line).splitlines()] == ["how fa", "u undo"]
            line.say("A longer one.", 30)
            seconds += 29
            assert "A longer one." in text_of(line)

    async def test_only_the_sentence_that_stands_there_is_taken_back(self) -> None:
        """What was said in between stays."""
        line = KeyLine(lambda: (Shown("?", "help", ""),), lambda: 0.0)
        async with alone(line):
            line.say("That is no amount.")
            line.say("Something else.")
            line.unsay("That is no amount.")
            assert "Something else." in text_of(line)
            line.unsay("Something else.")
            assert "help" in text_of(line)

    async def test_what_is_said_before_it_stands_is_shown_once_it_does(self) -> None:
        """A day says how it was left as it opens."""
        line = KeyLine(lambda: (Shown("?", "help", ""),), lambda: 0.0)
        line.say("Nothing was lost.")
        async with alone(line):
            assert "Nothing was lost." in text_of(line)

    async def test_rows_over_the_keys_stay_while_something_is_said(self) -> None:
        """A replay says there what happened last."""
        line = KeyLine(lambda: (Shown("?", "help", ""),), lambda: 0.0)
        line.above = lambda width: (row(Span("Stock in")),)
        async with alone(line):
            line.say("Faster.")
            assert text_of(line).splitlines() == ["Stock in", " Faster.", " ? help"]


class TestWaitsBar:
    """One of the waits is in hand."""

    async def test_the_first_is_in_hand_until_another_is_chosen_by_its_number(self) -> None:
        """A number that no wait has changes nothing."""
        bar = WaitsBar(UNICODE)
        bar.look_at([wait(1), wait(2)])
        async with alone(bar):
            assert bar.in_hand == wait(1)
            bar.take_in_hand(2)
            assert bar.in_hand == wait(2)
            bar.take_in_hand(7)
            assert bar.in_hand == wait(2)
            marked = [item for item in text_of(bar).splitlines() if item.startswith(UNICODE.cycle[0])]
            assert [item[:3] for item in marked] == ["‹2›"]

    def test_a_wait_that_begins_to_ring_comes_to_hand(self) -> None:
        """Once; what rings on already takes no choice away."""
        bar = WaitsBar(UNICODE)
        bar.look_at([wait(1), wait(2)])
        bar.take_in_hand(2)
        ringing = [wait(1, ringing=True), wait(2)]
        bar.look_at(ringing)
        assert bar.in_hand == ringing[0]
        bar.take_in_hand(2)
        bar.look_at(ringing)
        assert bar.in_hand == wait(2)

    def test_a_suggested_wait_comes_before_the_first_and_after_a_chosen_one(self) -> None:
        """The board suggests the wait of the piece in hand."""
        bar = WaitsBar(UNICODE)
        bar.suggested = lambda: "w2"
        bar.look_at([wait(1), wait(2), wait(3)])
        assert bar.in_hand == wait(2)
        bar.take_in_hand(3)
        assert bar.in_hand == wait(3)
        bar.look_at([wait(1)])
        assert bar.in_hand == wait(1)
        bar.look_at([])
        assert bar.in_hand is None

    async def test_it_says_how_to_begin_unless_something_else_stands_there(self) -> None:
        """A replay says what was; a screen beside the day says nothing."""
        for nothing, shown in ((None, " Nothing is running"), ((row(Span("None.")),), "None."), ((), "")):
            bar = WaitsBar(UNICODE, nothing)
            async with alone(bar):
                assert text_of(bar).startswith(shown)
                assert bool(text_of(bar)) is bool(shown)

    async def test_it_holds_no_more_rows_than_it_is_given(self) -> None:
        """The rest is counted."""
        bar = WaitsBar(UNICODE, most=2)
        bar.look_at([wait(number) for number in range(1, 8)])
        async with alone(bar):
            assert "and 5 more" in text_of(bar)
            assert len(bar.rows) == 2


async def test_the_head_names_day_and_stage_and_what_stands_at_the_right(desk: Desk) -> None:
    """What is at the right is handed in: the hour, or that it is a replay."""
    head = DayHead(desk, UNICODE, Stage.STOCK, glance_of(desk), lambda glance, width: (Span(f"{width} columns"),))
    async with alone(head, (120, 24)):
        title, stages = text_of(head).splitlines()
        assert desk.plan.title in title
        assert title.rstrip().endswith("120 columns")
        assert "STOCK" in stages
        still = [row.spans for row in head.rows]
        head.turns = False
        head.refill()
        assert [row.spans for row in head.rows] != still


class TestStepList:
    """The cursor stands on the step that space does."""

    async def test_it_begins_at_the_first_and_goes_on_to_the_next(self, desk: Desk) -> None:
        """Once a step is done."""
        steps = StepList(desk, UNICODE, Stage.STOCK, glance_of(desk))
        first, second = desk.steps_in(Stage.STOCK)[:2]
        async with alone(steps):
            steps.keep_cursor()
            assert steps.step_in_hand == first
            desk.record(StepDone(first.id))
            steps.glance = glance_of(desk)
            steps.refill()
            steps.keep_cursor()
            assert steps.step_in_hand == first
            steps.choose_next()
            assert steps.step_in_hand == second == steps.next_step

    async def test_with_nothing_left_to_begin_it_stays(self, desk: Desk) -> None:
        """A done step never comes to hand by itself."""
        steps = StepList(desk, UNICODE, Stage.STOCK, glance_of(desk))
        async with alone(steps):
            assert not steps.is_finished
            *most, last = desk.steps_in(Stage.STOCK)
            steps.choose(last.id)
            desk.record(*(StepDone(step.id) for step in (*most, last)))
            steps.glance = glance_of(desk)
            steps.refill()
            steps.choose_next()
            assert steps.step_in_hand == last
            assert steps.is_finished

    async def test_on_the_plan_it_lists_the_stages(self, desk: Desk) -> None:
        """And begins at the top of another stage."""
        steps = StepList(desk, UNICODE, Stage.STOCK, glance_of(desk))
        async with alone(steps):
            steps.keep_cursor()
            steps.turn(Stage.PLAN)
            steps.refill()
            assert steps.border_title == "The day"
            assert not steps.key
            assert {stage.value for stage in desk.stages() if stage is not Stage.PLAN} >= set(steps.keys)
            assert "Vat and fibre ready" in text_of(steps)

    async def test_on_the_plan_it_goes_to_what_is_first_once_the_day_is_laid(
        self, desk: Desk, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """The stock before the scour: the cursor goes along to it, but not from where the dyer has put it."""
        order = ["scour", "stock", "vat", "dip", "finish"]
        monkeypatch.setattr(StepList, "_day", lambda _self, _width: [Row((Span(key),), key) for key in order])
        steps = StepList(desk, UNICODE, Stage.PLAN, glance_of(desk))
        async with alone(steps):
            steps.refill()
            steps.keep_cursor()
            assert steps.key == "scour"
            order[:2] = ["stock", "scour"]
            steps.refill()
            steps.keep_cursor()
            assert steps.key == "stock"
            steps.choose("dip")
            steps.keep_cursor()
            assert steps.key == "dip"


class TestFigureTable:
    """What a stage weighs and draws."""

    async def test_it_shows_few_figures_or_all(self, desk: Desk) -> None:
        """The title says which key shows the others."""
        figures = FigureTable(desk, UNICODE, Stage.STOCK, glance_of(desk))
        async with alone(figures, (80, 60)):
            figures.refill()
            few = set(figures.keys)
            assert str(figures.border_title).endswith("(z: all)")
            desk.all_figures = True
            figures.put_title()
            figures.refill()
            assert few < set(figures.keys)
            assert str(figures.border_title).endswith("(z: fewer)")

    async def test_a_figure_that_is_not_shown_is_looked_at_among_all_of_its_stage(self, desk: Desk) -> None:
        """From one that is shown the arrows go to those on the screen."""
        figures = FigureTable(desk, UNICODE, Stage.STOCK, glance_of(desk))
        async with alone(figures, (80, 60)):
            figures.refill()
            assert figures.ids_round(figures.keys[0]) == figures.keys
            hidden = next(item.id for item in desk.sheet.of(Stage.STOCK) if item.id not in figures.keys)
            assert figures.ids_round(hidden) == tuple(item.id for item in desk.sheet.of(Stage.STOCK))

    async def test_while_a_depth_is_set_the_ladder_stands_there(self, desk: Desk) -> None:
        """In every other field of the plan the figures of the whole day do."""
        figures = FigureTable(desk, UNICODE, Stage.PLAN, glance_of(desk))
        async with alone(figures):
            table = text_of(figures)
            figures.setting = f"lots.{desk.plan.lots[0].id}.mass"
            assert text_of(figures) == table
            figures.setting = f"lots.{desk.plan.lots[0].id}.depth"
            assert text_of(figures) != table


class TestStageForm:
    """What is typed is on the desk at once."""

    async def test_a_key_is_on_the_desk_and_told(self, desk: Desk) -> None:
        """Nothing is logged before the entry is left."""
        form = StageForm(desk, UNICODE, Stage.PLAN)
        async with alone(form) as pilot:
            form.show_stage(Stage.PLAN)
            form.take("title")
            await press(pilot, *"Blue")
            assert desk.plan.title.endswith("Blue")
            assert form.field_in_hand is not None
            assert form.field_in_hand.path == "title"
            assert not desk.state.entries
            await press(pilot, "enter")
            assert [entry.event.kind for entry in desk.state.entries] == ["plan_changed"]
            assert pilot.app.heard[-1] == ""  # type: ignore[attr-defined]

    async def test_a_refused_text_is_told_when_its_field_is_left_and_taken_back_when_it_is_mended(
        self, desk: Desk
    ) -> None:  # fmt: skip
        """What stood there before counts meanwhile."""
        form = StageForm(desk, UNICODE, Stage.PLAN)
        path = f"lots.{desk.plan.lots[0].id}.mass"
        async with alone(form) as pilot:
            heard = pilot.app.heard  # type: ignore[attr-defined]
            before = desk.plan
            form.show_stage(Stage.PLAN)
            form.take(path)
            await press(pilot, "home", *"xyz")
            assert path in desk.wrong
            await press(pilot, "enter")
            assert desk.plan == before
            words = heard[-1]
            assert words
            form.take(path)
            await press(pilot, "home", "delete", "delete", "delete")
            assert ("mended", words) in heard
            assert not desk.wrong


async def test_notices_keep_their_rows_while_someone_types(desk: Desk) -> None:
    """The form must not jump about for notices that come and go with every key."""
    banner = Banner(desk, Stage.PLAN, lambda width: ())
    desk.type("lots.a.mass", "9 kg")
    async with alone(banner):
        banner.typing = True
        banner.refill()
        high = len(banner.rows)
        assert high > 0
        desk.type("lots.a.mass", "200 g")
        banner.refill()
        assert len(banner.rows) == high
        banner.typing = False
        banner.refill()
        assert len(banner.rows) < high


class TestDayBody:
    """One of three regions has the keys."""

    async def test_the_keys_go_round(self, desk: Desk) -> None:
        """From the steps to the figures, and only then into the form."""
        body = DayBody(desk, UNICODE, Stage.STOCK, glance_of(desk), shows_form=False)
        async with alone(body) as pilot:
            body.form.show_stage(Stage.STOCK)
            await settled(pilot.app)
            seen = []
            for _ in range(3):
                assert body.take(body.hand) == ""
                await settled(pilot.app)
                seen.append(type(pilot.app.focused))
                assert pilot.app.screen.has_class(f"-{body.hand.value}")
                body.mark(body.after(1))
            assert seen == [StepList, FigureTable, Entry]
            assert body.hand is Hand.DO

    async def test_a_form_that_cannot_be_changed_takes_no_keys(self, tmp_path: Path) -> None:
        """Of a day that can only be read it says why; of a replay it is looked at."""
        desk = ReplayDesk(session(), VirtualClock())
        body = DayBody(desk, UNICODE, Stage.PLAN, glance_of(desk), shows_form=False)
        async with alone(body) as pilot:
            assert body.take(Hand.SET).startswith("Reading only")
            assert body.hand.value == "doing"
            body.shows_form = True
            assert (body.take(Hand.SET), body.hand.value) == ("", "setting")
            assert pilot.app.focused is None


def test_a_day_at_work_shows_the_share_of_its_steps(desk: Desk) -> None:
    """Half of them done fill half of the line."""
    course = Course(desk, UNICODE)
    steps = desk.steps
    empty = course.day_line(glance_of(desk), 60)
    desk.record(*(StepDone(step.id) for step in steps))
    assert course.day_line(glance_of(desk), 60) != empty
    assert course.latest() is None
