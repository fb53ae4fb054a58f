"""What is read behind the day: the working of a figure, with the place to hold it by hand, and the log."""

from __future__ import annotations

from collections.abc import Sequence

from textual import on
from textual.app import ComposeResult
from textual.widgets import Input

from vatside.bench import acts
from vatside.bench.desk import Desk
from vatside.forms.fields import field, show
from vatside.plan.figure_text import working_lines
from vatside.plan.sheet import CARE, Figure, Notice, Remedy, gravest_first
from vatside.ui.base.screens import Window
from vatside.ui.day.keys import WORKING_KEYS
from vatside.ui.text.rows import BLANK, Row, Span, hanging, row, wrap, wrapped
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows.notices import choose_remedy, concerns, notice_rows, offered
from vatside.units.show import clean


def log_rows(lines: Sequence[str], width: int) -> tuple[Row, ...]:
    """Print every line of a log under its day, the ones taken back fainter."""
    rows: list[Row] = []
    day = ""
    for line in lines:
        stamp, _, text = line.partition("  ")
        if stamp[:10] != day:
            day = stamp[:10]
            rows += ([BLANK] if rows else []) + [row(Span(day, "head"))]
        role = "faint" if text.endswith("[taken back]") else ""
        rows += hanging((Span(f" {stamp[11:16]}  ", "number"),), text, width, role)
    return tuple(rows) or (row(Span("Nothing has happened yet.", "faint")),)


class WorkingWindow(Window[str]):
    """How a figure came about; up and down go to the others, typing holds one that can be held."""

    AUTO_FOCUS = ""
    """A figure that cannot be held has no field: its letters are commands."""
    KEYS = WORKING_KEYS
    title_words = "Working"

    def __init__(self, desk: Desk, ids: Sequence[str], at: str) -> None:
        super().__init__()
        self.desk = desk
        self.ids = tuple(ids)
        self.at = at if at in self.ids else self.ids[0]

    def regions(self) -> ComposeResult:
        """The words, and a field below."""
        yield Lines(self._rows, id="working", keys=False)
        yield Entry()
        yield Lines(self._words, id="hold-words", keys=False)

    def on_mount(self) -> None:
        """Show the first figure."""
        self._turn()

    @property
    def figure(self) -> Figure:
        """The figure whose working is shown."""
        return self.desk.sheet[self.at]

    def _rows(self, width: int) -> Sequence[Row]:
        rows: list[Row] = []
        for number, line in enumerate(working_lines(self.figure, self.desk.plan)):
            inset = "  " if line.startswith("  ") else ""
            role = "strong" if number == 0 else "faint" if line.startswith("Source") else ""
            rows += [row(Span(inset + part, role)) for part in wrap(clean(line), width - 2)]
        fixed = self.desk.keeping.readonly is not None
        about = [item for item in self.desk.sheet.notices if concerns(item, self.at)]
        notices = notice_rows(gravest_first(about), width, fixed=fixed)
        return (*notices, *([BLANK] if notices else []), *rows, BLANK)

    def _words(self, width: int) -> Sequence[Row]:
        wrong, ink = self.desk.wrong.get(self.at), "faint"
        if wrong:
            text, ink = f"{CARE.opening}{clean(wrong.words)}", CARE.ink
        elif not self.figure.pinnable or self.desk.keeping.readonly:
            text = "follows from the others; it cannot be set by hand"
        elif self.figure.pin:
            text = "set by you; empty the field to let it follow the plan"
        else:
            text = "type an amount to set it"
        return (*wrapped(text, width, ink), *self.key_rows(width))

    def _turn(self) -> None:
        """Show the figure in hand."""
        entry = self.query_one(Entry)
        can = self.figure.pinnable and not self.desk.keeping.readonly
        entry.display = can
        if can:
            entry.give(field(self.desk.plan, self.at), show(self.desk.plan, self.at), "set to …")
        self.set_focus(entry if can else None)
        self._refill()

    def _refill(self) -> None:
        for lines in self.query(Lines):
            lines.refill()

    @on(Entry.Typed)
    def _typed(self, event: Entry.Typed) -> None:
        self.desk.type(event.path, event.text)
        if event.path in self.desk.wrong:
            self.desk.leave()  # what stood there before the first key counts again
        self._refill()

    @on(Entry.Aside)
    def _aside(self, event: Entry.Aside) -> None:
        if event.what == "advice":
            self.action_advice()
        else:
            self.action_leave()

    @property
    def offers(self) -> tuple[Notice, ...]:
        """The notices about the figure that can be put right."""
        if self.desk.keeping.readonly:
            return ()
        return tuple(item for item in offered(self.desk.sheet.notices) if concerns(item, self.at))

    def action_advice(self) -> None:
        """Put right what a notice about the figure is about; what was typed is logged first."""
        self.desk.leave()
        offers = self.offers
        if offers:
            choose_remedy(self.app, offers[0], self._take)

    def _take(self, remedy: Remedy) -> None:
        acts.take_remedy(self.desk, remedy)
        there = {figure.id for figure in self.desk.sheet.figures}
        self.ids = tuple(name for name in self.ids if name in there)
        if not self.ids:
            self.dismiss(self.at)
            return
        self.at = self.at if self.at in there else self.ids[0]
        if self.figure.pinnable:
            self.query_one(Entry).write(show(self.desk.plan, self.at))
        self._turn()

    @on(Input.Submitted)
    def action_leave(self) -> None:
        """Log what was held, and close."""
        self.desk.settle()
        self.dismiss(self.at)

    def action_scroll(self, by: int) -> None:
        """Bring more of a long working into view."""
        self.query_one("#working", Lines).scroll_relative(y=by, animate=False)

    def action_other(self, by: int) -> None:
        """Log what was held, and go to another figure."""
        self.desk.settle()
        self.desk.wrong.pop(self.at, None)
        there = {figure.id for figure in self.desk.sheet.figures}
        at, count = self.ids.index(self.at), len(self.ids)
        # Holding one figure may have taken others off the sheet.
        further = (self.ids[(at + by * step) % count] for step in range(1, count + 1))
        next_id = next((key for key in further if key in there), None)
        if next_id is None:
            self.dismiss("")
            return
        self.at = next_id
        self._turn()
