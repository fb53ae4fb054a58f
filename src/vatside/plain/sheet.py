"""`vatside sheet`: every figure of a session, its plan and what was done so far, as text or JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import datetime
from shlex import quote
from typing import Any

from vatside.forms.fields import read, set_value
from vatside.log.fold import fold
from vatside.log.sheet_so_far import so_far
from vatside.plain.paths import listed, unknown
from vatside.plain.say import Refusal, Words, read_day, tell
from vatside.plan.figure_text import figure_text, working_lines
from vatside.plan.plan import Plan
from vatside.plan.severity import severity
from vatside.plan.sheet import Figure, Notice, Remedy, Sheet, Stage
from vatside.recipe.compute import compute
from vatside.recipe.shown import shown
from vatside.units import Problem, show_amount, show_count


def run(words: Sequence[str]) -> int:
    """Print the sheet of a file; exit code 0, or a Refusal."""
    parser = Words(prog="vatside sheet", add_help=False)
    parser.add_argument("file")
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--set", action="append", default=[], metavar="PATH=AMOUNT")
    parser.add_argument("--paths", action="store_true")
    parser.add_argument("--all", action="store_true")
    asked = parser.parse_args(list(words))
    state = fold(read_day(asked.file))
    plan = state.plan
    for change in asked.set:
        plan = _changed(plan, change)
    if asked.paths:
        tell(listed(plan))
        return 0
    sheet = compute(plan, so_far(state))
    tell(printed(plan, sheet, as_json=asked.json, everything=asked.all))
    return 0


def printed(plan: Plan, sheet: Sheet, *, as_json: bool = False, everything: bool = False) -> str:
    """Print a sheet: as text what is weighed and drawn, or everything; as JSON everything."""
    return json.dumps(rows(plan, sheet), ensure_ascii=False, indent=1) if as_json else text(plan, sheet, everything)


def _changed(plan: Plan, change: str) -> Plan:
    path, equals, typed = change.partition("=")
    if not equals:
        raise Refusal(f"--set {change!r}: write PATH=AMOUNT, such as stock.pigment='4 tsp'.")
    try:
        value = read(plan, path.strip(), typed, datetime.now())
    except KeyError:
        raise unknown(plan, path.strip()) from None
    if isinstance(value, Problem):
        raise Refusal(f"--set {path.strip()}: {value.text}.")
    return set_value(plan, path.strip(), value)


def rows(plan: Plan, sheet: Sheet) -> list[dict[str, Any]]:
    """Give the figures as plain data: stage, id, value, unit, text, pinned, working; notices, where it has any.

    A notice says its weight, its text and its remedies: what each does, and the `set` of `--set` by path.
    """
    found = []
    for figure in sheet.figures:
        about = [_notice(item) for item in sheet.notices if item.figure == figure.id]
        found.append(_row(plan, figure) | ({"notices": about} if about else {}))
    return found


def _notice(notice: Notice) -> dict[str, Any]:
    remedies = [{"label": item.label, "set": dict(_typed(item))} for item in notice.remedies]
    return {"weight": notice.weight.value, "text": notice.text, "remedies": remedies}


def _typed(remedy: Remedy) -> Iterator[tuple[str, str]]:
    """Give what a remedy sets, as it is typed; nothing lets a figure follow the plan again."""
    for path, amount in remedy.places:
        yield path, "" if amount is None else show_amount(amount)


def _row(plan: Plan, figure: Figure) -> dict[str, Any]:
    printed = figure_text(figure, plan)
    return {
        "stage": figure.stage.value,
        "id": figure.id,
        "value": figure.value,
        "unit": figure.unit,
        "text": " ".join(part for part in (printed.main, printed.second and f"({printed.second})") if part),
        "pinned": figure.pin is not None,
        "working": "\n".join(working_lines(figure, plan)),
    }


def text(plan: Plan, sheet: Sheet, everything: bool = True) -> str:
    """Print the sheet stage by stage, with its notices; unless `everything`, what the screen shows at once."""
    lines = [plan.title]
    for stage in Stage:
        figures = sheet.of(stage) if everything else shown(sheet, stage)
        notices = [item for item in sheet.notices if item.stage is stage]
        if figures or notices:
            lines += ["", stage.value.capitalize()]
            lines += [_line(plan, figure) for figure in figures]
            lines += [line for notice in notices for line in _said(notice)]
    rest = 0 if everything else len(sheet.figures) - sum(len(shown(sheet, stage)) for stage in Stage)
    return "\n".join([*lines, *(["", f"--all prints {show_count(rest, 'more figure')}"] if rest else [])])


def _said(notice: Notice) -> Iterator[str]:
    yield f"  {severity(notice.weight).sign or '·'} {notice.text}"
    for remedy in notice.remedies:
        changes = " ".join(f"--set {quote(f'{path}={typed}')}" for path, typed in _typed(remedy))
        yield f"      To put it right: {remedy.label}: {changes}"


def _line(plan: Plan, figure: Figure) -> str:
    printed = figure_text(figure, plan)
    label = f"{figure.group}: {figure.label}" if figure.group else figure.label
    tail = "  ".join((printed.second, *printed.marks)).strip()
    return f"  {label:<34} {printed.main:>12}  {tail}".rstrip()
