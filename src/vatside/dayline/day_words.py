"""A laid day in words: its head, the clock on the wall, what a deed is."""

from __future__ import annotations

import re

from vatside.dayline.acts import Deed
from vatside.dayline.laid_day import LaidDay
from vatside.units import show_count, show_minutes


def head(day: LaidDay) -> str:
    """When it begins, when the vat is ready, when all is done, and how much is in hand or late."""
    parts = [
        f"now {clock_at(day, 0)}" if day.needed.day.running else f"begin {clock_at(day, 0)} on {day.begin:%a %-d %b}"
    ]
    if day.ready is not None:
        parts.append(f"vat ready {clock_at(day, day.ready)}{_against(day.wanted, day.ready)}")
    if has_more(day):
        parts.append(f"all done {clock_at(day, day.laid.end)}{_against(day.home, day.laid.end)}")
    else:
        parts.append("nothing left to do today")
    return ", ".join(parts)


def has_more(day: LaidDay) -> bool:
    """Tell whether anything is left to do today."""
    return any(name not in day.needed.day.running for name in day.laid.starts)


def _against(wanted: int | None, minute: int) -> str:
    return "" if wanted is None else f" ({in_hand(wanted - minute)})"


def in_hand(spare: int) -> str:
    """`25 min in hand`, `8 min late`."""
    return f"{show_minutes(abs(spare))} {'in hand' if spare >= 0 else 'late'}"


def clock_at(day: LaidDay, minute: int) -> str:
    """A minute of the day on the wall; of another date with its weekday."""
    moment = day.at(minute)
    return f"{moment:%H:%M}" if moment.date() == day.begin.date() else f"{moment:%H:%M (%a)}"


def briefly(text: str) -> str:
    """The first words of a sentence."""
    return re.split(r"[;:,]", text)[0]


def words_of(deed: Deed) -> str:
    """What is to be done; of a round who goes in."""
    if deed.round is None:
        return deed.step.text
    pieces = [piece for entry in deed.round.entries for piece in entry.pieces]
    entries = show_count(len(deed.round.entries), "entry", "entries")
    return f"Round {deed.number} of the dips: {entries}, {show_count(len(pieces), 'piece')}"


def wait_words(day: LaidDay, deed: Deed) -> str:
    """How long it then waits, and when it is to be looked after."""
    nudges = (
        f", {deed.step.nudges[-1].label} {', '.join(clock_at(day, at) for at in deed.nudges)}" if deed.nudges else ""
    )
    if deed.end <= deed.hands_end or deed.round:
        return ""
    return f" [{deed.step.wait_label or 'wait'} until {clock_at(day, deed.end)}{nudges}]"
