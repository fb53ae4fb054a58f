"""Two sessions side by side: what was planned, what went in, what was read, how long it took, what came of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import tzinfo

from attrs import evolve, field, frozen

from vatside.catalogue.load import materials
from vatside.dayline.day_steps import steps
from vatside.dayline.step_uses import all_uses
from vatside.days.dips_done import dipped
from vatside.days.done import Added, Waited, added, waited
from vatside.days.lot_pairs import Pairs, lot_words, paired
from vatside.days.noted import PARTS, Read, colours, last_of, part_text, readings
from vatside.forms.fields import Field, get_value
from vatside.forms.fitting import rows
from vatside.forms.naming import row_name
from vatside.log.effects.pieces import name_of
from vatside.log.fold import State, fold
from vatside.log.session import Session
from vatside.log.sheet_so_far import sheet_of
from vatside.plan.figure_text import figure_text
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.units import Amount, show_amount, show_mass, show_minutes
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
OF_A_LOT = re.compile(r"(lots\.|dip\.|finish\.(?:before|after|gain)\.)([A-Za-z0-9_-]+)(?=\.|$)")
"""Places and figures that name a lot."""
WHOLE_MINUTES = 10
"""From here on the length of a wait is compared in whole minutes. Ours, no source."""

AMOUNTS = "Amounts"
PLANNED = " planned"
"""Stands behind an amount that has not gone in yet."""


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


@frozen
class Side:
    """One of two sessions, worked out once."""

    session: Session
    state: State
    sheet: Sheet
    added: tuple[Added, ...]
    waited: tuple[Waited, ...]
    read: tuple[Read, ...]
    called: Mapping[str, str] = field(factory=dict)
    """What a lot goes by where its like is looked for, by its id."""

    @property
    def plan(self) -> Plan:
        """The plan as it stands at the end."""
        return self.state.plan

    def key(self, path: str) -> str:
        """Give a figure or a place of the plan as it goes by beside the other side."""
        found = OF_A_LOT.match(path)
        return f"{found[1]}{self.lot(found[2])}{path[found.end() :]}" if found else path

    def lot(self, lot: str) -> str:
        """Give what a lot goes by beside the other side."""
        return self.called.get(lot, lot)


def side(session: Session) -> Side:
    """Work a session out for comparing."""
    state = fold(session)
    return Side(session, state, sheet_of(state), added(session), waited(session), readings(state))


def compare(a: Session, b: Session, zone: tzinfo | None = None) -> tuple[Row, ...]:
    """Put two sessions side by side; times of day in `zone`, or in the machine's own."""
    left, right = side(a), side(b)
    lots = paired(left.plan.lots, right.plan.lots)
    right = evolve(right, called=lots.as_left())
    return (
        *_plan(left, right, lots),
        *_matched("Held by hand", left, right, _held),
        *_matched(AMOUNTS, left, right, _amounts),
        *_matched("Vat", left, right, _figures),
        *_matched("Readings", left, right, _readings),
        *_matched("Times", left, right, lambda one: _times(one, zone)),
        *_matched("Dips", left, right, _dips),
        *_matched("Result", left, right, _result),
    )


@frozen
class _Item:
    """One thing of one side; `key` finds its like on the other side."""

    key: str
    label: str
    value: str


def _matched(group: str, left: Side, right: Side, look: Callable[[Side], Iterable[_Item]]) -> Iterator[Row]:
    """Match what both sides have, in the order of the left one."""
    one, other = ({item.key: item for item in look(side)} for side in (left, right))
    nothing = _Item("", "", "")
    for key in dict.fromkeys((*one, *other)):
        here, there = one.get(key, nothing), other.get(key, nothing)
        yield Row(group, here.label or there.label, here.value, there.value)


def _plan(left: Side, right: Side, lots: Pairs) -> Iterator[Row]:
    """Match places by their path, those of a lot with its partner's; a lot that has none is said in one line."""
    one = {path: row for path, row in rows(left.plan).items() if not row.pin}
    other = {right.key(path): row for path, row in rows(right.plan).items() if not row.pin}
    alone = {f"lots.{lot.id}" for lot in lots.left} | {f"lots.{right.called[lot.id]}" for lot in lots.right}
    for path in dict.fromkeys((*one, *other)):
        row = one.get(path) or other[path]
        if path.rpartition(".")[0] not in alone:
            yield Row("Plan", row_name(row), _place(left.plan, one.get(path)), _place(right.plan, other.get(path)))
    yield from (Row("Plan", f"{lot.name}: no partner", lot_words(lot), "") for lot in lots.left)
    yield from (Row("Plan", f"{lot.name}: no partner", "", lot_words(lot)) for lot in lots.right)


def _place(plan: Plan, row: Field | None) -> str:
    if row is None:
        return ""
    value = get_value(plan, row.path)
    if isinstance(value, Amount):
        return show_amount(value)
    text = dict(row.choices).get(str(value), "" if value is None else str(value))
    return text.replace("T", " ") if row.clock else text


def _held(one: Side) -> Iterator[_Item]:
    for pin in one.plan.pins:
        row = rows(one.plan).get(pin.figure)
        yield _Item(one.key(pin.figure), row_name(row) if row else pin.figure, show_amount(pin.amount))


def _amounts(one: Side) -> Iterator[_Item]:
    """What went in, summed over the baths; what has not gone in yet is said to be planned."""
    sums: dict[str, float] = {}
    for item in one.added:
        sums[item.use.figure] = sums.get(item.use.figure, 0.0) + item.use.grams
    planned: dict[str, float] = {}
    for use in all_uses(one.plan):
        planned[use.figure] = planned.get(use.figure, 0.0) + use.grams
    for figure in dict.fromkeys((*planned, *sums)):
        told = show_mass(sums[figure]) if figure in sums else f"{show_mass(planned[figure])}{PLANNED}"
        yield _Item(figure, _figure_label(one.sheet, figure), told)


def _figure_label(sheet: Sheet, figure_id: str) -> str:
    stage = figure_id.partition(".")[0].capitalize()
    try:
        figure = sheet[figure_id]
    except KeyError:
        known = materials().get(figure_id.rpartition(".")[2])
        return f"{stage}: {known.name}" if known else figure_id
    return f"{stage}, {figure.group}: {figure.label}" if figure.group else f"{stage}: {figure.label}"


def _figures(one: Side) -> Iterator[_Item]:
    for figure in one.sheet.figures:
        if figure.id in VAT_FIGURES:
            value = figure_text(figure, one.plan).main
            label, at, warm = _figure_label(one.sheet, figure.id).partition(" at ")
            # A worked-out pH carries its temperature in its label, which may be another one on the other side.
            yield _Item(figure.id, label, f"{value} at {warm}" if at and warm[:1].isdigit() else value)


def _readings(one: Side) -> Iterator[_Item]:
    if one.read:
        yield _Item("number", "Readings taken", str(len(one.read)))
    for part, label in PARTS.items():
        last = last_of(one.read, part)
        if last is not None:
            yield _Item(part, f"{label}, last", part_text(last, part))


def _times(one: Side, zone: tzinfo | None) -> Iterator[_Item]:
    entries = one.session.entries
    if entries:
        first, last = entries[0].at.utc.astimezone(zone), entries[-1].at.utc.astimezone(zone)
        yield _Item("began", "Began", f"{first:%H:%M}")
        yield _Item("ended", "Ended", f"{last:%H:%M}")
        whole = entries[-1].at.utc - entries[0].at.utc
        yield _Item("in all", "In all", span(max(whole.total_seconds(), 0.0)))
    seen: dict[str, int] = {}
    for wait in one.waited:
        if wait.of_piece:
            continue
        name = wait.step or wait.label
        seen[name] = seen.get(name, 0) + 1
        label = wait.label if seen[name] == 1 else f"{wait.label}, time {seen[name]}"
        minutes = round(wait.real) if wait.real >= WHOLE_MINUTES else round(wait.real, 1)
        yield _Item(f"wait {name} {seen[name]}", label, show_minutes(minutes))


def _dips(one: Side) -> Iterator[_Item]:
    for item in dipped(one.state):
        air = f", {show_minutes(item.air_min)} in the air" if item.air_min else ""
        lots = {lot.id: lot.name for lot in one.plan.lots}
        name = lots.get(item.piece) or name_of(one.state, item.piece)
        number = item.piece.removeprefix(item.lot)
        yield _Item(f"{one.lot(item.lot)}{number}", name, f"{item.dips} of {show_minutes(item.dip_min)}{air}")


def _result(one: Side) -> Iterator[_Item]:
    todo = {step.id for step in steps(one.plan, one.sheet)}
    yield _Item("done", "Steps done", f"{len(todo & set(one.state.done))} of {len(todo)}")
    names = {lot.id: lot.name for lot in one.plan.lots}
    for lot, said in colours(one.state).items():
        yield _Item(f"colour {one.lot(lot)}", f"{names[lot]} came out", "; ".join(said))
    if one.state.notes:
        yield _Item("notes", "Notes", " / ".join(note.text for note in one.state.notes))
