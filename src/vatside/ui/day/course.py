"""How a day goes on the day's screen: at work, by the clock on the wall. A replay brings a course of its own."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from vatside.bench.desk import Desk, local
from vatside.bench.glance import Glance
from vatside.plan.sheet import Stage
from vatside.ui.base.keymap import Sections, Table
from vatside.ui.day.keys import DAY_KEYS, DAY_WORDS
from vatside.ui.text.bars import day_bar
from vatside.ui.text.head_rows import standing_spans, time_spans, vat_words
from vatside.ui.text.rows import Row, Span
from vatside.ui.text.signs import Signs


class Course(Protocol):
    """What a day at work and a replayed one do each in their own way; the acts of its own keys come beside that."""

    keys: Table
    """The keys of the screen; actions of its own are `course('…')`."""
    words: Sections
    """What the help explains after them."""
    moving: tuple[str, ...]
    """The regions that move with its clock, beside those of every day."""
    nothing_runs: Sequence[Row] | None
    """What stands where the waits are while there is none; None: how to start one."""
    shows_form: bool
    """The form can be looked at although nothing in it can be changed."""

    def time_spans(self, glance: Glance, width: int) -> Sequence[Span]:
        """Say in the head what time it is, and what of it matters."""

    def day_line(self, glance: Glance, width: int) -> Sequence[Row]:
        """Say how far the day has come."""

    def above_notices(self, width: int) -> Sequence[Row]:
        """Say what must be seen before the notices of the day."""

    def above_keys(self, width: int) -> Sequence[Row]:
        """Say what stands over the keys."""

    def turned(self) -> None:
        """Know that the dyer turned to a stage by hand."""

    def latest(self) -> tuple[Stage, str] | None:
        """Give the stage and step that the screen goes to once the clock has brought something new; None: it stays."""


class DayAtWork:
    """A day that goes on now."""

    keys = DAY_KEYS
    words = DAY_WORDS
    moving: tuple[str, ...] = ("coming",)
    nothing_runs: Sequence[Row] | None = None
    shows_form = False

    def __init__(self, desk: Desk, signs: Signs) -> None:
        self.desk = desk
        self.signs = signs

    def time_spans(self, glance: Glance, width: int) -> Sequence[Span]:  # noqa: ARG002
        """Say what is wrong with the file, or when the vat is ready, or how it stands."""
        vat = vat_words(self.desk.state, glance.waits, self.desk.disorder(glance.now)) if glance.day.is_ready else ""
        today = local(glance.now).date()
        return standing_spans(self.desk.keeping.standing) or time_spans(
            glance.day, self._share(glance) == 1, vat, today
        )

    def day_line(self, glance: Glance, width: int) -> Sequence[Row]:
        """Say which share of the steps is done."""
        return (Row(day_bar(self._share(glance), width, self.signs)),)

    def _share(self, glance: Glance) -> float:
        done, steps = glance.progress.done, self.desk.steps
        return sum(step.id in done for step in steps) / len(steps) if steps else 0.0

    def above_notices(self, width: int) -> Sequence[Row]:  # noqa: ARG002
        """Nothing comes before the notices."""
        return ()

    def above_keys(self, width: int) -> Sequence[Row]:  # noqa: ARG002
        """Nothing stands over the keys."""
        return ()

    def turned(self) -> None:
        """It never turns by itself."""

    def latest(self) -> tuple[Stage, str] | None:
        """Stay: what is new came from the dyer."""
        return None
