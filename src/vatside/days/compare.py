"""Two sessions side by side, fact by fact: what was planned, what went in, was read, how long it took, what came of it.

The facts of a day stand in groups, each with a name by which its like is found on another day.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping

from attrs import frozen

from vatside.catalogue.load import materials
from vatside.dayline.day_steps import steps
from vatside.dayline.step_uses import all_uses
from vatside.days.day_record import DayRecord, Fact, summed
from vatside.days.done import PARTS, last_of, part_text, to_last_act
from vatside.days.lots import Pairs, lot_words, paired
from vatside.forms.field import in_words
from vatside.forms.fields import get_value, row_name, rows
from vatside.log.effects.pieces import name_of
from vatside.plan.figure_text import figure_text, show_weighed
from vatside.plan.sheet import Sheet
from vatside.units import show_amount, show_minutes
from vatside.units.show import span

VAT_FIGURES = (
    "stock.strength",
    "stock.pH",
    "vat.liquor",
    "vat.indigotin",
    "vat.strength",
    "vat.temperature",
    "vat.pH",
    "vat.pH_25",
    "vat.alkali_left",
)
"""Figures of which a blue is made."""
WHOLE_MINUTES = 10
"""From here on the length of a wait is compared in whole minutes. Ours, no source."""
PLAN, AMOUNTS = "Plan", "Amounts"
PLANNED = " planned"
"""Stands behind an amount that has not gone in yet."""


def facts_of(day: DayRecord, group: str) -> Iterator[Fact]:
    """Give the facts of one group; KeyError if there is no such group."""
    return _FACTS[group](day)


def _plan_facts(day: DayRecord) -> Iterator[Fact]:
    for path, row in rows(day.plan).items():
        if not row.pin:
            yield Fact(path, row_name(row), in_words(row, get_value(day.plan, path)))


def _held(day: DayRecord) -> Iterator[Fact]:
    for pin in day.plan.pins:
        row = rows(day.plan).get(pin.figure)
        yield Fact(pin.figure, row_name(row) if row else pin.figure, show_amount(pin.amount))


def _amounts(day: DayRecord) -> Iterator[Fact]:
    """What went in, summed over the baths; what has not gone in yet is said to be planned."""
    uses = (*all_uses(day.plan), *(item.use for item in day.added))
    went_in = summed((item.use for item in day.added), lambda use: use.figure)
    planned = summed(all_uses(day.plan), lambda use: use.figure)
    for figure, material in {use.figure: use.material for use in uses}.items():
        there = figure in went_in
        amount = show_weighed(material, (went_in if there else planned)[figure])
        yield Fact(figure, _figure_label(day.sheet, figure), amount if there else f"{amount}{PLANNED}")


def _figure_label(sheet: Sheet, figure_id: str) -> str:
    stage = figure_id.partition(".")[0].capitalize()
    try:
        figure = sheet[figure_id]
    except KeyError:
        known = materials().get(figure_id.rpartition(".")[2])
        return f"{stage}: {known.name}" if known else figure_id
    return f"{stage}, {figure.group}: {figure.label}" if figure.group else f"{stage}: {figure.label}"


def _figures(day: DayRecord) -> Iterator[Fact]:
    for figure in day.sheet.figures:
        if figure.id in VAT_FIGURES:
            text = figure_text(figure, day.plan).main
            label, at, warm = _figure_label(day.sheet, figure.id).partition(" at ")
            # A worked-out pH carries its temperature in its label, which may be another one on the other side.
            text = f"{text} at {warm}" if at and warm[:1].isdigit() else text
            yield Fact(figure.id, label, text, figure.value)


def _readings(day: DayRecord) -> Iterator[Fact]:
    if day.read:
        yield Fact("number", "Readings taken", str(len(day.read)))
    for part, label in PARTS.items():
        last = last_of(day.read, part)
        if last is not None:
            yield Fact(part, f"{label}, last", part_text(last, part))


def _times(day: DayRecord) -> Iterator[Fact]:
    entries = to_last_act(day.session).entries
    if entries:
        first, last = entries[0].at.utc.astimezone(day.zone), entries[-1].at.utc.astimezone(day.zone)
        yield Fact("began", "Began", f"{first:%H:%M}")
        yield Fact("ended", "Ended", f"{last:%H:%M}")
        whole = entries[-1].at.utc - entries[0].at.utc
        yield Fact("in all", "In all", span(max(whole.total_seconds(), 0.0)))
    seen: dict[str, int] = {}
    for wait in day.waited:
        if wait.of_piece:
            continue
        name = wait.step or wait.label
        seen[name] = seen.get(name, 0) + 1
        label = wait.label if seen[name] == 1 else f"{wait.label}, time {seen[name]}"
        minutes = round(wait.real) if wait.real >= WHOLE_MINUTES else round(wait.real, 1)
        yield Fact(f"wait {name} {seen[name]}", label, show_minutes(minutes))


def _dips(day: DayRecord) -> Iterator[Fact]:
    for item in day.dipped:
        air = f", {show_minutes(item.air_min)} in the air" if item.air_min else ""
        lots = {lot.id: lot.name for lot in day.plan.lots}
        name = lots.get(item.piece) or name_of(day.state, item.piece)
        number = item.piece.removeprefix(item.lot)
        yield Fact(f"piece.{item.lot}{number}", name, f"{item.dips} of {show_minutes(item.dip_min)}{air}")


def _result(day: DayRecord) -> Iterator[Fact]:
    todo = {step.id for step in steps(day.plan, day.sheet)}
    yield Fact("done", "Steps done", f"{len(todo & set(day.state.done))} of {len(todo)}")
    names = {lot.id: lot.name for lot in day.plan.lots}
    for lot, words in day.colours.items():
        yield Fact(f"colour.{lot}", f"{names[lot]} came out", "; ".join(words))
    if day.state.notes:
        yield Fact("notes", "Notes", " / ".join(note.text for note in day.state.notes))


_FACTS: Mapping[str, Callable[[DayRecord], Iterator[Fact]]] = {
    PLAN: _plan_facts,
    "Set by hand": _held,
    AMOUNTS: _amounts,
    "Vat": _figures,
    "Readings": _readings,
    "Times": _times,
    "Dips": _dips,
    "Result": _result,
}
GROUPS = tuple(_FACTS)[1:]
"""All but the plan, in the order of a day."""


OF_A_LOT = re.compile(r"^(lots\.|dip\.|piece\.|colour\.|finish\.(?:before|after|gain)\.)([A-Za-z0-9_-]+)(?=\.|$)")
"""Facts that name a lot."""
NOTHING = Fact("", "", "")


@frozen
class Row:
    """One thing of two sessions."""

    group: str
    label: str
    left: str
    right: str

    @property
    def differs(self) -> bool:
        """Tell whether the two are not the same; as much planned as went in is the same amount."""
        if self.group == AMOUNTS:
            return self.left.removesuffix(PLANNED) != self.right.removesuffix(PLANNED)
        return self.left != self.right


def compare(left: DayRecord, right: DayRecord) -> tuple[Row, ...]:
    """Put two days side by side; what is of a lot stands beside what is of its partner."""
    lots = paired(left.plan.lots, right.plan.lots)
    return (
        *_plan(left, right, lots),
        *(row for group in GROUPS for _, row in _matched(group, left, right, lots.as_left())),
    )


def _plan(left: DayRecord, right: DayRecord, lots: Pairs) -> Iterator[Row]:
    """Leave out the places of a lot that has no partner; it is said in one line."""
    called = lots.as_left()
    alone = {f"lots.{lot.id}" for lot in lots.left} | {f"lots.{called[lot.id]}" for lot in lots.right}
    for path, row in _matched(PLAN, left, right, called):
        if path.rpartition(".")[0] not in alone:
            yield row
    yield from (Row(PLAN, f"{lot.name}: no partner", lot_words(lot), "") for lot in lots.left)
    yield from (Row(PLAN, f"{lot.name}: no partner", "", lot_words(lot)) for lot in lots.right)


def _matched(group: str, left: DayRecord, right: DayRecord, called: Mapping[str, str]) -> Iterator[tuple[str, Row]]:
    """Match what both sides have, in the order of the left one."""
    ones = {fact.id: fact for fact in facts_of(left, group)}
    others = {_as_left(fact.id, called): fact for fact in facts_of(right, group)}
    for key in {**ones, **others}:
        one, other = ones.get(key, NOTHING), others.get(key, NOTHING)
        yield key, Row(group, one.label or other.label, one.text, other.text)


def _as_left(fact_id: str, called: Mapping[str, str]) -> str:
    """Give what a fact of the right side goes by on the left one."""
    return OF_A_LOT.sub(lambda match: f"{match[1]}{called.get(match[2], match[2])}", fact_id)
