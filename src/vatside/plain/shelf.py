"""`vatside shelf`: what is owned; with a session, how far it goes, what to buy and what the day costs."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.plain.say import Refusal, Words, read_day, tell, whole
from vatside.plan.figure_text import show_weighed
from vatside.plan.plan import Plan
from vatside.plan.sheet import CARE
from vatside.shelf.booking import NOTHING, Booking, as_booked, booked_words, sums_by_bag
from vatside.shelf.booking import book as to_book
from vatside.shelf.cost import Cost, day_cost
from vatside.shelf.plan_and_bag import disagreements
from vatside.shelf.shelf import Owned, Shelf
from vatside.shelf.shelf_file import ShelfFile, shelf_path
from vatside.shelf.supplies import Need, Taken, how_many_more, needs, shopping_list, taken
from vatside.units import Kind, show_amount, show_percent, show_value, to_base
from vatside.units.show import plain

WIDE = 40


def run_shelf(words: Sequence[str]) -> int:
    """Print the shelf; exit code 0, 1 if its file is damaged, or a Refusal."""
    asked = Words("shelf", "file?", "--json", days=whole, shelf=Path).read(words)
    days = 1 if asked.days is None else asked.days
    if days < 1:
        raise Refusal(f"--days: {days} days are none to buy for.")
    opened = ShelfFile(shelf_path(asked.shelf))
    if opened.unreadable:
        raise Refusal(f"{opened.unreadable}.")
    day = read_day(asked.file) if asked.file else None
    if asked.json:
        tell(json.dumps(_data(opened.shelf, day, days), ensure_ascii=False, indent=1))
    else:
        tell("\n".join(_lines(opened, day, days)))
    return 0 if opened.readonly is None else 1


def _lines(opened: ShelfFile, day: Session | None, days: int) -> Iterator[str]:
    if opened.readonly is not None:
        yield f"{CARE.opening}{plain(opened.readonly)}"
    still = to_book(opened.shelf, day) if day else NOTHING
    shelf = as_booked(opened.shelf, still)
    if not shelf.owned:
        yield f"The shelf is empty ({opened.path})."
    for owned in shelf.owned:
        yield from _item(owned)
    yield from _not_booked(shelf, still)
    if day is not None:
        state = fold(day)
        yield from _for_plan(shelf, state.plan, taken(state), days)
        yield ""
        yield from _cost(day_cost(day, shelf))


def _not_booked(shelf: Shelf, still: Booking) -> Iterator[str]:
    """What the day used and the shelf's file does not know yet."""
    words = booked_words(shelf, still.events)
    if words:
        yield f"Counted as used by this day, and not booked yet: {words}. The app books it when the day is left."
    for asked in still.questions:
        if asked.bags(shelf):
            yield f"{CARE.opening}Not counted: {asked.words} that this day used; the app asks from which bag."


def _item(owned: Owned) -> Iterator[str]:
    left = "finished" if owned.finished else show_weighed(owned.item.material, owned.left)
    yield f"{plain(owned.name):<{WIDE}} {left:>10}   {', '.join(_details(owned))}".rstrip()
    if owned.over > 0:
        yield f"  ! {show_weighed(owned.item.material, owned.over)} more was used than was there: weigh what is left"


def _details(owned: Owned) -> Iterator[str]:
    item = owned.item
    yield show_amount(item.purity)
    if item.strike.value != 100:
        yield f"strength {show_amount(item.strike)}, so weighed as {show_percent(100 * owned.purity)}"
    yield f"1 tsp {show_amount(item.spoon_mass)}" if item.spoon_mass else "1 tsp not weighed"
    if item.price is not None:
        yield f"{item.price.value:.2f} for {show_weighed(item.material, to_base(item.mass, Kind.MASS))}"
    if item.bought:
        yield f"bought {item.bought}"
    if owned.opened:
        yield f"opened {owned.opened}"


def _for_plan(shelf: Shelf, plan: Plan, held: Taken, days: int) -> Iterator[str]:
    more = how_many_more(plan, shelf, held)
    yield ""
    yield f"For days like “{plain(plan.title)}”:"
    for disagreement in disagreements(plan, shelf, held):
        yield f"  ! {plain(disagreement.words)}"
    for need in needs(plan, shelf, held):
        yield from _need(need)
    if more.limit:
        yield f"  lasts for {more.words}; {more.limit} runs out first"
    if more.unknown:
        yield f"  never on the shelf, and left out of that: {', '.join(more.unknown)}"
    for line in shopping_list(plan, shelf, days, held):
        yield f"  to buy: {show_weighed(line.material, line.grams)} of {line.name}"


def _need(need: Need) -> Iterator[str]:
    wanted, have = (show_weighed(need.material, grams) for grams in (need.grams, need.have))
    yield f"  {need.name:<{WIDE}} {wanted:>10}   have {have}"
    for owned in need.others:
        left, counts = show_weighed(owned.item.material, owned.left), show_weighed(need.material, need.counts_as(owned))
        yield f"    with {left} of {plain(owned.name)}, {show_percent(100 * owned.purity)}, counted as {counts}"


def _cost(costs: Cost) -> Iterator[str]:
    yield "It costs:"
    for row in costs.rows:
        money = "no price" if row.money is None else costs.money(row.money)
        went = f"   {row.went}" if row.went else ""
        yield f"  {row.label:<{WIDE}} {row.amount:>12} {plain(money):>12}{went}"
    priced = any(row.money for row in costs.rows)
    if priced:
        yield f"  {'in all':<{WIDE}} {'':>12} {plain(costs.money(costs.total)):>12}"
    for lot in costs.lots if priced else ():
        per_piece = f"{lot.pieces} × {costs.money(lot.each)}"
        yield f"  {plain(lot.name):<{WIDE}} {'':>12} {plain(costs.money(lot.total)):>12}   {plain(per_piece)}"
    yield from (f"  {note}" for note in costs.notes)
    if not priced:
        yield "  in all: not known, for nothing of it has a price"
    elif costs.unpriced:
        yield f"  without: {', '.join(costs.unpriced)}"


def _data(noted: Shelf, day: Session | None, days: int) -> dict[str, Any]:
    still = to_book(noted, day) if day else NOTHING
    shelf = as_booked(noted, still)
    data: dict[str, Any] = {"items": [_item_data(owned) for owned in shelf.owned]}
    if day is not None:
        state = fold(day)
        data |= _day_data(shelf, state.plan, taken(state), days) | _cost_data(day_cost(day, shelf))
        data["not_booked_g"] = {item: grams for item, grams in sums_by_bag(still.events).items() if item}
    return data


def _cost_data(money: Cost) -> dict[str, Any]:
    return {
        "cost": {
            "total": money.total, "each": money.each, "unpriced": list(money.unpriced), "notes": list(money.notes)
        }
    }  # fmt: skip


def _day_data(shelf: Shelf, plan: Plan, held: Taken, days: int) -> dict[str, Any]:
    more = how_many_more(plan, shelf, held)
    return {
        "more_days": more.days,
        "runs_out_first": more.limit,
        "unknown": list(more.unknown),
        "needs": {need.name: {"grams": need.grams, "have_g": need.have} for need in needs(plan, shelf, held)},
        "disagreements": [disagreement.words for disagreement in disagreements(plan, shelf, held)],
        "to_buy": {line.name: line.grams for line in shopping_list(plan, shelf, days, held)},
    }


def _item_data(owned: Owned) -> dict[str, Any]:
    item = owned.item
    return {
        "id": item.id,
        "name": owned.name,
        "material": item.material,
        "lot": item.lot,
        "left_g": owned.left,
        "bought": item.bought,
        "opened": owned.opened,
        "finished": owned.finished,
        "dosed_as": show_value(100 * owned.purity, "%"),
    }
