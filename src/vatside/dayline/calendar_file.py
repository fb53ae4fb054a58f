"""A laid day as an iCalendar file (RFC 5545): an event for each act, alarmed five minutes before.

Times are those of the wall with their zone, and the file says when its clocks change around the day; what lies in the
second of two like hours in autumn, and a wall whose zone has no name, is written in UTC. An act keeps its UID from
export to export, whatever its time, and its SEQUENCE counts up, so that a second import moves events instead of
doubling them; what fell out is sent once more as cancelled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from attrs import frozen

from vatside.dayline.day_words import Act
from vatside.dayline.laid_day import LaidDay
from vatside.plan.hours import clock_words
from vatside.units.show import plain

PRODID = "-//Vatside//day line//EN"
#: A line holds so many octets at most, its end left out [RFC 5545, 3.1].
MOST_OCTETS = 75
ALARM = "-PT5M"


#: Days before a day within which its clocks changed last, wherever they change at all: ours.
YEAR = timedelta(days=400)


@frozen
class Sent:
    """An event of an earlier export; its times are in UTC as the form writes them."""

    sequence: int
    start: str
    end: str
    summary: str


def calendar(
    day: LaidDay,
    acts: Sequence[Act],
    *,
    title: str,
    session: str,
    stamp: datetime,
    before: Mapping[str, Sent],
    zone: ZoneInfo | None = None,
) -> str:
    """The whole file, with CRLF, on the wall of `zone`; `before` are the events of the file that it replaces."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODID}", "METHOD:PUBLISH"]
    lines += zone_lines(zone, day.at(0), day.at(day.laid.end)) if zone is not None and zone.key else []
    uids = {uid_of(session, act): act for act in acts}
    for uid, act in uids.items():
        lines += _event(day, act, uid, title, stamp, before[uid].sequence + 1 if uid in before else 0, zone)
    for uid, sent in before.items():
        if uid not in uids:
            lines += _cancelled(uid, sent, stamp)
    lines.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for line in lines for part in folded(line))


def uid_of(session: str, act: Act) -> str:
    """The name of an act for ever: its day and its first step."""
    return f"{session}.{act.deeds[0].task.replace('#', '-')}@vatside.invalid"


def _event(
    day: LaidDay, act: Act, uid: str, title: str, stamp: datetime, sequence: int, zone: ZoneInfo | None
) -> list[str]:
    first = act.deeds[0]
    begin, end = day.at(act.at), day.at(max(act.hands_end, act.at + 1))
    summary = escaped(f"{title}: {first.step.text if len(act.deeds) == 1 else _short(act)}")
    return [
        "BEGIN:VEVENT",
        f"UID:{uid}",
        f"DTSTAMP:{utc(stamp)}",
        f"SEQUENCE:{sequence}",
        *_times(begin, end, zone),
        f"SUMMARY:{summary}",
        f"DESCRIPTION:{escaped(chr(10).join(_about(day, act)))}",
        f"TRANSP:{'OPAQUE' if act.hands_end > act.at else 'TRANSPARENT'}",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        f"DESCRIPTION:{summary}",
        f"TRIGGER:{ALARM}",
        "END:VALARM",
        "END:VEVENT",
    ]


def _short(act: Act) -> str:
    return f"{act.deeds[0].step.text.split(';')[0]} (and {len(act.deeds) - 1} more)"


def _about(day: LaidDay, act: Act) -> Iterator[str]:
    """What is dangerous first, then each step with its wait and its nudges."""
    for title in dict.fromkeys(caution.title for deed in act.deeds for caution in deed.step.cautions):
        yield f"Take care: {title}"
    for deed in act.deeds:
        yield f"{_clock(day, deed.at)} {deed.step.text}"
        if deed.end > deed.hands_end:
            yield f"{deed.step.wait_label or 'Wait'} until {_clock(day, deed.end)}"
        if deed.nudges:
            times = ", ".join(_clock(day, minute) for minute in deed.nudges)
            yield f"{deed.step.nudges[-1].label}: {times}"
    if act.latest > act.at:
        yield f"At the latest {_clock(day, act.latest)}"


def _clock(day: LaidDay, minute: int) -> str:
    return clock_words(day.at(minute), day.zone)


def _cancelled(uid: str, sent: Sent, stamp: datetime) -> list[str]:
    return [
        "BEGIN:VEVENT", f"UID:{uid}", f"DTSTAMP:{utc(stamp)}", f"SEQUENCE:{sent.sequence + 1}", f"DTSTART:{sent.start}",
        f"DTEND:{sent.end}", f"SUMMARY:{sent.summary}", "STATUS:CANCELLED", "END:VEVENT",
    ]  # fmt: skip


def _times(begin: datetime, end: datetime, zone: ZoneInfo | None) -> list[str]:
    """Begin and end on the wall; both in UTC where one lies in the second of two like hours, which no wall tells."""
    if zone is None or not zone.key or begin.astimezone(zone).fold or end.astimezone(zone).fold:
        return [f"DTSTART:{utc(begin)}", f"DTEND:{utc(end)}"]
    return [f"{name};TZID={zone.key}:{wall(moment.astimezone(zone))}" for name, moment in
            (("DTSTART", begin), ("DTEND", end))]  # fmt: skip


def zone_lines(zone: ZoneInfo, first: datetime, last: datetime) -> list[str]:
    """The zone as it holds from the last change of its clocks before `first` to `last` [RFC 5545, 3.6.5]."""
    first, last = first.astimezone(UTC), last.astimezone(UTC)
    all_changes = changes(zone, first - YEAR, last)
    kept = [change for change in all_changes if change <= first][-1:] + [
        change for change in all_changes if change > first
    ]
    lines = ["BEGIN:VTIMEZONE", f"TZID:{zone.key}"]
    if not kept or kept[0] > first:  # its clocks have not changed for a year
        lines += _observance(zone, first - YEAR, first - YEAR)
    for change in kept:
        lines += _observance(zone, change - timedelta(seconds=1), change)
    return [*lines, "END:VTIMEZONE"]


def changes(zone: ZoneInfo, first: datetime, last: datetime) -> list[datetime]:
    """Every moment, in UTC, between two at which the clocks of a zone change, to the second."""
    moments, before = [], first
    while before < last:
        after = min(before + timedelta(days=1), last)
        if _offset(zone, before) != _offset(zone, after):
            moments.append(_change(zone, before, after))
        before = after
    return moments


def _change(zone: ZoneInfo, before: datetime, after: datetime) -> datetime:
    while after - before > timedelta(seconds=1):
        middle = before + timedelta(seconds=int((after - before).total_seconds()) // 2)
        before, after = (middle, after) if _offset(zone, middle) == _offset(zone, before) else (before, middle)
    return after


def _offset(zone: ZoneInfo, moment: datetime) -> timedelta:
    return moment.astimezone(zone).utcoffset() or timedelta(0)


def _observance(zone: ZoneInfo, before: datetime, since: datetime) -> list[str]:
    """What holds from a change on: its onset is told on the clocks of before it."""
    old, new = before.astimezone(zone), since.astimezone(zone)
    onset = since.replace(tzinfo=None) + _offset(zone, before)
    kind = "DAYLIGHT" if new.dst() else "STANDARD"
    return [
        f"BEGIN:{kind}", f"DTSTART:{wall(onset)}", f"TZOFFSETFROM:{old:%z}", f"TZOFFSETTO:{new:%z}",
        f"TZNAME:{new.tzname()}", f"END:{kind}",
    ]  # fmt: skip


def wall(moment: datetime) -> str:
    """A time on the wall as the form writes it: `20261201T082000`."""
    return moment.strftime("%Y%m%dT%H%M%S")


def utc(moment: datetime) -> str:
    """A moment as the form writes it: `20261201T072000Z`."""
    return moment.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")


def escaped(text: str) -> str:
    """Text as the form wants it: backslash, semicolon, comma and line end escaped, other controls left out."""
    lines = (plain(line) for line in text.split("\n"))
    return "\\n".join(line.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,") for line in lines)


def folded(line: str) -> list[str]:
    """A line in parts of at most 75 octets, never inside a character; each further one begins with a space."""
    parts, part, room = [], "", MOST_OCTETS
    for sign in line:
        size = len(sign.encode("utf-8", "replace"))
        if size > room:
            parts.append(part)
            part, room = " ", MOST_OCTETS - 1
        part, room = part + sign, room - size
    return [*parts, part]


def sent_before(text: str) -> dict[str, Sent]:
    """The events of a file that we wrote, cancelled ones left out; ValueError for a file of somebody else."""
    lines = text.replace("\r\n", "\n").replace("\n ", "").split("\n")
    if f"PRODID:{PRODID}" not in lines:
        raise ValueError("it was not written here")
    events: dict[str, Sent] = {}
    event: dict[str, str] = {}
    for line in lines:
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            event = {}
        elif line == "END:VEVENT" and event.get("STATUS") != "CANCELLED":
            begin, end = (_sent_at(event, name) for name in ("DTSTART", "DTEND"))
            events[event["UID"]] = Sent(int(event["SEQUENCE"]), begin, end, event["SUMMARY"])
        else:
            event.setdefault(name.partition(";")[0], value)
            event.setdefault(f"{name.partition(';')[0]} zone", name.partition(";TZID=")[2])
    return events


def _sent_at(event: Mapping[str, str], name: str) -> str:
    """A time that was sent, in UTC."""
    zone, text = event[f"{name} zone"], event[name]
    if not zone:
        return text
    try:
        return utc(datetime.strptime(text, "%Y%m%dT%H%M%S").replace(tzinfo=ZoneInfo(zone)))
    except ZoneInfoNotFoundError:
        raise ValueError(f"the zone {zone} is not known here") from None
