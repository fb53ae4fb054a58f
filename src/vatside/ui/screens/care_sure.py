"""The questions before something goes into a live vat: cautions, the state of the tub, and refusals to insist on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from attrs import evolve
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from vatside.dayline.cautions import caution
from vatside.dayline.steps import Step
from vatside.recipe.care.corrections import Correction
from vatside.recipe.care.interlocks import Block, Care, TubState, reducer_tub
from vatside.recipe.measures import powder
from vatside.recipe.sheet import Stage
from vatside.session import commands
from vatside.session.care_commands import as_proposed
from vatside.session.care_events import CorrectionMade
from vatside.session.care_lines import care_words
from vatside.ui.screens.asking import CautionWindow
from vatside.ui.screens.watching import Watching
from vatside.ui.screens.window import Window
from vatside.ui.view.care_rows import without_vat
from vatside.ui.view.rows import BLANK, Row, Span, row, wrap
from vatside.ui.widgets.lines import Lines

REDUCER = "reducer"
"""The caution of reducers that heat themselves when damp."""
Go = Callable[[CorrectionMade], None]


def make_sure(screen: Watching, way: Correction, event: CorrectionMade, go: Go) -> None:
    """Ask what must be asked before a correction, then go on with its event."""

    def sure(event: CorrectionMade) -> None:
        read_first(screen, step_of(way, _text(screen, way, event)), lambda: go(event))

    if isinstance(way.guard, Block) and not way.guard.final:
        insist(screen, way.text, way.guard, event, sure)
    else:
        sure(event)


def insist(
    screen: Watching, text: str, guard: Block, event: CorrectionMade, go: Go, title: str = "Refused"
) -> None:  # fmt: skip
    """Refuse or doubt; what is insisted on goes on and says so in the log."""

    def answered(yes: bool | None) -> None:
        if yes:
            go(evolve(event, insisted=True))

    screen.app.push_screen(InsistWindow(text, guard, title), answered)


def _text(screen: Watching, way: Correction, event: CorrectionMade) -> str:
    """Say what is about to be done: as proposed, or with the amount that was typed."""
    plan = screen.desk.state.plan
    proposed = evolve(event, insisted=False) == as_proposed(way, plan)
    return way.text if proposed else without_vat(care_words(event, plan))


def step_of(way: Correction, text: str) -> Step:
    """Give a correction as a step, for its cautions."""
    return Step(
        id=f"care.{way.finding}.{way.remedy}",
        stage=Stage.VAT,
        text=text,
        hands_min=0.0,
        cautions=tuple(caution(name) for name in way.cautions),
    )


def read_once(screen: Watching, event: CorrectionMade, guard: Block | Care | None, go: Callable[[], None]) -> None:
    """Let the cautions of what goes in by hand be read the first time, as those of a step; the log says so."""
    plan = screen.desk.state.plan
    what = powder(plan, event.material).material if event.amount is not None else None
    text = without_vat(care_words(evolve(event, insisted=False), plan))
    step = Step(
        id=f"care.added.{event.material}",
        stage=Stage.VAT,
        text=f"{text}. {guard.text}" if isinstance(guard, Care) else text,
        hands_min=0.0,
        cautions=tuple(caution(name) for name in what.cautions) if what else (),
    )
    if screen.desk.unread(step):
        read_first(screen, step, go)
    else:
        go()


def read_first(screen: Watching, step: Step, go: Callable[[], None]) -> None:
    """Let the cautions that must be read be read, then go on; the log says so."""
    if not any(item.must_acknowledge for item in step.cautions):
        go()
        return

    def answered(read: bool | None) -> None:
        if read:
            screen.desk.log(commands.acknowledge(step))
            go()

    screen.app.push_screen(cautions_of(step), answered)


def cautions_of(step: Step, skipped: Sequence[Step] = ()) -> CautionWindow:
    """Give the window with the cautions of a step; for a reducer that must stay dry it asks how its tub is found."""
    asks = any(item.id == REDUCER for item in step.cautions)
    return TubWindow(step, skipped) if asks else CautionWindow(step, skipped)


class TubWindow(CautionWindow):
    """The cautions of a reducer, and the question how its tub is found."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("d", "found('DAMP')", show=False),
        Binding("w", "found('WARM')", show=False),
    ]

    def __init__(self, step: Step, skipped: Sequence[Step] = ()) -> None:
        super().__init__(step, skipped)
        self.block: Block | None = None

    def _rows(self, width: int) -> Sequence[Row]:
        if self.block is not None:
            return block_rows("Do not use it.", self.block, width)
        head = row(Span("The tub of reducer: dry and cool?", "strong"))
        other = wrap("If it is not: d damp or caked, w warm, smoking or stinging.", width)
        return (head, *(row(Span(line, "care")) for line in other), BLANK, *super()._rows(width))

    def _answers(self, width: int) -> Sequence[Row]:
        if self.block is not None:
            return (row(Span("Esc", "key"), " back; nothing of it goes in"),)
        read = " dry and cool, and I have read this   " if width >= 55 else " dry, cool; read   "
        return (row(Span("Enter", "key"), read, Span("Esc", "key"), Span(" not now", "faint")),)

    def action_found(self, state: str) -> None:
        """Refuse what is in a bad tub, and say what to do with it."""
        self.block = reducer_tub(TubState[state])
        lines = self.query_one("#caution", Lines)
        lines.refill()
        self.query_one("#answers", Lines).refill()
        lines.scroll_home(animate=False)

    def action_answer(self, read: bool) -> None:
        """Close; nothing of a bad tub goes in."""
        self.dismiss(read and self.block is None)


class InsistWindow(Window[bool]):
    """A refusal; one that is not final may be overruled by saying so twice."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,space", "leave", show=False),
        Binding("y", "insist", show=False),
    ]

    def __init__(self, text: str, guard: Block, title: str = "Refused") -> None:
        super().__init__()
        self.title_words = title
        self.text = text
        self.guard = guard
        self.said = 0

    def compose(self) -> ComposeResult:
        """The reason, what to do instead, and how to insist."""
        with Vertical(classes="window danger") as window:
            window.border_title = self.title_words
            yield Lines(self._rows, id="caution")
            yield Lines(self._answers, id="answers", keys=False)

    def on_mount(self) -> None:
        """Take the keys."""
        self.query_one("#caution", Lines).focus()

    def _rows(self, width: int) -> Sequence[Row]:
        return block_rows(self.text, self.guard, width)

    def _answers(self, _width: int) -> Sequence[Row]:
        if self.guard.final:
            return (row(Span("Esc", "key"), " back"),)
        once = Span(" do it all the same", "faint")
        twice = Span(" once more: do it, I know why it is refused", "danger")
        return (row(Span("Esc", "key"), " leave it    ", Span("y", "key"), twice if self.said else once),)

    def action_insist(self) -> None:
        """Say that it is to be done; the second time counts, and never what is refused for good."""
        if self.guard.final:
            return
        self.said += 1
        if self.said == 2:
            self.dismiss(True)
        self.query_one("#answers", Lines).refill()

    def action_leave(self) -> None:
        """Leave it."""
        self.dismiss(False)


def block_rows(text: str, guard: Block, width: int) -> tuple[Row, ...]:
    """Print a refusal with its reason and what to do in its place."""
    return (
        *(row(Span(line, "strong")) for line in wrap(text, width)),
        BLANK,
        *(row(Span(line, "danger")) for line in wrap(f"! {guard.why}", width)),
        BLANK,
        *(row(Span(line, "care")) for line in wrap(f"Better: {guard.instead}", width)),
        BLANK,
    )
