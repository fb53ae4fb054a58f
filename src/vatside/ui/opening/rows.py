"""The opening screen: saved days, a new one, the samples."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING

from attrs import evolve, frozen

from vatside.plan.hours import hour_words, on_wall
from vatside.plan.sheet import CARE
from vatside.storage.places import SAMPLE
from vatside.ui.text.rows import BLANK, Row, Signs, Span, day_bar, row, spread, wrap, wrapped
from vatside.units import show_concentration, show_volume
from vatside.units.show import clean, span

if TYPE_CHECKING:
    from vatside.days.kept_stock import StandingStock
    from vatside.days.kept_vats import StandingVat
    from vatside.storage.folder import SessionCard

NEW = "new"
SAVED = "saved:"
KEPT = "kept:"
JAR = "jar:"
SHELF = "shelf"
GUIDE = "guide"
REPLAY = "replay"
AGAIN = "again"
CARD = "card"
COMPARE = "compare"
MARK = "m"
"""Stands before the day that was marked, as the key that did it."""
ROOMY = 76
"""Columns from which on a day's line has room for its planned hour and when it was last in hand."""


def crown_rows(width: int, signs: Signs) -> tuple[Row, ...]:
    """The name, and the colours of a dip from straw to indigo."""
    return (
        spread((Span(" V A T S I D E", "strong"),), (Span("indigo, planned and kept to time ", "faint"),), width),
        Row(day_bar(1.0, width, signs)),
    )


@frozen
class Listed:
    """What the opening screen lists."""

    saved: tuple[SessionCard, ...] | None = None
    """None while the folder has not been looked at yet."""
    samples: tuple[SessionCard, ...] = ()
    kept: tuple[StandingVat, ...] = ()
    jars: tuple[StandingStock, ...] = ()
    marked: str = ""
    """Key of the day that another one is to be compared with."""


def shelf_rows(listed: Listed, now: datetime | None, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print what can be opened."""
    rows = [
        spread((Span("  + ", "head"), Span("A new day", "strong")), (Span("a ", "key"),), width, NEW),
        spread((Span("  = ", "head"), Span("The shelf: powders, what to buy")), (Span("o ", "key"),), width, SHELF),
        BLANK,
    ]
    for vat in listed.kept:
        rows += _kept(vat, now, width, signs)
    for stock in listed.jars:
        rows += _jar(stock, now, width, signs)
    rows += [BLANK] if listed.kept or listed.jars else []
    rows.append(row(Span(" Your days", "head")))
    if listed.saved is None:
        rows.append(row(Span("    looking …", "faint")))
    elif listed.saved:
        saved = told_apart(listed.saved)
        rows += [line for card in saved for line in _card(card, SAVED, now, width, signs, listed.marked)]
    else:
        rows += _none_yet(width)
    if listed.samples:
        rows += [BLANK, row(Span(" Samples", "head"), Span("  opened as a copy of your own", "faint"))]
        rows += [line for card in listed.samples for line in _card(card, SAMPLE, now, width, signs, listed.marked)]
        rows.append(spread((Span("  > ", "head"), Span("A whole day shown, in some minutes")), (), width, GUIDE))
    return tuple(rows)


def in_hand(saved: Sequence[SessionCard], today: date) -> SessionCard | None:
    """Give the day that the cursor waits on: the latest if something runs in it, else the next that is planned."""
    if saved and saved[0].waits:
        return saved[0]
    ahead = [card for card in saved if card.ready_by and "T" in card.ready_by and card.ready_by >= today.isoformat()]
    return min(ahead, key=lambda card: card.ready_by or "", default=None)


A_MINUTE = 60.0
"""Seconds from which the age of a kept vat is told: the list is not made anew each second."""


def _kept(vat: StandingVat, now: datetime | None, width: int, signs: Signs) -> list[Row]:
    """A vat that stands and waits: how strong and how old it is, and what was noted of it."""
    key = f"{KEPT}{vat.path}"
    seconds = (now - vat.kept.utc).total_seconds() if now else None
    age = "" if seconds is None else "just kept" if seconds < A_MINUTE else f"{span(seconds)} old"
    tail = Span(f"{show_volume(vat.vat.litres)} at {show_concentration(vat.vat.strength)}   {age} ", "faint")
    name = (Span(f"  {signs.vat} "), Span("Kept vat: ", "strong"), Span(clean(vat.title)))
    rows = [spread(name, (tail,), width, key)]
    if vat.carried:
        rows += _below(f"carried on in “{clean(vat.carried)}”, where nothing is done yet", width, key)
    return rows + _below(clean(vat.note), width, key)


def _below(text: str, width: int, key: str, role: str = "faint") -> list[Row]:
    """Print as much of a text as two lines hold below the line that it is about."""
    return [row(Span(f"      {line}", role), key=key) for line in wrap(text, width - 8)[:2]]


def _jar(stock: StandingStock, now: datetime | None, width: int, signs: Signs) -> list[Row]:
    """A stock that stands and waits: how much, how strong, when it was made, and whether its days are over."""
    # Nothing of this is needed before the first paint.
    from vatside.days.kept_stock import age_words
    from vatside.log.words.vat import held_words

    key = f"{JAR}{stock.path}"
    name = (Span(f"  {signs.vat} "), Span("Kept stock: ", "strong"), Span(clean(stock.title)))
    rows = [spread(name, (Span(f"{held_words(stock.stock, stock.plan)} ", "faint"),), width, key)]
    today = on_wall(now).replace(tzinfo=None).isoformat(timespec="minutes") if now else ""
    past = age_words(stock.plan, stock.stock, today) if today else ""
    return rows + _below(past, width, key, CARE.ink)


def carry_rows(vat: StandingVat, width: int) -> tuple[Row, ...]:
    """Say what carrying on from a kept vat does, before it is done."""
    words = [
        f"A new day begins on the vat of “{clean(vat.title)}”. The vat stays in the list until something is done "
        "in that day."
    ]
    if vat.carried:
        words.append(
            f"“{clean(vat.carried)}” was begun on it already, and nothing is done there: "
            "it stands among your days and can be opened."
        )
    return tuple(line for text in words for line in wrapped(text, width))


def _none_yet(width: int) -> list[Row]:
    words = (
        "None yet. A new day asks for little: what fibre, how much, how blue, and when the vat must be ready. "
        "Everything else has a usual value that you can change, and every key press is kept."
    )
    return [row(Span(f"    {line}", "faint")) for line in wrap(words, min(width - 6, 66))]


def _card(card: SessionCard, kind: str, now: datetime | None, width: int, signs: Signs, marked: str = "") -> list[Row]:
    key = f"{kind}{card.path}"
    when = (_ago(card.last or card.created, now) if kind == SAVED else "") if card.created else ""
    if card.problem:
        name = Span(f"  {CARE.opening}{clean(card.title)}", CARE.ink)
        head = spread((name,), (Span(f"{when} ", "faint"),), width, key)
        return [head, *_below(clean(card.problem), width, key)]
    wanted = _wanted(card, now, width) if kind == SAVED else ""
    waits = card.waits if kind == SAVED else 0  # a sample is no day of hers, and nothing runs in it
    running = f"{waits} running" if waits else ""
    sign = signs.running if waits else signs.done if card.over else signs.later
    if key == marked:
        sign, running = MARK, f"{running}  compare with".strip()
    at = "" if wanted and width < ROOMY else f"   {when}"
    tail = (Span(wanted), Span(f"{'   ' if wanted and running else ''}{running}", "care"), Span(f"{at} ", "faint"))
    return [spread((Span(f"  {sign} "), Span(clean(card.title))), tail, width, key)]


def _wanted(card: SessionCard, now: datetime | None, width: int) -> str:
    """Say for when the vat is planned; of a day that is past nothing is wanted any more."""
    if card.ready_by is None or now is None or ("T" in card.ready_by and card.ready_by < now.date().isoformat()):
        return ""
    return f"{'vat ' if width >= ROOMY else ''}by {hour_words(card.ready_by, now.date())}"


def told_apart(cards: tuple[SessionCard, ...]) -> tuple[SessionCard, ...]:
    """Number the days of one title, the older the smaller: a date can be changed, and not every line shows it."""
    by_title: dict[str, list[SessionCard]] = {}
    for card in sorted((card for card in cards if card.created), key=lambda card: card.created or datetime.max):
        by_title.setdefault(card.title, []).append(card)
    numbers = {card.path: at for same in by_title.values() if len(same) > 1 for at, card in enumerate(same, 1)}
    return tuple(
        evolve(card, title=f"{card.title} ({numbers[card.path]})") if card.path in numbers else card for card in cards
    )


def _ago(then: datetime | None, now: datetime | None) -> str:
    """Say when something was, the nearer the finer."""
    if then is None or now is None:
        return ""
    local, today = on_wall(then), now
    days = (today.date() - local.date()).days
    if days == 0:
        return f"today {local:%H:%M}"
    if days == 1:
        return f"yesterday {local:%H:%M}"
    return f"{local.day} {local:%B}" if local.year == today.year else f"{local.day} {local:%B %Y}"
