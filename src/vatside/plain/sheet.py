"""`vatside sheet` and `vatside plan`: every figure of a session, or of a plan from nothing but words, as text or JSON.

A session's sheet goes on from what was done; `--set` takes the places of its plan, and those near a word that is none
are named. A new plan is kept as a session where that is asked.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Sequence
from datetime import datetime
from difflib import get_close_matches
from pathlib import Path
from shlex import quote
from typing import Any
from uuid import uuid4

from attrs import evolve

from vatside.clocks.clock import Clock, SystemClock
from vatside.dayline.day_steps import steps
from vatside.dayline.laid_day import lay_day
from vatside.dayline.line.model import NoPlanError
from vatside.dayline.line.planning import AT_ONCE
from vatside.dayline.warn import long_day
from vatside.days.lots import learned_in
from vatside.forms.field import Field, show
from vatside.forms.fields import FieldValue, fields, get_value, read, set_value
from vatside.forms.lot_text import EXAMPLE, with_lot
from vatside.log.fold import fold, so_far
from vatside.log.state import Session
from vatside.plain.say import Refusal, Words, read_day, tell, write_new
from vatside.plan.batches import stage_title
from vatside.plan.figure_text import figure_text, working_lines
from vatside.plan.plan import Dosing, Plan, TubShape
from vatside.plan.sheet import Figure, Notice, Remedy, Sheet, Stage, severity
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.recipe.worksheet import shown
from vatside.storage.flaws import SessionError
from vatside.storage.folder import sessions_folder
from vatside.storage.session_text import encode_new
from vatside.units import Amount, Problem, show_amount, show_count

NEAR = 4
"""How many paths are named for one that is not there."""


def names(plan: Plan) -> dict[str, str]:
    """Give every path that can be set, with its label, in the order of the forms."""
    return {item.path: item.label for stage in Stage for item in fields(plan, stage, hidden=True)}


def near(plan: Plan, typed: str) -> tuple[str, ...]:
    """Give the paths that a wrong one may have meant: with its last word in path or label, or much like it."""
    known, word = names(plan), typed.rpartition(".")[2].casefold()
    within = [path for path, label in known.items() if word and word in f"{path} {label}".casefold()]
    same_stage = sorted(within, key=lambda path: path.partition(".")[0] != typed.partition(".")[0])
    alike = get_close_matches(typed.casefold(), known, n=NEAR, cutoff=0.5)
    return tuple(dict.fromkeys((*same_stage, *alike)))[:NEAR]


def unknown(plan: Plan, typed: str) -> Refusal:
    """Give the sentence for a path that the plan does not have."""
    nearby = near(plan, typed)
    instead = f"near it are {', '.join(nearby)}; --paths lists all" if nearby else "--paths lists those there are"
    return Refusal(f"--set {typed!r}: the plan has no such place; {instead}.")


def listed(plan: Plan) -> str:
    """Print every path with what it is called and what stands there, stage by stage."""
    lines: list[str] = []
    for stage in Stage:
        rows = fields(plan, stage, hidden=True)
        if rows:
            lines += [*([""] if lines else []), stage.value.capitalize()]
            lines += [_path_line(item, show(item, get_value(plan, item.path))) for item in rows]
    return "\n".join(lines)


def _path_line(row: Field, text: str) -> str:
    return f"  {row.path:<30} {row.label:<24} {text}".rstrip()


def run_sheet(words: Sequence[str]) -> int:
    """Print the sheet of a file; exit code 0, or a Refusal."""
    parser = Words("sheet", "file", "--json", "--paths", "--all")
    parser.add_argument("--set", action="append", default=[], metavar="PATH=AMOUNT")
    asked = parser.read(words)
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
    table = []
    for figure in sheet.figures:
        about = [_notice(item) for item in sheet.notices if item.figure == figure.id]
        table.append(_row(plan, figure) | ({"notices": about} if about else {}))
    return table


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
            lines += ["", stage_title(plan, stage)]
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


TUB = "vessels.tub.volume"
DOSINGS = {"spent": Dosing.SPENT, "working": Dosing.WORKING}
MOST_LETTERS = 80
"""Letters of a title."""


def run_plan(words: Sequence[str], clock: Clock | None = None) -> int:
    """Print the sheet of a new plan and save it where asked; exit code 0, or a Refusal."""
    asked = _words().read(words)
    now = (clock or SystemClock()).now()
    plan = _plan(asked.lot, asked.tub)
    plan = _dosed(plan, asked.dosing)
    for option, path in (("method", "method"), ("purity", "shelf.indigo.purity"), ("ready", "ready_by")):
        typed = getattr(asked, option)
        if typed is not None:
            plan = set_value(plan, path, _read(plan, option, path, typed, now.utc.astimezone().replace(tzinfo=None)))
    plan = _by_own_results(plan)
    sheet = compute(plan)
    if asked.save is not None:
        write_new(asked.save, encode_new(Session(uuid4().hex[:16], now.utc, plan)))
        print(f"vatside plan: {asked.save} written", file=sys.stderr)
    tell(printed(plan, sheet, as_json=asked.json, everything=asked.all))
    if not asked.json and (remark := _said_of_the_day(plan, sheet, now.utc)):
        tell(f"\n! {remark}")
    return 0


def _said_of_the_day(plan: Plan, sheet: Sheet, now: datetime) -> str:
    """Say what is to be said of a day that begins before dawn or ends in the night."""
    todo = steps(plan, sheet)
    try:
        day = lay_day(plan, sheet, todo, now, evaluations=AT_ONCE)
    except NoPlanError as error:
        return f"This day cannot be laid: {error}."
    return long_day(plan, sheet, todo, day)


def _by_own_results(plan: Plan) -> Plan:
    """Let the plan go by what the dyer's own days say that her fibres take."""
    try:
        return evolve(plan, learned=learned_in(sessions_folder()))
    except SessionError:  # there is no such place
        return plan


def _words() -> Words:
    parser = Words("plan", "--all", "--json", purity=str, dosing=str, method=str, ready=str, save=Path)
    parser.add_argument("--lot", action="append", default=[])
    parser.add_argument("--tub", action="append", default=[])
    return parser


def _plan(lots: Sequence[str], tubs: Sequence[str]) -> Plan:
    """Give the plan of these lots in these tubs, each to its brim; the rest as on a new day."""
    if not lots:
        raise Refusal(f'a plan takes at least one lot, such as --lot "{EXAMPLE}".')
    plan = evolve(starter_plan(), lots=())
    for text in lots:
        more = with_lot(plan, text)
        if isinstance(more, Problem):
            raise Refusal(f"--lot: {more.text}.")
        plan = more
    title = " and ".join(lot.name for lot in plan.lots)
    named = evolve(plan, title=title if len(title) <= MOST_LETTERS else f"{len(lots)} lots")
    return _in_tubs(named, tubs)


def _in_tubs(plan: Plan, tubs: Sequence[str]) -> Plan:
    """Give the plan its tubs: the first one written is the tub of the form, the others stand beside it."""
    brims = [brim for typed in tubs if isinstance(brim := _read(plan, "tub", TUB, typed), Amount)]
    if not brims:
        return plan
    first, *others = brims
    vessels = plan.vessels
    tub = evolve(vessels.tub, shape=TubShape.LITRES, volume=first)
    return evolve(plan, vessels=evolve(vessels, tub=tub, others=tuple(others)))


def _dosed(plan: Plan, word: str | None) -> Plan:
    if word is not None and word not in DOSINGS:
        raise Refusal(f"--dosing: {word!r} is no way of dosing; write {' or '.join(DOSINGS)}.")
    return evolve(plan, dosing=DOSINGS[word]) if word else plan


def _read(plan: Plan, option: str, path: str, typed: str, now: datetime | None = None) -> FieldValue:
    """Read what an option says as the form would; `now` (naive local) dates an hour."""
    value = read(plan, path, typed, now)
    if isinstance(value, Problem):
        raise Refusal(f"--{option}: {value.text}.")
    if value is None:
        raise Refusal(f"--{option}: nothing is written after it.")
    return value
