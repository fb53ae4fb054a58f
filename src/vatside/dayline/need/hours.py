"""Clock times of a plan as minutes from its beginning: lunch, who is away, what is wanted by when."""

from datetime import datetime, timedelta, tzinfo

from attrs import frozen

from vatside.dayline.line.model import Break
from vatside.dayline.wall_clock import moment_of, on_wall
from vatside.plan.away import away
from vatside.plan.plan import Plan

#: Minutes between places at which lunch may begin.
LUNCH_STEP = 5


@frozen
class Hours:
    """A plan's hours, counted from `begin`, a moment on the wall of `zone` (None: the machine's own)."""

    plan: Plan
    begin: datetime
    zone: tzinfo | None = None

    def minute(self, text: str | None) -> int | None:
        """Minutes from the beginning to a local time; a clock time is one of the day that begins, or just went by."""
        if not text:
            return None
        if "T" in text:
            wall = datetime.fromisoformat(text)
        else:
            hour, minute = (int(part) for part in text.split(":"))
            day = on_wall(self.begin, self.zone).replace(tzinfo=None)
            wall = day.replace(hour=hour, minute=minute, second=0, microsecond=0)
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
        found = []
        for count, word, first, last in away(self.plan.place.away or ""):
            a, b = self.minute(first) or 0, self.minute(last) if last else None
            since, until = (0, a) if word == "until" else (a, 100_000 if b is None else b)
            if until > max(since, 0):
                found.append((max(since, 0), until, min(count, self.plan.place.people)))
        return tuple(found)
