"""The quick form of a reading, for wet hands: arrows and first letters choose, a stopwatch stands beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import frozen
from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal

from vatside.bench import vat_acts
from vatside.bench.desk import Desk
from vatside.bench.vat_forms import ReadingDraft
from vatside.catalogue.findings import rows as rows_of_findings
from vatside.forms.field import FormRow
from vatside.log.events.vat import ReadingTaken
from vatside.log.waits import Moment
from vatside.plan.sheet import CARE
from vatside.recipe.vat_needs import Setting
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.text.large import big
from vatside.ui.text.rows import BLANK, Row, Signs, Span, hanging, left, paragraph, row, spread
from vatside.ui.vat.finding_rows import look_next, means_short
from vatside.ui.vat.keys import READING_KEYS, WORDS
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form
from vatside.units.show import clean
from vatside.vat.diagnosis import Finding, ask, judge
from vatside.vat.reading import Reading
from vatside.vat.stock_look import stock_words


@frozen
class Panel:
    """What is known while a reading is written."""

    here: FormRow | None
    """The row in hand."""
    seconds: float | None
    """Of the stopwatch, while it runs."""
    findings: Sequence[Finding]
    setting: Setting
    reading: Reading
    stock: tuple[str, ...] | None = None
    """What it says of a stock; None for a reading of the vat, which alone has findings."""


def head_rows(title: str, seconds: float | None, width: int, signs: Signs) -> tuple[Row, ...]:
    """Say what is being read; the running stopwatch stands at the right edge."""
    watch = () if seconds is None else (Span(f" {signs.running} strip {seconds:.0f} s ", "over"),)
    return (spread((Span(f" {clean(title)}", "strong"),), watch, width),)


def panel_rows(panel: Panel, width: int, signs: Signs) -> tuple[Row, ...]:
    """Fill the panel, what is wanted right now first."""
    rows: list[Row] = []
    if panel.seconds is not None:
        rows += [*_watch(panel.seconds, signs), BLANK]
    rows += _choices(panel.here, width, signs)
    if panel.stock is not None:
        return (*rows, *_of_stock(panel.stock, width))
    rows += _so_far(panel.findings, width, signs)
    rows += _next(panel, width, signs)
    return tuple(rows)


def _of_stock(lines: tuple[str, ...], width: int) -> list[Row]:
    """Say what a reading tells of a stock so far: its own warmth, its own looks."""
    told = lines or ("Measure the stock's temperature, in the middle of the jar.",)
    return [line for text in told for line in paragraph(text, width)]


def _watch(seconds: float, signs: Signs) -> list[Row]:
    text = f"{int(seconds)}"
    scale = 1 if signs.half_blocks else 2
    rows = [row(Span(f" {line}", "number")) for line in big(text, scale, signs)]
    word = "as long as in a good vat" if seconds > _good_seconds() else "seconds, until the strip is blue"
    return [*rows, row(Span(f" {word}", "faint"))]


def _good_seconds() -> float:
    """Give the seconds beyond which a strip speaks for a good vat."""
    return max(sign.above or 0.0 for sign in rows_of_findings()["good"].signs if sign.about == "seconds")


def _choices(in_hand: FormRow | None, width: int, signs: Signs) -> list[Row]:
    """List what the row in hand can be."""
    names = [name for _, name in in_hand.field.choices if name] if in_hand else []
    if in_hand is None or not names:
        return []
    rows = [row(Span(f" {in_hand.field.label}", "head"))]
    for name in names:
        chosen = name == in_hand.text
        text = left(f" {signs.here if chosen else ' '} {name}", width)
        rows.append(row(Span(text, "here" if chosen else "")))
    return [*rows, BLANK]


def _so_far(findings: Sequence[Finding], width: int, signs: Signs) -> list[Row]:
    rows: list[Row] = []
    for item in findings[:4]:
        role = "care" if item.is_out else "good" if item.axis == "none" else "faint"
        sign = CARE.sign if item.is_out else signs.later
        rows += hanging((Span(f" {sign} ", role),), f"{item.name} ({item.sure})", width - 1, role)
    return rows or [row(Span("   nothing to go by yet", "faint"))]


def _next(panel: Panel, width: int, signs: Signs) -> list[Row]:
    return [BLANK, *look_next(ask(panel.reading, panel.setting)[:2], width, signs)]


TIMED = "seconds"
"""The row that the stopwatch fills."""


class ReadingScreen(SessionScreen):
    """Every row is optional; Escape writes down what there is."""

    CSS_PATH = "vat.tcss"
    GIVES_WAY = True
    KEYS = READING_KEYS
    WORDS = WORDS

    def __init__(
        self, desk: Desk, signs: Signs, draft: ReadingDraft, title: str, saved: Callable[[Reading], None]
    ) -> None:
        super().__init__(desk, signs)
        self.draft = draft
        self.title_words = title
        self.saved = saved
        """What to do with the reading."""

    def regions(self) -> ComposeResult:
        """The rows on the left; on the right the stopwatch, the choices, and what the signs say so far."""
        yield self.part("head", self._head)
        with Horizontal(id="body"):
            yield Form(id="form", signs=self.signs)
            yield self.part("panel", self._panel, "So far")
        yield self.part("sofar", self._so_far)

    def on_mount(self) -> None:
        """Begin at the first row."""
        self.form.border_title = "Look and measure"
        self.desk.put_down = self._put_down
        self._show()
        self.call_after_refresh(self.form.take)

    @property
    def form(self) -> Form:
        """The form."""
        return self.query_one(Form)

    def renew(self) -> None:
        """Show everything anew."""
        self.look(self.desk.clock.now())
        self._show()

    def tick(self, now: Moment) -> None:
        """Let the clock and the stopwatch show."""
        super().tick(now)
        if self.draft.started is not None:
            self.refill("panel")

    def _show(self) -> None:
        self.form.show(self.draft.rows(), self.draft.wrong)
        self.refill("head", "panel", "sofar", "waits", "keys")

    @property
    def _seconds(self) -> float | None:
        return self.draft.watch(self.glance.now.elapsed)

    def _head(self, width: int) -> Sequence[Row]:
        return head_rows(self.title_words, self._seconds, width, self.signs)

    def _panel(self, width: int) -> Sequence[Row]:
        in_hand = next((item for item in self.form.rows if item.path == self.form.at), None)
        stock_lines = stock_words(self.draft.reading, self.desk.plan, self.desk.sheet) if self.draft.of_stock else None
        panel = Panel(in_hand, self._seconds, self._findings, self.outlook.setting, self.draft.reading, stock_lines)
        return panel_rows(panel, width, self.signs)

    def _so_far(self, width: int) -> Sequence[Row]:
        return () if self.draft.of_stock else (means_short(self._findings, width),)

    @property
    def _findings(self) -> tuple[Finding, ...]:
        spent = self.desk.state.tending.seen_spent
        return () if spent or self.draft.of_stock else judge(self.draft.reading, self.outlook.setting)

    @property
    def watch_words(self) -> str:
        """Say what space does with the stopwatch, and where it does so if not here."""
        words = "stop the watch" if self.draft.started is not None else "stopwatch"
        entry = self.focused
        takes_space = not isinstance(entry, Entry) or self.wants_space(entry)
        return words if takes_space else f"{words} in {self.signs.cycle}"

    # What is written

    @on(Entry.Typed)
    def _typed(self, event: Entry.Typed) -> None:
        if event.path == TIMED:
            self.draft.started = None  # seconds that are written are not run over by the watch
        self.draft.type(event.path, event.text)
        self.desk.draft(ReadingTaken(self.draft.reading) if self.draft.is_new else None)
        self._show()

    @on(Form.Left)
    def _left(self, event: Form.Left) -> None:
        event.stop()
        self._gone_on(event.path)

    def _gone_on(self, path: str) -> bool:
        """Go on from a row; True where what was written in it now stands in another."""
        words = self.draft.leave(path)
        if words:
            self.desk.draft(ReadingTaken(self.draft.reading))
            self._write_anew()
            self.say(words, 12)
        self._show()
        return bool(words)

    def _write_anew(self) -> None:
        """Write into every field what counts now, the one that has the cursor too."""
        texts = {item.path: item.text for item in self.draft.rows()}
        for entry in self.form.entries:
            entry.write(texts[entry.path])

    @on(Form.Done)
    def _done(self) -> None:
        self.action_save()

    @on(Entry.Aside)
    def _aside(self, event: Entry.Aside) -> None:
        if event.what == "help":
            self.action_help()
        elif event.what == "space":
            self.action_watch()

    def on_descendant_focus(self, _event: events.DescendantFocus) -> None:
        """Show the choices of the row in hand, and what space does there."""
        self.refill("panel", "waits", "keys")

    # The stopwatch

    def wants_space(self, entry: Entry) -> bool:
        """Tell where space is the stopwatch: in rows of choices, and in its own row until a time is being typed."""
        choices = entry.field is not None and bool(entry.field.choices)
        return choices or (entry.path == TIMED and not entry.is_half_typed)

    def action_watch(self) -> None:
        """Stop the stopwatch, or start it if no seconds stand there."""
        entry = self.focused
        if self.draft.started is None and isinstance(entry, Entry) and entry.path == TIMED and entry.value:
            self.say("The seconds stand there already; empty the row, and space starts the stopwatch.")
            return
        self.draft.press_watch(self.desk.clock.now().elapsed)
        self.renew()

    # Leaving

    def action_save(self) -> None:
        """Write the reading down; what cannot be read is put right or emptied first, and nothing at all is nothing."""
        if self.draft.started is not None:
            self.draft.press_watch(self.desk.clock.now().elapsed)
        if self._gone_on(self.form.at):
            return
        wrong = next(iter(self.draft.wrong), "")
        if wrong:
            self.form.take(wrong)
            self.say(f"{self.draft.wrong[wrong].words}. Put it right, or empty it.")
            return
        self.desk.put_down = None
        self.dismiss()
        if self.draft.is_new:
            self.saved(self.draft.reading)
        else:
            self.desk.draft(None)

    def _put_down(self) -> None:
        """Keep what is written, should the app have to be left."""
        if self.draft.is_new:
            vat_acts.take_reading(self.desk, self.draft.reading, self.draft.replaces)
