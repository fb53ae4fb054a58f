"""Doing a day again, on one screen: how much fibre, and what is taken over from how it really went."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

from vatside.days.repeat import Offer
from vatside.days.why_apart import Told
from vatside.ui.text.rows import BLANK, Row, Span, cells, left, row, spread, wrap
from vatside.ui.text.signs import Signs
from vatside.units.one_line import clean

FIBRE, TITLE = "@fibre", "@title"
MOST = 3
"""Lines that fibre or vat may take: the offers stand on the same screen."""


def repeat_rows(
    title: str, fibre: str, scaled: str, blue: Sequence[Told], offers: Sequence[Offer], taken: Collection[str],
    becomes: Callable[[str], str], width: int, signs: Signs,
) -> tuple[Row, ...]:  # fmt: skip
    """Print the new day's name, fibre and vat, then every offer with its answer."""
    rows = [
        spread((Span("  New day   ", "faint"), Span(clean(title), "strong")), (), width, TITLE),
        spread((Span("  Fibre     ", "faint"), Span(fibre, "strong")), (Span("m ", "key"),), width, FIBRE),
        *(row(Span(f"            {line}", "faint"), key=FIBRE) for line in wrap(clean(scaled), width - 14)[:MOST]),
        *_blue(blue, width),
        BLANK,
    ]
    if not offers:
        words = "That day went as its plan works out: there is nothing to take over beside the plan itself."
        return (*rows, *(row(Span(f" {line}", "faint")) for line in wrap(words, width - 2)))
    rows.append(row(Span(" It really went otherwise. Take it over?", "head")))
    for offer in offers:
        rows += _offer(offer, offer.path in taken, becomes(offer.path), width, signs)
    return tuple(rows)


def _blue(blue: Sequence[Told], width: int) -> list[Row]:
    """What the vat comes to, beside what it was; what would show on the cloth first, and marked."""
    rows = []
    for marked in (True, False):
        lines = wrap(clean("; ".join(words for words, differs in blue if differs is marked)), width - 14)
        rows += [row(Span(f"            {line}", "care" if marked else "faint"), key=FIBRE) for line in lines[:MOST]]
    if rows:
        first = rows[0].spans[0]
        rows[0] = row(Span("  The vat   ", "faint"), Span(first.text.strip(), first.role), key=FIBRE)
    return rows


def _offer(offer: Offer, taken: bool, becomes: str, width: int, signs: Signs) -> list[Row]:
    """One line where there is room, else the numbers below the name."""
    sign = signs.done if taken else signs.later
    answer = Span(left("take" if taken else "leave", 6), "strong" if taken else "faint")
    head = (Span(f"  {sign} "), answer, Span(clean(offer.label), "" if taken else "faint"))
    was = f"plan {offer.planned}, was {offer.actual}"
    now = f" {signs.arrows[-1]} now {becomes}" if becomes else " not needed now"
    room = sum(cells(span.text) for span in head) + cells(was) + cells(now) + 3
    tail = (Span(was, "faint"), Span(f"{now} ", "number"))
    if room <= width:
        return [spread(head, tail, width, offer.path)]
    return [spread(head, (), width, offer.path), spread((Span("          "), *tail), (), width, offer.path)]
