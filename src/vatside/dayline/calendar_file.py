"""A laid day as an iCalendar file (RFC 5545): an event for each act, alarmed five minutes before.

Times are in UTC, so no zone has to be written and the hour that comes twice in autumn stays clear. An act keeps its UID
from export to export, whatever its time, and its SEQUENCE counts up, so that a second import moves events instead of
doubling them; what fell out is sent once more as cancelled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime

from attrs import frozen

from vatside.dayline.day_words import Act
from vatside.dayline.laid_day import LaidDay
from vatside.units.show import plain

PRODID = "-//Vatside//day line//EN"
#: A line holds so many octets at most, its end left out [RFC 5545, 3.1].
MOST_OCTETS = 75
ALARM = "-PT5M"


@frozen
class Sent:
    """An event of an earlier export."""

    sequence: int
    start: str
    end: str
    summary: str


def calendar(
    day: LaidDay, acts: Sequence[Act], *, title: str, session: str, stamp: datetime, before: Mapping[str, Sent]
) -> str:
    """The whole file, with CRLF; `before` are the events of the file that it takes the place of."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODID}", "METHOD:PUBLISH"]
    uids = {uid_of(session, act): act for act in acts}
    for uid, act in uids.items():
        lines += _event(day, act, uid, title, stamp, before[uid].sequence + 1 if uid in before else 0)
    for uid, sent in before.items():
        if uid not in uids:
            lines += _cancelled(uid, sent, stamp)
    lines.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for line in lines for part in folded(line))


def uid_of(session: str, act: Act) -> str:
    """The name of an act for ever: its day and its first step."""
    return f"{session}.{act.deeds[0].task.replace('#', '-')}@vatside.invalid"


def _event(day: LaidDay, act: Act, uid: str, title: str, stamp: datetime, sequence: int) -> list[str]:
    first = act.deeds[0]
    summary = escaped(f"{title}: {first.step.text if len(act.deeds) == 1 else _short(act)}")
    return [
        "BEGIN:VEVENT",
        f"UID:{uid}",
        f"DTSTAMP:{utc(stamp)}",
        f"SEQUENCE:{sequence}",
        f"DTSTART:{utc(day.at(act.at))}",
        f"DTEND:{utc(day.at(max(act.hands_end, act.at + 1)))}",
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
        yield f"{day.at(deed.at):%H:%M} {deed.step.text}"
        if deed.end > deed.hands_end:
            yield f"{deed.step.wait_label or 'Wait'} until {day.at(deed.end):%H:%M}"
        if deed.nudges:
            times = ", ".join(f"{day.at(minute):%H:%M}" for minute in deed.nudges)
            yield f"{deed.step.nudges[-1].label}: {times}"
    if act.latest > act.at:
        yield f"At the latest {day.at(act.latest):%H:%M}"


def _cancelled(uid: str, sent: Sent, stamp: datetime) -> list[str]:
    return [
        "BEGIN:VEVENT", f"UID:{uid}", f"DTSTAMP:{utc(stamp)}", f"SEQUENCE:{sent.sequence + 1}", f"DTSTART:{sent.start}",
        f"DTEND:{sent.end}", f"SUMMARY:{sent.summary}", "STATUS:CANCELLED", "END:VEVENT",
    ]  # fmt: skip


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
    found: dict[str, Sent] = {}
    event: dict[str, str] = {}
    for line in lines:
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            event = {}
        elif line == "END:VEVENT" and event.get("STATUS") != "CANCELLED":
            found[event["UID"]] = Sent(int(event["SEQUENCE"]), event["DTSTART"], event["DTEND"], event["SUMMARY"])
        else:
            event.setdefault(name, value)
    return found
