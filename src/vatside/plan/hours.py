"""Hours of a plan as text, as people say them (`sat 14:00`, `5 Dec 2 pm`), who is away when, and the clock on the wall.

Who is away is one text: `1 until 10:00, 2 from 13:00 to 15:00`. A moment knows its offset from UTC; what the dyer
writes (`02:30`) does not. Lengths of time are only right between moments, over a change to summer or winter time too.
A zone is given by its rules, or None for the machine's own.
"""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta, timezone, tzinfo

from vatside.plan.plan import Plan
from vatside.units import Problem
from vatside.units.show import clean

YEARS = range(1970, 3000)
"""Years that a day or moment can lie in; keeps everything counted from it computable."""

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MONTHS = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip

ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
"""A date as ISO 8601 writes it out, whether there is such a day or not."""
_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})T)?(?:[01]\d|2[0-3]):[0-5]\d", re.ASCII)


def is_day(text: str) -> bool:
    """Tell whether there is such a day, written YYYY-MM-DD."""
    try:
        return ISO_DAY.fullmatch(text) is not None and date.fromisoformat(text).year in YEARS
    except ValueError:
        return False


def is_hour(text: str) -> bool:
    """Tell whether a text is HH:MM, or YYYY-MM-DDTHH:MM of a day that there is."""
    match = _CLOCK.fullmatch(text)
    return match is not None and (match[1] is None or is_day(match[1]))


def hour_words(ready_by: str | None, today: date) -> str:
    """Print a wanted hour in words, the year only where it is another one; empty if it is open."""
    if ready_by is None or "T" not in ready_by:
        return ready_by or ""
    return day_words(datetime.fromisoformat(ready_by), today)


def whole_hour_words(ready_by: str) -> str:
    """Print a wanted hour with its year, so that it can be read back on any day; what is none stays as it is."""
    if "T" not in ready_by or not is_hour(ready_by):
        return ready_by
    at = datetime.fromisoformat(ready_by)
    return f"{_day_words(at)} {at.year} {at:%H:%M}"


def day_words(at: datetime, today: date) -> str:
    """Print a moment as `Sat 5 Dec 14:00`, the year only where it is another one."""
    year = "" if at.year == today.year else f" {at.year}"
    return f"{_day_words(at)}{year} {at:%H:%M}"


def _day_words(at: datetime) -> str:
    return f"{WEEKDAYS[at.weekday()][:3].capitalize()} {at.day} {MONTHS[at.month - 1][:3].capitalize()}"


SUCH_AS = "write 14:00, sat 14:00, 5 Dec 14:00 or 2026-12-05 14:00"
"""What the field takes, in examples."""

_TIME = r"(?P<hour>\d{1,2})(?:[:.h](?P<minute>\d{2}))?(?: ?(?P<half>[ap])\.?m\.?)?"
_LAST = re.compile(rf"(?:(?P<day>.*\S)[ t])??{_TIME}", re.ASCII)
_FIRST = re.compile(rf"(?=\d{{1,2}}[:h]|\d{{1,2}}(?:\.\d\d)? ?[ap]\.?m){_TIME} (?P<day>\D.*|\d.*[^\d ].*)", re.ASCII)
_NUMBER = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?|(\d{4})", re.ASCII)
_BESIDE = {"yesterday": -1, "today": 0, "tomorrow": 1}
_NEXT_LEAP_DAY = 8
"""Most years from one 29 February to the next."""


def read_hour(text: str, now: datetime | None = None) -> str | Problem:
    """Read an hour as HH:MM, or YYYY-MM-DDTHH:MM where a day is named or `now` (naive local) is known.

    A bare hour, a weekday or a date without its year is the next one to come; without `now` only an hour alone or a
    whole date can be read.
    """
    plain = " ".join(re.sub(r",|\bat\b", " ", text.casefold()).split())
    if isinstance(_day(plain, now), date):
        return Problem(f"{_quoted(text)} names no hour; {SUCH_AS}")
    match = _LAST.fullmatch(plain)
    if match is None or (match["day"] and isinstance(_day(match["day"], now), Problem)):
        match = _FIRST.fullmatch(plain) or match
    clock = _clock(int(match["hour"]), int(match["minute"] or 0), match["half"]) if match else None
    if match is None or clock is None:
        return Problem(f"{_quoted(text)} is no time; {SUCH_AS}")
    if not match["day"]:
        return clock if now is None else _joined(_next(now, clock), clock)
    day = _day(match["day"], now, clock)
    return day if isinstance(day, Problem) else _joined(day, clock)


def _joined(day: date, clock: str) -> str | Problem:
    joined = f"{day.isoformat()}T{clock}"
    return left_out(datetime.fromisoformat(joined)) or joined


def _clock(hour: int, minute: int, half: str | None) -> str | None:
    """Give HH:MM; None for 13 pm, 24:00 and the like."""
    if half is not None:
        hour = hour % 12 + 12 * (half == "p") if 1 <= hour <= 12 else 24
    return f"{hour:02d}:{minute:02d}" if hour < 24 and minute < 60 else None


def _next(now: datetime, clock: str) -> date:
    """Today, or tomorrow once the hour is past."""
    return now.date() + timedelta(days=f"{now:%H:%M}" >= clock)


def _day(text: str, now: datetime | None, clock: str = "00:00") -> date | Problem:
    """Give the day that some words mean; a weekday and a date together must agree."""
    first, _, rest = text.partition(" ")
    weekday = _among(WEEKDAYS, first)
    if weekday is None:
        return day_of(text, now.date() if now else None)
    if rest:
        day = day_of(rest, now.date() if now else None)
        if isinstance(day, Problem) or day.weekday() == weekday:
            return day
        return Problem(f"{day.isoformat()} is a {WEEKDAYS[day.weekday()].capitalize()}; write the one or the other")
    if now is None:
        return _needs_today(text)
    day = now.date() + timedelta(days=(weekday - now.weekday()) % 7)
    return day + timedelta(days=7 * (day == now.date() and f"{now:%H:%M}" >= clock))


def day_of(text: str, today: date | None, *, gone: bool = False, such_as: str = SUCH_AS) -> date | Problem:
    """Give the day of a date, of today or of the day beside it.

    Without its year a date is the next one to come; with `gone`, the latest there was. `such_as` ends what is said of
    words that are no day.
    """
    if ISO_DAY.fullmatch(text):
        return date.fromisoformat(text) if is_day(text) else Problem(f"there is no {text}; {such_as}")
    if text in _BESIDE:
        return _needs_today(text) if today is None else today + timedelta(days=_BESIDE[text])
    parts = text.replace(".", " ").replace(",", " ").split()
    months = [month for month in (_among(MONTHS, part) for part in parts) if month is not None]
    numbers = [number for number in (_NUMBER.fullmatch(part) for part in parts) if number]
    days, years = ([int(number[which]) for number in numbers if number[which]] for which in (1, 2))
    if len(parts) != len(months) + len(numbers) or len(months) != 1 or len(days) != 1 or len(years) > 1:
        return Problem(f"{_quoted(text)} is no day; {such_as}")
    if not years and today is None:
        return _needs_today(text)
    day = _dated(days[0], months[0] + 1, years, today, gone=gone)
    return day or Problem(f"there is no {_quoted(text)}; {such_as}")


def _dated(day: int, month: int, years: list[int], today: date | None, *, gone: bool) -> date | None:
    """Give a day of a month: of the year named, or else of the nearest one that has it on its side of today."""
    way, first = (-1 if gone else 1), today.year if today else 0
    for year in years or range(first, first + way * (_NEXT_LEAP_DAY + 1), way):
        with suppress(ValueError):
            candidate = date(year, month, day)
            if year in YEARS and (years or today is None or (candidate <= today if gone else candidate >= today)):
                return candidate
    return None


def _among(names: tuple[str, ...], typed: str) -> int | None:
    """Find the name that begins with at least three letters."""
    low = typed.rstrip(".")
    return next((at for at, name in enumerate(names) if len(low) >= 3 and name.startswith(low)), None)


def _needs_today(text: str) -> Problem:
    return Problem(f"{_quoted(text)} is no whole date; write the day out, such as 2026-12-05 14:00")


def _quoted(text: str) -> str:
    return clean(text[:40])


_AWAY = re.compile(r"([1-9]\d?) (from|until) (\d{2}:\d{2})(?: to (\d{2}:\d{2}))?", re.ASCII)
Absence = tuple[int, str, str, str | None]
"""How many, `from` or `until`, an hour, and the hour at which they are back."""


def away(text: str) -> list[Absence]:
    """Read who is not there when; what cannot be read is left out."""
    matches = (_AWAY.fullmatch(part.strip()) for part in text.split(","))
    return [(int(match[1]), match[2], match[3], match[4]) for match in matches if match and _hours(match)]


def away_problem(text: str) -> Problem | None:
    """Say what is wrong with a text of absences; None for nothing."""
    for part in (part.strip() for part in text.split(",")):
        match = _AWAY.fullmatch(part)
        if not match or not _hours(match):
            return Problem(f"{part!r} is no absence: write 1 until 10:00, 1 from 13:00, or 1 from 13:00 to 15:00")
    return None


def _hours(match: re.Match[str]) -> bool:
    if match[4] is not None and (match[2] == "until" or match[4] <= match[3]):
        return False
    return is_hour(match[3]) and (match[4] is None or is_hour(match[4]))


LATE_GRACE = timedelta(hours=6)
"""A clock time without a date that passed less than this ago means today, not tomorrow. Ours."""


def on_wall(moment: datetime, zone: tzinfo | None = None) -> datetime:
    """Give a moment as the wall clock shows it, with the offset that holds then, so that two of them can be compared.

    A time without an offset is one of a wall where no clocks change, and stays what it is.
    """
    if moment.tzinfo is None:
        return moment
    local = moment.astimezone(zone)
    return local.replace(tzinfo=timezone(local.utcoffset() or UTC.utcoffset(None)), fold=0)


def moment_of(wall: datetime, now: datetime, zone: tzinfo | None = None) -> datetime:
    """Give the moment at which the wall clock shows a time, as `on_wall` does.

    Of an hour that comes twice the next one after `now` is meant, or the second once both are past; of an hour that
    is left out, the time as if the clocks had not changed. Where `now` has no offset, no clocks change.
    """
    if now.tzinfo is None:
        return wall
    first, second = (_at(wall.replace(fold=fold), zone) for fold in (0, 1))
    return on_wall(second if first < second and first < now else first, zone)


def clock_words(moment: datetime, zone: tzinfo | None = None) -> str:
    """Print a moment as HH:MM; one that the wall shows twice as the clocks go back with the offset that tells which."""
    wall = moment.replace(tzinfo=None)
    if moment.tzinfo is None or _at(wall.replace(fold=0), zone) >= _at(wall.replace(fold=1), zone):
        return f"{moment:%H:%M}"
    offset = f"{moment:%z}"
    return f"{moment:%H:%M} {offset[:3]}:{offset[3:5]}"


def left_out(wall: datetime, zone: tzinfo | None = None) -> Problem | None:
    """Say that a time is on no wall, because the clocks go forward over it; None where there is one."""
    shown = on_wall(_at(wall.replace(fold=0), zone), zone).replace(tzinfo=None)
    if shown == wall.replace(fold=0):
        return None
    return Problem(
        f"there is no {day_words(wall, wall.date())}: the clocks go forward then; write {shown:%H:%M} or later"
    )


def _at(wall: datetime, zone: tzinfo | None) -> datetime:
    if zone is None:
        # `astimezone` would take the offset of after the change for an hour that is left out, and go back by it.
        return datetime.fromtimestamp(wall.timestamp(), UTC)
    return wall.replace(tzinfo=zone).astimezone(UTC)


def wanted_at(plan: Plan, now: datetime, zone: tzinfo | None = None) -> datetime | None:
    """Turn the plan's `ready_by` into a local time near `now`; None if the plan leaves it open."""
    if plan.ready_by is None:
        return None
    if "T" in plan.ready_by:
        return moment_of(datetime.fromisoformat(plan.ready_by), now, zone)
    hour, minute = (int(part) for part in plan.ready_by.split(":"))
    today = on_wall(now, zone).replace(tzinfo=None, hour=hour, minute=minute, second=0, microsecond=0)
    wanted = moment_of(today, now, zone)
    return wanted if wanted > now - LATE_GRACE else moment_of(today + timedelta(days=1), now, zone)
