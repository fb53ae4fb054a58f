"""Finding a time of day, or a way further, on the time line of a replay."""

from __future__ import annotations

import re
from datetime import datetime, time, timedelta, tzinfo

from vatside.dayline.wall_clock import moment_of, on_wall
from vatside.days.replay import Timeline
from vatside.units import Amount, Kind, Problem, parse_amount, to_base

HELP = "a time of that day like 14:30, a way like +20 min or -1 h, start or end"
_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})[ t]+)?(\d{1,2})[:.](\d{2})(?:[:.](\d{2}))?", re.ASCII)


def read_jump(text: str, line: Timeline, position: float, zone: tzinfo | None = None) -> float | Problem:
    """Read where to go; seconds from the beginning, within the session. Times of day in `zone` or the machine's own."""
    typed = text.strip().casefold()
    if typed in ("start", "end"):
        return 0.0 if typed == "start" else line.length
    found = _CLOCK.fullmatch(typed)
    there = _way(typed, position) if found is None else _time(found, line, position, zone)
    return there if isinstance(there, Problem) else min(max(there, 0.0), line.length)


def _way(typed: str, position: float) -> float | Problem:
    amount = parse_amount(typed[1:], Kind.TIME, unit="min") if typed[:1] in ("+", "-") else None
    if not isinstance(amount, Amount):
        return Problem(f"Write {HELP}")
    seconds = 60 * to_base(amount, Kind.TIME)
    return position + (seconds if typed[0] == "+" else -seconds)


def _time(found: re.Match[str], line: Timeline, position: float, zone: tzinfo | None) -> float | Problem:
    """On the day named, or on the day that the replay is at, or on the first day that has such a time."""
    day, hour, minute, second = found.groups()
    first, here, last = (line.moment_at(at).utc for at in (0.0, position, line.length))
    try:
        clock = time(int(hour), int(minute), int(second or 0))
        date = datetime.fromisoformat(day).date() if day else on_wall(here, zone).date()
    except ValueError:
        return Problem(f"There is no such time; write {HELP}")
    there = moment_of(datetime.combine(date, clock), first, zone)
    if not day and not first <= there <= last:
        days = (on_wall(first, zone).date() + timedelta(days=n) for n in range(2))
        others = (moment_of(datetime.combine(other, clock), first, zone) for other in days)
        there = next((when for when in others if first <= when <= last), there)
    return position_at(line, there)


def position_at(line: Timeline, when: datetime) -> float:
    """Where a time lies on the time line, seconds; beyond its ends for a time before or after the session."""
    made = [number for number, entry in enumerate(line.session.entries) if entry.at.utc <= when]
    if not made:
        return (when - line.moment_at(0.0).utc).total_seconds()
    at = line.positions[made[-1]]
    return at + (when - line.session.entries[made[-1]].at.utc).total_seconds()
