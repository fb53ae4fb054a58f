"""Clock times of a plan as minutes from its beginning: lunch, nights, who is away, what is wanted by when."""

from __future__ import annotations

from datetime import datetime, time, timedelta, tzinfo

from attrs import frozen

from vatside.dayline.line.model import Break
from vatside.plan.hours import away, moment_of, on_wall
from vatside.plan.plan import Plan

DUSK, DAWN = time(22), time(5)
"""From when to when nobody works, where no hour is named: ours."""
DAY_MIN = 24 * 60
NIGHT_MIN = 7 * 60
STAYS_UP = 60
"""Minutes after dusk by which a day may be done that would else go on in the morning: ours."""
LUNCH_STEP = 5
"""Minutes between places at which lunch may begin."""


@frozen
class Hours:
    """A plan's hours, counted from `begin`, a moment on the wall of `zone` (None: the machine's own)."""

    plan: Plan
    begin: datetime
    zone: tzinfo | None = None
    stays_up: int = 0
    """Minutes by which the nights begin later: who is nearly done with the day does not leave it for the morning."""

    def minute(self, text: str | None) -> int | None:
        """Minutes from the beginning to a local time; a clock time is one of the vat's day, or of a later beginning."""
        if not text:
            return None
        if "T" in text:
            wall = datetime.fromisoformat(text)
        else:
            hour, minute = (int(part) for part in text.split(":"))
            day = on_wall(self.begin, self.zone).date()
            if self.plan.ready_by and "T" in self.plan.ready_by:  # who begins on the eve has lunch on the day itself
                day = max(day, datetime.fromisoformat(self.plan.ready_by).date())
            wall = datetime.combine(day, time(hour, minute))
        return round((moment_of(wall, self.begin, self.zone) - self.begin) / timedelta(minutes=1))

    def lunch(self) -> Break | None:
        """The break; None where there is none, or where its window has gone by."""
        place = self.plan.place
        low, high = self.minute(place.lunch_from), self.minute(place.lunch_to)
        if not place.lunch or low is None or high is None or high < 0:
            return None
        low = max(low, 0)
        return Break(place.lunch, low, max(low, high), LUNCH_STEP)

    def absences(self) -> tuple[tuple[int, int, int], ...]:
        """(from, to, people) of those who come later or go before the end."""
        absent = []
        for count, word, first, last in away(self.plan.place.away or ""):
            a, b = self.minute(first) or 0, self.minute(last) if last else None
            since, until = (0, a) if word == "until" else (a, 100_000 if b is None else b)
            if until > max(since, 0):
                absent.append((max(since, 0), until, min(count, self.plan.place.people)))
        return tuple(absent)

    def nights(self, until: int) -> tuple[tuple[int, int, int], ...]:
        """(from, to, people) of each night that begins before a minute: nobody works then.

        Nor is one a night in which the vat is wanted or in which the day begins; one ends where the day may begin, and
        begins where all is to be done, if that hour lies in it.
        """
        plan, first = self.plan, on_wall(self.begin, self.zone).replace(tzinfo=None)
        nights = []
        for day in range(until // DAY_MIN + 2):
            evening = datetime.combine(first.date() + timedelta(days=day), DUSK)
            dawn = datetime.combine(evening.date() + timedelta(days=1), DAWN)
            evening += timedelta(minutes=self.stays_up)
            a, b = (self.minute(f"{hour:%Y-%m-%dT%H:%M}") or 0 for hour in (evening, dawn))
            ready, home, first_at = (
                hour if hour is not None and a < hour < b else None
                for hour in map(self.minute, (plan.ready_by, plan.place.home_by, plan.place.not_before))
            )
            a, b = (a if home is None else home), (b if first_at is None else first_at)
            if ready is None and 0 < a < until:
                nights.append((a, b, plan.place.people))
        return tuple(nights)
