"""The shelf in words: what is owned, and what a day needs of it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from vatside.bench.shelf_desk import ForPlan
from vatside.plan.figure_text import show_weighed
from vatside.plan.sheet import CARE
from vatside.shelf.cost import Cost
from vatside.shelf.plan_and_bag import Disagreement
from vatside.shelf.shelf import Owned, Shelf, substance
from vatside.shelf.supplies import Need
from vatside.ui.text.rows import BLANK, Row, Signs, Span, cells, left, right, row, spread, wrap, wrapped
from vatside.units import show_amount, show_percent
from vatside.units.show import clean

WIDE = 72
"""Columns from which on more than one word is said of a bag that the plan weighs from."""


def item_rows(shelf: Shelf, in_plan: Collection[str], width: int, signs: Signs, in_hand: str = "") -> tuple[Row, ...]:
    """Print what is owned, marked where the plan weighs from it and which is in hand; what is finished below."""
    if not shelf.owned:
        words = (
            "Nothing stands here yet. Write down what you have: then the plan knows its real purity and what a spoon "
            "of it weighs, the list says what to buy, and every vat says what it costs. a adds the first bag."
        )
        return tuple(wrapped(words, width - 1, "faint"))
    there = [owned for owned in shelf.owned if not owned.finished]
    gone = [owned for owned in shelf.owned if owned.finished]
    rows = [_columns(width)]
    rows += [
        line
        for owned in there
        for line in _item(owned, (owned.item.id in in_plan, owned.item.id == in_hand), width, signs)
    ]
    if gone:
        rows += [BLANK, row(Span("Finished", "head"))]
        rows += [line for owned in gone for line in _item(owned, (False, owned.item.id == in_hand), width, signs)]
    return tuple(rows)


def _widths(width: int) -> tuple[int, int, int]:
    """Columns of purity, spoon and price; 0 where there is no room."""
    return (6, 9 if width >= 56 else 0, 22 if width >= 84 else 0)


def _columns(width: int) -> Row:
    purity, spoon, price = _widths(width)
    heads = f"{right('left', 9)} {right('pure', purity)}"
    heads += right("1 tsp", spoon + 1) if spoon else ""
    heads += f"  {left('price, opened', price)}" if price else ""
    return spread((), (Span(heads, "faint"),), width)


def _item(owned: Owned, state: tuple[bool, bool], width: int, signs: Signs) -> Iterator[Row]:
    (in_plan, in_hand), item, key = state, owned.item, owned.item.id
    purity, spoon, price = _widths(width)
    amount = "–" if owned.finished else show_weighed(item.material, owned.left)
    low = not owned.finished and owned.left <= 0
    tail = [Span(right(amount, 9), "care" if low else "number"), Span(f" {right(show_amount(item.purity), purity)}")]
    if spoon:
        tail.append(Span(" " + right(show_amount(item.spoon_mass) if item.spoon_mass else "?", spoon), "unit"))
    if price:
        tail.append(Span(f"  {left(_price(owned), price)}", "unit"))
    mark = ("  in the plan" if width >= WIDE else "  plan") if in_plan else ""
    room = width - sum(cells(span.text) for span in tail) - cells(mark) - 5
    sign = signs.here if in_hand else CARE.sign if low else signs.later
    name = (Span(f"{sign} ", "strong" if in_hand else ""), Span(_name(owned, room), "done" if owned.finished else ""))
    yield spread((*name, Span(mark, "faint")), tail, width, key)
    for words in _asides(owned):
        yield from (row(Span(f"    {line}", "care"), key=key) for line in wrap(words, width - 5))


def _name(owned: Owned, room: int) -> str:
    """Where there is little room, the lot stays and the substance gives way."""
    name, which = clean(substance(owned.item)), clean(owned.which)
    over = cells(name) + cells(which) - room
    return (name[: max(len(name) - over - 1, 6)] + "…" if over > 0 else name) + which


def _price(owned: Owned) -> str:
    paid = f"{owned.item.price.value:.2f}" if owned.item.price is not None else ""
    opened = f"opened {owned.opened}" if owned.opened else ""
    return "  ".join(part for part in (paid, opened) if part)


def _asides(owned: Owned) -> Iterator[str]:
    if owned.over > 0:
        yield f"{show_weighed(owned.item.material, owned.over)} more was used than was there: weigh what is left (r)"
    elif owned.left <= 0 and not owned.finished:
        yield "nothing is left by the book: x if it is finished, r if it is not"
    if owned.item.strike.value != 100:
        counts = show_percent(100 * owned.purity)
        yield f"strength {show_amount(owned.item.strike)}, so weighed as {counts}{_capped(owned)}"


def _capped(owned: Owned) -> str:
    return "; by the strips it would be more than pure" if owned.purer_than_pure else ""


def need_rows(for_plan: ForPlan, days: int, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print what a day takes of everything, what must be bought, and for how many more days the shelf lasts."""
    more, went = for_plan.more, for_plan.went
    wanted = [(need, max(need.grams * days - went.get(need.material, 0.0), 0.0)) for need in for_plan.needs]
    rows = [line for need, grams in wanted for line in _need(need, grams, width, signs)]
    rows.append(BLANK)
    if more.limit:
        sentence = f"The shelf lasts for {more.words}; {more.limit} runs out first."
        rows += wrapped(sentence, width - 1, "strong" if more.days else "care")
    if more.unknown:
        rows += wrapped(f"Never on the shelf, and not counted: {', '.join(more.unknown)}.", width - 1, "faint")
    return tuple(rows)


def to_settle_rows(open_: Sequence[str], disagreements: Sequence[Disagreement], width: int) -> tuple[Row, ...]:
    """Print what the dyer has to say: which bag it was, and where plan and shelf do not agree."""
    which = f"{CARE.opening}Used today, but from which bag? {', '.join(open_)}: j says which."
    rows = wrapped(which, width - 1, CARE.ink) if open_ else []
    for item in disagreements:
        cure = (
            "; m takes it into the plan"
            if item.owned
            else "; space on one takes it into the plan"
            if item.which
            else ""
        )
        rows += wrapped(f"{CARE.opening}{clean(item.words)}{cure}.", width - 1, CARE.ink)
    return (*rows, BLANK) if rows else ()


def _need(need: Need, wanted: float, width: int, signs: Signs) -> Iterator[Row]:
    if wanted <= need.grams * 1e-6:
        head = (Span(f"{signs.done} ", "faint"), Span(clean(need.name)))
        yield spread(head, (Span(left("all gone in", 12), "faint"),), width)
        return
    short = wanted - need.have
    enough = short <= wanted * 1e-6
    answer = f"have {show_weighed(need.material, need.have)}" if enough else f"buy {show_weighed(need.material, short)}"
    sign, role = (signs.done, "faint") if enough else (CARE.sign, CARE.ink)
    tail = (Span(right(show_weighed(need.material, wanted), 8), "number"), Span(f"  {left(answer, 12)}", role))
    yield spread((Span(f"{sign} ", role), Span(clean(need.name))), tail, width)
    for owned in need.others:
        share, counts = show_percent(100 * owned.purity), show_weighed(need.material, need.counts_as(owned))
        left_ = show_weighed(owned.item.material, owned.left)
        text = f"with {left_} of {clean(owned.name)}, {share}, counted as {counts}"
        yield from (row(Span(f"    {line}", "faint")) for line in wrap(text, width - 5))


def cost_rows(costs: Cost, width: int) -> tuple[Row, ...]:
    """Print what the day costs, in all and for a piece of each lot."""
    rows = [BLANK]
    if not any(item.money for item in costs.rows):
        words = (
            "What it costs is not known: write down the prices of what you own (Enter), "
            "and of energy (Tab, then Enter)."
        )
        return (*rows, *wrapped(words, width - 1, "faint"))
    rows.append(
        spread((Span("Costs in all", "strong"),), (Span(f"{clean(costs.money(costs.total))} ", "number"),), width)
    )
    for lot in costs.lots:
        count = f"{lot.pieces} × " if lot.pieces > 1 else ""
        tail = (Span(f"{count}{clean(costs.money(lot.each))} ", "number"),)
        rows.append(spread((Span(f"  {clean(lot.name)}, each"),), tail, width))
    for note in costs.notes:
        rows += wrapped(note, width - 1, "faint")
    if costs.unpriced:
        sentence = f"Without a price: {', '.join(costs.unpriced)}."
        rows += wrapped(sentence, width - 1, "faint")
    return tuple(rows)


def no_plan_rows(width: int) -> tuple[Row, ...]:
    """Say how to come by a list of what to buy."""
    words = "Choose a day in the list of days, or open one, and come back: then what it needs stands here."
    return tuple(wrapped(words, width - 1, "faint"))
