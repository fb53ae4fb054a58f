"""Everything to look out for, and the key that puts it right."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Vertical

from vatside.bench import acts
from vatside.bench.desk import Desk
from vatside.plan.sheet import Notice, Remedy
from vatside.ui.base.common_keys import PUT_RIGHT, UNDO
from vatside.ui.base.keymap import Key, only
from vatside.ui.text.form_rows import refused_words
from vatside.ui.text.notice_rows import all_rows, by_stage
from vatside.ui.text.rows import BLANK, Row, Span, clip, row, wrap
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows import put_right
from vatside.ui.windows.window import Window
from vatside.units.one_line import clean


class NoticesWindow(Window[None]):
    """Every notice; the one in hand is put right from here."""

    KEYS = (
        Key("up down", "", "another", "another notice"),
        PUT_RIGHT,
        UNDO._replace(when=only(lambda screen: not screen._fixed)),
        Key("escape,enter,space,i", "leave", "back", "back", means="look out"),
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.said = ""

    def compose(self) -> ComposeResult:
        """The notices, and a line of words below."""
        with Vertical(classes="window tall") as window:
            window.border_title = "To look out for"
            yield Lines(self._rows, id="reading")
            yield Lines(self._words, id="answers", keys=False)

    def on_mount(self) -> None:
        """Begin at the first notice that can be put right."""
        self._show()

    @property
    def notices(self) -> tuple[Notice, ...]:
        """The notices in the order in which they stand."""
        return by_stage(self.desk.notices)

    def _rows(self, width: int) -> Sequence[Row]:
        refused = refused_words(self.desk.plan, self.desk.sheet, self.desk.wrong)
        lines = (line for words in refused for line in wrap(f"! Not taken: {clean(words)}", width - 2))
        first = tuple(row(Span(f" {line}", "care")) for line in lines)
        rest = all_rows(self.notices, width, fixed=self._fixed) if self.notices or not first else ()
        return (*first, BLANK, *rest) if first and rest else (*first, *rest)

    def _words(self, width: int) -> Sequence[Row]:
        if self.said:
            return (row(Span(clip(clean(self.said), width), "said")),)
        return (self.key_row(width),)

    @property
    def _fixed(self) -> bool:
        """Tell a day that is only looked at."""
        return self.desk.keeping.readonly is not None

    @property
    def offers(self) -> bool:
        """Tell whether anything can be put right."""
        return not self._fixed and any(notice.remedies for notice in self.notices)

    def _show(self) -> None:
        """Show everything anew; a notice that can be put right comes to hand."""
        lines = self.query_one("#reading", Lines)
        lines.focus()
        lines.refill()
        at = (str(number) for number, notice in enumerate(self.notices) if notice.remedies)
        lines.choose(next(at, next(iter(lines.keys), "")))
        self.query_one("#answers", Lines).refill()

    def action_advice(self) -> None:
        """Put the notice in hand right."""
        key, notices = self.query_one("#reading", Lines).key, self.notices
        notice = notices[int(key)] if key.isdigit() and int(key) < len(notices) else None
        if notice is None or not notice.remedies or self._fixed:
            self.said = "Nothing is offered that would put this one right."
            self.query_one("#answers", Lines).refill()
            return
        put_right.choose(self.app, notice, self._take)

    def _take(self, remedy: Remedy) -> None:
        self.said = acts.take_remedy(self.desk, remedy)
        self._show()

    def action_undo(self) -> None:
        """Take the last act back."""
        if not self._fixed:
            self.said = self.desk.undo()
            self._show()

    def action_leave(self) -> None:
        """Close."""
        self.dismiss()
