"""What is done when: steps with their times, what is in hand, what would help."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.dayline.acts import Deed, calls, deeds
from vatside.dayline.day_words import clock_at, head, in_hand, wait_words, words_of
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.warn import Fit, outlook
from vatside.dayline.what_if import Help
from vatside.ui.text.rows import Row, Span, left, right, row, spread, wrap
from vatside.ui.text.signs import Signs
from vatside.units import show_minutes
from vatside.units.one_line import clean

NEXT = 3
"""Steps that stand out: what comes next."""
SOON = 15
"""Minutes within which a call in a wait is told: ours."""
WIDE = 66
"""Columns from which it is said how late a step may begin."""
TIME, HANDS, LATEST = 12, 10, 13
"""Columns of the time, the minutes of hands, and how late it may begin."""

LOOK_OF = {Fit.LATE: "danger", Fit.TIGHT: "care", Fit.FITS: "good", Fit.FREE: ""}


def head_rows(title: str, day: LaidDay | None, said: str, width: int, signs: Signs) -> tuple[Row, ...]:
    """What day it is, what is in hand or late, and when it ends; `said` while nothing is laid."""
    name = (Span(f" Day line · {clean(title)}", "strong"),)
    if day is None:
        return (row(*name), *(row(Span(f" {line}", "faint")) for line in wrap(said, width - 2)))
    seen = outlook(day)
    sign = {Fit.LATE: f"{signs.alarm} ", Fit.TIGHT: f"{signs.alarm} "}.get(seen.fit, "")
    spare = "" if seen.spare is None else f"{sign}{in_hand(seen.spare)} "
    said_head = wrap(f"{head(day)}.", width - 2)
    return (spread(name, (Span(spare, LOOK_OF[seen.fit]),), width), *(row(Span(f" {line}")) for line in said_head))


def act_rows(day: LaidDay, width: int) -> tuple[Row, ...]:
    """A line for each step that is to come, the next three stronger; a call that is due soon stands above them."""
    found = deeds(day)
    wide = TIME if any(len(clock_at(day, deed.at)) > 5 for deed in found) else 6
    soon = [_call(day, minute, words, wide, width) for minute, _, words in sorted(calls(day)) if minute <= SOON]
    listed = tuple(_deed(day, deed, number < NEXT, wide, width) for number, deed in enumerate(found))
    return (*soon, *listed) if found or soon else (row(Span("Nothing is left to do today.", "done")),)


def _call(day: LaidDay, minute: int, words: str, wide: int, width: int) -> Row:
    spans = (Span(left(clock_at(day, minute), wide), "number"), Span(f"{words}, while it waits", "next"))
    return spread(spans, (), width)


def _deed(day: LaidDay, deed: Deed, is_next: bool, wide: int, width: int) -> Row:
    begins = "now" if deed.at <= 0 and day.needed.day.running else clock_at(day, deed.at)
    hands = deed.hands_end - deed.at
    tail = right(show_minutes(hands) if hands else "", HANDS)
    late = f"latest {day.at(deed.latest):%H:%M}" if deed.latest > deed.at else ""
    tail += right(late, LATEST) if width >= WIDE else ""
    near = (Span(left(begins, wide), "number"), Span(clean(words_of(deed)), "strong" if is_next else ""))
    return spread(near, (Span(tail, "faint"),), width, deed.task)


def warned_rows(day: LaidDay, helps: Sequence[Help], *, trying: bool, width: int, most: int) -> tuple[Row, ...]:
    """What is to be said before it is too late, and what would help, each change with what it gains."""
    look = LOOK_OF[outlook(day).fit]
    rows = [row(Span(f" ! {line}" if not at else f"   {line}", look or "care"))
            for said in outlook(day).sentences for at, line in enumerate(wrap(said, width - 4))]  # fmt: skip
    if outlook(day).fit is Fit.LATE:
        rows += [row(Span(f"   {line}")) for line in _helping(helps, trying=trying, width=width)]
    return tuple(rows[:most])


def _helping(helps: Sequence[Help], *, trying: bool, width: int) -> list[str]:
    words = [f"{each.words[:1].upper()}{each.words[1:]}" for each in helps]
    found = [line for each in words for line in wrap(each, width - 4)]
    if trying and not found:
        return ["What would help is being worked out."]
    if not found:
        return ["No single change, and no two of them, would bring it in time."]
    return found


def why_rows(day: LaidDay, task: str, sentences: Sequence[str], width: int) -> tuple[Row, ...]:
    """Why a step stands where it stands."""
    deed = next((deed for deed in deeds(day) if deed.task == task), None)
    if deed is None:
        return (row("It is done, or stands elsewhere by now."),)
    title = f"{clock_at(day, deed.at)}  {words_of(deed)}{wait_words(day, deed)}"
    rows = [row(Span(line, "strong")) for line in wrap(clean(title), width)]
    for sentence in sentences:
        rows += [row(), *(row(Span(line)) for line in wrap(clean(sentence), width))]
    if deed.latest > deed.at:
        late = f"It may begin {clock_at(day, deed.latest)} at the latest, if the others keep their times."
        rows += [row(), *(row(Span(line, "faint")) for line in wrap(late, width))]
    return tuple(rows)
