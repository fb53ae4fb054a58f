"""`vatside plan`: a plan from nothing but words, printed as a sheet, and kept as a session where that is asked."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from uuid import uuid4

from attrs import evolve

from vatside.clocks.clock import Clock, SystemClock
from vatside.dayline.day_steps import steps
from vatside.dayline.long_day import long_day
from vatside.dayline.schedule import schedule
from vatside.days.own_uptake import learned_in
from vatside.forms.fields import FieldValue, read, set_value
from vatside.forms.lot_text import EXAMPLE, with_lot
from vatside.log.session import Session
from vatside.plain.new_file import write_new
from vatside.plain.say import Refusal, Words, tell
from vatside.plain.sheet import printed
from vatside.plan.plan import Dosing, Plan, TubShape
from vatside.plan.sheet import Sheet
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.storage.flaws import SessionError
from vatside.storage.folder import sessions_folder
from vatside.storage.session_text import encode_new
from vatside.units import Amount, Problem

TUB = "vessels.tub.volume"
DOSINGS = {"spent": Dosing.SPENT, "working": Dosing.WORKING}
MOST_LETTERS = 80
"""Letters of a title."""


def run(words: Sequence[str], clock: Clock | None = None) -> int:
    """Print the sheet of a new plan and save it where asked; exit code 0, or a Refusal."""
    asked = _words().parse_args(list(words))
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
    if not asked.json and (said := _said_of_the_day(plan, sheet, now.utc)):
        tell(f"\n! {said}")
    return 0


def _said_of_the_day(plan: Plan, sheet: Sheet, now: datetime) -> str:
    """Say what is to be said of a day that begins before dawn or ends in the night."""
    day = steps(plan, sheet)
    return long_day(plan, day, schedule(plan, day, now))


def _by_own_results(plan: Plan) -> Plan:
    """Let the plan go by what the dyer's own days say that her fibres take."""
    try:
        return evolve(plan, learned=learned_in(sessions_folder()))
    except SessionError:  # there is no such place
        return plan


def _words() -> Words:
    parser = Words(prog="vatside plan", add_help=False)
    parser.add_argument("--lot", action="append", default=[])
    parser.add_argument("--tub", action="append", default=[])
    parser.add_argument("--purity")
    parser.add_argument("--dosing")
    parser.add_argument("--method")
    parser.add_argument("--ready")
    parser.add_argument("--save", type=Path)
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--json", action="store_true")
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
