"""The day line of the session on the bench: laid at each event and once a minute, held to what was laid before.

What every screen tells of the times of the day it asks here (`seen`): a day that a few layings make at once. The search
for a shorter one takes long enough to be felt, so it is handed out as jobs that know everything they need; whoever runs
one hands its result back, and from then on that is what is seen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING

from attrs import evolve, frozen

from vatside.bench.desk import Desk
from vatside.dayline.day_words import what_became
from vatside.dayline.going import Going
from vatside.dayline.held_day import held_day, shorter, what_moved
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.line.model import NoPlanError
from vatside.dayline.line.planning import AT_ONCE, EVALUATIONS
from vatside.dayline.steps import Step
from vatside.dayline.warn import Fit, long_day, outlook
from vatside.dips.entry_rule import rests
from vatside.log.events.day import Event
from vatside.log.state import State
from vatside.log.waits import Moment
from vatside.outlook.session_day import as_laid, began_at, day_of, followed_of, going_of, is_begin
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet

if TYPE_CHECKING:
    from vatside.dayline.what_if import Help


MINUTE = 60
QUICK = 12
"""Evaluations for a day that is laid while a key waits for it: with them most days are as soon ready as searched for
long, by our trials."""
RESTED_S = 0.2
"""Seconds without a key after which the hours follow what was typed: amounts follow each key. Ours."""
MOST_LAID = 2000
"""Tasks that are laid in all when a shorter day is looked for under way: of a large class fewer times. Ours."""
SAME = 10
"""Minutes for which a day that is not begun is not searched again: later it only begins later. Ours."""
WORSE = 5
"""Minutes that must be lost before it is worked out anew what would help, or said again what moved: ours."""


@frozen
class Asked:
    """What a day is laid out from: plan, sheet, steps, log and the moment."""

    plan: Plan
    sheet: Sheet
    steps: tuple[Step, ...]
    state: State
    now: Moment

    @property
    def minute(self) -> int:
        """The minute of the clock."""
        return int(self.now.utc.timestamp() // MINUTE)

    def is_as(self, other: Asked | None) -> bool:
        """Tell whether plan, log and minute are the same, so that nothing need be laid out again."""
        return other is not None and self.is_of(other) and self.minute == other.minute

    def is_of(self, other: Asked) -> bool:
        """Tell whether plan and log are the same."""
        return self.state is other.state and self.plan == other.plan and self.steps == other.steps


@frozen
class LaidJob:
    """What a job came to."""

    asked: Asked
    day: LaidDay | None
    problem: str = ""
    moved: str = ""
    """What stands otherwise than when it was last told, as a sentence."""
    held: bool = False
    """It was held to the times that stood before."""
    evaluations: int = 0
    """With how many it was laid."""
    is_new: bool = False
    """It is to be followed from now on, and the log does not know yet."""

    @cached_property
    def long(self) -> str:
        """What is to be said of a day that begins before dawn or ends in the night, before it has begun."""
        asked = self.asked
        return long_day(asked.plan, asked.sheet, asked.steps, self.day) if self.day else ""


@frozen
class Tried:
    """What would help a day that comes late, or what holds up one that is planned."""

    helps: tuple[Help, ...] = ()
    holds_up: str = ""


def line_of(desk: Desk) -> DayLine:
    """The day line of a desk, the same one each time."""
    if not isinstance(desk.line_seen, DayLine):
        desk.line_seen = DayLine(desk)
    assert isinstance(desk.line_seen, DayLine)
    return desk.line_seen


class DayLine:
    """The day as it was last laid, and what is still to be worked out of it."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.tried = Tried()
        """What was tried of it."""
        self._seen: LaidJob | None = None
        """What was shown last, wherever it came from."""
        self._told: LaidDay | None = None
        """The day as the dyer was last told of it: minute by minute nothing moves far."""
        self._asked: Asked | None = None
        self._running: Asked | None = None
        self._helped: tuple[Plan, State, int] | None = None
        """For which plan, log and spare it was tried."""

    def seen(self, now: Moment) -> LaidJob:
        """The day as every screen shows it: as a job laid it, or else laid at once and held to what was shown.

        While she types it stands: the next key comes at once, and would have it laid again.
        """
        asked, shown = self._asked_at(now), self._seen
        if shown is None or not (self._is_typing(now) or asked.is_as(shown.asked)):
            shown = self._seen = _lay(asked, shown, None, QUICK, 0)
        return shown

    def _is_typing(self, now: Moment) -> bool:
        return self.desk.typed is not None and now.elapsed - self.desk.typed_at < RESTED_S

    def is_behind(self, now: Moment) -> bool:
        """Tell whether the hours that are shown are to follow what was typed, now that she rests."""
        shown = self._seen
        return (
            shown is not None
            and self.desk.typed is not None
            and not (self._is_typing(now) or self._asked_at(now).is_of(shown.asked))
        )

    @property
    def day(self) -> LaidDay | None:
        """The day as it was shown last."""
        return self._seen.day if self._seen else None

    @property
    def problem(self) -> str:
        """Why no day can be laid."""
        return self._seen.problem if self._seen else ""

    def job(self, now: Moment) -> Callable[[], LaidJob] | None:
        """What is to be laid; None while that is under way, or where nothing is another than when it was last laid."""
        asked, last = self._asked_at(now), self._asked
        if self._running is not None or asked.is_as(last):
            return None
        if last is not None and asked.is_of(last) and not _going(asked).begun and asked.minute < last.minute + SAME:
            return None
        self._running = asked
        old, told = self._seen, self._told
        again = AT_ONCE if self._can_log else 0
        return lambda: _lay(asked, old, told or (old.day if old else None), EVALUATIONS, again)

    @property
    def _can_log(self) -> bool:
        """What is followed stands in the log, so no other plan is looked for where nothing can be written there."""
        return self.desk.keeping.readonly is None and self.desk.typed is None

    def before(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        """Give how the day was laid as it was shown, if it begins with these events; the log holds it to that."""
        shown, state = self._seen, self.desk.state
        if not any(is_begin(event) for event in events) or began_at(state) is not None or self.desk.keeping.readonly:
            return ()
        return (as_laid(shown.day),) if shown and shown.day and shown.asked.plan == state.plan else ()

    def starts(self, now: Moment) -> Mapping[str, datetime]:
        """When each step is to be begun; empty for a day that is not begun and has no hour that it is wanted by."""
        plan, state = self.desk.plan, self.desk.state
        is_on = plan.ready_by or plan.place.home_by or state.done or any(wait.step for wait in state.waits)
        day = self.seen(now).day if is_on else None
        return day.starts if day else {}

    def order(self, now: Moment) -> Mapping[str, datetime]:
        """When each step is to be begun; of a day that is not begun, as it was shown last."""
        return self.starts(now) or (self.day.starts if self.day else {})

    def another_day(self, step: Step, now: Moment) -> str:
        """The day and hour of a step that is not for today, as the beginning of a sentence; empty for one of today."""
        at = self.order(now).get(step.id)
        return "" if at is None or _is_today(at, now) else f"{at:%a %H:%M}: "

    def begin_of(self, step: Step, now: Moment) -> str:
        """The hour at which a step is to be begun, with its weekday unless that is today; empty where none is known."""
        at = self.starts(now).get(step.id)
        return "" if at is None else f"{at:%H:%M}" if _is_today(at, now) else f"{at:%a %H:%M}"

    def _asked_at(self, now: Moment) -> Asked:
        desk = self.desk
        return Asked(desk.plan, desk.sheet, desk.steps, desk.state, now)

    def take(self, laid: LaidJob) -> None:
        """Show what a job came to."""
        self._running, self._asked = None, laid.asked
        if laid.asked.is_of(self._asked_at(laid.asked.now)):
            self._seen = laid
            self._follow(laid)
        if laid.moved or self._told is None or not laid.held:
            self._told = laid.day

    def _follow(self, laid: LaidJob) -> None:
        """Put a plan that is followed from now on into the log."""
        if laid.is_new and laid.day is not None and self._can_log:
            now = self.desk.clock.now()
            self.desk.keeping.log(as_laid(laid.day), now)
            self._asked = self._asked_at(now)
            self._seen = evolve(laid, asked=self._asked_at(laid.asked.now), is_new=False)

    def drop(self) -> None:
        """Forget the job under way: nobody hands back any more what it finds."""
        self._running = None

    def drop_trial(self) -> None:
        """Forget what was tried so far: it is to be tried again by whoever asks next."""
        self.tried, self._helped = Tried(), None

    def as_it_stands(self, now: Moment) -> LaidDay | None:
        """The day as it is shown; None where none can be laid."""
        return self.seen(now).day

    def said_of_break(self, before: LaidDay | None, now: Moment) -> str:
        """What a break that has just begun does to the day as it stood, in one sentence; empty for a day without.

        With it she is told: the laying that follows says it no second time.
        """
        if before is None:
            return ""
        try:
            self._told = _held(before, self._asked_at(now))
        except NoPlanError:
            return ""
        return what_became(before, self._told)

    def trial(self) -> Callable[[], Iterator[Tried]] | None:
        """What would help a day that comes late, as it fills, what holds up one that is planned; None: nothing new."""
        day, asked = self.day, self._seen.asked if self._seen else None
        if day is None or asked is None or (outlook(day).fit is not Fit.LATE and day.needed.day.running):
            self.drop_trial()
            return None
        spare, known = day.spare or 0, self._helped
        if known is not None and known[:2] == (asked.plan, asked.state) and spare > known[2] - WORSE:
            return None
        self.tried, self._helped = Tried(), (asked.plan, asked.state, spare)
        return (lambda: _trials(day, asked)) if outlook(day).fit is Fit.LATE else lambda: _held_up(day)


def _is_today(at: datetime, now: Moment) -> bool:
    return at.date() == now.utc.astimezone(at.tzinfo).date()


def _lay(asked: Asked, old: LaidJob | None, told: LaidDay | None, new: int, again: int) -> LaidJob:
    """Lay the day with `new` evaluations; once it goes on hold it to what stood, with `again` of them."""
    before = old.day if old else None
    try:
        begun = _going(asked).begun
        if not begun or (before is None and asked.state.laid is None):
            if old is not None and before is not None and _stands(old, asked, new):
                return evolve(old, asked=asked)
            keep = old is not None and old.evaluations >= new
            # A search comes to the same whatever was shown before, as everywhere that a day is laid anew.
            day = _laid(asked, new, before if keep or new < EVALUATIONS else None, keep=keep)
            return LaidJob(asked, day, evaluations=new, is_new=begun and again > 0)
        kept = _held(before, asked)
        day = shorter(kept, min(again, MOST_LAID // max(len(kept.needed.day.tasks), 1))) if again else kept
    except NoPlanError as error:
        return LaidJob(asked, None, _why_not(asked, error))
    is_new = again > 0 and (day.is_other or asked.state.laid is None)
    return LaidJob(asked, day, moved=what_moved(told or before or day, day, WORSE), held=True, is_new=is_new)


def _stands(old: LaidJob, asked: Asked, evaluations: int) -> bool:
    """Whether a day that has not begun still stands as it was laid with as many evaluations."""
    is_to_come = old.day is not None and old.day.begin >= asked.now.utc
    return is_to_come and asked.is_of(old.asked) and old.evaluations >= evaluations


def _laid(asked: Asked, evaluations: int, like: LaidDay | None = None, *, keep: bool = False) -> LaidDay:
    """A day of which no laying is known here; one that has begun as it was laid then, held since."""
    given, going = (asked.plan, asked.sheet, asked.steps), _going(asked)
    if not going.begun:
        return lay_day(*given, asked.now.utc, going, evaluations=evaluations, like=like, keep=keep)
    return day_of(asked.state, *given, asked.now, evaluations=evaluations)


def _held(old: LaidDay | None, asked: Asked) -> LaidDay:
    """The day held to the plan that is followed, or else to the one that was shown."""
    given = (asked.plan, asked.sheet, asked.steps, asked.now.utc)
    before = followed_of(asked.state) or old
    assert before is not None
    return held_day(before, *given, _going(asked))


def _going(asked: Asked) -> Going:
    return going_of(asked.state, asked.now, rests(asked.sheet))


def _why_not(asked: Asked, error: NoPlanError) -> str:
    """Why no day is laid; of one that is done there is none."""
    if all(step.id in asked.state.done for step in asked.steps):
        return "Every step is done."
    return f"This day cannot be laid: {error}."


def _held_up(day: LaidDay) -> Iterator[Tried]:
    from vatside.dayline.what_if import bottleneck, bottleneck_words  # late: few days ask for it

    yield Tried(holds_up=bottleneck_words(bottleneck(day)))


def _trials(day: LaidDay, asked: Asked) -> Iterator[Tried]:
    from vatside.dayline.what_if import best, what_would_help  # late: few days ask for it

    going = _going(asked)
    helps: list[Help] = []
    for option in what_would_help(day, asked.plan, asked.sheet, asked.steps, going):
        helps.append(option)
        yield Tried(tuple(best(helps)))
