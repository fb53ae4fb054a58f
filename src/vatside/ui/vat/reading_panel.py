"""What stands beside the form of a reading: the stopwatch, the choices of the row in hand, the signs so far."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from vatside.catalogue.findings import rows as rows_of_findings
from vatside.forms.form_row import FormRow
from vatside.recipe.vat_needs import Setting
from vatside.ui.text.digits import big
from vatside.ui.text.rows import BLANK, Row, Span, left, row, spread, wrap
from vatside.ui.text.signs import Signs
from vatside.units.one_line import clean
from vatside.vat.diagnosis import Finding, ask
from vatside.vat.reading import Reading


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
    rows += _so_far(panel.findings, width, signs)
    rows += _next(panel, width, signs)
    return tuple(rows)


def _watch(seconds: float, signs: Signs) -> list[Row]:
    text = f"{int(seconds)}"
    scale = 1 if signs.half_blocks else 2
    found = [row(Span(f" {line}", "number")) for line in big(text, scale, signs)]
    word = "as long as in a good vat" if seconds > _good_seconds() else "seconds, until the strip is blue"
    return [*found, row(Span(f" {word}", "faint"))]


def _good_seconds() -> float:
    """Give the seconds beyond which a strip speaks for a good vat."""
    return max(sign.above or 0.0 for sign in rows_of_findings()["good"].signs if sign.about == "seconds")


def _choices(here: FormRow | None, width: int, signs: Signs) -> list[Row]:
    """List what the row in hand can be."""
    names = [name for _, name in here.field.choices if name] if here else []
    if here is None or not names:
        return []
    rows = [row(Span(f" {here.field.label}", "head"))]
    for name in names:
        chosen = name == here.text
        text = left(f" {signs.here if chosen else ' '} {name}", width)
        rows.append(row(Span(text, "here" if chosen else "")))
    return [*rows, BLANK]


def _so_far(findings: Sequence[Finding], width: int, signs: Signs) -> list[Row]:
    rows: list[Row] = []
    for item in findings[:4]:
        role = "care" if item.is_out else "good" if item.axis == "none" else "faint"
        sign = signs.alarm if item.is_out else signs.later
        rows += [
            row(Span(f" {sign if n == 0 else ' '} {line}", role))
            for n, line in enumerate(wrap(f"{item.name} ({item.sure})", width - 4))
        ]
    return rows or [row(Span("   nothing to go by yet", "faint"))]


def _next(panel: Panel, width: int, signs: Signs) -> list[Row]:
    questions = ask(panel.reading, panel.setting)[:2]
    rows = [BLANK, row(Span(" Look next", "head"))] if questions else []
    for text in questions:
        lines = enumerate(wrap(text, width - 4))
        rows += [row(Span(f" {signs.later if n == 0 else ' '} {line}", "faint")) for n, line in lines]
    return rows
