"""`vatside day`: when each step of a session begins, what is in hand, and where hands and things are needed."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Iterator, Sequence
from datetime import datetime
from os import environ, getpid
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from attrs import evolve

from vatside.clocks.clock import Clock, SystemClock
from vatside.dayline.calendar_file import calendar, sent_before
from vatside.dayline.day_steps import steps
from vatside.dayline.day_words import (
    Act,
    Deed,
    Stop,
    acts,
    briefly,
    calls,
    clock_at,
    deeds,
    head,
    stop_words,
    stops,
    wait_words,
    words_of,
)
from vatside.dayline.going import Going
from vatside.dayline.held_day import shorter
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.lanes import drawn
from vatside.dayline.line.model import NoPlanError
from vatside.dayline.line.planning import EVALUATIONS
from vatside.dayline.warn import Fit, outlook, soonest_words
from vatside.dayline.what_if import Case, Help, best, bottleneck, bottleneck_words, what_would_help
from vatside.dips.entry_rule import rests
from vatside.log.fold import fold, sheet_of
from vatside.log.state import Session, State
from vatside.log.waits import Moment
from vatside.outlook.session_day import day_of, going_of
from vatside.plain.papers import Cell, as_csv
from vatside.plain.say import Refusal, Words, read_day, tell, whole, write_new
from vatside.plain.streams import complain
from vatside.plan.hours import clock_words, is_hour, on_wall
from vatside.plan.plan import Plan
from vatside.plan.sheet import CARE
from vatside.storage import flaws
from vatside.storage.files import Fs, plain_text
from vatside.storage.snapshot import discard
from vatside.units.show import capital, plain

LANES_WIDE = 72
"""Columns of the lanes, so that all stays within 80."""


def run_day(words: Sequence[str], clock: Clock | None = None) -> int:
    """Print or write a laid day; exit code 0, 1 if a wanted hour is missed, or a Refusal."""
    asked = _words().read(words)
    session, now = read_day(asked.file), (clock or SystemClock()).now()
    logged = fold(session)
    state = evolve(logged, plan=_asked_for(logged.plan, asked))
    case, going = _case(state, asked.begin), going_of(state, now, rests(sheet_of(state)))
    day = _laid(case, state, now, as_it_is=case.plan == logged.plan)
    to_do, helps = deeds(day), _helps(day, case, going)
    _written(asked, day, to_do, session, now)  # before anything is printed: who reads that may close it
    if asked.json:
        tell(json.dumps(as_data(day, to_do, helps), indent=1, ensure_ascii=False))
    else:
        tell("\n".join(printed(day, to_do, state.plan.title, helps)))
        if asked.why:
            tell("\n" + why(day))
    return 1 if (day.spare is not None and day.spare < 0) or day.laid.overrun else 0


def _words() -> Words:
    parser = Words("day", "file", "--why", "--json", people=whole, hobs=whole, lunch=whole, ics=Path, csv=Path)
    parser.add_argument("--done-by", "--home", dest="done_by")
    parser.add_argument("--from", dest="begin")
    return parser


MOST = {"people": 99, "hobs": 99, "lunch": 240}
"""What an option takes at most: ours."""


def _asked_for(plan: Plan, asked: Namespace) -> Plan:
    """The plan with what the options say of hands, hobs, lunch and the hour by which all is to be done."""
    place = plan.place
    for name, most in MOST.items():
        value = getattr(asked, name)
        if value is not None and not (0 if name == "lunch" else 1) <= value <= most:
            raise Refusal(f"--{name}: {value} cannot be; between {0 if name == 'lunch' else 1} and {most}.")
        place = place if value is None else evolve(place, **{name: value})
    done_by: str | None = asked.done_by
    if done_by is not None and not is_hour(done_by):
        raise Refusal(f"--done-by: {done_by!r} is no hour; write 17:00.")
    return evolve(plan, place=place if done_by is None else evolve(place, home_by=done_by))


def _case(state: State, begin: str | None) -> Case:
    """What is to be laid; nobody begins before the hour that an option names."""
    plan, sheet = state.plan, sheet_of(state)
    if begin is not None:
        if not is_hour(begin):
            raise Refusal(f"--from: {begin!r} is no hour; write 08:30.")
        plan = evolve(plan, place=evolve(plan.place, not_before=begin))
    return Case(plan, sheet, steps(plan, sheet))


def _laid(case: Case, state: State, now: Moment, *, as_it_is: bool) -> LaidDay:
    """The day as it is followed; with other hands or hours, a shorter one if there is any."""
    try:
        day = day_of(state, case.plan, case.sheet, case.steps, now)
        return day if as_it_is or state.laid is None else shorter(day, EVALUATIONS)
    except NoPlanError as error:
        raise Refusal(f"this day cannot be laid: {error}.") from None


def _helps(day: LaidDay, case: Case, going: Going) -> list[Help]:
    """What would help a day that comes late."""
    if outlook(day).fit is not Fit.LATE:
        return []
    return best(what_would_help(day, case.plan, case.sheet, case.steps, going))


# --- words -------------------------------------------------------------------


def printed(day: LaidDay, to_do: Sequence[Deed], title: str, helps: Sequence[Help] = ()) -> Iterator[str]:
    """The head, what is late and what would help, the lanes, the acts, and what is left for another day."""
    yield f"{plain(title)}: {head(day)}"
    yield from (f"{CARE.opening}{line}" for line in outlook(day).sentences)
    yield from (f"  {capital(option.words)}" for option in helps)
    if outlook(day).fit is Fit.LATE and not any(option.enough for option in helps):
        yield f"  {soonest_words(day)}"
    if not to_do:
        return
    yield ""
    yield from drawn(day, LANES_WIDE)
    yield ""
    coming: list[Act | Stop] = [*stops(day), *acts(to_do)]
    for option in sorted(coming, key=lambda one: one.at):
        yield from _act(day, option) if isinstance(option, Act) else _stop(day, option)
    if day.needed.another_day:
        yield ""
        yield f"Another day: {'; '.join(briefly(step.text) for step in day.needed.another_day)}."


def why(day: LaidDay) -> str:
    """What the day waits for longest."""
    return bottleneck_words(bottleneck(day))


def _stop(day: LaidDay, stop: Stop) -> Iterator[str]:
    yield f"{clock_words(day.at(max(stop.at, 0)), day.zone)} {'':>6}  {stop_words(day, stop)}"
    if stop.latest is not None and stop.latest > stop.at:
        yield f"{'':14}at the latest {clock_at(day, stop.latest)}"


def _act(day: LaidDay, act: Act) -> Iterator[str]:
    for deed in act.deeds:
        hands = f"{deed.hands_end - deed.at} min" if deed.hands_end > deed.at else ""
        yield f"{clock_words(day.at(deed.at), day.zone)} {hands:>6}  {words_of(deed)}{wait_words(day, deed)}"
        if deed.latest > deed.at:
            yield f"{'':14}at the latest {clock_at(day, deed.latest)}"


# --- data --------------------------------------------------------------------


def as_data(day: LaidDay, to_do: Sequence[Deed], helps: Sequence[Help] = ()) -> dict[str, object]:
    """The laid day for other programs; times as ISO with their offset."""
    return {
        "begin": _iso(day, 0),
        "ready": None if day.ready is None else _iso(day, day.ready),
        "end": _iso(day, day.laid.end),
        "spare_min": day.spare,
        "fit": outlook(day).fit.value,
        "buffer_min": outlook(day).buffer,
        "overrun_min": day.laid.overrun,
        "would_help": [
            {"changes": list(option.labels), "gains_min": option.gains, "enough": option.enough} for option in helps
        ],
        "breaks": [_iso(day, minute) for minute in day.laid.breaks],
        "steps": [_row(day, deed) for deed in to_do],
        "calls": [{"at": _iso(day, minute), "task": task, "text": words} for minute, task, words in sorted(calls(day))],
        "another_day": [step.id for step in day.needed.another_day],
    }


def _row(day: LaidDay, deed: Deed) -> dict[str, object]:
    return {
        "step": deed.step.id,
        "task": deed.task,
        "group": deed.group,
        "text": words_of(deed),
        "start": _iso(day, deed.at),
        "end": _iso(day, deed.end),
        "hands_min": deed.hands_end - deed.at,
        "latest": _iso(day, deed.latest),
        "nudges": [_iso(day, minute) for minute in deed.nudges],
    }


def _iso(day: LaidDay, minute: int) -> str:
    return day.at(minute).isoformat(timespec="minutes")


def table(day: LaidDay, to_do: Sequence[Deed], state: State) -> Iterator[Sequence[Cell]]:
    """Every step as a row; what is done with the time at which it was."""
    yield "lane", "lot", "step", "text", "planned_start", "planned_end", "latest", "hands_min", "actual_end"
    for step_id, moment in state.done.items():
        yield "", "", step_id, "", None, None, None, None, on_wall(moment.utc, day.zone).isoformat(timespec="minutes")
    for deed in to_do:
        yield (
            deed.step.stage.value, deed.step.group, deed.task, words_of(deed), _iso(day, deed.at), _iso(day, deed.end),
            _iso(day, deed.latest), deed.hands_end - deed.at, None,
        )  # fmt: skip


def _written(asked: Namespace, day: LaidDay, to_do: Sequence[Deed], session: Session, now: Moment) -> None:
    to_csv = asked.csv
    if to_csv is not None:
        write_new(to_csv, as_csv(table(day, to_do, fold(session))).encode("utf-8", "replace"))
    if asked.ics is not None:
        write_calendar(asked.ics, day, to_do, session, now.utc)
    for path in filter(None, (to_csv, asked.ics)):
        complain(f"vatside day: {path} written")


LOCAL = Path("/etc/localtime")
"""Where the systems that have it name the machine's zone, by a link into its table of zones."""


def machine_zone(local: Path = LOCAL) -> ZoneInfo | None:
    """The machine's zone by its name; None where it has none that is known here."""
    try:
        name = environ.get("TZ", "").lstrip(":") or str(local.readlink()).partition("zoneinfo/")[2]
        return ZoneInfo(name) if name else None
    except (OSError, ValueError, ZoneInfoNotFoundError):
        return None


def write_calendar(path: Path, day: LaidDay, to_do: Sequence[Deed], session: Session, stamp: datetime) -> None:
    """Write an iCalendar file, or a later state of one that was written here; a Refusal for another file."""
    name, before = plain(str(path)), {}
    try:
        if path.exists():
            before = sent_before(plain_text(path))
    except (OSError, ValueError) as error:
        raise Refusal(f"{name} stays as it is: {flaws.why(error, reading=True)}.") from None
    title = fold(session).plan.title
    zone = day.zone if isinstance(day.zone, ZoneInfo) else machine_zone()
    text = calendar(day, acts(to_do), title=title, session=session.id, stamp=stamp, before=before, zone=zone)
    _put_in_place(Fs().real(path), text.encode("utf-8", "replace"), name)


def _put_in_place(path: Path, data: bytes, name: str) -> None:
    """Write a file whole beside its place, then put it there; what is there stays if that cannot be."""
    beside = path.with_name(f".{path.name}.{getpid()}.tmp")
    write_new(beside, data)
    try:
        beside.replace(path)
    except OSError as error:
        discard(Fs(), beside)
        raise Refusal(f"{name} stays as it is: {flaws.why(error)}.") from None
